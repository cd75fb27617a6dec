//! Rows S13 to S15: the papers that a card is printed on.

use crate::bread::{bake, near};

/// Gives the width and height that the card of a recipe for a paper asks the printer for, in millimetres.
fn size_of(paper: &str) -> (f64, f64) {
    let text = format!(
        "title: A card\npaper: {paper}\n\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n  5 min mix\n  40 min \
         bake at 230 C\n"
    );
    let page = bake(&text, None, None).page();
    let rule = page.split("@page{size:").nth(1).expect("a size of the page");
    let lengths = rule.split([';', '}']).next().unwrap().split_whitespace();
    let found: Vec<f64> = lengths.map(millimetres).collect();
    assert_eq!(found.len(), 2, "{rule}");
    (found[0], found[1])
}

fn millimetres(length: &str) -> f64 {
    let inches = length
        .strip_suffix("in")
        .map(|count| count.parse::<f64>().unwrap() * 25.4);
    inches.unwrap_or_else(|| length.strip_suffix("mm").unwrap().parse().unwrap())
}

fn assert_size(paper: &str, (width, height): (f64, f64), (px_width, px_height): (f64, f64)) {
    let found = size_of(paper);
    near(found.0, width, 0.05);
    near(found.1, height, 0.05);
    near(found.0 / 25.4 * 96.0, px_width, 0.1);
    near(found.1 / 25.4 * 96.0, px_height, 0.1);
}

/// S13: A4, A5 and A6. ISO 216 (from memory, not looked up).
#[test]
fn s13_iso_papers() {
    assert_size("A4", (210.0, 297.0), (793.7, 1122.5));
    assert_size("A5", (148.0, 210.0), (559.4, 793.7));
    assert_size("A6", (105.0, 148.0), (396.9, 559.4));
}

/// S14: Letter and half letter. ANSI/ASME Y14.1 (from memory, not looked up).
#[test]
fn s14_us_papers() {
    assert_size("Letter", (215.9, 279.4), (816.0, 1056.0));
    assert_size("half letter", (139.7, 215.9), (528.0, 816.0));
}

/// S15: index cards; 4 x 6 in is narrower and taller than A6, so that neither stands for the other. Trade sizes
/// (from memory, not looked up).
#[test]
fn s15_index_cards() {
    assert_size("4 x 6 in", (101.6, 152.4), (384.0, 576.0));
    assert_size("5 x 8 in", (127.0, 203.2), (480.0, 768.0));
    let (card, paper) = (size_of("4 x 6 in"), size_of("A6"));
    assert!(card.0 < paper.0 && card.1 > paper.1);
}
