//! Which step puts a filling or a topping on.
//!
//! A filling is awaited by the step that names it, else by the first `fill`; a topping by the step that
//! names it, else by the first `glaze` or `brush` wherever it stands; and both else by `bake`.

use super::words::holds_words;
use crate::model::catalog::fold_name;
use crate::model::recipe::{Block, BlockId, BlockKind, Entry, Step, Thing};

/// Where a step stands.
#[derive(Clone, Copy, Debug)]
struct Spot {
    block: usize,
    entry: usize,
}

/// Writes every filling and topping into the step that awaits it.
pub(super) fn settle_uses(blocks: &mut [Block], main: BlockId) {
    let on_top: Vec<(BlockId, Spot)> = blocks
        .iter()
        .filter(|block| matches!(block.kind, BlockKind::Filling | BlockKind::Topping))
        .filter(|block| !is_poured(blocks, block.id))
        .filter_map(|block| Some((block.id, awaiting(blocks, block, main)?)))
        .collect();
    for (id, spot) in on_top {
        let entry = blocks
            .get_mut(spot.block)
            .and_then(|block| block.entries.get_mut(spot.entry));
        if let Some(Entry::Step(step)) = entry {
            step.uses.push(id);
        }
    }
}

fn is_poured(blocks: &[Block], id: BlockId) -> bool {
    blocks
        .iter()
        .flat_map(|block| &block.entries)
        .any(|entry| match entry {
            Entry::Line(line) => matches!(line.thing, Thing::Stage(poured) if poured == id),
            Entry::Step(_) | Entry::Note(_) => false,
        })
}

fn awaiting(blocks: &[Block], on_top: &Block, main: BlockId) -> Option<Spot> {
    let by_verb = |words: &'static [&'static str]| {
        find(blocks, main, move |step| {
            step.verb.is_some_and(|verb| words.contains(&verb.word))
        })
    };
    let usual: &[&str] = if on_top.kind == BlockKind::Filling {
        &["fill"]
    } else {
        &["glaze", "brush"]
    };
    find(blocks, main, |step| step_names(step, on_top))
        .or_else(|| by_verb(usual))
        .or_else(|| by_verb(&["bake"]))
}

/// Finds a step, in the dough itself before its parts.
fn find(blocks: &[Block], main: BlockId, wanted: impl Fn(&Step) -> bool) -> Option<Spot> {
    let mut doughs: Vec<usize> = vec![main.0];
    doughs.extend(
        blocks
            .iter()
            .filter(|block| block.kind == BlockKind::Dough && block.id != main)
            .map(|block| block.id.0),
    );
    doughs.into_iter().find_map(|block| {
        let entry = blocks.get(block)?.entries.iter().position(|entry| match entry {
            Entry::Step(step) => wanted(step),
            Entry::Line(_) | Entry::Note(_) => false,
        })?;
        Some(Spot { block, entry })
    })
}

/// Says whether a step's words hold the name of a filling or topping; one without a name answers to its kind.
pub(in crate::model) fn step_names(step: &Step, on_top: &Block) -> bool {
    let name = on_top.name.as_deref().unwrap_or_else(|| on_top.kind.word());
    holds_words(&fold_name(&step.words), &fold_name(name))
}
