//! What holds for any text: nothing falls over, no line is lost, and line ends make no difference.

use loafwright::source::{Source, SourceId, Span};
use loafwright::syntax::tree::{Block, BodyItem, EntryKind, Item, Prose, Tree};
use loafwright::syntax::{decode, dump, parse};
use proptest::prelude::*;
use proptest::sample::{Index, select};

const RECIPE: &str = include_str!("../../cases/syntax/milk-tin.loaf");
const CHANGES: &str = include_str!("../../cases/syntax/variations.loaf");
const BAKEHOUSE: &str = include_str!("../../cases/syntax/bakehouse.loaf");

/// Pieces that a slip of the hand, or an evil one, may put anywhere.
const PIECES: &[&str] = &[
    " ",
    "  ",
    "\t",
    "\n",
    "\r\n",
    "\r",
    "#",
    " # ",
    ":",
    ",",
    ", ",
    "%",
    "½",
    "1/0",
    "-",
    "–",
    "−",
    "0x1F",
    "1,000",
    "1.000,5",
    "٣",
    "°",
    "C",
    " at ",
    " at 20 C",
    " to ",
    " until ",
    " with 2 folds every ",
    " as ",
    " instead of ",
    " after ",
    " hydration 80 %",
    "in the fridge",
    "then ",
    "overnight ",
    "all ",
    "some ",
    "without ",
    "note ",
    "dough",
    "levain night:",
    "variation x:",
    "<<<<<<< a",
    "\u{feff}",
    "\u{200d}",
    "\u{202e}",
    "é",
    "🍞",
    "\u{0}",
    "99999999999999999999",
    "((((",
    "> > >",
    "\u{a0}",
    "\u{2028}",
];

/// Edits a text at places given as shares of its length.
fn edited(text: &str, edits: &[(Index, usize, &'static str)]) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for (place, cut, piece) in edits {
        let at = place.index(letters.len() + 1);
        let end = (at + cut).min(letters.len());
        letters.splice(at..end, piece.chars());
    }
    letters.into_iter().collect()
}

fn any_file() -> impl Strategy<Value = String> {
    let edits = prop::collection::vec((any::<Index>(), 0_usize..6, select(PIECES)), 0..12);
    let edited =
        (select(&[RECIPE, CHANGES, BAKEHOUSE][..]), edits).prop_map(|(text, edits)| edited(text, &edits));
    prop_oneof![4 => edited, 1 => "\\PC{0,200}", 1 => "[ \\t\\n\\r0-9a-z:#,./%½−-]{0,200}"]
}

fn source(text: &str) -> Source {
    Source::new(SourceId(0), "any.loaf", text)
}

/// The spans that hold all that is written, each written character in one of them.
fn leaves(tree: &Tree) -> Vec<Span> {
    let mut spans = Vec::new();
    for item in &tree.items {
        match item {
            Item::Blank(span) | Item::Comment(span) | Item::Junk(span) => spans.push(*span),
            Item::Key(key) => spans.extend([Some(key.span), key.comment].into_iter().flatten()),
            Item::Block(block) => block_leaves(block, &mut spans),
        }
    }
    spans.sort();
    spans
}

fn block_leaves(block: &Block, spans: &mut Vec<Span>) {
    spans.extend([Some(block.header), block.comment].into_iter().flatten());
    let prose_lines = |prose: &Prose| prose.lines.iter().map(|line| line.span).collect::<Vec<_>>();
    for item in &block.body {
        match item {
            BodyItem::Blank(span) | BodyItem::Comment(span) | BodyItem::Junk(span) => spans.push(*span),
            BodyItem::Prose(prose) => spans.extend(prose_lines(prose)),
            BodyItem::Entry(entry) => {
                spans.extend([Some(entry.span), entry.comment].into_iter().flatten());
                spans.extend(entry.prose.iter().flat_map(prose_lines));
            }
        }
    }
}

/// Says which written characters stand in no leaf; the colon and the spaces between leaves carry nothing.
fn unaccounted(text: &str, spans: &[Span]) -> String {
    let held = |at: usize| spans.iter().any(|span| (span.start..span.end).contains(&at));
    let silent = |letter: char| letter.is_whitespace() || letter == '\u{feff}';
    text.char_indices()
        .filter(|(at, letter)| !silent(*letter) && !held(*at))
        .map(|(_, letter)| letter)
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_500))]

    #[test]
    fn nothing_falls_over_and_no_line_is_lost(text in any_file()) {
        let source = source(&text);
        let (tree, report) = parse(&source);
        let spans = leaves(&tree);
        for pair in spans.windows(2) {
            prop_assert!(pair[0].end <= pair[1].start, "{pair:?}");
        }
        let lost = unaccounted(&text, &spans);
        prop_assert!(lost.is_empty(), "lost {lost:?}");
        let junk = dump(&source, &tree).lines().any(|line| line.trim_start().starts_with("junk"));
        prop_assert!(!junk || report.has_errors(), "a line is junk without an error");
        for fault in report.iter() {
            prop_assert!(text.get(fault.primary.span.start..fault.primary.span.end).is_some(), "{fault:?}");
        }
    }

    #[test]
    fn items_stand_in_the_order_of_the_page(text in any_file()) {
        let (tree, _) = parse(&source(&text));
        let starts: Vec<usize> = tree.items.iter().map(|item| match item {
            Item::Blank(span) | Item::Comment(span) | Item::Junk(span) => span.start,
            Item::Key(key) => key.span.start,
            Item::Block(block) => block.span.start,
        }).collect();
        prop_assert!(starts.is_sorted());
    }

    #[test]
    fn line_ends_make_no_difference(text in any_file()) {
        let plain = text.replace("\r\n", "\n").replace('\r', "\n");
        let of = |text: &str| {
            let source = source(text);
            let (tree, report) = parse(&source);
            let faults: Vec<_> = report.iter().map(|fault| (fault.code, fault.message.clone())).collect();
            // Junk is shown as it stands, line ends and all.
            let shown = dump(&source, &tree).replace("\r\n", "\n").replace('\r', "\n");
            (shown, faults)
        };
        prop_assert_eq!(of(&plain), of(&plain.replace('\n', "\r\n")));
        prop_assert_eq!(of(&plain), of(&plain.replace('\n', "\r")));
    }

    #[test]
    fn bytes_of_any_kind_are_read_or_told_of(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let (source, report) = decode(SourceId(0), "any.loaf", &bytes);
        let _ = parse(&source);
        prop_assert!(report.has_errors() || std::str::from_utf8(&bytes).is_ok());
    }
}

