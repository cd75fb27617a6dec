//! Rows B8 to B13 and B22 to B27: preferments, scalds and formulas taken apart.

use loafwright::diag::{Code, Severity};
use loafwright::quantity::Ratio;

use crate::bread::{exactly, in_percent, makes, near, pounds, published, published_sized};

/// B8: the total formula of a poolish dough: 1368 g of flour, 68.4 % water, 0.68 % yeast, 1.97 % salt, 34.2 % of
/// the flour prefermented; the final dough alone reads 52 / 3 / 104 %. Wild Yeast blog, part 4; 34 % and 1368 g
/// also in The Fresh Loaf 31317.
#[test]
fn b8_poolish_as_an_ingredient() {
    let bread = published("b08-poolish");
    assert_eq!(bread.flour(), exactly("1368"));
    assert_eq!(bread.total("water"), exactly("936"));
    near(bread.total("instant yeast").to_f64(), 9.3, 1e-9);
    assert_eq!(bread.dough(), exactly("2340.3"));
    let figures = &bread.sheet().figures;
    near(in_percent(figures.hydration.as_ref()), 68.4, 0.1);
    near(in_percent(figures.salt.as_ref()), 1.97, 0.1);
    near(in_percent(figures.prefermented.as_ref()), 34.2, 0.1);
    near(bread.total_percent("instant yeast"), 0.68, 0.1);
    near(bread.percent("dough", "water"), 52.0, 1e-9);
    near(bread.percent("dough", "salt"), 3.0, 1e-9);
    near(bread.percent("dough", "poolish"), 104.0, 0.1);
}

/// B9, T!: 52 % water and 3 % salt of the final dough's own column say nothing of the bread, and raise nothing.
#[test]
fn b9_the_final_dough_is_not_the_formula() {
    let bread = published("b08-poolish");
    assert!(!bread.says(Code::UnusualFigure) && !bread.says(Code::LikelySlip));
    assert!(bread.slugs(Severity::Warning).is_empty());
}

/// B10: from the yield: 761.4 g of flour in all, final dough 571 / 381 / 15 / 5 and 381 g of poolish. A
/// micro-bakery's journal, poolish baguettes; 1353 g are 1340 in four pieces and 1350 in six.
#[test]
fn b10_a_quarter_of_the_flour_ahead() {
    let bread = published("b10-poolish-yield");
    near(bread.flour().to_f64(), 761.4, 0.05);
    near(bread.block("poolish").total.0.to_f64(), 380.7, 0.05);
    let dough = bread.sheet().blocks.last().unwrap().title.clone();
    for (name, wanted) in [
        ("bread flour", 571.0),
        ("water", 381.0),
        ("salt", 15.0),
        ("instant yeast", 5.0),
        ("poolish", 381.0),
    ] {
        near(bread.grams(&dough, name).to_f64(), wanted, 0.5);
    }
    assert_eq!(bread.dough(), Ratio::whole(1353));
}

/// B11: half of the flour ahead: final dough 50 / 20, hydration 70 %, prefermented 50 %. Personal bread notes of
/// S. Taylor.
#[test]
fn b11_half_of_the_flour_ahead() {
    let bread = published("b11-half");
    let dough = bread.sheet().blocks.last().unwrap().title.clone();
    assert_eq!(bread.grams(&dough, "bread flour"), Ratio::whole(50));
    assert_eq!(bread.grams(&dough, "water"), Ratio::whole(20));
    let figures = &bread.sheet().figures;
    near(in_percent(figures.hydration.as_ref()), 70.0, 0.0);
    near(in_percent(figures.prefermented.as_ref()), 50.0, 0.0);
}

/// B12: a wet poolish, sum 207.27 %, hydration 107 %. Reinhart, *The Bread Baker's Apprentice*, by a reprint.
#[test]
fn b12_wet_poolish() {
    let bread = published("b12-wet-poolish");
    near((&bread.dough() / &bread.flour()).to_f64() * 100.0, 207.27, 0.05);
    near(in_percent(bread.sheet().figures.hydration.as_ref()), 107.0, 0.05);
}

