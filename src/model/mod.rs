//! Tree to recipe: checked meaning.
//!
//! Owns what words mean: ingredients, stages, verbs, places, keys. Knows no weights that have to be worked
//! out; that is the business of the sheet.

pub mod catalog;
pub mod place;
pub mod recipe;
pub mod verbs;

mod checks;
mod lower;

pub use lower::tins::tin_of;
pub use lower::values::makes_of;

use std::sync::Arc;

use crate::source::Source;
use crate::syntax::tree::Tree;
use lower::page::Page;
use lower::{Findings, Scene};
use lower::{records, variations};
use place::Place;
use recipe::{Checked, Faulty};

/// Checks a tree: gives the recipe that it means, and everything that is wrong with it.
///
/// The report holds only what is found here; what the parser found is in its own. A recipe with a line that
/// the parser could not read does not come back, since it can be trusted as little as one with an error.
#[must_use]
pub fn check(tree: &Tree, source: &Source, place: &Arc<Place>) -> Checked {
    let page = Page::of(tree);
    let scene = Scene::of(&page.draft, source, place);
    let mut findings = Findings::default();
    let recipe = lower::lower_recipe(&page.draft, &page, &scene, &mut findings);
    checks::check_recipe(&recipe, page.damaged, &mut findings);
    checks::check_page(&page, &scene, &mut findings);
    let is_sound = page.is_whole() && !findings.report.has_errors();
    let doubts = std::mem::take(&mut findings.doubts);
    let records = records::lower_records(&page, &scene, &recipe, &mut findings);
    let (variations, variations_at_fault) =
        variations::lower_variations(&page, &scene, &recipe, &mut findings);
    let (recipe, faulty) = if is_sound {
        (Some(recipe), None)
    } else {
        let faulty = Faulty {
            recipe,
            variation: None,
            doubts,
        };
        (None, Some(faulty))
    };
    Checked {
        recipe,
        variations,
        faulty: faulty.into_iter().chain(variations_at_fault).collect(),
        records,
        report: findings.report,
    }
}