#[test]
fn names_are_what_their_spans_hold() {
    let source = source(RECIPE);
    let (tree, _) = parse(&source);
    for item in &tree.items {
        let Item::Block(block) = item else { continue };
        for item in &block.body {
            let BodyItem::Entry(entry) = item else { continue };
            match &entry.kind {
                EntryKind::Formula(line) => assert_eq!(source.slice(line.name.span), line.name.value),
                EntryKind::Step(line) => assert_eq!(source.slice(line.text.span), line.text.value),
                _ => {}
            }
        }
    }
}

#[test]
fn a_byte_order_mark_in_front_makes_no_difference() {
    let (marked, plain) = (source(&format!("\u{feff}{RECIPE}")), source(RECIPE));
    assert_eq!(dump(&marked, &parse(&marked).0), dump(&plain, &parse(&plain).0));
}

#[test]
fn a_file_of_faults_is_given_up_in_time() {
    let text = format!(
        "title: Faults\ndough:\n{}",
        "  nothing that anybody could read\n".repeat(20_000)
    );
    let (tree, report) = parse(&source(&text));
    assert!(report.len() < 2_500, "{}", report.len());
    assert_eq!(tree.items.len(), 2);
}

#[test]
fn a_file_of_warnings_is_read_to_its_end() {
    let text = format!(
        "dough:\n  1 g salt\n{}  nothing at all\n",
        "\t1 g salt\n".repeat(3_000)
    );
    let (_, report) = parse(&source(&text.replace("1 g", "0 g")));
    assert!(report.has_errors());
}

#[test]
fn a_sentence_quotes_no_more_than_can_be_read() {
    for line in [
        "  WORD",
        "  WORD 10 g",
        "  1 WORD",
        "  10WORD salt",
        "WORD",
        "WORD: x",
        "WORD:",
        "dough: WORD",
        "title WORD",
    ] {
        let text = format!(
            "title: Long\ndough:\n{}\n",
            line.replace("WORD", &"wort".repeat(1_000))
        );
        let (_, report) = parse(&source(&text));
        for fault in report.iter() {
            let said = fault.message.len() + fault.help.as_ref().map_or(0, String::len);
            assert!(said < 600, "{line}: {}", fault.message);
        }
    }
}
