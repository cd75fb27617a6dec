//! Pairs of versions worked by hand: `a.loaf` and `b.loaf` in a folder each, and what is told of them.

use std::fs;
use std::path::{Path, PathBuf};

use crate::kitchen::Kitchen;

/// Pairs that are the same bread.
const SAME_BREAD: &[&str] = &[
    "formula-for-dough",
    "other-units",
    "reformatted",
    "weights-for-percentages",
];

pub(super) fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/compare");
    let mut cases: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    cases.sort();
    cases
}

fn kitchen_of(case: &Path) -> Kitchen {
    Kitchen::new()
        .file("a.loaf", fs::read(case.join("a.loaf")).unwrap())
        .file("b.loaf", fs::read(case.join("b.loaf")).unwrap())
}

#[test]
fn every_pair_is_told_as_agreed() {
    assert!(cases().len() >= 20);
    for case in cases() {
        let name = case.file_name().unwrap().to_str().unwrap();
        let code = match name {
            "does-not-compute" => 2,
            name if SAME_BREAD.contains(&name) => 0,
            _ => 1,
        };
        let kitchen = kitchen_of(&case);
        let served = kitchen.run(&["compare", "a.loaf", "b.loaf"]).ends_with(code);
        let told = fs::read_to_string(case.join("told.txt")).unwrap();
        assert_eq!(served.out, told, "{name}");
        let _ = kitchen.run(&["compare", "b.loaf", "a.loaf"]).ends_with(code);
    }
}

#[test]
fn a_version_is_the_same_as_itself_and_as_its_one_form() {
    for case in cases() {
        for file in ["a.loaf", "b.loaf"] {
            let kitchen = kitchen_of(&case);
            let name = case.display();
            if name.to_string().ends_with("does-not-compute") && file == "b.loaf" {
                continue;
            }
            let served = kitchen.run(&["compare", file, file]).ends_with(0);
            assert!(
                served.out.contains(": the same, letter by letter\n"),
                "{name}\n{}",
                served.out
            );
            let text = kitchen.read(file);
            let kitchen = kitchen.file("loose.loaf", text.replace("\n  ", "\n     ").replace(" %", "%"));
            let served = kitchen.run(&["compare", file, "loose.loaf"]).ends_with(0);
            assert!(
                served.out.contains("only the writing changed"),
                "{name}\n{}",
                served.out
            );
        }
    }
}

#[test]
fn the_difference_of_the_texts_is_one_option_away() {
    let case = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/compare/reformatted");
    let served = kitchen_of(&case)
        .run(&["compare", "--text", "a.loaf", "b.loaf"])
        .ends_with(0);
    assert!(served.out.contains("only the writing changed"));
    assert!(served.out.contains("\n-  68 %      water\n"), "{}", served.out);
}
