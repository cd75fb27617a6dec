//! The sheet: every number that a card, a table or a comparison shows, exact.
//!
//! ```text
//! Sheet ─┬─ blocks ── SheetBlock ── lines ── SheetLine     each stage, the final dough, fillings, toppings
//!        ├─ total ─── TotalLine ── parts ── TotalPart      an ingredient by where it goes in
//!        ├─ figures ─ hydration, salt, prefermented flour …
//!        ├─ schedule ─ Lane ── PlacedStep                  steps on the clock, from the start
//!        └─ pieces, tin, allergens, cautions
//! ```

use super::adapt::Answers;
use super::fit::{Fit, TinBand};
use super::usual::Usual;
use super::warmth::Warmth;
use super::weighing::TooSmall;
use crate::model::catalog::Allergen;
use crate::model::recipe::{BlockId, BlockKind, Makes, Measure, Step, TemperatureSpec, Tin};
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, Elapsed, ElapsedRange, Grams, Ratio};
use crate::source::Span;
use crate::syntax::tree::Prose;

/// What is asked of the recipe besides what it says itself.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// A size in place of the recipe's own.
    pub size: Option<SizeRequest>,
    /// Another room temperature than the one that the formula was written for.
    pub room: Option<Celsius>,
    /// How much of the starter or yeast that is written there is in the dough, as a fraction of one.
    pub leaven: Option<Ratio>,
}

/// A size asked for on the command line or the page; it scales every weight in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SizeRequest {
    /// So many pieces of such a weight; a weight that is not given stays the recipe's.
    Makes(Makes),
    /// So much flour for 100 %; the piece keeps its weight and the number follows.
    Flour(Grams),
    /// One piece a tin of this size.
    Tin(Tin),
    /// One piece in each of these tins; the number of pieces follows.
    Fit(Vec<Tin>),
}

/// A computed recipe.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Stages in the order in which they are made, then the parts and the final dough, then fillings and
    /// toppings.
    pub blocks: Vec<SheetBlock>,
    /// The total formula of what reaches the dough: flours first, then the rest, each in the order of the
    /// page.
    pub total: Vec<TotalLine>,
    /// What describes the bread.
    pub figures: Figures,
    /// What it makes.
    pub pieces: Pieces,
    /// The steps in time.
    pub schedule: Schedule,
    /// How the dough suits its tin.
    pub tin: Option<TinFit>,
    /// The tins that it was sized for, where it was asked to be.
    pub fit: Option<Fit>,
    /// Lines that the scales show too far from what they weigh, the farthest first.
    pub too_small: Vec<TooSmall>,
    /// What is usual for a bread of its kind; nothing for what is no bread, or of which too little is known.
    pub usual: Option<Usual>,
    /// What else was asked; empty where nothing was.
    pub answers: Answers,
    /// What is known of allergens.
    pub allergens: Allergens,
    /// Cautions for the card, gravest first.
    pub cautions: Vec<Caution>,
    /// What is worked out of warmth and time.
    pub warmth: Warmth,
    /// Defaults that the figures rest on, as the keys that would say otherwise: `bake loss`, `room`.
    pub assumed: Vec<String>,
}

/// What a computed block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// A preferment, soaker or scald.
    Stage,
    /// A part of the dough.
    Part,
    /// The final dough.
    Dough,
    /// Inside the pieces.
    Filling,
    /// On the pieces.
    Topping,
}

/// A block with its weights.
#[derive(Clone, Debug)]
pub struct SheetBlock {
    /// The block of the recipe; in a recipe with a formula the final dough has the formula's.
    pub id: BlockId,
    /// What kind of block was written.
    pub kind: BlockKind,
    /// What it is called: `levain night`, `dough`, `final dough` where a formula is taken apart.
    pub title: String,
    /// What it is for.
    pub role: Role,
    /// Its lines in the order of the bench.
    pub lines: Vec<SheetLine>,
    /// What its lines weigh together.
    pub total: Grams,
    /// What of it is poured into other blocks; nought for the dough.
    pub poured: Grams,
    /// What is left for the next time: seed, `to keep`, and what is more than poured.
    pub kept: Grams,
    /// Whether the lines that pour it pour all of it, so that what it is shown to make is what they show.
    pub is_poured_whole: bool,
    /// What 100 % of its percentages stands for; nothing in a block without flour.
    pub flour_base: Option<Grams>,
    /// All flour in it, that of stages and starters poured in included.
    pub all_flour: Grams,
}

