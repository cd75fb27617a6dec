//! Worked blocks put into the shape of the sheet, and the total formula.

use std::collections::BTreeMap;

use super::forms;
use super::holding::{self, Held};
use super::reach::{self, Reach};
use super::rounding::{Weight, is_lost, is_settled, to_scales};
use super::types::{Role, SheetBlock, SheetLine, Source, TotalLine, TotalPart};
use super::worked::{What, Worked, WorkedLine, entry_line};
use super::{portion, solve};
use crate::model::place::Scales;
use crate::model::recipe::{Amount, Block, BlockId, BlockKind, Line, Measure, Recipe, Thing};
use crate::quantity::{Grams, Ratio, round_to_step};

/// Gives the blocks of the sheet: stages as they are made, parts, the dough, fillings and toppings.
pub(super) fn of_sheet(
    recipe: &Recipe,
    worked: &Worked,
    reaches: &[Reach],
    all_flour: &Ratio,
) -> Vec<SheetBlock> {
    let flours = holding::flour_in_blocks(recipe, worked);
    let mut blocks: Vec<SheetBlock> = worked
        .order
        .iter()
        .filter_map(|id| {
            let (block, reach) = (recipe.blocks.get(id.0)?, reaches.get(id.0)?);
            let flour = flours.get(id.0)?;
            sheet_block(recipe, worked, block, reach, all_flour, flour)
        })
        .collect();
    blocks.sort_by_key(|block| block.role);
    show(recipe, &mut blocks);
    blocks
}

/// Rounds the lines of all blocks: the dough first, then what is poured into it, so that a stage comes to what is
/// poured of it.
fn show(recipe: &Recipe, blocks: &mut [SheetBlock]) {
    let mut settled = BTreeMap::new();
    for at in (0..blocks.len()).rev() {
        let Some(block) = blocks.get(at) else { continue };
        let (is_poured_whole, poured) = pours(blocks, block);
        let whole = poured.filter(|_| is_poured_whole);
        let weights = to_round(blocks, block, &recipe.place.scales, &mut settled);
        let shown = to_scales(&weights, &recipe.place.scales, whole.as_ref());
        let Some(block) = blocks.get_mut(at) else { continue };
        block.is_poured_whole = is_poured_whole;
        let lines = block.lines.iter_mut().filter(|line| line.weight.is_some());
        for (line, shown) in lines.zip(shown) {
            line.shown = Some(shown);
        }
    }
}

/// Gives the weights of a block to be rounded. A stage in which nothing is left to round is poured as it rounds by
/// itself: what a baker wrote in whole grams is not changed for the dough's sake. Which stages those are is found out
/// once, since stages may pour each other many times over.
fn to_round<'a>(
    blocks: &'a [SheetBlock],
    block: &'a SheetBlock,
    scales: &Scales,
    settled: &mut BTreeMap<BlockId, bool>,
) -> Vec<Weight<'a>> {
    let weights = block.lines.iter().filter_map(|line| {
        let exact = &line.weight.as_ref()?.0;
        let poured = match line.source {
            Source::Stage(id) => blocks.iter().find(|other| other.id == id),
            Source::Ingredient { .. } | Source::Mixture => None,
        };
        let mut is_fixed = |poured: &SheetBlock| {
            if let Some(known) = settled.get(&poured.id) {
                return *known;
            }
            let weights = to_round(blocks, poured, scales, settled);
            let fixed = weights.iter().all(|weight| is_settled(weight, scales));
            settled.insert(poured.id, fixed);
            fixed
        };
        let nearest = || round_to_step(exact, scales.step_for(&Grams(exact.clone())));
        let held = poured.is_some_and(&mut is_fixed).then(nearest);
        let held = held.filter(|nearest| !is_lost(exact, nearest));
        Some(Weight { exact, held })
    });
    weights.collect()
}

/// Says whether the lines that pour a block pour all of it, and what they show together.
fn pours(blocks: &[SheetBlock], block: &SheetBlock) -> (bool, Option<Ratio>) {
    let pours = || {
        let lines = blocks.iter().flat_map(|other| &other.lines);
        lines.filter(|line| line.source == Source::Stage(block.id))
    };
    let weight: Grams = pours().filter_map(|line| line.weight.as_ref()).sum();
    let shown = pours().map(|line| line.shown.as_ref());
    (
        weight == block.total && !weight.is_zero(),
        shown.sum::<Option<Ratio>>(),
    )
}

