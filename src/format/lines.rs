//! Each line of a tree in its one form.
//!
//! Columns are fixed, so that a longer quantity moves only its own line: an entry stands two columns in, its
//! thing ten columns on, prose two columns deeper than the thing it belongs to.

use super::amount::{is_unit, spelt, tidy};
use super::keys::{key_line, listed};
use super::page::Laid;
use super::prose::Paragraphs;
use super::steps;
use crate::source::{Source, Span};
use crate::syntax::tree::{
    Block, BodyItem, Entry, EntryKind, FileKind, FormulaLine, Item, Quantity, TemperatureWord, Tree,
};

/// Columns that an entry stands in.
const INDENT: usize = 2;
/// Columns from an entry's quantity to its thing.
const THING: usize = 10;
/// The column of a comment behind a line, where the line leaves room.
const COMMENT: usize = 41;

/// Gives the lines of a tree, blank ones as they were left.
pub(super) fn of_tree(source: &Source, tree: &Tree) -> Vec<Laid> {
    let column = match tree.kind {
        FileKind::Recipe => 8,
        FileKind::Bakehouse => 11,
    };
    let mut laid = Vec::new();
    for item in &tree.items {
        match item {
            Item::Blank(_) => laid.push(Laid::Blank),
            Item::Comment(span) | Item::Junk(span) => laid.push(Laid::Comment(trimmed(source, *span))),
            Item::Key(key) => laid.push(Laid::Line(with_comment(
                source,
                key_line(source, key, column),
                key.comment,
            ))),
            Item::Block(block) => lay_block(source, block, &mut laid),
        }
    }
    laid
}

fn trimmed(source: &Source, span: Span) -> String {
    source.slice(span).trim_end().to_owned()
}

pub(super) fn single_spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Puts a comment behind a line.
fn with_comment(source: &Source, line: String, comment: Option<Span>) -> String {
    let Some(comment) = comment else { return line };
    let width = line.chars().count();
    let gap = COMMENT.saturating_sub(width).max(2);
    format!(
        "{line}{}{}",
        " ".repeat(gap),
        trimmed(source, comment).trim_start()
    )
}

fn lay_block(source: &Source, block: &Block, laid: &mut Vec<Laid>) {
    let mut header = block.kind.value.word().to_owned();
    if let Some(name) = &block.name {
        header.push(' ');
        header.push_str(&name.value);
    }
    for qualifier in &block.qualifiers {
        header.push_str(", ");
        header.push_str(&tidy(source.slice(qualifier.span)));
    }
    header.push(':');
    laid.push(Laid::Header(with_comment(source, header, block.comment)));
    let mut body: Vec<(usize, Laid)> = Vec::with_capacity(block.body.len());
    let prose = Paragraphs::of(source, block);
    for item in &block.body {
        match item {
            BodyItem::Blank(span) => body.push((span.start, Laid::Blank)),
            BodyItem::Comment(span) | BodyItem::Junk(span) => {
                body.push((span.start, comment_line(source, *span)));
            }
            BodyItem::Prose(own) => prose.lay_own(own, INDENT, &mut body),
            BodyItem::Entry(entry) => lay_entry(source, entry, &prose, &mut body),
        }
    }
    // A comment may stand between two paragraphs of one entry, which the tree holds together.
    body.sort_by_key(|(start, _)| *start);
    laid.extend(body.into_iter().map(|(_, line)| line));
}

/// A comment in the first column stays there; any other stands with the entries.
fn comment_line(source: &Source, span: Span) -> Laid {
    let before = source.text.get(..span.start).unwrap_or_default();
    let in_first_column = before.is_empty() || before.ends_with(['\n', '\r', '\u{feff}']);
    let text = trimmed(source, span);
    if in_first_column {
        Laid::Comment(text)
    } else {
        Laid::Line(format!("{}{}", " ".repeat(INDENT), text.trim_start()))
    }
}

