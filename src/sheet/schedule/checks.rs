//! Steps that cannot be meant as they stand: what belongs before the bake and stands after it, lines that
//! nothing is done with, and cores hotter than boiling water. Only what is surely a slip is spoken of.

use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Block, BlockKind, Cue, Recipe, Step};
use crate::model::verbs::Purpose;
use crate::sheet::physics::boiling_point;
use crate::sheet::walk::{block_of, steps_of};
use crate::sheet::{Role, SheetBlock, SheetLine, Source};

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
            check_after_bake(recipe, block, sheet, &mut report);
        }
        if !matches!(sheet.role, Role::Filling | Role::Topping) {
            check_idle_lines(block, sheet, &mut report);
        }
        check_cores(recipe, block, &mut report);
    }
    report
}

/// A dough that is baked does not rise again, and no leaven goes into it.
fn check_after_bake(recipe: &Recipe, block: &Block, sheet: &SheetBlock, report: &mut Report) {
    let baked = steps_of(block)
        .enumerate()
        .find(|(_, step)| step.verb.is_some_and(|verb| verb.purpose == Purpose::Bake));
    let Some((index, bake)) = baked else {
        return;
    };
    let late_steps = steps_of(block)
        .skip(index)
        .filter(|step| needs_raw_dough(step))
        .map(|step| (step.span, format!("`{}` comes after the bake", step.words)));
    let late_lines = sheet
        .lines
        .iter()
        .filter(|line| line.step.is_some_and(|step| step > index) && is_leaven(recipe, line))
        .map(|line| (line.span, format!("{} goes in after the bake", line.name)));
    report.extend(late_steps.chain(late_lines).map(|(span, message)| {
        Diagnostic::new(Code::StepOrder, span, message)
            .label("the dough is bread by now")
            .other(bake.span, "baked here")
            .help("move it above the bake: the order on the page is the order at the bench")
    }));
}

fn needs_raw_dough(step: &Step) -> bool {
    step.verb.is_some_and(|verb| {
        matches!(verb.purpose, Purpose::Ferment | Purpose::Proof) || RAW_ONLY.contains(&verb.word)
    })
}

fn is_leaven(recipe: &Recipe, line: &SheetLine) -> bool {
    match &line.source {
        Source::Ingredient { .. } => false,
        Source::Mixture => true,
        Source::Stage(id) => block_of(recipe, *id).is_some_and(|stage| {
            matches!(
                stage.kind,
                BlockKind::Levain
                    | BlockKind::Poolish
                    | BlockKind::Biga
                    | BlockKind::Sponge
                    | BlockKind::OldDough
            )
        }),
    }
}

/// An ingredient goes in at the step that follows it; where steps are written and none follows, the line
/// was most likely added at the wrong place. An unweighed amount may stand anywhere.
fn check_idle_lines(block: &Block, sheet: &SheetBlock, report: &mut Report) {
    let Some(last) = steps_of(block).last() else {
        return;
    };
    let idle = sheet
        .lines
        .iter()
        .find(|line| line.step.is_none() && line.weight.is_some());
    if let Some(line) = idle {
        report.push(
            Diagnostic::new(
                Code::StepOrder,
                line.span,
                format!("nothing is done with the {}", line.name),
            )
            .label("no step follows this line")
            .other(last.span, "the last step")
            .help("move the line above the step that it goes in at"),
        );
    }
}

/// The core of a bread does not pass the temperature at which its water boils.
fn check_cores(recipe: &Recipe, block: &Block, report: &mut Report) {
    let altitude = &recipe.place.altitude_m;
    for step in steps_of(block) {
        let Some(cue) = &step.until else { continue };
        let Cue::Core(range) = &cue.value else { continue };
        let wanted = range.middle();
        let boiling = boiling_point(altitude.to_f64());
        if wanted.0.to_f64() <= boiling + LEEWAY {
            continue;
        }
        report.push(
            Diagnostic::new(
                Code::OutOfReach,
                cue.span,
                format!("a core of {} °C cannot be reached", wanted.0.to_trimmed(1)),
            )
            .label(format!(
                "water boils at {boiling:.1} °C at {} m",
                altitude.to_trimmed(0)
            ))
            .help(format!(
                "write a core of {} °C or less; the altitude stands in the bakehouse",
                // A core stays a degree or so behind the water in it.
                (boiling - 1.0).floor()
            )),
        );
    }
}
