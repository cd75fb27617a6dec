//! Measurements of a bench record: `20.5 C room`, `11 h 40 min bulk`, `788 g loaf`.

use pest::iterators::Pair;

use super::amounts::{next_number, next_share, next_weight};
use super::grammar::Rule;
use super::heat::lower_degrees;
use super::reader::Reader;
use super::times::next_time;
use super::tree::{Measurement, Reading};
use crate::source::Spanned;

/// Reads a `measurement_line`.
pub(crate) fn lower_measurement(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Measurement> {
    let mut pairs = pair.into_inner();
    let reading = pairs.next()?;
    let of = reader.words_of(&pairs.next()?);
    let span = reader.span_of(&reading);
    let reading = lower_reading(reading, reader)?;
    Some(Measurement {
        reading: Spanned::new(reading, span),
        of,
    })
}

fn lower_reading(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Reading> {
    let mut pairs = pair.into_inner();
    let first = pairs.peek()?;
    if first.as_rule() == Rule::degrees {
        return lower_degrees(first, reader).map(Reading::Temperature);
    }
    match pairs.clone().nth(1).map(|unit| unit.as_rule()) {
        Some(Rule::time_unit | Rule::dash) => next_time(&mut pairs, reader).map(Reading::Time),
        Some(Rule::weight_unit) => next_weight(&mut pairs, reader).map(|(grams, _)| Reading::Weight(grams)),
        Some(Rule::percent) => next_share(&mut pairs, reader).map(Reading::Share),
        _ => next_number(&mut pairs, reader).map(Reading::Count),
    }
}
