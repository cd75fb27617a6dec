//! The whole bread and the blocks, each with its rows.

use super::lines::{Amounts, how_much, view_lines};
use super::say::{Say, arrow, runs};
use super::steps::view_steps;
use super::{Kind, Section, told_row};
use crate::compare::{BlockPair, Comparison, LinePair};

pub(super) fn view_sections(comparison: &Comparison, say: Say) -> Vec<Section> {
    let mut sections = Vec::new();
    if comparison.is_told_by_total {
        sections.push(Section {
            title: "the whole bread".to_owned(),
            old_title: None,
            new_title: None,
            kind: Kind::Same,
            told: None,
            rows: view_lines(&comparison.total, LinePair::is_changed, Amounts::Here, say),
        });
    }
    sections.extend(comparison.blocks.iter().map(|block| view_block(block, say)));
    sections
}

fn view_block(block: &BlockPair, say: Say) -> Section {
    let is_alone = block.old.is_none() || block.new.is_none();
    let tells = |line: &LinePair| !is_alone && block.tells(line);
    let amounts = if block.amounts_are_told {
        Amounts::Here
    } else {
        Amounts::Elsewhere
    };
    let mut rows = view_lines(&block.lines, tells, amounts, say);
    rows.extend(view_steps(&block.steps, !is_alone, say));
    rows.extend(block.remarks.as_ref().map(|words| super::Row {
        runs: runs(words),
        ..told_row("remark", Kind::Changed, "the remarks read otherwise".to_owned())
    }));
    let amounts = [
        ("kept for the next time", &block.kept),
        ("on each piece", &block.on_a_piece),
    ];
    for (what, (old, new)) in amounts
        .into_iter()
        .filter_map(|(what, pair)| Some((what, pair.as_ref()?)))
    {
        let told = format!("{what}: {}", arrow(&say.weight(old), &say.weight(new)));
        rows.push(told_row("whole", Kind::Changed, told));
    }
    let (kind, told) = match (&block.old, &block.new) {
        (Some(old), Some(new)) if old != new => (Kind::Renamed, Some(format!("{old} is called {new} now"))),
        (None, Some(_)) => (Kind::Added, Some(alone(block, say))),
        (Some(_), None) => (Kind::Gone, Some(alone(block, say))),
        _ => (Kind::Same, None),
    };
    Section {
        title: block
            .new
            .as_ref()
            .or(block.old.as_ref())
            .cloned()
            .unwrap_or_default(),
        old_title: block.old.clone(),
        new_title: block.new.clone(),
        kind,
        told,
        rows,
    }
}

/// Says what a block that stands alone holds: `bread flour 100 % (100 g), water 100 % (100 g)`.
fn alone(block: &BlockPair, say: Say) -> String {
    let lines = block
        .lines
        .iter()
        .filter_map(|pair| pair.new.as_ref().or(pair.old.as_ref()));
    let told: Vec<String> = lines
        .map(|line| {
            format!("{} {}", line.name, how_much(line, say))
                .trim_end()
                .to_owned()
        })
        .collect();
    told.join(", ")
}