/// A line with its weight.
#[derive(Clone, Debug)]
pub struct SheetLine {
    /// The line of the recipe, or the header of the stage that a formula pours by itself.
    pub span: Span,
    /// The name on the card.
    pub name: String,
    /// How it is prepared.
    pub preparation: Option<String>,
    /// A count or volume that the baker wrote.
    pub measure: Option<Measure>,
    /// Its temperature.
    pub at: Option<TemperatureSpec>,
    /// What the prose below says.
    pub prose: Option<Prose>,
    /// What it is.
    pub source: Source,
    /// Its exact weight; nothing for an unweighed amount.
    pub weight: Option<Grams>,
    /// Its weight in grams as the scales show it, so that the block's total holds; finer than they show it where they
    /// would lose more than a tenth of it.
    pub shown: Option<Ratio>,
    /// Its share of the flour that its block counts against, as a fraction of one.
    pub of_block_flour: Option<Ratio>,
    /// Its share of all flour that reaches the dough, as a fraction of one; for a line of a stage, of that
    /// part of it that is poured. Nothing for fillings and toppings.
    pub of_all_flour: Option<Ratio>,
    /// The index of the step in its block that it goes in at; nothing where no step follows.
    pub step: Option<usize>,
}

/// What a line is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// An ingredient; whether it counts as flour.
    Ingredient {
        /// Its canonical name, or the name as written where the table does not know it.
        key: String,
        /// Whether it counts as flour.
        is_flour: bool,
        /// Whether its composition is known.
        known: bool,
    },
    /// A stage, part, filling or topping.
    Stage(BlockId),
    /// Starter or old dough from the bakehouse.
    Mixture,
}

/// An ingredient over the whole bread.
#[derive(Clone, Debug)]
pub struct TotalLine {
    /// The name on the card.
    pub name: String,
    /// Its canonical name.
    pub key: String,
    /// Whether it counts as flour.
    pub is_flour: bool,
    /// All of it that reaches the dough.
    pub weight: Grams,
    /// Its weight in grams as the scales show it, so that the dough's total holds.
    pub shown: Ratio,
    /// Whether the lines of the blocks hold just this weight: no starter brings some, and nothing is left over.
    pub is_whole: bool,
    /// Its share of all flour, as a fraction of one.
    pub of_all_flour: Option<Ratio>,
    /// Where it goes in: only the blocks that hold some, in the order of the sheet's blocks.
    pub parts: Vec<TotalPart>,
}

/// How much of an ingredient a block brings to the dough by its own lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TotalPart {
    /// The block.
    pub block: BlockId,
    /// What reaches the dough of it.
    pub weight: Grams,
}

/// What a percentage of the figures counts against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlourBasis {
    /// All flour in the bread: the recipe is a formula.
    AllFlour,
    /// The flour on the block's own lines.
    BlockFlour,
}

/// What describes the bread; shares are fractions of one of all flour, nothing where there is no flour.
#[derive(Clone, Debug)]
pub struct Figures {
    /// How the recipe's own percentages count.
    pub basis: FlourBasis,
    /// The dough as mixed.
    pub dough: Grams,
    /// All flour that reaches the dough.
    pub flour: Grams,
    /// Flour in preferments and starters over all flour.
    pub prefermented: Option<Ratio>,
    /// Flour in scalds over all flour.
    pub scalded: Option<Ratio>,
    /// Water of what is wet over all flour.
    pub hydration: Option<Ratio>,
    /// The water poured alone over all flour.
    pub poured_water: Option<Ratio>,
    /// Salt of salt lines and salted goods; nothing too where all the salt goes in unweighed.
    pub salt: Option<Ratio>,
    /// Sugars of all that is not flour.
    pub sugar: Option<Ratio>,
    /// Fat of all that is not flour.
    pub fat: Option<Ratio>,
    /// Egg, in whatever form, as weighed.
    pub egg: Option<Ratio>,
    /// Non-fat milk solids.
    pub milk_solids: Option<Ratio>,
    /// Wholegrain flours over all flour, for the usual ranges.
    pub wholegrain: Option<Ratio>,
    /// Rye flours over all flour, for the usual ranges.
    pub rye: Option<Ratio>,
    /// Weight of lines whose composition is not known, which the shares above leave out.
    pub unknown: Grams,
}

