//! Blocks side by side: their lines, steps and remarks, and whether they or the whole bread tell the amounts.

use super::lines::{self, Known, Measure};
use super::near;
use super::prose;
use super::stages::Matched;
use super::steps::Steps;
use super::types::{BlockPair, Comparison, LinePair, Side};
use crate::model::recipe::{Block, BlockId, BlockKind};
use crate::quantity::{Grams, Ratio};
use crate::sheet::{FlourBasis, Role, Sheet, SheetBlock};

/// Both versions with their blocks brought together.
pub(super) struct Both<'a> {
    pub(super) old: &'a Side<'a>,
    pub(super) new: &'a Side<'a>,
    pub(super) stages: &'a Matched,
}

impl Both<'_> {
    /// Compares what goes in and what is done.
    ///
    /// Amounts are compared by their shares, and by their weights where that leaves less to tell: a baker who
    /// puts in more flour has not changed the water.
    pub(super) fn compare(&self, comparison: &mut Comparison) {
        comparison.is_told_by_total = self.is_told_by_total();
        let by_share = self.compared(|flour| Measure::Share(flour.clone()), comparison.is_told_by_total);
        let is_computed = self.old.sheet.is_some() && self.new.sheet.is_some();
        let best = if is_computed && by_share.count > 0 {
            let by_weight = self.compared(|_| Measure::Weight, comparison.is_told_by_total);
            if by_weight.count < by_share.count {
                by_weight
            } else {
                by_share
            }
        } else {
            by_share
        };
        comparison.total = best.total;
        comparison.blocks = best.blocks;
    }

    /// The whole bread tells the amounts where the versions divide it otherwise, and where it is written so.
    fn is_told_by_total(&self) -> bool {
        let (Some(old), Some(new)) = (self.old.sheet, self.new.sheet) else {
            return false;
        };
        let rows = self.stages.rows(self.old.recipe, self.new.recipe);
        let in_dough = |sheet: &Sheet, id: BlockId| {
            let block = sheet.blocks.iter().find(|block| block.id == id);
            block.is_some_and(|block| matches!(block.role, Role::Stage | Role::Part))
        };
        let is_alone = |row: &(Option<BlockId>, Option<BlockId>)| match row {
            (Some(id), None) => in_dough(old, *id),
            (None, Some(id)) => in_dough(new, *id),
            _ => false,
        };
        is_formula(old) || is_formula(new) || rows.iter().any(is_alone)
    }

    fn compared(&self, measure: impl Fn(&Grams) -> Measure, by_total: bool) -> Compared {
        let rows = self.stages.rows(self.old.recipe, self.new.recipe);
        let blocks: Vec<BlockPair> = rows
            .into_iter()
            .map(|(old, new)| self.block(old, new, &measure, by_total))
            .collect();
        let total = match (self.old.sheet, self.new.sheet) {
            (Some(old), Some(new)) => {
                let flour = (&old.figures.flour).min(&new.figures.flour);
                // The whole bread has an order of its own where it is written as a formula, else that of its blocks.
                let has_places = is_formula(old) && is_formula(new);
                let (before, now) = (lines::of_total(old), lines::of_total(new));
                lines::pairs(&before, &now, &measure(flour), has_places)
            }
            _ => Vec::new(),
        };
        let count = |lines: &[LinePair]| lines.iter().filter(|line| line.is_other_amount()).count();
        let told = blocks
            .iter()
            .filter(|block| block.amounts_are_told && !block.is_other_block());
        let in_blocks: usize = told.map(|block| count(&block.lines)).sum();
        Compared {
            count: in_blocks + if by_total { count(&total) } else { 0 },
            total,
            blocks,
        }
    }

    fn block(
        &self,
        old: Option<BlockId>,
        new: Option<BlockId>,
        measure: &impl Fn(&Grams) -> Measure,
        by_total: bool,
    ) -> BlockPair {
        let before = old.and_then(|id| View::of(self.old, id));
        let now = new.and_then(|id| View::of(self.new, id));
        let steps = Steps::of(before.map(|view| view.block), now.map(|view| view.block));
        let is_computed = [before, now]
            .into_iter()
            .flatten()
            .all(|view| view.sheet.is_some());
        let old_lines = before.map_or_else(Vec::new, |view| {
            let stage = |id| self.stages.name_for_old(id);
            view.lines(is_computed, &stage, &|at| steps.row_of_old(at))
        });
        let new_lines = now.map_or_else(Vec::new, |view| {
            let stage = |id| self.stages.name_for_new(id);
            view.lines(is_computed, &stage, &|at| steps.row_of_new(at))
        });
        let base = [before, now]
            .into_iter()
            .flatten()
            .filter_map(View::base)
            .min()
            .cloned();
        let is_main = old == Some(self.old.recipe.main) && new == Some(self.new.recipe.main);
        let remarks =
            |view: Option<View<'_>>| view.map_or_else(String::new, |view| lines::remarks(view.block));
        let both = before.zip(now);
        let is_written_otherwise =
            is_main && both.is_some_and(|(before, now)| before.block.kind != now.block.kind);
        let title = |view: Option<View<'_>>| {
            // The final dough and a whole formula are the same thing, whichever way it is written.
            let own = view.map(|view| view.block.title.clone());
            own.map(|own| {
                if is_written_otherwise {
                    BlockKind::Dough.word().to_owned()
                } else {
                    own
                }
            })
        };
        BlockPair {
            old: title(before),
            new: title(now),
            amounts_are_told: !(is_main && by_total),
            lines: lines::pairs(&old_lines, &new_lines, &measure(&base.unwrap_or_default()), true),
            remarks: both.and_then(|_| prose::difference(&remarks(before), &remarks(now))),
            steps: steps.pairs,
            kept: both.and_then(|(before, now)| kept(before.sheet?, now.sheet?)),
            on_a_piece: both.and_then(|(before, now)| {
                let (before, now) = (before.on_a_piece()?, now.on_a_piece()?);
                (!near::weights(&before, &now)).then_some((before, now))
            }),
        }
    }
}

