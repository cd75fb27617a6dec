//! What was made of each recipe, and of what: so that only what depends on a change is made again.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::edition::{Edition, path_of, print_of};
use crate::cli::Exit;
use crate::cli::bench::Baked;
use crate::cli::contents::Contents;
use crate::cli::pages::reader_page;
use crate::cli::shelf::Beside;
use crate::cli::sources::{Recipe, Sources};
use crate::cli::ui::Ui;
use crate::disk::{Stamp, stamp};
use crate::syntax::MOST_BYTES;
use crate::view::{IndexRow, Link};
use crate::watch::News;

/// How long a file that nobody tells of is read again although it looks the same: the clocks of some disks have
/// ticks of two seconds.
const UNSETTLED: Duration = Duration::from_secs(3);

/// All cards of a book.
#[derive(Default)]
pub(super) struct Book {
    cards: BTreeMap<PathBuf, Card>,
    /// The recipes that name a picture, by the picture.
    pub(super) pictures: BTreeMap<PathBuf, BTreeSet<PathBuf>>,
    /// The pages of the recipes for readers, in the order of the edition; nothing where there are none.
    links: Vec<Option<Link>>,
    /// The page of the folder, where one is made.
    index: Option<&'static str>,
    /// Whether pages may stand beside others now than when they were made.
    pub(super) has_new_links: bool,
    /// Whether the page of the folder would say something else now.
    pub(super) has_new_rows: bool,
    /// Whether the list of files must be put in order.
    pub(super) has_new_files: bool,
}

/// What was made of a recipe.
pub(super) struct Card {
    /// What the recipe is called in front of people.
    pub(super) name: String,
    /// Its pages, the first one also where it could never be made.
    pub(super) pages: Vec<String>,
    /// What there was to say of it.
    pub(super) told: String,
    /// Whether it has no card of its own, or an old one.
    pub(super) is_kept: bool,
    looked: Looked,
    /// The pages that its own page leads to.
    beside: Beside,
    link: Option<Link>,
    exit: Exit,
    row: Option<IndexRow>,
    language: Option<&'static str>,
    house: Option<String>,
    picture: Option<PathBuf>,
}

/// What a card was made of.
#[derive(Clone)]
pub(super) struct Looked {
    stamp: Option<Stamp>,
    /// When the file looked like that first, and when it was read last.
    seen: Instant,
    read: Instant,
    print: Option<u64>,
    picture: Option<Stamp>,
    house: u64,
    rival: bool,
}

/// A recipe that must be made again, and what it is made of.
pub(super) struct Turn {
    pub(super) place: usize,
    pub(super) looked: Looked,
    /// Whether its own text is another, so that its faults are worth telling again.
    pub(super) is_edited: bool,
}

impl Book {
    /// Begins another edition: puts the pages that are known in its order.
    pub(super) fn begin(&mut self, edition: &Edition, index: Option<&'static str>) {
        let link = |recipe| self.cards.get(&path_of(recipe)?)?.link.clone();
        self.links = edition.sources.recipes.iter().map(link).collect();
        self.index = index;
        self.has_new_links = true;
    }

    /// Notes the page of a recipe for readers.
    pub(super) fn note_link(&mut self, place: usize, link: Option<&Link>) {
        if let Some(there) = self.links.get_mut(place)
            && self.index.is_some()
            && there.as_ref() != link
        {
            *there = link.cloned();
            self.has_new_links = true;
        }
    }

    /// Gives the pages beside that of a recipe.
    pub(super) fn beside(&self, place: usize) -> Beside {
        let before = self.links.get(..place).unwrap_or_default();
        let after = self.links.get(place + 1..).unwrap_or_default();
        Beside {
            index: self.index,
            previous: before.iter().rev().flatten().next().cloned(),
            next: after.iter().flatten().next().cloned(),
        }
    }

    /// Gives a turn to each recipe whose page stands beside others now than when it was made.
    pub(super) fn displaced(&mut self, edition: &Edition) -> Vec<Turn> {
        self.has_new_links = false;
        let places = 0..edition.sources.recipes.len();
        places
            .filter_map(|place| {
                let card = self.cards.get(&path_of(edition.sources.recipes.get(place)?)?)?;
                let is_displaced = !card.is_kept && card.beside != self.beside(place);
                is_displaced.then(|| Turn {
                    place,
                    looked: card.looked.clone(),
                    is_edited: false,
                })
            })
            .collect()
    }

