//! Figures that describe the bread, of everything that reaches the dough.

use super::holding::Held;
use super::types::{Figures, FlourBasis};
use crate::model::catalog::{Allergen, Composition, Ingredient, Kind};
use crate::quantity::{Grams, Ratio};

/// Works out the figures of a dough.
pub(super) fn of_dough(held: &[Held], dough: &Ratio, basis: FlourBasis) -> Figures {
    let flour: Ratio = held
        .iter()
        .filter(|held| held.is_flour)
        .map(|held| &held.weight)
        .sum();
    let of_flour = |weight: Ratio| weight.checked_div(&flour);
    let flours =
        |pick: fn(&Held) -> Ratio| -> Ratio { held.iter().filter(|held| held.is_flour).map(pick).sum() };
    // In hundredths, as the table gives its figures: dividing the sum once is much cheaper than each part.
    let added = |grams_in_100: fn(&Ingredient) -> Ratio| -> Ratio {
        let sum: Ratio = held
            .iter()
            .filter(|held| !held.is_flour)
            .filter_map(|held| {
                let grams = grams_in_100(held.ingredient.as_deref()?);
                (!grams.is_zero()).then(|| &held.weight * &grams)
            })
            .sum();
        sum / &Ratio::HUNDRED
    };
    Figures {
        basis,
        dough: Grams(dough.clone()),
        prefermented: of_flour(flours(|held| held.prefermented.clone())),
        scalded: of_flour(flours(|held| held.scalded.clone())),
        wholegrain: of_flour(flours(|held| weight_if(held, is_wholegrain))),
        rye: of_flour(flours(|held| weight_if(held, is_rye))),
        hydration: of_flour(added(wet_water)),
        poured_water: of_flour(added(poured_water)),
        salt: of_flour(added(salt)),
        sugar: of_flour(added(|ingredient| part(ingredient.composition.sugars.as_ref()))),
        fat: of_flour(added(|ingredient| part(ingredient.composition.fat.as_ref()))),
        egg: of_flour(added(|ingredient| {
            whole_if(matches!(ingredient.kind, Kind::Egg | Kind::DriedEgg))
        })),
        milk_solids: of_flour(added(milk_solids)),
        unknown: Grams(
            held.iter()
                .filter(|held| held.ingredient.is_none())
                .map(|held| &held.weight)
                .sum(),
        ),
        flour: Grams(flour),
    }
}

/// Gives grams per 100 g; what no source gives counts as nothing.
pub(super) fn part(grams: Option<&Ratio>) -> Ratio {
    grams.cloned().unwrap_or_default()
}

const fn whole_if(holds: bool) -> Ratio {
    if holds { Ratio::HUNDRED } else { Ratio::ZERO }
}

fn weight_if(held: &Held, holds: fn(&Ingredient) -> bool) -> Ratio {
    match &held.ingredient {
        Some(ingredient) if holds(ingredient) => held.weight.clone(),
        _ => Ratio::ZERO,
    }
}

/// The water of what is wet; the moisture of dry goods stays where it is.
pub(super) fn wet_water(ingredient: &Ingredient) -> Ratio {
    if ingredient.is_wet {
        part(ingredient.composition.water.as_ref())
    } else {
        Ratio::ZERO
    }
}

/// Water and ice themselves.
fn poured_water(ingredient: &Ingredient) -> Ratio {
    whole_if(matches!(ingredient.name.as_str(), "water" | "ice"))
}

/// Salt as such, and that of goods which are salted: above half a gram in 100 g, a bound that leaves out
/// what milk, egg and fruit hold by nature (common practice, no source).
///
/// Raising agents are sodium salts of another kind, and their sodium is no salt in the dough.
pub(super) fn salt(ingredient: &Ingredient) -> Ratio {
    if ingredient.kind == Kind::Salt {
        return Ratio::HUNDRED;
    }
    if matches!(
        ingredient.kind,
        Kind::Leavening | Kind::Yeast | Kind::Improver | Kind::DriedMilk | Kind::DriedEgg
    ) {
        return Ratio::ZERO;
    }
    let bound = Ratio::fraction(1, 2).unwrap_or_default();
    let Composition { salt, .. } = &ingredient.composition;
    part(salt.as_ref().filter(|salt| **salt > bound))
}

/// What is left of milk without its water and its fat.
pub(super) fn milk_solids(ingredient: &Ingredient) -> Ratio {
    if !matches!(
        ingredient.kind,
        Kind::Milk | Kind::Cream | Kind::Cultured | Kind::DriedMilk
    ) {
        return Ratio::ZERO;
    }
    let Composition { water, fat, .. } = &ingredient.composition;
    let (Some(water), Some(fat)) = (water, fat) else {
        return Ratio::ZERO;
    };
    part(Some(&(&(&Ratio::HUNDRED - water) - fat)))
}

fn is_rye(ingredient: &Ingredient) -> bool {
    ingredient.contains.contains(&Allergen::Rye)
}

/// Wholegrain flour: named so, or with the fibre that only the bran brings, 9 g in 100 g and more (common
/// practice, no source).
fn is_wholegrain(ingredient: &Ingredient) -> bool {
    let bran = ingredient
        .composition
        .fibre
        .as_ref()
        .is_some_and(|fibre| *fibre >= Ratio::whole(9));
    bran || ingredient.name.contains("whole")
}
