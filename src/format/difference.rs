//! What formatting would change, line by line.

use similar::TextDiff;

/// Gives the difference between a file's text and its one form as a patch; nothing where they are equal.
#[must_use]
pub fn difference(name: &str, before: &str, after: &str) -> String {
    if before == after {
        return String::new();
    }
    TextDiff::from_lines(before, after)
        .unified_diff()
        .context_radius(2)
        .header(name, name)
        .to_string()
}
