//! JSON for programs: the faults of a run, a computed recipe, and the schemas that describe both.
//!
//! Owns the shape of the fault document; that of a computed recipe is a view. The schemas in `grammar/` are
//! made of these types.

use schemars::JsonSchema;
use serde::Serialize;

use super::Pages;
use crate::diag::{Diagnostic, Label, Severity};
use crate::source::{LineIndex, Source, Span, is_hidden};
use crate::view::changes::ComparisonDocument;
use crate::view::document::SheetDocument;

/// The version of the fault document; it grows when a field changes its meaning or goes.
const CHECK_VERSION: u32 = 1;

/// What `check --json` prints.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "Faults found by loafwright check")]
struct FaultDocument {
    /// Version of this document; a reader should refuse one that it does not know.
    schema_version: u32,
    /// Names of the files that were looked at, in the order of the faults.
    files: Vec<String>,
    /// How many faults of each severity there are.
    counts: Counts,
    /// Every fault, file by file, in the order of the page.
    faults: Vec<Fault>,
}

#[derive(Debug, Default, Serialize, JsonSchema)]
struct Counts {
    /// Faults that keep a card from being made.
    errors: usize,
    /// Faults that the baker should look at.
    warnings: usize,
    /// Cautions about food, which never stop anything.
    cautions: usize,
    /// Things worth knowing.
    hints: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Fault {
    /// Stable name of the kind of fault; `loafwright explain` says more about it.
    slug: &'static str,
    /// `error`, `warning`, `caution` or `hint`.
    #[schemars(extend("enum" = ["error", "warning", "caution", "hint"]))]
    severity: &'static str,
    /// What is wrong, as one phrase.
    message: String,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<String>,
    /// The place that the fault is about.
    place: Place,
    /// Other places that have a part in it.
    others: Vec<Place>,
    /// A mend that a program can carry out.
    #[serde(skip_serializing_if = "Option::is_none")]
    fix: Option<Mend>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Place {
    /// Name of the file, as it was given.
    file: String,
    /// Why this place; empty where the message says it all.
    label: String,
    /// Where it begins.
    start: Point,
    /// Where it ends: the point behind its last character.
    end: Point,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Point {
    /// Line, counted from 1.
    line: usize,
    /// Character in its line, counted from 1; a tab is one character.
    column: usize,
    /// Bytes of UTF-8 before it in the file, counted from 0.
    byte: usize,
    /// Code units of UTF-16 before it in its line, counted from 0.
    utf16: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Mend {
    /// What it does, in a few words.
    title: String,
    /// The place that is replaced; empty where something is put in.
    place: Place,
    /// The text that takes its place.
    text: String,
}

/// The faults of one file, ready to be written into a document with those of others.
#[derive(Debug)]
pub struct FileFaults {
    name: String,
    faults: Vec<Fault>,
    counts: Counts,
}

impl FileFaults {
    /// Takes the faults of a file; all of them, since a program does not tire.
    #[must_use]
    pub fn of(name: &str, sources: &[Source], faults: &[Diagnostic]) -> Self {
        let mut counts = Counts::default();
        for fault in faults {
            match fault.severity {
                Severity::Error => counts.errors += 1,
                Severity::Warning => counts.warnings += 1,
                Severity::Caution => counts.cautions += 1,
                Severity::Hint => counts.hints += 1,
            }
        }
        let pages = Pages::of(sources, faults);
        Self {
            name: name.to_owned(),
            faults: faults.iter().map(|fault| fault_of(&pages, fault)).collect(),
            counts,
        }
    }
}

/// Renders the faults of files as one JSON document on one line, ended by a line feed.
#[must_use]
pub fn render_faults(files: Vec<FileFaults>) -> String {
    let mut document = FaultDocument {
        schema_version: CHECK_VERSION,
        files: Vec::new(),
        counts: Counts::default(),
        faults: Vec::new(),
    };
    for file in files {
        document.files.push(file.name);
        document.faults.extend(file.faults);
        document.counts.errors += file.counts.errors;
        document.counts.warnings += file.counts.warnings;
        document.counts.cautions += file.counts.cautions;
        document.counts.hints += file.counts.hints;
    }
    let mut text = serde_json::to_string(&document).unwrap_or_default();
    text.push('\n');
    harmless(&text)
}

/// Gives the JSON Schema of the fault document, ended by a line feed.
#[must_use]
pub fn faults_schema() -> String {
    schema_text::<FaultDocument>()
}

/// Renders a computed recipe as a JSON document, laid out for people, ended by a line feed.
#[must_use]
pub fn render_sheet(document: &SheetDocument) -> String {
    let mut text = serde_json::to_string_pretty(document).unwrap_or_default();
    text.push('\n');
    harmless(&text)
}

/// Renders comparisons as a JSON document, laid out for people, ended by a line feed.
#[must_use]
pub fn render_comparisons(document: &ComparisonDocument) -> String {
    let mut text = serde_json::to_string_pretty(document).unwrap_or_default();
    text.push('\n');
    harmless(&text)
}

/// Gives the JSON Schema of comparisons, ended by a line feed.
#[must_use]
pub fn comparison_schema() -> String {
    schema_text::<ComparisonDocument>()
}

/// Gives the JSON Schema of a computed recipe, ended by a line feed.
#[must_use]
pub fn sheet_schema() -> String {
    schema_text::<SheetDocument>()
}

/// Gives the JSON Schema of a type, laid out for people.
fn schema_text<T: JsonSchema>() -> String {
    let schema = schemars::schema_for!(T);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

/// Writes the characters that could act on a terminal, or that nobody would see, as escapes; they only stand inside JSON strings.
fn harmless(json: &str) -> String {
    let acts = |c: char| c != '\n' && is_hidden(c);
    if !json.chars().any(acts) {
        return json.to_owned();
    }
    json.chars()
        .fold(String::with_capacity(json.len()), |mut text, c| {
            if acts(c) {
                for unit in c.encode_utf16(&mut [0; 2]) {
                    text.push_str(&format!("\\u{unit:04x}"));
                }
            } else {
                text.push(c);
            }
            text
        })
}

fn fault_of(pages: &Pages<'_>, fault: &Diagnostic) -> Fault {
    Fault {
        slug: fault.code.slug(),
        severity: fault.severity.word(),
        message: fault.message.clone(),
        help: fault.help.clone(),
        place: place_of(pages, &fault.primary),
        others: fault.others.iter().map(|label| place_of(pages, label)).collect(),
        fix: fault.fix.as_ref().map(|fix| Mend {
            title: fix.title.clone(),
            place: place(pages, fix.span, ""),
            text: fix.text.clone(),
        }),
    }
}

fn place_of(pages: &Pages<'_>, label: &Label) -> Place {
    place(pages, label.span, &label.text)
}

fn place(pages: &Pages<'_>, span: Span, label: &str) -> Place {
    let page = pages.page(span.source);
    let nowhere = LineIndex::new("");
    let lines = page.map_or(&nowhere, |(_, lines)| lines);
    let point = |byte: usize| {
        let position = lines.position(byte);
        Point {
            line: position.line,
            column: position.column,
            byte,
            utf16: position.utf16,
        }
    };
    Place {
        file: page.map_or_else(String::new, |(source, _)| source.name.clone()),
        label: label.to_owned(),
        start: point(span.start),
        end: point(span.end),
    }
}

#[cfg(test)]
mod tests {
    use super::{FileFaults, render_faults};
    use crate::diag::{Code, Diagnostic};
    use crate::source::{Source, SourceId, Span};

    #[test]
    fn any_bytes_give_valid_json_on_one_line() {
        let text: String = (0..0x300).filter_map(char::from_u32).collect();
        let source = Source::new(SourceId(0), text.clone(), format!("{text}\u{202e}\u{2028}"));
        let fault = Diagnostic::new(Code::BadNumber, source.whole(), text.clone()).help("\u{2066}");
        let file = FileFaults::of(&text, &[source], &[fault]);
        let json = render_faults(vec![file]);
        assert_eq!(json.matches('\n').count(), 1);
        assert!(json.trim_end().chars().all(|c| !c.is_control()), "{json}");
        let read: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(read["faults"][0]["message"], text.as_str());
        assert_eq!(read["faults"][0]["help"], "\u{2066}");
    }

    #[test]
    fn points_count_lines_characters_bytes_and_utf16() {
        let source = Source::new(SourceId(0), "a.loaf", "x\npâte 🍞 flower");
        let fault = Diagnostic::new(
            Code::UnknownIngredient,
            Span::new(source.id, 13, 19),
            "no such thing",
        );
        let file = FileFaults::of("a.loaf", std::slice::from_ref(&source), &[fault]);
        let json = render_faults(vec![file]);
        let read: serde_json::Value = serde_json::from_str(&json).unwrap();
        let start = &read["faults"][0]["place"]["start"];
        assert_eq!(
            start,
            &serde_json::json!({"line": 2, "column": 8, "byte": 13, "utf16": 8})
        );
        assert_eq!(read["counts"]["warnings"], 1);
    }
}
