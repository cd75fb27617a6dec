//! Each line of a tree in its one form.
//!
//! Columns are fixed, so that a longer quantity moves only its own line: an entry stands two columns in, its
//! thing ten columns on, prose two columns deeper than the thing it belongs to.

use super::amount::tidy;
use super::page::Laid;
use crate::source::{Source, Span};
use crate::syntax::tree::{
    Block, BodyItem, Cue, Entry, EntryKind, FormulaLine, Item, KeyLine, Prose, StepLine, TemperatureWord,
    Tree,
};

/// Columns that an entry stands in.
const INDENT: usize = 2;
/// Columns from an entry's quantity to its thing.
const THING: usize = 10;
/// The column of a comment behind a line, where the line leaves room.
const COMMENT: usize = 41;

/// Keys whose values are words and are left as they are.
const WORDS: &[&str] = &[
    "title",
    "picture",
    "tags",
    "author",
    "source",
    "revision",
    "language",
    "bakehouse",
    "currency",
    "asleep",
];

/// Keys that only a bakehouse file has; its values stand three columns further in.
const OF_BAKEHOUSE: &[&str] = &[
    "bakehouse",
    "room",
    "fridge",
    "proofer",
    "tap",
    "altitude",
    "asleep",
    "scales",
];

/// Gives the lines of a tree, blank ones as they were left.
pub(super) fn of_tree(source: &Source, tree: &Tree) -> Vec<Laid> {
    let is_bakehouse = tree
        .items
        .iter()
        .any(|item| matches!(item, Item::Key(key) if OF_BAKEHOUSE.contains(&key.key.value.as_str())));
    let column = if is_bakehouse { 11 } else { 8 };
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

fn single_spaced(text: &str) -> String {
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

fn key_line(source: &Source, line: &KeyLine, column: usize) -> String {
    let key = &line.key.value;
    let value = source.slice(line.value.span).trim();
    let value = if WORDS.contains(&key.as_str()) {
        value.to_owned()
    } else if key == "tin" {
        single_spaced(&spread_crosses(value))
    } else {
        tidy(value)
    };
    let head = format!("{key}:");
    format!("{head:<width$} {value}", width = column.saturating_sub(1))
        .trim_end()
        .to_owned()
}

/// Gives the crosses of a tin's measures room: `20x10x10cm` is `20 x 10 x 10 cm`.
fn spread_crosses(value: &str) -> String {
    let mut out = String::with_capacity(value.len() + 8);
    let mut before = ' ';
    let mut rest = value.chars().peekable();
    while let Some(c) = rest.next() {
        let next = rest.peek().copied().unwrap_or(' ');
        let crosses = matches!(c, 'x' | 'X' | '×') && !before.is_alphabetic() && !next.is_alphabetic();
        if crosses {
            out.push_str(" x ");
        } else if before.is_ascii_digit() && c.is_alphabetic() {
            out.push(' ');
            out.push(c);
        } else {
            out.push(c);
        }
        before = c;
    }
    out
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
    for item in &block.body {
        match item {
            BodyItem::Blank(_) => laid.push(Laid::Blank),
            BodyItem::Comment(span) | BodyItem::Junk(span) => laid.push(comment_line(source, *span)),
            BodyItem::Prose(prose) => lay_prose(prose, INDENT, laid),
            BodyItem::Entry(entry) => lay_entry(source, entry, laid),
        }
    }
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

fn lay_prose(prose: &Prose, indent: usize, laid: &mut Vec<Laid>) {
    for line in &prose.lines {
        laid.push(if line.value.trim().is_empty() {
            Laid::Blank
        } else {
            Laid::Line(format!("{}{}", " ".repeat(indent), line.value.trim_end()))
        });
    }
}

fn lay_entry(source: &Source, entry: &Entry, laid: &mut Vec<Laid>) {
    let (head, thing) = entry_parts(source, entry);
    let mut line = " ".repeat(INDENT);
    if let Some(head) = &head {
        line.push_str(head);
        let room = THING.saturating_sub(head.chars().count()).max(1);
        line.push_str(&" ".repeat(room));
    }
    line.push_str(&thing);
    let line = line.trim_end().to_owned();
    laid.push(Laid::Line(with_comment(source, line, entry.comment)));
    if let Some(prose) = &entry.prose {
        let indent = if head.is_some() {
            INDENT + THING + 2
        } else {
            INDENT + 2
        };
        lay_prose(prose, indent, laid);
    }
}

/// Gives what stands in the quantity's column, if the entry has one, and the rest.
fn entry_parts(source: &Source, entry: &Entry) -> (Option<String>, String) {
    match &entry.kind {
        EntryKind::Formula(line) => (
            Some(tidy(source.slice(line.quantity.span))),
            formula_tail(source, line),
        ),
        EntryKind::Step(line) => (Some(tidy(source.slice(line.time.span))), step_tail(source, line)),
        EntryKind::Measurement(line) => (
            Some(tidy(source.slice(line.reading.span))),
            single_spaced(&line.of.value),
        ),
        EntryKind::Property(_) => property_parts(source.slice(entry.span)),
        EntryKind::Note(text) => (None, format!("note {}", single_spaced(&text.value))),
        EntryKind::Without(name) => (None, format!("without {}", single_spaced(&name.value))),
        EntryKind::Scope(name) => (None, format!("in {}", single_spaced(&name.value))),
        EntryKind::Key(key) => (None, key_line(source, key, 0)),
    }
}

fn formula_tail(source: &Source, line: &FormulaLine) -> String {
    let mut tail = single_spaced(&line.name.value);
    if let Some(hydration) = &line.hydration {
        let written = source.slice(hydration.span);
        let from = written.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
        let to = written.find('%').map_or(written.len(), |at| at + 1);
        tail.push_str(" hydration ");
        tail.push_str(&tidy(written.get(from..to).unwrap_or(written)));
    }
    if let Some(at) = &line.at {
        tail.push_str(" at ");
        tail.push_str(&temperature(source, at.span, &at.value, "at "));
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

fn temperature(source: &Source, span: Span, value: &TemperatureWord, lead: &str) -> String {
    match value {
        TemperatureWord::Place(place) => place.clone(),
        TemperatureWord::Degrees(_) => {
            let written = source.slice(span).trim();
            tidy(written.strip_prefix(lead).unwrap_or(written))
        }
    }
}

/// A step keeps its words and their order; only amounts are tidied, each in its own place.
fn step_tail(source: &Source, line: &StepLine) -> String {
    let mut amounts: Vec<Span> = Vec::new();
    for place in [&line.at, &line.to].into_iter().flatten() {
        if matches!(place.value, TemperatureWord::Degrees(_)) {
            amounts.push(place.span);
        }
    }
    amounts.extend(line.folds.iter().map(|folds| folds.span));
    if let Some(until) = line
        .until
        .as_ref()
        .filter(|until| !matches!(until.value, Cue::Words(_)))
    {
        amounts.push(until.span);
    }
    amounts.sort();
    let mut tail = String::new();
    let mut from = line.text.span.start;
    for span in amounts {
        push_words(&mut tail, source.text.get(from..span.start).unwrap_or_default());
        let tidied = tidy(source.slice(span));
        // A growth is told with its cross at the number, `1.5x`.
        push_words(
            &mut tail,
            &tidied
                .strip_suffix(" x")
                .map_or(tidied.clone(), |grown| format!("{grown}x")),
        );
        from = span.end;
    }
    push_words(
        &mut tail,
        source.text.get(from..line.text.span.end).unwrap_or_default(),
    );
    tail
}

fn push_words(tail: &mut String, words: &str) {
    for word in words.split_whitespace() {
        if !tail.is_empty() && !word.starts_with(',') {
            tail.push(' ');
        }
        tail.push_str(word);
    }
}

/// A line of an ingredient's entry: its amount or its first word in the column, the rest behind it.
fn property_parts(written: &str) -> (Option<String>, String) {
    let text = single_spaced(written);
    let first = text.split(' ').next().unwrap_or_default().to_lowercase();
    if matches!(first.as_str(), "like" | "also" | "contains") {
        let rest = text.split_once(' ').map_or("", |(_, rest)| rest);
        return (Some(first), rest.to_owned());
    }
    let text = tidy(&text);
    if !text.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return (None, text);
    }
    let mut words = text.splitn(3, ' ');
    let (Some(number), Some(unit)) = (words.next(), words.next()) else {
        return (None, text);
    };
    match words.next() {
        Some(rest) => (Some(format!("{number} {unit}")), rest.to_owned()),
        None => (None, text.clone()),
    }
}