fn is_formula(sheet: &Sheet) -> bool {
    sheet.figures.basis == FlourBasis::AllFlour
}

/// Pairs by one measure, and how many amounts they tell of.
struct Compared {
    count: usize,
    total: Vec<LinePair>,
    blocks: Vec<BlockPair>,
}

/// A block of one version.
#[derive(Clone, Copy)]
struct View<'a> {
    block: &'a Block,
    sheet: Option<&'a SheetBlock>,
    pieces: Option<&'a Ratio>,
}

impl<'a> View<'a> {
    fn of(side: &Side<'a>, id: BlockId) -> Option<Self> {
        let block: &'a Block = side.recipe.blocks.get(id.0)?;
        let sheet: Option<&'a Sheet> = side.sheet;
        Some(Self {
            block,
            sheet: sheet.and_then(|sheet| sheet.blocks.iter().find(|block| block.id == id)),
            pieces: sheet.map(|sheet| &sheet.pieces.count),
        })
    }

    fn lines(
        self,
        is_computed: bool,
        stage: &dyn Fn(BlockId) -> String,
        steps: lines::StepRows<'_>,
    ) -> Vec<Known> {
        match self.sheet.filter(|_| is_computed) {
            Some(sheet) => lines::of_block(sheet, stage, steps),
            None => lines::as_written(self.block, stage),
        }
    }

    /// Gives what the shares of its lines count against.
    fn base(self) -> Option<&'a Grams> {
        let sheet = self.sheet?;
        Some(sheet.flour_base.as_ref().unwrap_or(&sheet.total))
    }

    /// Gives what goes of a filling or topping into or onto a piece.
    fn on_a_piece(self) -> Option<Grams> {
        let sheet = self
            .sheet
            .filter(|sheet| matches!(sheet.role, Role::Filling | Role::Topping))?;
        let share = Ratio::ONE.checked_div(self.pieces?)?;
        Some(sheet.total.times(&share))
    }
}

/// Gives what is left over of a stage in both versions, where that is another part of it.
fn kept(old: &SheetBlock, new: &SheetBlock) -> Option<(Grams, Grams)> {
    let part = |block: &SheetBlock| block.kept.share_of(&block.total).unwrap_or_default();
    let is_same = near::shares(&part(old), &part(new), (&old.total).min(&new.total));
    (!is_same).then(|| (old.kept.clone(), new.kept.clone()))
}
