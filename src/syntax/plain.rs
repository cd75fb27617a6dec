//! The quantity or the time in front of a line, where it is as plain as in most lines.
//!
//! A recipe is mostly lines such as `68 % water`, `340 g rye flour` or `4-6 h bulk`, and asking the grammar
//! for each of their fronts takes longer than everything else together. What is exactly plain is read here;
//! anything else, above all whatever could be a fault, is left to the grammar. A test holds the two together.

use super::tree::{Quantity, StepTime};
use crate::quantity::{Elapsed, ElapsedRange, Ratio, VolumeUnit, WeightUnit};

/// What stands in front of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Front {
    /// A quantity: the line is a formula line.
    Quantity(Quantity),
    /// A time: the line is a step.
    Time(StepTime),
}

/// Digits a plain number may have before and behind its separator; none of such a size is past a limit.
const DIGITS: usize = 5;

/// Reads the front of a line, and says where it ends.
pub(crate) fn plain_front(text: &str) -> Option<(Front, usize)> {
    let bytes = text.as_bytes();
    if !bytes.first()?.is_ascii_digit() {
        return plain_word(text);
    }
    let number = plain_number(bytes)?;
    if bytes.get(number.end) == Some(&b'-') {
        return plain_range(text, &number);
    }
    let start = number.end + usize::from(bytes.get(number.end) == Some(&b' '));
    let end = unit_end(bytes, start);
    let front = with_unit(&number, text.get(start..end)?)?;
    goes_on_plainly(text.get(end..)?).then_some((front, end))
}

/// Reads `then`, `overnight`, `all` and `some`.
fn plain_word(text: &str) -> Option<(Front, usize)> {
    let (word, rest) = text.split_once(' ')?;
    let front = match word {
        "then" => Front::Time(StepTime::Then),
        "overnight" => Front::Time(StepTime::Overnight),
        "all" => Front::Quantity(Quantity::All),
        "some" => Front::Quantity(Quantity::Some),
        _ => return None,
    };
    (!rest.trim_start().starts_with("of ")).then_some((front, word.len()))
}

/// Digits, perhaps with a separator among them.
struct Number {
    /// All digits as one whole number.
    digits: i64,
    /// Ten to the power of the digits behind the separator.
    scale: i64,
    /// The byte behind the number.
    end: usize,
}

fn plain_number(bytes: &[u8]) -> Option<Number> {
    let run = |start: usize| {
        let digits = bytes.get(start..).unwrap_or_default().iter();
        digits.take_while(|byte| byte.is_ascii_digit()).count()
    };
    let whole = run(0);
    let mut end = whole;
    let mut part = 0;
    if matches!(bytes.get(whole), Some(b'.' | b',')) {
        part = run(whole + 1);
        end = whole + 1 + part;
        // Three digits behind a separator may be a thousand, which is for the grammar to judge.
        if part == 0 || part == 3 {
            return None;
        }
    }
    if whole > DIGITS || part > DIGITS || matches!(bytes.get(end), Some(b'.' | b',' | b'/')) {
        return None;
    }
    let digits = bytes.get(..end)?.iter().filter(|byte| byte.is_ascii_digit());
    Some(Number {
        digits: digits.fold(0, |sum, digit| sum * 10 + i64::from(digit - b'0')),
        scale: 10_i64.pow(u32::try_from(part).ok()?),
        end,
    })
}

fn unit_end(bytes: &[u8], start: usize) -> usize {
    if bytes.get(start) == Some(&b'%') {
        return start + 1;
    }
    let letters = bytes.get(start..).unwrap_or_default().iter();
    start + letters.take_while(|byte| byte.is_ascii_lowercase()).count()
}

