//! Whole words within other words.

/// Says whether one or more whole words stand among others; both are in folded form.
pub(super) fn holds_words(text: &str, words: &str) -> bool {
    !words.is_empty()
        && text.match_indices(words).any(|(start, _)| {
            let before = text.get(..start).unwrap_or_default();
            let after = text.get(start + words.len()..).unwrap_or_default();
            !before.ends_with(char::is_alphanumeric) && !after.starts_with(char::is_alphanumeric)
        })
}
