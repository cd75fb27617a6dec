//! A starter that is runnier or stiffer than the formula's.

use serde_json::Value;

use super::{HOUSE, YEASTED, ask, asked, dough, figure, grams};
use crate::bread::near;

pub(super) const SOUR: &str = "title: T\n\nlevain:\n  100 g  bread flour\n  100 g  water\n  150 g  starter\n  8 h  ripen at 24 C\n\ndough:\n  800 g  \
                    bread flour\n  500 g  water\n  20 g  salt\n  all  levain\n  10 min  mix\n  3 h  bulk\n  40 min  bake at 230 C\n";

/// B26: 150 g at 125 % are 66.7 g of flour and 83.3 g of water, not 75 and 75; the stage gets the difference, and the
/// bread stays to the last digit.
#[test]
fn b26_a_runny_starter_is_made_up_in_its_stage() {
    let plain = asked(SOUR, &[]);
    let runny = asked(SOUR, &["--starter", "hydration 125 %"]);
    let more = 150.0 * 125.0 / 225.0 - 75.0;
    near(grams(&runny, "levain", "water").unwrap(), 100.0 - more, 1e-9);
    near(
        grams(&runny, "levain", "bread flour").unwrap(),
        100.0 + more,
        1e-9,
    );
    near(grams(&runny, "levain", "starter").unwrap(), 150.0, 1e-9);
    for name in [
        "hydration_percent",
        "flour_g",
        "dough_g",
        "prefermented_flour_percent",
    ] {
        near(figure(&runny, name), figure(&plain, name), 1e-9);
    }
    let answer = &runny["sheet"]["answers"]["starter"];
    assert_eq!(answer["formula_hydration_percent"], 100);
    assert!(answer["excess"].is_null() && answer["figures"].as_array().unwrap().is_empty());
    // A stiff one takes flour out and puts water in.
    let stiff = asked(SOUR, &["--starter", "50 % hydration"]);
    near(grams(&stiff, "levain", "water").unwrap(), 125.0, 1e-9);
    near(grams(&stiff, "levain", "bread flour").unwrap(), 75.0, 1e-9);
}

/// Starter that goes straight into a dough of another flour: the heaviest flour stands in, and that is said.
#[test]
fn a_starter_in_the_dough_itself() {
    let text = dough("  900 g  whole wheat flour\n  650 g  water\n  20 g  salt\n  200 g  starter\n");
    let runny = asked(&text, &["--starter", "hydration 150 %"]);
    near(grams(&runny, "dough", "water").unwrap(), 630.0, 1e-9);
    near(grams(&runny, "dough", "whole wheat flour").unwrap(), 920.0, 1e-9);
    near(figure(&runny, "hydration_percent"), 75.0, 1e-9);
    let served = ask(HOUSE, &text, &["--starter", "hydration 150 %"]).ends_with(0);
    let said = served.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("no line of bread flour: whole wheat flour changes for it"),
        "{said}"
    );
}

/// Where there is not so much water to take out, the sheet shows what the dough becomes, and what to hold back.
#[test]
fn what_the_dough_becomes_where_it_has_no_water_to_give() {
    let text =
        dough("  900 g  bread flour\n  10 g  water\n  500 g  whole milk\n  20 g  salt\n  200 g  starter\n");
    let plain = asked(&text, &[]);
    let runny = asked(&text, &["--starter", "hydration 150 %"]);
    assert_eq!(grams(&runny, "dough", "water"), Some(0.0));
    let excess = &runny["sheet"]["answers"]["starter"]["excess"];
    assert_eq!(excess["water_g"], 10);
    assert_eq!(excess["hold_back"], "whole milk");
    near(excess["hold_back_g"].as_f64().unwrap(), 10.0 / 0.8813, 0.001);
    // 3 parts of water in 5 of starter: a sixth less of it holds 10 g of water.
    near(
        excess["less_starter_g"].as_f64().unwrap(),
        10.0 * 5.0 / 3.0,
        0.001,
    );
    near(excess["more_flour_g"].as_f64().unwrap(), 10.0 * 2.0 / 3.0, 0.001);
    near(
        figure(&runny, "hydration_percent") - figure(&plain, "hydration_percent"),
        1.0,
        0.001,
    );
}

