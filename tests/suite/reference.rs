//! The language reference cannot rot: every example in `grammar/README.md` is checked by the program.
//!
//! Owns how an example is wrapped into a whole file. The mark behind the fence says what it is: `loaf` is a
//! whole recipe, `loaf-blocks` its blocks, `loaf-dough` entries of a dough, `loaf-head` and `loaf-size` keys
//! above one, `loaf-bakehouse` the file beside one; `loaf-wrong SLUG` has to raise that fault.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use super::kitchen::{Kitchen, Served};

/// An example of the page.
struct Example {
    /// The line of its fence, for messages.
    line: usize,
    /// What stands behind the fence.
    mark: String,
    text: String,
}

/// A dough in percentages, which the keys above it have to size.
const OPEN_DOUGH: &str = "\ndough:\n  100 % bread flour\n  68 % water\n  2 % salt\n  1 % instant yeast\n  6 min mix\n  2 h bulk\n  \
     35 min bake at 220 C\n";

fn examples() -> Vec<Example> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/README.md");
    let page = fs::read_to_string(path).unwrap();
    let mut found: Vec<Example> = Vec::new();
    let mut open = false;
    for (at, line) in page.lines().enumerate() {
        match line.strip_prefix("```") {
            Some(mark) if !open => {
                let (line, mark, text) = (at + 1, mark.to_owned(), String::new());
                found.push(Example { line, mark, text });
                open = true;
            }
            Some(_) => open = false,
            None if open => {
                let text = &mut found.last_mut().unwrap().text;
                text.push_str(line);
                text.push('\n');
            }
            None => {}
        }
    }
    assert!(!open, "a fence of the page is never closed");
    found
}

/// Makes a whole recipe of an example.
fn whole_recipe(example: &Example) -> String {
    let text = &example.text;
    match example.mark.split(' ').next().unwrap_or_default() {
        "loaf" => text.clone(),
        "loaf-blocks" => format!("title: Example\n\n{text}"),
        "loaf-dough" => {
            let entries = text
                .lines()
                .fold(String::new(), |all, line| all + "  " + line + "\n");
            format!("title: Example\n\ndough:\n  500 g bread flour\n{entries}")
        }
        "loaf-size" => format!("title: Example\n{text}{OPEN_DOUGH}"),
        "loaf-head" => format!("title: Example\nflour: 500 g\n{text}{OPEN_DOUGH}"),
        "loaf-bakehouse" => format!("title: Example\nflour: 500 g\n{OPEN_DOUGH}"),
        "loaf-wrong" if text.contains("title:") => text.clone(),
        "loaf-wrong" => format!("title: Example\n{text}"),
        mark => panic!("grammar/README.md:{}: what is `{mark}`?", example.line),
    }
}

fn check(example: &Example) -> Served {
    // Fine scales, so that small examples have no lines too small to be weighed.
    let bakehouse = match example.mark.as_str() {
        "loaf-bakehouse" => &example.text,
        _ => "bakehouse: Oxlip Row\nscales: 0.1 g\n",
    };
    let kitchen = Kitchen::new()
        .file("example.loaf", whole_recipe(example))
        .file("bakehouse.loaf", bakehouse);
    kitchen.run(&["check", "--json", "--deny-warnings", "."])
}

/// Gives slug and severity of every fault.
fn faults(served: &Served) -> BTreeSet<(String, String)> {
    let document: serde_json::Value = serde_json::from_str(&served.out).expect("faults as JSON");
    let word = |fault: &serde_json::Value, key: &str| fault[key].as_str().unwrap().to_owned();
    let list = document["faults"].as_array().unwrap();
    list.iter()
        .map(|fault| (word(fault, "slug"), word(fault, "severity")))
        .collect()
}

#[test]
fn every_right_example_checks_clean() {
    let mut tried = 0;
    for example in examples()
        .iter()
        .filter(|one| !one.mark.starts_with("loaf-wrong"))
    {
        let served = check(example);
        assert_eq!(
            served.code,
            Some(0),
            "grammar/README.md:{}\n{}\n{}",
            example.line,
            served.out,
            served.err
        );
        tried += 1;
    }
    assert!(tried > 15, "only {tried} examples were found");
}

#[test]
fn every_wrong_example_raises_its_fault_and_no_other() {
    let mut tried = 0;
    for example in examples() {
        let Some(slug) = example.mark.strip_prefix("loaf-wrong ") else {
            continue;
        };
        let served = check(&example);
        let found = faults(&served);
        let grave = |wanted: &str| {
            let picked = found.iter().filter(|(_, severity)| severity == wanted);
            picked.map(|(slug, _)| slug.clone()).collect::<BTreeSet<_>>()
        };
        let (errors, warnings) = (grave("error"), grave("warning"));
        let only: BTreeSet<String> = [slug.to_owned()].into();
        let met = if errors.is_empty() { warnings } else { errors };
        assert_eq!(met, only, "grammar/README.md:{}\n{}", example.line, served.out);
        assert_eq!(served.code, Some(1), "grammar/README.md:{}", example.line);
        tried += 1;
    }
    assert!(tried > 10, "only {tried} examples were found");
}
