//! Volumes in millilitres, metric and US customary.

use super::Ratio;

/// A volume in millilitres, exact.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Millilitres(pub Ratio);

/// A unit of volume; spoons, cups and fluid ounces are the US customary ones.
///
/// The inch is 2.54 cm, the gallon 231 cubic inches, the cup a sixteenth of it (NIST Special Publication
/// 811 and Handbook 44; from memory, not looked up).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum VolumeUnit {
    /// The millilitre.
    Millilitre,
    /// The litre.
    Litre,
    /// The US teaspoon.
    Teaspoon,
    /// The US tablespoon, three teaspoons.
    Tablespoon,
    /// The US fluid ounce, two tablespoons.
    FluidOunce,
    /// The US cup, eight fluid ounces.
    Cup,
}

impl VolumeUnit {
    /// Every unit.
    pub const ALL: [Self; 6] = [
        Self::Millilitre,
        Self::Litre,
        Self::Teaspoon,
        Self::Tablespoon,
        Self::FluidOunce,
        Self::Cup,
    ];

    /// Gives the millilitres in one of this unit, exactly.
    #[must_use]
    pub fn millilitres(self) -> Ratio {
        // One US cup is 231/16 cubic inches of 16.387064 ml each: 236.588 236 5 ml.
        let (numerator, denominator) = match self {
            Self::Millilitre => (1, 1),
            Self::Litre => (1000, 1),
            Self::Teaspoon => (2_365_882_365, 480_000_000),
            Self::Tablespoon => (2_365_882_365, 160_000_000),
            Self::FluidOunce => (2_365_882_365, 80_000_000),
            Self::Cup => (2_365_882_365, 10_000_000),
        };
        Ratio::fraction(numerator, denominator).unwrap_or_default()
    }

    /// Gives the usual short form.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millilitre => "ml",
            Self::Litre => "l",
            Self::Teaspoon => "tsp",
            Self::Tablespoon => "tbsp",
            Self::FluidOunce => "fl oz",
            Self::Cup => "cup",
        }
    }

    /// Says whether the unit is a spoon, the measure that kitchen scales compete with badly.
    #[must_use]
    pub const fn is_spoon(self) -> bool {
        matches!(self, Self::Teaspoon | Self::Tablespoon)
    }

    /// Turns a count of this unit into a volume.
    #[must_use]
    pub fn volume(self, count: &Ratio) -> Millilitres {
        Millilitres(count * &self.millilitres())
    }
}

#[cfg(test)]
mod tests {
    use super::VolumeUnit;

    /// Published values U3 to U6: NIST SP 811 and Handbook 44 (digits from memory, not looked up; four
    /// to six decimals seen in the UCUM ticket 120 and a dictionary of units).
    #[test]
    fn u3_to_u6_us_measures_are_exact() {
        for (unit, expected) in [
            (VolumeUnit::FluidOunce, "29.5735295625"),
            (VolumeUnit::Cup, "236.5882365"),
            (VolumeUnit::Tablespoon, "14.78676478125"),
            (VolumeUnit::Teaspoon, "4.92892159375"),
        ] {
            assert_eq!(unit.millilitres().to_trimmed(12), expected);
        }
    }
}
