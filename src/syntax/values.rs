//! What the keys `makes` and `tin` say.

use pest::iterators::Pair;

use super::amounts::{lower_volume, lower_weight, next_number, within_dough};
use super::grammar::Rule;
use super::lengths::{millimetres, unit_millimetres};
use super::limits;
use super::numbers::lower_number;
use super::reader::Reader;
use super::readers::read_value;
use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::{Grams, Millilitres, Ratio, WeightUnit};
use crate::source::{Span, Spanned};

/// What a recipe makes: `4 dozen rolls of 60 g`, `2 loaves of 580 g baked`, `1 batch`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MakesSpec {
    /// How many pieces, a dozen counted out; above nought.
    pub count: Spanned<u32>,
    /// What a piece is called, as written: `loaves`, `rolls`, `batch`; empty behind a dozen that says no more.
    pub piece: Spanned<String>,
    /// The weight of a piece, above nought, with the unit that was written.
    pub weight: Option<Spanned<(Grams, WeightUnit)>>,
    /// Whether that weight is meant after baking; else it is the weight of its dough.
    pub baked: bool,
}

/// A tin: `lidded 20 x 10 x 10 cm`, `23 x 13 / 20 x 10 x 7 cm`, `round 20 x 7 cm`, `1.5 l`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TinSpec {
    /// `Some(true)` for `lidded`, `Some(false)` for `open`, nothing where it is not said.
    pub lidded: Option<bool>,
    /// The form with its measures.
    pub shape: TinShape,
    /// Millilitres of tin for a gram of dough; above nought.
    pub ml_per_g: Option<Spanned<Ratio>>,
}

/// The form of a tin; lengths in millimetres, exact and above nought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TinShape {
    /// A box with straight sides: length, width, height.
    Box([Ratio; 3]),
    /// A box with sloping sides.
    Tapered {
        /// Length and width at the top.
        top: [Ratio; 2],
        /// Length and width at the base.
        base: [Ratio; 2],
        /// Height.
        height: Ratio,
    },
    /// A round tin: diameter at the top, diameter at the base, height.
    Round([Ratio; 3]),
    /// Only its volume is known.
    Volume(Millilitres),
}

/// Reads the value of `makes`.
pub fn parse_makes(text: &str, span: Span, report: &mut Report) -> Option<MakesSpec> {
    read_value(Rule::makes_value, text, span, report, lower_makes)
}

/// Reads the value of `tin`.
pub fn parse_tin(text: &str, span: Span, report: &mut Report) -> Option<TinSpec> {
    read_value(Rule::tin_value, text, span, report, lower_tin)
}

fn lower_makes(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<MakesSpec> {
    let whole = reader.span_of(&pair);
    let mut pairs = pair.into_inner().peekable();
    let number = pairs.next()?;
    let mut span = reader.span_of(&number);
    let mut count = match number.as_rule() {
        Rule::one_dozen => Some(Ratio::ONE),
        Rule::half_dozen => Ratio::fraction(1, 2),
        _ => lower_number(number.as_str(), span, reader),
    };
    if let Some(dozen) = pairs.next_if(|pair| pair.as_rule() == Rule::dozen) {
        count = count.map(|dozens| &dozens * &Ratio::whole(12));
        span = span.to(reader.span_of(&dozen));
    }
    let piece = match pairs.next_if(|pair| pair.as_rule() == Rule::piece_word) {
        Some(word) => expect_piece(reader.words_of(&word), reader)?,
        None => Spanned::new(String::new(), Span::new(whole.source, span.end, span.end)),
    };
    let weight = match pairs.next() {
        Some(weight) => {
            let span = reader.span_of(&weight);
            Some(Spanned::new(
                expect_weight(lower_weight(weight, reader)?, span, reader)?,
                span,
            ))
        }
        None => None,
    };
    let count = expect_pieces(&count?, span, reader)?;
    let each = weight.as_ref().map(|weight| &weight.value.0);
    if !each.is_none_or(|each| within_dough(count, each, whole, reader)) {
        return None;
    }
    Some(MakesSpec {
        count: Spanned::new(count, span),
        piece,
        weight,
        baked: pairs.next().is_some(),
    })
}

/// Reports a word for the pieces with half a weight in it, which would be printed and not be counted.
fn expect_piece(piece: Spanned<String>, reader: &mut Reader<'_>) -> Option<Spanned<String>> {
    let has_digit = piece.value.bytes().any(|byte| byte.is_ascii_digit());
    if has_digit || piece.value == "of" || piece.value.ends_with(" of") {
        let message = format!("`{}` is no word for a piece", piece.value);
        let fault = Diagnostic::new(Code::BadValue, piece.span, message);
        reader.report(fault.help("write the weight of one piece behind `of`, as in `2 loaves of 650 g`"));
        return None;
    }
    Some(piece)
}

/// Reports a number of pieces that cannot be baked.
fn expect_pieces(count: &Ratio, span: Span, reader: &mut Reader<'_>) -> Option<u32> {
    let whole = count.floor().filter(|floor| Ratio::whole(*floor) == *count);
    let message = match whole {
        Some(0) => "no pieces at all",
        Some(count) if count > limits::COUNT => "more than a million pieces",
        Some(count) => return u32::try_from(count).ok(),
        None => "a part of a piece",
    };
    let fault = Diagnostic::new(Code::BadValue, span, message);
    reader.report(fault.help("write how many pieces as a whole number from 1 on, as in `2 loaves`"));
    None
}

fn expect_weight(
    weight: (Grams, WeightUnit),
    span: Span,
    reader: &mut Reader<'_>,
) -> Option<(Grams, WeightUnit)> {
    if weight.0.is_zero() {
        let fault = Diagnostic::new(Code::BadValue, span, "pieces that weigh nothing");
        reader.report(fault.help("write the weight of one piece, as in `of 650 g`, or leave it out"));
        return None;
    }
    Some(weight)
}

/// The numbers of a tin as they were written.
#[derive(Default)]
struct Sides {
    top: Vec<Ratio>,
    base: Option<Vec<Ratio>>,
}

fn lower_tin(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<TinSpec> {
    let whole = reader.span_of(&pair);
    let unit = last_unit(pair.clone());
    let mut lidded = None;
    let mut round = false;
    let mut sides = Sides::default();
    let mut volume = None;
    let mut ml_per_g = None;
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::volume => {
                let (count, unit) = lower_volume(part, reader)?;
                volume = Some(unit.volume(&count));
            }
            Rule::lid => lidded = Some(part.as_str().eq_ignore_ascii_case("lidded")),
            Rule::round => round = true,
            Rule::narrower => sides.base = Some(Vec::new()),
            Rule::across => {
                let length = lower_across(part, unit.as_ref(), whole, reader)?;
                sides.base.as_mut().unwrap_or(&mut sides.top).push(length);
            }
            _ => ml_per_g = Some(lower_per_gram(part, reader)?),
        }
    }
    let shape = match volume {
        Some(volume) => expect_volume(volume, whole, reader)?,
        None => shape_of(round, sides, whole, reader)?,
    };
    Some(TinSpec {
        lidded,
        shape,
        ml_per_g,
    })
}

