//! The versions of a recipe, one after the other: a row each, with its figures and what it changed.

use schemars::JsonSchema;
use serde::Serialize;

use super::{FigureRow, FileComparison, Verdict};

/// A version of a recipe.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct VersionRow {
    /// The commit that brought it; nothing for what is not committed.
    pub commit: Option<String>,
    /// The day that its author wrote it: `2026-03-14`.
    pub day: Option<String>,
    /// The first line of what the commit says.
    pub subject: String,
    /// What it changed, in one line.
    pub headline: String,
    /// Its figures beside those of the version before.
    pub figures: Vec<FigureRow>,
}

/// Figures that a table has room for, with the heads of their columns.
pub const COLUMNS: [(&str, &str); 5] = [
    ("dough", "dough"),
    ("hydration", "hydration"),
    ("salt", "salt"),
    ("prefermented", "preferm."),
    ("whole-time", "start to finish"),
];

impl VersionRow {
    /// Makes the row of a version from its comparison with the one before.
    #[must_use]
    pub fn of(commit: Option<(&str, &str)>, subject: &str, comparison: &FileComparison) -> Self {
        Self {
            commit: commit.map(|(id, _)| id.to_owned()),
            day: commit.map(|(_, day)| day.to_owned()),
            subject: subject.to_owned(),
            // The figures of a new recipe stand beside it.
            headline: match comparison.verdict {
                Verdict::Added => "a new recipe".to_owned(),
                _ => comparison.headline.clone(),
            },
            figures: comparison.figures.clone(),
        }
    }

    /// Gives a figure as text; a dash where the version has none.
    #[must_use]
    pub fn figure(&self, id: &str) -> &str {
        self.figures
            .iter()
            .find(|row| row.id == id)
            .map_or("—", |row| &row.new)
    }
}
