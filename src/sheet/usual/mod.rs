//! What a baker would look at twice: figures outside the usual range, slips of the pen, lines too small for
//! the scales, a dough that does not suit its tin.
//!
//! Everything is judged on the total formula and never on the final dough's own column, which reads drier
//! and saltier than the bread is. A plain bread gives no hint at all; a hint has to be rare to be read.

mod bread;
mod kinds;
mod scales;
mod slips;
mod stages;
mod tin;

pub use bread::{Usual, UsualFigure, UsualRow};

use std::sync::Arc;

use super::adapt::strength;
use super::walk::block_of;
use super::{Figures, Role, SheetBlock, SheetLine, Source, TinFit, TooSmall, TotalLine};
use crate::diag::Report;
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::Recipe;
use crate::quantity::{Grams, Ratio};
use crate::source::Span;

/// What the checks look at.
#[derive(Clone, Copy)]
pub(crate) struct Baked<'a> {
    /// The recipe.
    pub(crate) recipe: &'a Recipe,
    /// Its blocks with their weights.
    pub(crate) blocks: &'a [SheetBlock],
    /// Its total formula.
    pub(crate) total: &'a [TotalLine],
    /// What describes the bread.
    pub(crate) figures: &'a Figures,
    /// How it suits its tin.
    pub(crate) tin: Option<&'a TinFit>,
    /// Lines that the scales show badly.
    pub(crate) too_small: &'a [TooSmall],
}

/// What was baked, with the ingredients of the total formula looked up once for all checks.
struct Judged<'a> {
    baked: Baked<'a>,
    parts: Vec<(&'a TotalLine, &'a Arc<Ingredient>)>,
}

/// Reports what a baker would look at twice.
pub(crate) fn usual(baked: Baked) -> (Option<Usual>, Report) {
    let catalog = &baked.recipe.place.catalog;
    let total = baked.total.iter();
    let judged = Judged {
        parts: total
            .filter_map(|line| Some((line, catalog.lookup(&line.key)?)))
            .collect(),
        baked,
    };
    let mut report = Report::new();
    slips::check(&judged, &mut report);
    let usual = bread::usual_of(&judged);
    // Who has salt at a fifth of the flour need not hear that a bread has two hundredths.
    if let Some(usual) = usual.as_ref().filter(|_| report.is_empty()) {
        bread::check(&judged, usual, &mut report);
    }
    stages::check(&judged, &mut report);
    scales::check(baked, &mut report);
    tin::check(baked, &mut report);
    (usual, report)
}

impl<'a> std::ops::Deref for Judged<'a> {
    type Target = Baked<'a>;

    fn deref(&self) -> &Baked<'a> {
        &self.baked
    }
}

impl<'a> Judged<'a> {
    /// Adds up the shares of all flour that ingredients of some kinds have.
    fn share_of(&self, kinds: &[Kind]) -> Ratio {
        self.parts
            .iter()
            .filter(|(_, ingredient)| kinds.contains(&ingredient.kind))
            .filter_map(|(line, _)| line.of_all_flour.as_ref())
            .sum()
    }

    /// Gives the yeast as if all of it were fresh, as a share of all flour.
    fn fresh_yeast(&self) -> Ratio {
        self.parts
            .iter()
            .filter(|(_, ingredient)| ingredient.kind == Kind::Yeast)
            .filter_map(|(line, ingredient)| {
                let share = line.of_all_flour.as_ref()?;
                (share * &Ratio::HUNDRED).checked_div(&strength(ingredient))
            })
            .sum()
    }

    /// Finds where the heaviest line of the dough with some ingredient stands, else the dough's header.
    fn place_of(&self, wanted: impl Fn(&Ingredient) -> bool) -> Span {
        let dough = self.blocks.iter().filter(|block| is_of_dough(block.role));
        let lines = dough.flat_map(|block| &block.lines);
        let heaviest = lines
            .filter(|line| self.ingredient(line).is_some_and(|found| wanted(found)))
            .max_by(|left, right| left.weight.cmp(&right.weight));
        let header = block_of(self.recipe, self.recipe.main).map(|block| block.span);
        heaviest
            .map(|line| line.span)
            .or(header)
            .unwrap_or(self.recipe.title.span)
    }

    fn ingredient(&self, line: &SheetLine) -> Option<&'a Arc<Ingredient>> {
        match &line.source {
            Source::Ingredient { key, .. } => {
                let mut parts = self.parts.iter();
                let part = parts.find(|(total, _)| total.key == *key);
                part.map(|(_, ingredient)| *ingredient)
            }
            Source::Stage(_) | Source::Mixture => None,
        }
    }

    /// Says whether so much of the dough is unknown that its figures say little.
    fn is_blurred(&self) -> bool {
        let unknown = self.figures.unknown.share_of(&self.figures.dough);
        unknown.is_some_and(|share| share > percent(1)) || self.figures.dough == Grams::ZERO
    }
}

const fn is_of_dough(role: Role) -> bool {
    match role {
        Role::Stage | Role::Part | Role::Dough => true,
        Role::Filling | Role::Topping => false,
    }
}

/// Makes a fraction of one of whole hundredths.
fn percent(hundredths: i64) -> Ratio {
    per_mille(hundredths * 10)
}

/// Makes a fraction of one of whole thousandths.
fn per_mille(thousandths: i64) -> Ratio {
    Ratio::fraction(thousandths, 1000).unwrap_or_default()
}

/// Writes a fraction of one as a percentage, as short as it goes.
fn written(share: &Ratio) -> String {
    format!("{} %", (share * &Ratio::HUNDRED).to_trimmed(1))
}
