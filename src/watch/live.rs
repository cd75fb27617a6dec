//! What open pages are told: that something changed, and what is wrong with the recipe that they show.
//!
//! A page asks for its news by its name and compares; so it does no harm when it has slept through ten changes, and
//! a page that was opened on an earlier run of the program finds its way again.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use tokio::sync::watch::{Receiver, Sender};

use crate::render::news::{PageNews, render_news};

/// Names of pages that went which are remembered: more than anybody has open.
const MOST_GONE: usize = 1000;

/// What there is to say of a page besides what it shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct News {
    /// The faults as the terminal shows them, without colour.
    pub faults: String,
    /// Whether they keep a card from being made, so that the page shows the last good one.
    pub is_kept: bool,
}

/// What all open pages are told.
#[derive(Debug)]
pub struct Live {
    state: Mutex<State>,
    ticks: Sender<u64>,
}

#[derive(Debug, Default)]
struct State {
    news: BTreeMap<String, News>,
    /// Pages that are no more, with the page that took the place where there is one.
    gone: BTreeMap<String, Option<String>>,
}

impl Default for Live {
    fn default() -> Self {
        Self {
            state: Mutex::default(),
            ticks: Sender::new(0),
        }
    }
}

impl Live {
    /// Notes what there is to say of a page; nothing takes back what was said before. Says whether that is something
    /// else than before.
    pub fn tell(&self, page: &str, news: Option<News>) -> bool {
        let mut state = self.state();
        let is_new = state.news.get(page) != news.as_ref();
        match news {
            Some(news) => state.news.insert(page.to_owned(), news),
            None => state.news.remove(page),
        };
        is_new
    }

    /// Notes that a page is there.
    pub fn is_there(&self, page: &str) {
        self.state().gone.remove(page);
    }

    /// Notes that all pages are there that were said to be gone.
    pub fn all_are_there(&self) {
        self.state().gone.clear();
        self.tick();
    }

    /// Notes that a page is no more, and which one took its place.
    pub fn is_gone(&self, page: &str, moved: Option<String>) {
        let mut state = self.state();
        state.news.remove(page);
        if state.gone.len() >= MOST_GONE {
            state.gone.pop_first();
        }
        state.gone.insert(page.to_owned(), moved);
    }

    /// Has every open page ask for its news.
    pub fn tick(&self) {
        self.ticks.send_modify(|count| *count += 1);
    }

    /// Gives the place where ticks are heard.
    pub(super) fn ticks(&self) -> Receiver<u64> {
        self.ticks.subscribe()
    }

    /// Says whether there is anything to say of a page that was never made.
    pub(super) fn is_awaited(&self, page: &str) -> bool {
        self.state().news.contains_key(page)
    }

    /// Gives the news of a page as JSON; the versions tell one content of the page, and of the pictures beside it,
    /// from another.
    pub(super) fn news(&self, page: &str, version: Option<&str>, pictures: Option<&str>) -> String {
        let state = self.state();
        let news = state.news.get(page).cloned().unwrap_or_default();
        let gone = state.gone.get(page);
        render_news(&PageNews {
            version,
            pictures,
            faults: &news.faults,
            kept: news.is_kept,
            gone: gone.is_some(),
            moved: gone.and_then(Option::as_ref).map(|page| format!("/{page}")),
        })
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