fn sheet_block(
    recipe: &Recipe,
    worked: &Worked,
    block: &Block,
    reach: &Reach,
    all_flour: &Ratio,
    flour: &Ratio,
) -> Option<SheetBlock> {
    let weights = worked.block(block.id).filter(|weights| !weights.idle)?;
    let role = role(recipe, block);
    let lines = weights
        .lines
        .iter()
        .filter_map(|line| {
            let outside = matches!(role, Role::Filling | Role::Topping);
            let shares = Shares {
                base: weights.base.as_ref(),
                all_flour: (!outside).then_some(all_flour),
                reach,
            };
            sheet_line(recipe, block, line, &shares)
        })
        .collect();
    let poured = worked.poured(recipe, block.id);
    let kept = if role == Role::Stage || role == Role::Part {
        (&weights.total - &poured).max(Ratio::ZERO)
    } else {
        Ratio::ZERO
    };
    Some(SheetBlock {
        id: block.id,
        kind: block.kind,
        title: if block.kind == BlockKind::Formula {
            "final dough".to_owned()
        } else {
            block.title.clone()
        },
        role,
        lines,
        total: Grams(weights.total.clone()),
        poured: Grams(poured),
        kept: Grams(kept),
        is_poured_whole: false,
        flour_base: weights.base.clone().map(Grams),
        all_flour: Grams(flour.clone()),
    })
}

fn role(recipe: &Recipe, block: &Block) -> Role {
    match block.kind {
        BlockKind::Filling => Role::Filling,
        BlockKind::Topping => Role::Topping,
        _ if block.id == recipe.main => Role::Dough,
        kind if reach::is_stage(recipe, block.id, kind) => Role::Stage,
        _ => Role::Part,
    }
}

/// What the shares of a line count against.
struct Shares<'sheet> {
    base: Option<&'sheet Ratio>,
    all_flour: Option<&'sheet Ratio>,
    reach: &'sheet Reach,
}

fn sheet_line(recipe: &Recipe, block: &Block, line: &WorkedLine, shares: &Shares<'_>) -> Option<SheetLine> {
    let written = match line.what {
        What::Entry(at) => Some(entry_line(block, at)?),
        What::Joined(_) => None,
    };
    let reach = match written.map(|line| &line.thing) {
        Some(Thing::Mixture(_)) => &shares.reach.seed,
        _ => &shares.reach.all,
    };
    let weight = line.weight.clone();
    let of_block_flour = weight
        .as_ref()
        .zip(shares.base)
        .and_then(|(weight, base)| weight.checked_div(base));
    let of_all_flour = weight
        .as_ref()
        .zip(shares.all_flour)
        .and_then(|(weight, flour)| (weight * reach).checked_div(flour));
    let stage = match line.what {
        What::Joined(stage) => recipe.blocks.get(stage.0),
        What::Entry(_) => None,
    };
    Some(SheetLine {
        span: written.map_or_else(|| stage.map_or(block.span, |stage| stage.span), |line| line.span),
        name: written.map_or_else(
            || stage.map(|stage| stage.title.clone()).unwrap_or_default(),
            |line| line.name.value.clone(),
        ),
        preparation: written.and_then(|line| line.preparation.clone()),
        measure: written.and_then(|line| scaled_measure(line, weight.as_ref())),
        at: written.and_then(|line| line.at.clone()),
        prose: written.and_then(|line| line.prose.clone()),
        source: written.map_or_else(|| Source::Stage(stage.map_or(block.id, |stage| stage.id)), source),
        weight: weight.map(Grams),
        shown: None,
        of_block_flour,
        of_all_flour,
        step: line.step,
    })
}

/// Gives the count or volume that was written, grown or shrunk with the weight that it stands for: half of the
/// bread takes half of the eggs.
fn scaled_measure(line: &Line, weight: Option<&Ratio>) -> Option<Measure> {
    let measure = line.measure.clone()?;
    let Amount::Weight(written) = &line.amount.value else {
        return Some(measure);
    };
    let factor = weight.and_then(|weight| weight.checked_div(&written.0));
    Some(Measure {
        count: factor.map_or_else(|| measure.count.clone(), |factor| &measure.count * &factor),
        ..measure
    })
}

