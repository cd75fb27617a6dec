//! The keys of a bakehouse file: one reader for each, and the range in which its value makes sense.
//!
//! Owns what a key may say. The ingredients, which the starter and the old dough need, are settled before
//! those two are read.

use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::{Celsius, ClockTime, DegreesApart, Elapsed, Grams, Ratio, WeightUnit};
use crate::source::Spanned;
use crate::syntax::tree::KeyLine;

use super::mixtures;
use super::values::{self, Fault, Reader, bad_value};
use super::{Place, Scales};

/// The papers that a card can be printed on, as they are spelt.
const PAPERS: &[&str] = &["A4", "Letter", "A5", "half letter", "A6", "4 x 6 in", "5 x 8 in"];

/// Reads one key into the place; a value that cannot be leaves the place as it was.
pub(super) fn read(place: &mut Place, line: &KeyLine, report: &mut Report) {
    let key = line.key.value.as_str();
    if line.value.value.is_empty() {
        let message = format!("`{key}` says nothing");
        let help = format!(
            "write a value behind it, such as `{}`, or take the line out",
            example(key)
        );
        report.push(*bad_value(line.key.span, message, help));
        return;
    }
    match read_value(place, line, report) {
        Ok(()) => {
            place.given.insert(key.to_owned());
        }
        Err(fault) if fault.help.is_none() => {
            report.push(fault.help(format!("write it as `{}`", example(key))));
        }
        Err(fault) => report.push(*fault),
    }
}

fn read_value(place: &mut Place, line: &KeyLine, report: &mut Report) -> Result<(), Fault> {
    let value = Reader::of_key(line);
    match line.key.value.as_str() {
        "bakehouse" => place.name = Some(values::text(line, 200)?),
        "author" => place.author = Some(values::text(line, 300)?),
        "altitude" => place.altitude_m = altitude(value, report)?,
        "asleep" => place.asleep = asleep(value)?,
        "preheat" => place.preheat = preheat(value, report)?,
        "scales" => place.scales = scales(value, report)?,
        "starter" => place.starter = mixtures::starter(value, &place.catalog, report)?,
        "old dough" => place.old_dough = mixtures::old_dough(value, &place.catalog, report)?,
        "friction" => place.friction = friction(value, report)?,
        "currency" => place.currency = Some(currency(value)?),
        "units" => place.units = units(value)?,
        "paper" => place.paper = papers(value)?,
        "bake loss" => place.bake_loss = Some(Spanned::new(bake_loss(value, report)?, line.value.span)),
        "language" => place.language = Some(language(value)?),
        named => {
            let degrees = named_temperature(named, value, report)?;
            place.temperatures.insert(named.to_owned(), degrees);
        }
    }
    Ok(())
}

/// Gives a line that shows how a key is written.
fn example(key: &str) -> &'static str {
    match key {
        "bakehouse" => "bakehouse: Oxlip Row",
        "room" => "room: 20 C",
        "fridge" => "fridge: 4 C",
        "proofer" => "proofer: 27 C",
        "tap" => "tap: 12 C",
        "altitude" => "altitude: 250 m",
        "asleep" => "asleep: 22:30-06:00",
        "preheat" => "preheat: 45 min",
        "scales" => "scales: 1 g, 0.1 g under 50 g",
        "starter" => "starter: 100 % hydration, bread flour",
        "old dough" => "old dough: 65 % hydration, 2 % salt, bread flour",
        "friction" => "friction: 4 C by hand, 12 C in spiral",
        "currency" => "currency: EUR",
        "units" => "units: g, oz",
        "paper" => "paper: A4",
        "bake loss" => "bake loss: 12 %",
        "author" => "author: the night shift",
        _ => "language: en-GB",
    }
}

/// A place's temperature; one that no such place has is read, and doubted.
fn named_temperature(key: &str, value: Reader<'_>, report: &mut Report) -> Result<Celsius, Fault> {
    let degrees = values::temperature(value, report)?;
    // Wide enough for a bakery in a heat wave and for a cellar in winter; common practice, no source.
    let (low, high) = match key {
        "fridge" => (-5, 12),
        "proofer" => (10, 60),
        "tap" => (0, 60),
        _ => (0, 45),
    };
    if degrees < Celsius::whole(low) || degrees > Celsius::whole(high) {
        let message = format!("a {key} of {} °C is out of all reason", degrees.0.to_trimmed(1));
        report.push(
            Diagnostic::new(Code::OddTemperature, value.span(), message)
                .help(format!("between {low} and {high} °C would be usual")),
        );
    }
    Ok(degrees)
}

