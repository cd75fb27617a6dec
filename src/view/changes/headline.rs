//! A comparison in one line: the figures that matter first, then what came, went and is done otherwise.

use super::lines::{self, amounts, moved};
use super::say::{Detail, Say, arrow};
use super::steps::part;
use super::{FileComparison, Verdict, reworded};
use crate::compare::{
    BlockPair, Comparison, Figure, LineChange, LinePair, PartChange, StepChange, StepPair, Value,
};

/// Phrases that fit into one line; what goes beyond is counted.
const PHRASES: usize = 6;

/// Figures that a headline names.
const NAMED: &[(Figure, &str)] = &[
    (Figure::Hydration, "hydration"),
    (Figure::Prefermented, "prefermented flour"),
    (Figure::Salt, "salt"),
];

pub(super) fn headline(view: &FileComparison, shown: Option<&Comparison>, say: Say) -> String {
    match view.verdict {
        Verdict::Same => "the same, letter by letter".to_owned(),
        Verdict::Writing => "no change in the bread, only the writing changed".to_owned(),
        Verdict::Added => alone("a new recipe", view),
        Verdict::Gone => alone("gone", view),
        Verdict::Unknown => "cannot be compared as bread".to_owned(),
        Verdict::Scaled | Verdict::Changed => {
            shown.map_or_else(String::new, |comparison| changed(comparison, say))
        }
    }
}

/// Says whether nothing but the size of the batch differs.
pub(super) fn is_only_scaled(comparison: &Comparison) -> bool {
    let is_size = |figure| matches!(figure, Figure::Dough | Figure::Pieces | Figure::PieceWeight);
    let mut figures = comparison.figures.iter().filter(|pair| pair.is_changed);
    figures.all(|pair| is_size(pair.figure))
        && !comparison.blocks.iter().any(BlockPair::is_changed)
        && comparison.keys.is_empty()
        && comparison.prose.is_empty()
        && comparison.variations.is_empty()
        && comparison.records.is_empty()
}

/// Says what a recipe without another version is.
fn alone(word: &str, view: &FileComparison) -> String {
    let named = view
        .figures
        .iter()
        .filter(|row| matches!(row.id, "dough" | "hydration" | "salt" | "whole-time"));
    let figures: Vec<String> = named
        .map(|row| format!("{} {}", row.label, row.of_either()))
        .collect();
    if figures.is_empty() {
        word.to_owned()
    } else {
        format!("{word}: {}", figures.join(", "))
    }
}

fn changed(comparison: &Comparison, say: Say) -> String {
    let mut phrases: Vec<String> = Vec::new();
    if let Some(factor) = &comparison.scaled {
        phrases.push(format!("scaled {}, formula unchanged", say.factor(factor)));
    } else if comparison.is_told_by_total && comparison.formula_is_unchanged() && has_other_stages(comparison)
    {
        phrases.push("the whole formula unchanged".to_owned());
    }
    push_figures(comparison, say, &mut phrases);
    push_lines(comparison, say, &mut phrases);
    for block in &comparison.blocks {
        push_block(block, say, &mut phrases);
    }
    push_rest(comparison, &mut phrases);
    if phrases.is_empty() {
        push_sizes(comparison, say, &mut phrases);
    }
    let more = phrases.len().saturating_sub(PHRASES);
    phrases.truncate(PHRASES);
    let told = phrases.join(", ");
    if more > 0 {
        format!("{told}, and {more} more")
    } else {
        told
    }
}

fn has_other_stages(comparison: &Comparison) -> bool {
    comparison
        .blocks
        .iter()
        .any(|block| block.old.is_none() || block.new.is_none())
}

fn push_figures(comparison: &Comparison, say: Say, phrases: &mut Vec<String>) {
    for (figure, label) in NAMED {
        let pair = comparison
            .figures
            .iter()
            .find(|pair| pair.figure == *figure && pair.is_changed);
        if let Some((Some(Value::Share(old)), Some(Value::Share(new)))) =
            pair.map(|pair| (&pair.old, &pair.new))
        {
            phrases.push(format!("{label} {}", arrow(&say.share(old), &say.share(new))));
        }
    }
}

/// Sizes are told where nothing else is.
fn push_sizes(comparison: &Comparison, say: Say, phrases: &mut Vec<String>) {
    for pair in comparison.figures.iter().filter(|pair| pair.is_changed) {
        match (&pair.old, &pair.new) {
            (Some(Value::Count(old)), Some(Value::Count(new))) => {
                phrases.push(format!("{} pieces", arrow(&say.count(old), &say.count(new))));
            }
            (Some(Value::Weight(old)), Some(Value::Weight(new))) if pair.figure == Figure::PieceWeight => {
                phrases.push(format!("{} a piece", arrow(&say.weight(old), &say.weight(new))));
            }
            (Some(Value::Time(old)), Some(Value::Time(new))) => {
                phrases.extend(
                    say.longer(*old, *new)
                        .map(|longer| format!("{longer} from start to finish")),
                );
            }
            _ => {}
        }
    }
}