/// Under a formula the seed is taken out again, so that nothing changes; without any starter the wish is refused.
#[test]
fn a_seed_changes_nothing_and_no_starter_is_a_fault() {
    let text = "title: T\nmakes: 1 loaf of 900 g\n\nformula:\n  100 %  bread flour\n  70 %  water\n  2 %  salt\n  10 min  mix\n  3 h  \
                bulk\n  40 min  bake at 230 C\n\nlevain, 15 % of the flour:\n  100 %  bread flour\n  100 %  water\n  20 %  starter\n  8 h  \
                ripen at 24 C\n";
    let plain = asked(text, &[]);
    let runny = asked(text, &["--starter", "hydration 125 %"]);
    assert_eq!(runny["sheet"]["answers"]["starter"]["only_seeds"], true);
    for document in [&runny, &plain] {
        near(figure(document, "hydration_percent"), 70.0, 1e-9);
    }
    let blocks = |document: &Value| document["sheet"]["blocks"].as_array().unwrap().clone();
    for (runny, plain) in blocks(&runny).iter().zip(blocks(&plain)) {
        assert_eq!(runny["lines"], plain["lines"]);
    }
    let served = ask(HOUSE, &dough(YEASTED), &["--starter", "hydration 125 %"]).ends_with(2);
    assert!(
        served.err.contains("this recipe puts no starter in"),
        "{}",
        served.err
    );
    for wrong in ["hydration 0 %", "hydration 600 %", "runny"] {
        let served = ask(HOUSE, SOUR, &["--starter", wrong]).ends_with(2);
        assert!(
            served.err.contains("`--starter` cannot be read"),
            "{}",
            served.err
        );
    }
}

/// A levain without a line of water, of which a part goes into the dough as the line says.
fn of_levain(poured: &str) -> String {
    format!(
        "title: T\n\nlevain:\n  100 g  bread flour\n  150 g  starter\n  8 h  ripen at 24 C\n\ndough:\n  500 g  bread flour\n  300 g  \
         water\n  {poured}  levain\n  10 g  salt\n  10 min  mix\n  3 h  bulk\n  40 min  bake at 230 C\n"
    )
}

/// A block that gets heavier pours more, and the table says so: who changes a plain sheet by it alone has the bread.
#[test]
fn a_changed_pour_is_listed_with_the_lines_that_change() {
    for poured in ["125 g", "25 %"] {
        let text = of_levain(poured);
        let plain = asked(&text, &[]);
        let runny = asked(&text, &["--starter", "hydration 125 %"]);
        // 8.33 g more flour in 250 g of levain, of which a half is poured.
        let is = grams(&runny, "dough", "levain").unwrap();
        near(is, 125.0 * (250.0 + 25.0 / 3.0) / 250.0, 1e-9);
        near(figure(&runny, "flour_g"), figure(&plain, "flour_g"), 1e-9);
        near(
            figure(&runny, "hydration_percent"),
            figure(&plain, "hydration_percent"),
            1e-9,
        );
        let listed = runny["sheet"]["answers"]["starter"]["changes"]
            .as_array()
            .unwrap();
        for (block, name) in [("levain", "bread flour"), ("dough", "water"), ("dough", "levain")] {
            let line = listed
                .iter()
                .find(|line| line["block"] == block && line["new"] == name);
            let line = line.unwrap_or_else(|| panic!("no {block}: {name} in {listed:?}"));
            near(
                line["after_g"].as_f64().unwrap(),
                grams(&runny, block, name).unwrap(),
                0.001,
            );
            near(
                line["before_g"].as_f64().unwrap(),
                grams(&plain, block, name).unwrap(),
                0.001,
            );
        }
        assert_eq!(listed.len(), 3, "{listed:?}");
    }
    // Where all of it goes in, all of it still does.
    let runny = asked(&of_levain("all"), &["--starter", "hydration 125 %"]);
    let listed = runny["sheet"]["answers"]["starter"]["changes"]
        .as_array()
        .unwrap();
    assert!(listed.iter().all(|line| line["new"] != "levain"), "{listed:?}");
}

/// A stiff starter gives its stage less water than it should have; it goes in there, and the pour stays.
#[test]
fn a_stiff_starter_gets_its_water_in_its_own_stage() {
    let runny = asked(&of_levain("125 g"), &["--starter", "hydration 50 %"]);
    near(grams(&runny, "levain", "water").unwrap(), 25.0, 1e-9);
    near(grams(&runny, "levain", "bread flour").unwrap(), 75.0, 1e-9);
    near(grams(&runny, "dough", "levain").unwrap(), 125.0, 1e-9);
    near(grams(&runny, "dough", "water").unwrap(), 300.0, 1e-9);
}
