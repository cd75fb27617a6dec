//! Faults as people and editors see them: every case in `tests/cases/check`, rendered whole, and the streams,
//! codes and forms of `check`.
//!
//! A case is a recipe, or a folder with a bakehouse; its name begins with the slug of the fault that it shows.

use std::fs;
use std::path::{Path, PathBuf};

use crate::kitchen::Kitchen;

const GOOD: &str = "title: Plain\nmakes: 2 loaves of 860 g\n\ndough:\n  100 %  bread flour\n  68 %   water\n  2 %    \
                    salt\n  1 %    instant yeast\n  10 min knead\n  40 min bake at 230 C\n";

fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/check");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir() || path.extension().is_some_and(|ending| ending == "loaf"))
        .collect();
    paths.sort();
    paths
}

/// Puts a case into a kitchen: a recipe alone, or a folder with everything in it.
fn kitchen_of(case: &Path) -> Kitchen {
    let mut kitchen = Kitchen::new();
    let mut paths = vec![case.to_owned()];
    while let Some(path) = paths.pop() {
        if path.is_dir() {
            paths.extend(fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else if path.extension().is_some_and(|ending| ending == "loaf") {
            let name = path.strip_prefix(if case.is_dir() {
                case
            } else {
                case.parent().unwrap()
            });
            kitchen = kitchen.file(name.unwrap().to_str().unwrap(), fs::read(&path).unwrap());
        }
    }
    kitchen
}

fn slug_of(case: &Path) -> String {
    let name = case.file_stem().unwrap().to_str().unwrap();
    name.split("--").next().unwrap().to_owned()
}

#[test]
fn every_fault_is_shown_as_agreed() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("../cases/check");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| {
        // Folders show what is wrong in a bakehouse; the suite of the bakehouse looks at those.
        for case in cases().into_iter().filter(|case| case.is_file()) {
            let kitchen = kitchen_of(&case);
            let served = kitchen.run(&["check"]);
            let short = kitchen.run(&["check", "--short"]);
            let name = case.file_stem().unwrap().to_str().unwrap().to_owned();
            insta::assert_snapshot!(name, format!("{}{}", served.out, short.out));
        }
    });
}

#[test]
fn every_case_raises_the_fault_it_is_named_for() {
    for case in cases() {
        let served = kitchen_of(&case).run(&["check", "--short"]);
        let slug = slug_of(&case);
        let raised = served.out.contains(&format!("[{slug}]"));
        assert!(raised, "{} does not raise it:\n{}", case.display(), served.out);
        let is_error = served.out.contains(": error[");
        let _ = served.ends_with(i32::from(is_error));
    }
}

#[test]
fn the_exit_code_tells_the_truth() {
    let kitchen = Kitchen::new()
        .file("good.loaf", GOOD)
        .file("warned.loaf", GOOD.replace("2 %    salt", "2 %    slat"))
        .file("faulty.loaf", GOOD.replace("title: Plain\n", ""));
    let _ = kitchen.run(&["check", "good.loaf"]).ends_with(0);
    let _ = kitchen.run(&["check", "warned.loaf"]).ends_with(0);
    let _ = kitchen
        .run(&["check", "--deny-warnings", "good.loaf"])
        .ends_with(0);
    let _ = kitchen
        .run(&["check", "--deny-warnings", "warned.loaf"])
        .ends_with(1);
    let _ = kitchen.run(&["check", "faulty.loaf"]).ends_with(1);
    let _ = kitchen.run(&["check"]).ends_with(1);
    let _ = kitchen.run(&["check", "absent.loaf"]).ends_with(2);
    let _ = kitchen.run(&["check", "faulty.loaf", "absent.loaf"]).ends_with(2);
    let _ = kitchen.run(&["check", "--no-such-thing"]).ends_with(2);
    let _ = kitchen.run(&["check", "--help"]).ends_with(0);
}

