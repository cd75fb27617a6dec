//! A recipe changed at the bench: another starter, another ingredient, and where a figure comes from.
//!
//! Rows are those of the published values, with their sources; everything is asked of the program and read off its
//! JSON.

mod starter;
mod why;

use serde_json::Value;

use crate::bread::near;
use crate::kitchen::{Kitchen, Served};

/// Scales that leave no line in doubt.
const HOUSE: &str = "bakehouse: Oxlip Row\nscales: 0.01 g\nbake loss: 12 %\n";

fn ask(bakehouse: &str, recipe: &str, arguments: &[&str]) -> Served {
    let kitchen = Kitchen::new()
        .file("bakehouse.loaf", bakehouse)
        .file("a.loaf", recipe);
    kitchen.run(&[&["sheet", "a.loaf"], arguments].concat())
}

fn document(bakehouse: &str, recipe: &str, arguments: &[&str]) -> Value {
    let served = ask(bakehouse, recipe, &[&["--json"], arguments].concat()).ends_with(0);
    serde_json::from_str(&served.out).unwrap()
}

fn asked(recipe: &str, arguments: &[&str]) -> Value {
    document(HOUSE, recipe, arguments)
}

/// A dough with some lines beside flour, ready to bake.
fn dough(lines: &str) -> String {
    format!("title: T\n\ndough:\n{lines}  10 min  mix\n  2 h  bulk at 24 C\n  40 min  bake at 220 C\n")
}

/// Gives the grams of a line by its block and name; nothing where there is none.
fn grams(document: &Value, block: &str, name: &str) -> Option<f64> {
    let blocks = document["sheet"]["blocks"].as_array().unwrap();
    let block = blocks
        .iter()
        .find(|one| one["title"] == block)
        .expect("the block");
    let mut lines = block["lines"].as_array().unwrap().iter();
    let line = lines.find(|one| one["name"] == name)?;
    Some(exact(&line["weight_g_exact"]))
}

/// Reads a fraction that stands as text.
fn exact(value: &Value) -> f64 {
    let text = value.as_str().expect("a fraction");
    let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
    top.parse::<f64>().unwrap() / bottom.parse::<f64>().unwrap()
}

fn figure(document: &Value, name: &str) -> f64 {
    document["sheet"]["figures"][name].as_f64().unwrap_or(0.0)
}

fn swap(document: &Value) -> &Value {
    &document["sheet"]["answers"]["swaps"][0]
}

const YEASTED: &str = "  1000 g  bread flour\n  650 g  water\n  20 g  salt\n  20 g  fresh yeast\n";

/// F20: fresh, active dry and instant yeast stand as 100 : 40 : 33; 20 g of fresh are 8.0 and 6.6 g. An article on
/// converting yeast. F22: 13.4 g of water keep the dough weight; a page that prints 0.77 of it does not add up (T!).
#[test]
fn f20_f22_yeasts_with_the_water_made_up() {
    for (new, dry, water) in [("active dry yeast", 8.0, 662.0), ("instant yeast", 6.6, 663.4)] {
        let told = asked(
            &dough(YEASTED),
            &["--swap", &format!("{new} instead of fresh yeast")],
        );
        near(grams(&told, "dough", new).unwrap(), dry, 0.05);
        near(grams(&told, "dough", "water").unwrap(), water, 0.1);
        assert_eq!(grams(&told, "dough", "fresh yeast"), None);
        near(figure(&told, "dough_g"), 1690.0, 1e-9);
        assert_eq!(swap(&told)["keeps"], "strength");
        assert_eq!(swap(&told)["notes"][0], "yeast_made_up");
    }
    let dry = dough(&YEASTED.replace("20 g  fresh yeast", "6.6 g  instant yeast"));
    let told = asked(&dry, &["--swap", "fresh yeast instead of instant yeast"]);
    near(grams(&told, "dough", "fresh yeast").unwrap(), 20.0, 0.05);
    near(grams(&told, "dough", "water").unwrap(), 636.6, 0.1);
}

/// F21: the other tables in print, active dry over fresh 0.375 to 0.5, instant over fresh 0.33 to 0.4, instant over
/// active dry 0.75 to 0.83, hold the factors between them.
#[test]
fn f21_between_the_tables_in_print() {
    let factor = |new: &str, old: &str| {
        let text = dough(&YEASTED.replace("fresh yeast", old));
        let told = asked(&text, &["--swap", &format!("{new} instead of {old}")]);
        swap(&told)["factor"].as_f64().unwrap()
    };
    assert!((0.375..=0.5).contains(&factor("active dry yeast", "fresh yeast")));
    assert!((0.33..=0.4).contains(&factor("instant yeast", "fresh yeast")));
    assert!((0.75..=0.83).contains(&factor("instant yeast", "active dry yeast")));
}

