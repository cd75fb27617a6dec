//! Numbers that a reader may ask for at another size, in another unit or on another scale: they stand between
//! marks that say how to work them out anew. Owns the marks and the parting of a text into marked and plain runs.
//!
//! A mark is made of control characters, which no text of a recipe can hold. What a forged one could do is make
//! a number of words: the key is a closed form, and every run is still text.

use crate::quantity::Ratio;

/// Opens a mark; the key follows.
const START: char = '\u{1}';
/// Ends the key; the number as it is shown follows.
const MIDDLE: char = '\u{2}';
/// Ends the number.
const END: char = '\u{3}';

/// How a number that is shown comes about.
#[derive(Clone, Copy, Debug)]
pub(super) enum Key<'a> {
    /// What a line of a block weighs in the unit that stands first; block and line by their places.
    Line(usize, usize),
    /// The same in the other unit.
    LineOther(usize, usize),
    /// What a block weighs in the unit that stands first.
    Total(usize),
    /// The same in the other unit.
    TotalOther(usize),
    /// A weight that grows with the number of pieces.
    Growing(&'a Ratio),
    /// A weight that is the same for any number of pieces.
    Fixed(&'a Ratio),
    /// The number of pieces.
    Pieces(&'a Ratio),
    /// What the pieces are called, for their number.
    PieceName,
    /// A count or volume that grows with the number of pieces.
    Measure(&'a Ratio),
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// What parts the two.
    Between,
}

impl Key<'_> {
    fn text(self) -> String {
        match self {
            Self::Line(block, line) => format!("l{block}.{line}"),
            Self::LineOther(block, line) => format!("o{block}.{line}"),
            Self::Total(block) => format!("t{block}"),
            Self::TotalOther(block) => format!("u{block}"),
            Self::Growing(grams) => format!("g{grams}"),
            Self::Fixed(grams) => format!("e{grams}"),
            Self::Pieces(count) => format!("n{count}"),
            Self::PieceName => "w".to_owned(),
            Self::Measure(count) => format!("m{count}"),
            Self::Celsius => "c".to_owned(),
            Self::Fahrenheit => "f".to_owned(),
            Self::Between => "x".to_owned(),
        }
    }
}

/// Puts a shown number between marks.
pub(super) fn marked(key: Key<'_>, shown: &str) -> String {
    format!("{START}{}{MIDDLE}{shown}{END}", key.text())
}

/// A run of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run<'a> {
    /// Plain text.
    Plain(&'a str),
    /// A number with its key: a letter, then digits, dots, strokes and signs.
    Live(&'a str, &'a str),
}

/// Says whether a text has marked numbers.
#[must_use]
pub fn is_live(text: &str) -> bool {
    text.contains(START)
}

/// Parts a text into plain and marked runs; a mark that is not whole is plain text without its signs.
pub fn runs(text: &str) -> impl Iterator<Item = Run<'_>> {
    let mut pieces = text.split(START);
    let first = pieces.next().map(Run::Plain);
    let rest = pieces.flat_map(|piece| match cut(piece) {
        Some((key, shown, behind)) => [Run::Live(key, shown), Run::Plain(behind)],
        None => [Run::Plain(""), Run::Plain(piece)],
    });
    first.into_iter().chain(rest)
}

fn cut(piece: &str) -> Option<(&str, &str, &str)> {
    let (key, rest) = piece.split_once(MIDDLE)?;
    let (shown, behind) = rest.split_once(END)?;
    let mut letters = key.bytes();
    let is_key = letters.next().is_some_and(|first| first.is_ascii_lowercase())
        && letters.all(|byte| byte.is_ascii_digit() || b"./-".contains(&byte));
    is_key.then_some((key, shown, behind))
}

#[cfg(test)]
mod tests {
    use super::{Key, Run, is_live, marked, runs};
    use crate::quantity::Ratio;

    #[test]
    fn a_text_is_parted_at_its_marks() {
        let third = Ratio::fraction(1000, 3).unwrap_or_default();
        let text = format!(
            "of {}, {} left",
            marked(Key::Growing(&third), "333 g"),
            marked(Key::Line(2, 1), "5 g")
        );
        assert!(is_live(&text) && !is_live("333 g"));
        let parted: Vec<Run<'_>> = runs(&text).collect();
        assert_eq!(
            parted,
            [
                Run::Plain("of "),
                Run::Live("g1000/3", "333 g"),
                Run::Plain(", "),
                Run::Live("l2.1", "5 g"),
                Run::Plain(" left")
            ]
        );
    }

    #[test]
    fn a_forged_mark_is_text() {
        for forged in [
            "\u{1}g1",
            "\u{1}\" onload=x\u{2}5\u{3}",
            "\u{1}\u{2}\u{3}",
            "\u{1}g1\u{2}",
        ] {
            assert!(runs(forged).all(|run| matches!(run, Run::Plain(_))), "{forged:?}");
        }
    }
}
