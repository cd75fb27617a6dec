//! What a comparison gives: both versions side by side as plain data, what differs marked.
//!
//! ```text
//! Comparison ─┬─ figures ─── FigurePair         dough, hydration, salt, times
//!             ├─ total ───── LinePair           the whole bread, ingredient by ingredient
//!             ├─ blocks ──── BlockPair ─┬─ LinePair
//!             │                         └─ StepPair
//!             ├─ keys, prose, allergens
//!             └─ variations, records ── Part
//! ```

use super::prose::Run;
use crate::model::catalog::Allergen;
use crate::model::recipe::{Recipe, Record, Step, TemperatureSpec, Variation};
use crate::quantity::{ElapsedRange, Grams, Ratio};
use crate::sheet::Sheet;

/// One version of a recipe.
#[derive(Clone, Debug)]
pub struct Side<'version> {
    /// The recipe.
    pub recipe: &'version Recipe,
    /// Its sheet, where its sizes could be worked out.
    pub sheet: Option<&'version Sheet>,
    /// Its variations with their sheets.
    pub variations: Vec<(&'version Variation, &'version Sheet)>,
    /// Its bench records.
    pub records: &'version [Record],
}

/// Two versions side by side.
#[derive(Clone, Debug, Default)]
pub struct Comparison {
    /// The newer dough over the older one, where the formula is the same and the batch is not.
    pub scaled: Option<Ratio>,
    /// Every figure that either version has.
    pub figures: Vec<FigurePair>,
    /// What the breads hold, by share of all flour.
    pub total: Vec<LinePair>,
    /// Whether what goes in is told by the whole bread, because the versions divide it otherwise, or because
    /// the recipe is written so.
    pub is_told_by_total: bool,
    /// Blocks, those of one version alone included.
    pub blocks: Vec<BlockPair>,
    /// Allergens that only the newer version has.
    pub allergens_new: Vec<Allergen>,
    /// Allergens that only the older version has.
    pub allergens_gone: Vec<Allergen>,
    /// Keys that say something else.
    pub keys: Vec<KeyChange>,
    /// Prose at head and foot that reads otherwise.
    pub prose: Vec<ProseChange>,
    /// Variations.
    pub variations: Vec<Part>,
    /// Bench records.
    pub records: Vec<Part>,
}

impl Comparison {
    /// Says whether nothing differs in the bread.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.formula_is_unchanged()
            && self.scaled.is_none()
            && !self.figures.iter().any(|pair| pair.is_changed)
            && !self.blocks.iter().any(BlockPair::is_changed)
            && self.allergens_new.is_empty()
            && self.allergens_gone.is_empty()
            && self.has_no_other_words()
    }

    /// Says whether as much of everything goes in, whatever the size of the batch.
    #[must_use]
    pub fn formula_is_unchanged(&self) -> bool {
        let lines = |lines: &[LinePair]| !lines.iter().any(LinePair::is_other_amount);
        let stays = |block: &&BlockPair| block.old.is_some() && block.new.is_some();
        let blocks = self
            .blocks
            .iter()
            .filter(|block| block.amounts_are_told)
            .filter(stays);
        (!self.is_told_by_total || lines(&self.total)) && blocks.into_iter().all(|block| lines(&block.lines))
    }

    fn has_no_other_words(&self) -> bool {
        self.keys.is_empty() && self.prose.is_empty() && self.variations.is_empty() && self.records.is_empty()
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
    /// Prefermented flour.
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

/// A figure of both versions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigurePair {
    /// Which one.
    pub figure: Figure,
    /// What it was; nothing where the older version does not compute.
    pub old: Option<Value>,
    /// What it is.
    pub new: Option<Value>,
    /// Whether the difference is more than rounding.
    pub is_changed: bool,
}

/// A line of a block, or of the whole bread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is called.
    pub name: String,
    /// Its weight.
    pub weight: Option<Grams>,
    /// Its share of the flour that counts, or of its block where there is no flour, as a fraction of one.
    pub share: Option<Ratio>,
    /// How it is prepared.
    pub preparation: Option<String>,
    /// Its temperature.
    pub at: Option<TemperatureSpec>,
    /// The steps that it goes in at, in the baker's words.
    pub steps: Vec<String>,
}

