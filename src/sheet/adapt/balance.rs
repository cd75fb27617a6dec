//! What a change brings too much of is taken out elsewhere, and what it lacks is put in: water, salt, flour.
//!
//! Owns where: first in the block of the change, so that a stage stays what it is, then in the dough.

use std::sync::Arc;

use super::draft::{Draft, Place};
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::{Block, BlockId, BlockKind};
use crate::quantity::Ratio;

/// What can be balanced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Balanced {
    /// Water as such.
    Water,
    /// Salt as such.
    Salt,
}

impl Balanced {
    /// Says whether a line is of this.
    pub(super) fn is(self, ingredient: &Ingredient) -> bool {
        match self {
            Self::Water => ingredient.name == "water",
            Self::Salt => ingredient.kind == Kind::Salt && ingredient.composition.salt.is_some(),
        }
    }

    /// The name of the line that is put in where there is none.
    const fn name(self) -> (&'static str, &'static str) {
        match self {
            Self::Water => ("water", "water"),
            Self::Salt => ("fine salt", "salt"),
        }
    }
}

/// Puts so many grams more in, or takes them out where they are below nought, near a line that changed. Gives what
/// could not be taken out because there is no more of it, in grams of the line's own block.
pub(super) fn balance(draft: &mut Draft<'_>, near: Place, what: Balanced, grams: &Ratio) -> Ratio {
    if grams.is_zero() {
        return Ratio::ZERO;
    }
    let of = |draft: &Draft<'_>, places: Vec<Place>| -> Vec<Place> {
        let is = |place: &Place| draft.ingredient(*place).is_some_and(|found| what.is(found));
        places.into_iter().filter(is).collect()
    };
    let own = of(draft, draft.places_in(near.block));
    let in_dough = of(draft, draft.places_in(draft.recipe.main));
    if grams.is_positive() {
        match own.first() {
            Some(place) => add(draft, *place, grams),
            None => put_in(draft, near, in_dough.first().copied(), what, grams),
        }
        return Ratio::ZERO;
    }
    let left = take(draft, &own, &grams.abs());
    let reach = draft.reach(near.block);
    if left.is_zero() || near.block == draft.recipe.main {
        return left;
    }
    let left_in_dough = take(draft, &in_dough, &(&left * &reach));
    left_in_dough.checked_div(&reach).unwrap_or(left)
}

fn add(draft: &mut Draft<'_>, place: Place, grams: &Ratio) {
    let weight = &draft.weight(place) + grams;
    draft.set(place, weight);
}

/// Puts more into a line of the dough, or where there is none into a new line behind the one that changed. Water
/// of a stage that would become another without it goes in there.
fn put_in(draft: &mut Draft<'_>, near: Place, in_dough: Option<Place>, what: Balanced, grams: &Ratio) {
    let stays = what == Balanced::Water && keeps_its_water(draft, near.block);
    if let Some(place) = in_dough.filter(|_| !stays) {
        let grams = grams * &draft.reach(near.block);
        add(draft, place, &grams);
        return;
    }
    let (key, name) = what.name();
    let found = draft.recipe.place.catalog.lookup(key).map(Arc::clone);
    let ingredient = found.unwrap_or_else(|| Arc::new(Ingredient::unknown(key)));
    draft.insert_behind(near, &ingredient, name, grams);
}

/// Says whether a block is what it is by its water: a preferment, a soaker, a scald, a part with flour of its own;
/// a part that is only butter is not.
fn keeps_its_water(draft: &Draft<'_>, block: BlockId) -> bool {
    let is_part = |block: &Block| block.kind == BlockKind::Dough;
    let is_stage = draft
        .recipe
        .blocks
        .get(block.0)
        .is_some_and(|block| !is_part(block));
    let is_flour = |place: &Place| draft.ingredient(*place).is_some_and(|found| found.is_flour);
    is_stage || draft.places_in(block).iter().any(is_flour)
}

/// Takes grams out of lines, one after the other; gives what is left to take.
pub(super) fn take(draft: &mut Draft<'_>, places: &[Place], grams: &Ratio) -> Ratio {
    let mut left = grams.clone();
    for place in places {
        let weight = draft.weight(*place);
        let taken = left.clone().min(weight.clone());
        if !taken.is_zero() {
            draft.set(*place, &weight - &taken);
            left = &left - &taken;
        }
    }
    left
}
