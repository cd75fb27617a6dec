//! Steps added, gone, moved and done otherwise.

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::stages::Matched;
use super::types::{Side, StepChange, StepPlace};
use crate::model::recipe::{Block, Cue, Entry, Step, StepTime, TemperatureSpec};
use crate::quantity::CelsiusRange;

/// Lists the changes of all blocks that both versions have.
pub(super) fn changes(old: &Side<'_>, new: &Side<'_>, stages: &Matched) -> Vec<StepChange> {
    new.recipe
        .blocks
        .iter()
        .filter_map(|now| Some((old.recipe.blocks.get(stages.old_of(now.id)?.0)?, now)))
        .flat_map(|(before, now)| of_block(before, now))
        .collect()
}

fn steps(block: &Block) -> Vec<&Step> {
    block
        .entries
        .iter()
        .filter_map(|entry| match entry {
            Entry::Step(step) => Some(step),
            Entry::Line(_) | Entry::Note(_) => None,
        })
        .collect()
}

/// What a step is, whatever its time and warmth: its verb, or its words where it has none.
fn identity(step: &Step) -> String {
    step.verb
        .map_or_else(|| step.words.to_lowercase(), |verb| verb.word.to_owned())
}

/// Brings the steps together in their order; what stands in both but not in order has moved.
fn of_block(before: &Block, now: &Block) -> Vec<StepChange> {
    let (old, new) = (steps(before), steps(now));
    let (old_names, new_names): (Vec<String>, Vec<String>) = (
        old.iter().map(|step| identity(step)).collect(),
        new.iter().map(|step| identity(step)).collect(),
    );
    let place = |block: &Block, step: &Step| StepPlace {
        block: block.title.clone(),
        text: told(step),
    };
    let mut found = Vec::new();
    let (mut gone, mut came): (Vec<&Step>, Vec<&Step>) = (Vec::new(), Vec::new());
    for run in capture_diff_slices(Algorithm::Myers, &old_names, &new_names) {
        let (left, right) = (run.old_range(), run.new_range());
        if let DiffOp::Equal { .. } = run {
            for (old, new) in old
                .get(left)
                .into_iter()
                .flatten()
                .zip(new.get(right).into_iter().flatten())
            {
                if told(old) != told(new) {
                    found.push(StepChange::Changed(place(before, old), place(now, new)));
                }
            }
        } else {
            gone.extend(old.get(left).into_iter().flatten());
            came.extend(new.get(right).into_iter().flatten());
        }
    }
    for step in came {
        match gone.iter().position(|old| identity(old) == identity(step)) {
            Some(at) => {
                let old = gone.remove(at);
                found.push(StepChange::Moved(place(now, step)));
                if told(old) != told(step) {
                    found.push(StepChange::Changed(place(before, old), place(now, step)));
                }
            }
            None => found.push(StepChange::Added(place(now, step))),
        }
    }
    found.extend(gone.into_iter().map(|step| StepChange::Gone(place(before, step))));
    found
}

/// Tells a step in one spelling, so that reformatting is no change.
fn told(step: &Step) -> String {
    let mut told = match step.time {
        StepTime::Then => String::from("then"),
        StepTime::Overnight => String::from("overnight"),
        StepTime::Takes(range) => {
            let (least, most) = (
                minutes(range.least.as_minutes()),
                minutes(range.most.as_minutes()),
            );
            if range.is_range() {
                format!("{least} to {most}")
            } else {
                least
            }
        }
    };
    told.push(' ');
    told.push_str(&step.words);
    for (word, place) in [("at", &step.at), ("to", &step.to)] {
        if let Some(place) = place {
            told.push_str(&format!(" {word} {}", warmth(place)));
        }
    }
    if let Some(folds) = step.folds {
        told.push_str(&format!(
            " with {} folds every {}",
            folds.count,
            minutes(folds.every.as_minutes())
        ));
    }
    if let Some(until) = &step.until {
        told.push_str(&match &until.value {
            Cue::Core(range) => format!(" until core {}", degrees(range)),
            Cue::Dough(range) => format!(" until dough {}", degrees(range)),
            Cue::Grown(times) => format!(" until {}x", times.to_trimmed(2)),
            Cue::Words(words) => format!(" until {words}"),
        });
    }
    told
}

fn minutes(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}

fn warmth(place: &TemperatureSpec) -> String {
    place.place.clone().unwrap_or_else(|| degrees(&place.range))
}

fn degrees(range: &CelsiusRange) -> String {
    let (low, high) = (range.low.0.to_trimmed(1), range.high.0.to_trimmed(1));
    if low == high {
        format!("{low} °C")
    } else {
        format!("{low}-{high} °C")
    }
}
