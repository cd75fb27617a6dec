//! Two versions of a recipe to a list of changes in the bread.
//!
//! Owns what counts as a change: figures, ingredients, stages, steps, keys, prose. Knows nothing of how a
//! change is worded or of where the versions come from. Reformatting, another unit for the same weight and
//! percentages in place of weights are no change.

mod figures;
mod ingredients;
mod keys;
mod prose;
mod stages;
mod steps;
mod types;

pub use types::{
    Changes, Figure, FigureChange, IngredientChange, KeyChange, PartChange, Piece, ProseChange, Side,
    StageChange, StepChange, StepPlace, Value,
};

use crate::quantity::Ratio;
use crate::sheet::Sheet;

/// Compares two versions of a recipe, the older one first.
#[must_use]
pub fn compare(old: &Side<'_>, new: &Side<'_>) -> Changes {
    let stages = stages::matched(old, new);
    Changes {
        scaled: old.sheet.zip(new.sheet).and_then(|(old, new)| scaled(old, new)),
        figures: figures::changes(old.sheet, new.sheet),
        total: ingredients::of_total(old.sheet, new.sheet),
        stages: stages::changes(old, new, &stages),
        ingredients: ingredients::of_blocks(old.sheet, new.sheet, &stages),
        steps: steps::changes(old, new, &stages),
        keys: keys::changes(old.recipe, new.recipe),
        prose: prose::changes(old.recipe, new.recipe),
        variations: parts(&names(old), &names(new), |name| {
            let pair = old.variation(name).zip(new.variation(name));
            pair.map(|(old, new)| compare(old, new))
                .filter(|changes| !changes.is_empty())
        }),
        records: parts(&old.records, &new.records, |_| None),
    }
}

fn names<'version>(side: &Side<'version>) -> Vec<&'version str> {
    side.variations.iter().map(|one| one.0).collect()
}

/// Gives the factor between two doughs where it is more than rounding.
fn scaled(old: &Sheet, new: &Sheet) -> Option<Ratio> {
    let factor = new.figures.dough.share_of(&old.figures.dough)?;
    (!nearly(&factor, &Ratio::ONE)).then_some(factor)
}

/// Says whether two numbers are one within the rounding of a typed weight, half a per cent.
fn nearly(left: &Ratio, right: &Ratio) -> bool {
    let leeway = &left.abs().max(right.abs()) * &Ratio::fraction(5, 1000).unwrap_or_default();
    (left - right).abs() <= leeway
}

/// Tells of named parts that came, went or changed, in the order of the newer version, then what is gone.
fn parts(old: &[&str], new: &[&str], mut changed: impl FnMut(&str) -> Option<Changes>) -> Vec<PartChange> {
    let came_or_changed = new.iter().filter_map(|name| {
        if old.contains(name) {
            changed(name).map(|changes| PartChange::Changed((*name).to_owned(), Box::new(changes)))
        } else {
            Some(PartChange::Added((*name).to_owned()))
        }
    });
    let mut all: Vec<PartChange> = came_or_changed.collect();
    all.extend(
        old.iter()
            .filter(|name| !new.contains(name))
            .map(|name| PartChange::Gone((*name).to_owned())),
    );
    all
}
