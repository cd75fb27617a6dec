//! Lines of a formula: both sides as text, and what differs as a sentence.

use super::say::{Detail, Say, arrow, kind, listed, runs};
use super::{Amount, Decimal, Kind, Row, told_row};
use crate::compare::{Line, LineChange, LinePair};
use crate::quantity::Ratio;

/// Whether amounts are told here, or by the whole bread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Amounts {
    Here,
    Elsewhere,
}

/// Makes the rows of lines; `tells` says which of them have something to tell here.
pub(super) fn view_lines(
    lines: &[LinePair],
    tells: impl Fn(&LinePair) -> bool,
    amounts: Amounts,
    say: Say,
) -> Vec<Row> {
    let mut rows: Vec<Row> = lines
        .iter()
        .map(|pair| {
            let told = if tells(pair) {
                told(pair, amounts, say)
            } else {
                None
            };
            row(pair, told, say)
        })
        .collect();
    let moved = moved(lines, Detail::Whole).into_iter();
    rows.extend(moved.map(|told| told_row("line", Kind::Moved, told)));
    rows
}

fn row(pair: &LinePair, told: Option<String>, say: Say) -> Row {
    let has = |wanted: &LineChange| pair.changes.contains(wanted);
    let kind = match (&pair.old, &pair.new) {
        (Some(_), Some(_)) if has(&LineChange::Swapped) => Kind::Swapped,
        (Some(_), Some(_)) if pair.changes.is_empty() => Kind::Same,
        (Some(_), Some(_)) if pair.changes == [LineChange::Step] => Kind::Moved,
        (old, new) => kind(old.is_some(), new.is_some()),
    };
    let prose = pair.changes.iter().find_map(|change| match change {
        LineChange::Prose(words) => Some(runs(words)),
        _ => None,
    });
    Row {
        what: "line",
        kind,
        old: pair.old.as_ref().map(|line| whole(line, say)),
        new: pair.new.as_ref().map(|line| whole(line, say)),
        old_amount: pair.old.as_ref().map(amount),
        new_amount: pair.new.as_ref().map(amount),
        told,
        runs: prose.unwrap_or_default(),
    }
}

fn amount(line: &Line) -> Amount {
    Amount {
        grams: line.weight.as_ref().map(|weight| Decimal::of(&weight.0)),
        percent: line
            .share
            .as_ref()
            .map(|share| Decimal::of(&(share * &Ratio::HUNDRED))),
    }
}

/// Says all of a line: `water at 28 °C, 62 % (620 g)`.
fn whole(line: &Line, say: Say) -> String {
    let mut text = line.name.clone();
    if let Some(at) = &line.at {
        text.push(' ');
        text.push_str(&say.place("at", at));
    }
    if let Some(preparation) = &line.preparation {
        text.push_str(", ");
        text.push_str(preparation);
    }
    let how_much = how_much(line, say);
    if !how_much.is_empty() {
        text.push_str(": ");
        text.push_str(&how_much);
    }
    text
}

/// Says how much of a thing there is: `62 % (620 g)`, or one of the two.
pub(super) fn how_much(line: &Line, say: Say) -> String {
    match (&line.share, &line.weight) {
        (Some(share), Some(weight)) => format!("{} ({})", say.share(share), say.weight(weight)),
        (Some(share), None) => say.share(share),
        (None, Some(weight)) => say.weight(weight),
        (None, None) => String::new(),
    }
}

/// Says the way from one amount to another: `62 → 64.4 % (620 → 644 g)`.
pub(super) fn amounts(old: &Line, new: &Line, detail: Detail, say: Say) -> String {
    let shares = old
        .share
        .as_ref()
        .zip(new.share.as_ref())
        .map(|(old, new)| arrow(&say.share(old), &say.share(new)));
    let weights = old
        .weight
        .as_ref()
        .zip(new.weight.as_ref())
        .map(|(old, new)| arrow(&say.weight(old), &say.weight(new)));
    // A share that stays as it is says nothing of a weight that does not.
    let is_same_share = old
        .share
        .as_ref()
        .zip(new.share.as_ref())
        .is_some_and(|(old, new)| say.share(old) == say.share(new));
    match (shares.filter(|_| !is_same_share || weights.is_none()), weights) {
        (Some(shares), Some(weights)) => detail.with(Some(shares), &weights),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => {
            let said = |line: &Line| {
                Some(how_much(line, say))
                    .filter(|text| !text.is_empty())
                    .unwrap_or_else(|| "some".to_owned())
            };
            format!("{} → {}", said(old), said(new))
        }
    }
}

