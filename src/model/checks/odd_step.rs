//! Steps with a time or a cue that nothing at a bench can have: nought minutes, a growth to fifty times.
//!
//! `zero-amount` for a time of nought, which is what `then` is for, and `likely-slip` for a growth that no
//! dough has. Degrees are looked at in `odd_temperature`.

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Cue, Entry, Step, StepTime};
use crate::quantity::Ratio;

/// The most that a sponge or a culture grows, as times of its size; common practice, no source.
const MOST_GROWTH: i64 = 10;

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    for entry in subject.recipe.blocks.iter().flat_map(|block| &block.entries) {
        if let Entry::Step(step) = entry {
            check_time(step, report);
            check_growth(step, report);
        }
    }
}

fn check_time(step: &Step, report: &mut Report) {
    let is_nought = |time: &StepTime| matches!(time, StepTime::Takes(range) if range.most.seconds == 0);
    if is_nought(&step.time) {
        report.push(
            Diagnostic::new(
                Code::ZeroAmount,
                step.span,
                format!("`{}` takes no time", step.words),
            )
            .help("give the time, or write `then` for what takes none of its own"),
        );
    }
}

fn check_growth(step: &Step, report: &mut Report) {
    let Some(cue) = &step.until else { return };
    let Cue::Grown(times) = &cue.value else { return };
    let message = if *times <= Ratio::ONE {
        format!("`until {}x` is reached before it begins", times.to_trimmed(2))
    } else if *times > Ratio::whole(MOST_GROWTH) {
        format!("nothing grows to {} times its size", times.to_trimmed(2))
    } else {
        return;
    };
    report.push(
        Diagnostic::new(Code::LikelySlip, cue.span, message)
            .label("times the size at the start")
            .help("look at the decimal point: `until 1.5x` is half as much again, `until doubled` twice"),
    );
}
