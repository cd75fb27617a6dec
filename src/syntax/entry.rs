//! One indented line to what it says: tells by its first words which rule it wants, and lowers the outcome.

use pest::iterators::Pair;

use super::amounts::lower_quantity;
use super::formula::parse_formula;
use super::grammar::{self, Misfit, Rule};
use super::keys;
use super::numbers::vulgar;
use super::plain::{Front, plain_front};
use super::problems;
use super::property::lower_property;
use super::reader::{Reader, single_spaced};
use super::record::lower_measurement;
use super::step::{lower_timing, parse_step};
use super::tree::{BlockKind, EntryKind};
use crate::source::Spanned;

/// What a line may be, by the kind of block it stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Home {
    /// A stage, a dough, a formula, a filling, a topping.
    Bench,
    /// Changes against the recipe.
    Variation,
    /// A bench record.
    Record,
    /// An ingredient of the bakehouse.
    Ingredient,
}

impl Home {
    /// Gives the home that a kind of block is.
    pub(crate) const fn of(kind: BlockKind) -> Self {
        match kind {
            BlockKind::Variation => Self::Variation,
            BlockKind::Bake => Self::Record,
            BlockKind::Ingredient => Self::Ingredient,
            _ => Self::Bench,
        }
    }
}

/// Reads an entry; what cannot be read is reported and gives nothing.
pub(crate) fn parse_entry(text: &str, home: Home, reader: &mut Reader<'_>) -> Option<EntryKind> {
    if let Some(entry) = parse_remark(text, home, reader) {
        return Some(entry);
    }
    match home {
        Home::Bench | Home::Variation => parse_line(text, home, reader),
        Home::Record => {
            let pair = read_or_report(Rule::measurement_line, text, home, reader)?;
            lower_measurement(pair, reader).map(EntryKind::Measurement)
        }
        Home::Ingredient => {
            let pair = read_or_report(Rule::property_line, text, home, reader)?;
            lower_property(pair, reader).map(EntryKind::Property)
        }
    }
}

fn read_or_report<'t>(
    rule: Rule,
    text: &'t str,
    home: Home,
    reader: &mut Reader<'_>,
) -> Option<Pair<'t, Rule>> {
    grammar::read(rule, text)
        .map_err(|misfit| problems::report_entry(text, home, rule, &misfit, reader))
        .ok()
}

/// Reads a formula line or a step: what stands in front tells which.
fn parse_line(text: &str, home: Home, reader: &mut Reader<'_>) -> Option<EntryKind> {
    let front = match plain_front(text) {
        Some((front, end)) => Spanned::new(Some(front), reader.span(0, end)),
        None => spelt_front(text, reader)
            .map_err(|(rule, misfit)| problems::report_entry(text, home, rule, &misfit, reader))
            .ok()?,
    };
    let behind = text.get(reader.offset(front.span.end)..)?;
    let tail = behind.trim_start();
    let mut reader = reader.from(text.len() - tail.len());
    match front.value {
        _ if tail.is_empty() => {
            problems::report_bare_front(text, &front, &mut reader);
            None
        }
        Some(Front::Quantity(quantity)) => {
            parse_formula(Spanned::new(quantity, front.span), tail, home, &mut reader).map(EntryKind::Formula)
        }
        Some(Front::Time(time)) => {
            parse_step(Spanned::new(time, front.span), tail, home, &mut reader).map(EntryKind::Step)
        }
        None => None,
    }
}

/// Reads the front of a line by the grammar; a front with a fault that has been reported has no value.
pub(crate) fn spelt_front(
    text: &str,
    reader: &mut Reader<'_>,
) -> Result<Spanned<Option<Front>>, (Rule, Misfit)> {
    let rule = if starts_with_time(text) {
        Rule::timing
    } else {
        Rule::quantity
    };
    let pair = grammar::read_front(rule, text).map_err(|misfit| (rule, misfit))?;
    let span = reader.span_of(&pair);
    let front = match rule {
        Rule::quantity => lower_quantity(pair, reader).map(Front::Quantity),
        _ => lower_timing(pair, reader).map(Front::Time),
    };
    Ok(Spanned::new(front, span))
}

