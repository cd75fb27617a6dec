//! A number as it was typed to an exact fraction, and what two bakers would read differently.

use super::limits;
use super::reader::Reader;
use crate::diag::{Code, Diagnostic};
use crate::quantity::Ratio;
use crate::source::Span;

/// Reads a number that the grammar let through; reports and gives nothing where it cannot be trusted.
pub(crate) fn lower_number(text: &str, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    if text.len() > limits::NUMBER_CHARACTERS && text.chars().count() > limits::NUMBER_CHARACTERS {
        let message = format!("a number of more than {} characters", limits::NUMBER_CHARACTERS);
        reader.fault(Code::BadNumber, span, message, "write it with fewer digits");
        return None;
    }
    if significant_digits(text) > limits::NUMBER_DIGITS {
        let message = format!("`{text}` has more than {} digits", limits::NUMBER_DIGITS);
        reader.fault(
            Code::BadNumber,
            span,
            message,
            "no scale shows that many; leave out the last ones",
        );
        return None;
    }
    if let Some(value) = text.chars().next_back().and_then(vulgar) {
        let whole = text.trim_end_matches(|letter: char| !letter.is_ascii_digit());
        return Some(&whole_number(whole) + &value);
    }
    if let Some(at) = text.find(['/', '⁄']) {
        return lower_fraction(text, at, span, reader);
    }
    lower_decimal(text, span, reader)
}

/// Counts the digits of a number, noughts in front left out.
fn significant_digits(text: &str) -> usize {
    text.bytes()
        .filter(u8::is_ascii_digit)
        .skip_while(|&digit| digit == b'0')
        .count()
}

/// Reads a run of digits that the length limit has let through; an empty run is nought.
fn whole_number(digits: &str) -> Ratio {
    Ratio::whole(digits.bytes().fold(0, |value: i64, digit| {
        value
            .saturating_mul(10)
            .saturating_add(i64::from(digit.wrapping_sub(b'0')))
    }))
}

/// Reads `1/2` and `1 1/2`.
fn lower_fraction(text: &str, slash: usize, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    let (before, behind) = text.split_at(slash);
    let below = behind.trim_start_matches(['/', '⁄']);
    let (whole, above) = before.rsplit_once(' ').unwrap_or(("", before));
    let Some(part) = whole_number(above).checked_div(&whole_number(below)) else {
        let message = format!("`{text}` divides by nought");
        reader.fault(Code::BadNumber, span, message, "write a fraction such as `1/2`");
        return None;
    };
    Some(&whole_number(whole.trim()) + &part)
}

/// Reads a number with a decimal dot or comma, or with neither.
fn lower_decimal(text: &str, span: Span, reader: &mut Reader<'_>) -> Option<Ratio> {
    let mut separators = text.match_indices(['.', ',']);
    let Some((at, separator)) = separators.next() else {
        return Some(whole_number(text));
    };
    if separators.next().is_some() {
        let plain: String = text.chars().filter(char::is_ascii_digit).collect();
        let message = format!("`{text}` has more than one dot or comma");
        let help = format!("write `{plain}` without marks between the thousands, and one dot for decimals");
        reader.fault(Code::BadNumber, span, message, help);
        return None;
    }
    let (whole, part) = (text.get(..at)?, text.get(at + 1..)?);
    let value = decimal(whole, part)?;
    if part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
        let thousand = format!("{whole}{part}");
        let small = value.to_trimmed(3);
        if separator == "," {
            report_ambiguous(text, &thousand, &small, span, reader);
            return None;
        }
        report_dot_thousand(text, &thousand, &small, span, reader);
    }
    Some(value)
}

fn report_ambiguous(text: &str, thousand: &str, small: &str, span: Span, reader: &mut Reader<'_>) {
    reader.report(
        Diagnostic::new(
            Code::AmbiguousNumber,
            span,
            format!("`{text}` is {thousand} to one baker and {small} to another"),
        )
        .label("three digits after a comma")
        .help(format!("write `{thousand}` or `{small}`")),
    );
}

fn report_dot_thousand(text: &str, thousand: &str, small: &str, span: Span, reader: &mut Reader<'_>) {
    reader.report(
        Diagnostic::new(Code::DotThousand, span, format!("`{text}` is read as {small}"))
            .label("three digits after a dot")
            .help(format!(
                "write `{thousand}` if thousands are meant, else `{small}`"
            )),
    );
}

/// Makes an exact number of the digits before and behind the separator.
fn decimal(whole: &str, part: &str) -> Option<Ratio> {
    if whole.len() + part.len() > 18 {
        return Ratio::parse_decimal(&format!("{whole}.{part}"));
    }
    let digits = whole.bytes().chain(part.bytes());
    let numerator = digits.fold(0_i64, |value, digit| value * 10 + i64::from(digit - b'0'));
    Ratio::fraction(numerator, 10_i64.pow(u32::try_from(part.len()).ok()?))
}

/// Gives the value of a fraction that is one character.
pub(crate) fn vulgar(letter: char) -> Option<Ratio> {
    let (above, below) = match letter {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Ratio::fraction(above, below)
}
