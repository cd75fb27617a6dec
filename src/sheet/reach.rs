//! How much of a block reaches the dough, and by what way: through a preferment, through a scald.

use super::forms;
use super::worked::Worked;
use crate::model::recipe::{BlockId, BlockKind, Recipe};
use crate::quantity::Ratio;

/// Shares of a block's own lines that reach the dough, as fractions of one.
#[derive(Clone, Debug, Default)]
pub(super) struct Reach {
    /// By any way.
    pub(super) all: Ratio,
    /// Through a preferment, itself included.
    pub(super) prefermented: Ratio,
    /// Through a scald, itself included.
    pub(super) scalded: Ratio,
    /// The share of starter on its own lines that stays in the dough.
    pub(super) seed: Ratio,
}

/// Works out the reach of every block, indexed by block; fillings and toppings reach no dough.
pub(super) fn of_recipe(recipe: &Recipe, worked: &Worked) -> Vec<Reach> {
    let mut all: Vec<Reach> = vec![Reach::default(); recipe.blocks.len()];
    if let Some(main) = all.get_mut(recipe.main.0) {
        main.all = Ratio::ONE;
        main.seed = Ratio::ONE;
    }
    let pours: Vec<_> = worked.pours(recipe).collect();
    for id in worked.order.iter().rev() {
        if *id != recipe.main {
            let reach =
                pours
                    .iter()
                    .filter(|pour| pour.stage == *id)
                    .fold(Reach::default(), |mut sum, pour| {
                        let part = part_poured(worked, *id, pour.weight, pour.joined);
                        if let Some(into) = all.get(pour.into.0) {
                            sum.all = &sum.all + &(&part * &into.all);
                            sum.prefermented = &sum.prefermented + &(&part * &into.prefermented);
                            sum.scalded = &sum.scalded + &(&part * &into.scalded);
                        }
                        sum
                    });
            if let Some(place) = all.get_mut(id.0) {
                *place = reach;
            }
        }
        if let (Some(reach), Some(block)) = (all.get_mut(id.0), recipe.blocks.get(id.0)) {
            if is_preferment(block.kind) {
                reach.prefermented = reach.all.clone();
            }
            if block.kind == BlockKind::Scald {
                reach.scalded = reach.all.clone();
            }
            if !worked.takes_seed_out {
                reach.seed = reach.all.clone();
            }
        }
    }
    all
}

/// Gives the share of a block that a line pours; what a formula pours by itself is without the seed.
fn part_poured(worked: &Worked, id: BlockId, weight: &Ratio, joined: bool) -> Ratio {
    let whole = worked.block(id).map_or(Ratio::ZERO, |block| {
        if joined {
            &block.total - &block.seed
        } else {
            block.total.clone()
        }
    });
    weight.checked_div(&whole).unwrap_or_default()
}

/// Says whether a block's flour is prefermented.
pub(super) const fn is_preferment(kind: BlockKind) -> bool {
    matches!(
        kind,
        BlockKind::Levain | BlockKind::Poolish | BlockKind::Biga | BlockKind::Sponge | BlockKind::OldDough
    )
}

/// Says whether a block is a stage of the dough and neither the dough itself nor a part, filling or topping.
pub(super) fn is_stage(recipe: &Recipe, id: BlockId, kind: BlockKind) -> bool {
    id != recipe.main && !super::solve::is_extra(kind) && !forms::is_part(recipe, id)
}
