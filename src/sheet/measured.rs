//! Bench records against the sheet: a loaf that cannot be of this dough.
//!
//! Knows weights alone; what a thermometer or a clock can show is told without a sheet.

use super::Pieces;
use super::faults::grams;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Reading, Record};
use crate::quantity::Ratio;

/// What a baked piece is called in a record, where one of them was weighed.
pub(super) fn is_a_piece(of: &str) -> bool {
    matches!(of, "loaf" | "roll" | "piece" | "bread")
}

/// Warns of loaves that weigh more than what went into the oven.
///
/// The pieces are those that the recipe itself asks for: records are of no other size.
#[must_use]
pub fn check_records(records: &[Record], pieces: &Pieces) -> Report {
    let mut report = Report::new();
    let whole = &pieces.dough.0 + &pieces.extras.0;
    if whole.is_zero() {
        return report;
    }
    for (reading, of) in records.iter().flat_map(|record| &record.readings) {
        let Reading::Weight(loaf) = &reading.value else {
            continue;
        };
        if !is_a_piece(of) || loaf.0 <= &whole * &most() {
            continue;
        }
        report.push(
            Diagnostic::new(
                Code::LikelySlip,
                reading.span,
                format!("a {of} of {} is more than went into the oven", grams(&loaf.0)),
            )
            .label(format!("a piece is scaled at {}", grams(&whole)))
            .help("look at the number and its unit; a record is of one piece"),
        );
    }
    report
}

/// What scales and hands may be off, as a share of what was scaled; common practice, no source.
fn most() -> Ratio {
    Ratio::fraction(102, 100).unwrap_or(Ratio::ONE)
}
