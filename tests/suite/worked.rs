//! The worked examples of `grammar/ARITHMETIC.md` that are read off the sheet's document.
//!
//! A fence marked `example` is a bakehouse if one is needed, a recipe, and what the document holds, with `---`
//! between them; what stands behind the last `---` are options. A number is as exact as it is written.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::kitchen::Kitchen;

struct Example {
    line: usize,
    house: String,
    recipe: String,
    options: Vec<String>,
    wanted: Vec<(String, String)>,
}

fn examples() -> Vec<Example> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/ARITHMETIC.md");
    let page = fs::read_to_string(path).unwrap();
    let mut found = Vec::new();
    let mut rest = page.as_str();
    let mut passed = 0;
    while let Some((before, after)) = rest.split_once("```example\n") {
        let (text, behind) = after.split_once("```\n").expect("a fence is closed");
        let line = passed + before.lines().count() + 1;
        passed = line + text.lines().count();
        found.push(example(line, text));
        rest = behind;
    }
    found
}

fn example(line: usize, text: &str) -> Example {
    let (head, tail) = text.rsplit_once("\n---").expect("what is wanted");
    let (options, wanted) = tail.split_once('\n').expect("what is wanted");
    let (house, recipe) = head
        .split_once("\n---\n")
        .unwrap_or(("bakehouse: Oxlip Row", head));
    let mut options: Vec<String> = options
        .trim()
        .splitn(2, ' ')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    options.insert(0, "--json".to_owned());
    Example {
        line,
        house: format!("{house}\n"),
        recipe: format!("{recipe}\n"),
        options,
        wanted: wanted
            .lines()
            .map(|line| {
                let (path, value) = line.split_once(" = ").expect("a path and a value");
                (path.to_owned(), value.to_owned())
            })
            .collect(),
    }
}

/// Finds what stands at a path; a number in it counts the elements of a list from 0.
fn at<'a>(document: &'a Value, path: &str) -> &'a Value {
    path.split('.')
        .fold(document, |value, step| match step.parse::<usize>() {
            Ok(place) => &value[place],
            Err(_) => &value[step],
        })
}

/// Says whether a value is what is written, as exactly as it is written.
fn is_as_written(found: &Value, written: &str) -> bool {
    match (found.as_f64(), written.parse::<f64>()) {
        (Some(number), Ok(wanted)) => {
            let decimals = written.split_once('.').map_or(0, |(_, digits)| digits.len());
            let half = 0.5 / 10_f64.powi(i32::try_from(decimals).unwrap());
            (number - wanted).abs() <= half + 1e-9
        }
        _ => found.as_str() == Some(written),
    }
}

#[test]
fn every_worked_example_is_what_the_program_computes() {
    let examples = examples();
    assert!(examples.len() >= 8, "only {} examples were found", examples.len());
    let mut faults = Vec::new();
    for example in &examples {
        let kitchen = Kitchen::new()
            .file("example.loaf", &example.recipe)
            .file("bakehouse.loaf", &example.house);
        let mut arguments = vec!["sheet", "example.loaf"];
        arguments.extend(example.options.iter().map(String::as_str));
        let served = kitchen.run(&arguments).ends_with(0);
        let document: Value = serde_json::from_str(&served.out).unwrap();
        for (path, written) in &example.wanted {
            let found = at(&document, path);
            if !is_as_written(found, written) {
                faults.push(format!(
                    "grammar/ARITHMETIC.md:{}: {path} = {found}, not {written}",
                    example.line
                ));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
