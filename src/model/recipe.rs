//! A checked recipe: names are resolved, every quantity has its dimension, and every fact keeps its place.
//!
//! ```text
//! Checked ─ recipe ──── Recipe ─┬─ blocks ── Block ── entries ── Line | Step | Note
//!         ─ variations ─ name and the Recipe that it makes
//!         ─ records ──── what was measured on a day
//! ```
//!
//! A variation is a whole recipe of its own, so that nothing behind this point needs to know of changes.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::catalog::Ingredient;
use super::place::Place;
use super::verbs::Verb;
use crate::diag::Report;
use crate::quantity::{Celsius, CelsiusRange, Elapsed, ElapsedRange, Grams, Millilitres, Ratio, WeightUnit};
use crate::source::{Span, Spanned};
use crate::syntax::TinShape;
pub use crate::syntax::tree::{BlockKind, Cue, Folds, Prose, Reading, StepTime};

/// What checking a tree gives: the recipe where it can be trusted, and everything that was found.
#[derive(Clone, Debug)]
pub struct Checked {
    /// The recipe; nothing where an error stands in the plain recipe.
    pub recipe: Option<Recipe>,
    /// The variations without an error, in the order of the page.
    pub variations: Vec<Variation>,
    /// The bench records without an error, in the order of the page.
    pub records: Vec<Record>,
    /// What has an error, the plain recipe first: none is worked out, but its other faults are told as well.
    pub faulty: Vec<Faulty>,
    /// Every fault.
    pub report: Report,
}

/// A recipe or variation with an error; what is at fault is missing from it.
#[derive(Clone, Debug)]
pub struct Faulty {
    /// What could be made of it.
    pub recipe: Recipe,
    /// The name of the variation; nothing for the plain recipe.
    pub variation: Option<Spanned<String>>,
    /// What is not known because of the error.
    pub doubts: Doubts,
}

/// How much is known of a recipe with an error, from most to least.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// All that describes the bread.
    #[default]
    Bread,
    /// The weights, but not all that is done with them.
    Weights,
    /// Not all weights, but whether the flours of a block add up.
    Flours,
}

/// What errors leave unknown of a recipe, so that nothing is said that only follows from them.
#[derive(Clone, Debug, Default)]
pub struct Doubts {
    /// A key that was not understood may have said a size.
    pub sizes: bool,
    /// The number of pieces, or what is lost on the way to them, is not known.
    pub pieces: bool,
    /// How much of it is known.
    pub known: Known,
    /// The blocks that may have flour that is not known.
    pub flours: BTreeSet<BlockId>,
}

impl Doubts {
    /// Notes that no more than this is known.
    pub fn only(&mut self, known: Known) {
        self.known = self.known.max(known);
    }
}

/// A recipe whose meaning is settled.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// The title.
    pub title: Spanned<String>,
    /// What it makes.
    pub makes: Option<Spanned<Makes>>,
    /// What 100 % stands for, in the dough or in the formula.
    pub flour: Option<Spanned<Grams>>,
    /// The tin.
    pub tin: Option<Spanned<Tin>>,
    /// The other keys.
    pub details: Details,
    /// Prose at the head of the card.
    pub about: Option<Prose>,
    /// Prose at its foot.
    pub notes: Option<Prose>,
    /// Every block with a formula or steps, in the order of the page; a block's id is its index here.
    pub blocks: Vec<Block>,
    /// The dough, or the formula where the recipe has one.
    pub main: BlockId,
    /// The bakehouse that it is baked in.
    pub place: Arc<Place>,
}

/// Keys that say more about a recipe.
#[derive(Clone, Debug, Default)]
pub struct Details {
    /// Weights to show, the largest first; empty where neither recipe nor bakehouse says.
    pub units: Vec<WeightUnit>,
    /// The dough temperature wanted after mixing.
    pub dough_temperature: Option<Spanned<CelsiusRange>>,
    /// Share of the dough weight lost in the oven, as a fraction of one; from the recipe or the bakehouse.
    pub bake_loss: Option<Spanned<Ratio>>,
    /// Share of the dough weight left in bowl and on hands, as a fraction of one.
    pub handling_loss: Option<Spanned<Ratio>>,
    /// Path and description of a picture.
    pub picture: Option<Spanned<Picture>>,
    /// Names of papers as in the specification, `A4`, `half letter`.
    pub paper: Vec<String>,
    /// Slices a piece.
    pub slices: Option<u32>,
    /// How long it keeps.
    pub keeps: Option<ElapsedRange>,
    /// Tags as written.
    pub tags: Vec<String>,
    /// Who developed it.
    pub author: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// Which version of the formula it is.
    pub revision: Option<String>,
    /// The language of the card, a BCP 47 tag such as `en-GB`.
    pub language: Option<String>,
}

