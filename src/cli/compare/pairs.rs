//! Which recipe of one book was which of the other: by path, else by what it holds.

use std::collections::BTreeMap;

use super::super::{Result, Unable};
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
    let is_taken = |pairs: &Pairs, at: usize| pairs.iter().any(|pair| pair.0 == Some(at));
    let left = old.entries.iter().enumerate().filter(was_there);
    let gone: Vec<_> = left
        .filter(|(at, _)| !is_taken(&pairs, *at))
        .map(|(at, _)| (Some(at), None))
        .collect();
    pairs.extend(gone);
    Ok(pairs)
}

/// Finds what new recipes were called before.
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
    let is_free = |at: &usize| pairs.iter().all(|pair| pair.0 != Some(*at));
    let mut went: Vec<Known> = (0..old.entries.len())
        .filter(|at| is_free(at) && is_recipe(old, *at))
        .filter_map(|at| known(old, at))
        .collect();
    for is_same in [same_text, same_title, much_the_same] {
        for now in &came {
            let open = pairs
                .iter_mut()
                .find(|pair| pair.1 == Some(now.at) && pair.0.is_none());
            let place = went.iter().position(|before| is_same(before, now));
            if let (Some(pair), Some(place)) = (open, place) {
                pair.0 = Some(went.remove(place).at);
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

fn same_text(old: &Known, new: &Known) -> bool {
    old.text == new.text
}

fn same_title(old: &Known, new: &Known) -> bool {
    !new.title.is_empty() && old.title == new.title
}

/// Three of five lines are the same.
fn much_the_same(old: &Known, new: &Known) -> bool {
    let lines = |text: &str| {
        let mut counts: BTreeMap<String, usize> = BTreeMap::new();
        for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
            *counts.entry(line.to_owned()).or_default() += 1;
        }
        counts
    };
    let (left, right) = (lines(&old.text), lines(&new.text));
    let shared: usize = left
        .iter()
        .map(|(line, count)| right.get(line).map_or(0, |other| *count.min(other)))
        .sum();
    let most = left.values().sum::<usize>().max(right.values().sum());
    most > 0 && shared * 5 >= most * 3
}
