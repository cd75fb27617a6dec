//! Times and ranges of times: `15 min`, `1 h 30 min`, `10-14 h`, `45 min-1 h`.

use pest::iterators::Pair;

use super::amounts::next_number;
use super::grammar::Rule;
use super::limits;
use super::numbers::lower_number;
use super::reader::Reader;
use crate::diag::{Code, Diagnostic};
use crate::quantity::{Elapsed, ElapsedRange, Ratio};
use crate::source::Span;

/// Reads a time or a range of times; a bare first number takes the unit of the number after the dash.
pub(crate) fn lower_time(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<ElapsedRange> {
    let span = reader.span_of(&pair);
    let mut pairs = pair.into_inner();
    let first = pairs.next()?;
    let second = pairs.nth(1);
    let bare = (first.as_rule() == Rule::number)
        .then(|| lower_number(first.as_str(), reader.span_of(&first), reader));
    let Some(second) = second else {
        return seconds(&lower_terms(first, reader)?.total, span, reader).map(ElapsedRange::single);
    };
    let least = match &bare {
        Some(_) => None,
        None => lower_terms(first, reader),
    };
    let most = lower_terms(second, reader)?;
    let least = match bare {
        Some(count) => &count? * &most.unit,
        None => least?.total,
    };
    let range = ElapsedRange {
        least: seconds(&least, span, reader)?,
        most: seconds(&most.total, span, reader)?,
    };
    if range.least > range.most {
        report_backwards(span, "the longer time stands first", reader);
        return None;
    }
    Some(range)
}

/// Reports a range whose end lies before its start.
pub(crate) fn report_backwards(span: Span, what: &str, reader: &mut Reader<'_>) {
    let fault = Diagnostic::new(Code::RangeBackwards, span, "this range runs backwards").label(what);
    reader.report(fault.help("write the smaller number first"));
}

/// Reads a time without a range.
pub(crate) fn lower_length(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Elapsed> {
    let span = reader.span_of(&pair);
    seconds(&lower_terms(pair, reader)?.total, span, reader)
}

/// `1 h 30 min` in seconds.
struct Terms {
    /// Seconds of all terms together.
    total: Ratio,
    /// Seconds in the first unit.
    unit: Ratio,
}

/// Adds up numbers with their units.
fn lower_terms(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Terms> {
    let mut pairs = pair.into_inner();
    let mut terms: Option<Terms> = None;
    let mut sound = true;
    while pairs.peek().is_some() {
        let count = next_number(&mut pairs, reader);
        sound &= count.is_some();
        let unit = Ratio::whole(unit_seconds(pairs.next()?.as_str()));
        let total = &count.unwrap_or_default() * &unit;
        terms = Some(match terms {
            Some(terms) => Terms {
                total: &terms.total + &total,
                ..terms
            },
            None => Terms { total, unit },
        });
    }
    terms.filter(|_| sound)
}

/// Gives the seconds in a unit of time; the grammar has let only known spellings through.
fn unit_seconds(word: &str) -> i64 {
    match word.as_bytes().first().map(u8::to_ascii_lowercase) {
        Some(b'm') => 60,
        Some(b'h') => 3600,
        Some(b'd') => 24 * 3600,
        Some(b'w') => 7 * 24 * 3600,
        _ => 1,
    }
}

/// Rounds to whole seconds, within the limit.
fn seconds(total: &Ratio, span: Span, reader: &mut Reader<'_>) -> Option<Elapsed> {
    let rounded = total.round().filter(|seconds| *seconds <= limits::SECONDS);
    let Some(seconds) = rounded.and_then(|seconds| u32::try_from(seconds).ok()) else {
        let help = "look for a digit too many or a unit mistaken for another";
        reader.fault(Code::TimeTooLong, span, "a time of more than 366 days", help);
        return None;
    };
    Some(Elapsed { seconds })
}
