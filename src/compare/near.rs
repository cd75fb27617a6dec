//! What is the same within the rounding of a scale.

use crate::quantity::{Grams, Ratio};

/// Says whether two weights are one: apart by a thousandth, or by half a gram that is less than a fiftieth.
/// So 12 oz is 340 g, and 0.3 g of yeast is not 0.4 g.
pub(super) fn weights(old: &Grams, new: &Grams) -> bool {
    within(&old.0, &new.0, &half())
}

/// Says whether two shares of so much flour are one: apart by a thousandth, by half a gram, or by less than
/// what a card shows, a twentieth of a point.
pub(super) fn shares(old: &Ratio, new: &Ratio, flour: &Grams) -> bool {
    let shown = fraction(5, 10_000);
    let half_gram = half().checked_div(&flour.0).unwrap_or_default();
    within(old, new, &shown.max(half_gram))
}

/// Says whether a factor is one within half a per cent.
pub(super) fn is_one(factor: &Ratio) -> bool {
    (factor - &Ratio::ONE).abs() <= fraction(5, 1000)
}

fn within(old: &Ratio, new: &Ratio, leeway: &Ratio) -> bool {
    let apart = (old - new).abs();
    let larger = old.abs().max(new.abs());
    apart <= &larger * &fraction(1, 1000) || apart <= *leeway && apart < &larger * &fraction(1, 50)
}

fn half() -> Ratio {
    fraction(1, 2)
}

fn fraction(numerator: i64, denominator: i64) -> Ratio {
    Ratio::fraction(numerator, denominator).unwrap_or_default()
}