/// W1: whole milk is 88.1 % water. Its powder brings the solids, and water what the milk brought (USDA FoodData
/// Central, SR Legacy, from memory; the ingredient table names its row).
#[test]
fn milk_and_its_powders() {
    let milky = dough(
        "  1000 g  bread flour\n  600 g  whole milk\n  50 g  water\n  20 g  salt\n  10 g  instant yeast\n",
    );
    let plain = asked(&milky, &[]);
    let whole = asked(&milky, &["--swap", "dried whole milk instead of milk"]);
    // 8.62 g of solids in 100 g of milk, 70.82 g in 100 g of its powder.
    near(
        grams(&whole, "dough", "dried whole milk").unwrap(),
        600.0 * 8.62 / 70.82,
        0.01,
    );
    near(
        grams(&whole, "dough", "water").unwrap(),
        50.0 + 600.0 * 0.8813,
        0.01,
    );
    for name in ["hydration_percent", "milk_solids_percent", "salt_percent"] {
        near(figure(&whole, name), figure(&plain, name), 0.001);
    }
    near(figure(&whole, "fat_percent"), figure(&plain, "fat_percent"), 0.05);
    // Skimmed powder has no fat to bring, and the answer says so.
    let skimmed = asked(&milky, &["--swap", "milk powder instead of milk"]);
    let told = swap(&skimmed)["figures"].as_array().unwrap();
    assert!(told.iter().any(|one| one["figure"] == "fat_percent"), "{told:?}");
    // Back again: the milk takes the place of water that is there.
    let powder = milky.replace(
        "600 g  whole milk\n  50 g  water",
        "73 g  dried whole milk\n  578.8 g  water",
    );
    let back = asked(&powder, &["--swap", "whole milk instead of dried whole milk"]);
    near(grams(&back, "dough", "whole milk").unwrap(), 599.8, 0.1);
    near(grams(&back, "dough", "water").unwrap(), 50.2, 0.1);
}

/// Where the dough has not so much water to give up, the swap is refused, at its words.
#[test]
fn a_swap_that_cannot_be_had_is_marked_at_its_words() {
    let lean =
        dough("  1000 g  bread flour\n  50 g  water\n  500 g  egg\n  200 g  milk powder\n  20 g  salt\n");
    for (wish, message, marked) in [
        (
            "milk instead of milk powder",
            "more water than the dough has to give up",
            "^^^^",
        ),
        (
            "salt instead of egg",
            "does not do the work of egg in a dough",
            "^^^^",
        ),
        ("honey instead of sugar", "the dough has no sugar", "^^^^^"),
        (
            "hony instead of egg",
            "`hony` is not in the ingredient table",
            "^^^^",
        ),
        (
            "honey for sugar",
            "it is not said what takes the place of what",
            "^^^^^^^^^^^^^^^",
        ),
    ] {
        let served = ask(HOUSE, &lean, &["--swap", wish]).ends_with(2);
        assert_eq!(served.out, "");
        assert!(served.err.contains(message), "{}", served.err);
        let marks = served.err.lines().find(|line| line.contains('^')).unwrap();
        assert_eq!(
            marks.trim_start_matches([' ', '|']).trim_end(),
            marked,
            "{}",
            served.err
        );
    }
}

/// Butter by its fat: water and salt of the dough are corrected to the last digit, so that no figure moves.
#[test]
fn butter_salted_and_unsalted() {
    let rich = dough(
        "  1000 g  bread flour\n  600 g  water\n  20 g  salt\n  100 g  unsalted butter\n  10 g  instant yeast\n",
    );
    let plain = asked(&rich, &[]);
    let salted = asked(&rich, &["--swap", "salted butter instead of butter"]);
    near(grams(&salted, "dough", "salted butter").unwrap(), 100.0, 1e-9);
    // 1.6075 g of salt in 100 g; 17.94 less 15.87 g of water.
    near(grams(&salted, "dough", "salt").unwrap(), 20.0 - 1.6075, 1e-9);
    near(grams(&salted, "dough", "water").unwrap(), 600.0 + 2.07, 1e-9);
    for name in ["hydration_percent", "salt_percent", "fat_percent"] {
        near(figure(&salted, name), figure(&plain, name), 1e-9);
    }
    assert!(
        swap(&salted)["notes"]
            .as_array()
            .unwrap()
            .contains(&"salt_by_maker".into())
    );
}

