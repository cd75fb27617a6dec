//! Prose compared word by word.

use similar::{ChangeTag, TextDiff};

use super::types::ProseChange;
use crate::model::recipe::{Prose, Recipe};

/// Where a run of words stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum In {
    /// In both versions.
    Both,
    /// In the older version only.
    Old,
    /// In the newer version only.
    New,
}

/// A run of words, white space between them included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Where it stands.
    pub stands: In,
    /// The words.
    pub text: String,
}

/// Compares the prose at head and foot.
pub(super) fn changes(old: &Recipe, new: &Recipe) -> Vec<ProseChange> {
    [
        ("about", &old.about, &new.about),
        ("notes", &old.notes, &new.notes),
    ]
    .into_iter()
    .filter_map(|(of, old, new)| {
        let runs = difference(&words(old.as_ref()), &words(new.as_ref()))?;
        Some(ProseChange { of, runs })
    })
    .collect()
}

/// Gives the words of prose with single spaces: wrapping the lines otherwise is no change.
pub(super) fn words<'p>(prose: impl IntoIterator<Item = &'p Prose>) -> String {
    let lines = prose.into_iter().flat_map(|prose| &prose.lines);
    let words: Vec<&str> = lines.flat_map(|line| line.value.split_whitespace()).collect();
    words.join(" ")
}

/// Compares two texts by words; nothing where they are alike.
pub(super) fn difference(old: &str, new: &str) -> Option<Vec<Run>> {
    if old == new {
        return None;
    }
    let mut runs: Vec<Run> = Vec::new();
    for word in TextDiff::from_words(old, new).iter_all_changes() {
        let stands = match word.tag() {
            ChangeTag::Equal => In::Both,
            ChangeTag::Delete => In::Old,
            ChangeTag::Insert => In::New,
        };
        match runs.last_mut() {
            Some(last) if last.stands == stands => last.text.push_str(word.value()),
            _ => runs.push(Run {
                stands,
                text: word.value().to_owned(),
            }),
        }
    }
    Some(runs)
}
