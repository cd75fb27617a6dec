//! `step-order`: an ingredient behind the step that should have taken it in.
//!
//! The order on the page is the order at the bench, and an ingredient goes in at the step that follows it.
//! Salt below the last step goes in nowhere, and butter below `bake` meets a finished loaf: both are lines
//! that slipped down the page.

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Amount, Block, BlockKind, Entry, Line};
use crate::model::verbs::Purpose;

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    for block in &subject.recipe.blocks {
        check_block(block, report);
    }
}

fn check_block(block: &Block, report: &mut Report) {
    let mut steps = block.entries.iter();
    let Some(last_step) = steps.rposition(|entry| matches!(entry, Entry::Step(_))) else {
        return;
    };
    let is_on_top = matches!(block.kind, BlockKind::Filling | BlockKind::Topping);
    let mut is_baked = false;
    for (place, entry) in block.entries.iter().enumerate() {
        match entry {
            Entry::Step(step) => is_baked |= step.verb.is_some_and(|verb| verb.purpose == Purpose::Bake),
            Entry::Line(line) if line.amount.value == Amount::Some => {}
            Entry::Line(line) if place > last_step => report.push(goes_in_nowhere(line)),
            Entry::Line(line) if is_baked && !is_on_top => report.push(comes_too_late(line)),
            Entry::Line(_) | Entry::Note(_) => {}
        }
    }
}

fn goes_in_nowhere(line: &Line) -> Diagnostic {
    let message = format!("no step follows {}, so it goes in at none", line.name.value);
    Diagnostic::new(Code::StepOrder, line.span, message).help("move the line above the step that takes it in")
}

fn comes_too_late(line: &Line) -> Diagnostic {
    let message = format!("{} comes after the bake", line.name.value);
    Diagnostic::new(Code::StepOrder, line.span, message)
        .help("move it above the step that takes it in; what goes on the baked loaf is a `topping`")
}