    /// Says whether a recipe must be made again, and notes what it looks like now.
    ///
    /// A file that looks from outside as it did is read all the same where it must be: somebody has told of a change,
    /// or nobody would and it has changed a moment ago.
    pub(super) fn turn(
        &mut self,
        edition: &Edition,
        place: usize,
        must_read: MustRead,
        now: Instant,
    ) -> Option<Turn> {
        let recipe = edition.sources.recipes.get(place)?;
        let path = path_of(recipe)?;
        let card = self.cards.get_mut(&path);
        let there = stamp(&path).ok();
        let old = card.as_ref().map(|card| &card.looked);
        let is_same_outside = there.is_some() && old.is_some_and(|old| old.stamp == there);
        let mut looked = Looked {
            seen: old.filter(|_| is_same_outside).map_or(now, |old| old.seen),
            read: old.map_or(now, |old| old.read),
            stamp: there,
            print: old.and_then(|old| old.print),
            picture: card.as_ref().and_then(|card| stamp(card.picture.as_ref()?).ok()),
            house: edition.house(recipe),
            rival: edition.bench.rival(recipe).is_some(),
        };
        let depends_on_more = old.is_none_or(|old| {
            old.house != looked.house || old.rival != looked.rival || old.picture != looked.picture
        });
        let failed = card.as_ref().is_some_and(|card| card.exit == Exit::Unable);
        let must_read = match must_read {
            MustRead::Yes => true,
            MustRead::WhereUnsettled => looked.read < looked.seen + UNSETTLED,
            MustRead::No => false,
        };
        if is_same_outside && !must_read && !depends_on_more && !failed {
            return None;
        }
        looked.read = now;
        looked.print = read(recipe);
        let is_edited = looked.print.is_none() || old.is_none_or(|old| old.print != looked.print);
        if !is_edited && !depends_on_more && !failed {
            if let Some(card) = card {
                card.looked = looked;
            }
            return None;
        }
        Some(Turn {
            place,
            looked,
            is_edited,
        })
    }

