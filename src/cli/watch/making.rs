//! The making itself: pages of recipes whose turn it is, what can wait, and what is told of it.
#![expect(clippy::disallowed_methods, reason = "this asks whether a folder was named")]

use std::path::PathBuf;
use std::time::Instant;

use rayon::iter::{IntoParallelIterator as _, ParallelIterator as _};

use super::book::Turn;
use super::edition::{Edition, path_of};
use super::words::Round;
use super::{Watch, now};
use crate::cli::Exit;
use crate::cli::bench::{Baked, Prepared};
use crate::cli::build::{AT_ONCE, INDEX};
use crate::cli::shelf::Beside;
use crate::cli::tally::counted;
use crate::cli::ui::Ui;
use crate::watch::{News, Sight};

impl Watch<'_, '_> {
    /// Makes pages again, and tells of them.
    pub(super) fn bake(&mut self, edition: &Edition, turns: Vec<Turn>, start: Instant) {
        if turns.is_empty() {
            return;
        }
        let mut round = Round::default();
        let count = turns.len();
        let mut left = turns.into_iter();
        let mut waiting = self.prepare(edition, &mut left);
        while !waiting.is_empty() && self.stop.is_none() {
            // A page names the one after it, which may be among the next ones.
            let next = self.prepare(edition, &mut left);
            let bake = |(turn, prepared): (Turn, Prepared<'_>), beside: Beside| {
                let baked = edition.bench.bake(&prepared, &beside);
                (turn, beside, baked)
            };
            let placed: Vec<_> = waiting
                .into_iter()
                .map(|one| (self.book.beside(one.0.place), one))
                .map(|(beside, one)| (one, beside))
                .collect();
            let baked: Vec<_> = if placed.len() == 1 {
                // One is made where it is: the other threads would have to be woken.
                placed
                    .into_iter()
                    .map(|(one, beside)| bake(one, beside))
                    .collect()
            } else {
                placed
                    .into_par_iter()
                    .map(|(one, beside)| bake(one, beside))
                    .collect()
            };
            for (turn, beside, one) in baked {
                if one.exit == Exit::Unable && edition.bench.has_failed_template() {
                    // No other page will fare better.
                    self.bad_look = Some((self.look, one.told));
                    self.say_of_places(edition);
                    return;
                }
                self.take(edition, turn, beside, one, &mut round);
            }
            waiting = next;
            if !waiting.is_empty() {
                let done = count - left.len() - waiting.len();
                self.ui
                    .progress(&format!("{done} of {}", counted(count, "recipe")));
                self.hear();
            }
        }
        self.live.tick();
        self.ui.talk(&round.words(start.elapsed()));
        self.patience.built(now());
    }

