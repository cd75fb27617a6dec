//! The values of keys in their one form.

use super::amount::{tidy, tidy_numbers};
use super::lines::single_spaced;
use crate::source::Source;
use crate::syntax::tree::KeyLine;

/// Writes a key line whose value begins in a column, or one space behind a longer key.
pub(super) fn key_line(source: &Source, line: &KeyLine, column: usize) -> String {
    let head = format!("{}:", line.key.value);
    let written = source.slice(line.value.span).trim();
    let value = value(&line.key.value, written);
    format!("{head:<width$} {value}", width = column.saturating_sub(1))
        .trim_end()
        .to_owned()
}

/// Words stay as they are; amounts, lists and measures are tidied.
fn value(key: &str, written: &str) -> String {
    match key {
        "title" | "picture" | "author" | "source" | "revision" | "language" | "bakehouse" | "currency" => {
            written.to_owned()
        }
        "tags" => listed(written),
        "makes" => makes(written),
        "tin" | "paper" => tidy(&spread_crosses(written)),
        "asleep" => asleep(written),
        _ => tidy(written),
    }
}

/// Puts one space behind each comma of a list.
pub(super) fn listed(written: &str) -> String {
    let parts: Vec<String> = written
        .split(',')
        .map(|part| single_spaced(part.trim()))
        .collect();
    parts.join(", ")
}

/// The words between the number and the weight are what a piece is called, whatever units they look like.
fn makes(written: &str) -> String {
    let spaced = single_spaced(written);
    match spaced.rsplit_once(" of ") {
        Some((pieces, weight)) => format!("{} of {}", tidy_numbers(pieces), tidy(weight)),
        None => tidy_numbers(&spaced),
    }
}

fn asleep(written: &str) -> String {
    let parts: Vec<&str> = written
        .split(['-', '–', '—', '\u{2011}'])
        .map(str::trim)
        .collect();
    parts.join("-")
}

/// Gives the crosses of measures room: `20x10x10cm` is `20 x 10 x 10 cm`.
fn spread_crosses(written: &str) -> String {
    let mut out = String::with_capacity(written.len() + 8);
    let mut before = ' ';
    let mut rest = written.chars().peekable();
    while let Some(c) = rest.next() {
        let next = rest.peek().copied().unwrap_or(' ');
        let is_cross = matches!(c, 'x' | 'X' | '×') && !next.is_alphabetic();
        if is_cross
            && (before.is_whitespace() || before.is_ascii_digit() || matches!(before, 'm' | 'n' | '"' | '″'))
        {
            out.push_str(" x ");
        } else {
            out.push(c);
        }
        before = c;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::value;

    #[test]
    fn each_key_has_its_one_form() {
        for (key, typed, tidied) in [
            ("title", "Loaf  no 5g", "Loaf  no 5g"),
            ("makes", "2 loaves of 650g", "2 loaves of 650 g"),
            ("makes", "24 cup cakes", "24 cup cakes"),
            (
                "makes",
                "4 dozen  rolls of 2oz baked",
                "4 dozen rolls of 2 oz baked",
            ),
            ("makes", "1½ dozen buns", "1 1/2 dozen buns"),
            ("tin", "20x10x10cm", "20 x 10 x 10 cm"),
            ("tin", "round 20 × 8 cm", "round 20 x 8 cm"),
            (
                "tin",
                "23x13 / 20x10 x 7cm, 2.3ml per g",
                "23 x 13 / 20 x 10 x 7 cm, 2.3 ml per g",
            ),
            ("tin", "8\"x4\"x4\"", "8 in x 4 in x 4 in"),
            ("paper", "A4,4x6in", "A4, 4 x 6 in"),
            ("tags", "rye,  tin bread", "rye, tin bread"),
            ("asleep", "22:30 – 06:00", "22:30-06:00"),
            ("units", "g,oz", "g, oz"),
            ("keeps", "36 hours", "36 h"),
        ] {
            assert_eq!(value(key, typed), tidied, "{typed}");
            assert_eq!(value(key, tidied), tidied, "{tidied} again");
        }
    }
}
