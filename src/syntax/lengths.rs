//! Lengths in millimetres, for tins.

use pest::iterators::Pair;

use super::amounts::next_number;
use super::grammar::Rule;
use super::limits;
use super::reader::Reader;
use crate::diag::{Code, Diagnostic};
use crate::quantity::Ratio;
use crate::source::Span;

/// Reads `NUMBER UNIT` in millimetres.
pub(crate) fn lower_millimetres(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Ratio> {
    let span = reader.span_of(&pair);
    let mut pairs = pair.into_inner();
    let count = next_number(&mut pairs, reader);
    let unit = unit_millimetres(pairs.next()?.as_str());
    millimetres(&count?, &unit, span, reader)
}

/// Gives the millimetres in a unit; the grammar has let only known spellings through.
///
/// The inch is 25.4 mm by definition (NIST Special Publication 811, appendix B; from memory, not looked up).
pub(crate) fn unit_millimetres(word: &str) -> Ratio {
    match word.as_bytes().first().map(u8::to_ascii_lowercase) {
        Some(b'c') => Ratio::whole(10),
        Some(b'm') => Ratio::ONE,
        _ => Ratio::fraction(127, 5).unwrap_or_default(),
    }
}

/// Multiplies out, within the limits.
pub(crate) fn millimetres(count: &Ratio, unit: &Ratio, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    let length = count * unit;
    if length.is_zero() {
        let fault = Diagnostic::new(Code::BadValue, span, "a length of nought");
        reader.report(fault.help("measure the tin inside, from rim to rim and down to its base"));
        return None;
    }
    if length > Ratio::whole(limits::MILLIMETRES) {
        let fault = Diagnostic::new(Code::AbsurdAmount, span, "longer than ten metres");
        reader.report(fault.help("look for a digit too many or a unit mistaken for another"));
        return None;
    }
    Some(length)
}
