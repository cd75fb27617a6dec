//! What a reader of a sheet adds up in the head: a column to its total, a row to the whole bread, and a stage to what
//! is poured of it.

use serde_json::Value;

use crate::kitchen::Kitchen;

/// Names and weights in the first unit of the rows below a heading, up to its total, the total last.
fn rows(sheet: &str, heading: &str) -> Vec<(String, f64)> {
    let lines = sheet
        .lines()
        .skip_while(|line| !line.trim_start().starts_with(heading));
    let mut rows = Vec::new();
    for line in lines.skip(1) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let Some(place) = words.iter().position(|word| word.parse::<f64>().is_ok()) else {
            continue;
        };
        rows.push((words[..place].join(" "), words[place].parse().unwrap()));
        if words[0] == "Total" {
            break;
        }
    }
    assert!(rows.len() > 1, "{heading} in {sheet}");
    rows
}

fn weight(rows: &[(String, f64)], name: &str) -> f64 {
    rows.iter()
        .find(|(other, _)| other == name)
        .unwrap_or_else(|| panic!("{name} in {rows:?}"))
        .1
}

fn sheet_of(kitchen: &Kitchen, file: &str) -> String {
    let served = kitchen.run(&["sheet", file]);
    assert_eq!(served.code, Some(0), "{}", served.err);
    served.out
}

#[test]
fn a_trace_in_two_blocks_is_a_trace_in_the_whole_bread() {
    let text = "title: Traces\nmakes: 1 loaf\n\npoolish:\n  100 g  bread flour\n  100 g  water\n  0.2 g  instant yeast\n  \
                12 h   ripen at 20 C\n\ndough:\n  200 g  bread flour\n  all poolish\n  80 g   water\n  4 g    salt\n  \
                0.3 g  instant yeast\n  10 min mix\n  3 h    bulk at 24 C\n  40 min bake at 230 C\n";
    let sheet = sheet_of(&Kitchen::new().file("a.loaf", text), "a.loaf");
    let whole = rows(&sheet, "Whole bread");
    assert_eq!(weight(&whole, "instant yeast").to_string(), "0.5");
    // What the baker wrote in whole grams stands so.
    assert_eq!(weight(&whole, "bread flour").to_string(), "300");
    assert_eq!(weight(&rows(&sheet, "Poolish"), "bread flour").to_string(), "100");
}

/// 0.164 and 0.328 oz: each row is a sum of what is weighed out, not grams turned to ounces once more.
#[test]
fn the_whole_bread_in_ounces_is_what_is_weighed_out() {
    let text = "title: Rolls\nmakes: 12 rolls of 65 g\nunits: oz, g\n\ndough:\n  100 %  bread flour\n  52 %   milk\n  8 %    egg\n  \
                5 %    honey\n  2 %    salt\n  1 %    instant yeast\n  10 min mix\n  1 h    proof\n  20 min bake at 200 C\n";
    let sheet = sheet_of(&Kitchen::new().file("a.loaf", text), "a.loaf");
    let (whole, dough) = (rows(&sheet, "Whole bread"), rows(&sheet, "Dough"));
    assert_eq!(whole, dough);
    assert_eq!(weight(&whole, "instant yeast").to_string(), "0.15");
    assert_eq!(weight(&whole, "salt").to_string(), "0.35");
}

#[test]
fn a_stage_makes_what_is_poured_of_it_and_every_column_comes_to_its_total() {
    let kitchen = Kitchen::new().shipped_recipes();
    for (recipe, stages) in [
        ("winter-wheat", &["Biga", "Scald"][..]),
        ("millrace-seeded-rye", &["Levain", "Soaker"]),
    ] {
        let sheet = sheet_of(&kitchen, &format!("recipes/{recipe}.loaf"));
        let dough = rows(&sheet, "Final dough");
        for stage in stages {
            let made = weight(&rows(&sheet, stage), "Total");
            assert_eq!(made.to_string(), weight(&dough, stage).to_string(), "{recipe}");
        }
        let whole = rows(&sheet, "Whole bread");
        for (heading, rows) in [("whole", &whole), ("dough", &dough)] {
            let (total, parts) = rows.split_last().unwrap();
            let sum: f64 = parts.iter().map(|(_, weight)| weight).sum();
            assert_eq!(
                sum.round().to_string(),
                total.1.to_string(),
                "{recipe}: {heading}"
            );
        }
        assert_eq!(
            weight(&whole, "Total").to_string(),
            weight(&dough, "Total").to_string()
        );
    }
}

/// Starter that seeds a levain goes in and is taken out again; all flour of the dough is the flour of the bread.
#[test]
fn the_flour_of_the_dough_is_the_flour_of_the_bread() {
    let kitchen = Kitchen::new().shipped_recipes();
    let files = kitchen.files();
    let is_recipe = |name: &&String| name.ends_with(".loaf") && !name.ends_with("bakehouse.loaf");
    let mut seen = 0;
    for recipe in files.keys().filter(is_recipe) {
        let served = kitchen.run(&["sheet", "--json", recipe]);
        let document: Value = serde_json::from_str(&served.out).unwrap();
        let variations = document["variations"].as_array().unwrap();
        let sheets = variations.iter().chain([&document]).map(|bread| &bread["sheet"]);
        for sheet in sheets {
            let blocks = sheet["blocks"].as_array().unwrap();
            let dough = blocks.iter().find(|block| block["role"] == "dough").unwrap();
            assert_eq!(dough["all_flour_g"], sheet["figures"]["flour_g"], "{recipe}");
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}
