//! Which recipe of one book was which of the other: by path, else by what it holds.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::super::{Result, Unable};
use super::alike::Alike;
use super::book::{Book, Entry};
use crate::source::{Source, SourceId};
use crate::syntax;
use crate::syntax::tree::Item;

/// Pairs of places in the two books; without one of them a recipe is new or gone.
pub(super) type Pairs = Vec<(Option<usize>, Option<usize>)>;

/// What a leftover is known by.
struct Known {
    at: usize,
    text: String,
    title: String,
}

/// Brings two books together, in the order of the newer one; what is gone comes last.
pub(super) fn pairs(old: &Book, new: &Book) -> Result<Pairs> {
    if old.is_folder != new.is_folder && !old.entries.is_empty() && !new.entries.is_empty() {
        return Err(Unable::new(
            "compare a recipe with a recipe, or a folder with a folder",
        ));
    }
    if let ([before], [_]) = (old.entries.as_slice(), new.entries.as_slice())
        && !old.is_folder
        && !before.is_candidate
    {
        return Ok(vec![(Some(0), Some(0))]);
    }
    let was_there = |(_, entry): &(usize, &Entry)| !entry.is_candidate;
    let by_path: BTreeMap<_, _> = old
        .entries
        .iter()
        .enumerate()
        .filter(was_there)
        .map(|(at, entry)| (&entry.path, at))
        .collect();
    let paired = new.entries.iter().enumerate();
    let mut pairs: Pairs = paired
        .map(|(at, entry)| (by_path.get(&entry.path).copied(), Some(at)))
        .collect();
    add_renamed(old, new, &mut pairs);
    let taken = taken(&pairs);
    let left = old.entries.iter().enumerate().filter(was_there);
    let gone = left.filter(|(at, _)| !taken.contains(at));
    pairs.extend(gone.map(|(at, _)| (Some(at), None)));
    Ok(pairs)
}

/// Gives the places of the older book that have found their newer one.
fn taken(pairs: &Pairs) -> BTreeSet<usize> {
    pairs.iter().filter_map(|pair| pair.0).collect()
}

/// Finds what new recipes were called before. The pairs are those of the newer book, in its order.
fn add_renamed(old: &Book, new: &Book, pairs: &mut Pairs) {
    let is_recipe = |book: &Book, at: usize| book.entries.get(at).is_some_and(|entry| !entry.is_house);
    let came = pairs.iter().filter(|pair| pair.0.is_none());
    let came: Vec<Known> = came
        .filter_map(|pair| pair.1.filter(|at| is_recipe(new, *at)))
        .filter_map(|at| known(new, at))
        .collect();
    if came.is_empty() {
        return;
    }
    let taken = taken(pairs);
    let went: Vec<Known> = (0..old.entries.len())
        .filter(|at| !taken.contains(at) && is_recipe(old, *at))
        .filter_map(|at| known(old, at))
        .collect();
    let mut matching = Matching::of(went.len(), came.len());
    matching.by_key(&went, &came, |one| Some(&one.text));
    matching.by_key(&went, &came, |one| {
        Some(&one.title).filter(|title| !title.is_empty())
    });
    matching.by_lines(&went, &came);
    for (before, now) in matching.found {
        let pair = came.get(now).and_then(|now| pairs.get_mut(now.at));
        if let (Some(pair), Some(before)) = (pair, went.get(before)) {
            pair.0 = Some(before.at);
        }
    }
}

/// Leftovers while they find each other, by their numbers; each newer one takes the first older one that is free.
struct Matching {
    went: BTreeSet<usize>,
    came: Vec<usize>,
    found: Vec<(usize, usize)>,
}

impl Matching {
    fn of(went: usize, came: usize) -> Self {
        Self {
            went: (0..went).collect(),
            came: (0..came).collect(),
            found: Vec::new(),
        }
    }

    /// Brings those together that have the same key.
    fn by_key(&mut self, went: &[Known], came: &[Known], key: impl Fn(&Known) -> Option<&String>) {
        let mut places: BTreeMap<&String, VecDeque<usize>> = BTreeMap::new();
        for (at, one) in went.iter().enumerate().filter(|(at, _)| self.went.contains(at)) {
            if let Some(key) = key(one) {
                places.entry(key).or_default().push_back(at);
            }
        }
        self.round(|now, _| places.get_mut(key(came.get(now)?)?)?.pop_front());
    }

    /// Brings those together that are much the same.
    fn by_lines(&mut self, went: &[Known], came: &[Known]) {
        let alike = Alike::new(went.iter().map(text), came.iter().map(text));
        self.round(|now, went| alike.like(now).find(|before| went.contains(before)));
    }

    fn round(&mut self, mut find: impl FnMut(usize, &BTreeSet<usize>) -> Option<usize>) {
        for now in std::mem::take(&mut self.came) {
            match find(now, &self.went) {
                Some(before) => {
                    self.went.remove(&before);
                    self.found.push((before, now));
                }
                None => self.came.push(now),
            }
        }
    }
}

/// Reads what a leftover is known by; what cannot be read is told of when it is compared.
fn known(book: &Book, at: usize) -> Option<Known> {
    let text = book.load(at).ok()?.text().to_owned();
    Some(Known {
        at,
        title: title_of(&text),
        text,
    })
}

/// Gives the title that a text says, in small letters.
pub(super) fn title_of(text: &str) -> String {
    let (tree, _) = syntax::parse(&Source::new(SourceId(0), "", text));
    let title = tree.items.iter().find_map(|item| match item {
        Item::Key(key) if key.key.value == "title" => Some(key.value.value.to_lowercase()),
        _ => None,
    });
    title.unwrap_or_default()
}

fn text(one: &Known) -> &str {
    &one.text
}
