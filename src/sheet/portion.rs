//! A formula taken apart: what its stages take is subtracted from the whole bread, and the rest is the
//! final dough.

use std::collections::BTreeMap;

use super::faults;
use super::forms;
use super::worked::{What, Worked, WorkedLine, entry_line, step_after};
use crate::diag::Report;
use crate::model::catalog::fold_name;
use crate::model::recipe::{Block, BlockId, Line, Recipe, Thing};
use crate::quantity::Ratio;
use crate::source::Span;

/// An ingredient in a stage: its weight, the name that the baker wrote and the place of its line.
#[derive(Clone, Debug)]
struct Held {
    weight: Ratio,
    name: String,
    span: Span,
}

type Holding = BTreeMap<String, Held>;

/// Gives the name that tells an ingredient from all others; nothing for stages and mixtures.
pub(super) fn key_of(line: &Line) -> Option<String> {
    match &line.thing {
        Thing::Ingredient(ingredient) => Some(ingredient.name.clone()),
        Thing::Unlisted { .. } => Some(fold_name(&line.name.value)),
        Thing::Stage(_) | Thing::Mixture(_) => None,
    }
}

/// Takes the stages out of the formula and pours them into what is left.
///
/// Gives the stages of which there is less than is kept and poured, which have been told of.
pub(super) fn take_apart(recipe: &Recipe, worked: &mut Worked, report: &mut Report) -> Vec<BlockId> {
    let mut short = Vec::new();
    let Some(formula) = recipe.blocks.get(recipe.main.0) else {
        return short;
    };
    let holdings = holdings(recipe, worked);
    let joined: Vec<BlockId> = recipe
        .blocks
        .iter()
        .filter(|block| joins(recipe, worked, block))
        .map(|block| block.id)
        .collect();
    for id in joined {
        let (Some(block), Some(weights)) = (recipe.blocks.get(id.0), worked.block(id)) else {
            continue;
        };
        let kept = match &block.keep {
            Some(keep) if keep.value.0 < weights.seed => {
                report.push(faults::kept_below_seed(block, keep.span, &weights.seed));
                continue;
            }
            Some(keep) => keep.value.0.clone(),
            None => weights.seed.clone(),
        };
        let elsewhere = worked.poured(recipe, id);
        let lasting = &weights.total - &weights.seed;
        let poured = &(&weights.total - &kept) - &elsewhere;
        if !poured.is_positive() {
            if poured < -&(&weights.total * &faults::rounding()) {
                report.push(faults::kept_too_much(block, &kept, &elsewhere, &weights.total));
                short.push(id);
            } else if elsewhere.is_zero() && weights.total.is_positive() {
                report.push(faults::all_kept(block, &weights.total));
            }
            continue;
        }
        let Some(part) = poured.checked_div(&lasting) else {
            continue;
        };
        if let Some(holding) = holdings.get(id.0) {
            take(formula, block, holding, &part, worked, report);
        }
        join(formula, id, &poured, worked);
    }
    sum_the_rest(formula, worked);
    short
}

/// Sums what is left of the formula: the final dough.
fn sum_the_rest(formula: &Block, worked: &mut Worked) {
    if let Some(main) = worked.blocks.get_mut(formula.id.0) {
        main.lines
            .retain(|line| line.weight.as_ref().is_none_or(|weight| !weight.is_zero()));
        main.total = main.lines.iter().filter_map(|line| line.weight.as_ref()).sum();
        main.base = Some(
            main.lines
                .iter()
                .filter(|line| match line.what {
                    What::Entry(at) => {
                        entry_line(formula, at).is_some_and(|line| forms::is_flour(&line.thing))
                    }
                    What::Joined(_) => false,
                })
                .filter_map(|line| line.weight.as_ref())
                .sum(),
        )
        .filter(Ratio::is_positive);
    }
}