#[test]
fn every_fault_of_a_file_is_told_in_one_run() {
    let text = "titel: Plain\nmakes: 2 lovs of\n\ndough:\n  100 %  bred flour\n  1,000 g water\n  2 %    salt\n  \
                10-5 min knead\n  20 C  rest\n";
    let served = Kitchen::new()
        .file("a.loaf", text)
        .run(&["check", "--short"])
        .ends_with(1);
    for line in [1, 5, 6, 8, 9] {
        assert!(
            served.out.contains(&format!("a.loaf:{line}:")),
            "line {line}:\n{}",
            served.out
        );
    }
}

#[test]
fn results_and_talk_go_their_own_ways() {
    let kitchen = Kitchen::new().file("a.loaf", GOOD.replace("title: Plain\n", ""));
    let served = kitchen.run(&["check"]).ends_with(1);
    assert!(served.out.contains("missing-title") && !served.err.contains("missing-title"));
    assert!(served.err.contains("1 recipe looked at") && !served.out.contains("looked at"));
    let json = kitchen.run(&["check", "--json"]).ends_with(1);
    assert_eq!(json.err, "");
    let read: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(read["schema_version"], 1);
    assert_eq!(read["files"], serde_json::json!(["a.loaf"]));
    assert_eq!(read["counts"]["errors"], 1);
    assert_eq!(read["faults"][0]["slug"], "missing-title");
}

#[test]
fn standard_input_is_as_good_as_a_file() {
    let bad = GOOD
        .replace("title: Plain\n", "")
        .replace("100 %  bread", "100 %  own");
    let kitchen = Kitchen::new()
        .file(
            "house/bakehouse.loaf",
            "bakehouse: Oxlip Row\n\ningredient own flour:\n  like  bread flour\n",
        )
        .file("house/a.loaf", &bad)
        .stdin(bad.clone());
    let from_file = kitchen.run(&["check", "--short", "house/a.loaf"]).ends_with(1);
    let named = kitchen
        .run(&["check", "--short", "-", "--stdin-path", "house/a.loaf"])
        .ends_with(1);
    assert_eq!(from_file.out, named.out);
    assert!(!named.out.contains("own flour"), "{}", named.out);
    let unnamed = kitchen.run(&["check", "--short", "-"]).ends_with(1);
    assert!(unnamed.out.contains("<stdin>:"), "{}", unnamed.out);
    assert!(unnamed.out.contains("own flour"), "{}", unnamed.out);
}

#[test]
fn a_bakehouse_can_come_from_standard_input() {
    let kitchen = Kitchen::new()
        .file("bakehouse.loaf", "bakehouse: Oxlip Row\n")
        .stdin("bakehouse: Oxlip Row\nroom: 9999 C\n");
    let served = kitchen
        .run(&["check", "--short", "-", "--stdin-path", "bakehouse.loaf"])
        .ends_with(1);
    assert!(served.out.starts_with("bakehouse.loaf:2:"), "{}", served.out);
}

#[test]
fn a_bakehouse_is_told_of_once_for_all_its_recipes() {
    let kitchen = Kitchen::new()
        .file("bakehouse.loaf", "bakehouse: Oxlip Row\nroom: 9999 C\n")
        .file("a.loaf", GOOD)
        .file("deep/bakehouse.loaf", "fridge: 5 C\n")
        .file("deep/b.loaf", GOOD);
    let served = kitchen.run(&["check", "--short"]).ends_with(1);
    assert_eq!(
        served.out.matches("bakehouse.loaf:2:").count(),
        1,
        "{}",
        served.out
    );
    assert!(
        served.err.contains("bakehouse.loaf, deep/bakehouse.loaf"),
        "{}",
        served.err
    );
}

