//! Times and ranges of times: `15 min`, `1 h 30 min`, `10-14 h`, `45 min-1 h`.

use pest::iterators::Pairs;

use super::amounts::next_number;
use super::grammar::Rule;
use super::limits;
use super::reader::Reader;
use crate::diag::{Code, Diagnostic};
use crate::quantity::{Elapsed, ElapsedRange, Ratio};
use crate::source::Span;

/// Reads a time or a range of times; a bare first number takes the unit of the number after the dash.
pub(crate) fn next_time(pairs: &mut Pairs<'_, Rule>, reader: &mut Reader<'_>) -> Option<ElapsedRange> {
    let start = pairs.peek()?.as_span().start();
    let mut end = start;
    let first = next_terms(pairs, &mut end, reader);
    if pairs.peek().is_none_or(|pair| pair.as_rule() != Rule::dash) {
        return seconds(&first?.total, reader.span(start, end), reader).map(ElapsedRange::single);
    }
    pairs.next();
    let second = next_terms(pairs, &mut end, reader);
    let (first, second) = (first?, second?);
    let least = match first.bare {
        Some(count) => &count * &second.unit,
        None => first.total,
    };
    let span = reader.span(start, end);
    let range = ElapsedRange {
        least: seconds(&least, span, reader)?,
        most: seconds(&second.total, span, reader)?,
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
pub(crate) fn next_length(pairs: &mut Pairs<'_, Rule>, reader: &mut Reader<'_>) -> Option<Elapsed> {
    let start = pairs.peek()?.as_span().start();
    let mut end = start;
    let terms = next_terms(pairs, &mut end, reader)?;
    seconds(&terms.total, reader.span(start, end), reader)
}

/// `1 h 30 min`, or a number that has no unit of its own.
struct Terms {
    /// Seconds of all terms together.
    total: Ratio,
    /// Seconds in the first unit.
    unit: Ratio,
    /// The number, where no unit follows it.
    bare: Option<Ratio>,
}

/// Reads numbers and units up to a dash or to what is no part of a time.
fn next_terms(pairs: &mut Pairs<'_, Rule>, end: &mut usize, reader: &mut Reader<'_>) -> Option<Terms> {
    let mut terms = Terms {
        total: Ratio::ZERO,
        unit: Ratio::ZERO,
        bare: None,
    };
    let mut sound = true;
    while pairs.peek().is_some_and(|pair| pair.as_rule() == Rule::number) {
        let count = next_number(pairs, reader);
        sound &= count.is_some();
        if pairs.peek().is_none_or(|pair| pair.as_rule() != Rule::time_unit) {
            terms.bare = count;
            break;
        }
        let unit = pairs.next()?;
        *end = unit.as_span().end();
        let seconds = Ratio::whole(unit_seconds(unit.as_str()));
        terms.total = &terms.total + &(&count.unwrap_or_default() * &seconds);
        if terms.unit.is_zero() {
            terms.unit = seconds;
        }
    }
    sound.then_some(terms)
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
