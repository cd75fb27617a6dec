//! Lines of an ingredient's entry in a bakehouse.

use pest::iterators::Pair;

use super::amounts::{lower_share, lower_weight, share_of, volume_unit, weight_unit};
use super::formula::inside;
use super::grammar::Rule;
use super::numbers::lower_number;
use super::reader::Reader;
use super::tree::Property;
use crate::quantity::{Grams, Ratio};
use crate::source::Spanned;

/// Reads one of the forms of a `property_line`.
pub(crate) fn lower_property(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    Some(match pair.as_rule() {
        Rule::like => Property::Like(reader.words_of(&inside(pair)?)),
        Rule::also => Property::Also(reader.words_of(&inside(pair)?)),
        Rule::contains => Property::Contains(lower_allergens(pair, reader)),
        Rule::counts => Property::CountsAsFlour(inside(pair)?.as_rule() == Rule::flour),
        Rule::wet => Property::Wet(true),
        Rule::dry => Property::Wet(false),
        Rule::nutrient => lower_nutrient(pair, reader)?,
        Rule::energy => Property::Energy(lower_count(&inside(pair)?, reader)?),
        Rule::each => Property::Each(lower_grams(inside(pair)?, reader)?),
        Rule::per_volume => lower_per_volume(pair, reader)?,
        Rule::price => lower_price(pair, reader)?,
        _ => Property::Absorption(lower_absorption(pair, reader)?),
    })
}

/// Reads the weight that a pair is, with its place.
fn lower_grams(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Grams>> {
    let span = reader.span_of(&pair);
    lower_weight(pair, reader).map(|(grams, _)| Spanned::new(grams, span))
}

/// Reads the number that a pair is, with its place.
fn lower_count(pair: &Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Ratio>> {
    let span = reader.span_of(pair);
    lower_number(pair.as_str(), span, reader).map(|count| Spanned::new(count, span))
}

fn lower_allergens(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Vec<Spanned<String>> {
    let words: Vec<_> = pair.into_inner().map(|word| reader.words_of(&word)).collect();
    match words.as_slice() {
        [only] if only.value.eq_ignore_ascii_case("nothing") => Vec::new(),
        _ => words,
    }
}

fn lower_nutrient(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    let mut pairs = pair.into_inner();
    let share = pairs.next()?;
    let span = reader.span_of(&share);
    let share = lower_share(share, reader);
    let nutrient = reader.words_of(&pairs.next()?);
    Some(Property::Share {
        share: Spanned::new(share?, span),
        nutrient,
    })
}

fn lower_per_volume(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    let mut pairs = pair.into_inner();
    let grams = lower_grams(pairs.next()?, reader)?;
    let unit = volume_unit(pairs.next()?.as_str())?;
    Some(Property::PerVolume { grams, unit })
}

fn lower_price(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    let mut pairs = pair.into_inner();
    let amount = lower_count(&pairs.next()?, reader)?;
    let currency = reader.words_of(&pairs.next()?);
    let per = pairs.next()?;
    let per = match per.as_rule() {
        Rule::weight_unit => weight_unit(per.as_str())?.weight(&Ratio::ONE),
        _ => lower_grams(per, reader)?.value,
    };
    Some(Property::Price {
        amount,
        currency,
        per,
    })
}

fn lower_absorption(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Ratio>> {
    let mut pairs = pair.into_inner();
    let change = pairs.next()?;
    let span = reader.span(change.as_span().start(), pairs.next()?.as_span().end());
    let digits = change.as_str().trim_start_matches(['+', '-']);
    let percent = lower_number(digits, reader.span_of(&change), reader)?;
    let share = share_of(&percent, span, reader)?;
    let below = change.as_str().starts_with('-');
    Some(Spanned::new(if below { -share } else { share }, span))
}