fn altitude(value: Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    const METRES: [&str; 5] = ["metres", "meters", "metre", "meter", "m"];
    const FEET: [&str; 3] = ["feet", "foot", "ft"];
    let metres = if let Some((count, _)) = value.without_last(&METRES) {
        values::number(count, report)?
    } else if let Some((count, _)) = value.without_last(&FEET) {
        // The international foot is 0.3048 m by definition.
        &(&values::number(count, report)? * &Ratio::whole(3048)) / &Ratio::whole(10_000)
    } else {
        return Err(bad_value(
            value.span(),
            "the height has no unit",
            "write `m` or `ft` behind the number",
        ));
    };
    if metres < Ratio::whole(-430) || metres > Ratio::whole(9000) {
        let message = format!("nobody bakes at {} m", metres.to_trimmed(0));
        return Err(bad_value(
            value.span(),
            message,
            "the height lies between -430 and 9000 m",
        ));
    }
    Ok(metres)
}

/// From when to when nobody is up; `never` for a bakery that works around the clock.
fn asleep(value: Reader<'_>) -> Result<Option<(ClockTime, ClockTime)>, Fault> {
    if value.rest().eq_ignore_ascii_case("never") {
        return Ok(None);
    }
    let help = "write it as `asleep: 22:30-06:00`, or `asleep: never`";
    let Some((from, to)) = value.split_at(&["-", "–", " to "]) else {
        let message = "the hours of sleep want a beginning and an end";
        return Err(bad_value(value.span(), message, help));
    };
    let read = |part: Reader<'_>| {
        let message = format!("the clock shows no `{}`", part.rest());
        clock(part.rest()).ok_or_else(|| bad_value(part.span(), message, help))
    };
    let (from, to) = (read(from)?, read(to)?);
    if from == to {
        return Err(bad_value(value.span(), "the night ends when it begins", help));
    }
    Ok(Some((from, to)))
}

/// Reads `22:30`, `6:00`, `10:30 pm`, `6 am`.
fn clock(text: &str) -> Option<ClockTime> {
    let lower = text.to_ascii_lowercase();
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim_end(), Some(0)),
        (_, Some(digits)) => (digits.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let (hour, minute) = match digits.split_once(':') {
        Some((hour, minute)) if minute.len() == 2 => (hour, minute),
        None if half.is_some() => (digits, "00"),
        _ => return None,
    };
    let number = |digits: &str| {
        let plain = digits.len() <= 2 && digits.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| digits.parse::<u16>().ok()).flatten()
    };
    let (hour, minute) = (number(hour)?, number(minute)?);
    match half {
        Some(_) if !(1..=12).contains(&hour) => None,
        Some(later) => ClockTime::new(hour % 12 + later, minute),
        None => ClockTime::new(hour, minute),
    }
}

fn preheat(value: Reader<'_>, report: &mut Report) -> Result<Elapsed, Fault> {
    let length = values::elapsed(value, report)?;
    if length > Elapsed::hours(24) {
        let message = "no oven heats up for more than a day";
        return Err(bad_value(value.span(), message, "write it as `preheat: 45 min`"));
    }
    Ok(length)
}

/// The step of the main scale, and those of finer ones with the weight up to which they serve.
fn scales(value: Reader<'_>, report: &mut Report) -> Result<Scales, Fault> {
    let help = "write it as `scales: 1 g, 0.1 g under 50 g`";
    let mut main = None;
    let mut finer = Vec::new();
    for part in value.parts() {
        let (step, under) = match part.split_at(&[" under "]) {
            Some((step, under)) => (step, Some(Grams(values::weight(under, report)?))),
            None => (part, None),
        };
        let step = values::weight(step, report)?;
        if !step.is_positive() || step > Ratio::whole(1000) {
            let message = "no scale shows steps of that size";
            return Err(bad_value(
                part.span(),
                message,
                "a step lies above nought and up to 1 kg",
            ));
        }
        if let Some(under) = under {
            finer.push((step, under, part.span()));
        } else if main.replace(step).is_some() {
            let message = "one scale too many weighs without a limit";
            return Err(bad_value(part.span(), message, help));
        }
    }
    let Some(step) = main else {
        let message = "the scale for the large weights is missing";
        return Err(bad_value(value.span(), message, help));
    };
    if let Some((_, _, span)) = finer.iter().find(|(fine, _, _)| *fine >= step) {
        let message = "the scale for small weights is no finer than the other";
        return Err(bad_value(*span, message, help));
    }
    finer.sort_by(|left, right| right.1.cmp(&left.1));
    let finer = finer.into_iter().map(|(step, under, _)| (step, under)).collect();
    Ok(Scales { step, finer })
}

