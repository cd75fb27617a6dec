//! Lines that the scales cannot show closely enough, told as one warning.

use super::Baked;
use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::Ratio;
use crate::sheet::TooSmall;
use crate::source::Span;

/// So many other lines are pointed at beside the worst one.
const POINTED_AT: usize = 5;

/// Warns once of all lines that rounding moves too far, at the one that it moves farthest.
pub(super) fn check(baked: Baked, report: &mut Report) {
    let Some((worst, rest)) = baked.too_small.split_first() else {
        return;
    };
    let Some(span) = span_of(baked, worst) else { return };
    let mut fault = Diagnostic::new(
        Code::TooSmallForScale,
        span,
        format!(
            "scales that show {} g cannot weigh {} of {} closely",
            worst.step.to_trimmed(3),
            grams(&worst.weight.0),
            worst.name
        ),
    )
    .label(shown(worst))
    .help(way_out(baked, worst));
    for other in rest.iter().take(POINTED_AT) {
        if let Some(span) = span_of(baked, other) {
            fault = fault.other(span, shown(other));
        }
    }
    report.push(fault);
}

fn span_of(baked: Baked, line: &TooSmall) -> Option<Span> {
    let block = baked.blocks.iter().find(|block| block.id == line.block)?;
    block.lines.get(line.line).map(|line| line.span)
}

fn shown(line: &TooSmall) -> String {
    format!("{} shown as {}", grams(&line.weight.0), grams(&line.shown))
}

/// Says what the trade does: a finer scale, or a weak solution of which more is weighed.
fn way_out(baked: Baked, line: &TooSmall) -> String {
    let finer = if baked.recipe.place.is_default("scales") {
        "these scales are assumed: say in the bakehouse what yours show (`scales: 1 g, 0.1 g under 50 g`)"
    } else {
        "weigh it on a finer scale and say so in the bakehouse (`scales: 1 g, 0.1 g under 50 g`)"
    };
    let Some(solution) = &line.solution else {
        return format!("{finer}, or make a larger batch");
    };
    format!(
        "{finer}, or stir {} of it into {} of water and take {} of that, with {} less water in its block",
        grams(&solution.stock.0),
        grams(&solution.water.0),
        grams(&solution.take.0),
        grams(&solution.less_water.0)
    )
}

fn grams(weight: &Ratio) -> String {
    format!("{} g", weight.to_trimmed(2))
}