    /// Works out the next recipes, so that their pages are known.
    fn prepare<'run>(
        &mut self,
        edition: &Edition<'run>,
        turns: &mut impl Iterator<Item = Turn>,
    ) -> Vec<(Turn, Prepared<'run>)> {
        let sources = edition.sources;
        let prepare = |turn: Turn| Some((edition.bench.prepare(sources.recipes.get(turn.place)?), turn));
        let turns: Vec<Turn> = turns.take(AT_ONCE).collect();
        let prepared: Vec<_> = if turns.len() == 1 {
            turns.into_iter().filter_map(prepare).collect()
        } else {
            turns.into_par_iter().filter_map(prepare).collect()
        };
        let mut ready = Vec::with_capacity(prepared.len());
        for (prepared, turn) in prepared {
            if prepared.may_be_back()
                && let Some(path) = sources.recipes.get(turn.place).and_then(path_of)
                && !path.is_symlink()
            {
                // Between the look at the file and its reading an editor took it away, as a part of saving. Whether
                // it stays away is seen when it has had its time.
                self.patience.note(Sight::Gone(path), now());
                continue;
            }
            self.book.note_link(turn.place, prepared.page.as_ref());
            ready.push((turn, prepared));
        }
        ready
    }

    fn take(&mut self, edition: &Edition, turn: Turn, beside: Beside, baked: Baked, round: &mut Round) {
        round.take(&baked);
        let Some(recipe) = edition.sources.recipes.get(turn.place) else {
            return;
        };
        let Some(taken) = self.book.take(edition, turn, beside, baked) else {
            return;
        };
        round.name(&taken.card.name);
        if taken.is_news {
            self.ui.talk(&taken.card.told);
        }
        if !taken.dropped.is_empty() {
            self.out.forget(&taken.path, &taken.dropped);
            for page in &taken.dropped {
                self.live.is_gone(page, None);
            }
        }
        let look = self.bad_look.as_ref().map_or("", |(_, why)| why);
        let news = taken.card.news(edition.house_faults(recipe), look);
        for page in &taken.card.pages {
            self.live.is_there(page);
            self.live.tell(page, news.clone());
        }
    }

    /// Tells all pages again what there is to say of them.
    pub(super) fn tell_again(&self, edition: &Edition) {
        let look = self.bad_look.as_ref().map_or("", |(_, why)| why);
        for recipe in &edition.sources.recipes {
            let Some(card) = self.book.card(recipe) else {
                continue;
            };
            let news = card.news(edition.house_faults(recipe), look);
            for page in &card.pages {
                self.live.tell(page, news.clone());
            }
        }
        self.live.tick();
    }

    /// Lets go of recipes that are no longer there.
    pub(super) fn let_go(&mut self, edition: &Edition, new: &[PathBuf]) {
        for path in self.book.gone(edition) {
            let Some((card, heirs)) = self.book.remove(&path, new) else {
                continue;
            };
            self.out.forget(&path, &card.pages);
            let heir = heirs
                .first()
                .map_or_else(String::new, |heir| format!(", and now makes {heir}"));
            self.ui.talk(&format!("{}: gone{heir}\n", card.name));
            for (turn, page) in card.pages.iter().enumerate() {
                self.live
                    .is_gone(page, heirs.get(turn).or(heirs.first()).cloned());
            }
            self.patience.built(now());
        }
    }

    /// Does what can wait: the page of the folder, the list of files, and what has gone.
    pub(super) fn settle(&mut self, edition: &Edition) {
        self.patience.settled();
        if std::mem::take(&mut self.book.has_new_links) {
            let displaced = self.book.displaced(edition);
            self.bake(edition, displaced, now());
            self.patience.settled();
        }
        let faults = [Ui::plain(&self.said), self.book.faults()].concat();
        let news = News {
            faults,
            is_kept: true,
        };
        // What there is to say stands before anybody is told to ask; who asked earlier would not ask again.
        if self.live.tell(INDEX, (!news.faults.is_empty()).then_some(news)) {
            self.live.tick();
        }
        let mut outcome = Ok(());
        if std::mem::take(&mut self.book.has_new_rows) && self.paths.iter().all(|path| path.is_dir()) {
            outcome = self.write_pages_of_folder(edition);
            self.live.tick();
        }
        if std::mem::take(&mut self.book.has_new_files) {
            let finished = self.out.finish().map(|_| ()).map_err(|error| error.to_string());
            outcome = outcome.and(finished);
            self.live.tick();
        }
        if let Err(why) = outcome {
            // It is done again with the next change.
            self.book.has_new_rows = true;
            self.book.has_new_files = true;
            self.ui.talk(&format!("error: {why}\n"));
        }
    }

    fn write_pages_of_folder(&self, edition: &Edition) -> std::result::Result<(), String> {
        let contents = self.book.contents(edition);
        let pages = contents.pages(&self.renderer, self.cards.site_url.as_ref());
        for (name, page) in pages.map_err(|error| error.to_string())? {
            let written = self.out.write(name, None, page.as_bytes());
            written.map_err(|error| error.to_string())?;
        }
        Ok(())
    }
}
