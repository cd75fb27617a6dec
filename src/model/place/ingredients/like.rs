//! `like NAME`: what an ingredient starts from.
//!
//! Owns the search for the other ingredient, the rounds and the length of a chain. After it every `like`
//! that is left leads to an ingredient that exists, in at most sixteen steps.

use std::collections::BTreeSet;

use super::{Entries, bad};
use crate::diag::{Code, Diagnostic, Report, nearest_name};
use crate::model::catalog;
use crate::source::Spanned;

/// The most steps from an ingredient to the one that it starts from in the end.
const LONGEST_CHAIN: usize = 16;

/// The most faults before the search for near names stops: nobody reads more, and each search costs time.
const MOST_SEARCHES: usize = 20;

/// Reports every `like` that leads nowhere, and takes it out, so that what follows can be settled.
pub(super) fn mend(entries: &mut Entries, report: &mut Report) {
    let mut cut = BTreeSet::new();
    let mut too_long = false;
    for (subject, entry) in &entries.by_subject {
        let Some(like) = &entry.lines.like else { continue };
        match follow(entries, subject) {
            End::Known => {}
            End::Unknown => {
                // A chain that ends in an unknown name is the fault of its last link alone.
                if entries.subject_of(&like.value).is_none() && !is_builtin(&like.value) {
                    report.push(unknown(like, entries, report.len() < MOST_SEARCHES));
                    cut.insert(subject.clone());
                }
            }
            End::Round(ring) => {
                if ring.iter().all(|link| !cut.contains(link)) {
                    report.extend(round(entries, &ring));
                }
                cut.extend(ring);
            }
            End::TooLong => {
                if !too_long {
                    let message = format!("`like` leads over more than {LONGEST_CHAIN} ingredients");
                    let help = "start from the ingredient at the end of the chain";
                    report.push(Diagnostic::new(Code::TooMany, like.span, message).help(help));
                }
                too_long = true;
                cut.insert(subject.clone());
            }
        }
    }
    for subject in cut {
        if let Some(entry) = entries.by_subject.get_mut(&subject) {
            entry.lines.like = None;
        }
    }
}

/// Where a chain of `like` ends.
enum End {
    /// In an ingredient that is known.
    Known,
    /// In a name that nobody knows.
    Unknown,
    /// Nowhere, because it comes back; the links in their order.
    Round(Vec<String>),
    /// Farther away than anybody follows.
    TooLong,
}

fn follow(entries: &Entries, start: &str) -> End {
    let mut chain = vec![start];
    while let Some(like) = chain
        .last()
        .and_then(|last| entries.get(last))
        .and_then(|entry| entry.lines.like.as_ref())
    {
        let Some(next) = entries.subject_of(&like.value) else {
            return if is_builtin(&like.value) {
                End::Known
            } else {
                End::Unknown
            };
        };
        if let Some(at) = chain.iter().position(|link| *link == next) {
            return End::Round(chain.iter().skip(at).map(|link| (*link).to_owned()).collect());
        }
        if chain.len() > LONGEST_CHAIN {
            return End::TooLong;
        }
        chain.push(next);
    }
    End::Known
}

fn is_builtin(name: &str) -> bool {
    catalog::builtin().lookup(name).is_some()
}

fn unknown(like: &Spanned<String>, entries: &Entries, search: bool) -> Diagnostic {
    let own = entries.by_subject.values().map(|entry| entry.name.value.as_str());
    let known = || -> Vec<&str> { catalog::builtin().offers().into_iter().chain(own).collect() };
    let near = search.then(|| nearest_name(&like.value, &known()));
    let help = match near.flatten() {
        Some(near) => format!("did you mean `{near}`?"),
        None => "start from an ingredient of the table or of the bakehouse".to_owned(),
    };
    bad(
        like.span,
        format!("`{}` is not in the ingredient table", like.value),
        help,
    )
}

/// Shows the ring, from the link that stands first on the page of the nearest file.
fn round(entries: &Entries, ring: &[String]) -> Option<Diagnostic> {
    let mut links: Vec<_> = ring
        .iter()
        .filter_map(|link| entries.get(link))
        .filter_map(|entry| entry.lines.like.as_ref().map(|like| (entry, like)))
        .collect();
    let first = links
        .iter()
        .enumerate()
        .min_by_key(|(_, (entry, like))| (entry.nearness, like.span.start))
        .map_or(0, |(at, _)| at);
    links.rotate_left(first);
    let names: Vec<&str> = links.iter().map(|(entry, _)| entry.name.value.as_str()).collect();
    let mut likes = links.iter().map(|(_, like)| like.span);
    let span = likes.next()?;
    if let [only] = names.as_slice() {
        let help = if is_builtin(only) {
            "take the line out: an ingredient of the table keeps its values where nothing else is said"
        } else {
            "start from an ingredient of the table"
        };
        let message = format!("{only} starts from itself");
        return Some(Diagnostic::new(Code::LikeRound, span, message).help(help));
    }
    let message = format!(
        "the ingredients go round: {}, {}",
        names.join(", "),
        names.first().unwrap_or(&"")
    );
    let fault = Diagnostic::new(Code::LikeRound, span, message)
        .label("this comes back to its beginning")
        .help("let one of them start from an ingredient of the table");
    Some(likes.fold(fault, |fault, span| fault.other(span, "and on from here")))
}
