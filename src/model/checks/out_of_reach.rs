//! `out-of-reach`: a step that would cool below, or warm above, what surrounds the dough.
//!
//! Nothing cools below the air that it stands in: a loaf that should come to 15 C in a room of 21 C never
//! does, and who waits for it waits in vain.

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Entry, Step};
use crate::model::verbs::Purpose;
use crate::quantity::Celsius;

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    for entry in subject.recipe.blocks.iter().flat_map(|block| &block.entries) {
        if let Entry::Step(step) = entry {
            report.extend(fault_of(subject, step));
        }
    }
}

fn fault_of(subject: &Subject<'_>, step: &Step) -> Option<Diagnostic> {
    let (to, verb) = (step.to.as_ref()?, step.verb?);
    let usual = match verb.purpose {
        Purpose::Cool => Some("room"),
        Purpose::Chill if verb.word != "freeze" => Some("fridge"),
        // Without `at` a dough may be warmed by other means than the room.
        Purpose::Chill | Purpose::Warm => None,
        _ => return None,
    };
    let around = match (&step.at, usual) {
        (Some(at), _) => at.middle(),
        (None, Some(place)) => subject.recipe.place.temperatures.get(place)?.clone(),
        (None, None) => return None,
    };
    let wanted = to.middle();
    let (is_out, help) = if verb.purpose == Purpose::Warm {
        (wanted > around, "name a warmer place, or a lower temperature")
    } else {
        (
            wanted < around,
            "name a colder place, `at fridge`, or a higher temperature",
        )
    };
    is_out.then(|| {
        let message = format!("{} is never reached at {}", degrees(&wanted), degrees(&around));
        Diagnostic::new(Code::OutOfReach, to.span, message).help(help)
    })
}

fn degrees(celsius: &Celsius) -> String {
    format!("{} °C", celsius.0.to_trimmed(1))
}
