//! The bakehouse: what is true of the place, as one settled value for a recipe.
//!
//! Owns the merging of bakehouse files, nearer ones before farther ones, key by key and line by line, and
//! the defaults for what none of them says. Knows nothing of recipes and of where the files lie.

mod defaults;
mod ingredients;
mod keys;
mod mixtures;
mod values;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::catalog::{Catalog, Ingredient};
use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::{Celsius, ClockTime, DegreesApart, Elapsed, Grams, Ratio, WeightUnit};
use crate::source::{Source, Span, Spanned};
use crate::syntax::tree::{BAKEHOUSE_KEYS, Item, KeyLine, Tree};

/// The most bakehouse files that may stand above one recipe.
pub const MOST_FILES: usize = 16;

/// A bakehouse with all its files merged, nearer ones before farther ones, and defaults for the rest.
#[derive(Clone, Debug)]
pub struct Place {
    /// What it is called.
    pub name: Option<String>,
    /// The named temperatures: `room`, `fridge`, `proofer`, `tap`.
    pub temperatures: BTreeMap<String, Celsius>,
    /// Height above the sea, metres.
    pub altitude_m: Ratio,
    /// From when to when nobody is up.
    pub asleep: Option<(ClockTime, ClockTime)>,
    /// How long the oven needs.
    pub preheat: Elapsed,
    /// What the scales show in grams, finest limit last.
    pub scales: Scales,
    /// The starter that is kept.
    pub starter: StarterSpec,
    /// The old dough that is kept.
    pub old_dough: OldDoughSpec,
    /// How much mixing warms the dough, by the words behind `in` or `by`: `hand`, `spiral`.
    pub friction: Vec<(String, DegreesApart)>,
    /// The currency of prices.
    pub currency: Option<String>,
    /// Defaults for recipes.
    pub units: Vec<WeightUnit>,
    /// Default papers.
    pub paper: Vec<String>,
    /// Default bake loss, as a fraction of one.
    pub bake_loss: Option<Spanned<Ratio>>,
    /// Default author.
    pub author: Option<String>,
    /// Default language.
    pub language: Option<String>,
    /// The ingredients of the built-in table and of the bakehouse.
    pub catalog: Arc<Catalog>,
    /// The keys that some file gives; any other value above is a default.
    pub given: BTreeSet<String>,
    /// The files that were read, nearest first, as they are named to people.
    pub files: Vec<String>,
}

impl Place {
    /// Gives the place of a recipe that has no bakehouse above it.
    #[must_use]
    pub fn without_bakehouse() -> Self {
        defaults::place()
    }

    /// Says whether what a key stands for is a default, so that a card can say what it rests on.
    #[must_use]
    pub fn is_default(&self, key: &str) -> bool {
        !self.given.contains(key)
    }
}

/// What the scales show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scales {
    /// The step of the main scale in grams.
    pub step: Ratio,
    /// Finer scales: step in grams and the weight below which it is used, widest limit first.
    pub finer: Vec<(Ratio, Grams)>,
}

impl Scales {
    /// Gives the step that a weight is weighed with.
    #[must_use]
    pub fn step_for(&self, weight: &Grams) -> &Ratio {
        self.finer
            .iter()
            .filter(|(_, under)| weight < under)
            .map(|(step, _)| step)
            .min()
            .unwrap_or(&self.step)
    }
}

/// The starter that is kept.
#[derive(Clone, Debug)]
pub struct StarterSpec {
    /// Water on flour, as a fraction of one; above nought.
    pub hydration: Ratio,
    /// Its flour.
    pub flour: Arc<Ingredient>,
}

/// The old dough that is kept.
#[derive(Clone, Debug)]
pub struct OldDoughSpec {
    /// Water on flour, as a fraction of one.
    pub hydration: Ratio,
    /// Salt on flour, as a fraction of one.
    pub salt: Ratio,
    /// Its flour.
    pub flour: Arc<Ingredient>,
}

/// Merges bakehouse files, nearest first, and reports what is wrong in each of them.
#[must_use]
pub fn settle(files: &[(&Source, &Tree)]) -> (Place, Report) {
    let mut report = Report::new();
    if let Some((source, _)) = files.get(MOST_FILES) {
        let message = format!("more than {MOST_FILES} bakehouse files stand above one recipe");
        let fault = Diagnostic::new(Code::TooMany, source.whole().head(), message);
        report.push(fault.help("this one and those above it are left out"));
    }
    let files = files.get(..MOST_FILES).unwrap_or(files);
    let mut place = Place::without_bakehouse();
    place.files = files.iter().map(|(source, _)| source.name.clone()).collect();
    let lines: Vec<&KeyLine> = files
        .iter()
        .rev()
        .flat_map(|(_, tree)| key_lines(tree, &mut report))
        .collect();
    // The currency is asked for by the ingredients, and these by the starter and the old dough.
    let (mixtures, plain): (Vec<&KeyLine>, Vec<_>) = lines
        .into_iter()
        .partition(|line| matches!(line.key.value.as_str(), "starter" | "old dough"));
    for line in plain {
        keys::read(&mut place, line, &mut report);
    }
    place.catalog = ingredients::settle(files, place.currency.as_deref(), &mut report);
    place.starter = defaults::starter(&place.catalog);
    place.old_dough = defaults::old_dough(&place.catalog);
    for line in mixtures {
        keys::read(&mut place, line, &mut report);
    }
    (place, report)
}

/// Gives the keys of a file, each once, and reports one that is given twice.
fn key_lines<'tree>(tree: &'tree Tree, report: &mut Report) -> Vec<&'tree KeyLine> {
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    let mut lines = Vec::new();
    for item in &tree.items {
        match item {
            // A key that is none has been reported where it was read.
            Item::Key(line) if !BAKEHOUSE_KEYS.contains(&line.key.value.as_str()) => {}
            Item::Key(line) => match seen.insert(&line.key.value, line.key.span) {
                Some(first) => report.push(key_twice(line, first)),
                None => lines.push(line),
            },
            // A block of a recipe has been reported where it was read.
            Item::Block(_) | Item::Blank(_) | Item::Comment(_) | Item::Junk(_) => {}
        }
    }
    lines
}

fn key_twice(line: &KeyLine, first: Span) -> Diagnostic {
    Diagnostic::new(
        Code::KeyTwice,
        line.key.span,
        format!("`{}` is given twice", line.key.value),
    )
    .other(first, "here the first time")
    .help("keep one of the two lines")
}

/// Reads the value of `units`, in a bakehouse or in a recipe.
pub(super) fn read_units(line: &KeyLine) -> Result<Vec<WeightUnit>, Box<Diagnostic>> {
    keys::units(values::Reader::of_key(line))
}

/// Reads the value of `paper`, in a bakehouse or in a recipe.
pub(super) fn read_papers(line: &KeyLine) -> Result<Vec<String>, Box<Diagnostic>> {
    keys::papers(values::Reader::of_key(line))
}

/// Reads the value of `language`, in a bakehouse or in a recipe.
pub(super) fn read_language(line: &KeyLine) -> Result<String, Box<Diagnostic>> {
    keys::language(values::Reader::of_key(line))
}
