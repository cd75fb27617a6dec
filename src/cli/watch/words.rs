//! What is said of a round of work: one line.

use std::time::Duration;

use crate::cli::bench::Baked;
use crate::cli::pages::is_card;
use crate::cli::tally::counted;
use crate::disk::Written;

/// What a round has made.
#[derive(Default)]
pub(super) struct Round {
    recipes: usize,
    name: String,
    cards: usize,
    pages: usize,
    same: usize,
    kept: usize,
}

impl Round {
    /// Counts what was made of a recipe.
    pub(super) fn take(&mut self, baked: &Baked) {
        self.recipes += 1;
        self.kept += usize::from(baked.written.is_empty());
        for (page, written) in &baked.written {
            match (written, is_card(page)) {
                (Written::Same, true) => self.same += 1,
                (Written::Same, false) => {}
                (Written::New | Written::Changed, true) => self.cards += 1,
                (Written::New | Written::Changed, false) => self.pages += 1,
            }
        }
    }

    /// Notes what a recipe is called.
    pub(super) fn name(&mut self, name: &str) {
        name.clone_into(&mut self.name);
    }

    /// Says the round in one line: `rye.loaf: 1 card in 4 ms`.
    pub(super) fn words(&self, time: Duration) -> String {
        let what = if self.recipes == 1 {
            self.name.clone()
        } else {
            counted(self.recipes, "recipe")
        };
        let mut parts = Vec::new();
        if self.cards > 0 {
            parts.push(counted(self.cards, "card"));
        } else if self.pages > 0 {
            // A page for readers changes with those beside it too.
            parts.push(counted(self.pages, "page"));
        }
        if self.same > 0 {
            parts.push(format!("{} as before", self.same));
        }
        if self.kept > 0 {
            parts.push(format!("{} kept for a fault", self.kept));
        }
        format!("{what}: {} in {} ms\n", parts.join(", "), time.as_millis())
    }
}
