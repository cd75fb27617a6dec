//! Steps: both sides as text, and what differs as a sentence.

use super::say::{Detail, Say, arrow, kind, runs};
use super::{Kind, Row};
use crate::compare::{StepChange, StepPair};
use crate::model::recipe::{Cue, Step, StepTime};

pub(super) fn view_steps(steps: &[StepPair], is_told: bool, say: Say) -> Vec<Row> {
    steps.iter().map(|pair| row(pair, is_told, say)).collect()
}

fn row(pair: &StepPair, is_told: bool, say: Say) -> Row {
    let is_moved = pair
        .changes
        .iter()
        .any(|change| matches!(change, StepChange::Moved(_)));
    let kind = match (&pair.old, &pair.new) {
        (Some(_), Some(_)) if pair.changes.is_empty() => Kind::Same,
        (Some(_), Some(_)) if is_moved => Kind::Moved,
        (old, new) => kind(old.is_some(), new.is_some()),
    };
    let prose = pair.changes.iter().find_map(|change| match change {
        StepChange::Prose(words) => Some(runs(words)),
        _ => None,
    });
    Row {
        what: "step",
        kind,
        old: pair.old.as_ref().map(|step| whole(step, say)),
        new: pair.new.as_ref().map(|step| whole(step, say)),
        old_amount: None,
        new_amount: None,
        told: if is_told { told(pair, say) } else { None },
        runs: prose.unwrap_or_default(),
    }
}

/// Says all of a step: `2–3 h proof at 24 °C until doubled`.
fn whole(step: &Step, say: Say) -> String {
    let mut text = match step.time {
        StepTime::Then => "then".to_owned(),
        StepTime::Overnight => "overnight".to_owned(),
        StepTime::Takes(range) => say.lengths(range),
    };
    text.push(' ');
    text.push_str(&step.words);
    for (word, place) in [("at", &step.at), ("to", &step.to)] {
        if let Some(place) = place {
            text.push_str(&format!(" {}", say.place(word, place)));
        }
    }
    if let Some(folds) = folds(step, say) {
        text.push_str(&format!(" with {folds}"));
    }
    if let Some(cue) = cue(step, say) {
        text.push_str(&format!(" until {cue}"));
    }
    text
}

fn folds(step: &Step, say: Say) -> Option<String> {
    let plan = step.folds?;
    let noun = if plan.count == 1 { "fold" } else { "folds" };
    Some(format!("{} {noun} every {}", plan.count, say.length(plan.every)))
}

fn cue(step: &Step, say: Say) -> Option<String> {
    Some(match &step.until.as_ref()?.value {
        Cue::Core(range) => format!("core {}", say.degrees(range)),
        Cue::Dough(range) => format!("dough {}", say.degrees(range)),
        Cue::Grown(times) if *times == crate::quantity::Ratio::whole(2) => "doubled".to_owned(),
        Cue::Grown(times) => format!("{}x", say.count(times)),
        Cue::Words(words) => words.clone(),
    })
}

fn told(pair: &StepPair, say: Say) -> Option<String> {
    let (old, new) = match (&pair.old, &pair.new) {
        (Some(old), Some(new)) => (old, new),
        (None, Some(step)) | (Some(step), None) => return Some(whole(step, say)),
        (None, None) => return None,
    };
    let parts: Vec<String> = pair
        .changes
        .iter()
        .map(|change| part(change, old, new, Detail::Whole, say))
        .collect();
    (!parts.is_empty()).then(|| format!("{} {}", new.words, parts.join(", ")))
}

/// Says one change of a step, to be read behind its words.
pub(super) fn part(change: &StepChange, old: &Step, new: &Step, detail: Detail, say: Say) -> String {
    match change {
        StepChange::Moved(Some(after)) => format!("now comes after “{after}”"),
        StepChange::Moved(None) => "now comes first".to_owned(),
        StepChange::Words => format!("in place of “{}”", old.words),
        StepChange::Time => {
            let said = |step: &Step| match step.time {
                StepTime::Then => "no time of its own".to_owned(),
                _ => say.lengths(step.takes),
            };
            let way = arrow(&said(old), &said(new));
            detail.with(say.longer(old.takes, new.takes), &way)
        }
        StepChange::At => say.other_warmth("at", (old.at.as_ref(), new.at.as_ref()), detail),
        StepChange::To => say.other_warmth("to", (old.to.as_ref(), new.to.as_ref()), detail),
        StepChange::Folds => instead("with", (folds(old, say), folds(new, say)), detail),
        StepChange::Hands if new.hands_on => "now needs hands".to_owned(),
        StepChange::Hands => "no longer needs hands".to_owned(),
        StepChange::Cue => instead("until", (cue(old, say), cue(new, say)), detail),
        StepChange::Prose(_) => "with a reworded instruction".to_owned(),
    }
}

fn instead(word: &str, (old, new): (Option<String>, Option<String>), detail: Detail) -> String {
    match (old, new) {
        (Some(old), Some(new)) => detail.before(format!("{word} {new}"), &format!("{word} {old}")),
        (None, Some(new)) => format!("now {word} {new}"),
        (Some(old), None) => format!("no longer {word} {old}"),
        (None, None) => String::new(),
    }
}