/// How much each way of mixing warms a dough.
fn friction(value: Reader<'_>, report: &mut Report) -> Result<Vec<(String, DegreesApart)>, Fault> {
    let mut ways: Vec<(String, DegreesApart)> = Vec::new();
    for part in value.parts() {
        let Some((degrees, way)) = part.split_at(&[" by ", " in ", " with "]) else {
            let message = "it is not said what warms the dough";
            return Err(bad_value(
                part.span(),
                message,
                "write `by hand` or `in spiral` behind the degrees",
            ));
        };
        let warmth = degrees_apart(degrees, report)?;
        if warmth.0.is_negative() || warmth.0 > Ratio::whole(40) {
            let message = format!("mixing warms no dough by {} °C", warmth.0.to_trimmed(1));
            return Err(bad_value(
                degrees.span(),
                message,
                "between 0 and 40 °C would be usual",
            ));
        }
        let named = way.rest().to_lowercase();
        if ways.iter().any(|(known, _)| *known == named) {
            let message = format!("`{named}` is given twice");
            return Err(bad_value(way.span(), message, "keep one of the two"));
        }
        ways.push((named, warmth));
    }
    Ok(ways)
}

/// Degrees that lie between two temperatures: 24 °F of them are 13.3 °C and no frost.
fn degrees_apart(part: Reader<'_>, report: &mut Report) -> Result<DegreesApart, Fault> {
    let Some((count, unit)) = part.without_last(&["°C", "C", "°F", "F"]) else {
        let message = "the degrees are without a scale";
        return Err(bad_value(
            part.span(),
            message,
            "write `C` or `F` behind the number",
        ));
    };
    let count = values::number(count, report)?;
    Ok(if unit.ends_with('F') {
        DegreesApart::of_fahrenheit(&count)
    } else {
        DegreesApart(count)
    })
}

fn currency(value: Reader<'_>) -> Result<String, Fault> {
    let word = value.rest();
    let letters = word
        .chars()
        .all(|letter| letter.is_alphabetic() || "€£$¥₹₩₺₽".contains(letter));
    if letters && word.chars().count() <= 5 {
        Ok(word.to_uppercase())
    } else {
        let message = format!("`{word}` is no currency");
        Err(bad_value(
            value.span(),
            message,
            "write its code or its sign, as `currency: EUR`",
        ))
    }
}

pub(super) fn units(value: Reader<'_>) -> Result<Vec<WeightUnit>, Fault> {
    let mut units = Vec::new();
    for part in value.parts() {
        let unit = values::weight_unit(part)?;
        if units.contains(&unit) {
            let message = format!("`{}` is given twice", unit.symbol());
            return Err(bad_value(part.span(), message, "keep one of the two"));
        }
        units.push(unit);
    }
    Ok(units)
}

pub(super) fn papers(value: Reader<'_>) -> Result<Vec<String>, Fault> {
    let mut papers = Vec::new();
    for part in value.parts() {
        let written = part.rest().split_whitespace().collect::<Vec<_>>().join(" ");
        let Some(paper) = PAPERS.iter().find(|paper| paper.eq_ignore_ascii_case(&written)) else {
            let message = format!("`{written}` is no paper that a card can be printed on");
            return Err(bad_value(
                part.span(),
                message,
                format!("the papers are {}", PAPERS.join(", ")),
            ));
        };
        papers.push((*paper).to_owned());
    }
    Ok(papers)
}

fn bake_loss(value: Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    let loss = values::percent(value, report)?;
    if loss >= Ratio::ONE {
        let message = format!(
            "no bread loses {} % in the oven",
            (&loss * &Ratio::HUNDRED).to_trimmed(1)
        );
        return Err(bad_value(
            value.span(),
            message,
            "most breads lose between 8 and 20 %",
        ));
    }
    Ok(loss)
}

/// A language tag by the form of BCP 47, because it lands in the card's own markup.
pub(super) fn language(value: Reader<'_>) -> Result<String, Fault> {
    let mut parts = value.rest().split('-');
    let plain = |part: &str| part.bytes().all(|byte| byte.is_ascii_alphanumeric());
    let first = parts.next().is_some_and(|part| {
        (2..=3).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_alphabetic())
    });
    if first && value.rest().len() <= 35 && parts.all(|part| (1..=8).contains(&part.len()) && plain(part)) {
        Ok(value.rest().to_owned())
    } else {
        let message = format!("`{}` is no language tag", value.rest());
        Err(bad_value(
            value.span(),
            message,
            "write it as `en`, `en-GB` or `pt-BR`",
        ))
    }
}