#[test]
fn settings_are_the_same_from_every_folder() {
    let kitchen = Kitchen::new()
        .file(".git/HEAD", "")
        .file(
            "bakehouse.loaf",
            "bakehouse: Oxlip Row\n\ningredient own flour:\n  like  bread flour\n",
        )
        .file("a/b/x.loaf", GOOD.replace("bread flour", "own flour"));
    for (folder, path) in [
        ("", "a/b/x.loaf"),
        ("", "a/b"),
        ("", "a"),
        ("a", "b/x.loaf"),
        ("a", "../a/b"),
        ("a/b", "x.loaf"),
        ("a/b", "."),
    ] {
        let mut command = kitchen.command(&["check", "--deny-warnings", path]);
        let output = command.current_dir(kitchen.path(folder)).output().unwrap();
        let told = String::from_utf8_lossy(&output.stdout).into_owned();
        assert_eq!(output.status.code(), Some(0), "{folder} {path}\n{told}");
    }
}

#[test]
fn a_large_file_is_refused_without_being_read() {
    let kitchen = Kitchen::new().file("a.loaf", vec![b'x'; 1024 * 1024 + 1]);
    let served = kitchen.run(&["check", "--short"]).ends_with(1);
    assert!(served.out.contains("[file-too-large]"), "{}", served.out);
    let sparse = fs::File::create(kitchen.path("b.loaf")).unwrap();
    sparse.set_len(8 << 30).unwrap();
    let served = kitchen.run(&["check", "--short", "b.loaf"]).ends_with(1);
    assert!(
        served.out.contains("b.loaf:1:1: error[file-too-large]"),
        "{}",
        served.out
    );
}

#[test]
fn twenty_thousand_faults_are_cut_short() {
    let lines = "  12 zz  what is this\n".repeat(20_000);
    let kitchen = Kitchen::new().file("a.loaf", format!("title: a\ndough:\n{lines}"));
    let served = kitchen.run(&["check"]).ends_with(1);
    assert!(served.out.len() <= 66 * 1024, "{} bytes", served.out.len());
    assert!(
        served.out.contains(" more like these are not shown"),
        "{}",
        served.out
    );
}

#[test]
fn a_variation_answers_for_its_own_faults() {
    let short = GOOD.replace("100 %  bread", "90 %   bread");
    let told = |text: String| {
        Kitchen::new()
            .file("a.loaf", text)
            .run(&["check", "--short"])
            .ends_with(1)
            .out
    };
    let rye = told(format!("{short}\nvariation rye:\n  30 %  rye flour\n"));
    assert!(
        rye.contains(":5:3: error[flour-shares]: the flours of the dough add up to 90 %"),
        "{rye}"
    );
    assert!(
        rye.contains(":13:3: error[flour-shares]: in variation rye, the flours of the dough add up to 120 %"),
        "{rye}"
    );
    // What the plain recipe is blamed for already follows in each of its variations.
    let soft = told(format!("{short}\nvariation soft:\n  72 %  water\n"));
    assert_eq!(soft.matches("flour-shares").count(), 1, "{soft}");
    // Each variation with a fault of its own is named.
    let two = told(format!(
        "{GOOD}\nvariation a:\n  without bread flour\n\nvariation b:\n  without bread flour\n"
    ));
    for name in ["in variation a, ", "in variation b, "] {
        assert!(two.contains(name), "{name}:\n{two}");
    }
}

/// Gives the slugs of the errors and warnings about a text, in the order of the page.
fn slugs(text: &str) -> Vec<String> {
    let served = Kitchen::new().file("a.loaf", text).run(&["check", "--short"]);
    let told = served
        .out
        .lines()
        .filter(|line| line.contains(": error[") || line.contains("[picture-missing]"));
    told.map(|line| line.split(['[', ']']).nth(1).unwrap().to_owned())
        .collect()
}

