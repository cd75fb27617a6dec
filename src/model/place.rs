//! The bakehouse: what is true of the place, as one settled value for a recipe.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::catalog::{Catalog, Ingredient};
use crate::quantity::{Celsius, ClockTime, DegreesApart, Elapsed, Grams, Ratio, WeightUnit};
use crate::source::Spanned;

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