/// Honey for sugar: as sweet, less water poured, and what moves is said. The factors are from memory.
#[test]
fn sweeteners_by_sweetness_with_the_water_corrected() {
    let sweet =
        dough("  1000 g  bread flour\n  600 g  water\n  20 g  salt\n  100 g  sugar\n  10 g  instant yeast\n");
    let honey = asked(&sweet, &["--swap", "honey instead of sugar"]);
    near(grams(&honey, "dough", "honey").unwrap(), 100.0, 1e-9);
    near(grams(&honey, "dough", "water").unwrap(), 600.0 - 17.1, 1e-9);
    near(figure(&honey, "hydration_percent"), 60.0, 1e-9);
    let notes = swap(&honey)["notes"].as_array().unwrap();
    assert!(notes.contains(&"sweetness_from_memory".into()) && notes.contains(&"browns_sooner".into()));
    // Malt syrup is less than half as sweet, so that more than twice as much goes in.
    let malt = asked(&sweet, &["--swap", "malt syrup instead of sugar"]);
    near(grams(&malt, "dough", "malt syrup").unwrap(), 250.0, 1e-9);
    assert_eq!(swap(&malt)["allergens_new"], serde_json::json!(["barley"]));
}

/// Egg and yolk by their fat (9.51 and 26.54 g in 100 g), the water of the egg made up.
#[test]
fn yolk_for_whole_egg() {
    let eggy =
        dough("  1000 g  bread flour\n  400 g  water\n  20 g  salt\n  200 g  egg\n  10 g  instant yeast\n");
    let plain = asked(&eggy, &[]);
    let yolk = asked(&eggy, &["--swap", "egg yolk instead of egg"]);
    let weight = 200.0 * 9.51 / 26.54;
    near(grams(&yolk, "dough", "egg yolk").unwrap(), weight, 0.001);
    let water = 400.0 + 200.0 * 0.7615 - weight * 0.5231;
    near(grams(&yolk, "dough", "water").unwrap(), water, 0.01);
    near(
        figure(&yolk, "hydration_percent"),
        figure(&plain, "hydration_percent"),
        0.001,
    );
    near(figure(&yolk, "fat_percent"), figure(&plain, "fat_percent"), 0.001);
    assert!(
        swap(&yolk)["notes"]
            .as_array()
            .unwrap()
            .contains(&"egg_binds".into())
    );
}

/// A flour that takes up 3 % more water, as its entry in the bakehouse says, gets 3 g more for 100 g.
#[test]
fn flour_of_another_absorption() {
    let house = format!("{HOUSE}\ningredient lane white:\n  like  bread flour\n  absorption +3 %\n");
    let text = dough("  80 %  bread flour\n  20 %  whole wheat flour\n  650 g  water\n  20 g  salt\n")
        .replace("title: T", "title: T\nflour: 1 kg");
    let told = document(&house, &text, &["--swap", "lane white instead of bread flour"]);
    near(grams(&told, "dough", "lane white").unwrap(), 800.0, 1e-9);
    near(grams(&told, "dough", "water").unwrap(), 650.0 + 24.0, 1e-9);
    // Of another nobody has said anything, and that is said.
    let told = document(&house, &text, &["--swap", "plain flour instead of bread flour"]);
    near(grams(&told, "dough", "water").unwrap(), 650.0, 1e-9);
    assert_eq!(swap(&told)["notes"], serde_json::json!(["thirst_not_said"]));
    let served = ask(&house, &text, &["--swap", "plain flour instead of flour"]).ends_with(2);
    assert!(
        served.err.contains("bread flour, whole wheat flour"),
        "{}",
        served.err
    );
}

