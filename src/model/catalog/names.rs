//! When two spellings are one name. Owns case, accents' composition, spaces, hyphens and plurals; knows no
//! ingredient.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

/// Brings a name to the form in which names are compared.
///
/// Letter case, the composition of accents, white space, hyphens, apostrophes and the plural of each word
/// make no difference: `Egg  Yolks` and `egg yolk` are one. The form is for comparing only and never shown.
#[must_use]
pub fn fold_name(name: &str) -> String {
    let composed: Cow<'_, str> = if name.is_ascii() {
        Cow::Borrowed(name)
    } else {
        Cow::Owned(name.nfc().collect())
    };
    let plain = composed
        .to_lowercase()
        .replace(['\'', '\u{2019}'], "")
        .replace(['-', '\u{2010}', '\u{2011}'], " ");
    let mut folded = String::with_capacity(plain.len());
    for word in plain.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        let (stem, ending) = singular(word);
        folded.push_str(stem);
        folded.push_str(ending);
    }
    folded
}

/// Splits an English word, singular or plural, into a stem and the ending that both forms share.
///
/// The result need not be a word (`cooky`): it only has to be the same for both forms, and different for
/// different words.
fn singular(word: &str) -> (&str, &'static str) {
    const ENDINGS: [(&str, &str); 12] = [
        ("ies", "y"),
        ("ie", "y"),
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
    if word.len() <= 3 {
        return (word, "");
    }
    for (ending, shared) in ENDINGS {
        if let Some(stem) = word.strip_suffix(ending)
            && stem.len() >= 2
        {
            return (stem, shared);
        }
    }
    (word.strip_suffix('s').unwrap_or(word), "")
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
