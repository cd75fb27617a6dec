//! Steps in time: when each lane begins, how long the whole bake takes, when the oven is lit.
//!
//! A block's steps run one after another and its lane is never torn apart; a lane ends as late as the step
//! that waits for it allows. Owns no clock: everything counts from the start of the bake, and a view turns
//! that into times of day.

mod checks;
mod lanes;
mod oven;

use crate::diag::Report;
use crate::model::recipe::{Block, Recipe, Step};
use crate::quantity::{Elapsed, ElapsedRange};
use crate::sheet::walk::steps_of;
use crate::sheet::{Lane, PlacedStep, Schedule, SheetBlock};

use lanes::Plan;
pub(super) use oven::is_preheat;

/// Places the steps of all blocks in time, and reports steps that cannot be meant as they stand.
pub(crate) fn place(recipe: &Recipe, blocks: &[SheetBlock]) -> (Schedule, Report) {
    let needs = lanes::needs(recipe, blocks);
    let plan_by = |length: fn(ElapsedRange) -> Elapsed| Plan::make(recipe, &needs, length);
    let middle = plan_by(ElapsedRange::middle);
    let mut lanes = placed_lanes(recipe, blocks, &middle);
    let preheats = oven::preheats(recipe, &mut lanes);
    let schedule = Schedule {
        whole: ElapsedRange {
            least: plan_by(|range| range.least).whole(),
            most: plan_by(|range| range.most).whole(),
        },
        middle: middle.whole(),
        hands_on: hands_on(recipe),
        lanes,
        preheats,
    };
    let report = checks::check(recipe, blocks);
    (schedule, report)
}

/// Adds up the steps that need somebody. Folds are moments, and lanes that run beside each other need
/// two hands each, so that nothing is saved by running them together.
fn hands_on(recipe: &Recipe) -> ElapsedRange {
    recipe
        .blocks
        .iter()
        .flat_map(steps_of)
        .filter(|step| step.hands_on && !oven::is_preheat(step))
        .fold(ElapsedRange::ZERO, |sum, step| ElapsedRange {
            least: sum.least.plus(step.takes.least),
            most: sum.most.plus(step.takes.most),
        })
}

fn placed_lanes(recipe: &Recipe, blocks: &[SheetBlock], plan: &Plan) -> Vec<Lane> {
    let mut lanes: Vec<Lane> = recipe
        .blocks
        .iter()
        .filter(|block| steps_of(block).next().is_some())
        .map(|block| placed_lane(block, blocks.iter().find(|sheet| sheet.id == block.id), plan))
        .collect();
    lanes.sort_by_key(|lane| (lane_start(lane), lane.block == recipe.main, lane.block));
    lanes
}

fn lane_start(lane: &Lane) -> Elapsed {
    lane.steps.first().map_or(Elapsed::ZERO, |placed| placed.start)
}

fn placed_lane(block: &Block, sheet: Option<&SheetBlock>, plan: &Plan) -> Lane {
    let steps = steps_of(block)
        .enumerate()
        .map(|(index, step)| {
            let (start, end) = plan.times(block.id, index);
            PlacedStep {
                step: step.clone(),
                index,
                purpose: step.verb.map(|verb| verb.purpose),
                start,
                end,
                lines: sheet.map(|sheet| lines_at(sheet, index)).unwrap_or_default(),
                folds: folds(step, start, end),
            }
        })
        .collect();
    Lane {
        block: block.id,
        title: sheet.map_or(&block.title, |sheet| &sheet.title).clone(),
        steps,
    }
}

fn lines_at(sheet: &SheetBlock, step: usize) -> Vec<usize> {
    sheet
        .lines
        .iter()
        .enumerate()
        .filter(|(_, line)| line.step == Some(step))
        .map(|(at, _)| at)
        .collect()
}

/// Gives the moments of the folds that fall into their step; those that do not are reported with the step.
fn folds(step: &Step, start: Elapsed, end: Elapsed) -> Vec<Elapsed> {
    let Some(plan) = step.folds.filter(|plan| plan.every > Elapsed::ZERO) else {
        return Vec::new();
    };
    (1..=plan.count)
        .map(|number| Elapsed {
            seconds: start
                .seconds
                .saturating_add(plan.every.seconds.saturating_mul(number)),
        })
        .take_while(|moment| *moment <= end)
        .collect()
}