fn told(pair: &LinePair, amounts: Amounts, say: Say) -> Option<String> {
    let (old, new) = match (&pair.old, &pair.new) {
        (Some(old), Some(new)) => (old, new),
        (None, Some(line)) | (Some(line), None) => {
            let how_much = how_much(line, say);
            return Some(if how_much.is_empty() {
                line.name.clone()
            } else {
                format!("{} {how_much}", line.name)
            });
        }
        (None, None) => return None,
    };
    let has = |wanted: &LineChange| pair.changes.contains(wanted);
    let is_resized = has(&LineChange::Swapped) && has(&LineChange::Amount);
    let parts: Vec<String> = pair
        .changes
        .iter()
        .filter(|change| amounts == Amounts::Here || !is_amount(change))
        .filter_map(|change| match change {
            // One sentence tells of both: what there is, and what there was.
            LineChange::Swapped if is_resized => {
                let (now, before) = (how_much(new, say), how_much(old, say));
                Some(format!("{now} instead of {} {before}", old.name))
            }
            LineChange::Amount if is_resized => None,
            other => part(other, old, new, Detail::Whole, say),
        })
        .collect();
    (!parts.is_empty()).then(|| format!("{} {}", new.name, parts.join(", ")))
}

/// Says one change of a line, to be read behind its name.
pub(super) fn part(change: &LineChange, old: &Line, new: &Line, detail: Detail, say: Say) -> Option<String> {
    match change {
        LineChange::Amount => Some(amounts(old, new, detail, say)),
        LineChange::Swapped if detail == Detail::Brief => Some(format!("instead of {}", old.name)),
        LineChange::Swapped => Some(format!("{} instead of {}", how_much(new, say), old.name)),
        LineChange::Preparation => Some(match (&old.preparation, &new.preparation) {
            (Some(old), Some(new)) => detail.before(format!("now “{new}”"), &format!("“{old}”")),
            (None, Some(new)) => format!("now “{new}”"),
            (Some(old), None) => format!("no longer “{old}”"),
            (None, None) => return None,
        }),
        LineChange::Warmth => Some(say.other_warmth("at", (old.at.as_ref(), new.at.as_ref()), detail)),
        LineChange::Prose(_) => Some("with a reworded instruction".to_owned()),
        LineChange::Step => None,
    }
}

const fn is_amount(change: &LineChange) -> bool {
    matches!(change, LineChange::Amount | LineChange::Swapped)
}

/// Says what goes in at another step, in one sentence for all lines that moved together.
pub(super) fn moved(lines: &[LinePair], detail: Detail) -> Vec<String> {
    let mut groups: Vec<(&[String], &[String], Vec<String>)> = Vec::new();
    let has_moved = |pair: &&LinePair| pair.changes.contains(&LineChange::Step);
    for pair in lines.iter().filter(has_moved) {
        let (Some(old), Some(new)) = (&pair.old, &pair.new) else {
            continue;
        };
        let is_same =
            |group: &&mut (&[String], &[String], Vec<String>)| group.0 == old.steps && group.1 == new.steps;
        match groups.iter_mut().find(is_same) {
            Some(group) => group.2.push(new.name.clone()),
            None => groups.push((&old.steps, &new.steps, vec![new.name.clone()])),
        }
    }
    let at = |steps: &[String]| match steps {
        [] => "after the last step".to_owned(),
        steps => format!("at “{}”", steps.join("” and “")),
    };
    let sentence = |(old, new, names): (&[String], &[String], Vec<String>)| {
        let verb = if names.len() == 1 { "goes" } else { "go" };
        let told = format!("{} now {verb} in {}", listed(&names), at(new));
        match detail {
            Detail::Brief => told,
            Detail::Whole => format!("{told}, before {}", at(old)),
        }
    };
    groups.into_iter().map(sentence).collect()
}
