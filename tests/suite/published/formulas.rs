//! Rows B1 to B7 and B14 to B17: percentages, weights and sizes of doughs without stages.

use loafwright::quantity::Ratio;

use crate::bread::{Bread, exactly, flour, makes, near, ounces, pounds, published, published_sized};

fn sum_of_percents(bread: &Bread) -> f64 {
    (&(&bread.dough() / &bread.flour()) * &Ratio::HUNDRED).to_f64()
}

/// B1: the definition. Wikipedia, "Baker percentage".
#[test]
fn b1_definition() {
    let bread = published("b01-definition");
    near(bread.percent("dough", "bread flour"), 100.0, 0.0);
    near(bread.percent("dough", "water"), 50.0, 0.0);
}

/// B2: 100 / 70 / 2 / 1, sum 173. Bread-Bakers mailing list v102.n038.14.
#[test]
fn b2_lean_dough() {
    let bread = published("b02-lean");
    for (name, wanted) in [
        ("bread flour", 100.0),
        ("water", 70.0),
        ("salt", 2.0),
        ("instant yeast", 1.0),
    ] {
        near(bread.percent("dough", name), wanted, 0.0);
    }
    near(sum_of_percents(&bread), 173.0, 0.0);
}

/// B3: 100 / 65 / 2 / 2, sum 169 %, dough 8.45 lb. Artisan Bakers, percentages page.
#[test]
fn b3_french_bread() {
    let bread = published("b03-french");
    near(bread.percent("dough", "water"), 65.0, 0.0);
    near(bread.percent("dough", "salt"), 2.0, 0.0);
    near(sum_of_percents(&bread), 169.0, 0.0);
    near(pounds(&bread.dough()), 8.45, 0.0);
}

/// B4: the same for 3 lb of dough: 1.775 lb of flour, 1.154 of water, 0.0355 of salt and yeast. Artisan Bakers,
/// whose print rounds to 1.77 and 1.15.
#[test]
fn b4_french_bread_from_the_dough() {
    let bread = published_sized("b03-french", Some(makes("1 batch of 3 lb")));
    for (name, wanted) in [
        ("bread flour", 1.775),
        ("water", 1.154),
        ("salt", 0.0355),
        ("instant yeast", 0.0355),
    ] {
        near(pounds(&bread.grams("dough", name)), wanted, 0.005);
    }
    near(pounds(&bread.dough()), 3.0, 0.0);
}

/// B5: sum 162.125 %, 0.7 lb of salt on 40 lb of flour, and 23 lb of water are 57.5 %. "Baker's math", teaching
/// slides.
#[test]
fn b5_percentages_to_weights() {
    let bread = published("b05-forty-pounds");
    near(sum_of_percents(&bread), 162.125, 0.0);
    near(pounds(&bread.grams("dough", "salt")), 0.7, 0.0);
    near(ounces(&bread.grams("dough", "salt")), 11.2, 0.0);
    near(published("b05-water").percent("dough", "water"), 57.5, 0.0);
}

/// B6: 736 g of flour for four pieces of 335 g at 182 %. A micro-bakery's journal, article on yield.
#[test]
fn b6_from_the_dough_weight() {
    let bread = published("b06-four-pieces");
    near(bread.grams("dough", "bread flour").to_f64(), 736.0, 0.5);
    assert_eq!(bread.dough(), Ratio::whole(1340));
}

