//! The catalogue of ingredients: the built-in table, and what bakehouses add to it, found by name.
//!
//! Owns the table files beside it and the search by name and alias. Does not resolve `like`, nor what a
//! recipe line means: a bakehouse layer hands in whole ingredients, and the nearer one wins.

mod allergen;
mod closed_list;
mod ingredient;
mod kind;
mod names;
mod table;
mod tag;

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, OnceLock};

pub use allergen::{Allergen, AllergenList, eu_list, us_list};
pub use ingredient::{Composition, Cost, Ingredient, Provenance};
pub use kind::Kind;
pub use names::fold_name;
pub use tag::Tag;

/// Ingredients that can be found by any of their names.
#[derive(Debug)]
pub struct Catalog {
    entries: Vec<Entry>,
    /// Folded name or alias to the place among the entries; only ever asked, never walked through.
    index: HashMap<String, usize>,
    /// The layer below, which answers for what this one does not know.
    base: Option<Arc<Catalog>>,
}

/// An ingredient that is known whole, or a row that is read when somebody first asks for it: a run needs
/// a dozen of the rows and has a few milliseconds for everything.
#[derive(Debug)]
enum Entry {
    Whole(Arc<Ingredient>),
    Row(table::Row, OnceLock<Option<Arc<Ingredient>>>),
}

/// A word that names a family and not an ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BareWord {
    /// `flour`: taken as plain flour, and said so.
    Flour,
    /// `yeast`, `dried yeast`: fresh and dried yeast differ threefold in strength, so a baker must say which.
    Yeast,
}

impl BareWord {
    /// Recognises a bare word, in any case and number.
    #[must_use]
    pub fn of(name: &str) -> Option<Self> {
        match fold_name(name).as_str() {
            "flour" => Some(Self::Flour),
            // The words are in the folded form, which has no apostrophe and no plural.
            "yeast" | "dry yeast" | "dried yeast" | "baker yeast" => Some(Self::Yeast),
            _ => None,
        }
    }

    /// Gives the names that the word may stand for, the likeliest first.
    #[must_use]
    pub const fn choices(self) -> &'static [&'static str] {
        match self {
            Self::Flour => &["plain flour", "bread flour", "whole wheat flour"],
            Self::Yeast => &["instant yeast", "active dry yeast", "fresh yeast"],
        }
    }
}

/// Gives the catalogue that is built in, shared by the whole run.
#[must_use]
pub fn builtin() -> &'static Arc<Catalog> {
    static BUILTIN: LazyLock<Arc<Catalog>> =
        LazyLock::new(|| Arc::new(Catalog::from_table(table::INGREDIENTS)));
    &BUILTIN
}

impl Catalog {
    /// Lays ingredients over a catalogue: a name or alias of theirs hides the same name below.
    ///
    /// Of two that share a name the later one counts, and a name counts before an alias.
    #[must_use]
    pub fn extended(base: &Arc<Self>, entries: Vec<Ingredient>) -> Self {
        let mut index = HashMap::new();
        for (place, entry) in entries.iter().enumerate() {
            index.extend(entry.aliases.iter().map(|alias| (fold_name(alias), place)));
        }
        index.extend(
            entries
                .iter()
                .enumerate()
                .map(|(place, entry)| (fold_name(&entry.name), place)),
        );
        let entries = entries
            .into_iter()
            .map(|entry| Entry::Whole(Arc::new(entry)))
            .collect();
        Self {
            entries,
            index,
            base: Some(Arc::clone(base)),
        }
    }

    /// Finds an ingredient by name or alias, whatever the case, spacing and number of the words.
    #[must_use]
    pub fn lookup(&self, name: &str) -> Option<&Arc<Ingredient>> {
        self.lookup_folded(&fold_name(name))
    }

    /// Gives every name and alias that finds something, sorted, each once: the pool for a nearest name.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self
            .layers()
            .flat_map(|layer| &layer.entries)
            .flat_map(Entry::names)
            .collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Gives the names that may be offered for a word that is none of them: never lye, which burns whoever takes
    /// the offer for food.
    #[must_use]
    pub fn offers(&self) -> Vec<&str> {
        let is_food = |entry: &&Entry| entry.read().is_none_or(|known| !known.tags.contains(&Tag::Lye));
        self.layers()
            .flat_map(|layer| &layer.entries)
            .filter(is_food)
            .flat_map(Entry::names)
            .collect()
    }

    /// Gives every ingredient that can be found, nearer layers first, in the order of their tables.
    pub fn ingredients(&self) -> impl Iterator<Item = &Arc<Ingredient>> {
        self.layers()
            .flat_map(|layer| &layer.entries)
            .filter_map(Entry::read)
            .filter(|entry| {
                self.lookup(&entry.name)
                    .is_some_and(|found| Arc::ptr_eq(found, entry))
            })
    }

    fn from_table(text: &'static str) -> Self {
        let rows: Vec<table::Row> = table::rows(text).collect();
        // Most ingredients have two or three other names; a map that is large enough at once is filled faster.
        let mut index = HashMap::with_capacity(rows.len() * 4);
        for (place, row) in rows.iter().enumerate() {
            let (_, aliases) = row.leading();
            index.extend(ingredient::split_aliases(aliases).map(|alias| (fold_name(alias), place)));
        }
        index.extend(
            rows.iter()
                .enumerate()
                .map(|(place, row)| (fold_name(row.leading().0), place)),
        );
        let entries = rows
            .into_iter()
            .map(|row| Entry::Row(row, OnceLock::new()))
            .collect();
        Self {
            entries,
            index,
            base: None,
        }
    }

    fn lookup_folded(&self, folded: &str) -> Option<&Arc<Ingredient>> {
        self.layers().find_map(|layer| {
            let place = layer.index.get(folded)?;
            layer.entries.get(*place)?.read()
        })
    }

    fn layers(&self) -> impl Iterator<Item = &Self> {
        std::iter::successors(Some(self), |layer| layer.base.as_deref())
    }
}

impl Entry {
    fn read(&self) -> Option<&Arc<Ingredient>> {
        match self {
            Self::Whole(whole) => Some(whole),
            Self::Row(row, read) => read
                .get_or_init(|| Ingredient::from_record(&row.read()).ok().map(Arc::new))
                .as_ref(),
        }
    }

    fn names(&self) -> Vec<&str> {
        match self {
            Self::Whole(whole) => std::iter::once(&whole.name)
                .chain(&whole.aliases)
                .map(String::as_str)
                .collect(),
            Self::Row(row, _) => {
                let (name, aliases) = row.leading();
                std::iter::once(name)
                    .chain(ingredient::split_aliases(aliases))
                    .collect()
            }
        }
    }
}