/// B13: a liquid levain: 90 / 10 / 65 / 1.9, sum 166.9 %, 15 % prefermented, levain at 125 %. Hamelman, *Bread*
/// (from memory, not looked up).
#[test]
fn b13_liquid_levain() {
    let bread = published("b13-liquid-levain");
    near(bread.total_percent("bread flour"), 90.0, 1e-9);
    near(bread.total_percent("medium rye flour"), 10.0, 1e-9);
    near(bread.total_percent("water"), 65.0, 1e-9);
    near(bread.total_percent("salt"), 1.9, 1e-9);
    near(pounds(&bread.dough()), 33.38, 1e-9);
    near((&bread.dough() / &bread.flour()).to_f64() * 100.0, 166.9, 1e-9);
    near(
        in_percent(bread.sheet().figures.prefermented.as_ref()),
        15.0,
        1e-9,
    );
    near(bread.percent("levain", "water"), 125.0, 1e-9);
}

/// B22: levain, poolish and scald in one bread: 1000 g of flour, 75 % water, 2 % salt, 0.4 % yeast, 1774 g, 30 %
/// prefermented, 5 % scalded and not counted as prefermented. The guild's convention.
#[test]
fn b22_levain_poolish_and_scald() {
    let bread = published("b22-three-stages");
    assert_eq!(bread.flour(), Ratio::whole(1000));
    assert_eq!(bread.dough(), Ratio::whole(1774));
    let figures = &bread.sheet().figures;
    near(in_percent(figures.hydration.as_ref()), 75.0, 0.0);
    near(in_percent(figures.salt.as_ref()), 2.0, 0.0);
    near(in_percent(figures.prefermented.as_ref()), 30.0, 0.0);
    near(in_percent(figures.scalded.as_ref()), 5.0, 0.0);
    near(bread.total_percent("instant yeast"), 0.4, 1e-9);
    near(bread.total_percent("bread flour"), 70.0, 1e-9);
    near(bread.total_percent("whole wheat flour"), 20.0, 1e-9);
    near(bread.total_percent("medium rye flour"), 10.0, 1e-9);
}

/// B23: the same with 15 g of steam gone from the scald: 73.5 %. The guild's convention.
#[test]
fn b23_steam_from_the_scald() {
    let bread = published("b23-steam");
    near(in_percent(bread.sheet().figures.hydration.as_ref()), 73.5, 0.1);
}

/// B24: B22 for two loaves of 900 g: 1014.7 g of flour. Computed.
#[test]
fn b24_two_loaves_of_it() {
    let bread = published_sized("b22-three-stages", Some(makes("2 loaves of 900 g")));
    near(bread.flour().to_f64(), 1014.7, 0.1);
    assert_eq!(bread.dough(), Ratio::whole(1800));
}

/// B25: 300 g of levain at 1:5:5: 27.3 of seed, 136.4 of water and of flour. Arithmetic.
#[test]
fn b25_a_levain_by_parts() {
    let bread = published("b25-ratio");
    near(bread.grams("levain", "starter").to_f64(), 27.3, 0.1);
    near(bread.grams("levain", "water").to_f64(), 136.4, 0.1);
    near(bread.grams("levain", "bread flour").to_f64(), 136.4, 0.1);
    assert_eq!(bread.block("levain").total.0, Ratio::whole(300));
}

/// B26: 150 g at 125 %: 66.7 g of flour, 83.3 of water. Arithmetic.
#[test]
fn b26_a_levain_taken_apart() {
    let bread = published("b26-split");
    near(bread.total("bread flour").to_f64(), 66.7, 0.1);
    near(bread.total("water").to_f64(), 83.3, 0.1);
}

/// B27, T!: a preferment that wants 70 of 60 % water is an error, not a printed -10 %. The guild's convention.
#[test]
fn b27_less_than_no_water() {
    let bread = published("b27-negative");
    assert!(bread.compiled.plain.is_none());
    assert!(bread.says(Code::StageTakesTooMuch));
}
