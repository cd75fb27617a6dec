//! How many lines, steps, stages and variations a file has, against the limits.

use super::limits;
use super::tree::{BlockKind, EntryKind};
use crate::diag::{Code, Diagnostic, Report};
use crate::source::Span;

/// The running counts of one file.
pub(crate) struct Counts {
    formula_lines: usize,
    steps: usize,
    stages: usize,
    variations: usize,
    ingredients: usize,
}

impl Counts {
    /// Starts at nothing.
    pub(crate) const fn new() -> Self {
        Self {
            formula_lines: 0,
            steps: 0,
            stages: 0,
            variations: 0,
            ingredients: 0,
        }
    }

    /// Counts a block; the first one past the limit is reported.
    pub(crate) fn block(&mut self, kind: BlockKind, span: Span, report: &mut Report) {
        match kind {
            BlockKind::Variation => {
                // Each variation is a recipe of its own, so that its lines are counted apart.
                (self.formula_lines, self.steps) = (0, 0);
                count(
                    &mut self.variations,
                    limits::VARIATIONS,
                    "variations in one file",
                    span,
                    report,
                );
            }
            BlockKind::Ingredient => {
                count(
                    &mut self.ingredients,
                    limits::INGREDIENTS,
                    "ingredients in one bakehouse",
                    span,
                    report,
                );
            }
            BlockKind::About | BlockKind::Notes | BlockKind::Bake => {}
            _ => {
                count(
                    &mut self.stages,
                    limits::STAGES,
                    "stages in one recipe",
                    span,
                    report,
                );
            }
        }
    }

    /// Counts an entry and says whether it is within the limits; the first one past them is reported.
    pub(crate) fn entry(&mut self, kind: &EntryKind, span: Span, report: &mut Report) -> bool {
        match kind {
            EntryKind::Formula(_) => count(
                &mut self.formula_lines,
                limits::FORMULA_LINES,
                "formula lines",
                span,
                report,
            ),
            EntryKind::Step(_) => count(&mut self.steps, limits::STEPS, "steps", span, report),
            _ => true,
        }
    }
}

fn count(held: &mut usize, limit: usize, what: &str, span: Span, report: &mut Report) -> bool {
    *held += 1;
    if *held == limit + 1 {
        report.push(
            Diagnostic::new(Code::TooMany, span, format!("more than {limit} {what}"))
                .label("the first one past the limit")
                .help("split the file; what stands below is not read"),
        );
    }
    *held <= limit
}
