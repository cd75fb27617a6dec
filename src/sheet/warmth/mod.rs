//! Warmth and time: water for a wanted dough temperature, scalds, when a bread is done, and times in another
//! room. Owns physics with its sources; what is shown of it, and how it is rounded, is the view's.
//!
//! Worked out only where the recipe gives cause: a wanted dough temperature, a scald, a bake, another room.

mod doneness;
mod drift;
mod friction;
mod growth;
mod heat;
#[cfg(test)]
mod heat_rows;
mod parts;
mod rules;
mod scald;
mod stage;
mod timing;
mod types;
mod water;

pub use rules::HOTTEST as HOTTEST_WATER;
pub(super) use timing::{in_room, retime, times};
pub use types::{
    Advice, DoneSort, Doneness, Friction, Leaven, NoEstimate, RecordFindings, ScaldHeat, Starch, Tempered,
    TimeEstimate, TimedStep, Timing, WarmFrom, WarmPart, Warmth, WaterPlan,
};

use super::types::{Figures, Pieces, Sheet, SheetBlock, TotalLine};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Recipe, Record};
use parts::Bench;

/// What was computed of a recipe before its warmth is.
#[derive(Clone, Copy)]
pub(super) struct Warmed<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) blocks: &'a [SheetBlock],
    pub(super) figures: &'a Figures,
    pub(super) total: &'a [TotalLine],
    pub(super) pieces: &'a Pieces,
}

/// Works out the warmth of a recipe, and warns of what no water and no oven can give.
pub(super) fn warmth(
    warmed: Warmed<'_>,
    (timing, leaven): (Option<Timing>, Option<Timing>),
    report: &mut Report,
) -> Warmth {
    let Warmed { recipe, blocks, .. } = warmed;
    let bench = Bench::new(recipe, blocks);
    let wanted = recipe.details.dough_temperature.as_ref();
    let water = wanted.and_then(|wanted| {
        let block = recipe.blocks.get(recipe.main.0)?;
        let plan = water::plan(&bench, block, wanted.value.middle().0.to_f64())?;
        report.extend(out_of_reach(&plan).map(|fault| fault(wanted.span)));
        Some(plan)
    });
    let scalds = scald::scalds(&bench);
    Warmth {
        water,
        scalds,
        rests_on: bench.used(),
        timing,
        leaven,
        done: doneness::doneness(recipe, warmed.figures, warmed.total, warmed.pieces, report),
    }
}

/// Says that no temperature of the liquid gives the dough that is wanted.
fn out_of_reach(plan: &WaterPlan) -> Option<impl Fn(crate::source::Span) -> Diagnostic> {
    // A dough that nobody can want is told of where the key is read.
    if !(5.0..=40.0).contains(&plan.wanted) {
        return None;
    }
    let (why, help) = match plan.balance.advice {
        Advice::TooHot => (
            "above 50 °C, where yeast suffers",
            "warm the flour or the room, or want a cooler dough",
        ),
        Advice::TooCold => (
            "colder than ice in its place makes it",
            "cool the flour, mix less, or want a warmer dough",
        ),
        Advice::Temper | Advice::Ice(_) => return None,
    };
    let message = format!("no {} gives a dough of {:.1} °C", plan.liquid, plan.wanted);
    let label = format!("it would have to have {:.0} °C, {why}", plan.balance.celsius);
    Some(move |span| {
        Diagnostic::new(Code::OutOfReach, span, message.clone())
            .label(label.clone())
            .help(help)
    })
}

/// Works a bench record back: the friction that its temperatures show, and the loss in the oven.
#[must_use]
pub fn work_back(recipe: &Recipe, sheet: &Sheet, record: &Record) -> RecordFindings {
    let bench = Bench::new(recipe, &sheet.blocks);
    let block = recipe.blocks.get(recipe.main.0);
    block.map_or_else(RecordFindings::default, |block| {
        friction::of_record(&bench, block, &sheet.pieces, record)
    })
}
