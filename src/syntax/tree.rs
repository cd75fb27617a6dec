//! The tree of one file: everything that was written, in the order of the page.
//!
//! ```text
//! Tree ─ items ─┬─ Blank, Comment, Junk
//!               ├─ Key      key: value
//!               └─ Block    header and body ─┬─ Blank, Comment, Prose, Junk
//!                                            └─ Entry ── Formula | Step | Note | … with its prose
//! ```
//!
//! Comments, blank lines and the spans of all parts are kept, so that the formatter needs no second parser.

use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio, VolumeUnit, WeightUnit};
use crate::source::{SourceId, Span, Spanned};

/// A whole file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tree {
    /// The source that was read.
    pub source: SourceId,
    /// Whether it is a recipe or a bakehouse.
    pub kind: FileKind,
    /// What stands in it, top to bottom.
    pub items: Vec<Item>,
}

/// What a file is, which says what keys and blocks there are in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A recipe.
    Recipe,
    /// A bakehouse: a file of that name, or one whose first key is `bakehouse`.
    Bakehouse,
}

/// What can stand in the first column, or outside any block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// An empty line.
    Blank(Span),
    /// A line that is a comment, from its `#` to the line end.
    Comment(Span),
    /// A `key: value` line.
    Key(KeyLine),
    /// A block with its body.
    Block(Block),
    /// A line that could not be read and has been reported.
    Junk(Span),
}

/// A `key: value` line, also inside a variation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyLine {
    /// From the key to the end of the value.
    pub span: Span,
    /// The key, lower case, single spaces.
    pub key: Spanned<String>,
    /// The value, without white space around it and without its comment; may be empty.
    pub value: Spanned<String>,
    /// A comment behind it.
    pub comment: Option<Span>,
}

/// The keys of a recipe, as they are spelt.
pub const RECIPE_KEYS: &[&str] = &[
    "title",
    "makes",
    "flour",
    "tin",
    "units",
    "dough temperature",
    "bake loss",
    "handling loss",
    "picture",
    "paper",
    "slices",
    "keeps",
    "tags",
    "author",
    "source",
    "revision",
    "language",
];

/// The keys of a bakehouse file, as they are spelt.
pub const BAKEHOUSE_KEYS: &[&str] = &[
    "bakehouse",
    "room",
    "fridge",
    "proofer",
    "tap",
    "altitude",
    "asleep",
    "preheat",
    "scales",
    "starter",
    "old dough",
    "friction",
    "currency",
    "units",
    "paper",
    "bake loss",
    "author",
    "language",
];

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BlockKind {
    /// Flour and water ripened with a culture.
    Levain,
    /// A wet preferment of yeast.
    Poolish,
    /// A stiff preferment of yeast.
    Biga,
    /// A preferment of yeast, often with milk or sugar.
    Sponge,
    /// Dough kept from an earlier bake.
    OldDough,
    /// Grain or seeds in water.
    Soaker,
    /// Flour or grain with hot water.
    Scald,
    /// The final dough, or with a name a part of it.
    Dough,
    /// The whole bread in percentages of all its flour.
    Formula,
    /// What goes inside.
    Filling,
    /// What goes on top.
    Topping,
    /// Changes against the recipe.
    Variation,
    /// A bench record.
    Bake,
    /// Prose at the head of the card.
    About,
    /// Prose at its foot.
    Notes,
    /// An ingredient of the bakehouse.
    Ingredient,
    /// Not a kind that is known; it has been reported, and its entries are read as a dough's.
    Unknown,
}

impl BlockKind {
    /// Every kind that can be written, with its spelling; `old dough` stands before `dough`.
    pub const SPELT: &[(&str, Self)] = &[
        ("levain", Self::Levain),
        ("poolish", Self::Poolish),
        ("biga", Self::Biga),
        ("sponge", Self::Sponge),
        ("old dough", Self::OldDough),
        ("soaker", Self::Soaker),
        ("scald", Self::Scald),
        ("dough", Self::Dough),
        ("formula", Self::Formula),
        ("filling", Self::Filling),
        ("topping", Self::Topping),
        ("variation", Self::Variation),
        ("bake", Self::Bake),
        ("about", Self::About),
        ("notes", Self::Notes),
        ("ingredient", Self::Ingredient),
    ];

