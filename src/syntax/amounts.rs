//! Amounts in the tree's own types: weights, shares, volumes, counts, and what is past their limits.
//!
//! Times and temperatures are in `times` and `heat`.

use pest::iterators::{Pair, Pairs};

use super::grammar::Rule;
use super::limits;
use super::numbers::lower_number;
use super::reader::Reader;
use super::tree::Quantity;
use crate::diag::{Code, Diagnostic};
use crate::quantity::{Grams, Ratio, VolumeUnit, WeightUnit};
use crate::source::Span;

/// Reads the number that stands next.
pub(crate) fn next_number(pairs: &mut Pairs<'_, Rule>, reader: &mut Reader<'_>) -> Option<Ratio> {
    let pair = pairs.next()?;
    let span = reader.span_of(&pair);
    lower_number(pair.as_str(), span, reader)
}

/// Reads `NUMBER UNIT [NUMBER UNIT]`; the unit given back is the first one written.
pub(crate) fn lower_weight(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<(Grams, WeightUnit)> {
    let start = pair.as_span().start();
    let mut pairs = pair.into_inner();
    let count = next_number(&mut pairs, reader);
    let unit = pairs.next()?;
    weight_after(count, &unit, start, &mut pairs, reader)
}

/// Reads the rest of a weight whose first number and unit have been taken off.
fn weight_after(
    count: Option<Ratio>,
    unit: &Pair<'_, Rule>,
    start: usize,
    pairs: &mut Pairs<'_, Rule>,
    reader: &mut Reader<'_>,
) -> Option<(Grams, WeightUnit)> {
    let first = weight_unit(unit.as_str())?;
    let mut end = unit.as_span().end();
    let mut grams = count.map(|count| first.weight(&count));
    if pairs.peek().is_some() {
        let count = next_number(pairs, reader);
        let unit = pairs.next()?;
        let second = weight_unit(unit.as_str())?;
        end = unit.as_span().end();
        let span = reader.span(start, end);
        if !matches!(
            (first, second),
            (WeightUnit::Pound, WeightUnit::Ounce) | (WeightUnit::Kilogram, WeightUnit::Gram)
        ) {
            let message = "two weights on one line";
            reader.fault(
                Code::BadNumber,
                span,
                message,
                "give one weight a line; pounds and ounces may stand together, as in `1 lb 4 oz`",
            );
            return None;
        }
        grams = grams
            .zip(count)
            .map(|(grams, count)| &grams + &second.weight(&count));
    }
    let grams = grams?;
    within_weight(&grams, reader.span(start, end), reader).then_some((grams, first))
}

/// Says whether a weight is one that a bakehouse can hold.
fn within_weight(grams: &Grams, span: Span, reader: &mut Reader<'_>) -> bool {
    let fits = grams.0 <= Ratio::whole(limits::GRAMS);
    if !fits {
        absurd(span, "more than a thousand tonnes", reader);
    }
    fits
}

/// Says whether so many pieces of a weight are what a bakehouse can make.
pub(super) fn within_dough(count: u32, each: &Grams, span: Span, reader: &mut Reader<'_>) -> bool {
    let fits = &each.0 * &Ratio::whole(i64::from(count)) <= Ratio::whole(limits::DOUGH_GRAMS);
    if !fits {
        absurd(span, "more than two hundred thousand tonnes", reader);
    }
    fits
}

fn absurd(span: Span, what: &str, reader: &mut Reader<'_>) {
    let help = "look for a digit too many or a unit mistaken for another";
    reader.report(Diagnostic::new(Code::AbsurdAmount, span, format!("{what} on one line")).help(help));
}

/// Reads `NUMBER %` as a fraction of one.
pub(crate) fn lower_share(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Ratio> {
    let span = reader.span_of(&pair);
    share_of(&next_number(&mut pair.into_inner(), reader)?, span, reader)
}

/// Turns a count of per cent into a fraction of one.
pub(crate) fn share_of(percent: &Ratio, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    if *percent > Ratio::whole(limits::PERCENT) {
        absurd(span, "more than 10000 %", reader);
        return None;
    }
    percent.checked_div(&Ratio::HUNDRED)
}

/// Reads `NUMBER UNIT` of a volume.
pub(crate) fn lower_volume(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<(Ratio, VolumeUnit)> {
    let start = pair.as_span().start();
    let mut pairs = pair.into_inner();
    let count = next_number(&mut pairs, reader);
    let unit = pairs.next()?;
    volume_of(count?, &unit, start, reader)
}

fn volume_of(
    count: Ratio,
    unit: &Pair<'_, Rule>,
    start: usize,
    reader: &mut Reader<'_>,
) -> Option<(Ratio, VolumeUnit)> {
    let kind = volume_unit(unit.as_str())?;
    if kind.volume(&count).0 > Ratio::whole(limits::GRAMS) {
        absurd(
            reader.span(start, unit.as_span().end()),
            "more than a million litres",
            reader,
        );
        return None;
    }
    Some((count, kind))
}

/// Reads the inside of a `quantity`.
pub(crate) fn lower_quantity(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Quantity> {
    let span = reader.span_of(&pair);
    let start = pair.as_span().start();
    let mut pairs = pair.into_inner();
    let first = pairs.next()?;
    match first.as_rule() {
        Rule::all => return Some(Quantity::All),
        Rule::some => return Some(Quantity::Some),
        _ => {}
    }
    let count = lower_number(first.as_str(), reader.span_of(&first), reader);
    let Some(unit) = pairs.next() else {
        return within_count(count?, span, reader).map(Quantity::Count);
    };
    match unit.as_rule() {
        Rule::percent => share_of(&count?, span, reader).map(Quantity::Percent),
        Rule::part_unit => within_count(count?, span, reader).map(Quantity::Parts),
        Rule::weight_unit => weight_after(count, &unit, start, &mut pairs, reader)
            .map(|(grams, unit)| Quantity::Weight { grams, unit }),
        _ => volume_of(count?, &unit, start, reader).map(|(count, unit)| Quantity::Volume { count, unit }),
    }
}

fn within_count(count: Ratio, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    if count > Ratio::whole(limits::COUNT) {
        absurd(span, "more than a million", reader);
        return None;
    }
    Some(count)
}

/// Finds a weight's unit; the grammar has let only known spellings through, told apart by their letters.
pub(crate) fn weight_unit(word: &str) -> Option<WeightUnit> {
    let letter = |at: usize| word.as_bytes().get(at).map(u8::to_ascii_lowercase);
    Some(match letter(0)? {
        b'g' => WeightUnit::Gram,
        b'k' => WeightUnit::Kilogram,
        b'm' => WeightUnit::Milligram,
        b'o' => WeightUnit::Ounce,
        b'l' | b'p' => WeightUnit::Pound,
        _ => return None,
    })
}

/// Finds a volume's unit in the same way.
pub(crate) fn volume_unit(word: &str) -> Option<VolumeUnit> {
    let letter = |at: usize| word.as_bytes().get(at).map(u8::to_ascii_lowercase);
    Some(match (letter(0)?, letter(1)) {
        (b'm', _) => VolumeUnit::Millilitre,
        (b'l', _) => VolumeUnit::Litre,
        (b'c', _) => VolumeUnit::Cup,
        (b'f', _) => VolumeUnit::FluidOunce,
        (b't', Some(b's' | b'e')) => VolumeUnit::Teaspoon,
        (b't', _) => VolumeUnit::Tablespoon,
        _ => return None,
    })
}
