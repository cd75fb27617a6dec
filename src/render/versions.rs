//! What the template of a comparison prints. Owns how the document of a comparison is laid out for it; the page
//! around it is the renderer's.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::view::changes::{COLUMNS, ComparisonDocument, FileComparison, Kind, VersionRow};
use crate::view::shortened;

/// What stands at the head of a page of several recipes.
const UNTITLED: &str = "Two versions";

/// Versions side by side: everything that the template prints.
#[derive(JsonSchema, Serialize)]
pub(super) struct Compared<'a> {
    /// The title of the page.
    pub(super) title: &'a str,
    /// The title for the head of the window, shortened.
    window_title: String,
    /// A comparison a recipe, or with a history a version.
    comparisons: &'a [FileComparison],
    /// The difference of the texts of each comparison; empty where it was not asked for.
    differences: Vec<String>,
    /// The versions of a recipe, where its history was asked for.
    history: Vec<VersionLine<'a>>,
    /// The heads of the columns of a history, behind that of the version.
    heads: [&'static str; COLUMNS.len()],
    /// The sign that stands before a change, by the word of its kind.
    signs: BTreeMap<&'static str, &'static str>,
}

/// A version in the table of a history.
#[derive(JsonSchema, Serialize)]
struct VersionLine<'a> {
    /// The version.
    row: &'a VersionRow,
    /// Its figures, one a column.
    figures: [&'a str; COLUMNS.len()],
}

impl<'a> Compared<'a> {
    /// Lays a document out.
    pub(super) fn of(document: &'a ComparisonDocument) -> Self {
        let title = match document.comparisons.as_slice() {
            [one] => one.title.as_str(),
            [first, ..] if document.history.is_some() => first.title.as_str(),
            _ => "",
        };
        let differences = document.comparisons.iter().map(|one| one.difference.as_deref());
        let line = |row: &'a VersionRow| VersionLine {
            row,
            figures: COLUMNS.map(|(id, _)| row.figure(id)),
        };
        let title = if title.is_empty() { UNTITLED } else { title };
        Self {
            title,
            window_title: shortened(title, 70),
            comparisons: &document.comparisons,
            differences: differences
                .map(|text| without_ends(text.unwrap_or_default()))
                .collect(),
            history: document.history.iter().flatten().map(line).collect(),
            heads: COLUMNS.map(|(_, head)| head),
            signs: Kind::ALL.iter().map(|kind| (kind.word(), kind.sign())).collect(),
        }
    }
}

/// Takes the white space off the ends of lines, where it shows nothing on a page.
fn without_ends(text: &str) -> String {
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}
