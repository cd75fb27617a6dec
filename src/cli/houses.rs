//! The bakehouse files that hold for recipes: read once, settled once a chain, and told of once.

use std::sync::Arc;

use super::sources::grave;
use super::tally::Tally;
use super::ui::Ui;
use crate::diag::{Diagnostic, Severity};
use crate::disk::{BAKEHOUSE, DiskError, Found, LoafFile};
use crate::pipeline::{self, Bakehouse};
use crate::source::{Source, SourceId};
use crate::syntax::{self, MOST_BYTES};

/// All bakehouse files of a run.
pub(super) struct Houses {
    /// The files that could be read.
    pub(super) files: Vec<House>,
    found: Vec<LoafFile>,
    chains: Vec<Chain>,
}

/// A bakehouse file.
pub(super) struct House {
    /// Its text; the number of the source is one above the file's place, since 0 is the recipe.
    pub(super) source: Source,
    /// What is wrong in it.
    pub(super) faults: Vec<Diagnostic>,
}

/// The files that hold for a folder, nearest first.
struct Chain {
    settled: Bakehouse,
    /// Whether what they settle can be trusted: all were read, and none has an error.
    is_sound: bool,
}

impl Houses {
    /// Reads the files and settles each chain. A file's text may be given instead, by its name; that file need
    /// not be there. Gives what could not be read beside them.
    pub(super) fn read(found: &Found, instead: Option<(&String, &Vec<u8>)>) -> (Self, Vec<DiskError>) {
        let mut unread = Vec::new();
        let mut files: Vec<Option<House>> = Vec::new();
        for (place, file) in found.bakehouses.iter().enumerate() {
            let given = instead.filter(|(name, _)| **name == file.name);
            let bytes = given.map_or_else(|| file.read(MOST_BYTES), |(_, text)| Ok(text.clone()));
            files.push(match bytes {
                Ok(bytes) => Some(House::of(place, &file.name, &bytes)),
                Err(error) => {
                    unread.push(error);
                    None
                }
            });
        }
        let mut chains = found.chains.clone();
        let is_new = |name: &String| found.bakehouses.iter().all(|file| file.name != *name);
        if let Some((name, text)) = instead.filter(|(name, _)| is_new(name)) {
            chains.push(vec![files.len()]);
            files.push(Some(House::of(files.len(), name, text)));
        }
        if chains.is_empty() {
            chains.push(Vec::new());
        }
        let mut chains: Vec<Chain> = chains
            .iter()
            .map(|chain| Chain::of(found, &files, chain))
            .collect();
        let mut files: Vec<House> = files.into_iter().flatten().collect();
        for chain in &mut chains {
            chain.tell(&mut files);
        }
        let houses = Self {
            files,
            found: found.bakehouses.clone(),
            chains,
        };
        (houses, unread)
    }

    /// Gives what a chain settles, and whether it can be trusted.
    pub(super) fn of_chain(&self, chain: usize) -> Option<(&Bakehouse, bool)> {
        self.chains
            .get(chain)
            .map(|chain| (&chain.settled, chain.is_sound))
    }

    /// Gives the file of a bakehouse.
    pub(super) fn file(&self, house: &Source) -> Option<&LoafFile> {
        let place = usize::try_from(house.id.0).ok()?.checked_sub(1)?;
        self.found.get(place)
    }

    /// Shows errors and warnings, and counts all that is wrong.
    pub(super) fn tell(&self, ui: &mut Ui) -> Tally {
        self.files.iter().fold(Tally::default(), |tally, house| {
            ui.talk(&house.grave_faults());
            tally.plus(Tally::of(&house.faults))
        })
    }

    /// Shows errors and warnings of the files of a chain.
    pub(super) fn grave_faults(&self, chain: usize) -> String {
        let settled = self.of_chain(chain).map(|(settled, _)| settled);
        let sources = settled.into_iter().flat_map(|settled| &settled.sources);
        sources
            .filter_map(|source| self.files.iter().find(|house| house.source.id == source.id))
            .map(House::grave_faults)
            .collect()
    }
}

impl House {
    fn of(place: usize, name: &str, bytes: &[u8]) -> Self {
        let id = SourceId(u32::try_from(place).unwrap_or(u32::MAX - 1) + 1);
        let (source, report) = syntax::decode(id, name, bytes);
        Self {
            source,
            faults: report.settled().into_faults(),
        }
    }

    /// Shows its errors and warnings.
    pub(super) fn grave_faults(&self) -> String {
        grave(std::slice::from_ref(&self.source), self.faults.iter())
    }

    fn is_sound(&self) -> bool {
        let is_error = |fault: &Diagnostic| fault.severity == Severity::Error;
        !self.faults.iter().any(is_error)
    }
}

impl Chain {
    fn of(found: &Found, files: &[Option<House>], places: &[usize]) -> Self {
        let read: Vec<&House> = places
            .iter()
            .filter_map(|place| files.get(*place)?.as_ref())
            .collect();
        let mut settled = pipeline::bakehouse(read.iter().map(|house| house.source.clone()).collect());
        // A card names the files as they lie around it, so that it says the same wherever it was made from.
        if let Some(place) = Arc::get_mut(&mut settled.place) {
            place.files = names(found, places);
        }
        Self {
            settled,
            is_sound: read.len() == places.len() && read.iter().all(|house| house.is_sound()),
        }
    }

    /// Notes what is wrong in the files, once for all chains that they are part of.
    fn tell(&mut self, files: &mut [House]) {
        for fault in self.settled.report.iter() {
            let id = fault.primary.span.source;
            if let Some(house) = files.iter_mut().find(|house| house.source.id == id)
                && !house.faults.contains(fault)
            {
                house.faults.push(fault.clone());
            }
        }
        self.is_sound &= !self.settled.report.has_errors();
    }
}

/// Names files as seen from the nearest one: `bakehouse.loaf`, `../bakehouse.loaf`.
fn names(found: &Found, places: &[usize]) -> Vec<String> {
    let depth = |place: &usize| {
        found
            .bakehouses
            .get(*place)
            .map_or(0, |file| file.path.components().count())
    };
    let nearest = places.first().map_or(0, depth);
    places
        .iter()
        .map(|place| "../".repeat(nearest.saturating_sub(depth(place))) + BAKEHOUSE)
        .collect()
}