/// What the recipe makes.
#[derive(Clone, Debug)]
pub struct Pieces {
    /// How many; one where nothing says.
    pub count: Ratio,
    /// What a piece is called, as written.
    pub piece: String,
    /// The number of pieces that this was written for, of which it has the form.
    pub named_for: Ratio,
    /// Whether the recipe or the request says what it makes.
    pub said: bool,
    /// Dough for a piece as scaled, handling loss taken off.
    pub dough: Grams,
    /// How many pieces are scaled at which weight, as the scales show it, so that they add up to the dough; empty
    /// where the pieces are no whole number.
    pub scaled: Vec<(i64, Grams)>,
    /// Filling and topping on a piece.
    pub extras: Grams,
    /// The weight of a piece after the bake, filling and topping as put on.
    pub baked: Grams,
    /// Bake loss, as a fraction of one of the dough as mixed.
    pub bake_loss: Ratio,
    /// Whether the bake loss is assumed.
    pub bake_loss_assumed: bool,
    /// Handling loss, as a fraction of one of the dough as mixed.
    pub handling_loss: Ratio,
    /// Slices a piece.
    pub slices: Option<u32>,
}

/// The steps of all blocks in time, each lane as late as its consumer allows.
#[derive(Clone, Debug, Default)]
pub struct Schedule {
    /// A lane a block that has steps, by the time of its start; the final dough last.
    pub lanes: Vec<Lane>,
    /// Time from start to finish: the longest path over shortest and over longest lengths.
    pub whole: ElapsedRange,
    /// The longest path over the middles of ranges, which the lanes are placed by.
    pub middle: Elapsed,
    /// Time that needs somebody, folds and turning not counted.
    pub hands_on: ElapsedRange,
    /// When the oven has to be lit, and for how long, before each bake that finds it cold; from the start. An
    /// oven that needs longer than the dough is lit at the very start.
    pub preheats: Vec<(Elapsed, Elapsed)>,
}

/// The steps of a block in time.
#[derive(Clone, Debug)]
pub struct Lane {
    /// The block.
    pub block: BlockId,
    /// What it is called.
    pub title: String,
    /// Its steps, one after the other; only a `preheat` line stands where the oven is lit and ends where the
    /// bake begins, beside the steps ahead of it.
    pub steps: Vec<PlacedStep>,
}

/// A step in time.
#[derive(Clone, Debug)]
pub struct PlacedStep {
    /// The step itself.
    pub step: Step,
    /// The index of the step among the steps of its block.
    pub index: usize,
    /// What it is for; nothing where no verb of the trade is known.
    pub purpose: Option<Purpose>,
    /// When it begins, from the start of the whole bake, by middles.
    pub start: Elapsed,
    /// When it ends.
    pub end: Elapsed,
    /// The lines of its block that go in at it, as indices into [`SheetBlock::lines`].
    pub lines: Vec<usize>,
    /// When its folds fall, from the start of the whole bake.
    pub folds: Vec<Elapsed>,
}

/// How the dough suits its tin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TinFit {
    /// The tin.
    pub tin: Tin,
    /// Millilitres of tin for a gram of the dough as scaled.
    pub ml_per_g: Ratio,
    /// What is usual for such a bread in such a tin.
    pub band: TinBand,
}

/// What is known of allergens in everything that goes into or onto the bread.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Allergens {
    /// Those that recognised ingredients contain.
    pub contains: Vec<Allergen>,
    /// Names of ingredients that could not be checked, in the order of the page.
    pub not_checked: Vec<String>,
}

impl Allergens {
    /// Gives what is known here and not of another bread.
    #[must_use]
    pub fn beyond(&self, other: &Self) -> Self {
        let contains = self.contains.iter().filter(|one| !other.contains.contains(one));
        let unchecked = self.not_checked.iter();
        let unchecked = unchecked.filter(|name| !other.not_checked.contains(name));
        Self {
            contains: contains.copied().collect(),
            not_checked: unchecked.cloned().collect(),
        }
    }
}

/// A caution with its facts; the words of a card are made of it by the view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The number of the caution, `C03`.
    pub id: &'static str,
    /// The names that it is about: ingredients or steps.
    pub about: Vec<String>,
    /// A length of time that it speaks of.
    pub time: Option<Elapsed>,
    /// Whether the graver wording is called for.
    pub graver: bool,
    /// The line or step that triggers it.
    pub span: Option<Span>,
}
