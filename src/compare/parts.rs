//! Variations and bench records that came, went or changed.

use super::lines::all_words;
use super::prose;
use super::types::{BlockPair, Comparison, LinePair, Part, PartChange, Side, StepPair};
use crate::model::recipe::{Reading, Record, Variation};
use crate::sheet::Sheet;

/// Compares the variations. What a change of the plain recipe does to all of them is told once, there.
pub(super) fn variations(old: &Side<'_>, new: &Side<'_>, plain: &Comparison) -> Vec<Part> {
    let name = |pair: &(&Variation, &Sheet)| pair.0.name.value.clone();
    let says = |pair: &(&Variation, &Sheet)| written(pair.0).map(str::to_owned).collect();
    parts(&old.variations, &new.variations, name, says, |old, new| {
        if entries(old.0) == entries(new.0) {
            return prose::difference(&all_words(&old.0.prose), &all_words(&new.0.prose))
                .map(PartChange::Reads);
        }
        let own = without(super::compare(&side(*old), &side(*new)), plain);
        let has_news = !own.formula_is_unchanged()
            || own.blocks.iter().any(BlockPair::is_changed)
            || !own.keys.is_empty()
            || !own.prose.is_empty();
        if has_news {
            return Some(PartChange::Changed(Box::new(own)));
        }
        // The bread is the same, and yet another thing is said.
        let said = |variation: &Variation| written(variation).collect::<Vec<_>>().join(" · ");
        let reads = || prose::difference(&said(old.0), &said(new.0)).map(PartChange::Reads);
        if words(old.0) == words(new.0) {
            None
        } else {
            reads()
        }
    })
}

/// Takes a variation as a version of a recipe of its own.
fn side<'version>((variation, sheet): (&'version Variation, &'version Sheet)) -> Side<'version> {
    Side {
        recipe: &variation.recipe,
        sheet: Some(sheet),
        variations: Vec::new(),
        records: &[],
    }
}

/// Compares the bench records by what was measured and said.
pub(super) fn records(old: &Side<'_>, new: &Side<'_>) -> Vec<Part> {
    let old: Vec<&Record> = old.records.iter().collect();
    let new: Vec<&Record> = new.records.iter().collect();
    let name = |record: &&Record| {
        let (year, month, day) = record.date.value;
        format!("{year:04}-{month:02}-{day:02}")
    };
    parts(
        &old,
        &new,
        name,
        |record| vec![reads(record)],
        |old, new| prose::difference(&reads(old), &reads(new)).map(PartChange::Reads),
    )
}

/// Gives the entries of a variation as written.
fn written(variation: &Variation) -> impl Iterator<Item = &str> {
    variation.changes.iter().map(|change| change.written.as_str())
}

/// Gives the entries of a variation in one spelling.
fn entries(variation: &Variation) -> Vec<String> {
    let squashed = |entry: &str| entry.to_lowercase().split_whitespace().collect::<String>();
    written(variation).map(squashed).collect()
}

/// Gives the words of a variation's entries without numbers and units, which are only spelt otherwise where
/// the bread is the same.
fn words(variation: &Variation) -> Vec<String> {
    const UNITS: &str = " g gram grams kg mg oz ounce ounces lb pound pounds ml l percent c f h hr hrs hour hours min \
                         mins minute minutes s part parts cup cups ";
    let letters = written(variation).flat_map(|entry| entry.split(|c: char| !c.is_alphabetic()));
    let words = letters.map(str::to_lowercase);
    words
        .filter(|word| !word.is_empty() && !UNITS.contains(&format!(" {word} ")))
        .collect()
}

/// Gives a record in one spelling.
fn reads(record: &Record) -> String {
    let mut words: Vec<String> = record
        .readings
        .iter()
        .map(|(reading, of)| format!("{} {of}", reading_told(&reading.value)))
        .collect();
    words.extend(Some(all_words(&record.prose)).filter(|words| !words.is_empty()));
    words.join(" · ")
}

