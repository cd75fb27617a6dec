//! Slips of numbers: signs, other notations, other scripts, thousands set apart.

use crate::diag::{Code, Diagnostic};
use crate::syntax::numbers::vulgar;
use crate::syntax::reader::Reader;

/// What is wrong with the number at the start of a text, and how many bytes it takes.
struct Slip {
    code: Code,
    length: usize,
    message: String,
    help: String,
}

/// Reports what is wrong with the number that the value of a key begins with; says whether something is.
pub(super) fn report_value_figure(text: &str, reader: &mut Reader<'_>) -> bool {
    report(
        text,
        "leave the minus out: such a number is never below nought",
        reader,
    )
}

/// Reports what is wrong with the number that a line begins with; says whether something is.
pub(super) fn report_figure(text: &str, reader: &mut Reader<'_>) -> bool {
    let help = "write how much goes in, or how long it takes; a variation takes things out with `without`";
    report(text, help, reader)
}

fn report(text: &str, below_nought: &str, reader: &mut Reader<'_>) -> bool {
    let Some(slip) = sign(text, below_nought)
        .or_else(|| no_number(text))
        .or_else(|| other_script(text))
        .or_else(|| notation(text))
        .or_else(|| spaced_thousands(text))
    else {
        return false;
    };
    let span = reader.span(0, slip.length);
    reader.report(Diagnostic::new(slip.code, span, slip.message).help(slip.help));
    true
}

fn bad_number(length: usize, message: String, help: impl Into<String>) -> Slip {
    Slip {
        code: Code::BadNumber,
        length,
        message,
        help: help.into(),
    }
}

/// Gives the text up to the first space.
fn token(text: &str) -> &str {
    text.split(' ').next().unwrap_or_default()
}

/// Gives how many bytes at the start of a text belong to a number as people write them.
fn figure_length(text: &str) -> usize {
    text.find(|letter: char| !letter.is_numeric() && !"+-\u{2212}–.,/_'’⁄".contains(letter))
        .unwrap_or(text.len())
}

fn sign(text: &str, below_nought: &str) -> Option<Slip> {
    let first = text
        .chars()
        .next()
        .filter(|first| "+-–\u{2212}".contains(*first))?;
    let rest = text.get(first.len_utf8()..)?.trim_start();
    if !rest.starts_with(|letter: char| letter.is_numeric() || letter == '.') {
        return None;
    }
    let length = text.len() - rest.len() + figure_length(rest);
    let written = text.get(..length)?;
    Some(match first {
        '+' => bad_number(
            length,
            format!("a plus before the number in `{written}`"),
            "leave the plus out",
        ),
        '\u{2212}' => bad_number(
            length,
            format!("a typographic minus in `{written}`"),
            "write a plain hyphen for degrees below nought; an amount is never below it",
        ),
        _ => Slip {
            code: Code::NegativeAmount,
            length,
            message: format!("`{written}` is below nought"),
            help: below_nought.to_owned(),
        },
    })
}

/// Finds the words that programs use for what is no number.
fn no_number(text: &str) -> Option<Slip> {
    let word = token(text);
    let bare = word.trim_start_matches(['-', '+']).to_ascii_lowercase();
    ["nan", "inf", "infinity", "infinite"]
        .contains(&bare.as_str())
        .then(|| {
            bad_number(
                word.len(),
                format!("`{word}` is no amount"),
                "write how much in digits",
            )
        })
}

fn other_script(text: &str) -> Option<Slip> {
    let length = text
        .find(|letter: char| !letter.is_numeric())
        .unwrap_or(text.len());
    let digits = text.get(..length)?;
    let foreign = digits
        .chars()
        .any(|digit| !digit.is_ascii() && vulgar(digit).is_none());
    foreign.then(|| {
        let message = format!("the digits of `{digits}` are of another script");
        bad_number(length, message, "write the digits 0 to 9")
    })
}

/// Finds the notations of programs, and marks among digits.
fn notation(text: &str) -> Option<Slip> {
    let length = figure_length(text);
    let digits = text.get(..length)?;
    let word = token(text);
    if !digits.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    if let Some(hex) = word.get(..2).filter(|start| start.eq_ignore_ascii_case("0x")) {
        let help = format!("write it in digits from 0 to 9, without `{hex}`");
        return Some(bad_number(
            word.len(),
            format!("`{word}` is written as programs do"),
            help,
        ));
    }
    if let Some(exponent) = exponent_length(word, length) {
        let written = word.get(..exponent)?;
        let message = format!("`{written}` is written as programs do");
        return Some(bad_number(exponent, message, "write the number out in digits"));
    }
    digits.contains(['_', '\'', '’']).then(|| {
        let plain: String = digits
            .chars()
            .filter(|letter| letter.is_ascii_digit() || *letter == '.')
            .collect();
        let message = format!("`{digits}` has marks between its digits");
        bad_number(length, message, format!("write `{plain}`"))
    })
}

/// Gives the length of `1e3` or `1.5e-3`, whose digits have been counted up to the letter.
fn exponent_length(word: &str, digits: usize) -> Option<usize> {
    let rest = word.get(digits..)?.strip_prefix(['e', 'E'])?;
    let power = rest.trim_start_matches(['+', '-']);
    let length = power.bytes().take_while(u8::is_ascii_digit).count();
    (length > 0).then_some(word.len() - power.len() + length)
}

/// Finds `1 000`, thousands set apart by a space.
fn spaced_thousands(text: &str) -> Option<Slip> {
    let mut groups = text.split(' ');
    let first = groups.next()?;
    if !(1..=3).contains(&first.len()) || !first.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let mut length = first.len();
    let mut plain = first.to_owned();
    for group in groups.filter(|group| !group.is_empty()) {
        let digits = group.bytes().take_while(u8::is_ascii_digit).count();
        if digits != 3 {
            break;
        }
        let start = length + text.get(length..)?.find(|letter| letter != ' ')?;
        length = start + 3;
        plain.push_str(group.get(..3)?);
    }
    (length > first.len()).then(|| {
        let written = text.get(..length).unwrap_or_default();
        let message = format!("`{written}` has a space among its digits");
        bad_number(length, message, format!("write `{plain}`"))
    })
}
