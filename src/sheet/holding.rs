//! What the dough really holds: every ingredient, by the block whose own line brings it.

use std::sync::Arc;

use super::forms;
use super::portion::key_of;
use super::reach::Reach;
use super::worked::{What, Worked, entry_line};
use crate::model::catalog::Ingredient;
use crate::model::recipe::{Block, BlockId, Line, Recipe, Thing};
use crate::quantity::Ratio;

/// An ingredient that a line brings to the dough.
#[derive(Clone, Debug)]
pub(super) struct Held {
    pub(super) block: BlockId,
    pub(super) key: String,
    pub(super) name: String,
    /// The line of starter or old dough that brings it, by its name; nothing for what stands on its own line.
    pub(super) through: Option<String>,
    /// Its values; nothing where the table does not know it.
    pub(super) ingredient: Option<Arc<Ingredient>>,
    pub(super) is_flour: bool,
    /// What reaches the dough, in grams.
    pub(super) weight: Ratio,
    /// What of it goes through a preferment.
    pub(super) prefermented: Ratio,
    /// What of it goes through a scald.
    pub(super) scalded: Ratio,
}

/// Lists what reaches the dough: the dough's own lines first, then the other blocks in the order of the page.
pub(super) fn of_dough(recipe: &Recipe, worked: &Worked, reaches: &[Reach]) -> Vec<Held> {
    let own = std::iter::once(recipe.main);
    let others = recipe
        .blocks
        .iter()
        .map(|block| block.id)
        .filter(|id| *id != recipe.main);
    let mut held = Vec::new();
    for id in own.chain(others) {
        let (Some(block), Some(weights), Some(reach)) =
            (recipe.blocks.get(id.0), worked.block(id), reaches.get(id.0))
        else {
            continue;
        };
        for line in &weights.lines {
            let (What::Entry(at), Some(weight)) = (line.what, &line.weight) else {
                continue;
            };
            if let Some(line) = entry_line(block, at) {
                hold(block, line, weight, reach, &mut held);
            }
        }
    }
    held.retain(|held| !held.weight.is_zero());
    held
}

fn hold(block: &Block, line: &Line, weight: &Ratio, reach: &Reach, held: &mut Vec<Held>) {
    let one = |key: String, name: String, ingredient: Option<Arc<Ingredient>>, is_flour: bool| Held {
        block: block.id,
        key,
        name,
        through: None,
        ingredient,
        is_flour,
        weight: weight * &reach.all,
        prefermented: weight * &reach.prefermented,
        scalded: weight * &reach.scalded,
    };
    let is_flour = forms::is_flour(&line.thing);
    match &line.thing {
        Thing::Ingredient(ingredient) => held.push(one(
            ingredient.name.clone(),
            line.name.value.clone(),
            Some(Arc::clone(ingredient)),
            is_flour,
        )),
        Thing::Unlisted { like } => held.push(one(
            key_of(line).unwrap_or_default(),
            line.name.value.clone(),
            like.clone(),
            is_flour,
        )),
        Thing::Mixture(mixture) => {
            let kept = weight * &reach.seed;
            for (ingredient, share) in &mixture.parts {
                let weight = &kept * share;
                held.push(Held {
                    block: block.id,
                    key: ingredient.name.clone(),
                    name: ingredient.name.clone(),
                    through: Some(line.name.value.clone()),
                    is_flour: ingredient.is_flour,
                    ingredient: Some(Arc::clone(ingredient)),
                    // A starter is a preferment wherever it is put in.
                    prefermented: weight.clone(),
                    scalded: &weight * &through_scald(reach),
                    weight,
                });
            }
        }
        Thing::Stage(_) => {}
    }
}

fn through_scald(reach: &Reach) -> Ratio {
    reach.scalded.checked_div(&reach.all).unwrap_or_default()
}

/// Gives all flour in a block, that of stages and starters poured in included, indexed by block.
pub(super) fn flour_in_blocks(recipe: &Recipe, worked: &Worked) -> Vec<Ratio> {
    let mut all = vec![Ratio::ZERO; recipe.blocks.len()];
    for id in &worked.order {
        let (Some(block), Some(weights)) = (recipe.blocks.get(id.0), worked.block(*id)) else {
            continue;
        };
        let mut flour = Ratio::ZERO;
        for line in &weights.lines {
            let Some(weight) = &line.weight else { continue };
            let part = match line.what {
                What::Joined(stage) => stage_flour(worked, &all, stage),
                What::Entry(at) => match entry_line(block, at).map(|line| &line.thing) {
                    Some(Thing::Stage(stage)) => stage_flour(worked, &all, *stage),
                    Some(Thing::Mixture(mixture)) => {
                        let flours = mixture.parts.iter().filter(|(ingredient, _)| ingredient.is_flour);
                        flours.map(|(_, share)| share).sum()
                    }
                    Some(thing) if forms::is_flour(thing) => Ratio::ONE,
                    Some(_) | None => Ratio::ZERO,
                },
            };
            flour = &flour + &(weight * &part);
        }
        if let Some(place) = all.get_mut(id.0) {
            *place = flour;
        }
    }
    all
}

fn stage_flour(worked: &Worked, flours: &[Ratio], stage: BlockId) -> Ratio {
    let total = worked.block(stage).map(|stage| &stage.total);
    flours
        .get(stage.0)
        .zip(total)
        .and_then(|(flour, total)| flour.checked_div(total))
        .unwrap_or_default()
}
