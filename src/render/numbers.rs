//! The numbers of a reader's page as JSON: their keys, and what they are at several sizes. For those who hold the
//! page's script to the program; no page prints it.

use serde_json::{Value, json};

use crate::view::{Reader, Run, runs};

/// Renders the numbers of a page, and those of the same page at other sizes, each with the count that was asked for.
#[must_use]
pub fn render_numbers(page: &Reader, sizes: &[(String, Reader)]) -> String {
    let sizes = sizes
        .iter()
        .map(|(count, page)| json!({ "count": count, "numbers": numbers(page) }));
    let sizes: Vec<Value> = sizes.collect();
    let all = json!({ "amounts": page.amounts, "numbers": numbers(page), "sizes": sizes });
    format!("{all}\n")
}

/// Lists the numbers of each version of a page, key and text, in an order that does not hang on the size.
fn numbers(page: &Reader) -> Vec<Vec<(String, String)>> {
    let versions = page.versions.iter().map(|version| {
        let mut found = Vec::new();
        gather(&serde_json::to_value(version).unwrap_or_default(), &mut found);
        found
    });
    versions.collect()
}

fn gather(value: &Value, found: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => found.extend(runs(text).filter_map(|run| match run {
            Run::Live(key, shown) => Some((key.to_owned(), shown.to_owned())),
            Run::Plain(_) => None,
        })),
        Value::Array(values) => values.iter().for_each(|value| gather(value, found)),
        Value::Object(fields) => fields.values().for_each(|value| gather(value, found)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
