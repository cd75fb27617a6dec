//! Weights in grams and the units that scales show.

use super::Ratio;

/// A weight in grams, exact.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Grams(pub Ratio);

impl Grams {
    /// Nothing on the scale.
    pub const ZERO: Self = Self(Ratio::ZERO);

    /// Makes a weight of whole grams.
    #[must_use]
    pub const fn whole(grams: i64) -> Self {
        Self(Ratio::whole(grams))
    }

    /// Multiplies the weight by a plain number.
    #[must_use]
    pub fn times(&self, factor: &Ratio) -> Self {
        Self(&self.0 * factor)
    }

    /// Gives this weight as a share of another; nothing where the other is nought.
    #[must_use]
    pub fn share_of(&self, whole: &Self) -> Option<Ratio> {
        self.0.checked_div(&whole.0)
    }

    /// Says whether the weight is nought.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }
}

impl std::ops::Add for &Grams {
    type Output = Grams;
    fn add(self, other: &Grams) -> Grams {
        Grams(&self.0 + &other.0)
    }
}

impl std::ops::Sub for &Grams {
    type Output = Grams;
    fn sub(self, other: &Grams) -> Grams {
        Grams(&self.0 - &other.0)
    }
}

impl std::iter::Sum for Grams {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        Self(terms.map(|term| term.0).sum())
    }
}

impl<'a> std::iter::Sum<&'a Self> for Grams {
    fn sum<I: Iterator<Item = &'a Self>>(terms: I) -> Self {
        Self(terms.map(|term| &term.0).sum())
    }
}

/// A unit of weight, SI or avoirdupois.
///
/// The pound is 0.453 592 37 kg by definition (NIST Special Publication 811, appendix B; from memory, not
/// looked up); the ounce is a sixteenth of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WeightUnit {
    /// A thousandth of a gram.
    Milligram,
    /// The gram.
    Gram,
    /// A thousand grams.
    Kilogram,
    /// The avoirdupois ounce.
    Ounce,
    /// The avoirdupois pound.
    Pound,
}

impl WeightUnit {
    /// Every unit, smallest first.
    pub const ALL: [Self; 5] = [
        Self::Milligram,
        Self::Gram,
        Self::Ounce,
        Self::Pound,
        Self::Kilogram,
    ];

    /// Gives the grams in one of this unit, exactly.
    #[must_use]
    pub fn grams(self) -> Ratio {
        let (numerator, denominator) = match self {
            Self::Milligram => (1, 1000),
            Self::Gram => (1, 1),
            Self::Kilogram => (1000, 1),
            Self::Ounce => (45_359_237, 1_600_000),
            Self::Pound => (45_359_237, 100_000),
        };
        Ratio::fraction(numerator, denominator).unwrap_or_default()
    }

    /// Gives the symbol, as scales show it.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Milligram => "mg",
            Self::Gram => "g",
            Self::Kilogram => "kg",
            Self::Ounce => "oz",
            Self::Pound => "lb",
        }
    }

    /// Finds a unit by its symbol.
    #[must_use]
    pub fn of_symbol(symbol: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| unit.symbol() == symbol)
    }

    /// Turns a count of this unit into grams.
    #[must_use]
    pub fn weight(self, count: &Ratio) -> Grams {
        Grams(count * &self.grams())
    }

    /// Says how many of this unit a weight is.
    #[must_use]
    pub fn count(self, weight: &Grams) -> Ratio {
        &weight.0 / &self.grams()
    }
}

#[cfg(test)]
mod tests {
    use super::{Grams, Ratio, WeightUnit};

    /// Published values U1 and U2: NIST SP 811 appendix B and Handbook 44 appendix C (digits from memory,
    /// not looked up; four decimals seen in the UCUM ticket 120).
    #[test]
    fn u1_u2_pound_and_ounce_are_exact() {
        let one = Ratio::ONE;
        assert_eq!(WeightUnit::Pound.weight(&one).0.to_fixed(5), "453.59237");
        assert_eq!(WeightUnit::Ounce.weight(&one).0.to_fixed(9), "28.349523125");
        let pound = WeightUnit::Pound.weight(&one);
        assert_eq!(WeightUnit::Ounce.count(&pound), Ratio::whole(16));
        assert_eq!(Grams::whole(5).share_of(&Grams::ZERO), None);
    }
}
