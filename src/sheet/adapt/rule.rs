//! How much of an ingredient stands in for another: the carriers that are kept, by kind. Owns the rules; where the
//! rest is balanced is the business of `swap`.

use super::sweetness;
use crate::model::catalog::{Ingredient, Kind};
use crate::quantity::Ratio;
use crate::sheet::figures;

/// What is kept when an ingredient takes the place of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SwapRule {
    /// Leavening power: so much of the new yeast as so much of the old.
    Strength {
        /// Grams of the old that raise as 100 g of fresh yeast.
        old: Ratio,
        /// Grams of the new that do.
        new: Ratio,
    },
    /// Milk solids without their fat.
    MilkSolids,
    /// Sweetness, as so many grams of table sugar in 100 g of old and new.
    Sweetness {
        /// Of the old.
        old: Ratio,
        /// Of the new.
        new: Ratio,
    },
    /// Fat.
    Fat,
    /// Egg without its water.
    EggSolids,
    /// Water.
    Water,
    /// The weight itself; a flour takes up so many grams of water in 100 g more, which may be below nought.
    Weight {
        /// More water in 100 g; nothing where a bakehouse says of neither how much it takes up.
        absorption: Option<Ratio>,
    },
}

/// The sorts of ingredient that can stand in for each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Family {
    Yeast,
    Milk,
    DriedMilk,
    Sweet,
    Fat,
    Egg,
    DriedEgg,
    Flour,
    Salt,
    Liquid,
}

impl Family {
    const fn of(kind: Kind) -> Option<Self> {
        Some(match kind {
            Kind::Yeast => Self::Yeast,
            Kind::Milk => Self::Milk,
            Kind::DriedMilk => Self::DriedMilk,
            Kind::Sugar | Kind::Syrup | Kind::Honey => Self::Sweet,
            Kind::Butter | Kind::Fat | Kind::Oil => Self::Fat,
            Kind::Egg => Self::Egg,
            Kind::DriedEgg => Self::DriedEgg,
            Kind::Flour => Self::Flour,
            Kind::Salt => Self::Salt,
            Kind::Liquid | Kind::Cultured | Kind::Cream => Self::Liquid,
            _ => return None,
        })
    }
}

/// What stands in the way of a swap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum NoRule {
    /// The two do different work in a dough.
    DifferentWork,
    /// The table does not know what the rule needs of the ingredient of that name.
    NotKnown(String),
}

/// Finds the rule by which an ingredient stands in for another.
pub(super) fn of(old: &Ingredient, new: &Ingredient) -> Result<SwapRule, NoRule> {
    let (Some(left), Some(right)) = (Family::of(old.kind), Family::of(new.kind)) else {
        return Err(NoRule::DifferentWork);
    };
    match (left, right) {
        (Family::Yeast, Family::Yeast) => Ok(SwapRule::Strength {
            old: strength(old),
            new: strength(new),
        }),
        (Family::Milk | Family::DriedMilk, Family::DriedMilk) | (Family::DriedMilk, Family::Milk) => {
            Ok(SwapRule::MilkSolids)
        }
        (Family::Sweet, Family::Sweet) => Ok(SwapRule::Sweetness {
            old: sweet(old)?,
            new: sweet(new)?,
        }),
        (Family::Fat, Family::Fat) => Ok(SwapRule::Fat),
        (Family::Egg | Family::DriedEgg, Family::Egg | Family::DriedEgg) => {
            let is_same_part = part_of_egg(old) == part_of_egg(new);
            Ok(if is_same_part {
                SwapRule::EggSolids
            } else {
                SwapRule::Fat
            })
        }
        (Family::Milk | Family::Liquid, Family::Milk | Family::Liquid) => Ok(SwapRule::Water),
        (Family::Flour, Family::Flour) if old.is_flour && new.is_flour => Ok(SwapRule::Weight {
            absorption: absorption(old, new),
        }),
        (Family::Salt, Family::Salt) => match (&old.composition.salt, &new.composition.salt) {
            (Some(_), Some(_)) => Ok(SwapRule::Weight { absorption: None }),
            (None, _) => Err(NoRule::NotKnown(old.name.clone())),
            (_, None) => Err(NoRule::NotKnown(new.name.clone())),
        },
        _ => Err(NoRule::DifferentWork),
    }
}

impl SwapRule {
    /// Gives how much of the new stands in for a gram of the old.
    pub(super) fn factor(&self, old: &Ingredient, new: &Ingredient) -> Result<Ratio, NoRule> {
        let carried = |ingredient: &Ingredient| {
            let composition = &ingredient.composition;
            let carried = match self {
                Self::MilkSolids => Some(figures::milk_solids(ingredient)),
                Self::Fat => composition.fat.clone(),
                Self::EggSolids => composition.water.as_ref().map(|water| &Ratio::HUNDRED - water),
                Self::Water => composition.water.clone(),
                Self::Strength { .. } | Self::Sweetness { .. } | Self::Weight { .. } => Some(Ratio::ONE),
            };
            let enough = carried.filter(Ratio::is_positive);
            enough.ok_or_else(|| NoRule::NotKnown(ingredient.name.clone()))
        };
        let (old, new) = match self {
            Self::Strength { old, new } => (new.clone(), old.clone()),
            Self::Sweetness { old, new } => (old.clone(), new.clone()),
            _ => (carried(old)?, carried(new)?),
        };
        old.checked_div(&new).ok_or(NoRule::DifferentWork)
    }
}

/// Gives how many grams of a yeast raise as 100 g of fresh: 40 of active dry, 33 of instant. Published value F20; the
/// other tables in print (F21) lie between 37.5 and 50, and between 33 and 40.
pub(in crate::sheet) fn strength(yeast: &Ingredient) -> Ratio {
    let is_fresh = yeast
        .composition
        .water
        .as_ref()
        .is_some_and(|water| *water > Ratio::whole(40));
    if is_fresh {
        Ratio::HUNDRED
    } else if yeast.name == "active dry yeast" {
        Ratio::whole(40)
    } else {
        Ratio::whole(33)
    }
}

fn sweet(ingredient: &Ingredient) -> Result<Ratio, NoRule> {
    sweetness::of(ingredient).ok_or_else(|| NoRule::NotKnown(ingredient.name.clone()))
}

fn part_of_egg(egg: &Ingredient) -> &'static str {
    ["yolk", "white"]
        .into_iter()
        .find(|part| egg.name.contains(part))
        .unwrap_or("whole")
}

/// Gives how much more water 100 g of a flour take up than as much of another; one of which nobody says anything
/// takes up as much as its like.
fn absorption(old: &Ingredient, new: &Ingredient) -> Option<Ratio> {
    if old.absorption.is_none() && new.absorption.is_none() {
        return None;
    }
    let of = |flour: &Ingredient| flour.absorption.clone().unwrap_or_default();
    Some(&of(new) - &of(old))
}