fn reading_told(reading: &Reading) -> String {
    match reading {
        Reading::Temperature(range) => format!("{} °C", range.middle().0.to_trimmed(1)),
        Reading::Weight(weight) => format!("{} g", weight.0.to_trimmed(2)),
        Reading::Time(range) => {
            let minutes = range.middle().as_minutes();
            match (minutes / 60, minutes % 60) {
                (0, rest) => format!("{rest} min"),
                (hours, 0) => format!("{hours} h"),
                (hours, rest) => format!("{hours} h {rest} min"),
            }
        }
        Reading::Count(count) => count.to_trimmed(2),
        Reading::Share(share) => format!("{} %", (share * &crate::quantity::Ratio::HUNDRED).to_trimmed(2)),
    }
}

/// Tells of named parts in the order of the newer version, then of what is gone.
fn parts<T>(
    old: &[T],
    new: &[T],
    name: impl Fn(&T) -> String,
    says: impl Fn(&T) -> Vec<String>,
    changed: impl Fn(&T, &T) -> Option<PartChange>,
) -> Vec<Part> {
    let find = |parts: &'_ [T], wanted: &str| parts.iter().position(|part| name(part) == wanted);
    let mut found = Vec::new();
    for now in new {
        let called = name(now);
        let before = find(old, &called).and_then(|at| old.get(at));
        let change = match before {
            Some(before) => changed(before, now),
            None => Some(PartChange::Added(says(now))),
        };
        found.extend(change.map(|change| Part { name: called, change }));
    }
    let gone = old.iter().filter(|before| find(new, &name(before)).is_none());
    found.extend(gone.map(|before| Part {
        name: name(before),
        change: PartChange::Gone(says(before)),
    }));
    found
}

/// Takes out of the comparison of a variation what the plain recipe tells already.
fn without(mut own: Comparison, plain: &Comparison) -> Comparison {
    let told_of = |lines: &[LinePair], line: &LinePair| lines.iter().any(|other| says_the_same(line, other));
    let settle = |line: &mut LinePair| {
        line.changes.clear();
        line.old = line.old.take().or_else(|| line.new.clone());
        line.new = line.new.take().or_else(|| line.old.clone());
    };
    for line in own.total.iter_mut().filter(|line| told_of(&plain.total, line)) {
        settle(line);
    }
    for block in &mut own.blocks {
        let Some(other) = plain
            .blocks
            .iter()
            .find(|other| other.old == block.old && other.new == block.new)
        else {
            continue;
        };
        for line in block.lines.iter_mut().filter(|line| told_of(&other.lines, line)) {
            settle(line);
        }
        block
            .steps
            .retain(|step| !other.steps.iter().any(|plain| is_same_step(step, plain)));
        if block.is_other_block() {
            block.new.clone_from(&block.old);
        }
        block.remarks = block.remarks.take().filter(|_| block.remarks != other.remarks);
    }
    own.keys.retain(|key| !plain.keys.contains(key));
    own.prose.retain(|prose| !plain.prose.contains(prose));
    own
}

/// Two lines say the same where names and shares are the same before and after; weights follow from the rest.
fn says_the_same(one: &LinePair, other: &LinePair) -> bool {
    let told = |line: &LinePair| {
        let told = |line: &super::types::Line| (line.name.clone(), line.share.clone());
        (line.old.as_ref().map(told), line.new.as_ref().map(told))
    };
    let weights = |line: &LinePair| {
        let told = |line: &super::types::Line| (line.name.clone(), line.weight.clone());
        (line.old.as_ref().map(told), line.new.as_ref().map(told))
    };
    one.changes == other.changes && (told(one) == told(other) || weights(one) == weights(other))
}

fn is_same_step(one: &StepPair, other: &StepPair) -> bool {
    let place = |step: &StepPair| {
        let span = |step: &crate::model::recipe::Step| step.span;
        (step.old.as_ref().map(span), step.new.as_ref().map(span))
    };
    one.is_changed() && one.changes == other.changes && place(one) == place(other)
}