fn lay_entry(source: &Source, entry: &Entry, prose: &Paragraphs<'_>, laid: &mut Vec<(usize, Laid)>) {
    let (head, thing) = entry_parts(source, entry);
    let mut line = " ".repeat(INDENT);
    if let Some(head) = &head {
        line.push_str(head);
        let room = THING.saturating_sub(head.chars().count()).max(1);
        line.push_str(&" ".repeat(room));
    }
    line.push_str(&thing);
    let line = line.trim_end().to_owned();
    laid.push((
        entry.span.start,
        Laid::Line(with_comment(source, line, entry.comment)),
    ));
    if let Some(below) = &entry.prose {
        let indent = head.map_or(INDENT, |_| INDENT + THING) + 2;
        prose.lay(below, indent, laid);
    }
}

/// Gives what stands in the quantity's column, if the entry has one, and the rest.
fn entry_parts(source: &Source, entry: &Entry) -> (Option<String>, String) {
    match &entry.kind {
        EntryKind::Formula(line) => (Some(quantity(source, line)), formula_tail(source, line)),
        EntryKind::Step(line) => (Some(steps::time(source, line)), steps::tail(source, line)),
        EntryKind::Measurement(line) => (
            Some(tidy(source.slice(line.reading.span))),
            single_spaced(&line.of.value),
        ),
        EntryKind::Property(_) => property_parts(source.slice(entry.span)),
        EntryKind::Note(text) => (None, format!("note {}", single_spaced(&text.value))),
        EntryKind::Without(name) => (None, format!("without {}", single_spaced(&name.value))),
        EntryKind::Scope(name) => (None, format!("in {}", single_spaced(&name.value))),
        EntryKind::Key(key) => (None, key_line(source, key, THING)),
    }
}

fn quantity(source: &Source, line: &FormulaLine) -> String {
    match line.quantity.value {
        Quantity::All => "all".to_owned(),
        Quantity::Some => "some".to_owned(),
        _ => tidy(source.slice(line.quantity.span)),
    }
}

fn formula_tail(source: &Source, line: &FormulaLine) -> String {
    let mut tail = single_spaced(&line.name.value);
    if let Some(hydration) = &line.hydration {
        tail.push_str(" hydration ");
        tail.push_str(&tidy(source.slice(hydration.span)));
    }
    if let Some(at) = &line.at {
        tail.push_str(" at ");
        tail.push_str(&match &at.value {
            TemperatureWord::Place(place) => place.clone(),
            TemperatureWord::Degrees(_) => tidy(source.slice(at.span)),
        });
    }
    for (word, value) in [(" as ", &line.as_known), (", ", &line.preparation)] {
        if let Some(value) = value {
            tail.push_str(word);
            tail.push_str(&single_spaced(&value.value));
        }
    }
    for (word, value) in [(" instead of ", &line.instead_of), (" after ", &line.after)] {
        if let Some(value) = value {
            tail.push_str(word);
            tail.push_str(&single_spaced(&value.value));
        }
    }
    tail
}

/// A line of an ingredient's entry: its amount or its first word in the column, the rest behind it.
fn property_parts(written: &str) -> (Option<String>, String) {
    let text = single_spaced(written);
    let (first, rest) = text.split_once(' ').unwrap_or((&text, ""));
    let first = first.to_lowercase();
    match first.as_str() {
        "like" | "also" => return (Some(first), rest.to_owned()),
        "contains" => return (Some(first), listed(&rest.to_lowercase())),
        "counts" | "wet" | "dry" => return (None, text.to_lowercase()),
        "absorption" => return (None, tidy(&text.to_lowercase())),
        _ => {}
    }
    let text = tidy(&text);
    let mut words = text.splitn(3, ' ');
    match (words.next(), words.next(), words.next()) {
        (Some(number), Some(unit), Some(rest)) => (Some(format!("{number} {unit}")), per_unit(rest)),
        _ => (None, text),
    }
}

/// Spells the unit behind a bare `per`: `per kilo` is `per kg`.
fn per_unit(rest: &str) -> String {
    let unit = rest
        .get(..4)
        .filter(|per| per.eq_ignore_ascii_case("per "))
        .and_then(|_| rest.get(4..));
    match unit.filter(|unit| is_unit(unit)) {
        Some(unit) => format!("per {}", spelt(unit, Some("1"))),
        None => rest.to_owned(),
    }
}
