//! Weights that a baker scales pieces at: round ones in the unit of the scales.

use crate::quantity::{Grams, Ratio, WeightUnit, round_to_step};

/// Below so many grams pieces are scaled to the finer step, from there to the middle one, and from so many on
/// to the coarse one; common practice, no source.
const METRIC: [(i64, (i64, i64)); 3] = [(250, (5, 1)), (1500, (10, 1)), (i64::MAX, (50, 1))];
/// The same in ounces: quarters to half a pound, halves to two pounds, whole ones above.
const AVOIRDUPOIS: [(i64, (i64, i64)); 3] = [(8, (1, 4)), (32, (1, 2)), (i64::MAX, (1, 1))];

/// Gives the nearest weight that a piece is practically scaled at; never nought.
pub(super) fn piece(weight: &Grams, unit: WeightUnit) -> Grams {
    let (unit, steps) = match unit {
        WeightUnit::Ounce | WeightUnit::Pound => (WeightUnit::Ounce, AVOIRDUPOIS),
        WeightUnit::Gram | WeightUnit::Kilogram | WeightUnit::Milligram => (WeightUnit::Gram, METRIC),
    };
    let count = unit.count(weight);
    let found = steps.iter().find(|(below, _)| count < Ratio::whole(*below));
    let (part, whole) = found.map_or((1, 1), |(_, step)| *step);
    let step = Ratio::fraction(part, whole).unwrap_or(Ratio::ONE);
    let rounded = round_to_step(&count, &step).max(step);
    unit.weight(&rounded)
}

#[cfg(test)]
mod tests {
    use super::piece;
    use crate::quantity::{Grams, Ratio, WeightUnit};

    #[test]
    fn round_weights_in_grams_and_in_ounces() {
        for (exact, wanted) in [("62.4", "60"), ("771.43", "770"), ("1777", "1800"), ("0.4", "5")] {
            let exact = Grams(Ratio::parse_decimal(exact).unwrap_or_default());
            assert_eq!(piece(&exact, WeightUnit::Gram).0.to_trimmed(2), wanted);
        }
        // 62.4 g are 2.2 oz: two and a quarter.
        let exact = Grams(Ratio::parse_decimal("62.4").unwrap_or_default());
        let shown = WeightUnit::Ounce.count(&piece(&exact, WeightUnit::Ounce));
        assert_eq!(shown.to_trimmed(2), "2.25");
    }
}
