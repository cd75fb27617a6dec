//! No input makes the program fall over: the shipped recipes, edited at random, ten thousand times.
//!
//! The edits are those of tired hands and of bad tools: lines lost, doubled and swapped, letters and numbers
//! changed, pieces of one recipe put into another.

use proptest::prelude::*;

use super::cases;
use super::sums::{bakehouse, shipped};
use crate::bread::bake;

/// Pieces that the language gives a meaning to, and some that it must not choke on.
const PIECES: &[&str] = &[
    "100 %",
    "0 g",
    "-3 g",
    "1/0",
    "1,000 g",
    "½",
    "999999999 kg",
    "all",
    "some",
    "then",
    "overnight",
    "1 part",
    "2-1 h",
    "at fridge",
    "until core 92 C",
    "with 9 folds every 1 min",
    ": ",
    "dough:",
    "formula:",
    "levain, 5 % of \
    the flour:",
    "filling, 3 g each:",
    "variation x:",
    "  in levain",
    "  without salt",
    "instead of",
    "after mix",
    "#",
    "\t",
    "\r\n",
    "\u{feff}",
    "\u{202e}",
    "\0",
    "🍞",
    "é",
    "tin: 0 x 0 x 0 cm",
    "makes: 0 loaves of 0 g",
    "bake 2026-02-30:",
    "hydration 0 %",
    "as flour",
    "3000 C",
    "notes:",
    "    ",
];

/// What is done to a text: which, where and with what.
type Edit = (u8, usize, usize, usize);

fn change(text: &mut Vec<char>, other: &[char], (kind, from, to, piece): Edit) {
    let length = text.len().max(1);
    let (from, to) = (from % length, to % length);
    let (start, end) = (from.min(to).min(text.len()), from.max(to).min(text.len()));
    match kind % 6 {
        0 => {
            text.drain(start..end.min(start + 40));
        }
        1 => {
            let put = PIECES[piece % PIECES.len()].chars();
            text.splice(start..start, put);
        }
        2 => {
            let copied: Vec<char> = text[start..end.min(start + 200)].to_vec();
            text.splice(end..end, copied);
        }
        3 => {
            let digits = text
                .iter()
                .enumerate()
                .skip(start)
                .find(|(_, letter)| letter.is_ascii_digit());
            if let Some((at, _)) = digits {
                text[at] = char::from(b'0' + u8::try_from(piece % 10).unwrap());
            }
        }
        4 => {
            let taken = other.iter().skip(piece % other.len().max(1)).take(120).copied();
            text.splice(start..start, taken);
        }
        _ => swap_lines(text, start, end),
    }
}

/// Swaps the lines that two places stand in.
fn swap_lines(text: &mut Vec<char>, first: usize, second: usize) {
    let joined: String = text.iter().collect();
    let mut lines: Vec<&str> = joined.split('\n').collect();
    let line_of = |at: usize| text.iter().take(at).filter(|letter| **letter == '\n').count();
    let (first, second) = (line_of(first), line_of(second));
    lines.swap(first, second);
    *text = lines.join("\n").chars().collect();
}

/// Makes every edit of a list.
fn edited(text: &str, other: &str, edits: Vec<Edit>) -> String {
    let (mut text, other): (Vec<char>, Vec<char>) = (text.chars().collect(), other.chars().collect());
    for edit in edits {
        change(&mut text, &other, edit);
    }
    text.into_iter().collect()
}

proptest! {
    #![proptest_config(cases(500))]

    #[test]
    fn no_edit_of_a_bakehouse_makes_it_fall_over(
        which in 0_usize..64,
        edits in prop::collection::vec(any::<Edit>(), 1..6),
    ) {
        let shipped = shipped();
        let (_, text) = &shipped[which % shipped.len()];
        let bakehouse = edited(&bakehouse("1 g"), text, edits);
        let bread = bake(text, Some(&bakehouse), None);
        prop_assert!(bread.compiled.plain.is_some() || bread.report.has_errors(), "{}", bakehouse);
    }
}

proptest! {
    #![proptest_config(cases(10_000))]

    #[test]
    fn no_edit_makes_it_fall_over(
        which in 0_usize..64,
        other in 0_usize..64,
        edits in prop::collection::vec(any::<Edit>(), 1..6),
    ) {
        let shipped = shipped();
        let (_, text) = &shipped[which % shipped.len()];
        let (_, other) = &shipped[other % shipped.len()];
        let text = edited(text, other, edits);
        let bread = bake(&text, None, None);
        // Whoever gets no card is told why; a faulty variation alone still leaves the plain one.
        match bread.compiled.plain {
            Some(_) => prop_assert!(bread.page().trim_end().ends_with("</html>"), "{}", text),
            None => prop_assert!(bread.report.has_errors(), "{}", text),
        }
    }
}