    /// Gives the spelling.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::SPELT
            .iter()
            .find(|(_, kind)| *kind == self)
            .map_or("block", |(word, _)| word)
    }
}

/// A block: its header and what is indented under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// From the header to the end of the last line of the body that is not blank.
    pub span: Span,
    /// The kind, with the place of its word.
    pub kind: Spanned<BlockKind>,
    /// The name behind the kind, as written with single spaces: `night`, `barley malt`, `2026-03-14`.
    pub name: Option<Spanned<String>>,
    /// What stands between commas after kind and name: `15 % of the flour`, `35 g each`, `50 g to keep`.
    pub qualifiers: Vec<Spanned<Qualifier>>,
    /// The whole header without its comment.
    pub header: Span,
    /// A comment behind the header.
    pub comment: Option<Span>,
    /// The lines below.
    pub body: Vec<BodyItem>,
}

/// A qualifier of a block header.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Qualifier {
    /// `15 % of the flour`, as a fraction of one.
    ShareOfFlour(Ratio),
    /// `200 g`: the whole stage.
    Size(Grams),
    /// `35 g each`: on a piece.
    Each(Grams),
    /// `50 g to keep`: made beyond what is poured.
    Keep(Grams),
    /// Anything else; it has been reported.
    Junk,
}

/// A line of a block's body.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(
    clippy::large_enum_variant,
    reason = "nearly every line of a body is an entry"
)]
pub enum BodyItem {
    /// An empty line.
    Blank(Span),
    /// A line that is a comment.
    Comment(Span),
    /// An entry with the prose that belongs to it.
    Entry(Entry),
    /// Lines of prose in `about` and `notes`.
    Prose(Prose),
    /// A line that could not be read and has been reported.
    Junk(Span),
}

/// Markdown as written, with the indent that all its lines share taken off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prose {
    /// From the first line's first character to the last line's end.
    pub span: Span,
    /// The lines with their spans, indents taken off, blank lines between them kept as empty ones.
    pub lines: Vec<Spanned<String>>,
}

/// An entry of a block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The entry's own line, without indent and comment.
    pub span: Span,
    /// What it says.
    pub kind: EntryKind,
    /// A comment behind it.
    pub comment: Option<Span>,
    /// The deeper lines below it.
    pub prose: Option<Prose>,
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EntryKind {
    /// A quantity and an ingredient or stage.
    Formula(FormulaLine),
    /// A time and what is done.
    Step(StepLine),
    /// `note TEXT`.
    Note(Spanned<String>),
    /// `without X`, in a variation.
    Without(Spanned<String>),
    /// `in STAGE`, in a variation.
    Scope(Spanned<String>),
    /// `key: value`, in a variation.
    Key(KeyLine),
    /// A line of an ingredient's entry in a bakehouse.
    Property(Property),
    /// A measurement of a bench record.
    Measurement(Measurement),
}

/// A quantity and a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormulaLine {
    /// How much.
    pub quantity: Spanned<Quantity>,
    /// The name as written, single spaces, with any preparation that stands before it.
    pub name: Spanned<String>,
    /// `hydration N %`, as a fraction of one.
    pub hydration: Option<Spanned<Ratio>>,
    /// `at TEMPERATURE`.
    pub at: Option<Spanned<TemperatureWord>>,
    /// `as KNOWN INGREDIENT`.
    pub as_known: Option<Spanned<String>>,
    /// What stands behind the comma.
    pub preparation: Option<Spanned<String>>,
    /// `instead of X`, in a variation.
    pub instead_of: Option<Spanned<String>>,
    /// `after VERB`, in a variation.
    pub after: Option<Spanned<String>>,
}

/// How much of a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A weight; the unit is the first one written.
    Weight {
        /// The weight.
        grams: Grams,
        /// The unit that the baker thought in.
        unit: WeightUnit,
    },
    /// A share of the block's flour, as a fraction of one.
    Percent(Ratio),
    /// A proportion.
    Parts(Ratio),
    /// A volume.
    Volume {
        /// How many of the unit.
        count: Ratio,
        /// The unit.
        unit: VolumeUnit,
    },
    /// A count of pieces.
    Count(Ratio),
    /// The whole of a stage.
    All,
    /// An unweighed amount.
    Some,
}

