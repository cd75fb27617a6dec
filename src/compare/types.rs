//! Changes as plain data.

use crate::model::recipe::Recipe;
use crate::quantity::{ElapsedRange, Grams, Ratio};
use crate::sheet::Sheet;

/// One version of a recipe.
#[derive(Clone, Debug)]
pub struct Side<'version> {
    /// The recipe.
    pub recipe: &'version Recipe,
    /// Its sheet, where its sizes could be worked out.
    pub sheet: Option<&'version Sheet>,
    /// Its variations by name.
    pub variations: Vec<(&'version str, Side<'version>)>,
    /// Its bench records by day.
    pub records: Vec<&'version str>,
}

impl Side<'_> {
    /// Finds a variation by its name.
    #[must_use]
    pub fn variation(&self, name: &str) -> Option<&Self> {
        self.variations.iter().find(|one| one.0 == name).map(|one| &one.1)
    }
}

/// Everything that differs between two versions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changes {
    /// The newer dough over the older one, where they differ.
    pub scaled: Option<Ratio>,
    /// Figures that differ.
    pub figures: Vec<FigureChange>,
    /// What the bread holds, by share of all flour.
    pub total: Vec<IngredientChange>,
    /// Stages that came, went or were renamed.
    pub stages: Vec<StageChange>,
    /// Lines of blocks that both versions have, by share of the block's flour.
    pub ingredients: Vec<(String, Vec<IngredientChange>)>,
    /// Steps, block by block.
    pub steps: Vec<StepChange>,
    /// Keys.
    pub keys: Vec<KeyChange>,
    /// Prose.
    pub prose: Vec<ProseChange>,
    /// Variations.
    pub variations: Vec<PartChange>,
    /// Bench records.
    pub records: Vec<PartChange>,
}

impl Changes {
    /// Says whether nothing differs.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.scaled.is_none()
            && self.formula_is_unchanged()
            && self.figures.is_empty()
            && self.rest_is_unchanged()
    }

    /// Says whether the formula is the same whatever the size of the batch.
    #[must_use]
    pub fn formula_is_unchanged(&self) -> bool {
        self.total.is_empty() && self.stages.is_empty() && self.ingredients.is_empty()
    }

    fn rest_is_unchanged(&self) -> bool {
        self.steps.is_empty()
            && self.keys.is_empty()
            && self.prose.is_empty()
            && self.variations.is_empty()
            && self.records.is_empty()
    }
}

/// A figure of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figure {
    /// The dough as mixed.
    Dough,
    /// The number of pieces.
    Pieces,
    /// Dough for a piece.
    PieceWeight,
    /// Water of what is wet over all flour.
    Hydration,
    /// Salt over all flour.
    Salt,
    /// Sugar over all flour.
    Sugar,
    /// Fat over all flour.
    Fat,
    /// Flour prefermented.
    Prefermented,
    /// Time from start to finish.
    WholeTime,
    /// Time that needs somebody.
    HandsOn,
}

/// What a figure is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A weight.
    Weight(Grams),
    /// A share, as a fraction of one.
    Share(Ratio),
    /// A count.
    Count(Ratio),
    /// A length of time.
    Time(ElapsedRange),
}

/// A figure that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureChange {
    /// Which one.
    pub figure: Figure,
    /// What it was; nothing where the older version does not compute.
    pub old: Option<Value>,
    /// What it is.
    pub new: Option<Value>,
}

/// How much of an ingredient there is: its weight and its share of flour, as a fraction of one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// Its weight.
    pub weight: Option<Grams>,
    /// Its share of the flour that counts.
    pub share: Option<Ratio>,
}

/// A change of an ingredient.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum IngredientChange {
    /// It is new.
    Added(Piece),
    /// It is gone.
    Gone(Piece),
    /// One took the place of another.
    Swapped(Piece, Piece),
    /// There is more or less of it.
    Reweighed(Piece, Piece),
}

/// A change of a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StageChange {
    /// It is new.
    Added(String),
    /// It is gone.
    Gone(String),
    /// It has another name.
    Renamed(String, String),
}

/// A step with the block that it stands in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepPlace {
    /// What the block is called.
    pub block: String,
    /// The step in the baker's words, time and all.
    pub text: String,
}

/// A change of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StepChange {
    /// It is new.
    Added(StepPlace),
    /// It is gone.
    Gone(StepPlace),
    /// It stands elsewhere.
    Moved(StepPlace),
    /// It is done otherwise: longer, warmer, with another cue.
    Changed(StepPlace, StepPlace),
}

/// A key that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyChange {
    /// The key.
    pub key: &'static str,
    /// What it said.
    pub old: Option<String>,
    /// What it says.
    pub new: Option<String>,
}

/// Prose that differs, word by word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProseChange {
    /// Which prose: `about`, `notes`.
    pub of: &'static str,
    /// Runs of words: whether they stand in the older version, in the newer one, and the words.
    pub runs: Vec<(bool, bool, String)>,
}

/// A variation or record that came, went or changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PartChange {
    /// It is new.
    Added(String),
    /// It is gone.
    Gone(String),
    /// It changed.
    Changed(String, Box<Changes>),
}
