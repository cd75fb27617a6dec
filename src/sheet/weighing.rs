//! What the scales make of a recipe: pieces that add up to the dough, and lines too small to be weighed closely,
//! with the trade's way out of it.
//!
//! Owns how far rounding may move a line and how a weak solution is made. How weights are rounded so that totals
//! hold is the business of `rounding`.

use super::rounding::is_lost;
use super::types::{SheetBlock, SheetLine, Source};
use crate::model::catalog::Kind;
use crate::model::place::Scales;
use crate::model::recipe::{BlockId, Recipe};
use crate::quantity::{Grams, Ratio, round_to_step};

/// How far rounding may move a line before it is spoken of, as a fraction of it: a fiftieth; ours, no source.
const MOST_MOVED: (i64, i64) = (1, 50);
/// Grams of the thing that a weak solution is made of.
const STOCK: i64 = 10;
/// How many times the thing the whole of a solution is: a tenth of it, or a hundredth.
const STRENGTHS: [i64; 2] = [10, 100];
/// So many steps of the scales at least are taken of a solution, so that the step itself is small beside it.
const STEPS_TAKEN: i64 = 20;
/// A solution is for less than so many grams: above, finer scales are cheaper than the stirring.
const SOLUTION_BELOW: i64 = 5;

/// A line that the scales show too far from what it weighs.
#[derive(Clone, Debug)]
pub struct TooSmall {
    /// The block that it stands in.
    pub block: BlockId,
    /// The index of the line in its block of the sheet.
    pub line: usize,
    /// What it is called.
    pub name: String,
    /// What it weighs.
    pub weight: Grams,
    /// What the scales show.
    pub shown: Ratio,
    /// The step of those scales, in grams.
    pub step: Ratio,
    /// By which share of itself rounding moves it, as a fraction of one.
    pub moved: Ratio,
    /// A weak solution of which enough is weighed; nothing where it does not dissolve or there is no water for it.
    pub solution: Option<Solution>,
}

impl TooSmall {
    /// Says whether the scales are of no use for it: what they show is more than a tenth off.
    #[must_use]
    pub fn is_lost(&self) -> bool {
        is_lost(&self.weight.0, &self.shown)
    }
}

/// A weak solution in water, of which more is weighed than of the thing itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// So much of the thing
    pub stock: Grams,
    /// is stirred into so much water,
    pub water: Grams,
    /// and so much of the whole goes in,
    pub take: Grams,
    /// which brings so much water, to be left out elsewhere, as the scales show it.
    pub less_water: Grams,
}

/// Lists the lines that rounding moves too far, the farthest first.
pub(super) fn too_small(recipe: &Recipe, blocks: &[SheetBlock]) -> Vec<TooSmall> {
    let mut found: Vec<TooSmall> = Vec::new();
    for block in blocks {
        let lines = block.lines.iter().enumerate();
        found.extend(lines.filter_map(|(at, line)| judge(recipe, block, at, line)));
    }
    found.sort_by(|left, right| right.moved.cmp(&left.moved));
    found
}

fn judge(recipe: &Recipe, block: &SheetBlock, at: usize, line: &SheetLine) -> Option<TooSmall> {
    let weight = line.weight.as_ref()?;
    let step = recipe.place.scales.step_for(weight);
    let nearest = round_to_step(&weight.0, step);
    // The total may move a line further than its own rounding does.
    let shown = line
        .shown
        .as_ref()
        .filter(|shown| round_to_step(shown, step) == **shown);
    let shown = shown.unwrap_or(&nearest);
    if *shown == weight.0 {
        return None;
    }
    let moved = moved(&weight.0, shown)?;
    (moved > most_moved()).then(|| TooSmall {
        block: block.id,
        line: at,
        name: line.name.clone(),
        weight: weight.clone(),
        shown: shown.clone(),
        step: step.clone(),
        solution: solution(recipe, block, line, weight),
        moved,
    })
}

fn moved(weight: &Ratio, shown: &Ratio) -> Option<Ratio> {
    (shown - weight).abs().checked_div(weight)
}

fn most_moved() -> Ratio {
    Ratio::fraction(MOST_MOVED.0, MOST_MOVED.1).unwrap_or_default()
}

/// Finds the strongest solution that the scales can weigh closely and whose water the block has.
fn solution(recipe: &Recipe, block: &SheetBlock, line: &SheetLine, weight: &Grams) -> Option<Solution> {
    let dissolves = kind_of(recipe, line).is_some_and(|kind| matches!(kind, Kind::Yeast | Kind::Salt));
    if !dissolves || weight.0 > Ratio::whole(SOLUTION_BELOW) {
        return None;
    }
    let is_water =
        |line: &&SheetLine| matches!(&line.source, Source::Ingredient { key, .. } if key == "water");
    let waters = block.lines.iter().filter(is_water);
    let there: Grams = waters.filter_map(|line| line.weight.as_ref()).sum();
    STRENGTHS.into_iter().find_map(|times| {
        let exact = &weight.0 * &Ratio::whole(times);
        let step = recipe.place.scales.step_for(&Grams(exact.clone()));
        let take = round_to_step(&exact, step);
        let less_water = round_to_step(&(&take * &Ratio::fraction(times - 1, times)?), step);
        let is_close = take >= step * &Ratio::whole(STEPS_TAKEN) && moved(&exact, &take)? <= most_moved();
        (is_close && less_water <= there.0).then(|| Solution {
            stock: Grams::whole(STOCK),
            water: Grams::whole(STOCK * times - STOCK),
            take: Grams(take),
            less_water: Grams(less_water),
        })
    })
}

fn kind_of(recipe: &Recipe, line: &SheetLine) -> Option<Kind> {
    match &line.source {
        Source::Ingredient { key, .. } => recipe.place.catalog.lookup(key).map(|found| found.kind),
        Source::Stage(_) | Source::Mixture => None,
    }
}

/// Shares the dough out to pieces as the scales show it, so that the pieces add up to it: how many weigh what, the
/// heavier ones first. Nothing where the pieces are no whole number.
pub(super) fn pieces(scales: &Scales, count: &Ratio, each: &Grams) -> Vec<(i64, Grams)> {
    let step = scales.step_for(each);
    let whole = count.floor().filter(|floor| Ratio::whole(*floor) == *count);
    let steps = (&each.0 * count)
        .checked_div(step)
        .and_then(|steps| steps.round());
    let (Some(count), Some(steps)) = (whole.filter(|count| *count > 0), steps) else {
        return Vec::new();
    };
    // All remainders are alike, so that it is the same whose piece gets a step more.
    let (least, heavier) = (steps / count, steps % count);
    let weighing = |steps: i64| Grams(step * &Ratio::whole(steps));
    let groups = [(heavier, weighing(least + 1)), (count - heavier, weighing(least))];
    groups.into_iter().filter(|(count, _)| *count > 0).collect()
}