    /// Takes what was made of a recipe. Gives the pages that it makes no longer.
    pub(super) fn take(
        &mut self,
        edition: &Edition,
        turn: Turn,
        beside: Beside,
        baked: Baked,
    ) -> Option<Taken<'_>> {
        let recipe = edition.sources.recipes.get(turn.place)?;
        let path = path_of(recipe)?;
        let old = self.cards.remove(&path);
        let is_kept = baked.written.is_empty();
        let made: Vec<String> = baked.written.into_iter().map(|(page, _)| page).collect();
        let before = old.as_ref().map_or(&[] as &[String], |old| &old.pages);
        let pages = match (is_kept, before) {
            (false, _) => made,
            (true, []) => first_pages(&edition.bench.page_of(recipe)),
            (true, before) => before.to_vec(),
        };
        let dropped: Vec<String> = before
            .iter()
            .filter(|page| !pages.contains(page))
            .cloned()
            .collect();
        self.has_new_files |= old.is_none() || !dropped.is_empty() || before.len() != pages.len();
        let is_news = turn.is_edited || old.as_ref().is_none_or(|old| old.told != baked.told);
        let mut card = Card {
            name: recipe.name.clone(),
            pages,
            told: baked.told,
            is_kept,
            looked: turn.looked,
            beside,
            link: self.links.get(turn.place).cloned().flatten(),
            exit: baked.exit,
            row: baked.row,
            language: baked.language,
            house: baked.house,
            picture: baked.picture,
        };
        self.has_new_rows |= old.as_ref().is_none_or(|old| !old.tells_the_same(&card));
        let old_picture = old.and_then(|old| old.picture);
        if old_picture != card.picture {
            card.looked.picture = card.picture.as_ref().and_then(|picture| stamp(picture).ok());
        }
        self.note_picture(&path, old_picture, card.picture.clone());
        let card = self.cards.entry(path.clone()).or_insert(card);
        Some(Taken {
            path,
            card,
            dropped,
            is_news,
        })
    }

    fn note_picture(&mut self, recipe: &Path, old: Option<PathBuf>, new: Option<PathBuf>) {
        if old == new {
            return;
        }
        if let Some(old) = old
            && let Some(recipes) = self.pictures.get_mut(&old)
        {
            recipes.remove(recipe);
            if recipes.is_empty() {
                self.pictures.remove(&old);
            }
        }
        if let Some(new) = new {
            self.pictures.entry(new).or_default().insert(recipe.to_owned());
        }
    }

    /// Lists the recipes that are no longer in the book.
    pub(super) fn gone(&self, edition: &Edition) -> Vec<PathBuf> {
        self.cards
            .keys()
            .filter(|path| !edition.has(path))
            .cloned()
            .collect()
    }

    /// Lists the recipes of the book that are not among those that were found.
    pub(super) fn missing(&self, sources: &Sources) -> Vec<PathBuf> {
        let found: BTreeSet<PathBuf> = sources.recipes.iter().filter_map(path_of).collect();
        let is_missing = |path: &&PathBuf| !found.contains(*path);
        self.cards.keys().filter(is_missing).cloned().collect()
    }

    /// Takes a recipe out of the book. Gives what was made of it, and the pages of another recipe that holds the same
    /// and came with this edition.
    pub(super) fn remove(&mut self, path: &Path, new: &[PathBuf]) -> Option<(Card, Vec<String>)> {
        let card = self.cards.remove(path)?;
        self.note_picture(path, card.picture.clone(), None);
        self.has_new_files = true;
        self.has_new_rows = true;
        let heir = new
            .iter()
            .filter_map(|path| self.cards.get(path))
            .find(|heir| card.looked.print.is_some() && heir.looked.print == card.looked.print);
        let pages = heir.map_or_else(Vec::new, |heir| heir.pages.clone());
        Some((card, pages))
    }

    /// Gives what was made of a recipe.
    pub(super) fn card(&self, recipe: &Recipe) -> Option<&Card> {
        self.cards.get(&path_of(recipe)?)
    }

    /// Gives the pages of all recipes.
    pub(super) fn pages(&self) -> impl Iterator<Item = &String> {
        self.cards.values().flat_map(|card| &card.pages)
    }

    /// Gathers what the page of the folder tells, in the order of the edition.
    pub(super) fn contents(&self, edition: &Edition) -> Contents {
        let mut contents = Contents::default();
        for recipe in &edition.sources.recipes {
            if let Some(card) = path_of(recipe).and_then(|path| self.cards.get(&path)) {
                contents.take(card.row.clone(), card.language, card.house.clone());
            }
        }
        contents
    }

    /// Shows what keeps recipes from having a card, up to a size that a page can carry.
    pub(super) fn faults(&self) -> String {
        const MOST: usize = 64 * 1024;
        let mut text = String::new();
        for card in self.cards.values().filter(|card| card.is_kept) {
            if text.len() + card.told.len() > MOST {
                text.push_str("There are more; mend these first.\n");
                break;
            }
            text.push_str(&card.told);
        }
        Ui::plain(&text)
    }
}

impl Turn {
    /// Says whether the recipe still looks from outside as it did.
    pub(super) fn is_still_so(&self, edition: &Edition) -> bool {
        let recipe = edition.sources.recipes.get(self.place);
        let path = recipe.and_then(path_of);
        path.is_some_and(|path| stamp(&path).ok() == self.looked.stamp)
    }
}

/// Whether a file must be read to know that it is the same.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum MustRead {
    /// Somebody has told of a change.
    Yes,
    /// Nobody tells of changes.
    WhereUnsettled,
    /// Somebody would have told.
    No,
}

/// What came into the book.
pub(super) struct Taken<'book> {
    pub(super) path: PathBuf,
    pub(super) card: &'book Card,
    /// The pages that the recipe makes no longer.
    pub(super) dropped: Vec<String>,
    /// Whether what is wrong with it should be told.
    pub(super) is_news: bool,
}

impl Card {
    /// Says whether the page of the folder tells the same of both.
    fn tells_the_same(&self, other: &Self) -> bool {
        self.row == other.row && self.language == other.language && self.house == other.house
    }

    /// Gives what its pages are told, with what is wrong in its bakehouse and in the templates.
    pub(super) fn news(&self, house_faults: &str, bad_look: &str) -> Option<News> {
        let faults = [bad_look, house_faults, &Ui::plain(&self.told)].concat();
        let news = News {
            faults,
            is_kept: self.is_kept || !bad_look.is_empty(),
        };
        (!news.faults.is_empty()).then_some(news)
    }
}

/// Names the pages of a recipe that never had any.
fn first_pages(card: &str) -> Vec<String> {
    vec![card.to_owned(), reader_page(card)]
}

fn read(recipe: &Recipe) -> Option<u64> {
    let bytes = recipe.file.as_ref()?.file.read(MOST_BYTES).ok()?;
    Some(print_of(&bytes))
}
