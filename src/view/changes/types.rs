//! The document of a comparison: what the terminal, the page and JSON all print.

use schemars::JsonSchema;
use serde::Serialize;

use super::super::document::Decimal;
use super::history::VersionRow;
use crate::compare::In;

/// What stands for a figure that a version does not have.
pub(super) const ABSENT: &str = "—";

/// The version of the document; it grows when a field changes its meaning or goes.
pub const COMPARISON_VERSION: u32 = 1;

/// Comparisons of one or more recipes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = "What loafwright compare found")]
pub struct ComparisonDocument {
    /// Version of this document; a reader should refuse one that it does not know.
    pub schema_version: u32,
    /// The versions of a recipe where its history was asked for; each comparison is that of one with the one
    /// before.
    pub history: Option<Vec<VersionRow>>,
    /// A comparison a recipe.
    pub comparisons: Vec<FileComparison>,
}

impl ComparisonDocument {
    /// Puts comparisons together.
    #[must_use]
    pub const fn new(comparisons: Vec<FileComparison>) -> Self {
        Self {
            schema_version: COMPARISON_VERSION,
            history: None,
            comparisons,
        }
    }
}

/// Two versions of a recipe.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FileComparison {
    /// Name of the older version; nothing where there is none.
    pub old: Option<String>,
    /// Name of the newer version; nothing where there is none.
    pub new: Option<String>,
    /// The title of the recipe.
    pub title: String,
    /// What came of it, in one word.
    pub verdict: Verdict,
    /// What came of it, in one line.
    pub headline: String,
    /// The newer dough over the older one, where the formula is the same and the batch is not.
    pub scaled: Option<Decimal>,
    /// Figures of both versions.
    pub figures: Vec<FigureRow>,
    /// The whole bread where that tells the amounts, then the blocks.
    pub sections: Vec<Section>,
    /// Keys, allergens and prose that differ.
    pub rest: Vec<Row>,
    /// Variations and bench records that differ.
    pub parts: Vec<PartView>,
    /// What keeps the comparison from being a whole one, a sentence each.
    pub obstacles: Vec<String>,
    /// The difference of the texts, where it was asked for or nothing better can be said.
    pub difference: Option<String>,
}

impl FileComparison {
    /// Tells of a bakehouse file, of which only the text is compared.
    #[must_use]
    pub fn of_bakehouse(
        (old, new): (Option<String>, Option<String>),
        (old_text, new_text): (Option<&str>, Option<&str>),
        difference: String,
    ) -> Self {
        let (verdict, headline) = match (old_text, new_text) {
            (None, _) => (
                Verdict::Added,
                "a new bakehouse file: it holds for the recipes beside and below it",
            ),
            (_, None) => (Verdict::Gone, "gone: it held for the recipes beside and below it"),
            (old, new) if old == new => (Verdict::Same, "the same, letter by letter"),
            _ => (
                Verdict::Changed,
                "differs: what rests on it is told at the recipes",
            ),
        };
        Self {
            old,
            new,
            title: "The bakehouse".to_owned(),
            verdict,
            headline: headline.to_owned(),
            scaled: None,
            figures: Vec::new(),
            sections: Vec::new(),
            rest: Vec::new(),
            parts: Vec::new(),
            obstacles: Vec::new(),
            difference: Some(difference).filter(|difference| !difference.is_empty()),
        }
    }
}

impl FileComparison {
    /// Leaves out what was shown of a version only because the other one stands alone: its figures, and the rows
    /// too where there is nothing of it.
    pub(super) fn leave_out(&mut self, standing: In, has_rows_of_one: bool) {
        let is_new = standing == In::New;
        for row in &mut self.figures {
            let (text, value) = if is_new {
                (&mut row.old, &mut row.old_value)
            } else {
                (&mut row.new, &mut row.new_value)
            };
            ABSENT.clone_into(text);
            *value = None;
        }
        if !has_rows_of_one {
            return;
        }
        for section in &mut self.sections {
            if section.old_title.is_some() {
                let title = if is_new {
                    &mut section.old_title
                } else {
                    &mut section.new_title
                };
                *title = None;
            }
            for row in &mut section.rows {
                if is_new {
                    (row.old, row.old_amount) = (None, None);
                } else {
                    (row.new, row.new_amount) = (None, None);
                }
            }
        }
    }
}

/// What came of a comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Both texts are the same.
    Same,
    /// The texts differ, the bread does not.
    Writing,
    /// The same formula in another size.
    Scaled,
    /// The bread differs.
    Changed,
    /// There was no such recipe before.
    Added,
    /// There is no such recipe any more.
    Gone,
    /// One of the versions does not compute.
    Unknown,
}

