//! How much dough suits a tin: for the tin that a recipe names, and for tins that it is to be sized for.
//!
//! Owns how full a tin is to be and what each tin gets. The volume of a tin is the model's, the scaling of a
//! recipe that of `request`.

mod band;
mod practical;

pub use band::{TinBand, TinBread};

use super::request::Scaling;
use super::solve::Losses;
use super::types::{Figures, TinFit};
use super::worked::Worked;
use crate::model::recipe::{Recipe, Tin};
use crate::quantity::{Grams, Ratio, WeightUnit};

/// A recipe sized for tins: one piece a tin, in the order in which they were asked for.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The tins with what goes in; never empty.
    pub tins: Vec<FittedTin>,
}

/// A tin with the dough that goes in.
#[derive(Clone, Debug)]
pub struct FittedTin {
    /// The tin.
    pub tin: Tin,
    /// Millilitres of tin for a gram of dough.
    pub ml_per_g: Ratio,
    /// Who decided on that.
    pub filled_by: FilledBy,
    /// What is usual.
    pub band: TinBand,
    /// The dough that goes in, handling loss taken off.
    pub dough: Grams,
    /// What it weighs after the bake, without filling and topping.
    pub baked: Grams,
    /// The nearest weight that a piece is practically scaled at.
    pub practical: Grams,
    /// Millilitres of tin for a gram of dough at that weight.
    pub practical_ml_per_g: Ratio,
}

/// Who decided how full a tin is to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilledBy {
    /// Whoever asked: `, 2.8 ml per g`.
    Asked,
    /// The recipe, whose own tin says so.
    Recipe,
    /// Nobody: the middle of what is usual.
    Band,
}

impl Fit {
    /// Works out what tins take of a bread; nothing where the weights run out of all bounds.
    pub(super) fn of(recipe: &Recipe, figures: &Figures, losses: &Losses, tins: &[Tin]) -> Option<Self> {
        let tins = tins.iter().map(|tin| fit_tin(recipe, figures, losses, tin));
        let tins: Vec<FittedTin> = tins.collect::<Option<_>>()?;
        (!tins.is_empty()).then_some(Self { tins })
    }

    /// Gives the factors that make the recipe as large as its tins, fillings and toppings with the dough.
    pub(super) fn scaling(&self, recipe: &Recipe, worked: &Worked, losses: &Losses) -> Option<Scaling> {
        let all: Grams = self.tins.iter().map(|tin| &tin.dough).sum();
        let wanted = all.0.checked_div(&(&Ratio::ONE - &losses.handling))?;
        let factor = wanted.checked_div(&worked.block(recipe.main)?.total)?;
        let count = i64::try_from(self.tins.len()).ok()?;
        // As `makes: 2 tins` would have it; a card has a word of its own for them.
        let piece = if count == 1 { "tin" } else { "tins" };
        Some(Scaling {
            dough: factor.clone(),
            extras: factor,
            count: Ratio::whole(count),
            piece: Some(piece.to_owned()),
        })
    }

    /// Says whether all tins are alike and filled alike.
    #[must_use]
    pub fn is_of_one_kind(&self) -> bool {
        self.only_kind().is_some()
    }

    /// Gives the one tin that all of them are like; nothing where they differ.
    pub(super) fn only_kind(&self) -> Option<&Tin> {
        let (first, rest) = self.tins.split_first()?;
        let is_same = |other: &FittedTin| other.dough == first.dough && other.tin == first.tin;
        rest.iter().all(is_same).then_some(&first.tin)
    }
}

fn fit_tin(recipe: &Recipe, figures: &Figures, losses: &Losses, tin: &Tin) -> Option<FittedTin> {
    let band = TinBand::of(figures, tin.lidded);
    let own = recipe.tin.as_ref().and_then(|own| own.value.ml_per_g.clone());
    let (ml_per_g, filled_by) = match (&tin.ml_per_g, own) {
        (Some(asked), _) => (asked.clone(), FilledBy::Asked),
        (None, Some(own)) => (own, FilledBy::Recipe),
        (None, None) => (band.middle(), FilledBy::Band),
    };
    let dough = Grams(tin.volume.0.checked_div(&ml_per_g)?);
    let after_handling = &Ratio::ONE - &losses.handling;
    let baked_part = (&after_handling - &losses.bake).checked_div(&after_handling)?;
    let practical = practical::piece(&dough, first_unit(recipe));
    Some(FittedTin {
        practical_ml_per_g: tin.volume.0.checked_div(&practical.0)?,
        baked: dough.times(&baked_part),
        tin: tin.clone(),
        practical,
        ml_per_g,
        filled_by,
        band,
        dough,
    })
}

/// Gives the unit that pieces are scaled in.
fn first_unit(recipe: &Recipe) -> WeightUnit {
    let own = recipe.details.units.first();
    own.or(recipe.place.units.first())
        .copied()
        .unwrap_or(WeightUnit::Gram)
}

/// Says how a dough suits the tin that its recipe names.
pub(super) fn of_own_tin(recipe: &Recipe, figures: &Figures, each: &Grams) -> Option<TinFit> {
    let tin = recipe.tin.as_ref()?.value.clone();
    let ml_per_g = tin.volume.0.checked_div(&each.0)?;
    let band = TinBand::of(figures, tin.lidded);
    Some(TinFit { tin, ml_per_g, band })
}
