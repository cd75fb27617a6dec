//! The nearest names of the ingredient table, for names that are not in it.
//!
//! Owns how often a file may ask: a list of nothing but unknown names must not take long, and nobody reads
//! more suggestions. The answers are kept, since every variation asks for the same names again.

use std::cell::{Cell, OnceCell, RefCell};
use std::collections::BTreeMap;

use crate::diag::nearest_name;
use crate::model::catalog::Catalog;

/// How many unknown names of a file are compared with all known ones.
const SEARCHES: u32 = 100;

/// What has been asked for one file.
#[derive(Debug, Default)]
pub(super) struct Near {
    searches: Cell<u32>,
    known: OnceCell<Vec<String>>,
    answers: RefCell<BTreeMap<String, Option<String>>>,
}

impl Near {
    /// Says whether a nearest name may still be looked for, and counts it.
    pub(super) fn may_search(&self) -> bool {
        let searches = self.searches.get();
        self.searches.set(searches.saturating_add(1));
        searches < SEARCHES
    }

    /// Finds the name of the ingredient table that is nearest to a word.
    pub(super) fn ingredient(&self, catalog: &Catalog, name: &str) -> Option<String> {
        if let Some(answer) = self.answers.borrow().get(name) {
            return answer.clone();
        }
        if !self.may_search() {
            return None;
        }
        let known = self
            .known
            .get_or_init(|| catalog.offers().into_iter().map(str::to_owned).collect());
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        let answer = nearest_name(name, &known).map(str::to_owned);
        self.answers.borrow_mut().insert(name.to_owned(), answer.clone());
        answer
    }
}