/// A figure of both versions.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FigureRow {
    /// Its name for programs: `hydration`, `whole-time`.
    pub id: &'static str,
    /// Its name.
    pub label: &'static str,
    /// What its numbers are: `g`, `%`, `minutes`, `pieces`.
    pub unit: &'static str,
    /// What it was, as a number; of a range of times the middle.
    pub old_value: Option<Decimal>,
    /// What it is, as a number.
    pub new_value: Option<Decimal>,
    /// What it was.
    pub old: String,
    /// What it is.
    pub new: String,
    /// By how much it differs; empty where it does not.
    pub change: String,
    /// Whether it differs by more than rounding.
    pub is_changed: bool,
}

impl FigureRow {
    /// Gives the figure of the version that has it, the newer one first.
    #[must_use]
    pub fn of_either(&self) -> &str {
        if self.new_value.is_some() {
            &self.new
        } else {
            &self.old
        }
    }
}

/// A block of the recipe, or the whole bread.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Section {
    /// What it is called now, or was.
    pub title: String,
    /// What it was called.
    pub old_title: Option<String>,
    /// What it is called.
    pub new_title: Option<String>,
    /// What became of it.
    pub kind: Kind,
    /// What there is to say of it as a whole.
    pub told: Option<String>,
    /// Its lines and steps.
    pub rows: Vec<Row>,
}

impl Section {
    /// Says whether there is anything to tell.
    #[must_use]
    pub fn is_told(&self) -> bool {
        self.told.is_some() || self.rows.iter().any(Row::is_told)
    }
}

/// What became of a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// It is as it was.
    Same,
    /// It is new.
    Added,
    /// It is gone.
    Gone,
    /// It differs.
    Changed,
    /// It stands elsewhere.
    Moved,
    /// It has another name.
    Renamed,
    /// Another thing stands in its place.
    Swapped,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 7] = [
        Self::Same,
        Self::Added,
        Self::Gone,
        Self::Changed,
        Self::Moved,
        Self::Renamed,
        Self::Swapped,
    ];

    /// Gives its word, as the document has it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::Added => "added",
            Self::Gone => "gone",
            Self::Changed => "changed",
            Self::Moved => "moved",
            Self::Renamed => "renamed",
            Self::Swapped => "swapped",
        }
    }

    /// Gives the word for what came or went; empty for what is in both versions.
    #[must_use]
    pub const fn fate(self) -> &'static str {
        match self {
            Self::Added => "new",
            Self::Gone => "gone",
            Self::Same | Self::Changed | Self::Moved | Self::Renamed | Self::Swapped => "",
        }
    }

    /// Heads what is told of a thing with its title and its fate: `levain gone: 120 g`.
    #[must_use]
    pub fn headed(self, title: &str, told: &str) -> String {
        let space = if self.fate().is_empty() { "" } else { " " };
        let gap = if told.is_empty() { "" } else { ": " };
        format!("{title}{space}{}{gap}{told}", self.fate())
    }

    /// Gives the sign that stands before a thing.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Same => " ",
            Self::Added => "+",
            Self::Gone => "−",
            Self::Changed | Self::Renamed | Self::Swapped => "~",
            Self::Moved => "↕",
        }
    }
}

/// A line, a step, a key or prose in both versions.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Row {
    /// What it is: `line`, `step`, `key`, `prose`, `remark`, `allergens`, `whole`.
    pub what: &'static str,
    /// What became of it.
    pub kind: Kind,
    /// What it was.
    pub old: Option<String>,
    /// What it is.
    pub new: Option<String>,
    /// How much of it there was.
    pub old_amount: Option<Amount>,
    /// How much of it there is.
    pub new_amount: Option<Amount>,
    /// The difference as a sentence; nothing where there is none, or where another row tells it.
    pub told: Option<String>,
    /// Its words where they differ, run by run.
    pub runs: Vec<RunView>,
}

impl Row {
    /// Says whether there is anything to tell.
    #[must_use]
    pub fn is_told(&self) -> bool {
        self.told.is_some()
    }
}

/// How much of a thing there is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Amount {
    /// Its weight in grams.
    pub grams: Option<Decimal>,
    /// Its share of the flour that counts, or of its block where there is no flour.
    pub percent: Option<Decimal>,
}

/// A run of words of prose.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RunView {
    /// Where it stands: `both`, `old`, `new`.
    pub stands: &'static str,
    /// The words.
    pub text: String,
}

/// A variation or bench record that came, went or changed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PartView {
    /// What it is called: `variation plain`, `bake 2026-03-14`.
    pub title: String,
    /// What became of it.
    pub kind: Kind,
    /// What there is to say of it.
    pub told: String,
    /// What differs in the bread that a variation makes.
    pub sections: Vec<Section>,
    /// Keys and prose that differ.
    pub rest: Vec<Row>,
}
