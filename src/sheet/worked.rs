//! Forms with their unknowns put in: every line of every block as a weight.

use super::faults;
use super::forms::{self, Basis};
use super::solve::Sizes;
use crate::diag::{Diagnostic, Report};
use crate::model::recipe::{Amount, Block, BlockId, BlockKind, Entry, Line, Recipe, Thing};
use crate::quantity::Ratio;
use crate::source::Span;

/// All blocks with their weights in grams, indexed by block.
#[derive(Clone, Debug)]
pub(super) struct Worked {
    pub(super) blocks: Vec<WorkedBlock>,
    /// The blocks, those that are poured first.
    pub(super) order: Vec<BlockId>,
    /// Whether seeds are taken out of what is poured, as under a formula.
    pub(super) takes_seed_out: bool,
}

/// A block with its weights.
#[derive(Clone, Debug)]
pub(super) struct WorkedBlock {
    pub(super) lines: Vec<WorkedLine>,
    /// What 100 % stands for; nothing in a block without flour.
    pub(super) base: Option<Ratio>,
    pub(super) total: Ratio,
    /// Starter and old dough from the bakehouse in it, by whatever way.
    pub(super) seed: Ratio,
    /// Whether it is not made because nothing pours it.
    pub(super) idle: bool,
}

/// A line with its weight.
#[derive(Clone, Debug)]
pub(super) struct WorkedLine {
    pub(super) what: What,
    /// Nothing for an unweighed amount.
    pub(super) weight: Option<Ratio>,
    /// The index of the step that it goes in at.
    pub(super) step: Option<usize>,
}

/// Where a line comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// An entry of the block.
    Entry(usize),
    /// A stage that a formula pours by itself.
    Joined(BlockId),
}

impl Worked {
    pub(super) fn block(&self, id: BlockId) -> Option<&WorkedBlock> {
        self.blocks.get(id.0)
    }

    /// Sums what all blocks pour of a stage.
    pub(super) fn poured(&self, recipe: &Recipe, stage: BlockId) -> Ratio {
        self.pours(recipe)
            .filter(|pour| pour.stage == stage)
            .map(|pour| pour.weight.clone())
            .sum()
    }

    /// Gives every line that pours a stage.
    pub(super) fn pours<'all>(&'all self, recipe: &'all Recipe) -> impl Iterator<Item = Pour<'all>> {
        recipe
            .blocks
            .iter()
            .zip(&self.blocks)
            .flat_map(|(block, worked)| {
                worked.lines.iter().filter_map(|line| {
                    let (stage, span) = match line.what {
                        What::Joined(stage) => (stage, None),
                        What::Entry(at) => {
                            let line = entry_line(block, at)?;
                            (forms::stage_of(line)?, Some(line.span))
                        }
                    };
                    Some(Pour {
                        into: block.id,
                        stage,
                        joined: span.is_none(),
                        span: span.unwrap_or(block.span),
                        weight: line.weight.as_ref()?,
                    })
                })
            })
    }
}

/// A stage poured into a block.
#[derive(Clone, Debug)]
pub(super) struct Pour<'all> {
    pub(super) into: BlockId,
    pub(super) stage: BlockId,
    /// Whether a formula pours it by itself, without its seed.
    pub(super) joined: bool,
    pub(super) span: Span,
    pub(super) weight: &'all Ratio,
}

/// Gives the line of a block at an entry.
pub(super) fn entry_line(block: &Block, at: usize) -> Option<&Line> {
    match block.entries.get(at)? {
        Entry::Line(line) => Some(line),
        Entry::Step(_) | Entry::Note(_) => None,
    }
}

/// Gives the index of the step that follows an entry; nothing where none does.
pub(super) fn step_after(block: &Block, entry: usize) -> Option<usize> {
    let is_step = |entry: &&Entry| matches!(entry, Entry::Step(_));
    let before = block.entries.iter().take(entry).filter(is_step).count();
    let all = block.entries.iter().filter(is_step).count();
    (before < all).then_some(before)
}

/// Puts the sizes into the forms and looks whether every stage is large enough.
pub(super) fn work_out(recipe: &Recipe, sizes: &Sizes, report: &mut Report) -> Option<Worked> {
    let blocks = recipe
        .blocks
        .iter()
        .map(|block| work_block(block, sizes))
        .collect();
    let takes_seed_out = super::content::has_formula(recipe);
    let mut worked = Worked {
        blocks,
        order: sizes.order.clone(),
        takes_seed_out,
    };
    let mut sound = true;
    for (block, weights) in recipe.blocks.iter().zip(&worked.blocks) {
        if let Some(fault) = below_nothing(recipe, &worked, block, weights) {
            report.push(fault);
            sound = false;
        }
    }
    if !sound {
        return None;
    }
    sum_seeds(recipe, &mut worked);
    Some(worked)
}

