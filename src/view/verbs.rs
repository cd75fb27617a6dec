//! Steps that are one word of the trade, in the language of the card: `bulk` is `Stockgare` in German. Owns the
//! word for each verb; what a verb means is the model's.

use super::word_list::Word;
use super::words::Words;
use crate::model::verbs::Verb;

/// Gives the card's word for a step that is one verb and no more; else the words as the baker wrote them,
/// whose own language nobody knows. A spelling of the baker's stays where the card speaks that language too.
pub(super) fn verb_or_words<'words>(words: &Words, written: &'words str) -> &'words str
where
    'static: 'words,
{
    let word = Verb::of(written).and_then(|verb| verb_word(verb.word));
    match word {
        Some(word) if !words.are_english() => words.get(word),
        _ => written,
    }
}

fn verb_word(verb: &str) -> Option<Word> {
    Some(match verb {
        "autolyse" => Word::VerbAutolyse,
        "bake" => Word::VerbBake,
        "bloom" => Word::VerbBloom,
        "boil" => Word::VerbBoil,
        "brush" => Word::VerbBrush,
        "bulk" => Word::VerbBulk,
        "chill" => Word::VerbChill,
        "cook" => Word::VerbCook,
        "cool" => Word::VerbCool,
        "divide" => Word::VerbDivide,
        "drain" => Word::VerbDrain,
        "dust" => Word::VerbDust,
        "feed" => Word::VerbFeed,
        "ferment" => Word::VerbFerment,
        "fill" => Word::VerbFill,
        "fold" => Word::VerbFold,
        "freeze" => Word::VerbFreeze,
        "glaze" => Word::VerbGlaze,
        "grease" => Word::VerbGrease,
        "knead" => Word::VerbKnead,
        "knock back" => Word::VerbKnockBack,
        "laminate" => Word::VerbLaminate,
        "leave" => Word::VerbLeave,
        "load" => Word::VerbLoad,
        "melt" => Word::VerbMelt,
        "mix" => Word::VerbMix,
        "preheat" => Word::VerbPreheat,
        "preshape" => Word::VerbPreshape,
        "proof" => Word::VerbProof,
        "refrigerate" => Word::VerbRefrigerate,
        "relax" => Word::VerbRelax,
        "rest" => Word::VerbRest,
        "retard" => Word::VerbRetard,
        "ripen" => Word::VerbRipen,
        "rise" => Word::VerbRise,
        "score" => Word::VerbScore,
        "seal" => Word::VerbSeal,
        "shape" => Word::VerbShape,
        "slice" => Word::VerbSlice,
        "soak" => Word::VerbSoak,
        "stand" => Word::VerbStand,
        "steam" => Word::VerbSteam,
        "stir" => Word::VerbStir,
        "temper" => Word::VerbTemper,
        "thaw" => Word::VerbThaw,
        "toast" => Word::VerbToast,
        "turn out" => Word::VerbTurnOut,
        "wait" => Word::VerbWait,
        "warm" => Word::VerbWarm,
        "whisk" => Word::VerbWhisk,
        "wrap" => Word::VerbWrap,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{verb_or_words, verb_word};
    use crate::model::verbs::VERBS;
    use crate::view::Words;

    #[test]
    fn every_verb_has_its_word() {
        let english = Words::for_language("en");
        for verb in VERBS {
            let word = verb_word(verb.word).unwrap_or_else(|| panic!("{} has no word", verb.word));
            assert_eq!(english.get(word), verb.word);
        }
    }

    #[test]
    fn one_verb_is_said_in_the_language_of_the_card_and_more_words_as_written() {
        for (language, written, said) in [
            ("de", "bulk", "Stockgare"),
            ("de", "Proving", "Stückgare"),
            ("de", "turn out", "aus der Form nehmen"),
            ("de", "mix by hand", "mix by hand"),
            ("fr", "prove", "apprêt"),
            ("fr", "autolyse", "autolyse"),
            ("en", "prove", "prove"),
            ("en-US", "autolyse", "autolyse"),
        ] {
            assert_eq!(verb_or_words(Words::for_language(language), written), said);
        }
    }
}
