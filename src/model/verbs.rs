//! The verbs of the trade: whether they need hands, and what a step with them is for.
//!
//! Owns the closed table of verbs and the inflections that find them. Knows nothing of steps.

mod abroad;

use crate::diag::nearest;

/// A verb that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verb {
    /// Its spelling, as the baker finds it in the language reference.
    pub word: &'static str,
    /// Whether it needs somebody from start to end.
    pub hands_on: bool,
    /// What the step is for.
    pub purpose: Purpose,
}

/// What a step is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// Bringing things together: mix, stir, whisk, knead.
    Mix,
    /// Working the dough or the pieces: fold, divide, shape, brush, score, load, turn out.
    Handle,
    /// Heating something that is not the bread: cook, boil, melt, toast.
    Cook,
    /// Waiting without much fermentation: autolyse, soak, rest, bloom, drain.
    Rest,
    /// Fermentation in bulk: ripen, bulk, ferment, rise.
    Ferment,
    /// The last rise of the pieces.
    Proof,
    /// A cold rest: retard, chill, refrigerate, freeze.
    Chill,
    /// Coming back from cold: thaw, temper, warm.
    Warm,
    /// Heating the oven.
    Preheat,
    /// Baking.
    Bake,
    /// Steam in the oven or around the pieces.
    Steam,
    /// Cooling after the bake or of a part.
    Cool,
    /// Putting away or serving: slice, wrap.
    Keep,
}

const fn on(word: &'static str, purpose: Purpose) -> Verb {
    Verb {
        word,
        hands_on: true,
        purpose,
    }
}

const fn off(word: &'static str, purpose: Purpose) -> Verb {
    Verb {
        word,
        hands_on: false,
        purpose,
    }
}

/// Every verb, in the order of the alphabet, so that it can be found by halving.
pub const VERBS: &[Verb] = &[
    off("autolyse", Purpose::Rest),
    off("bake", Purpose::Bake),
    off("bloom", Purpose::Rest),
    on("boil", Purpose::Cook),
    on("brush", Purpose::Handle),
    off("bulk", Purpose::Ferment),
    off("chill", Purpose::Chill),
    on("cook", Purpose::Cook),
    off("cool", Purpose::Cool),
    on("divide", Purpose::Handle),
    off("drain", Purpose::Rest),
    on("dust", Purpose::Handle),
    on("feed", Purpose::Mix),
    off("ferment", Purpose::Ferment),
    on("fill", Purpose::Handle),
    on("fold", Purpose::Handle),
    off("freeze", Purpose::Chill),
    on("glaze", Purpose::Handle),
    on("grease", Purpose::Handle),
    on("knead", Purpose::Mix),
    on("knock back", Purpose::Handle),
    on("laminate", Purpose::Handle),
    off("leave", Purpose::Rest),
    on("load", Purpose::Handle),
    on("melt", Purpose::Cook),
    on("mix", Purpose::Mix),
    off("preheat", Purpose::Preheat),
    on("preshape", Purpose::Handle),
    off("proof", Purpose::Proof),
    off("refrigerate", Purpose::Chill),
    off("relax", Purpose::Rest),
    off("rest", Purpose::Rest),
    off("retard", Purpose::Chill),
    off("ripen", Purpose::Ferment),
    off("rise", Purpose::Ferment),
    on("score", Purpose::Handle),
    on("seal", Purpose::Handle),
    on("shape", Purpose::Handle),
    on("slice", Purpose::Keep),
    off("soak", Purpose::Rest),
    off("stand", Purpose::Rest),
    off("steam", Purpose::Steam),
    on("stir", Purpose::Mix),
    off("temper", Purpose::Warm),
    off("thaw", Purpose::Warm),
    on("toast", Purpose::Cook),
    on("turn out", Purpose::Handle),
    off("wait", Purpose::Rest),
    off("warm", Purpose::Warm),
    on("whisk", Purpose::Mix),
    on("wrap", Purpose::Keep),
];

/// Other spellings of verbs, and forms that no rule makes.
const SPELLINGS: &[(&str, &str)] = &[
    ("autolyze", "autolyse"),
    ("froze", "freeze"),
    ("frozen", "freeze"),
    ("pre-heat", "preheat"),
    ("pre-shape", "preshape"),
    ("prove", "proof"),
    ("proven", "proof"),
    ("risen", "rise"),
    ("rose", "rise"),
    ("stood", "stand"),
];