/// A line of both versions; without one of them it came or is gone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinePair {
    /// What it was.
    pub old: Option<Line>,
    /// What it is.
    pub new: Option<Line>,
    /// What differs, where both are there.
    pub changes: Vec<LineChange>,
}

impl LinePair {
    /// Says whether anything differs.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.is_other_amount() || !self.changes.is_empty()
    }

    /// Says whether something came, went, was swapped or re-weighed.
    #[must_use]
    pub fn is_other_amount(&self) -> bool {
        self.old.is_none()
            || self.new.is_none()
            || self
                .changes
                .iter()
                .any(|change| matches!(change, LineChange::Amount | LineChange::Swapped))
    }
}

/// What differs in a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LineChange {
    /// There is more or less of it.
    Amount,
    /// Another thing stands in its place; of another amount where that is said too.
    Swapped,
    /// It is prepared otherwise.
    Preparation,
    /// It is warmer or colder.
    Warmth,
    /// It goes in at another step.
    Step,
    /// The prose below it reads otherwise.
    Prose(Vec<Run>),
}

/// A step of both versions; without one of them it came or is gone.
#[derive(Clone, Debug)]
pub struct StepPair {
    /// What it was.
    pub old: Option<Step>,
    /// What it is.
    pub new: Option<Step>,
    /// What differs, where both are there.
    pub changes: Vec<StepChange>,
}

impl StepPair {
    /// Says whether anything differs.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.old.is_none() || self.new.is_none() || !self.changes.is_empty()
    }
}

/// What differs in a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StepChange {
    /// It stands elsewhere: what it comes after now, nothing for the first one.
    Moved(Option<String>),
    /// It is said in other words.
    Words,
    /// It takes longer or shorter.
    Time,
    /// It is done at another temperature.
    At,
    /// It comes to another temperature.
    To,
    /// It has other folds.
    Folds,
    /// It needs hands now, or no longer.
    Hands,
    /// It is over at another sign.
    Cue,
    /// Its instruction reads otherwise.
    Prose(Vec<Run>),
}

/// A block of both versions; without one of the titles it came or is gone.
#[derive(Clone, Debug, Default)]
pub struct BlockPair {
    /// What it was called.
    pub old: Option<String>,
    /// What it is called.
    pub new: Option<String>,
    /// Whether its amounts are told here; else the whole bread tells them.
    pub amounts_are_told: bool,
    /// Its lines.
    pub lines: Vec<LinePair>,
    /// Its steps.
    pub steps: Vec<StepPair>,
    /// Its remarks, where they read otherwise.
    pub remarks: Option<Vec<Run>>,
    /// What is left of it for the next time, where that differs by more than the size of the batch.
    pub kept: Option<(Grams, Grams)>,
    /// What goes of it on or into a piece, where that differs.
    pub on_a_piece: Option<(Grams, Grams)>,
}

impl BlockPair {
    /// Says whether it came, is gone or has another name.
    #[must_use]
    pub fn is_other_block(&self) -> bool {
        self.old != self.new
    }

    /// Says whether anything differs that is told here.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.is_other_block()
            || self.lines.iter().any(|line| self.tells(line))
            || self.steps.iter().any(StepPair::is_changed)
            || self.remarks.is_some()
            || self.kept.is_some()
            || self.on_a_piece.is_some()
    }

    /// Says whether a line has something to tell here.
    #[must_use]
    pub fn tells(&self, line: &LinePair) -> bool {
        let is_amount = |change: &LineChange| matches!(change, LineChange::Amount | LineChange::Swapped);
        if self.amounts_are_told {
            line.is_changed()
        } else {
            line.old.is_some() && line.new.is_some() && line.changes.iter().any(|change| !is_amount(change))
        }
    }
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
    /// Its words.
    pub runs: Vec<Run>,
}

/// A variation or bench record that came, went or changed.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is called.
    pub name: String,
    /// What happened to it.
    pub change: PartChange,
}

/// What happened to a variation or bench record.
#[derive(Clone, Debug)]
pub enum PartChange {
    /// It is new, and says this.
    Added(Vec<String>),
    /// It is gone, and said this.
    Gone(Vec<String>),
    /// It makes another bread of the recipe than it did.
    Changed(Box<Comparison>),
    /// It reads otherwise.
    Reads(Vec<Run>),
}
