//! Which texts are much the same: three of five of their lines. Owns how that is found out among many texts without
//! laying each beside each; knows nothing of recipes.

use std::collections::{BTreeMap, BTreeSet};

/// Of the longer text, how many lines the two must share: three of five.
const SHARED: usize = 3;
const OF: usize = 5;

/// The numbers of a text's lines, each once and ascending. A line that stands twice has two numbers, so that what two
/// texts have in common is what their lists have in common.
type Lines = Vec<usize>;

/// Older texts, among which those are found that are much the same as a newer one.
pub(super) struct Alike {
    old: Vec<Lines>,
    new: Vec<Lines>,
    /// Older texts by each of their rarest lines.
    places: BTreeMap<usize, Vec<usize>>,
}

impl Alike {
    /// Looks through older and newer texts once.
    pub(super) fn new<'text>(
        old: impl Iterator<Item = &'text str>,
        new: impl Iterator<Item = &'text str>,
    ) -> Self {
        let old: Vec<_> = old.map(numbered_twins).collect();
        let new: Vec<_> = new.map(numbered_twins).collect();
        let mut counts: BTreeMap<(&str, usize), usize> = BTreeMap::new();
        for line in old.iter().chain(&new).flatten() {
            *counts.entry(*line).or_default() += 1;
        }
        // The rarest have the lowest numbers, so that they come first in every list.
        let mut by_count: Vec<_> = counts.into_iter().map(|(line, count)| (count, line)).collect();
        by_count.sort_unstable();
        let numbers: BTreeMap<(&str, usize), usize> = by_count
            .into_iter()
            .enumerate()
            .map(|(number, (_, line))| (line, number))
            .collect();
        let lines = |texts: Vec<Vec<(&str, usize)>>| -> Vec<Lines> {
            let one = |text: Vec<(&str, usize)>| {
                let mut lines: Lines = text
                    .iter()
                    .filter_map(|line| numbers.get(line).copied())
                    .collect();
                lines.sort_unstable();
                lines
            };
            texts.into_iter().map(one).collect()
        };
        let (old, new) = (lines(old), lines(new));
        let mut places: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, text) in old.iter().enumerate() {
            for line in rarest(text) {
                places.entry(*line).or_default().push(place);
            }
        }
        Self { old, new, places }
    }

    /// Gives the places of the older texts that are much the same as a newer one, in their order.
    pub(super) fn like(&self, new: usize) -> impl Iterator<Item = usize> {
        let empty = Lines::new();
        let text = self.new.get(new).unwrap_or(&empty).clone();
        let near = rarest(&text).iter().filter_map(|line| self.places.get(line));
        let near: BTreeSet<usize> = near.flatten().copied().collect();
        near.into_iter().filter(move |place| {
            let old = self.old.get(*place);
            old.is_some_and(|old| much_the_same(old, &text))
        })
    }
}

/// Gives the lines of a text that say something, each with how often it stood before.
fn numbered_twins(text: &str) -> Vec<(&str, usize)> {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    lines
        .map(|line| {
            let count = seen.entry(line).or_default();
            *count += 1;
            (line, *count)
        })
        .collect()
}

/// Gives so many of the rarest lines of a text that one of them is shared with every text that is much the same.
fn rarest(lines: &[usize]) -> &[usize] {
    let needed = (lines.len() * SHARED).div_ceil(OF);
    let enough = (lines.len() + 1).saturating_sub(needed);
    lines.get(..enough).unwrap_or(lines)
}

/// Says whether two texts share three of five lines of the longer one.
fn much_the_same(left: &[usize], right: &[usize]) -> bool {
    let most = left.len().max(right.len());
    let is_enough = |shared: usize| most > 0 && shared * OF >= most * SHARED;
    if !is_enough(left.len().min(right.len())) {
        return false;
    }
    let mut rest = right.iter().peekable();
    let is_shared = |line: &&usize| {
        while rest.next_if(|other| other < line).is_some() {}
        rest.next_if_eq(line).is_some()
    };
    is_enough(left.iter().filter(is_shared).count())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;

    use super::Alike;

    /// What much the same means, said plainly: of the lines that say something, each as often as both have it, three
    /// of five.
    fn is_much_the_same(old: &str, new: &str) -> bool {
        let count = |text: &str| {
            let mut counts: BTreeMap<String, usize> = BTreeMap::new();
            for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
                *counts.entry(line.to_owned()).or_default() += 1;
            }
            counts
        };
        let (old, new) = (count(old), count(new));
        let in_both = |(line, count): (&String, &usize)| new.get(line).map_or(0, |other| *count.min(other));
        let shared: usize = old.iter().map(in_both).sum();
        let most = old.values().sum::<usize>().max(new.values().sum());
        most > 0 && shared * 5 >= most * 3
    }

    fn texts() -> impl Strategy<Value = Vec<String>> {
        // Few lines of few words, so that texts are often near the border.
        let line = prop_oneof![Just(" a"), Just("a"), Just("b"), Just("c"), Just("d"), Just("")];
        let text = proptest::collection::vec(line, 0..9).prop_map(|lines| lines.join("\n"));
        proptest::collection::vec(text, 0..9)
    }

    proptest! {
        #[test]
        fn finds_what_a_look_at_each_pair_finds(old in texts(), new in texts()) {
            let alike = Alike::new(old.iter().map(String::as_str), new.iter().map(String::as_str));
            for (at, text) in new.iter().enumerate() {
                let like: Vec<usize> = alike.like(at).collect();
                let pairs = old.iter().enumerate().filter(|(_, old)| is_much_the_same(old, text));
                let wanted: Vec<usize> = pairs.map(|(place, _)| place).collect();
                prop_assert_eq!(like, wanted, "{:?} among {:?}", text, old);
            }
        }
    }

    #[test]
    fn few_of_many_are_laid_beside_each_other() {
        // Every text has its own lines and two that all have, as recipes do.
        let text =
            |name: &str, at: usize| format!("dough:\n2 % salt\n{name} {at} a\n{name} {at} b\n{name} {at} c");
        let old: Vec<String> = (0..100).map(|at| text("old", at)).collect();
        let new: Vec<String> = (0..100).map(|at| text("new", at)).collect();
        let alike = Alike::new(old.iter().map(String::as_str), new.iter().map(String::as_str));
        let mut looked_at = 0;
        for text in &alike.new {
            looked_at += super::rarest(text)
                .iter()
                .filter_map(|line| alike.places.get(line))
                .flatten()
                .count();
        }
        assert_eq!(looked_at, 0, "lines that every text has bring texts together");
    }
}
