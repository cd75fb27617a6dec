//! The entries of all files, gathered by the ingredient that they are about.
//!
//! Owns the question which ingredient an entry means: a name or alias of the built-in table means the
//! ingredient of the table, unless the entry starts from another one and so makes a thing of its own.

use std::collections::{BTreeMap, BTreeSet};

use super::written::Lines;
use super::{Entries, bad};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{self, fold_name};
use crate::source::{Source, SourceId, Span, Spanned};
use crate::syntax::tree::{Block, BlockKind, BodyItem, EntryKind, Item, Property, Qualifier, Tree};

/// The most entries that one bakehouse, all its files together, may have.
const MOST_ENTRIES: usize = 5000;

/// What all files say of one ingredient.
#[derive(Debug)]
pub(super) struct Entry {
    /// The name in the nearest file that has an entry for it.
    pub(super) name: Spanned<String>,
    /// The lines, nearer ones before farther ones.
    pub(super) lines: Lines,
    /// The other names of all files.
    pub(super) also: Vec<Spanned<String>>,
    /// How near the nearest file is; the nearest of all is 0.
    pub(super) nearness: usize,
}

/// Gathers the entries of files, nearest first.
pub(super) fn entries(files: &[(&Source, &Tree)], report: &mut Report) -> Entries {
    let own = names_with_like(files);
    let mut entries = Entries::default();
    let mut count = 0;
    for (nearness, (_, tree)) in files.iter().enumerate() {
        let mut in_file: BTreeMap<String, Span> = BTreeMap::new();
        for block in blocks(tree) {
            count += 1;
            if count > MOST_ENTRIES {
                let message = format!("the bakehouse has more than {MOST_ENTRIES} ingredients");
                report.push(Diagnostic::new(Code::TooMany, block.header, message));
                return entries;
            }
            let Some(name) = name_of(block, report) else {
                continue;
            };
            let subject = subject(&name.value, &own);
            if let Some(first) = in_file.insert(subject.clone(), name.span) {
                report.push(twice(&name, first));
                continue;
            }
            if !block
                .body
                .iter()
                .any(|item| matches!(item, BodyItem::Entry(_) | BodyItem::Junk(_)))
            {
                report.push(empty(&name));
            }
            let (lines, also) = Lines::read(block, report);
            add(
                &mut entries,
                subject,
                Entry {
                    name,
                    lines,
                    also,
                    nearness,
                },
            );
        }
    }
    check_other_names(&entries, report);
    // The nearer file comes last, so that its name wins.
    let mut order: Vec<(&String, &Entry)> = entries.by_subject.iter().collect();
    order.sort_by_key(|(_, entry)| std::cmp::Reverse(entry.nearness));
    entries.others = order
        .into_iter()
        .flat_map(|(subject, entry)| {
            entry
                .also
                .iter()
                .map(move |name| (fold_name(&name.value), subject.clone()))
        })
        .collect();
    entries
}

fn add(entries: &mut Entries, subject: String, farther: Entry) {
    if let Some(nearer) = entries.by_subject.get_mut(&subject) {
        nearer.lines.fill_from(farther.lines);
        nearer.also.extend(farther.also);
    } else {
        entries.by_subject.insert(subject, farther);
    }
}

/// Gives the ingredient blocks of a tree, in the order of the page.
fn blocks(tree: &Tree) -> impl Iterator<Item = &Block> {
    tree.items.iter().filter_map(|item| match item {
        Item::Block(block) if block.kind.value == BlockKind::Ingredient => Some(block),
        _ => None,
    })
}

/// Finds the folded names whose entry starts from another ingredient, in any file.
fn names_with_like(files: &[(&Source, &Tree)]) -> BTreeSet<String> {
    let starts_from = |block: &Block| {
        block.body.iter().any(|item| {
            matches!(item, BodyItem::Entry(entry) if matches!(entry.kind, EntryKind::Property(Property::Like(_))))
        })
    };
    files
        .iter()
        .flat_map(|(_, tree)| blocks(tree))
        .filter(|block| starts_from(block))
        .filter_map(|block| block.name.as_ref().map(|name| fold_name(&name.value)))
        .collect()
}

/// Gives the folded name of the ingredient that an entry is about.
fn subject(name: &str, own: &BTreeSet<String>) -> String {
    let folded = fold_name(name);
    match catalog::builtin().lookup(&folded) {
        Some(found) if !own.contains(&folded) => fold_name(&found.name),
        _ => folded,
    }
}

fn name_of(block: &Block, report: &mut Report) -> Option<Spanned<String>> {
    for qualifier in &block.qualifiers {
        // What could not be read has been reported.
        if qualifier.value != Qualifier::Junk {
            let message = "an ingredient of the bakehouse has no size";
            report.push(
                Diagnostic::new(Code::BadQualifier, qualifier.span, message)
                    .help("write `ingredient NAME:` and the rest on lines below"),
            );
        }
    }
    if block.name.is_none() {
        let help = "write `ingredient NAME:`";
        report.push(bad(block.header, "the ingredient has no name", help));
    }
    block.name.clone()
}

fn empty(name: &Spanned<String>) -> Diagnostic {
    let message = format!("nothing is said of {}", name.value);
    Diagnostic::new(Code::EmptyBlock, name.span, message)
        .help("write what it is like, such as `like bread flour`, on a line below, indented")
}

fn twice(name: &Spanned<String>, first: Span) -> Diagnostic {
    let message = format!("`{}` has an entry already", name.value);
    Diagnostic::new(Code::BlockTwice, name.span, message)
        .other(first, "here is the first one")
        .help("put the lines of both into one entry")
}

/// Faults where one file gives one name to two ingredients; in several files the nearer one wins.
fn check_other_names(entries: &Entries, report: &mut Report) {
    let mut owners: BTreeMap<(String, SourceId), (&str, Span)> = BTreeMap::new();
    for (subject, entry) in &entries.by_subject {
        for name in std::iter::once(&entry.name).chain(&entry.also) {
            let key = (fold_name(&name.value), name.span.source);
            match owners.get(&key) {
                Some((owner, first)) if owner != subject => {
                    let message = format!("two ingredients answer to `{}`", name.value);
                    report.push(
                        bad(name.span, message, "give one of them another name").other(*first, "the other"),
                    );
                }
                _ => {
                    owners.insert(key, (subject, name.span));
                }
            }
        }
    }
}
