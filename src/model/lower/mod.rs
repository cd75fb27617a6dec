//! The lowering: the parts of a page become the parts of a recipe, one file for each section of the language.
//!
//! ```text
//! page ── keys and blocks sorted           names ── what blocks are called
//! keys ── title, makes, tin …              resolve ── what a word on a line means
//! blocks ── one block after another        lines, measures, steps, temperatures ── its entries
//! pouring ── which step awaits a filling   variations, edits ── another page, lowered again
//! records ── what was measured on a day
//! ```
//!
//! Every function adds what it finds to [`Findings`] and goes on, so that one run tells everything.

mod blocks;
mod doubts;
mod edits;
mod keys;
mod lines;
mod locate;
mod measures;
mod misses;
mod mixtures;
pub(super) mod names;
mod near;
pub(super) mod page;
pub(super) mod pouring;
pub(super) mod preparations;
mod qualifiers;
mod readings;
pub(super) mod records;
pub(super) mod resolve;
mod roster;
mod splice;
mod steps;
mod temperatures;
pub(super) mod tins;
mod unknown;
pub(super) mod values;
pub(super) mod variations;
mod words;

use std::collections::BTreeSet;
use std::rc::Rc;
use std::sync::Arc;

use names::Names;
use near::Near;
use page::{Draft, Page};

use super::place::Place;
use super::recipe::{BlockId, Doubts, Known, Recipe};
use crate::diag::{Diagnostic, Report, Severity};
use crate::source::Source;

/// What the whole lowering of one draft reads.
pub(super) struct Scene<'a> {
    /// The text, for words that the tree holds only as a place.
    pub(super) source: &'a Source,
    /// The bakehouse.
    pub(super) place: &'a Arc<Place>,
    /// The names of the blocks.
    pub(super) names: Names,
    /// Nearest names; variations share them with the recipe.
    near: Rc<Near>,
}

/// What a lowering finds as it goes.
#[derive(Debug, Default)]
pub(super) struct Findings {
    /// The faults.
    pub(super) report: Report,
    /// Stages that a faulty line may have meant, so that nobody says that they are never used.
    pub(super) suspected: BTreeSet<BlockId>,
    /// What the errors leave unknown.
    pub(super) doubts: Doubts,
}

impl Findings {
    /// Adds a fault.
    pub(super) fn push(&mut self, fault: Diagnostic) {
        self.report.push(fault);
    }

    /// Says whether an error has been found since there were so many faults.
    fn has_errors_since(&self, faults: usize) -> bool {
        let mut since = self.report.iter().skip(faults);
        since.any(|fault| fault.severity == Severity::Error)
    }
}

impl<'a> Scene<'a> {
    /// Sets the scene for a draft.
    pub(super) fn of(draft: &Draft<'_>, source: &'a Source, place: &'a Arc<Place>) -> Self {
        Self {
            source,
            place,
            names: Names::of(&draft.blocks, source),
            near: Rc::default(),
        }
    }

    /// Sets the scene for a draft that a variation has changed.
    pub(super) fn changed(&self, draft: &Draft<'_>) -> Self {
        Self {
            near: Rc::clone(&self.near),
            ..Self::of(draft, self.source, self.place)
        }
    }

    /// Finds the name of the ingredient table that is nearest to a word.
    pub(super) fn near_ingredient(&self, name: &str) -> Option<String> {
        self.near.ingredient(&self.place.catalog, name)
    }
}

/// Lowers the keys and blocks of a draft.
///
/// What comes back has every part that could be made, so that the checks see as much as possible; it can be
/// trusted only where no error was found.
pub(super) fn lower_recipe(
    draft: &Draft<'_>,
    page: &Page<'_>,
    scene: &Scene<'_>,
    findings: &mut Findings,
) -> Recipe {
    let keys = keys::lower_keys(&draft.keys, page, scene, findings);
    let before = findings.report.len();
    let main = roster::check_roster(draft, page, scene, findings);
    // A line at the head that could not be read may have been any key or header.
    if page.damaged || findings.has_errors_since(before) {
        findings.doubts.only(Known::Flours);
    }
    let mut blocks = blocks::lower_blocks(draft, scene, findings);
    pouring::settle_uses(&mut blocks, main);
    if page.damaged {
        // Among what was not read may be what a name is.
        let unlisted = blocks.iter().filter(|block| doubts::has_unlisted(block));
        findings.doubts.flours.extend(unlisted.map(|block| block.id));
    }
    let (about, notes) = blocks::lower_prose(page, findings);
    Recipe {
        title: keys.title,
        makes: keys.makes,
        flour: keys.flour,
        tin: keys.tin,
        details: keys.details,
        about,
        notes,
        blocks,
        main,
        place: Arc::clone(scene.place),
    }
}
