//! One indented line to what it says: tells by its first words which rule it wants, and lowers the outcome.

use super::formula::{inside, lower_formula};
use super::grammar::{self, Misfit, Rule};
use super::keys;
use super::numbers::vulgar;
use super::problems;
use super::property::lower_property;
use super::reader::Reader;
use super::record::lower_measurement;
use super::step::lower_step;
use super::tree::{BlockKind, EntryKind};

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
    if home == Home::Variation && keys::is_key_line(text)
        || home == Home::Bench && keys::is_known_key_line(text)
    {
        return keys::parse_key_line(text, reader).map(EntryKind::Key);
    }
    let rule = rule_for(text, home);
    let pair = match grammar::read(rule, text) {
        Ok(pair) => pair,
        Err(Misfit { at, expected }) => {
            problems::report_entry(text, home, rule, at, &expected, reader);
            return None;
        }
    };
    match pair.as_rule() {
        Rule::formula_line | Rule::change_line => {
            let line = lower_formula(pair, reader)?;
            problems::expect_sound_formula(&line, home, reader).then_some(EntryKind::Formula(line))
        }
        Rule::step_line | Rule::change_step => {
            let line = lower_step(pair, reader)?;
            problems::expect_sound_step(&line, reader).then_some(EntryKind::Step(line))
        }
        Rule::note_line => inside(pair).map(|rest| EntryKind::Note(reader.words_of(&rest))),
        Rule::without_line => inside(pair).map(|rest| EntryKind::Without(reader.words_of(&rest))),
        Rule::scope_line => inside(pair).map(|rest| EntryKind::Scope(reader.words_of(&rest))),
        Rule::measurement_line => lower_measurement(pair, reader).map(EntryKind::Measurement),
        _ => lower_property(pair, reader).map(EntryKind::Property),
    }
}

/// Chooses the one rule that a line wants.
fn rule_for(text: &str, home: Home) -> Rule {
    let opens = |word| opens_with(text, word);
    match home {
        _ if opens("note") => Rule::note_line,
        Home::Ingredient => Rule::property_line,
        Home::Record => Rule::measurement_line,
        // What belongs into a variation is read everywhere, so that it can be said where it belongs.
        Home::Bench if opens("without") => Rule::without_line,
        Home::Variation if opens("without") => Rule::without_line,
        Home::Variation if opens("in") => Rule::scope_line,
        Home::Variation if starts_with_time(text) => Rule::change_step,
        Home::Variation => Rule::change_line,
        Home::Bench if starts_with_time(text) => Rule::step_line,
        Home::Bench => Rule::formula_line,
    }
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

/// Says whether a line begins with a number, signed or not.
pub(crate) fn starts_with_figure(text: &str) -> bool {
    let digits = text.trim_start_matches(['-', '+', '.', '\u{2212}', '–']);
    digits.chars().next().is_some_and(|first| first.is_numeric())
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
