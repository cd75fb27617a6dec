//! Readings of a bench record that nothing at a bench can have shown.
//!
//! Owns what a thermometer shows in what, and that nothing weighs or takes nought. The bounds are wide on
//! purpose; common practice, no source, except that water boils at 100 C. How heavy a loaf can be is told
//! where the weight of its dough is known.

use super::Findings;
use super::words::holds_words;
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::fold_name;
use crate::model::checks::expect_degrees;
use crate::model::recipe::Reading;
use crate::syntax::tree::Measurement;

/// Degrees Celsius between which a thing is measured, by its folded word.
const WARM: &[(&str, (i64, i64))] = &[
    // The middle of a loaf with sugar and fat gets a little above where water boils.
    ("core", (20, 110)),
    ("crumb", (-40, 110)),
    ("dough", (-5, 60)),
    ("flour", (-30, 60)),
    ("fridge", (-40, 20)),
    ("kitchen", (-10, 60)),
    ("milk", (-5, 100)),
    ("oven", (20, 600)),
    ("proofer", (-10, 60)),
    ("room", (-10, 60)),
    ("starter", (-5, 60)),
    ("stone", (0, 600)),
    ("tap", (-5, 100)),
    ("water", (-5, 100)),
];

/// Warns of a reading that cannot be.
pub(super) fn check_reading(measured: &Measurement, findings: &mut Findings) {
    let reading = &measured.reading;
    let name = &measured.of.value;
    let of = fold_name(name);
    let nought = match &reading.value {
        Reading::Temperature(range) => {
            if let Some((_, bounds)) = WARM.iter().find(|(word, _)| holds_words(&of, word)) {
                let report = &mut findings.report;
                expect_degrees(range, *bounds, reading.span, &format!("`{name}`"), report);
            }
            return;
        }
        Reading::Weight(weight) => weight.is_zero().then_some("weighs nothing"),
        Reading::Time(range) => (range.most.seconds == 0).then_some("takes no time"),
        Reading::Count(_) | Reading::Share(_) => None,
    };
    if let Some(says) = nought {
        findings.push(
            Diagnostic::new(Code::ZeroAmount, reading.span, format!("`{name}` {says}"))
                .help("write what was measured, or take the line out"),
        );
    }
}
