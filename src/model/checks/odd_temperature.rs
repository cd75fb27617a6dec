//! `odd-temperature`: a temperature out of all reason for what is done at it.
//!
//! Bread baked at 20 C stays dough, and a dough proofed at 75 C is cooked before it rises; such figures are
//! a digit too many, a C for an F, or a slip of the line. The bounds are wide on purpose: a pizza oven, a
//! warm scald and a cellar are all within. Common practice, no source, except that water boils at 100 C.

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::Kind;
use crate::model::recipe::{Cue, Entry, Line, Step, TemperatureSpec, Thing};
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, CelsiusRange, Elapsed};
use crate::source::Span;

/// A bake no longer than this is a flat bread's, in an oven far hotter than for loaves.
const FLASH: Elapsed = Elapsed::minutes(6);

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    let recipe = subject.recipe;
    if let Some(wanted) = &recipe.details.dough_temperature {
        expect(&wanted.value, (5, 40), wanted.span, "a dough", report);
    }
    for entry in recipe.blocks.iter().flat_map(|block| &block.entries) {
        match entry {
            Entry::Line(line) => check_line(line, report),
            Entry::Step(step) => check_step(step, report),
            Entry::Note(_) => {}
        }
    }
}

fn check_line(line: &Line, report: &mut Report) {
    let Some(at) = &line.at else {
        return;
    };
    let bounds = match &line.thing {
        Thing::Stage(_) | Thing::Mixture(_) => (-5, 100),
        Thing::Ingredient(known) => match known.kind {
            Kind::Oil | Kind::Fat | Kind::Butter | Kind::Sugar | Kind::Syrup | Kind::Honey => (-30, 200),
            Kind::Yeast => (-25, 60),
            // Ice is not the only thing that lies at nought, but nothing below it can be poured.
            _ if known.is_wet => (-5, 100),
            _ => (-30, 120),
        },
        Thing::Unlisted { .. } => (-30, 200),
    };
    expect_at(at, bounds, &line.name.value, report);
}

fn check_step(step: &Step, report: &mut Report) {
    if let (Some(at), Some(verb)) = (&step.at, step.verb) {
        expect_at(
            at,
            bounds_of(verb.purpose, step),
            &format!("`{}`", verb.word),
            report,
        );
    }
    // How hot a core can get depends on the altitude, and is looked at where that is known.
    match step.until.as_ref().map(|cue| (&cue.value, cue.span)) {
        Some((Cue::Core(range), span)) => {
            let (bounds, what) = core_bounds(step);
            expect(range, bounds, span, &what, report);
        }
        Some((Cue::Dough(range), span)) if !is_heated(step) => {
            expect(range, (0, 45), span, "a dough", report);
        }
        Some((Cue::Dough(range), span)) => {
            expect(range, (50, 600), span, "a dough in the oven", report);
        }
        Some((Cue::Grown(_) | Cue::Words(_), _)) | None => {}
    }
}

fn is_heated(step: &Step) -> bool {
    let purpose = step.verb.map(|verb| verb.purpose);
    matches!(
        purpose,
        Some(Purpose::Bake | Purpose::Preheat | Purpose::Steam | Purpose::Cook)
    )
}

/// Gives the degrees that a core comes to at a step, with what to call it: what rises is no bread yet, and
/// what cools or is kept may have any core.
fn core_bounds(step: &Step) -> ((i64, i64), String) {
    match step.verb.map(|verb| (verb.purpose, verb.word)) {
        Some((Purpose::Ferment | Purpose::Proof | Purpose::Mix, word)) => {
            ((0, 45), format!("the core at `{word}`"))
        }
        Some((Purpose::Bake | Purpose::Preheat | Purpose::Steam | Purpose::Cook, _)) | None => {
            ((50, 600), "a core".to_owned())
        }
        Some(_) => ((-40, 600), "a core".to_owned()),
    }
}

/// Gives the degrees between which a kind of work is done.
fn bounds_of(purpose: Purpose, step: &Step) -> (i64, i64) {
    match purpose {
        Purpose::Bake | Purpose::Preheat if step.takes.middle() > FLASH => (80, 350),
        Purpose::Bake | Purpose::Preheat => (80, 550),
        Purpose::Steam => (80, 300),
        Purpose::Cook => (40, 300),
        Purpose::Ferment | Purpose::Proof => (0, 45),
        Purpose::Chill => (-40, 18),
        Purpose::Rest | Purpose::Mix | Purpose::Handle => (-5, 110),
        Purpose::Warm => (-5, 80),
        Purpose::Cool => (-40, 60),
        Purpose::Keep => (-40, 40),
    }
}

/// The temperature of a place is the bakehouse's to answer for, unless the work wants an oven.
fn expect_at(at: &TemperatureSpec, bounds: (i64, i64), what: &str, report: &mut Report) {
    let wants_heat = bounds.0 >= 40;
    if at.place.is_none() || wants_heat {
        expect(&at.range, bounds, at.span, what, report);
    }
}

/// Warns of degrees whose middle lies outside what a thing can have.
pub(in crate::model) fn expect(
    range: &CelsiusRange,
    (low, high): (i64, i64),
    span: Span,
    what: &str,
    report: &mut Report,
) {
    let degrees = range.middle();
    let is_hot = degrees > Celsius::whole(high);
    if is_within(&degrees, (low, high)) {
        return;
    }
    let fault = Diagnostic::new(
        Code::OddTemperature,
        span,
        format!("{} °C is out of all reason for {what}", degrees.0.to_trimmed(1)),
    );
    report.push(if !is_hot {
        fault.help(format!("it would be {low} °C at least"))
    } else if is_within(&Celsius::of_fahrenheit(&degrees.0), (low, high)) {
        fault.help(format!(
            "it would be {high} °C at most; if degrees Fahrenheit are meant, write F"
        ))
    } else {
        fault.help(format!("it would be {high} °C at most"))
    });
}

fn is_within(degrees: &Celsius, (low, high): (i64, i64)) -> bool {
    (Celsius::whole(low)..=Celsius::whole(high)).contains(degrees)
}
