//! The checks: what can be wrong with a recipe whose every line could be read.
//!
//! Owns their order. Each stands in a file of its own, which says what it is and why it spoils bread.

mod odd_step;
mod odd_temperature;
mod out_of_reach;
mod prose_looks_like_entry;
mod stage_round;
mod stage_unused;

pub(super) use odd_temperature::expect as expect_degrees;

use std::collections::BTreeSet;

use super::lower::page::Page;
use super::lower::{Findings, Scene};
use super::recipe::{BlockId, Known, Recipe};
use crate::diag::Report;

/// What a check of a recipe sees.
struct Subject<'a> {
    /// The recipe; parts at fault are missing from it.
    recipe: &'a Recipe,
    /// Whether some line could not be read, so that what it might have said is not known.
    damaged: bool,
    /// Stages that a faulty line may have meant.
    suspected: &'a BTreeSet<BlockId>,
}

/// Looks at a recipe and adds what it finds.
type Check = fn(&Subject<'_>, &mut Report);

/// Every check of a recipe, in the order in which they look at it; a variation goes through them too.
const CHECKS: &[Check] = &[
    stage_round::check,
    stage_unused::check,
    odd_step::check,
    odd_temperature::check,
    out_of_reach::check,
];

/// Runs the checks of a recipe.
pub(super) fn check_recipe(recipe: &Recipe, damaged: bool, findings: &mut Findings) {
    let subject = Subject {
        recipe,
        damaged,
        suspected: &findings.suspected,
    };
    let mut found = Report::new();
    for check in CHECKS {
        check(&subject, &mut found);
    }
    // The one error among them is a round of stages, none of which can be weighed.
    if found.has_errors() {
        findings.doubts.only(Known::Flours);
    }
    findings.report.merge(found);
}

/// Runs the checks of the page itself, once for the recipe and all its variations.
pub(super) fn check_page(page: &Page<'_>, scene: &Scene<'_>, findings: &mut Findings) {
    prose_looks_like_entry::check(page, scene, &mut findings.report);
}
