//! What else is wrong with a recipe that has an error already.
//!
//! Owns what may still be said: only what holds whatever the line at fault turns out to mean. Makes no sheet.

use super::compute::{compute, weigh};
use super::forms;
use super::types::Request;
use crate::diag::{Code, Report};
use crate::model::recipe::{Doubts, Known, Recipe};

/// Finds the faults of a recipe with an error that do not follow from it, so that one run tells them all.
#[must_use]
pub fn further_faults(recipe: &Recipe, doubts: &Doubts) -> Report {
    let mut report = Report::new();
    let found = match doubts.known {
        Known::Flours => {
            forms::check_flours(recipe, &doubts.flours, &mut report);
            return report;
        }
        Known::Weights => weigh(recipe),
        Known::Bread => compute(recipe, &Request::default()).1,
    };
    let told = found.into_faults().into_iter();
    report.extend(told.filter(|fault| !may_follow(fault.code, doubts)));
    report
}

/// Says whether a fault may be there only because a key was not understood.
const fn may_follow(code: Code, doubts: &Doubts) -> bool {
    match code {
        Code::SizeOpen | Code::TinDoesNotSize | Code::TinFit => doubts.sizes,
        Code::SizesDisagree | Code::SizesDiffer => doubts.pieces,
        _ => false,
    }
}
