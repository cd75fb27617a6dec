//! Measurements of a bench record: `20.5 C room`, `11 h 40 min bulk`, `788 g loaf`.

use pest::iterators::Pair;

use super::amounts::{lower_share, lower_weight};
use super::grammar::Rule;
use super::heat::lower_degrees;
use super::numbers::lower_number;
use super::reader::Reader;
use super::times::lower_time;
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
    match pair.as_rule() {
        Rule::degrees => lower_degrees(pair, reader).map(Reading::Temperature),
        Rule::time => lower_time(pair, reader).map(Reading::Time),
        Rule::weight => lower_weight(pair, reader).map(|(grams, _)| Reading::Weight(grams)),
        Rule::share => lower_share(pair, reader).map(Reading::Share),
        _ => lower_number(pair.as_str(), reader.span_of(&pair), reader).map(Reading::Count),
    }
}
