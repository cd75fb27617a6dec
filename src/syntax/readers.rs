//! Readers of single values, for keys and for the command line.
//!
//! Each takes a text and the place where it stands, goes through the same grammar as a whole file, and
//! reports what it cannot read where it stands.

use pest::iterators::Pair;

use super::amounts::{lower_quantity, lower_share, lower_volume, lower_weight, next_number};
use super::entry::{self, Home};
use super::formula::inside;
use super::grammar::{self, Rule};
use super::heat::lower_temperature;
use super::lengths::lower_millimetres;
use super::lines::plain_spaces;
use super::problems;
use super::reader::Reader;
use super::times::lower_time;
use super::tree::{BlockKind, EntryKind, Quantity, TemperatureWord};
use crate::diag::Report;
use crate::quantity::{Elapsed, ElapsedRange, Grams, Millilitres, Ratio, WeightUnit};
use crate::source::Span;

/// Reads a quantity: `68 %`, `1 lb 4 oz`, `2 parts`, `all`.
pub fn read_quantity(text: &str, span: Span, report: &mut Report) -> Option<Quantity> {
    read_value(Rule::quantity_value, text, span, report, |found, reader| {
        lower_quantity(inside(found)?, reader)
    })
}

/// Reads a weight, with the unit that was written first: `1 kg`, `1 lb 4 oz`.
pub fn read_weight(text: &str, span: Span, report: &mut Report) -> Option<(Grams, WeightUnit)> {
    read_value(Rule::weight_value, text, span, report, |found, reader| {
        lower_weight(inside(found)?, reader)
    })
}

/// Reads degrees or the word of a place: `24 C`, `75-80 F`, `room`.
pub fn read_temperature(text: &str, span: Span, report: &mut Report) -> Option<TemperatureWord> {
    read_value(Rule::temperature_value, text, span, report, |found, reader| {
        lower_temperature(inside(found)?, reader).map(|word| word.value)
    })
}

/// Reads a time or a range of times; `overnight` is eight to twelve hours.
pub fn read_time(text: &str, span: Span, report: &mut Report) -> Option<ElapsedRange> {
    read_value(Rule::time_value, text, span, report, |found, reader| {
        let inner = inside(found)?;
        match inner.as_rule() {
            Rule::overnight => Some(OVERNIGHT),
            _ => lower_time(inner, reader),
        }
    })
}

/// How long `overnight` is.
pub const OVERNIGHT: ElapsedRange = ElapsedRange {
    least: Elapsed::hours(8),
    most: Elapsed::hours(12),
};

/// Reads a number: `14`, `1 1/2`, `12,5`.
pub fn read_number(text: &str, span: Span, report: &mut Report) -> Option<Ratio> {
    read_value(Rule::number_value, text, span, report, |found, reader| {
        next_number(&mut found.into_inner(), reader)
    })
}

/// Reads a share as a fraction of one: `12 %`.
pub fn read_percent(text: &str, span: Span, report: &mut Report) -> Option<Ratio> {
    read_value(Rule::percent_value, text, span, report, |found, reader| {
        lower_share(inside(found)?, reader)
    })
}

/// Reads a length in millimetres, exact: `20 cm`, `4 in`.
pub fn read_length(text: &str, span: Span, report: &mut Report) -> Option<Ratio> {
    read_value(Rule::length_value, text, span, report, lower_millimetres)
}

/// Reads a volume: `1.5 l`, `2 cups`.
pub fn read_volume(text: &str, span: Span, report: &mut Report) -> Option<Millilitres> {
    read_value(Rule::volume_value, text, span, report, |found, reader| {
        lower_volume(inside(found)?, reader).map(|(count, unit)| unit.volume(&count))
    })
}

/// Reads a line as an entry of a block without reporting anything: what would it say, did it stand there?
///
/// Tells prose that is an entry with a space too many in front.
#[must_use]
pub fn read_entry(text: &str, span: Span, kind: BlockKind) -> Option<EntryKind> {
    if !entry::looks_like_entry(text) {
        return None;
    }
    let mut unheard = Report::new();
    let mut reader = Reader::new(span.source, span.start, &mut unheard);
    let (text, _) = super::lines::split_comment(text);
    let entry = entry::parse_entry(&plain_spaces(text), Home::of(kind), &mut reader);
    entry.filter(|_| !unheard.has_errors())
}

/// Reads a text by a rule and lowers what it found.
pub(super) fn read_value<T>(
    rule: Rule,
    text: &str,
    span: Span,
    report: &mut Report,
    lower: impl FnOnce(Pair<'_, Rule>, &mut Reader<'_>) -> Option<T>,
) -> Option<T> {
    let trimmed = text.trim_start();
    let base = span.start + (text.len() - trimmed.len());
    let mut reader = Reader::new(span.source, base, report);
    let spaced = plain_spaces(trimmed.trim_end());
    match grammar::read(rule, &spaced) {
        Ok(pair) => lower(pair, &mut reader),
        Err(misfit) => {
            problems::report_value(&spaced, rule, &misfit, &mut reader);
            None
        }
    }
}
