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
    let value = match digits(text) {
        Some(value) => Some(value),
        None => read_fraction(text).or_else(|| read_decimal(text)),
    };
    let Some(value) = value else {
        report_no_number(text, span, reader);
        return None;
    };
    expect_one_meaning(text, &value, span, reader).then_some(value)
}

/// Counts the digits of a number, noughts in front left out.
fn significant_digits(text: &str) -> usize {
    let digits = text.bytes().filter(u8::is_ascii_digit);
    digits.skip_while(|&digit| digit == b'0').count()
}

/// Reads a run of digits, which the limit has let through; anything else gives nothing.
fn digits(text: &str) -> Option<Ratio> {
    let number = text.bytes().try_fold(0_i64, |value, byte| {
        let digit = byte.is_ascii_digit().then(|| i64::from(byte - b'0'))?;
        value.checked_mul(10)?.checked_add(digit)
    });
    number.filter(|_| !text.is_empty()).map(Ratio::whole)
}

/// Reads a run of digits or nothing at all, which is nought.
fn digits_or_none(text: &str) -> Option<Ratio> {
    if text.is_empty() {
        Some(Ratio::ZERO)
    } else {
        digits(text)
    }
}

/// Reads `1/2`, `1 1/2`, `½` and `1½`.
fn read_fraction(text: &str) -> Option<Ratio> {
    let (last_at, last) = text.char_indices().next_back()?;
    if let Some(part) = vulgar(last) {
        let whole = digits_or_none(text.get(..last_at)?.trim_end())?;
        return Some(&whole + &part);
    }
    let (before, below) = text.split_once(['/', '⁄'])?;
    let (whole, above) = before.rsplit_once(' ').unwrap_or(("", before));
    let part = digits(above)?.checked_div(&digits(below)?)?;
    Some(&digits_or_none(whole.trim_end())? + &part)
}

/// Reads a number with one decimal dot or comma.
fn read_decimal(text: &str) -> Option<Ratio> {
    let (whole, part) = text.split_once(['.', ','])?;
    let is_bare = part.is_empty() || whole.is_empty() && text.starts_with(',');
    if is_bare {
        return None;
    }
    let exact = || {
        let value = digits_or_none(&[whole, part].concat())?;
        let scale = 10_i64.checked_pow(u32::try_from(part.len()).ok()?)?;
        Some(&value / &Ratio::whole(scale))
    };
    exact().or_else(|| Ratio::parse_decimal(&format!("{whole}.{part}")))
}

/// Says what is wrong with something that looks like a number and is none.
fn report_no_number(text: &str, span: Span, reader: &mut Reader<'_>) {
    let separators = text.matches(['.', ',']).count();
    let by_nought = text
        .rsplit(['/', '⁄'])
        .next()
        .and_then(digits)
        .is_some_and(|below| below.is_zero());
    let (message, help) = if separators > 1 {
        let plain = without_thousands(text);
        (
            format!("`{text}` has more than one dot or comma"),
            format!("write `{plain}` without marks between the thousands, and one dot for decimals"),
        )
    } else if by_nought && text.contains(['/', '⁄']) {
        (
            format!("`{text}` divides by nought"),
            "write a fraction such as `1/2`".to_owned(),
        )
    } else {
        (
            format!("`{text}` is no number"),
            "write one number, such as `12`, `1.5` or `1 1/2`".to_owned(),
        )
    };
    reader.fault(Code::BadNumber, span, message, help);
}

/// Takes the marks between thousands out; one of another kind behind them is the decimal one.
fn without_thousands(text: &str) -> String {
    let digits = |part: &str| -> String { part.chars().filter(char::is_ascii_digit).collect() };
    match (text.find(['.', ',']), text.rfind(['.', ','])) {
        (Some(first), Some(last)) if text.get(first..=first) != text.get(last..=last) => {
            let (whole, part) = text.split_at(last);
            format!("{}.{}", digits(whole), digits(part))
        }
        _ => digits(text),
    }
}

/// Judges three digits behind a comma or a dot, which may be meant as a thousand.
fn expect_one_meaning(text: &str, value: &Ratio, span: Span, reader: &mut Reader<'_>) -> bool {
    let Some((whole, part)) = text.split_once(['.', ',']) else {
        return true;
    };
    if part.len() != 3 || !(1..=3).contains(&whole.len()) || whole.starts_with('0') {
        return true;
    }
    let thousand = [whole, part].concat();
    let small = value.to_trimmed(3);
    if text.contains(',') {
        report_ambiguous(text, &thousand, &small, span, reader);
        return false;
    }
    report_dot_thousand(text, &thousand, &small, span, reader);
    true
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