/// A stage keeps its own consistency: what its milk brought of water goes in there, though it has no line of it. A
/// part that is only butter is no place for water.
#[test]
fn a_stage_without_water_gets_a_line_of_it() {
    let text = "title: T\n\nsponge:\n  200 g  bread flour\n  200 g  whole milk\n  2 g  instant yeast\n  1 h  ripen\n\ndough:\n  300 g  \
                bread flour\n  120 g  water\n  10 g  salt\n  all  sponge\n  10 min  mix\n";
    let told = asked(text, &["--swap", "milk powder instead of whole milk"]);
    near(grams(&told, "sponge", "water").unwrap(), 200.0 * 0.8813, 0.001);
    near(grams(&told, "dough", "water").unwrap(), 120.0, 1e-9);
    let kitchen = Kitchen::new().file("bakehouse.loaf", HOUSE).file("a.loaf", text);
    let shown = kitchen
        .run(&["sheet", "a.loaf", "--swap", "milk powder instead of whole milk"])
        .ends_with(0);
    assert!(shown.out.contains("sponge: water"), "{}", shown.out);
    let block = "title: T\n\ndough butter:\n  250 g  unsalted butter\n  5 min  shape\n\ndough:\n  500 g  bread flour\n  300 g  \
                 water\n  10 g  salt\n  all  butter\n  10 min  mix\n";
    let told = asked(block, &["--swap", "salted butter instead of unsalted butter"]);
    assert_eq!(grams(&told, "dough butter", "water"), None);
    near(grams(&told, "dough", "water").unwrap(), 300.0 + 2.5 * 2.07, 1e-9);
}

/// What is swapped in a stage is made up in the stage, and what is poured of it follows.
#[test]
fn a_swap_in_a_stage_stays_in_the_stage() {
    let text = "title: T\n\npoolish:\n  300 g  bread flour\n  300 g  water\n  3 g  fresh yeast\n  12 h  ripen at 18 C\n\ndough:\n  \
                700 g  bread flour\n  350 g  water\n  20 g  salt\n  9 g  fresh yeast\n  all  poolish\n  10 min  mix\n  1 h  proof\n  40 \
                min  bake at 230 C\n";
    let told = asked(text, &["--swap", "instant yeast instead of fresh yeast"]);
    near(grams(&told, "poolish", "instant yeast").unwrap(), 0.99, 1e-9);
    near(grams(&told, "poolish", "water").unwrap(), 302.01, 1e-9);
    near(grams(&told, "dough", "poolish").unwrap(), 603.0, 1e-9);
    near(figure(&told, "dough_g"), 1682.0, 1e-9);
    let changes = swap(&told)["changes"].as_array().unwrap();
    assert_eq!(changes.len(), 4, "{changes:?}");
}

/// Wishes go with a size and with a variation.
#[test]
fn wishes_go_with_a_size_and_a_variation() {
    let text = dough(YEASTED) + "\nvariation wet:\n  700 g  water\n";
    let told = asked(
        &text,
        &[
            "--flour",
            "500 g",
            "--variation",
            "wet",
            "--swap",
            "instant yeast instead of fresh yeast",
        ],
    );
    near(grams(&told, "dough", "instant yeast").unwrap(), 3.3, 1e-9);
    near(grams(&told, "dough", "water").unwrap(), 350.0 + 6.7, 1e-9);
    assert_eq!(told["variation"], "wet");
}
/// What the scales cannot show stands in the document with its way out, and on the card as a sentence.
#[test]
fn what_is_too_little_for_the_scales_says_how_to_weigh_it() {
    let text = dough("  500 g  bread flour\n  340 g  water\n  10 g  salt\n  0.3 g  instant yeast\n");
    let coarse = "bakehouse: T\nscales: 1 g\nbake loss: 12 %\n";
    let told = document(coarse, &text, &[]);
    let line = &told["sheet"]["too_small_for_scales"][0];
    assert_eq!(line["name"], "instant yeast");
    assert_eq!(
        line["solution"],
        serde_json::json!({"stock_g": 10, "water_g": 990, "take_g": 30, "less_water_g": 30})
    );
    let kitchen = Kitchen::new()
        .file("bakehouse.loaf", coarse)
        .file("a.loaf", &text);
    let _ = kitchen.run(&["build", "a.loaf"]).ends_with(0);
    let card = kitchen.read("cards/a.html").replace('\u{a0}', " ");
    assert!(
        card.contains("stir 10 g of it into 990 g of water, take 30 g of that, and leave 30 g of water out")
    );
}