/// Says whether a stage joins the final dough: its header gives a size, the formula says where, or nothing
/// else pours it.
fn joins(recipe: &Recipe, worked: &Worked, block: &Block) -> bool {
    let is_stage = block.id != recipe.main && !super::solve::is_extra(block.kind);
    let marked = recipe.blocks.get(recipe.main.0).is_some_and(|formula| {
        forms::lines(formula).any(|(_, line)| forms::stage_of(line) == Some(block.id))
    });
    let poured_elsewhere = || worked.pours(recipe).any(|pour| pour.stage == block.id);
    is_stage && (marked || block.size.is_some() || !poured_elsewhere())
}

/// Works out what every block holds without its seed, stages poured in included.
fn holdings(recipe: &Recipe, worked: &Worked) -> Vec<Holding> {
    let mut all: Vec<Holding> = vec![Holding::new(); recipe.blocks.len()];
    for id in &worked.order {
        let (Some(block), Some(weights)) = (recipe.blocks.get(id.0), worked.block(*id)) else {
            continue;
        };
        let mut own = Holding::new();
        for line in &weights.lines {
            let (What::Entry(at), Some(weight)) = (line.what, &line.weight) else {
                continue;
            };
            let Some(line) = entry_line(block, at) else {
                continue;
            };
            if let Some(stage) = forms::stage_of(line) {
                let whole = worked.block(stage).map(|stage| &stage.total);
                let part = whole
                    .and_then(|whole| weight.checked_div(whole))
                    .unwrap_or_default();
                for (key, held) in all.get(stage.0).into_iter().flatten() {
                    put(&mut own, key, &(&held.weight * &part), held);
                }
            } else if let Some(key) = key_of(line) {
                let held = Held {
                    weight: Ratio::ZERO,
                    name: line.name.value.clone(),
                    span: line.span,
                };
                put(&mut own, &key, weight, &held);
            }
        }
        if let Some(place) = all.get_mut(id.0) {
            *place = own;
        }
    }
    all
}

fn put(holding: &mut Holding, key: &str, weight: &Ratio, like: &Held) {
    let held = holding.entry(key.to_owned()).or_insert_with(|| Held {
        weight: Ratio::ZERO,
        ..like.clone()
    });
    held.weight = &held.weight + weight;
}

/// Takes what a stage holds from the formula's lines, ingredient by ingredient, first line first.
fn take(
    formula: &Block,
    stage: &Block,
    holding: &Holding,
    part: &Ratio,
    worked: &mut Worked,
    report: &mut Report,
) {
    let Some(main) = worked.blocks.get_mut(formula.id.0) else {
        return;
    };
    for (key, held) in holding {
        let mut wanted = &held.weight * part;
        let mut last = None;
        for line in &mut main.lines {
            let What::Entry(at) = line.what else { continue };
            let Some(entry) = entry_line(formula, at).filter(|entry| key_of(entry).as_ref() == Some(key))
            else {
                continue;
            };
            last = Some(entry.span);
            if let Some(weight) = &mut line.weight {
                let taken = wanted.clone().min(weight.clone());
                *weight = &*weight - &taken;
                wanted = &wanted - &taken;
            }
        }
        if wanted.is_positive() {
            report.push(faults::takes_too_much(
                stage, held.span, &held.name, last, &wanted,
            ));
        }
    }
}

/// Pours a stage into the final dough, where `all` of it stands in the formula or before the first step.
fn join(formula: &Block, stage: BlockId, weight: &Ratio, worked: &mut Worked) {
    let marker = forms::lines(formula)
        .find(|(_, line)| forms::stage_of(line) == Some(stage))
        .map(|(entry, _)| entry);
    let first_step = formula
        .entries
        .iter()
        .position(|entry| matches!(entry, crate::model::recipe::Entry::Step(_)));
    let place = marker.or(first_step).unwrap_or(formula.entries.len());
    let line = WorkedLine {
        what: What::Joined(stage),
        weight: Some(weight.clone()),
        step: step_after(formula, place),
    };
    if let Some(main) = worked.blocks.get_mut(formula.id.0) {
        let before = |line: &WorkedLine| match line.what {
            What::Entry(at) => at < place,
            What::Joined(_) => true,
        };
        let at = main.lines.iter().take_while(|line| before(line)).count();
        main.lines.insert(at, line);
    }
}
