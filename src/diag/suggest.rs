//! The nearest known name, for a word that is not known.

/// Longest word that a near name is sought for; beyond it the search costs more than it helps.
const LONGEST: usize = 60;

/// Finds the known name nearest to a word, if one is near enough to be meant.
///
/// At most a third of the word may differ; of equally near names the first one given wins.
#[must_use]
pub fn nearest<'name>(word: &str, known: impl IntoIterator<Item = &'name str>) -> Option<&'name str> {
    let word = word.to_lowercase();
    let length = word.chars().count();
    if length == 0 || length > LONGEST {
        return None;
    }
    let allowed = (length / 3).max(1);
    let letters = letters_of(&word);
    known
        .into_iter()
        .filter(|name| name.chars().count().abs_diff(length) <= allowed)
        // One change takes at most one letter out and puts one in, so this only leaves out the hopeless.
        .filter(|name| (letters_of(name) ^ letters).count_ones() as usize <= 2 * allowed)
        .map(|name| (strsim::osa_distance(&word, &name.to_lowercase()), name))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Finds the known name that a word may be short for, else the one nearest to it.
///
/// Who writes `rye` means a name with that word in it before any that is only spelt nearly alike; of those,
/// the flour first, then what begins with the word, then the shortest.
#[must_use]
pub fn nearest_name<'name>(word: &str, known: &[&'name str]) -> Option<&'name str> {
    let word = word.to_lowercase();
    let flour = format!("{word} flour");
    let held = known.iter().filter(|name| word.len() > 2 && holds(name, &word));
    let best = held.min_by_key(|name| (**name != flour, !name.starts_with(&word), name.len()));
    best.copied().or_else(|| nearest(&word, known.iter().copied()))
}

/// Says whether a name holds a word, or several, whole.
#[must_use]
pub fn holds(name: &str, word: &str) -> bool {
    name.match_indices(word).any(|(start, _)| {
        let (before, rest) = name.split_at(start);
        let behind = rest.get(word.len()..).unwrap_or_default();
        !before.ends_with(char::is_alphanumeric) && !behind.starts_with(char::is_alphanumeric)
    })
}

/// Gives the letters of a word as one bit each, of either case; anything else shares a bit with others.
fn letters_of(word: &str) -> u32 {
    word.chars()
        .map(|letter| u32::from(letter.to_ascii_lowercase()) % 32)
        .fold(0, |letters, place| letters | (1 << place))
}

#[cfg(test)]
mod tests {
    use super::{nearest, nearest_name};

    #[test]
    fn finds_what_was_meant_and_nothing_far() {
        let names = ["bread flour", "rye flour", "salt"];
        assert_eq!(nearest("bred flour", names), Some("bread flour"));
        assert_eq!(nearest("slat", names), Some("salt"));
        assert_eq!(nearest("anchovy", names), None);
        assert_eq!(nearest(&"x".repeat(900), names), None);
    }
    #[test]
    fn a_name_that_holds_the_word_comes_first() {
        let names = ["dry malt", "malt syrup", "rye", "rye bran", "rye flour", "salt"];
        assert_eq!(nearest_name("Rye", &names), Some("rye flour"));
        assert_eq!(nearest_name("malt", &names), Some("malt syrup"));
        assert_eq!(nearest_name("slat", &names), Some("salt"));
        assert_eq!(nearest_name("syr", &names), None);
    }
}
