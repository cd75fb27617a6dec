//! `sheet`: the document and its schema, sizes asked for, variations.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::kitchen::Kitchen;

const PLAIN: &str = "title: Plain\nmakes: 2 loaves of 860 g\n\ndough:\n  100 %  bread flour\n  68 %   water\n  \
                     2 %    salt\n  2 %    fresh yeast\n  10 min knead\n  40-50 min bake at 230 C\n\nvariation \
                     wet:\n  72 %   water\n";

fn document(arguments: &[&str]) -> Value {
    let all = [&["sheet", "a.loaf", "--json"], arguments].concat();
    let served = Kitchen::new().file("a.loaf", PLAIN).run(&all).ends_with(0);
    serde_json::from_str(&served.out).unwrap()
}

#[test]
fn the_schemas_that_ship_are_current() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar");
    let schemas = [
        ("sheet.schema.json", loafwright::render::json::sheet_schema()),
        ("check.schema.json", loafwright::render::json::faults_schema()),
        (
            "compare.schema.json",
            loafwright::render::json::comparison_schema(),
        ),
    ];
    for (name, current) in schemas {
        let shipped = fs::read_to_string(folder.join(name)).unwrap_or_default();
        let fresh = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        fs::write(&fresh, &current).unwrap();
        assert!(
            shipped == current,
            "grammar/{name} is not what the types say; copy {} over it",
            fresh.display()
        );
    }
    for verb in ["check", "sheet", "compare"] {
        let served = Kitchen::new().run(&[verb, "--schema"]).ends_with(0);
        let shipped = fs::read_to_string(folder.join(format!("{verb}.schema.json"))).unwrap();
        assert_eq!(served.out, shipped, "{verb}");
        assert_eq!(served.err, "");
    }
}

#[test]
fn weights_are_shown_rounded_and_exact() {
    let document = document(&[]);
    assert_eq!(document["schema_version"], 1);
    let flour = &document["sheet"]["total_formula"][0];
    // 1,720 g of dough over 172 % of flour.
    assert_eq!(flour["weight_g"], 1000);
    assert_eq!(flour["weight_g_exact"], "1000");
    assert_eq!(flour["percent_of_all_flour"], 100);
    let wet = &document["variations"][0];
    assert_eq!(wet["name"], "wet");
    // 1,720 g over 176 %: 977 3/11 g.
    assert_eq!(wet["sheet"]["total_formula"][0]["weight_g_exact"], "10750/11");
    assert_eq!(wet["sheet"]["total_formula"][0]["weight_g"], 977.273);
    let bake = &document["sheet"]["schedule"]["lanes"][0]["steps"][1];
    assert_eq!(
        bake["time_minutes"],
        serde_json::json!({"least": 40, "middle": 45, "most": 50})
    );
}

#[test]
fn a_size_asked_for_takes_the_place_of_the_recipes() {
    let flour = |arguments: &[&str]| document(arguments)["sheet"]["figures"]["flour_g"].clone();
    assert_eq!(flour(&["--makes", "3 loaves of 860 g"]), 1500);
    assert_eq!(flour(&["--makes", "1 loaf"]), 500);
    // A dozen is a number and no piece: 12 loaves of what the recipe says.
    assert_eq!(flour(&["--makes", "a dozen"]), 6000);
    assert_eq!(
        document(&["--makes", "2 dozen"])["sheet"]["makes"]["piece"],
        "loaves"
    );
    assert_eq!(flour(&["--flour", "5 kg"]), 5000);
    let tin = document(&["--tin", "20 x 10 x 10 cm, 2 ml per g"]);
    assert_eq!(tin["sheet"]["makes"]["dough_per_piece_g"], 1000);
}

/// The name of the pieces follows their number wherever that is asked for; what no word file knows is told by the word
/// for a piece, and never in a form of its own making.
#[test]
fn pieces_are_called_as_their_number_wants() {
    for (language, makes, asked, wanted) in [
        ("en", "2 loaves", "--flour 500 g", "1 loaf of "),
        ("en", "2 loaves", "--flour 1.5 kg", "3 loaves of "),
        ("en", "1 small loaf", "--flour 750 g", "1.5 small loaves of "),
        ("en", "2 loaves", "--makes 1 loaves", "1 loaf of "),
        ("en", "2 moons", "--flour 500 g", "1 piece of "),
        ("en", "2 moons", "--flour 1 kg", "2 moons of "),
        ("en", "2 moons", "--makes 3 suns", "3 suns of "),
        ("en", "2 loaves", "--makes a dozen", "12 loaves of "),
        ("en", "half a dozen", "--makes 2 dozen", "24 pieces of "),
        ("de", "2 Roggenbrote", "--flour 500 g", "1 Roggenbrot zu "),
        ("de", "2 runde Laibe", "--flour 500 g", "1 Stück zu "),
        ("fr", "2 petits pains", "--flour 750 g", "1,5 petit pain de "),
    ] {
        let text = PLAIN.replace("2 loaves", makes);
        let kitchen = Kitchen::new().file("a.loaf", format!("language: {language}\n{text}"));
        let (option, size) = asked.split_once(' ').unwrap();
        let served = kitchen.run(&["sheet", "a.loaf", option, size]).ends_with(0);
        assert!(
            served.out.contains(&format!("\n{wanted}")),
            "{wanted}: {}",
            served.out
        );
    }
}

