//! What a template can print: every value of every page, with its name and what it is. Owns the wording of the
//! list alone; names and meanings come from the types of the views, so that the list is never out of date.

use std::collections::BTreeMap;

use schemars::{JsonSchema, schema_for};
use serde_json::{Map, Value};

use super::html::Page;
use super::versions::Compared;
use crate::view::{Card, Index, Reader};

/// Values by the name that they have in a template, where they are known, and their schema.
type Part = (&'static str, &'static str, Value);

/// Lists what the templates of each page can print, in Markdown.
#[must_use]
pub fn template_values() -> String {
    let parts: [Part; 5] = [
        ("card", "`card.html` and what it includes", schema::<Card>()),
        ("index", "`index.html`", schema::<Index>()),
        ("reader", "`reader.html`", schema::<Reader>()),
        ("compared", "`compare.html`", schema::<Compared<'_>>()),
        ("page", "every page", schema::<Page<'_>>()),
    ];
    let mut text = String::new();
    let mut told: BTreeMap<String, Value> = BTreeMap::new();
    for (name, place, schema) in &parts {
        text.push_str(&format!("## `{name}`, in {place}\n\n"));
        text.push_str(&described(schema));
        push_fields(schema, &mut text);
        let types = schema.get("$defs").and_then(Value::as_object);
        for (title, part) in types.into_iter().flatten() {
            let heading = match told.get(title) {
                None => format!("### {title}"),
                Some(other) if other == part => continue,
                // Another thing of this name stands on another page.
                Some(_) => format!("### {title}, in `{name}`"),
            };
            told.entry(title.clone()).or_insert_with(|| part.clone());
            text.push_str(&format!("{heading}\n\n{}", described(part)));
            push_fields(part, &mut text);
            push_choices(part, &mut text);
        }
    }
    text
}

fn schema<T: JsonSchema>() -> Value {
    Value::from(schema_for!(T))
}

fn described(schema: &Value) -> String {
    let words = schema.get("description").and_then(Value::as_str);
    words.map_or_else(String::new, |words| format!("{}\n\n", on_one_line(words)))
}

fn on_one_line(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn push_fields(schema: &Value, text: &mut String) {
    let fields = schema.get("properties").and_then(Value::as_object);
    let Some(fields) = fields.filter(|fields| !fields.is_empty()) else {
        return;
    };
    for (name, field) in fields {
        let words = field
            .get("description")
            .and_then(Value::as_str)
            .unwrap_or_default();
        let kind = kind_of(field);
        text.push_str(&format!("- `{name}`, {kind}: {}\n", on_one_line(words)));
    }
    text.push('\n');
}

/// Lists the words of which a value is one.
fn push_choices(schema: &Value, text: &mut String) {
    let choices = schema
        .get("oneOf")
        .and_then(Value::as_array)
        .into_iter()
        .flatten();
    let words = choices.filter_map(|choice| Some((choice.get("const")?.as_str()?, described(choice))));
    let rows: Vec<String> = words
        .map(|(word, meaning)| format!("- `{word}`: {}\n", meaning.trim()))
        .collect();
    if !rows.is_empty() {
        text.push_str(&rows.concat());
        text.push('\n');
    }
}

/// Says in words what a value is.
fn kind_of(schema: &Value) -> String {
    let Some(schema) = schema.as_object() else {
        return "anything".to_owned();
    };
    if let Some(name) = schema.get("$ref").and_then(Value::as_str) {
        return name.rsplit('/').next().unwrap_or_default().to_owned();
    }
    if let Some(choices) = schema
        .get("anyOf")
        .or(schema.get("oneOf"))
        .and_then(Value::as_array)
    {
        let is_nothing = |choice: &&Value| choice.get("type").is_some_and(|kind| kind == "null");
        let kinds = choices.iter().filter(|choice| !is_nothing(choice)).map(kind_of);
        let kinds: Vec<String> = kinds.collect();
        let or_nothing = if choices.iter().any(|choice| is_nothing(&choice)) {
            " or nothing"
        } else {
            ""
        };
        return kinds.join(" or ") + or_nothing;
    }
    let kind = schema.get("type");
    let choices = kind.and_then(Value::as_array);
    let or_nothing = choices.is_some_and(|choices| choices.iter().any(|choice| choice == "null"));
    let first = choices.and_then(|choices| choices.iter().find(|choice| *choice != "null"));
    let word = plain_kind(first.or(kind).and_then(Value::as_str).unwrap_or_default(), schema);
    if or_nothing {
        format!("{word} or nothing")
    } else {
        word
    }
}

fn plain_kind(name: &str, schema: &Map<String, Value>) -> String {
    match name {
        "string" => "text".to_owned(),
        "integer" | "number" => "number".to_owned(),
        "boolean" => "yes or no".to_owned(),
        "array" => {
            let items = schema.get("items").map_or_else(|| "anything".to_owned(), kind_of);
            format!("list of {items}")
        }
        "object" => {
            let values = schema
                .get("additionalProperties")
                .map_or_else(|| "anything".to_owned(), kind_of);
            format!("{values} by name")
        }
        _ => "anything".to_owned(),
    }
}