/// Gives the unit that stands last and so holds for all numbers that have none of their own.
fn last_unit(pair: Pair<'_, Rule>) -> Option<Ratio> {
    let sides = pair.into_inner().filter(|part| part.as_rule() == Rule::across);
    let units = sides.filter_map(|side| side.into_inner().nth(1));
    units.last().map(|unit| unit_millimetres(unit.as_str()))
}

fn lower_across(
    pair: Pair<'_, Rule>,
    unit: Option<&Ratio>,
    whole: Span,
    reader: &mut Reader<'_>,
) -> Option<Ratio> {
    let span = reader.span_of(&pair);
    let mut pairs = pair.into_inner();
    let count = next_number(&mut pairs, reader)?;
    let own = pairs.next().map(|unit| unit_millimetres(unit.as_str()));
    let Some(unit) = own.as_ref().or(unit) else {
        let fault = Diagnostic::new(Code::BadValue, whole, "these lengths have no unit");
        reader.report(fault.help("write `cm`, `mm` or `in` behind them"));
        return None;
    };
    millimetres(&count, unit, span, reader)
}

fn lower_per_gram(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Ratio>> {
    let span = reader.span_of(&pair);
    let value = next_number(&mut pair.into_inner(), reader)?;
    if value.is_zero() {
        let fault = Diagnostic::new(Code::BadValue, span, "no tin at all for a gram of dough");
        reader.report(fault.help("write the millilitres of tin a gram of dough wants, as in `2.3 ml per g`"));
        return None;
    }
    Some(Spanned::new(value, span))
}

fn expect_volume(volume: Millilitres, span: Span, reader: &mut Reader<'_>) -> Option<TinShape> {
    if volume.0.is_zero() {
        let fault = Diagnostic::new(Code::BadValue, span, "a tin that holds nothing");
        reader.report(fault.help("fill the tin with water and weigh it: a gram is a millilitre"));
        return None;
    }
    Some(TinShape::Volume(volume))
}

/// Makes a form of the numbers, or says which of them is missing.
fn shape_of(round: bool, sides: Sides, span: Span, reader: &mut Reader<'_>) -> Option<TinShape> {
    let top: Result<[Ratio; 3], Vec<Ratio>> = sides.top.try_into();
    match (round, top, sides.base) {
        (false, Ok(box_sides), None) => Some(TinShape::Box(box_sides)),
        (false, Err(top), Some(base)) if top.len() == 2 && base.len() == 3 => {
            let (top, base): ([Ratio; 2], [Ratio; 3]) = (top.try_into().ok()?, base.try_into().ok()?);
            let [length, width, height] = base;
            Some(TinShape::Tapered {
                top,
                base: [length, width],
                height,
            })
        }
        (true, Err(top), None) if top.len() == 2 => {
            let [across, height]: [Ratio; 2] = top.try_into().ok()?;
            Some(TinShape::Round([across.clone(), across, height]))
        }
        (true, Err(top), Some(base)) if top.len() == 1 && base.len() == 2 => {
            let ([top], [base, height]): ([Ratio; 1], [Ratio; 2]) =
                (top.try_into().ok()?, base.try_into().ok()?);
            Some(TinShape::Round([top, base, height]))
        }
        (round, top, base) => {
            let given = top.map_or_else(|top| top.len(), |top| top.len());
            report_shape(round, given, base.map(|base| base.len()), span, reader);
            None
        }
    }
}

/// Reports a tin with too few or too many lengths.
fn report_shape(round: bool, top: usize, base: Option<usize>, span: Span, reader: &mut Reader<'_>) {
    let last = base.unwrap_or(top);
    let wanted = if round { 2 } else { 3 };
    let message = if last + 1 == wanted {
        "the height of the tin is missing"
    } else {
        "these lengths make no tin"
    };
    let help = match (round, base.is_some()) {
        (false, false) => "write length x width x height, as in `20 x 10 x 10 cm`",
        (false, true) => "write top / base x height, as in `23 x 13 / 20 x 10 x 7 cm`",
        (true, false) => "write diameter x height, as in `round 20 x 7 cm`",
        (true, true) => "write top / base x height, as in `round 23 / 20 x 7 cm`",
    };
    reader.report(Diagnostic::new(Code::BadValue, span, message).help(help));
}
