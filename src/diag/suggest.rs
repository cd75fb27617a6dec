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
    known
        .into_iter()
        .filter(|name| name.chars().count().abs_diff(length) <= allowed)
        .map(|name| (strsim::osa_distance(&word, &name.to_lowercase()), name))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn finds_what_was_meant_and_nothing_far() {
        let names = ["bread flour", "rye flour", "salt"];
        assert_eq!(nearest("bred flour", names), Some("bread flour"));
        assert_eq!(nearest("slat", names), Some("salt"));
        assert_eq!(nearest("anchovy", names), None);
        assert_eq!(nearest(&"x".repeat(900), names), None);
    }
}
