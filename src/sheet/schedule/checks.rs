//! Steps that cannot be meant as they stand: what belongs before the bake and stands after it, and cores
//! hotter than boiling water. Only what is surely a slip is spoken of; lines are the model's to check.

use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Block, Cue, Recipe, Step};
use crate::model::verbs::Purpose;
use crate::quantity::Ratio;
use crate::sheet::physics::{boiling_point, boils_at};
use crate::sheet::walk::{block_of, is_for, steps_of};
use crate::sheet::{Role, SheetBlock};

/// Verbs beside those of fermentation that only raw dough can take.
const RAW_ONLY: &[&str] = &["knead", "autolyse", "preshape", "score", "knock back"];

/// How far above the boiling point a core is asked for before it is spoken of: published value D6 is good
/// to 0.3 degrees, and the weather moves the boiling point as much.
const LEEWAY: f64 = 0.3;

/// Warns of steps out of order and of targets out of reach.
pub(super) fn check(recipe: &Recipe, blocks: &[SheetBlock]) -> Report {
    let mut report = Report::new();
    for sheet in blocks {
        let Some(block) = block_of(recipe, sheet.id) else {
            continue;
        };
        if matches!(sheet.role, Role::Dough | Role::Part) {
            check_after_bake(block, &mut report);
        }
        check_cores(recipe, block, &mut report);
    }
    report
}

/// A dough that is baked does not rise again. One step behind the bake is that step's slip; more than one
/// have one cause, the bake.
fn check_after_bake(block: &Block, report: &mut Report) {
    let mut steps = steps_of(block);
    let Some(bake) = steps.find(|step| is_for(step, Purpose::Bake)) else {
        return;
    };
    let late: Vec<&Step> = steps.filter(|step| needs_raw_dough(step)).collect();
    match late.as_slice() {
        [] => {}
        [step] => report.push(
            Diagnostic::new(
                Code::StepOrder,
                step.span,
                format!("`{}` comes after the bake", step.words),
            )
            .label("the dough is bread by now")
            .other(bake.span, "baked here")
            .help("move it above the bake: the order on the page is the order at the bench"),
        ),
        [first, .., last] => report.push(
            Diagnostic::new(
                Code::StepOrder,
                bake.span,
                format!(
                    "`{}` stands too early: {} steps after it need raw dough",
                    bake.words,
                    late.len()
                ),
            )
            .label("the dough is bread from here on")
            .other(first.span, "the first of them")
            .other(last.span, "the last of them")
            .help(format!(
                "move it below `{}`: the order on the page is the order at the bench",
                last.words
            )),
        ),
    }
}

fn needs_raw_dough(step: &Step) -> bool {
    step.verb.is_some_and(|verb| {
        matches!(verb.purpose, Purpose::Ferment | Purpose::Proof) || RAW_ONLY.contains(&verb.word)
    })
}

/// The core of a bread does not pass the temperature at which its water boils.
fn check_cores(recipe: &Recipe, block: &Block, report: &mut Report) {
    let altitude = &recipe.place.altitude_m;
    for step in steps_of(block) {
        let Some(cue) = &step.until else { continue };
        let Cue::Core(range) = &cue.value else { continue };
        let wanted = range.middle();
        if !boils_at(wanted.0.to_f64() - LEEWAY, altitude.to_f64()) {
            continue;
        }
        let boiling = boiling_point(altitude.to_f64());
        report.push(
            Diagnostic::new(
                Code::OutOfReach,
                cue.span,
                format!("a core of {} °C cannot be reached", wanted.0.to_trimmed(1)),
            )
            .label(format!("water boils at {boiling:.1} °C {}", height(altitude)))
            .help(format!(
                "write a core of {} °C or less; the altitude stands in the bakehouse",
                // A core stays a degree or so behind the water in it.
                (boiling - 1.0).floor()
            )),
        );
    }
}

fn height(altitude_m: &Ratio) -> String {
    if altitude_m.is_zero() {
        "at sea level".to_owned()
    } else {
        format!("at {} m", altitude_m.to_trimmed(0))
    }
}
