//! Prose compared word by word.

use similar::{ChangeTag, TextDiff};

use super::types::ProseChange;
use crate::model::recipe::{Prose, Recipe};

/// Compares the prose at head and foot; wrapping the lines otherwise is no change.
pub(super) fn changes(old: &Recipe, new: &Recipe) -> Vec<ProseChange> {
    [
        ("about", &old.about, &new.about),
        ("notes", &old.notes, &new.notes),
    ]
    .into_iter()
    .filter_map(|(of, old, new)| change(of, &words(old.as_ref()), &words(new.as_ref())))
    .collect()
}

fn words(prose: Option<&Prose>) -> String {
    let lines = prose.map_or(&[][..], |prose| prose.lines.as_slice());
    let words: Vec<&str> = lines
        .iter()
        .flat_map(|line| line.value.split_whitespace())
        .collect();
    words.join(" ")
}

fn change(of: &'static str, old: &str, new: &str) -> Option<ProseChange> {
    if old == new {
        return None;
    }
    let mut runs: Vec<(bool, bool, String)> = Vec::new();
    for word in TextDiff::from_words(old, new).iter_all_changes() {
        let (in_old, in_new) = match word.tag() {
            ChangeTag::Equal => (true, true),
            ChangeTag::Delete => (true, false),
            ChangeTag::Insert => (false, true),
        };
        match runs.last_mut() {
            Some(last) if last.0 == in_old && last.1 == in_new => last.2.push_str(word.value()),
            _ => runs.push((in_old, in_new, word.value().to_owned())),
        }
    }
    Some(ProseChange { of, runs })
}