/// A card says what a swap changes only when it is asked to, keeps the recipe as it is, and where a swap cannot be had
/// that is told.
#[test]
fn a_card_hints_at_a_swap_when_asked() {
    let sweet =
        dough("  1000 g  bread flour\n  600 g  water\n  20 g  salt\n  100 g  sugar\n  10 g  instant yeast\n");
    let kitchen = Kitchen::new()
        .file("bakehouse.loaf", HOUSE)
        .file("sweet.loaf", &sweet)
        .file("lean.loaf", dough(YEASTED));
    let _ = kitchen.run(&["build", "sweet.loaf"]).ends_with(0);
    assert!(!kitchen.read("cards/sweet.html").contains("instead of"));
    let served = kitchen
        .run(&[
            "build",
            "sweet.loaf",
            "lean.loaf",
            "--swap",
            "honey instead of sugar",
        ])
        .ends_with(0);
    assert!(
        served
            .err
            .contains("lean.loaf: no hint on honey instead of sugar: the dough has no sugar"),
        "{}",
        served.err
    );
    let card = kitchen.read("cards/sweet.html").replace('\u{a0}', " ");
    for words in [
        "honey instead of sugar",
        "they are about as sweet",
        "583 g",
        "browns sooner",
    ] {
        assert!(card.contains(words), "{words}");
    }
    let hostile = kitchen.run(&[
        "build",
        "lean.loaf",
        "--swap",
        "h\u{1b}[2Jney instead of s\u{1b}]0;x\u{7}",
    ]);
    assert!(!hostile.err.contains(['\u{1b}', '\u{7}']), "{:?}", hostile.err);
    let hostile = kitchen
        .run(&["sheet", "lean.loaf", "--swap", "h\u{1b}[2Jney instead of salt"])
        .ends_with(2);
    assert!(!hostile.err.contains('\u{1b}'), "{:?}", hostile.err);
    // The formula of the card is the recipe's own.
    assert!(card.contains("600 g"));
    assert!(!kitchen.read("cards/lean.html").contains("instead of"));
}

/// A swap that cannot be read is shown with a mark below the place at fault, by `build` as by `sheet`, and nothing is made.
#[test]
fn a_slip_in_a_swap_is_shown_like_one_in_a_recipe() {
    let kitchen = Kitchen::new().file("lean.loaf", dough(YEASTED));
    for (value, marked) in [
        ("honey", "^^^^^"),
        ("honey for sugar", "^^^^^^^^^^^^^^^"),
        ("honey instead of", "      ^^^^^^^^^^"),
        (" instead of sugar", "^^^^^^^^^^"),
        ("", "^"),
    ] {
        let told = |verb: &[&str]| {
            let served = kitchen
                .run(&[verb, &["lean.loaf", "--swap", value]].concat())
                .ends_with(2);
            assert_eq!(served.out, "", "{value}");
            served.err
        };
        let (sheet, build) = (told(&["sheet"]), told(&["build", "--out", "cards"]));
        assert_eq!(sheet, build, "{value}");
        let shown = format!("1 | {}\n  | {marked}\n", value.trim());
        assert!(build.contains(&shown.replace("| \n", "|\n")), "{build}");
        assert!(
            build.contains("--> --swap:1:") && build.contains("write `honey instead of sugar`"),
            "{build}"
        );
    }
    assert!(!kitchen.path("cards").exists());
}

/// Where a recipe shows ounces alone, so does the sentence on its pieces.
#[test]
fn pieces_are_scaled_in_the_units_of_the_recipe() {
    let loaves = dough("  500 g  bread flour\n  325 g  water\n  10 g  salt\n")
        .replace("title: T\n", "title: T\nmakes: 2 loaves\n");
    let scaled = |recipe: &str| {
        let kitchen = Kitchen::new().file("a.loaf", recipe);
        let out = kitchen
            .run(&["sheet", "a.loaf"])
            .ends_with(0)
            .out
            .replace('\u{a0}', " ");
        out.lines()
            .find(|line| line.starts_with("scaled as"))
            .map(str::to_owned)
    };
    assert_eq!(
        scaled(&loaves).as_deref(),
        Some("scaled as 1 of 418 g, 1 of 417 g")
    );
    let ounces = loaves.replace("makes:", "units: oz\nmakes:");
    assert_eq!(
        scaled(&ounces).as_deref(),
        Some("scaled as 1 of 14.75 oz, 1 of 14.7 oz")
    );
    // 1006 and 1007 g: in twentieths of an ounce they are alike, and there is nothing to say.
    let alike = ounces.replace("500 g", "1250 g").replace("325 g", "753 g");
    assert_eq!(scaled(&alike), None);
}