/// A picture beside the recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Path relative to the recipe's folder, forward slashes.
    pub path: String,
    /// What it shows.
    pub description: String,
}

/// What a recipe makes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Makes {
    /// How many pieces; above nought.
    pub count: Ratio,
    /// What a piece is called, as written: `loaves`, `rolls`, `batch`; empty for a dozen that says no more.
    pub piece: String,
    /// The weight of a piece.
    pub weight: Option<Grams>,
    /// Whether that weight is meant after baking.
    pub baked: bool,
    /// The key's value as written, for the card.
    pub written: String,
}

/// A baking tin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tin {
    /// `Some(true)` for a lidded tin, `Some(false)` for an open one, nothing where it is not said.
    pub lidded: Option<bool>,
    /// The form.
    pub shape: TinShape,
    /// What it holds to the brim, rounded to a thousandth of a millilitre for round tins.
    pub volume: Millilitres,
    /// Millilitres of tin for a gram of dough, where the recipe says so.
    pub ml_per_g: Option<Ratio>,
    /// The key's value as written, for the card.
    pub written: String,
}

/// The number of a block in its recipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BlockId(pub usize);

/// A stage, the dough, a part of it, the formula, a filling or a topping.
#[derive(Clone, Debug)]
pub struct Block {
    /// Its number.
    pub id: BlockId,
    /// What it is.
    pub kind: BlockKind,
    /// Its own name, `night` of `levain night`.
    pub name: Option<String>,
    /// What it is called on the card: `levain`, `levain night`, `dough`.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// A size or share that the header gives.
    pub size: Option<Spanned<SizeRule>>,
    /// What is made beyond what is poured.
    pub keep: Option<Spanned<Grams>>,
    /// Lines, steps and notes in the order of the bench.
    pub entries: Vec<Entry>,
}

/// A size that a block's header gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SizeRule {
    /// All flour in the stage is this share of all flour in the bread, as a fraction of one.
    ShareOfFlour(Ratio),
    /// The whole stage weighs this.
    Total(Grams),
    /// This much goes on or into each piece.
    Each(Grams),
}

/// A thing in a block, at its place at the bench.
#[derive(Clone, Debug)]
pub enum Entry {
    /// A formula line.
    Line(Line),
    /// A step.
    Step(Step),
    /// A remark.
    Note(Spanned<String>),
}

/// A formula line.
#[derive(Clone, Debug)]
pub struct Line {
    /// The whole entry.
    pub span: Span,
    /// How much; counts and volumes are weights by now.
    pub amount: Spanned<Amount>,
    /// What the baker wrote where it was a count or a volume, for the card: `2` of `2 eggs`, `3 tbsp`.
    pub measure: Option<Measure>,
    /// The thing.
    pub thing: Thing,
    /// The name on the card: as written, without preparation.
    pub name: Spanned<String>,
    /// How it is prepared: `soft`, `warm`, `toasted`.
    pub preparation: Option<String>,
    /// Its temperature.
    pub at: Option<TemperatureSpec>,
    /// The flour that is nearest to a name which is not known.
    pub flour_meant: Option<FlourMeant>,
    /// What the prose below says.
    pub prose: Option<Prose>,
}

/// A flour that a name which is not known was perhaps meant for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FlourMeant {
    /// The name that is not known, as written, at the place where that was told.
    pub written: Spanned<String>,
    /// The nearest name that is known.
    pub near: String,
}

/// How much of a thing, in what the sums know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// A weight.
    Weight(Grams),
    /// A share of the block's flour, as a fraction of one.
    Percent(Ratio),
    /// A proportion.
    Parts(Ratio),
    /// The whole of a stage.
    All,
    /// An unweighed amount, never in the sums.
    Some,
}

/// A count or a volume as the baker wrote it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measure {
    /// How many.
    pub count: Ratio,
    /// Of what: `tbsp`, `ml`, or nothing for pieces.
    pub unit: Option<crate::quantity::VolumeUnit>,
}

