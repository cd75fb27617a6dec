//! What a scald comes to, and whether its starch swells. Owns the temperatures of starch with their rows.

use super::parts::{Bench, ingredient_of};
use super::stage::heats_to;
use super::types::{ScaldHeat, Starch};
use crate::model::catalog::Allergen;
use crate::model::recipe::{Block, BlockKind, Entry};
use crate::sheet::walk::steps_of;

/// Where wheat starch swells in plenty of water: 58 to 64 °C (D10, Lineback 1984; from memory).
const WHEAT: (f64, f64) = (58.0, 64.0);

/// Where rye starch does: 55 to 70 °C (D11, from memory).
const RYE: (f64, f64) = (55.0, 70.0);

/// Works out every scald that has something to be put together.
pub(super) fn scalds(bench: &Bench<'_>) -> Vec<ScaldHeat> {
    let blocks = bench.recipe.blocks.iter();
    blocks
        .filter(|block| block.kind == BlockKind::Scald)
        .filter_map(|block| scald(bench, block))
        .collect()
}

fn scald(bench: &Bench<'_>, block: &Block) -> Option<ScaldHeat> {
    let boiling = bench.boiling();
    if bench.parts(block.id).len() < 2 {
        return None;
    }
    let mixed = bench.mixed(block.id);
    // The hottest that any step makes it is what its starch comes to.
    let heated = steps_of(block)
        .filter_map(|step| heats_to(step, boiling))
        .map(|celsius| bench.at_most_boiling(celsius))
        .reduce(f64::max);
    let swells = if is_of_rye(block) { RYE } else { WHEAT };
    let reached = heated.unwrap_or(mixed).max(mixed);
    Some(ScaldHeat {
        block: block.id,
        title: block.title.clone(),
        boiling,
        mixed,
        heated,
        swells,
        starch: if reached >= swells.1 {
            Starch::Swells
        } else if reached > swells.0 {
            Starch::Partly
        } else {
            Starch::Raw
        },
    })
}

/// Says whether half or more of its flour lines are rye.
fn is_of_rye(block: &Block) -> bool {
    let flours = block.entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => ingredient_of(&line.thing).filter(|ingredient| ingredient.is_flour),
        Entry::Step(_) | Entry::Note(_) => None,
    });
    let is_rye = flours.map(|flour| flour.contains.contains(&Allergen::Rye));
    let (rye, other): (Vec<bool>, Vec<bool>) = is_rye.partition(|is_rye| *is_rye);
    !rye.is_empty() && rye.len() >= other.len()
}