#[test]
fn a_slip_hides_no_fault_that_does_not_follow_from_it() {
    let short = GOOD.replace("100 %  bread", "90 %   bread");
    let with = |line: &str| format!("{short}  {line}\n");
    let stages =
        "levain:\n  50 g bread flour\n  50 g water\n\nsoaker:\n  50 g sunflower seeds\n  50 g water\n";
    let poured = GOOD
        .replace("100 %", "1000 g")
        .replace("dough:\n", "dough:\n  120 g levain\n  130 g soaker\n");
    for (text, expected) in [
        (format!("colr: red\n{short}"), vec!["unknown-key", "flour-shares"]),
        (
            format!("slices: many\n{short}"),
            vec!["bad-value", "flour-shares"],
        ),
        (with("10 g yeast"), vec!["flour-shares", "which-yeast"]),
        (with("5-6 g honey"), vec!["flour-shares", "weight-range"]),
        (with("7 gg sugar"), vec!["flour-shares", "no-unit-weight"]),
        (with("10-5 min rest"), vec!["flour-shares", "range-backwards"]),
        (
            format!("{short}\nlevain:\n  100 % rye flour\n  90 % levain\n"),
            vec!["flour-shares", "stage-round"],
        ),
        (
            format!("picture: no.jpg, a slice\ncolr: red\n{GOOD}"),
            vec!["picture-missing", "unknown-key"],
        ),
        (
            format!("{GOOD}\nvariation a:\n  without honey\n  7 gg sugar\n  1..2 % malt syrup\n"),
            vec!["variation-misses", "no-unit-weight", "bad-number"],
        ),
        (
            format!("{GOOD}  2 egg yolks\n\nvariation a:\n  without egg\n"),
            vec!["variation-misses"],
        ),
        (
            format!("colr: red\n{GOOD}\nvariation a:\n  10 % rye flour\n"),
            vec!["unknown-key", "flour-shares"],
        ),
        (
            format!("{poured}\n{stages}"),
            vec!["sizes-disagree", "stage-short", "stage-short"],
        ),
    ] {
        assert_eq!(slugs(&text), expected, "{text}");
        let built = Kitchen::new().file("a.loaf", &text).run(&["build"]);
        let _ = built.ends_with(1);
    }
}

#[test]
fn what_only_follows_from_a_slip_is_not_told() {
    let sized = "title: Plain\nmakes: 2 loaves of 860 g\n";
    let short = GOOD.replace("100 %  bread", "90 %   bread");
    for (text, expected) in [
        // The lost line may have been the flour that is missing, or the size.
        (format!("{short}  10 gg rye flour\n"), vec!["no-unit-weight"]),
        (
            format!("{short}  10,000 % whole wheat flour\n"),
            vec!["ambiguous-number"],
        ),
        (GOOD.replace("makes:", "maeks:"), vec!["unknown-key"]),
        (
            GOOD.replace("makes: 2 loaves of 860 g", "makes: 2 lovs of"),
            vec!["bad-value"],
        ),
        (GOOD.replace("title:", "titel:"), vec!["unknown-key"]),
        // Nothing is read under the key that is nearest to another.
        (
            GOOD.replace(sized, &format!("{sized}colour: red\n")),
            vec!["unknown-key"],
        ),
        (
            format!(
                "{}\ningredient own flour:\n  like bread flour\n",
                GOOD.replace("bread flour", "own flour")
            ),
            vec!["unknown-block"],
        ),
        // A variation changes a line that could not be read.
        (
            format!(
                "{}\nvariation a:\n  without salt\n  20 min knead\n",
                GOOD.replace("2 %    salt", "2,.1 % salt")
                    .replace("10 min knead", "10,.1 min knead")
            ),
            vec!["bad-number", "bad-number"],
        ),
        // Flours that do not add up leave the sizes of all that hangs on them unknown.
        (
            format!(
                "{}\nlevain:\n  50 g bread flour\n  50 g water\n",
                short.replace("dough:", "dough:\n  20 % levain")
            ),
            vec!["flour-shares"],
        ),
    ] {
        assert_eq!(slugs(&text), expected, "{text}");
    }
}