/// What came, went and was swapped by name; other amounts where no figure above tells them.
fn push_lines(comparison: &Comparison, say: Say, phrases: &mut Vec<String>) {
    let in_blocks = comparison
        .blocks
        .iter()
        .filter(|block| block.amounts_are_told && !block.is_other_block())
        .flat_map(|block| &block.lines);
    let total = comparison.total.iter().filter(|_| comparison.is_told_by_total);
    let lines: Vec<&LinePair> = total.chain(in_blocks).collect();
    for pair in &lines {
        let phrase = match (&pair.old, &pair.new) {
            (None, Some(new)) => format!("{} new", new.name),
            (Some(old), None) => format!("{} gone", old.name),
            (Some(old), Some(new)) if pair.changes.contains(&LineChange::Swapped) => {
                format!("{} instead of {}", new.name, old.name)
            }
            _ => continue,
        };
        if !phrases.contains(&phrase) {
            phrases.push(phrase);
        }
    }
    for pair in &lines {
        let (Some(old), Some(new)) = (&pair.old, &pair.new) else {
            continue;
        };
        let is_told = |name: &str| phrases.iter().any(|phrase| phrase.starts_with(name));
        let by_figure =
            new.name == "water" && is_told("hydration ") || new.name.ends_with("salt") && is_told("salt ");
        if pair.changes.contains(&LineChange::Amount) && !by_figure && !is_told(&format!("{} ", new.name)) {
            phrases.push(format!("{} {}", new.name, amounts(old, new, Detail::Brief, say)));
        }
    }
}

/// What became of a block; of one that stands alone nothing more is said.
fn push_block(block: &BlockPair, say: Say, phrases: &mut Vec<String>) {
    phrases.extend(block_phrase(block));
    let (Some(_), Some(title)) = (&block.old, &block.new) else {
        return;
    };
    phrases.extend(moved(&block.lines, Detail::Brief));
    phrases.extend(block.lines.iter().filter_map(|line| line_phrase(line, say)));
    phrases.extend(block.steps.iter().filter_map(|step| step_phrase(step, say)));
    if let Some((old, new)) = &block.on_a_piece {
        let way = arrow(&say.weight(old), &say.weight(new));
        phrases.push(format!("{title} {way} a piece"));
    }
}

/// What is said of a line besides its amount.
fn line_phrase(pair: &LinePair, say: Say) -> Option<String> {
    let (old, new) = pair.old.as_ref().zip(pair.new.as_ref())?;
    let changes = pair.changes.iter();
    let others = changes.filter(|change| matches!(change, LineChange::Preparation | LineChange::Warmth));
    let parts: Vec<String> = others
        .filter_map(|change| lines::part(change, old, new, Detail::Brief, say))
        .collect();
    (!parts.is_empty()).then(|| format!("{} {}", new.name, parts.join(", ")))
}

fn block_phrase(block: &BlockPair) -> Option<String> {
    match (&block.old, &block.new) {
        (None, Some(new)) => Some(format!("{new} new")),
        (Some(old), None) => Some(format!("{old} gone")),
        (Some(old), Some(new)) if old != new => Some(format!("{old} is called {new}")),
        _ => None,
    }
}

fn step_phrase(pair: &StepPair, say: Say) -> Option<String> {
    let (old, new) = match (&pair.old, &pair.new) {
        (Some(old), Some(new)) => (old, new),
        (None, Some(step)) => return Some(format!("“{}” new", step.words)),
        (Some(step), None) => return Some(format!("“{}” gone", step.words)),
        (None, None) => return None,
    };
    let parts: Vec<String> = pair
        .changes
        .iter()
        .filter(|change| !matches!(change, StepChange::Prose(_)))
        .map(|change| part(change, old, new, Detail::Brief, say))
        .collect();
    (!parts.is_empty()).then(|| format!("{} {}", new.words, parts.join(", ")))
}

fn push_rest(comparison: &Comparison, phrases: &mut Vec<String>) {
    phrases.extend(
        comparison
            .keys
            .iter()
            .map(|change| format!("{} changed", change.key)),
    );
    let is_prose = |line: &LinePair| {
        line.changes
            .iter()
            .any(|change| matches!(change, LineChange::Prose(_)))
    };
    let in_steps = |step: &StepPair| {
        step.changes
            .iter()
            .any(|change| matches!(change, StepChange::Prose(_)))
    };
    let blocks = &comparison.blocks;
    let instructions = blocks
        .iter()
        .flat_map(|block| &block.lines)
        .filter(|line| is_prose(line))
        .count()
        + blocks
            .iter()
            .flat_map(|block| &block.steps)
            .filter(|step| in_steps(step))
            .count();
    match instructions {
        0 => {}
        1 => phrases.push("an instruction reworded".to_owned()),
        many => phrases.push(format!("{many} instructions reworded")),
    }
    phrases.extend(
        comparison
            .prose
            .iter()
            .map(|change| format!("{} {}", change.of, reworded(&change.runs))),
    );
    for (what, parts) in [
        ("variation", &comparison.variations),
        ("bench record", &comparison.records),
    ] {
        phrases.extend(parts.iter().map(|part| {
            let fate = match part.change {
                PartChange::Added(_) => "new",
                PartChange::Gone(_) => "gone",
                PartChange::Changed(_) | PartChange::Reads(_) => "changed",
            };
            format!("{what} {} {fate}", part.name)
        }));
    }
}
