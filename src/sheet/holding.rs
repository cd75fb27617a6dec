//! What the dough really holds: every ingredient, by the block whose own line brings it.

use std::sync::Arc;

use super::forms;
use super::portion::key_of;
use super::reach::Reach;
use super::worked::{What, Worked, WorkedLine, entry_line};
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

/// The flour in a block.
#[derive(Clone, Default)]
struct Flour {
    /// All of it.
    all: Ratio,
    /// Without that of the starter that seeds it, which is taken out again as it went in.
    lasting: Ratio,
}

/// Gives all flour in a block, that of stages and starters poured in included, indexed by block.
pub(super) fn flour_in_blocks(recipe: &Recipe, worked: &Worked) -> Vec<Ratio> {
    let mut blocks = vec![Flour::default(); recipe.blocks.len()];
    for id in &worked.order {
        let (Some(block), Some(weights)) = (recipe.blocks.get(id.0), worked.block(*id)) else {
            continue;
        };
        let mut flour = Flour::default();
        for line in &weights.lines {
            let Some(weight) = &line.weight else { continue };
            let part = part_of_flour(block, line, worked, &blocks);
            flour.all = &flour.all + &(weight * &part.all);
            flour.lasting = &flour.lasting + &(weight * &part.lasting);
        }
        if let Some(place) = blocks.get_mut(id.0) {
            *place = flour;
        }
    }
    blocks.into_iter().map(|flour| flour.all).collect()
}

/// Gives how much of what a line weighs is flour, as fractions of one.
fn part_of_flour(block: &Block, line: &WorkedLine, worked: &Worked, blocks: &[Flour]) -> Flour {
    let thing = match line.what {
        What::Joined(stage) => return stage_flour(worked, blocks, stage, true),
        What::Entry(at) => entry_line(block, at).map(|line| &line.thing),
    };
    match thing {
        Some(Thing::Stage(stage)) => stage_flour(worked, blocks, *stage, false),
        Some(Thing::Mixture(mixture)) => {
            let flours = mixture.parts.iter().filter(|(ingredient, _)| ingredient.is_flour);
            Flour {
                all: flours.map(|(_, share)| share).sum(),
                lasting: Ratio::ZERO,
            }
        }
        Some(thing) if forms::is_flour(thing) => Flour {
            all: Ratio::ONE,
            lasting: Ratio::ONE,
        },
        Some(_) | None => Flour::default(),
    }
}

/// Gives how much of a stage is flour; what a formula pours by itself is without the seed.
fn stage_flour(worked: &Worked, blocks: &[Flour], stage: BlockId, joined: bool) -> Flour {
    let (Some(flour), Some(weights)) = (blocks.get(stage.0), worked.block(stage)) else {
        return Flour::default();
    };
    let part = |flour: &Ratio, whole: &Ratio| flour.checked_div(whole).unwrap_or_default();
    if joined {
        let part = part(&flour.lasting, &(&weights.total - &weights.seed));
        return Flour {
            all: part.clone(),
            lasting: part,
        };
    }
    Flour {
        all: part(&flour.all, &weights.total),
        lasting: part(&flour.lasting, &weights.total),
    }
}