fn with_unit(number: &Number, unit: &str) -> Option<Front> {
    let count = || Ratio::fraction(number.digits, number.scale);
    let weight = |unit: WeightUnit| {
        Some(Quantity::Weight {
            grams: unit.weight(&count()?),
            unit,
        })
    };
    let volume = |unit: VolumeUnit| {
        Some(Quantity::Volume {
            count: count()?,
            unit,
        })
    };
    let quantity = match unit {
        "%" if number.digits <= 10_000 * number.scale => {
            Quantity::Percent(Ratio::fraction(number.digits, 100 * number.scale)?)
        }
        "g" => weight(WeightUnit::Gram)?,
        "kg" => weight(WeightUnit::Kilogram)?,
        "oz" => weight(WeightUnit::Ounce)?,
        "part" | "parts" => Quantity::Parts(count()?),
        "ml" => volume(VolumeUnit::Millilitre)?,
        "tsp" => volume(VolumeUnit::Teaspoon)?,
        "tbsp" => volume(VolumeUnit::Tablespoon)?,
        "cup" | "cups" => volume(VolumeUnit::Cup)?,
        _ => return plain_time(number, unit).map(|time| Front::Time(takes(time, time))),
    };
    Some(Front::Quantity(quantity))
}

/// Reads a whole number of minutes, hours or days within the limit.
fn plain_time(number: &Number, unit: &str) -> Option<Elapsed> {
    let (seconds, most) = match unit {
        "min" => (60, 99_999),
        "h" => (3_600, 366 * 24),
        "day" | "days" => (86_400, 366),
        _ => return None,
    };
    let seconds = (number.scale == 1 && number.digits <= most).then_some(number.digits * seconds)?;
    u32::try_from(seconds).ok().map(|seconds| Elapsed { seconds })
}

const fn takes(least: Elapsed, most: Elapsed) -> StepTime {
    StepTime::Takes(ElapsedRange { least, most })
}

/// Reads `4-6 h`, whose first number has been read.
fn plain_range(text: &str, first: &Number) -> Option<(Front, usize)> {
    let behind = first.end + 1;
    let rest = text.get(behind..)?;
    let second = plain_number(rest.as_bytes()).filter(|number| number.end > 0)?;
    let start = second.end + usize::from(rest.as_bytes().get(second.end) == Some(&b' '));
    let end = unit_end(rest.as_bytes(), start);
    let unit = rest.get(start..end)?;
    let (least, most) = (plain_time(first, unit)?, plain_time(&second, unit)?);
    let sound = least <= most && goes_on_plainly(rest.get(end..)?);
    sound.then_some((Front::Time(takes(least, most)), behind + end))
}

/// Says whether what follows a unit can be no part of the quantity: a space, then a word.
fn goes_on_plainly(rest: &str) -> bool {
    let words = rest.trim_start_matches(' ');
    words.len() < rest.len()
        && words.starts_with(|first: char| first.is_ascii_alphabetic())
        && !["to ", "of "].iter().any(|word| {
            words
                .get(..word.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(word))
        })
}

#[cfg(test)]
mod tests {
    use super::plain_front;
    use crate::diag::Report;
    use crate::source::SourceId;
    use crate::syntax::entry::spelt_front;
    use crate::syntax::reader::Reader;
    use proptest::prelude::*;

    proptest! {
        /// What is read without the grammar is what the grammar reads.
        #[test]
        fn plain_fronts_agree_with_the_grammar(
            line in "(all|some|then|overnight|[0-9]{1,6}([.,][0-9]{1,6})?(-[0-9]{1,3})?) ?(%|g|kg|oz|ml|tsp|tbsp|cups?|parts?|min|h|days?|[a-z]{1,3}) {0,3}([a-z]{1,4}|[0-9]{1,3}|-|to) ?[a-z0-9 ]{0,5}"
        ) {
            if let Some(plain) = plain_front(&line) {
                let mut report = Report::new();
                let mut reader = Reader::new(SourceId(0), 0, &mut report);
                let spelt = spelt_front(&line, &mut reader).expect("the grammar reads it too");
                prop_assert_eq!(spelt.value, Some(plain.0));
                prop_assert_eq!(spelt.span.end, plain.1);
                prop_assert!(report.is_empty());
            }
        }
    }
}