/// B7: half of the liquid milk; at 2 lb and at 10 kg of flour. Wikipedia, "Baker percentage", after Gisslen
/// (from memory, not looked up).
#[test]
fn b7_milk_and_water() {
    let names = ["water", "whole milk", "fresh yeast", "salt"];
    let bread = published("b07-mixed");
    near(sum_of_percents(&bread), 175.8, 0.0);
    for (name, wanted) in names.iter().zip([0.7, 0.7, 0.08, 0.036]) {
        near(pounds(&bread.grams("dough", name)), wanted, 1e-6);
    }
    near(pounds(&bread.dough()), 3.516, 1e-6);
    let bread = published_sized("b07-mixed", Some(flour("10 kg")));
    for (name, wanted) in names.iter().zip(["3500", "3500", "400", "180"]) {
        assert_eq!(bread.grams("dough", name), exactly(wanted));
    }
    assert_eq!(bread.dough(), exactly("17580"));
    let of_dough = |name: &str| (&bread.grams("dough", name) / &bread.dough()).to_f64() * 100.0;
    for (name, wanted) in names.iter().zip([19.91, 19.91, 2.28, 1.02]) {
        near(of_dough(name), wanted, 0.01);
    }
    near(of_dough("bread flour"), 56.88, 0.01);
}

/// B14: 54.5 / 3.4 / 2.27 four times, 36.75 oz in all. Gisslen, *Professional Baking* (from memory, not looked
/// up), which prints 55, 3.5 and 2.25.
#[test]
fn b14_hard_rolls() {
    let bread = published("b14-hard-rolls");
    near(bread.percent("dough", "water"), 54.5, 0.6);
    near(bread.percent("dough", "fresh yeast"), 3.4, 0.6);
    for name in ["salt", "granulated sugar", "shortening", "egg white"] {
        near(bread.percent("dough", name), 2.27, 0.01);
    }
    near(ounces(&bread.dough()), 36.75, 1e-9);
}

/// B15: the noise of a print: 8 g on 500 g are 1.6 %, 0.25 oz on 18 oz are 1.39 %, printed as 1.5 %. Figoni,
/// *How Baking Works*, lean dough.
#[test]
fn b15_two_columns_of_a_print() {
    near(published("b15-grams").percent("dough", "water"), 56.0, 0.0);
    near(published("b15-grams").percent("dough", "salt"), 1.6, 1e-9);
    near(published("b15-ounces").percent("dough", "salt"), 1.39, 0.005);
    near(published("b15-grams").percent("dough", "salt"), 1.5, 0.15);
    near(published("b15-ounces").percent("dough", "salt"), 1.5, 0.15);
}

/// B16: a set of weights at 45, 30 and 15 %, eggs included. Adapted from a U.S. Armed Forces card, TM 10-412.
#[test]
fn b16_scaling_weights() {
    let names = [
        "active dry yeast",
        "whole milk",
        "granulated sugar",
        "salt",
        "bread flour",
        "unsalted butter",
    ];
    let columns = [
        ("49.5 oz", [1.125, 18.0, 8.55, 0.9, 49.5, 7.2], 5.4),
        ("33 oz", [0.75, 12.0, 5.7, 0.6, 33.0, 4.8], 3.6),
        ("16.5 oz", [0.375, 6.0, 2.85, 0.3, 16.5, 2.4], 1.8),
    ];
    for (asked, wanted, eggs) in columns {
        let bread = published_sized("b16-hundred", Some(flour(asked)));
        for (name, wanted) in names.iter().zip(wanted) {
            near(ounces(&bread.grams("dough", name)), wanted, 0.005);
        }
        let line = bread.block("dough").lines.last().unwrap();
        near(line.measure.as_ref().unwrap().count.to_f64(), eggs, 1e-9);
        near(line.weight.as_ref().unwrap().0.to_f64(), eggs * 50.0, 1e-6);
    }
}

/// B17: the same as percentages, an egg of 50 g. From B16 and the U.S. large egg (from memory, not looked up).
#[test]
fn b17_weights_to_percentages() {
    let bread = published("b16-hundred");
    for (name, wanted) in [
        ("whole milk", 36.4),
        ("granulated sugar", 17.3),
        ("salt", 1.8),
        ("unsalted butter", 14.5),
        ("active dry yeast", 2.3),
    ] {
        near(bread.percent("dough", name), wanted, 0.1);
    }
    let eggs = bread.block("dough").lines.last().unwrap();
    near(eggs.of_block_flour.as_ref().unwrap().to_f64() * 100.0, 19.2, 0.1);
}
