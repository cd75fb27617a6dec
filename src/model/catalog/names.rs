//! When two spellings are one name. Owns case, accents' composition, spaces, hyphens and plurals; knows no
//! ingredient.

use unicode_normalization::UnicodeNormalization;

/// Brings a name to the form in which names are compared.
///
/// Letter case, the composition of accents, white space, hyphens, apostrophes and the plural of each word
/// make no difference: `Egg  Yolks` and `egg yolk` are one. The form is for comparing only and never shown.
#[must_use]
pub fn fold_name(name: &str) -> String {
    if name.is_ascii() {
        fold_chars(name.chars(), name.len())
    } else {
        fold_chars(name.nfc(), name.len())
    }
}

fn fold_chars(chars: impl Iterator<Item = char>, length: usize) -> String {
    let mut folded = String::with_capacity(length + 1);
    let mut word = 0;
    for letter in chars {
        match letter {
            // First what nearly all letters are: a run folds every name of the table before it does anything.
            'a'..='z' => folded.push(letter),
            '\'' | '\u{2019}' => {}
            '-' | '\u{2010}' | '\u{2011}' => word = end_word(&mut folded, word),
            space if space.is_whitespace() => word = end_word(&mut folded, word),
            letter if letter.is_ascii() => folded.push(letter.to_ascii_lowercase()),
            letter => folded.extend(letter.to_lowercase()),
        }
    }
    end_word(&mut folded, word);
    folded.truncate(folded.trim_end().len());
    folded
}

/// Brings the last word to its singular and opens a new one, whose place it gives back.
fn end_word(folded: &mut String, start: usize) -> usize {
    if folded.len() > start {
        let (kept, ending) = singular(folded.get(start..).unwrap_or_default());
        folded.truncate(start + kept);
        folded.push_str(ending);
        folded.push(' ');
    }
    folded.len()
}

/// Gives how much of an English word, singular or plural, to keep, and the ending that both forms share.
///
/// The result need not be a word (`cooky`): it only has to be the same for both forms, and different for
/// different words.
fn singular(word: &str) -> (usize, &'static str) {
    const ENDINGS: [(&str, &str); 11] = [
        ("ies", "y"),
        ("aves", "af"),
        ("alves", "alf"),
        ("oes", "o"),
        ("ches", "ch"),
        ("shes", "sh"),
        ("xes", "x"),
        ("sses", "ss"),
        ("ss", "ss"),
        ("us", "us"),
        ("is", "is"),
    ];
    match word.as_bytes() {
        [_, _, .., b'i', b'e'] => return (word.len() - 2, "y"),
        [_, _, _, .., b's'] => {}
        _ => return (word.len(), ""),
    }
    for (ending, shared) in ENDINGS {
        if let Some(stem) = word.strip_suffix(ending)
            && stem.len() >= 2
        {
            return (stem.len(), shared);
        }
    }
    (word.strip_suffix('s').unwrap_or(word).len(), "")
}

#[cfg(test)]
mod tests {
    use super::fold_name;

    #[test]
    fn one_name_in_many_spellings() {
        for (left, right) in [
            ("Eggs", "egg"),
            ("egg  yolks", "Egg Yolk"),
            ("walnuts", "walnut"),
            ("tomatoes", "tomato"),
            ("rye berries", "rye berry"),
            ("loaves", "loaf"),
            ("olives", "olive"),
            ("peaches", "peach"),
            ("cookies", "cookie"),
            ("molasses", "Molasses"),
            ("bay leaves", "bay leaf"),
            ("all purpose flour", "all-purpose flour"),
            ("baker\u{2019}s ammonia", "bakers ammonia"),
            ("cre\u{300}me frai\u{302}che", "crème fraîche"),
        ] {
            assert_eq!(fold_name(left), fold_name(right), "{left} and {right}");
        }
    }

    #[test]
    fn different_names_stay_different() {
        for (left, right) in [
            ("rye flour", "rice flour"),
            ("oat bran", "oats"),
            ("spelt", "smelt"),
        ] {
            assert_ne!(fold_name(left), fold_name(right));
        }
    }
}
