//! Weights as the bakehouse's scales show them, so that the totals still hold. Owns what becomes of a weight that the
//! scales cannot show well enough to bake by.

use crate::model::place::Scales;
use crate::quantity::{Grams, Part, Ratio, round_to_step, share_out};

/// A weight that is too far from what the scales show is written by itself: more than this part of it off.
const MOST_LOST: i64 = 10;

/// A weight to be rounded.
pub(super) struct Weight<'a> {
    /// What it is.
    pub(super) exact: &'a Ratio,
    /// What it is shown as already; nothing where that is to be settled.
    pub(super) held: Option<Ratio>,
}

/// Rounds weights, each to the scale that it is weighed on, so that they add up to the whole that is given, else to
/// their own rounded sum.
///
/// What the scales would show more than a tenth off is not lost to them: it keeps two digits, or tenths from a gram
/// up. Yeast is not left out in silence because the scales are coarse.
pub(super) fn to_scales(weights: &[Weight<'_>], scales: &Scales, whole: Option<&Ratio>) -> Vec<Ratio> {
    let parts: Vec<Part> = weights
        .iter()
        .map(|weight| {
            let step = scales.step_for(&Grams(weight.exact.clone())).clone();
            let nearest = round_to_step(weight.exact, &step);
            let fine = || is_lost(weight.exact, &nearest).then(|| two_digits(weight.exact));
            let held = weight.held.clone().or_else(fine);
            Part {
                exact: weight.exact.clone(),
                step,
                held,
            }
        })
        .collect();
    share_out(&parts, whole)
}

/// Says whether rounding leaves a weight as it is, or is not for it to settle.
pub(super) fn is_settled(weight: &Weight<'_>, scales: &Scales) -> bool {
    let nearest = round_to_step(weight.exact, scales.step_for(&Grams(weight.exact.clone())));
    weight.held.is_some() || *weight.exact == nearest || is_lost(weight.exact, &nearest)
}

/// Says whether a rounded weight is too far from the exact one to bake by.
pub(super) fn is_lost(exact: &Ratio, shown: &Ratio) -> bool {
    &(exact - shown).abs() * &Ratio::whole(MOST_LOST) > *exact
}

/// Rounds to two digits that count, or to tenths from one up.
fn two_digits(exact: &Ratio) -> Ratio {
    let mut digits = 10_i64;
    while digits < 1_000_000 && (exact * &Ratio::whole(digits)) < Ratio::whole(10) {
        digits *= 10;
    }
    let step = Ratio::fraction(1, digits).unwrap_or_default();
    round_to_step(exact, &step)
}