#[test]
fn a_slip_in_a_size_is_shown_like_one_in_a_recipe() {
    let kitchen = Kitchen::new().file("a.loaf", PLAIN);
    for arguments in [
        ["--flour", "5 kgg"],
        ["--makes", "x"],
        ["--tin", "20 x 10 cm"],
        ["--units", "stone"],
    ] {
        let served = kitchen
            .run(&["sheet", "a.loaf", arguments[0], arguments[1]])
            .ends_with(2);
        assert!(served.err.contains(arguments[0]), "{}", served.err);
        assert_eq!(served.out, "");
    }
    let _ = kitchen
        .run(&["sheet", "a.loaf", "--flour", "1 kg", "--makes", "2 loaves"])
        .ends_with(2);
}

#[test]
fn a_variation_is_asked_for_by_name() {
    let wet = document(&["--variation", "wet"]);
    assert_eq!(wet["variation"], "wet");
    assert_eq!(wet["sheet"]["figures"]["hydration_percent"], 72);
    let kitchen = Kitchen::new().file("a.loaf", PLAIN);
    let served = kitchen
        .run(&["sheet", "a.loaf", "--variation", "wett"])
        .ends_with(2);
    assert!(served.err.contains("did you mean `wet`?"), "{}", served.err);
}

#[test]
fn a_faulty_recipe_gives_no_numbers() {
    let kitchen = Kitchen::new().file("a.loaf", PLAIN.replace("title: Plain\n", ""));
    let served = kitchen.run(&["sheet", "a.loaf", "--json"]).ends_with(1);
    assert_eq!(served.out, "");
    assert!(served.err.contains("missing-title"), "{}", served.err);
}

#[test]
fn a_faulty_variation_leaves_the_plain_bread_alone() {
    let text = format!("{PLAIN}\nvariation odd:\n  without anchovies\n");
    let served = Kitchen::new()
        .file("a.loaf", text)
        .run(&["sheet", "a.loaf", "--json"])
        .ends_with(1);
    let document: Value = serde_json::from_str(&served.out).unwrap();
    assert_eq!(document["sheet"]["figures"]["flour_g"], 1000);
    assert_eq!(document["variations"].as_array().unwrap().len(), 1);
}

#[test]
fn a_table_for_the_terminal() {
    let served = Kitchen::new()
        .file(
            "a.loaf",
            PLAIN.replace("title: Plain\n", "title: Plain\nunits: g, oz\n"),
        )
        .run(&["sheet", "a.loaf"])
        .ends_with(0);
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("../cases/sheet");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!("plain", served.out));
}

#[test]
fn every_table_fits_eighty_columns_and_has_no_borders_in_a_pipe() {
    let kitchen = Kitchen::new().shipped_recipes();
    let recipes: Vec<String> = kitchen
        .files()
        .into_keys()
        .filter(|name| name.starts_with("recipes/") && !name.ends_with("bakehouse.loaf"))
        .collect();
    assert!(recipes.len() > 10);
    for recipe in recipes {
        let served = kitchen.run(&["sheet", &recipe]).ends_with(0);
        for line in served.out.lines() {
            assert!(line.chars().count() <= 80, "{recipe}: {line}");
            assert!(
                !line.contains(['|', '\u{a0}']) && !line.contains("--"),
                "{recipe}: {line}"
            );
        }
    }
}

#[test]
fn units_asked_for_are_the_ones_that_are_shown() {
    let kitchen = Kitchen::new().file("a.loaf", PLAIN);
    let served = kitchen.run(&["sheet", "a.loaf", "--units", "oz"]).ends_with(0);
    assert!(
        served.out.contains("2 lb 3.25 oz") && !served.out.contains(" g "),
        "{}",
        served.out
    );
}

#[test]
fn a_formula_pours_a_stage_in_weights_without_a_line_for_it() {
    let head = "title: A\nflour: 1 kg\n\nlevain:\n  100 g bread flour\n  100 g water\n  20 g starter\n  8 h ripen\n\n";
    let formula = |marker: &str| {
        format!(
            "{head}formula:\n  100 % bread flour\n  70 % water\n{marker}  2 % salt\n  10 min mix\n  \
             40 min bake at 230 C\n"
        )
    };
    for marker in ["", "  all levain\n"] {
        let served = Kitchen::new()
            .file("a.loaf", formula(marker))
            .run(&["sheet", "a.loaf", "--json"])
            .ends_with(0);
        let document: Value = serde_json::from_str(&served.out).unwrap();
        let sheet = &document["sheet"];
        // 220 g less the 20 g of seed that are kept: 100 g of the 1,000 g of flour are fermented ahead.
        assert_eq!(sheet["figures"]["prefermented_flour_percent"], 10, "{marker:?}");
        let dough = sheet["blocks"].as_array().unwrap().last().unwrap();
        let lines = dough["lines"].as_array().unwrap();
        let levain = lines.iter().find(|line| line["name"] == "levain").unwrap();
        assert_eq!(levain["weight_g"], 200, "{marker:?}");
        assert_eq!(dough["lines"][0]["weight_g"], 900, "{marker:?}");
    }
}

#[test]
fn a_place_that_nobody_knows_stays_among_the_words() {
    let text = PLAIN
        .replace("  68 %   water\n", "  68 %   water at cellar\n")
        .replace(
            "  10 min knead\n",
            "  10 min knead\n  1 h    rest at garage until doubled\n",
        );
    let served = Kitchen::new()
        .file("a.loaf", text)
        .run(&["sheet", "a.loaf"])
        .ends_with(0);
    for words in ["Rest at garage, 1 h, until doubled", "water, at cellar"] {
        assert!(served.out.contains(words), "{words}: {}", served.out);
    }
    assert!(served.err.contains("[unknown-place]"), "{}", served.err);
}
