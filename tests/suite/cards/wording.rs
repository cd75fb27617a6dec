//! Cards as a baker reads them: what a variation changes in the card's own words, units that are told once, degrees
//! in the order of the units, blocks in the order in which they begin, and what the scales cannot show.

use loafwright::view::CardOptions;

use super::page;
use super::page::text_of;

/// Gives a card as a reader sees it.
#[track_caller]
fn card(text: &str) -> String {
    text_of(&page(text, &CardOptions::default())).replace('\u{a0}', " ")
}

#[track_caller]
fn expect(card: &str, words: &[&str]) {
    for words in words {
        assert!(card.contains(words), "{words} is not on the card\n{card}");
    }
}

const VARIED: &str = "title: Oxlip Row tin\n\ndough:\n  500 g     bread flour\n  60 %      water\n  8 %       honey\n  2 %       salt\n  \
                      10 min    mix\n  2 h       bulk at room with 1 fold every 40 min\n  38 min    bake at 190 C until core 93 C\n\n\
                      variation darker:\n  7.5 %     malt syrup instead of honey\n  4 %       whole milk at fridge after mix\n  34 min    \
                      bake at 185 C until core 93 C\n  3 h       bulk at room with 2 folds every 1 h\n  without salt\n";

#[test]
fn a_variation_tells_its_changes_as_the_steps_are_told() {
    expect(
        &card(VARIED),
        &[
            "7.5 % malt syrup instead of honey\n",
            "4 % whole milk, from the fridge, 4 °C · 39 °F, after mix\n",
            "Bake 34 min at 185 °C · 365 °F until 93 °C · 199 °F in the middle\n",
            "Bulk 3 h at room temperature, 21 °C · 70 °F. Fold after 1 h, 2 h\n",
            "without salt\n",
        ],
    );
}

#[test]
fn and_in_the_language_of_the_card() {
    expect(
        &card(&format!("language: de\n{VARIED}")),
        &[
            "7,5 % malt syrup statt honey\n",
            "4 % whole milk, aus dem Kühlschrank, 4 °C · 39 °F (nach: mischen)\n",
            "Backen 34 Min. bei 185 °C · 365 °F bis 93 °C · 199 °F im Kern\n",
            "ohne salt\n",
        ],
    );
    expect(
        &card(&format!("language: fr\n{VARIED}")),
        &["7,5 % malt syrup au lieu de honey\n", "sans salt\n"],
    );
}

#[test]
fn kilograms_below_one_are_grams_and_told_once() {
    let card = card(
        "title: T\nmakes: 20 loaves of 1 kg\nunits: kg, g\n\ndough:\n  100 %     bread flour\n  65 %      water\n  2 %       salt\n",
    );
    expect(&card, &["7.784 kg 7784 g water", "240 g salt"]);
    assert!(
        !card.contains("240 g 240 g") && !card.contains("240 g · 240 g"),
        "{card}"
    );
}

#[test]
fn degrees_fahrenheit_come_first_where_ounces_do() {
    let text = "title: T\nmakes: 2 loaves of 24 oz\nunits: UNITS\n\ndough:\n  100 %     bread flour\n  65 %      water at 85 F\n  2 %       \
                salt\n  10 min    mix\n  35 min    bake at 375 F until core 195 F\n";
    expect(
        &card(&text.replace("UNITS", "oz, g")),
        &["at 375 °F · 191 °C", "195 °F · 91 °C in the middle"],
    );
    expect(&card(&text.replace("UNITS", "g, oz")), &["at 191 °C · 375 °F"]);
}

#[test]
fn a_trace_makes_the_ounces_of_a_whole_no_finer() {
    let card = card(
        "title: T\nmakes: 2 loaves of 42 oz\nunits: oz, g\n\npoolish:\n  100 %     bread flour\n  100 %     water\n  0.05 %    instant \
         yeast\n\ndough:\n  100 %     bread flour\n  40 %      poolish\n  50 %      water\n  2 %       salt\n  0.1 %     instant yeast\n",
    );
    expect(&card, &["0.0044 oz", "0.044 oz", "5 lb 4 oz"]);
    for line in card.lines().filter(|line| line.starts_with("Total")) {
        let is_fine = |word: &str| word.split_once('.').is_some_and(|(_, part)| part.len() > 2);
        assert!(!line.split_whitespace().any(is_fine), "{line}");
    }
}

#[test]
fn blocks_stand_in_the_order_in_which_they_begin() {
    let card = card(
        "title: T\n\nsponge:\n  100 g     bread flour\n  60 g      water\n  1 g       instant yeast\n  5 min     mix\n  2 h       ripen\n\n\
         dough:\n  400 g     bread flour\n  160 g     sponge\n  50 %      water\n  5 min     knead\n  3 h       proof\n  then      brush with egg \
         wash\n  30 min    bake\n\ntopping egg wash:\n  1         egg\n  1 min     whisk\n",
    );
    let steps = &card[card.find("\nMethod").unwrap()..card.find("\nTime line").unwrap()];
    let places: Vec<Option<usize>> = ["Sponge\n", "Final dough\n", "Egg wash\n"]
        .map(|title| steps.find(title))
        .to_vec();
    assert!(places.is_sorted() && places[0].is_some(), "{places:?}\n{steps}");
}

#[test]
fn what_the_scales_cannot_show_is_told_with_a_way_out() {
    let text = "title: T\n\npoolish:\n  100 %     bread flour\n  YEAST instant yeast\nWATER\ndough:\n  500 g     bread flour\n  40 %      \
                poolish\n  60 %      water\n";
    let of = |yeast: &str, water: &str| card(&text.replace("YEAST", yeast).replace("WATER", water));
    let way = "stir 10 g of it into 990 g of water, take 40 g of that, and leave 40 g of water out";
    expect(&of("0.4 %    ", "  100 %     water\n"), &[way]);
    expect(
        &of("0.2 %    ", "  50 %      whole milk\n"),
        &["instant yeast is less than these scales can show: weigh it on finer ones."],
    );
}

/// Breads have names in every script.
#[test]
fn pieces_are_named_in_any_script() {
    for (name, shown) in [
        ("булочек", "12 булочек of 80 g"),
        ("לחמניות", "12 לחמניות of 80 g"),
    ] {
        let card = card(&format!(
            "title: T\nmakes: 12 {name} of 80 g\n\ndough:\n  100 %     bread flour\n  60 %      water\n"
        ));
        expect(&card, &[shown]);
    }
}