/// The second words of verbs that are two words, with the first.
const PAIRS: &[(&str, &str)] = &[("knock", "back"), ("turn", "out")];

impl Verb {
    /// Finds a verb by its word, in any inflection: `proofing`, `prove`, `turned out`.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        let mut words = text.split_whitespace();
        let first = words.next()?;
        let second = words.next();
        if words.next().is_some() {
            return None;
        }
        match second {
            Some(second) => of_pair(first, second),
            None => of_word(first),
        }
    }

    /// Finds the first verb in a line of words, English, German or French: the one that decides what a step is.
    #[must_use]
    pub fn first_in(text: &str) -> Option<Self> {
        let mut words = text.split_whitespace().map(bare).peekable();
        while let Some(word) = words.next() {
            let verb = words
                .peek()
                .and_then(|next| of_pair(word, next))
                .or_else(|| of_word(word))
                .or_else(|| of_abroad(word));
            if verb.is_some() {
                return verb;
            }
        }
        None
    }

    /// Finds the verb that a line without one may have meant.
    #[must_use]
    pub fn near(text: &str) -> Option<&'static str> {
        // Three letters are near to too much: `the` and `mix` differ in as little as `fix` and `mix`.
        text.split_whitespace()
            .map(bare)
            .filter(|word| word.len() > 3)
            .find_map(|word| {
                let word = word.to_lowercase();
                let alike = VERBS.iter().map(|verb| verb.word);
                nearest(&word, alike.filter(|verb| begins_alike(verb, &word)))
            })
    }
}

/// Says whether a verb begins with the word's first letter, or with a letter that the word has lost or put second.
///
/// Hardly anybody mistypes the first letter for another, and `look` is not meant to be `cook`.
fn begins_alike(verb: &str, word: &str) -> bool {
    let first_two = |text: &str| {
        let mut letters = text.chars();
        (letters.next(), letters.next())
    };
    let ((first, second), (written, next)) = (first_two(verb), first_two(word));
    first == written || (second, first) == (written, next) || verb.get(1..) == Some(word)
}

/// Takes the punctuation off a word's ends.
fn bare(word: &str) -> &str {
    word.trim_matches(|letter: char| !letter.is_alphanumeric())
}

fn of_pair(first: &str, second: &str) -> Option<Verb> {
    PAIRS
        .iter()
        .find(|(head, tail)| second.eq_ignore_ascii_case(tail) && is_form_of(first, head))
        .and_then(|(head, tail)| exact(&format!("{head} {tail}")))
}

fn is_form_of(word: &str, base: &str) -> bool {
    let word = word.to_ascii_lowercase();
    word.strip_prefix(base)
        .is_some_and(|ending| matches!(ending, "" | "s" | "ed" | "ing"))
}

fn of_word(word: &str) -> Option<Verb> {
    if word.bytes().any(|byte| byte.is_ascii_uppercase()) {
        return of_lower(&word.to_ascii_lowercase());
    }
    of_lower(word)
}

/// Finds a verb by what German and French bakers call it.
fn of_abroad(word: &str) -> Option<Verb> {
    abroad::verb_of(&word.to_lowercase()).and_then(exact)
}

fn of_lower(word: &str) -> Option<Verb> {
    known(word).or_else(|| {
        ["ing", "ed", "es", "s", "d"]
            .iter()
            .filter_map(|ending| word.strip_suffix(ending))
            .filter(|stem| stem.len() >= 3)
            .find_map(of_stem)
    })
}

/// Finds a verb by what is left of an inflected form: `knead`, `bak` of `baking`, `mixx`, `wrapp` of `wrapping`.
fn of_stem(stem: &str) -> Option<Verb> {
    known(stem).or_else(|| known(&format!("{stem}e"))).or_else(|| {
        let mut letters = stem.chars().rev();
        let (last, before) = (letters.next()?, letters.next()?);
        (last == before)
            .then(|| stem.strip_suffix(last))
            .flatten()
            .and_then(known)
    })
}

fn known(word: &str) -> Option<Verb> {
    exact(word).or_else(|| {
        SPELLINGS
            .iter()
            .find(|(spelling, _)| *spelling == word)
            .and_then(|(_, base)| exact(base))
    })
}

fn exact(word: &str) -> Option<Verb> {
    VERBS
        .binary_search_by(|verb| verb.word.cmp(word))
        .ok()
        .and_then(|place| VERBS.get(place))
        .copied()
}
