//! Steps added, gone, moved and done otherwise.

use super::align::{Item, align, woven};
use super::lines::same_warmth;
use super::prose;
use super::types::{StepChange, StepPair};
use crate::model::recipe::{Block, Cue, Entry, Step};

/// The steps of a block in both versions.
pub(super) struct Steps {
    /// Each step, in the order of the newer version.
    pub(super) pairs: Vec<StepPair>,
    rows: Vec<(Option<usize>, Option<usize>)>,
}

impl Steps {
    /// Pairs the steps of two blocks; a block that is not there has none.
    pub(super) fn of(old: Option<&Block>, new: Option<&Block>) -> Self {
        let (old, new) = (steps(old), steps(new));
        let items = |steps: &[&Step]| -> Vec<Item> { steps.iter().map(|step| item(step)).collect() };
        let matches = align(&items(&old), &items(&new));
        let rows = woven(&matches, old.len(), new.len());
        let mut before: Option<&Step> = None;
        let mut pairs = Vec::with_capacity(rows.len());
        for (was, is) in &rows {
            let (was, is) = (was.and_then(|at| old.get(at)), is.and_then(|at| new.get(at)));
            let mut changed = Vec::new();
            if let (Some(was), Some(is)) = (was, is) {
                let place = |step: &Step| (step.span.start, step.span.end);
                let moved = matches.iter().any(|pair| {
                    pair.is_moved && new.get(pair.new).is_some_and(|step| place(step) == place(is))
                });
                if moved {
                    changed.push(StepChange::Moved(before.map(|step| step.words.clone())));
                }
                changed.extend(changes(was, is));
            }
            pairs.push(StepPair {
                old: was.map(|step| (*step).clone()),
                new: is.map(|step| (*step).clone()),
                changes: changed,
            });
            before = is.copied().or(before);
        }
        Self { pairs, rows }
    }

    /// Gives the row and the words of an older step by its index.
    pub(super) fn row_of_old(&self, index: usize) -> Option<(usize, String)> {
        let row = self.rows.iter().position(|(old, _)| *old == Some(index))?;
        let step = self.pairs.get(row)?.old.as_ref()?;
        Some((row, step.words.clone()))
    }

    /// Gives the row and the words of a newer step by its index.
    pub(super) fn row_of_new(&self, index: usize) -> Option<(usize, String)> {
        let row = self.rows.iter().position(|(_, new)| *new == Some(index))?;
        let step = self.pairs.get(row)?.new.as_ref()?;
        Some((row, step.words.clone()))
    }
}

fn steps(block: Option<&Block>) -> Vec<&Step> {
    let entries = block.into_iter().flat_map(|block| &block.entries);
    let steps = entries.filter_map(|entry| match entry {
        Entry::Step(step) => Some(step),
        Entry::Line(_) | Entry::Note(_) => None,
    });
    steps.collect()
}

/// A step is the same whatever its time and warmth: by its verb, or by its words where it has none.
fn item(step: &Step) -> Item {
    let words = words(step);
    Item {
        identity: step
            .verb
            .map_or_else(|| words.clone(), |verb| verb.word.to_owned()),
        whole: format!(
            "{words} {:?} {:?} {:?}",
            step.takes,
            step.at.as_ref().map(|at| (&at.place, &at.range)),
            step.until.as_ref().map(|until| &until.value)
        ),
    }
}

fn words(step: &Step) -> String {
    step.words.to_lowercase()
}

fn changes(old: &Step, new: &Step) -> Vec<StepChange> {
    let cue = |step: &Step| {
        step.until.as_ref().map(|until| match &until.value {
            Cue::Words(words) => Cue::Words(words.to_lowercase()),
            plain => plain.clone(),
        })
    };
    let tests = [
        (StepChange::Words, words(old) != words(new)),
        (StepChange::Time, old.takes != new.takes),
        (StepChange::At, !same_warmth(old.at.as_ref(), new.at.as_ref())),
        (StepChange::To, !same_warmth(old.to.as_ref(), new.to.as_ref())),
        (StepChange::Folds, old.folds != new.folds),
        (StepChange::Hands, old.hands_on != new.hands_on),
        (StepChange::Cue, cue(old) != cue(new)),
    ];
    let mut changes: Vec<StepChange> = tests
        .into_iter()
        .filter(|(_, differs)| *differs)
        .map(|(change, _)| change)
        .collect();
    let told = |step: &Step| prose::words(step.prose.as_ref());
    changes.extend(prose::difference(&told(old), &told(new)).map(StepChange::Prose));
    changes
}
