//! Where each lane begins, by what waits for it. Owns the arithmetic; knows nothing of what a step does.

use super::oven;
use crate::model::recipe::{BlockId, Recipe};
use crate::quantity::{Elapsed, ElapsedRange};
use crate::sheet::walk::steps_of;
use crate::sheet::{SheetBlock, Source};

/// A block that another one waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Need {
    /// The block that waits.
    consumer: BlockId,
    /// The step before which it must be there; nothing for the end of the block.
    before: Option<usize>,
    /// The block that has to be ready.
    producer: BlockId,
}

/// Finds what waits for what: stages at the lines that pour them, fillings and toppings at the steps that
/// put them on, and a block that nothing uses at the very end.
pub(super) fn needs(recipe: &Recipe, blocks: &[SheetBlock]) -> Vec<Need> {
    let poured = blocks.iter().flat_map(|block| {
        block.lines.iter().filter_map(|line| match line.source {
            Source::Stage(producer) => Some(Need {
                consumer: block.id,
                before: line.step,
                producer,
            }),
            Source::Ingredient { .. } | Source::Mixture => None,
        })
    });
    let put_on = recipe.blocks.iter().flat_map(|block| {
        steps_of(block).enumerate().flat_map(move |(index, step)| {
            step.uses.iter().map(move |producer| Need {
                consumer: block.id,
                before: Some(index),
                producer: *producer,
            })
        })
    });
    let mut needs: Vec<Need> = poured.chain(put_on).collect();
    let unused: Vec<Need> = recipe
        .blocks
        .iter()
        .filter(|block| block.id != recipe.main && needs.iter().all(|need| need.producer != block.id))
        .map(|block| Need {
            consumer: recipe.main,
            before: None,
            producer: block.id,
        })
        .collect();
    needs.extend(unused);
    needs
}

/// The lanes in time for one choice of lengths.
pub(super) struct Plan {
    /// For each block when it begins, in seconds from the start of the main lane.
    starts: Vec<i64>,
    /// For each block the ends of its steps, in seconds from its own start.
    ends: Vec<Vec<i64>>,
    /// The earliest start of all.
    origin: i64,
    /// The end of the main lane.
    finish: i64,
}

impl Plan {
    /// Places every lane as late as what waits for it allows, for lengths chosen from the ranges.
    pub(super) fn make(recipe: &Recipe, needs: &[Need], length: fn(ElapsedRange) -> Elapsed) -> Self {
        let ends: Vec<Vec<i64>> = recipe
            .blocks
            .iter()
            .map(|block| {
                steps_of(block)
                    .scan(0_i64, |end, step| {
                        if !oven::is_preheat(step) {
                            *end += i64::from(length(step.takes).seconds);
                        }
                        Some(*end)
                    })
                    .collect()
            })
            .collect();
        let mut plan = Self {
            starts: vec![0; ends.len()],
            finish: 0,
            origin: 0,
            ends,
        };
        plan.finish = plan.length(recipe.main);
        plan.settle(recipe.main, needs);
        plan.origin = plan.starts.iter().copied().min().unwrap_or(0).min(0);
        plan
    }

    /// Gives the time from the earliest start to the end of the main lane, the longest path.
    pub(super) fn whole(&self) -> Elapsed {
        elapsed(self.finish - self.origin)
    }

    /// Gives start and end of a step, from the earliest start of all.
    pub(super) fn times(&self, block: BlockId, step: usize) -> (Elapsed, Elapsed) {
        let start = self.starts.get(block.0).copied().unwrap_or(0) - self.origin;
        (
            elapsed(start + self.before(block, Some(step))),
            elapsed(start + self.end_of(block, step)),
        )
    }

    /// Moves each lane to the earliest of its uses. A pass settles one more link of every chain, so that as
    /// many passes as there are blocks settle all of them; a round has been reported and just stops here.
    fn settle(&mut self, main: BlockId, needs: &[Need]) {
        let mut latest: Vec<Option<i64>> = vec![None; self.ends.len()];
        if let Some(start) = latest.get_mut(main.0) {
            *start = Some(0);
        }
        for _ in 0..latest.len() {
            let mut moved = false;
            for need in needs.iter().filter(|need| need.producer != main) {
                let Some(Some(consumer)) = latest.get(need.consumer.0).copied() else {
                    continue;
                };
                let allowed = consumer + self.before(need.consumer, need.before) - self.length(need.producer);
                if let Some(start) = latest.get_mut(need.producer.0)
                    && start.is_none_or(|start| allowed < start)
                {
                    *start = Some(allowed);
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
        self.starts = latest.into_iter().map(|start| start.unwrap_or(0)).collect();
    }

    fn length(&self, block: BlockId) -> i64 {
        self.before(block, None)
    }

    /// Gives the time from a block's start to the start of a step, or to the end of the block.
    fn before(&self, block: BlockId, step: Option<usize>) -> i64 {
        let ends = self.ends.get(block.0).map_or(&[][..], Vec::as_slice);
        let ahead = step.map_or(ends, |step| ends.get(..step).unwrap_or(ends));
        ahead.last().copied().unwrap_or(0)
    }

    fn end_of(&self, block: BlockId, step: usize) -> i64 {
        let ends = self.ends.get(block.0);
        ends.and_then(|ends| ends.get(step)).copied().unwrap_or(0)
    }
}

/// Turns seconds into a length; what lies past the range stays at its end.
fn elapsed(seconds: i64) -> Elapsed {
    Elapsed {
        seconds: u32::try_from(seconds.max(0)).unwrap_or(u32::MAX),
    }
}
