//! What a scald comes to, and whether its starch swells. Owns the temperatures of starch with their rows.

use super::parts::{Bench, ingredient_of, together};
use super::types::{ScaldHeat, Starch};
use crate::model::catalog::Allergen;
use crate::model::recipe::{Block, BlockKind, Cue, Entry, Step, TemperatureSpec};
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
    let mut parts = bench.parts(block.id);
    if parts.len() < 2 {
        return None;
    }
    // Up a mountain nothing that is mostly water is hotter than it boils there, whatever the line says.
    for part in &mut parts {
        part.celsius = part.celsius.min(boiling);
    }
    let mixed = together(&parts);
    let heated = heated(block, boiling);
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

/// Finds the hottest that a step heats it to: stated, or boiling where it is cooked without a word on it.
fn heated(block: &Block, boiling: f64) -> Option<f64> {
    let stated = |step: &Step| {
        let cue = step.until.as_ref().and_then(|cue| match &cue.value {
            Cue::Core(range) | Cue::Dough(range) => Some(range.middle()),
            Cue::Grown(_) | Cue::Words(_) => None,
        });
        let spec = step.to.as_ref().or(step.at.as_ref()).map(TemperatureSpec::middle);
        cue.or(spec).map_or(boiling, |celsius| celsius.0.to_f64())
    };
    steps_of(block)
        .filter(|step| {
            let verb = step.verb.map_or("", |verb| verb.word);
            matches!(verb, "cook" | "boil")
        })
        .map(|step| stated(step).min(boiling))
        .reduce(f64::max)
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
