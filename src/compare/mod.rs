//! Two versions of a recipe side by side, with what differs in the bread.
//!
//! Owns what counts as a change: figures, ingredients, stages, steps, keys, prose. Knows nothing of how a
//! change is worded or of where the versions come from. Reformatting, another unit for the same weight and
//! percentages in place of weights are no change, and a larger batch of the same bread is told as that.
//! A comparison told backwards is the same comparison.

mod align;
mod blocks;
mod figures;
mod keys;
mod lines;
mod near;
mod parts;
mod prose;
mod stages;
mod steps;
mod types;

pub use prose::{In, Run};
pub use types::{
    BlockPair, Comparison, Figure, FigurePair, KeyChange, Line, LineChange, LinePair, Part, PartChange,
    ProseChange, Side, StepChange, StepPair, Value,
};

use crate::model::catalog::Allergen;
use crate::quantity::Ratio;
use crate::sheet::Sheet;

/// Compares two versions of a recipe, the older one first.
#[must_use]
pub fn compare(old: &Side<'_>, new: &Side<'_>) -> Comparison {
    let stages = stages::matched(old.recipe, new.recipe);
    let mut comparison = Comparison {
        figures: figures::pairs(old.sheet, new.sheet),
        allergens_new: allergens_only_in(new.sheet, old.sheet),
        allergens_gone: allergens_only_in(old.sheet, new.sheet),
        keys: keys::changes(old.recipe, new.recipe),
        prose: prose::changes(old.recipe, new.recipe),
        records: parts::records(old, new),
        ..Comparison::default()
    };
    let both = blocks::Both {
        old,
        new,
        stages: &stages,
    };
    both.compare(&mut comparison);
    let factor = old.sheet.zip(new.sheet).and_then(|(old, new)| factor(old, new));
    comparison.scaled = factor.filter(|_| comparison.formula_is_unchanged());
    comparison.variations = parts::variations(old, new, &comparison);
    comparison
}

/// Gives the factor between two doughs where it is more than rounding.
fn factor(old: &Sheet, new: &Sheet) -> Option<Ratio> {
    let factor = new.figures.dough.share_of(&old.figures.dough)?;
    (!near::is_one(&factor)).then_some(factor)
}

/// Lists the allergens of one version that the other lacks; nothing is said where one does not compute.
fn allergens_only_in(here: Option<&Sheet>, there: Option<&Sheet>) -> Vec<Allergen> {
    let Some((here, there)) = here.zip(there) else {
        return Vec::new();
    };
    let others = &there.allergens.contains;
    let own = here.allergens.contains.iter();
    own.filter(|allergen| !others.contains(allergen))
        .copied()
        .collect()
}
