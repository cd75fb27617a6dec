//! Lines of an ingredient's entry in a bakehouse.

use pest::iterators::{Pair, Pairs};

use super::amounts::{next_number, next_share, next_weight, share_of, volume_unit, weight_unit};
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
        Rule::energy => Property::Energy(spanned(pair, reader, next_number)?),
        Rule::each => Property::Each(spanned(pair, reader, next_grams)?),
        Rule::per_volume => lower_per_volume(pair, reader)?,
        Rule::price => lower_price(pair, reader)?,
        _ => Property::Absorption(lower_absorption(pair, reader)?),
    })
}

fn next_grams(pairs: &mut Pairs<'_, Rule>, reader: &mut Reader<'_>) -> Option<Grams> {
    next_weight(pairs, reader).map(|(grams, _)| grams)
}

/// Reads the amount inside a pair and ties it to the place of its tokens.
fn spanned<T>(
    pair: Pair<'_, Rule>,
    reader: &mut Reader<'_>,
    next: impl FnOnce(&mut Pairs<'_, Rule>, &mut Reader<'_>) -> Option<T>,
) -> Option<Spanned<T>> {
    let mut pairs = pair.into_inner();
    next_spanned(&mut pairs, reader, next)
}

/// Reads the amount that stands next and ties it to the place of its tokens.
fn next_spanned<T>(
    pairs: &mut Pairs<'_, Rule>,
    reader: &mut Reader<'_>,
    next: impl FnOnce(&mut Pairs<'_, Rule>, &mut Reader<'_>) -> Option<T>,
) -> Option<Spanned<T>> {
    let before = pairs.clone();
    let start = pairs.peek()?.as_span().start();
    let value = next(pairs, reader);
    let taken = before.len() - pairs.len();
    let end = before.take(taken).last()?.as_span().end();
    Some(Spanned::new(value?, reader.span(start, end)))
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
    let share = next_spanned(&mut pairs, reader, next_share)?;
    let nutrient = reader.words_of(&pairs.next()?);
    Some(Property::Share { share, nutrient })
}

fn lower_per_volume(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    let mut pairs = pair.into_inner();
    let grams = next_spanned(&mut pairs, reader, next_grams)?;
    let unit = volume_unit(pairs.next()?.as_str())?;
    Some(Property::PerVolume { grams, unit })
}

fn lower_price(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Property> {
    let mut pairs = pair.into_inner();
    let amount = next_spanned(&mut pairs, reader, next_number)?;
    let currency = reader.words_of(&pairs.next()?);
    let per = match pairs.peek()?.as_rule() {
        Rule::weight_unit => weight_unit(pairs.next()?.as_str())?.weight(&Ratio::ONE),
        _ => next_grams(&mut pairs, reader)?,
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