fn source(line: &Line) -> Source {
    match &line.thing {
        Thing::Stage(id) => Source::Stage(*id),
        Thing::Mixture(_) => Source::Mixture,
        Thing::Ingredient(_) => Source::Ingredient {
            key: portion::key_of(line).unwrap_or_default(),
            is_flour: forms::is_flour(&line.thing),
            known: true,
        },
        Thing::Unlisted { .. } => Source::Ingredient {
            key: portion::key_of(line).unwrap_or_default(),
            is_flour: forms::is_flour(&line.thing),
            known: false,
        },
    }
}

/// Sums the ingredients over all blocks: flours first, then the rest, each by their first line.
pub(super) fn total(
    recipe: &Recipe,
    held: &[Held],
    blocks: &[SheetBlock],
    all_flour: &Ratio,
) -> Vec<TotalLine> {
    let order: BTreeMap<BlockId, usize> = blocks
        .iter()
        .enumerate()
        .map(|(at, block)| (block.id, at))
        .collect();
    let mut lines: Vec<TotalLine> = Vec::new();
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    for item in held {
        let at = *places.entry(item.key.as_str()).or_insert_with(|| {
            lines.push(TotalLine {
                name: item.name.clone(),
                key: item.key.clone(),
                is_flour: item.is_flour,
                weight: Grams::ZERO,
                shown: Ratio::ZERO,
                of_all_flour: None,
                is_whole: false,
                parts: Vec::new(),
            });
            lines.len() - 1
        });
        if let Some(line) = lines.get_mut(at) {
            let weight = Grams(item.weight.clone());
            line.weight = &line.weight + &weight;
            match line.parts.iter_mut().find(|part| part.block == item.block) {
                Some(part) => part.weight = &part.weight + &weight,
                None => line.parts.push(TotalPart {
                    block: item.block,
                    weight,
                }),
            }
        }
    }
    lines.sort_by_key(|line| !line.is_flour);
    for line in &mut lines {
        line.of_all_flour = line.weight.0.checked_div(all_flour);
        line.parts.sort_by_key(|part| order.get(&part.block).copied());
    }
    show_total(recipe, blocks, &mut lines);
    lines
}

/// Rounds the total formula: what stands in the blocks with all of its weight shows the sum of what is weighed out
/// there, and the others make up the dough.
fn show_total(recipe: &Recipe, blocks: &[SheetBlock], lines: &mut [TotalLine]) {
    let inside = || {
        blocks
            .iter()
            .filter(|block| !matches!(block.role, Role::Filling | Role::Topping))
    };
    let dough = blocks.iter().find(|block| block.role == Role::Dough);
    let whole: Ratio = dough
        .iter()
        .flat_map(|block| &block.lines)
        .filter_map(|line| line.shown.as_ref())
        .sum();
    let mut held: Vec<Option<Ratio>> = Vec::new();
    for line in lines.iter_mut() {
        let is_of =
            |other: &&SheetLine| matches!(&other.source, Source::Ingredient { key, .. } if *key == line.key);
        let weighed = || inside().flat_map(|block| &block.lines).filter(is_of);
        let exact: Grams = weighed().filter_map(|line| line.weight.as_ref()).sum();
        let is_whole = exact == line.weight;
        let shown: Ratio = weighed().filter_map(|line| line.shown.as_ref()).sum();
        held.push(is_whole.then_some(shown));
        line.is_whole = is_whole;
    }
    let weights: Vec<Weight<'_>> = lines
        .iter()
        .zip(held)
        .map(|(line, held)| Weight {
            exact: &line.weight.0,
            held,
        })
        .collect();
    let shown = to_scales(&weights, &recipe.place.scales, Some(&whole));
    for (line, shown) in lines.iter_mut().zip(shown) {
        line.shown = shown;
    }
}

/// Sums what lies in and on all pieces together.
pub(super) fn extras(recipe: &Recipe, worked: &Worked) -> Ratio {
    recipe
        .blocks
        .iter()
        .filter(|block| solve::is_extra(block.kind))
        .filter_map(|block| worked.block(block.id))
        .map(|weights| &weights.total)
        .sum()
}
