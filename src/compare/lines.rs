//! Ingredients added, gone, swapped and re-weighed, and what else is said of them.

use super::align::{Match, woven};
use super::near;
use super::prose;
use super::types::{Line, LineChange, LinePair};
use crate::model::recipe::{self, Amount, Block, BlockId, Entry, Prose, TemperatureSpec, Thing};
use crate::quantity::{Grams, Ratio};
use crate::sheet::{Sheet, SheetBlock, SheetLine, Source};

/// What makes two amounts the same.
#[derive(Clone, Debug)]
pub(super) enum Measure {
    /// Their shares, of so much flour; a larger batch is no change.
    Share(Grams),
    /// Their weights, so that more flour is not less of everything else.
    Weight,
}

/// A line of one version with what tells it from others.
#[derive(Clone, Debug)]
pub(super) struct Known {
    key: String,
    is_flour: bool,
    line: Line,
    /// Where it goes in, by the rows of the block's steps.
    rows: Vec<usize>,
    prose: String,
}

/// Reads the whole bread.
pub(super) fn of_total(sheet: &Sheet) -> Vec<Known> {
    let read = |line: &crate::sheet::TotalLine| Known {
        key: line.key.clone(),
        is_flour: line.is_flour,
        line: Line {
            name: line.name.clone(),
            weight: Some(line.weight.clone()),
            share: line.of_all_flour.clone(),
            preparation: None,
            at: None,
            steps: Vec::new(),
        },
        rows: Vec::new(),
        prose: String::new(),
    };
    sheet.total.iter().map(read).collect()
}

/// What a block's steps are to its lines: the row that each stands in, and its words.
pub(super) type StepRows<'a> = &'a dyn Fn(usize) -> Option<(usize, String)>;

/// Reads the lines of a computed block. Stages are named by what they are in both versions.
pub(super) fn of_block(
    block: &SheetBlock,
    stage: &dyn Fn(BlockId) -> String,
    steps: StepRows<'_>,
) -> Vec<Known> {
    let read = |line: &SheetLine| {
        let step = line.step.and_then(steps);
        let (key, is_flour) = match &line.source {
            Source::Ingredient { key, is_flour, .. } => (key.clone(), *is_flour),
            Source::Stage(id) => (stage(*id), false),
            Source::Mixture => (format!("mixture {}", line.name), false),
        };
        Known {
            key,
            is_flour,
            line: Line {
                name: line.name.clone(),
                weight: line.weight.clone(),
                share: share(line, block),
                preparation: line.preparation.clone(),
                at: line.at.clone(),
                steps: step.iter().map(|(_, words)| words.clone()).collect(),
            },
            rows: step.iter().map(|(row, _)| *row).collect(),
            prose: prose::words(line.prose.as_ref()),
        }
    };
    block.lines.iter().map(read).collect()
}

/// Reads the lines of a block whose recipe could not be computed, as they are written.
pub(super) fn as_written(block: &Block, stage: &dyn Fn(BlockId) -> String) -> Vec<Known> {
    let read = |line: &recipe::Line| {
        let (key, is_flour) = match &line.thing {
            Thing::Ingredient(ingredient) => (ingredient.name.clone(), ingredient.is_flour),
            Thing::Stage(id) => (stage(*id), false),
            Thing::Unlisted { .. } | Thing::Mixture(_) => (line.name.value.to_lowercase(), false),
        };
        let (weight, share) = match &line.amount.value {
            Amount::Weight(weight) => (Some(weight.clone()), None),
            Amount::Percent(share) | Amount::Parts(share) => (None, Some(share.clone())),
            Amount::All | Amount::Some => (None, None),
        };
        Known {
            key,
            is_flour,
            line: Line {
                name: line.name.value.clone(),
                weight,
                share,
                preparation: line.preparation.clone(),
                at: line.at.clone(),
                steps: Vec::new(),
            },
            rows: Vec::new(),
            prose: prose::words(line.prose.as_ref()),
        }
    };
    let lines = block.entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => Some(read(line)),
        Entry::Step(_) | Entry::Note(_) => None,
    });
    lines.collect()
}

