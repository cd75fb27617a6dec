//! The pages of `explain`: every fault has one, its wrong example raises that fault alone, and its right one
//! raises none.

use std::collections::BTreeSet;

use loafwright::diag::{Code, explanation, sections};
use serde_json::Value;

use crate::kitchen::Kitchen;

/// A dough for examples that are about something else.
const DOUGH: &str = "\ndough:\n  500 g     bread flour\n  330 g     water\n  10 g      salt\n  5 g       instant \
                     yeast\n  10 min    knead\n  2 h       rise at 24 C\n  40 min    bake at 230 C\n";

/// Faults whose wrong example no page can show; each has a case in `tests/cases/check`, or in a test that makes it.
const IN_WORDS: &[&str] = &[
    "not-utf8",
    "file-too-large",
    "empty-file",
    "control-character",
    "hidden-direction",
    "look-alike",
    "stray-byte-order-mark",
    "mixed-line-ends",
    "line-too-long",
    "nested-too-deep",
    "too-many",
    "name-too-long",
    "tab-indent",
    "missing-dough",
    "sums-too-awkward",
    "wish-refused",
];

/// Gives the examples of a page: kind and text.
fn examples(page: &str) -> Vec<(&str, &str)> {
    let fences = page.split("```").skip(1).step_by(2);
    fences.map(|fence| fence.split_once('\n').unwrap()).collect()
}

/// Runs an example and gives the slugs of what it raises.
fn raised(kind: &str, text: &str) -> BTreeSet<String> {
    let has = |start: &str| text.lines().any(|line| line.starts_with(start));
    let kitchen = if kind == "bakehouse" {
        Kitchen::new()
            .file("bakehouse.loaf", text)
            .file("a.loaf", format!("title: Corner loaf\n{DOUGH}"))
    } else {
        let title = if has("title:") { "" } else { "title: Corner loaf\n" };
        let dough = if has("dough") || has("formula") { "" } else { DOUGH };
        Kitchen::new().file("a.loaf", format!("{title}{text}{dough}"))
    };
    let served = kitchen.run(&["check", "--json"]);
    let document: Value = serde_json::from_str(&served.out).unwrap();
    let faults = document["faults"].as_array().unwrap();
    faults
        .iter()
        .map(|fault| fault["slug"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn every_fault_has_a_page_and_no_page_is_left_over() {
    let slugs: Vec<&str> = Code::ALL.iter().map(|code| code.slug()).collect();
    let pages: Vec<&str> = sections().map(|(slug, _)| slug).collect();
    assert_eq!(pages, slugs, "the pages stand in the order of the codes");
    for code in Code::ALL {
        let page = explanation(*code).unwrap();
        let first = page.split("\n\n").next().unwrap();
        assert!(
            first.ends_with('.') && first.len() < 120,
            "{}: {first}",
            code.slug()
        );
    }
}

#[test]
fn wrong_examples_raise_their_fault_and_right_ones_none() {
    let mut faults = Vec::new();
    for (slug, page) in sections() {
        let examples = examples(page);
        assert_eq!(examples.len(), 2, "{slug} has a wrong and a right example");
        for (at, (kind, text)) in examples.into_iter().enumerate() {
            let is_wrong = at == 0;
            if kind == "text" {
                assert!(
                    is_wrong && IN_WORDS.contains(&slug),
                    "{slug}: an example that nothing checks"
                );
                continue;
            }
            let mut found = raised(kind, text);
            // Cautions are about food and not about the writing.
            if slug != "food-caution" {
                found.remove("food-caution");
            }
            let expected: BTreeSet<String> = is_wrong.then(|| slug.to_owned()).into_iter().collect();
            if found != expected {
                faults.push(format!(
                    "{slug}, {}: {found:?}",
                    if is_wrong { "wrong" } else { "right" }
                ));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_page_is_read_in_the_terminal() {
    let served = Kitchen::new().run(&["explain", "which-yeast"]).ends_with(0);
    assert!(
        served
            .out
            .starts_with("error[which-yeast]\n\n`yeast` does not say"),
        "{}",
        served.out
    );
    assert!(served.out.contains("\n    5 g       yeast\n"), "{}", served.out);
    let bracketed = Kitchen::new()
        .run(&["explain", "error[which-yeast]"])
        .ends_with(0);
    assert_eq!(served.out, bracketed.out);
}