/// Reads the entries that are a word and the rest of the line.
fn parse_remark(text: &str, home: Home, reader: &mut Reader<'_>) -> Option<EntryKind> {
    if text.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    let rest = |word: &str| {
        let rest = text.get(word.len()..).filter(|_| opens_with(text, word))?;
        let words = rest.trim_start();
        let span = reader.span(text.len() - words.len(), text.len());
        Some(Spanned::new(single_spaced(words), span))
    };
    if let Some(remark) = rest("note") {
        return Some(EntryKind::Note(remark));
    }
    // What belongs into a variation is read everywhere, so that it can be said where it belongs.
    let (is_variation, is_bench) = (home == Home::Variation, home == Home::Bench);
    if is_variation && keys::is_key_line(text) || is_bench && keys::is_known_key_line(text) {
        return keys::parse_key_line(text, reader).map(EntryKind::Key);
    }
    if (is_variation || is_bench)
        && let Some(thing) = rest("without")
    {
        return Some(EntryKind::Without(thing));
    }
    rest("in").filter(|_| is_variation).map(EntryKind::Scope)
}

/// Finds the first of some words in a text, at its start or behind a space.
pub(crate) fn first_word_of(text: &str, words: &[&str]) -> Option<usize> {
    let bytes = text.as_bytes();
    let opens = |at: usize| {
        let rest = bytes.get(at..).unwrap_or_default();
        words.iter().any(|word| {
            let start = rest.get(..word.len()).unwrap_or_default();
            start.eq_ignore_ascii_case(word.as_bytes())
                && !rest.get(word.len()).is_some_and(u8::is_ascii_alphanumeric)
        })
    };
    let behind_space = |at: usize| at == 0 || bytes.get(at - 1) == Some(&b' ');
    (0..bytes.len()).find(|at| behind_space(*at) && opens(*at))
}

/// Says whether a line begins with a word, whatever its case, and goes on behind it.
pub(crate) fn opens_with(text: &str, word: &str) -> bool {
    text.get(..word.len())
        .is_some_and(|start| start.eq_ignore_ascii_case(word))
        && text.as_bytes().get(word.len()) == Some(&b' ')
}

/// Says whether a line is the one word, or begins with it.
fn starts_with_word(text: &str, word: &str) -> bool {
    text.eq_ignore_ascii_case(word) || opens_with(text, word)
}

/// Says whether a line of a bench record is an entry; what is not is prose.
pub(crate) fn opens_record(text: &str) -> bool {
    starts_with_figure(text) || opens_with(text, "note")
}

/// Says whether a line begins as entries do: with a quantity, a time, or a word that stands for one.
pub(crate) fn looks_like_entry(text: &str) -> bool {
    starts_with_figure(text)
        || ["all", "some", "then", "overnight", "note"]
            .iter()
            .any(|word| starts_with_word(text, word))
}

/// Says whether a line begins as the entries of one kind of block do.
pub(crate) fn looks_like_entry_of(text: &str, home: Home) -> bool {
    looks_like_entry(text)
        || match home {
            Home::Variation => opens_with(text, "without") || keys::is_key_line(text),
            Home::Ingredient => true,
            Home::Bench | Home::Record => false,
        }
}

/// Says whether a line begins with a number, signed or not.
pub(crate) fn starts_with_figure(text: &str) -> bool {
    let digits = text.trim_start_matches(['-', '+', '.', '\u{2212}', '–']);
    digits.chars().next().is_some_and(char::is_numeric)
}

/// Says whether a line begins with a time, so that it is a step.
fn starts_with_time(text: &str) -> bool {
    let part_of_number = |letter: char| {
        letter.is_ascii_digit()
            || matches!(letter, ' ' | '.' | ',' | '/' | '⁄' | '-' | '–' | '—' | '‑')
            || vulgar(letter).is_some()
    };
    let mut rest = text;
    loop {
        let behind = rest.trim_start_matches(part_of_number);
        let number = behind.len() < rest.len();
        let end = behind
            .find(|letter: char| !letter.is_ascii_alphabetic())
            .unwrap_or(behind.len());
        let (word, more) = behind.split_at(end);
        match word {
            "to" if number && more.starts_with(' ') => rest = more,
            "then" | "overnight" | "Then" | "Overnight" if !number => return true,
            _ => return number && is_time_unit(word),
        }
    }
}

/// Says whether a word is a unit of time.
fn is_time_unit(word: &str) -> bool {
    const UNITS: &[&str] = &[
        "min", "h", "hour", "hours", "minutes", "minute", "mins", "hr", "hrs", "day", "days", "week",
        "weeks", "s", "sec", "secs", "second", "seconds",
    ];
    UNITS.iter().any(|unit| unit.eq_ignore_ascii_case(word))
}