/// A block without flour is compared by shares of its whole.
fn share(line: &SheetLine, block: &SheetBlock) -> Option<Ratio> {
    let of_whole = || line.weight.as_ref()?.share_of(&block.total);
    line.of_block_flour.clone().or_else(of_whole)
}

/// Pairs the lines of two versions. Lines that stand in an order of the baker's own may also be known by their place.
pub(super) fn pairs(old: &[Known], new: &[Known], measure: &Measure, has_places: bool) -> Vec<LinePair> {
    let (old, new) = merged(old, new);
    let mut matches = same_things(&old, &new);
    add_swapped(&old, &new, measure, &mut matches);
    if has_places {
        add_swapped_in_place(&old, &new, &mut matches);
    }
    woven(&matches, old.len(), new.len())
        .into_iter()
        .map(|(before, now)| {
            let (before, now) = (before.and_then(|at| old.get(at)), now.and_then(|at| new.get(at)));
            LinePair {
                changes: before
                    .zip(now)
                    .map_or_else(Vec::new, |(before, now)| changes(before, now, measure)),
                old: before.map(|known| known.line.clone()),
                new: now.map(|known| known.line.clone()),
            }
        })
        .collect()
}

/// Makes one line of those of one thing where the other version has another number of them: a line split in
/// two is the same dough.
fn merged(old: &[Known], new: &[Known]) -> (Vec<Known>, Vec<Known>) {
    let count = |lines: &[Known], key: &str| lines.iter().filter(|line| line.key == key).count();
    let merge = |lines: &[Known], others: &[Known]| {
        let mut kept: Vec<Known> = Vec::with_capacity(lines.len());
        for line in lines {
            let is_even = count(lines, &line.key) == count(others, &line.key);
            match kept.iter_mut().find(|one| !is_even && one.key == line.key) {
                Some(one) => one.add(line),
                None => kept.push(line.clone()),
            }
        }
        kept
    };
    (merge(old, new), merge(new, old))
}

impl Known {
    const fn has_amount(&self) -> bool {
        self.line.weight.is_some() || self.line.share.is_some()
    }

    fn add(&mut self, other: &Self) {
        let line = &mut self.line;
        if let (Some(sum), Some(more)) = (&mut line.weight, &other.line.weight) {
            *sum = &*sum + more;
        }
        if let (Some(sum), Some(more)) = (&mut line.share, &other.line.share) {
            *sum = &*sum + more;
        }
        for (row, words) in other.rows.iter().zip(&other.line.steps) {
            if !self.rows.contains(row) {
                self.rows.push(*row);
                self.line.steps.push(words.clone());
            }
        }
        for words in [&other.prose].into_iter().filter(|words| !words.is_empty()) {
            self.prose.push(' ');
            self.prose.push_str(words);
        }
    }
}

/// The first of a thing is the first of it, and so on.
fn same_things(old: &[Known], new: &[Known]) -> Vec<Match> {
    let mut matches: Vec<Match> = Vec::new();
    for (at, now) in new.iter().enumerate() {
        let is_free = |place: usize| matches.iter().all(|pair| pair.old != place);
        let before = old
            .iter()
            .enumerate()
            .find(|(place, before)| is_free(*place) && before.key == now.key);
        if let Some((place, _)) = before {
            matches.push(Match {
                old: place,
                new: at,
                is_moved: false,
            });
        }
    }
    matches
}

/// One thing gone and one new in the same amount are a swap; the nearest on the page are taken first.
fn add_swapped(old: &[Known], new: &[Known], measure: &Measure, matches: &mut Vec<Match>) {
    let mut candidates = Vec::new();
    for (left, before) in old
        .iter()
        .enumerate()
        .filter(|(at, _)| matches.iter().all(|pair| pair.old != *at))
    {
        for (right, now) in new
            .iter()
            .enumerate()
            .filter(|(at, _)| matches.iter().all(|pair| pair.new != *at))
        {
            if before.has_amount()
                && before.is_flour == now.is_flour
                && alike(&before.line, &now.line, measure)
            {
                candidates.push((left.abs_diff(right), left + right, left, right));
            }
        }
    }
    candidates.sort_unstable();
    for (.., old, new) in candidates {
        if matches.iter().all(|pair| pair.old != old && pair.new != new) {
            matches.push(Match {
                old,
                new,
                is_moved: false,
            });
        }
    }
}