/// What a line pours in.
#[derive(Clone, Debug)]
pub enum Thing {
    /// An ingredient of the table or the bakehouse.
    Ingredient(Arc<Ingredient>),
    /// A name that is not in the table; it counts as weight, or as what `as` names.
    Unlisted {
        /// What it is like.
        like: Option<Arc<Ingredient>>,
    },
    /// A stage, part, filling or topping of this recipe.
    Stage(BlockId),
    /// Starter or old dough that no block makes.
    Mixture(Mixture),
}

/// Starter or old dough from the bakehouse.
#[derive(Clone, Debug)]
pub struct Mixture {
    /// Whether it is starter; else it is old dough.
    pub is_starter: bool,
    /// Its ingredients with their shares of its weight, as fractions of one that add up to one.
    pub parts: Vec<(Arc<Ingredient>, Ratio)>,
}

/// A temperature that a line or a step states.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemperatureSpec {
    /// Where it stands.
    pub span: Span,
    /// The degrees.
    pub range: CelsiusRange,
    /// The place of the bakehouse whose temperature it is.
    pub place: Option<String>,
}

impl TemperatureSpec {
    /// Gives the temperature that counts.
    #[must_use]
    pub fn middle(&self) -> Celsius {
        self.range.middle()
    }
}

/// A step.
#[derive(Clone, Debug)]
pub struct Step {
    /// The whole entry.
    pub span: Span,
    /// How long, as written.
    pub time: StepTime,
    /// How long, overnight and `then` resolved.
    pub takes: ElapsedRange,
    /// What is done, in the baker's words, without temperatures, folds and cue: `bulk`, `mix by hand`.
    pub words: String,
    /// The verb of the trade that decides.
    pub verb: Option<Verb>,
    /// Whether it needs somebody from start to end.
    pub hands_on: bool,
    /// The temperature that it is done at.
    pub at: Option<TemperatureSpec>,
    /// The temperature that it comes to.
    pub to: Option<TemperatureSpec>,
    /// Folds during it; the interval is settled.
    pub folds: Option<FoldPlan>,
    /// When it is over.
    pub until: Option<Spanned<Cue>>,
    /// The filling or topping that it puts on, besides what lines pour in.
    pub uses: Vec<BlockId>,
    /// How it is done.
    pub prose: Option<Prose>,
}

/// Folds with their interval.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FoldPlan {
    /// How many.
    pub count: u32,
    /// The time to the first one and between them.
    pub every: Elapsed,
}

/// A variation that could be made.
#[derive(Clone, Debug)]
pub struct Variation {
    /// Its name.
    pub name: Spanned<String>,
    /// The recipe that it makes.
    pub recipe: Recipe,
    /// What its entries say, for the card.
    pub changes: Vec<Change>,
    /// Prose below its entries.
    pub prose: Vec<Prose>,
}

/// An entry of a variation.
#[derive(Clone, Debug)]
pub struct Change {
    /// As written, in single spaces: `without honey`.
    pub written: String,
    /// What it says.
    pub says: Says,
}

/// What an entry of a variation says; a name in it is as written.
#[derive(Clone, Debug)]
pub enum Says {
    /// `without honey`: what is left out, an ingredient or a step.
    Without(String),
    /// `in filling`: the entries after it mean that block.
    Within(String),
    /// `8 % malt syrup instead of honey`.
    Amount {
        /// Quantity and name as written.
        words: String,
        /// The temperature that it has.
        at: Option<TemperatureSpec>,
        /// How it is prepared.
        preparation: Option<String>,
        /// What it stands for.
        instead_of: Option<String>,
        /// The step that it goes in after.
        after: Option<String>,
    },
    /// A step, as it is in the recipe that the variation makes.
    Step {
        /// The step.
        step: Box<Step>,
        /// The step that it comes after.
        after: Option<String>,
    },
    /// Anything else, for which the written words must do: `makes: 12 rolls`.
    Other,
}

/// A bench record.
#[derive(Clone, Debug)]
pub struct Record {
    /// The day: year, month, day.
    pub date: Spanned<(u16, u8, u8)>,
    /// What was measured: reading and what of.
    pub readings: Vec<(Spanned<Reading>, String)>,
    /// Remarks and prose.
    pub prose: Vec<Prose>,
}