/// Says which line of a block comes to less than nothing, if one does: what is left of a stage that keeps more than
/// there is, else what the fixed weights leave.
fn below_nothing(
    recipe: &Recipe,
    worked: &Worked,
    block: &Block,
    weights: &WorkedBlock,
) -> Option<Diagnostic> {
    let is_below = |line: &&WorkedLine| line.weight.as_ref().is_some_and(Ratio::is_negative);
    let line = weights.lines.iter().find(is_below)?;
    let written = match line.what {
        What::Entry(at) => entry_line(block, at),
        What::Joined(_) => None,
    };
    let stage = written
        .filter(|line| line.amount.value == Amount::All)
        .and_then(|line| recipe.blocks.get(forms::stage_of(line)?.0));
    if let Some((stage, keep)) = stage.and_then(|stage| Some((stage, stage.keep.as_ref()?))) {
        let rest = line.weight.clone().unwrap_or_default();
        let elsewhere = &worked.poured(recipe, stage.id) - &rest;
        let total = worked.block(stage.id).map(|stage| stage.total.clone());
        return Some(faults::kept_too_much(stage, &keep.value.0, &elsewhere, &total?));
    }
    let mut lines = forms::lines(block).map(|(_, line)| line);
    let fixed = lines.find(|line| matches!(line.amount.value, Amount::Weight(_)));
    Some(faults::below_nothing(block, fixed.map(|line| line.span)))
}

fn work_block(block: &Block, sizes: &Sizes) -> WorkedBlock {
    let idle = sizes.idle.contains(&block.id);
    let forms = sizes.forms.get(block.id.0);
    let weight_of = |entry: usize| {
        let form = forms?.lines.iter().find(|at| at.entry == entry)?;
        sizes.equations.value(&form.form)
    };
    let lines: Vec<WorkedLine> = forms::lines(block)
        .filter(|(_, line)| !forms::is_marker(block, line))
        .map(|(entry, _)| WorkedLine {
            what: What::Entry(entry),
            weight: weight_of(entry),
            step: step_after(block, entry),
        })
        .collect();
    let base = forms
        .filter(|forms| forms.basis != Basis::Proportion)
        .and_then(|_| {
            sizes
                .equations
                .value(&super::linear::Form::of(forms::unknown(block.id), &Ratio::ONE))
        });
    WorkedBlock {
        total: lines.iter().filter_map(|line| line.weight.as_ref()).sum(),
        lines,
        base,
        seed: Ratio::ZERO,
        idle,
    }
}

/// Sums the starter in every block, that of stages poured in included.
fn sum_seeds(recipe: &Recipe, worked: &mut Worked) {
    for id in worked.order.clone() {
        let (Some(block), Some(weights)) = (recipe.blocks.get(id.0), worked.blocks.get(id.0)) else {
            continue;
        };
        let mut seed = Ratio::ZERO;
        for line in &weights.lines {
            let (What::Entry(at), Some(weight)) = (line.what, &line.weight) else {
                continue;
            };
            match entry_line(block, at).map(|line| &line.thing) {
                Some(Thing::Mixture(_)) => seed = &seed + weight,
                Some(Thing::Stage(stage)) => {
                    let part = worked
                        .block(*stage)
                        .and_then(|stage| stage.seed.checked_div(&stage.total))
                        .unwrap_or_default();
                    seed = &seed + &(weight * &part);
                }
                Some(Thing::Ingredient(_) | Thing::Unlisted { .. }) | None => {}
            }
        }
        if let Some(weights) = worked.blocks.get_mut(id.0) {
            weights.seed = seed;
        }
    }
}

/// Looks whether every stage is large enough for what is poured of it, and says what is left; of those that are known
/// to be short nothing more is said.
pub(super) fn check_stages(recipe: &Recipe, worked: &Worked, short: &[BlockId], report: &mut Report) {
    for (block, weights) in recipe.blocks.iter().zip(&worked.blocks) {
        let is_poured = worked.pours(recipe).any(|pour| pour.stage == block.id);
        if block.id == recipe.main || weights.idle || !is_poured || short.contains(&block.id) {
            continue;
        }
        let poured = worked.poured(recipe, block.id);
        let wanted = &poured
            + &block
                .keep
                .as_ref()
                .map_or(Ratio::ZERO, |keep| keep.value.0.clone());
        let rest = &weights.total - &wanted;
        let leeway = &weights.total * &faults::rounding();
        if rest < -&leeway {
            let place = worked
                .pours(recipe)
                .filter(|pour| pour.stage == block.id)
                .max_by_key(|pour| pour.weight.clone())
                .map_or(block.span, |pour| pour.span);
            report.push(faults::stage_short(block, place, &rest.abs()));
        } else if poured.is_zero() && block.keep.is_some() && weights.total.is_positive() {
            report.push(faults::all_kept(block, &weights.total));
        } else if rest > leeway && !worked.takes_seed_out && block.kind != BlockKind::Dough {
            report.push(faults::left_over(block, &rest));
        }
    }
}