/// One thing gone and one new between the same two neighbours are a swap too, whatever there is of them.
fn add_swapped_in_place(old: &[Known], new: &[Known], matches: &mut Vec<Match>) {
    let mut found = Vec::new();
    for (left, before) in old.iter().enumerate() {
        let is_one = |pair: &Match, old: usize, new: usize| pair.old == old && pair.new == new;
        let follows = |at: usize| match left.checked_sub(1) {
            Some(last) => at > 0 && matches.iter().any(|pair| is_one(pair, last, at - 1)),
            None => at == 0,
        };
        let precedes = |at: usize| {
            let is_end = (left + 1 == old.len(), at + 1 == new.len());
            is_end == (true, true) || matches.iter().any(|pair| is_one(pair, left + 1, at + 1))
        };
        let is_free = |at: usize| matches.iter().all(|pair| pair.old != left && pair.new != at);
        let place = new.iter().enumerate().find(|(at, now)| {
            is_free(*at)
                && follows(*at)
                && precedes(*at)
                && before.is_flour == now.is_flour
                && before.has_amount()
                && now.has_amount()
        });
        found.extend(place.map(|(at, _)| Match {
            old: left,
            new: at,
            is_moved: false,
        }));
    }
    matches.extend(found);
}

fn changes(old: &Known, new: &Known, measure: &Measure) -> Vec<LineChange> {
    let mut changes = Vec::new();
    if old.key != new.key {
        changes.push(LineChange::Swapped);
    }
    if !alike(&old.line, &new.line, measure) {
        changes.push(LineChange::Amount);
    }
    if told(old.line.preparation.as_ref()) != told(new.line.preparation.as_ref()) {
        changes.push(LineChange::Preparation);
    }
    if !same_warmth(old.line.at.as_ref(), new.line.at.as_ref()) {
        changes.push(LineChange::Warmth);
    }
    if old.rows != new.rows {
        changes.push(LineChange::Step);
    }
    changes.extend(prose::difference(&old.prose, &new.prose).map(LineChange::Prose));
    changes
}

fn told(words: Option<&String>) -> String {
    words.map_or_else(String::new, |words| words.to_lowercase())
}

/// Compares by the word of a place where both have one, else by degrees.
pub(super) fn same_warmth(old: Option<&TemperatureSpec>, new: Option<&TemperatureSpec>) -> bool {
    match (old, new) {
        (Some(old), Some(new)) if old.place.is_some() || new.place.is_some() => old.place == new.place,
        (Some(old), Some(new)) => old.range == new.range,
        (old, new) => old.is_none() && new.is_none(),
    }
}

fn alike(old: &Line, new: &Line, measure: &Measure) -> bool {
    let by_weight = || match (&old.weight, &new.weight) {
        (Some(old), Some(new)) => near::weights(old, new),
        (old, new) => old == new,
    };
    match (measure, &old.share, &new.share) {
        (Measure::Share(flour), Some(old), Some(new)) => near::shares(old, new, flour),
        (Measure::Share(_), None, None) | (Measure::Weight, ..) => by_weight(),
        (Measure::Share(_), ..) => false,
    }
}

/// Gives the remarks and prose of a block as one text.
pub(super) fn remarks(block: &Block) -> String {
    let notes = block.entries.iter().filter_map(|entry| match entry {
        Entry::Note(text) => Some(text.value.as_str()),
        Entry::Line(_) | Entry::Step(_) => None,
    });
    notes.collect::<Vec<_>>().join(" ")
}

/// Gives the words of several pieces of prose.
pub(super) fn all_words(prose: &[Prose]) -> String {
    prose::words(prose)
}
