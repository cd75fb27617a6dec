//! Lines that the scales cannot show closely enough.

use super::{Judged, percent};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::Kind;
use crate::quantity::{Grams, Ratio, round_to_step};
use crate::sheet::SheetLine;

/// How far rounding may move a line before it is spoken of, in hundredths of it.
const MOST: i64 = 2;
/// So many other lines are pointed at beside the worst one.
const POINTED_AT: usize = 5;

/// Warns once of all lines that rounding moves too far, at the one that it moves farthest.
pub(super) fn check(baked: &Judged, report: &mut Report) {
    let lines = baked.blocks.iter().flat_map(|block| &block.lines);
    let mut coarse: Vec<Coarse> = lines.filter_map(|line| Coarse::of(baked, line)).collect();
    coarse.sort_by(|left, right| right.moved.cmp(&left.moved));
    let Some((worst, rest)) = coarse.split_first() else {
        return;
    };
    let mut fault = Diagnostic::new(
        Code::TooSmallForScale,
        worst.line.span,
        format!(
            "scales that show {} g cannot weigh {} of {} closely",
            worst.step.to_trimmed(3),
            grams(&worst.weight.0),
            worst.line.name
        ),
    )
    .label(worst.shown())
    .help(worst.way_out());
    for other in rest.iter().take(POINTED_AT) {
        fault = fault.other(other.line.span, other.shown());
    }
    report.push(fault);
}

/// A line that rounding moves too far.
struct Coarse<'a> {
    line: &'a SheetLine,
    weight: &'a Grams,
    rounded: &'a Ratio,
    step: &'a Ratio,
    /// By which share of itself the line is moved.
    moved: Ratio,
    is_yeast: bool,
    /// Whether nobody has said what the scales show.
    is_assumed: bool,
}

impl<'a> Coarse<'a> {
    fn of(baked: &Judged<'a>, line: &'a SheetLine) -> Option<Self> {
        let (weight, rounded) = (line.weight.as_ref()?, line.shown.as_ref()?);
        let moved = (rounded - &weight.0).abs().checked_div(&weight.0)?;
        (moved > percent(MOST)).then(|| Self {
            line,
            weight,
            rounded,
            step: baked.recipe.place.scales.step_for(weight),
            moved,
            is_assumed: baked.recipe.place.is_default("scales"),
            is_yeast: baked
                .ingredient(line)
                .is_some_and(|ingredient| ingredient.kind == Kind::Yeast),
        })
    }

    fn shown(&self) -> String {
        format!("{} shown as {}", grams(&self.weight.0), grams(self.rounded))
    }

    /// Says what the trade does: a finer scale, or for yeast a weak solution of which more is weighed.
    fn way_out(&self) -> String {
        let finer = if self.is_assumed {
            "these scales are assumed: say in the bakehouse what yours show (`scales: 1 g, 0.1 g under 50 g`)"
        } else {
            "weigh it on a finer scale and say so in the bakehouse (`scales: 1 g, 0.1 g under 50 g`)"
        };
        let Some((water, part)) = self.solution() else {
            return format!("{finer}, or make a larger batch");
        };
        format!(
            "{finer}, or stir 10 g of it into {water} g of water and take {} of that, with as much less water in the dough",
            grams(&part)
        )
    }

    /// Gives the water for ten grams of yeast and how much of the whole to take: a hundredth of yeast makes
    /// the weight a hundred times easier to hit, and a tenth is enough from a gram on.
    fn solution(&self) -> Option<(i64, Ratio)> {
        let weight = &self.weight.0;
        let times = if *weight <= Ratio::ONE { 100 } else { 10 };
        let part = round_to_step(&(weight * &Ratio::whole(times)), self.step);
        let close_enough = part >= self.step * &Ratio::whole(20);
        (self.is_yeast && close_enough && *weight <= Ratio::whole(5)).then_some((10 * times - 10, part))
    }
}

fn grams(weight: &Ratio) -> String {
    format!("{} g", weight.to_trimmed(2))
}