/// A time and what is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLine {
    /// How long.
    pub time: Spanned<StepTime>,
    /// Everything behind the time as written, single spaces.
    pub text: Spanned<String>,
    /// The words that are left when temperatures, folds, hands and cue are taken out, single spaces.
    pub words: String,
    /// `at TEMPERATURE`, also from `in the fridge` and `at room temperature`.
    pub at: Option<Spanned<TemperatureWord>>,
    /// `to TEMPERATURE`.
    pub to: Option<Spanned<TemperatureWord>>,
    /// `with N folds every TIME`.
    pub folds: Option<Spanned<Folds>>,
    /// `hands-on` or `hands-off`.
    pub hands: Option<Spanned<Hands>>,
    /// `until CUE`.
    pub until: Option<Spanned<Cue>>,
    /// `after VERB`, in a variation.
    pub after: Option<Spanned<String>>,
}

/// How long a step takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepTime {
    /// A time or a range.
    Takes(ElapsedRange),
    /// `overnight`, eight to twelve hours.
    Overnight,
    /// `then`, no time of its own.
    Then,
}

/// `with N folds every TIME`; the time may be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Folds {
    /// How many.
    pub count: u32,
    /// The interval between them.
    pub every: Option<Elapsed>,
}

/// Whether a step needs somebody.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hands {
    /// Somebody works.
    On,
    /// The dough works.
    Off,
}

/// When a step is over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cue {
    /// `core 92 C`.
    Core(CelsiusRange),
    /// `dough 24 C`.
    Dough(CelsiusRange),
    /// `doubled`, `1.5x`: volume against the start.
    Grown(Ratio),
    /// Any other words, as written.
    Words(String),
}

/// A temperature as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TemperatureWord {
    /// Degrees.
    Degrees(CelsiusRange),
    /// The word of a place: `room`, `fridge`, or one that the bakehouse may not know.
    Place(String),
}

/// A line of an ingredient's entry in a bakehouse.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Property {
    /// `like NAME`: starts from its values.
    Like(Spanned<String>),
    /// `13.1 % protein`: grams per 100 g, as a fraction of one.
    Share {
        /// How much, as a fraction of one.
        share: Spanned<Ratio>,
        /// Of what.
        nutrient: Spanned<String>,
    },
    /// `364 kcal`: energy per 100 g.
    Energy(Spanned<Ratio>),
    /// `contains WORD, WORD`; `contains nothing` gives an empty list.
    Contains(Vec<Spanned<String>>),
    /// `also NAME`.
    Also(Spanned<String>),
    /// `1.85 EUR per kg`: the price, its currency and the grams it buys.
    Price {
        /// How much money.
        amount: Spanned<Ratio>,
        /// The currency's code or sign as written.
        currency: Spanned<String>,
        /// For how much.
        per: Grams,
    },
    /// `counts as flour` is `true`, `counts as no flour` is `false`.
    CountsAsFlour(bool),
    /// `wet` is `true`, `dry` is `false`.
    Wet(bool),
    /// `58 g each`.
    Each(Spanned<Grams>),
    /// `142 g per cup`, `1.42 g per ml`.
    PerVolume {
        /// The weight of one.
        grams: Spanned<Grams>,
        /// The measure.
        unit: VolumeUnit,
    },
    /// `absorption +3 %`, as a fraction of one.
    Absorption(Spanned<Ratio>),
}

/// A measurement of a bench record: `20.5 C room`, `11 h 40 min bulk`, `788 g loaf`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measurement {
    /// What was read off.
    pub reading: Spanned<Reading>,
    /// Of what, as written.
    pub of: Spanned<String>,
}

/// What an instrument showed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reading {
    /// A thermometer.
    Temperature(CelsiusRange),
    /// A scale.
    Weight(Grams),
    /// A clock.
    Time(ElapsedRange),
    /// A count: pieces made, or a mark out of ten.
    Count(Ratio),
    /// A share, as a fraction of one.
    Share(Ratio),
}
