//! Temperatures: degrees, ranges of degrees, and the words of places.

use pest::iterators::Pair;

use super::grammar::Rule;
use super::limits;
use super::numbers::lower_number;
use super::reader::Reader;
use super::times::report_backwards;
use super::tree::TemperatureWord;
use crate::diag::{Code, Diagnostic};
use crate::quantity::{Celsius, CelsiusRange, Ratio};
use crate::source::{Span, Spanned};

/// Reads `24 C`, `24-26 C` or `75 F-80 F`.
pub(crate) fn lower_degrees(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<CelsiusRange> {
    let span = reader.span_of(&pair);
    let mut numbers = [None, None];
    let mut scales = [None, None];
    let mut side = 0;
    let mut sound = true;
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::dash | Rule::stroke => side = 1,
            Rule::degree_unit => set(&mut scales, side, Some(is_fahrenheit(part.as_str()))),
            _ => {
                let number = lower_signed(&part, reader);
                sound &= number.is_some();
                set(&mut numbers, side, number);
            }
        }
    }
    let [first, second] = numbers;
    let [scale, last_scale] = scales;
    if !sound {
        return None;
    }
    let low = celsius(&first?, scale.or(last_scale)?, span, reader)?;
    let high = match second {
        Some(number) => celsius(&number, last_scale?, span, reader)?,
        None => low.clone(),
    };
    if low > high {
        report_backwards(span, "the higher temperature stands first", reader);
        return None;
    }
    Some(CelsiusRange { low, high })
}

fn set<T>(slots: &mut [T; 2], side: usize, value: T) {
    if let Some(slot) = slots.get_mut(side) {
        *slot = value;
    }
}

/// Reads a number that may have a minus in front.
fn lower_signed(pair: &Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Ratio> {
    let span = reader.span_of(pair);
    match pair.as_str().strip_prefix('-') {
        Some(digits) => lower_number(digits, span, reader).map(|value| -value),
        None => lower_number(pair.as_str(), span, reader),
    }
}

fn is_fahrenheit(unit: &str) -> bool {
    unit.contains(['f', 'F', '℉'])
}

/// Turns degrees as written into degrees Celsius within the limits.
fn celsius(degrees: &Ratio, fahrenheit: bool, span: Span, reader: &mut Reader<'_>) -> Option<Celsius> {
    let celsius = if fahrenheit {
        Celsius::of_fahrenheit(degrees)
    } else {
        Celsius(degrees.clone())
    };
    let (coldest, hottest) = limits::CELSIUS;
    if celsius.0 < Ratio::whole(coldest) || celsius.0 > Ratio::whole(hottest) {
        reader.report(
            Diagnostic::new(
                Code::BadTemperature,
                span,
                "no freezer and no oven has this temperature",
            )
            .label(format!("outside {coldest} to {hottest} C"))
            .help("look for a digit too many, or for F written as C"),
        );
        return None;
    }
    Some(celsius)
}

/// Reads the word of a place; `room temperature` is `room`.
pub(crate) fn lower_place(pair: &Pair<'_, Rule>) -> TemperatureWord {
    let word = pair.as_str().split(' ').next().unwrap_or_default();
    TemperatureWord::Place(word.to_lowercase())
}

/// Reads either of the two, with its place.
pub(crate) fn lower_temperature(
    pair: Pair<'_, Rule>,
    reader: &mut Reader<'_>,
) -> Option<Spanned<TemperatureWord>> {
    let span = reader.span_of(&pair);
    let word = match pair.as_rule() {
        Rule::degrees => TemperatureWord::Degrees(lower_degrees(pair, reader)?),
        _ => lower_place(&pair),
    };
    Some(Spanned::new(word, span))
}
