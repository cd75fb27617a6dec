//! Temperatures, ranges of them, and differences between them, which convert otherwise.

use super::Ratio;

/// A temperature in degrees Celsius, exact.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Celsius(pub Ratio);

impl Celsius {
    /// Makes a temperature of whole degrees.
    #[must_use]
    pub const fn whole(degrees: i64) -> Self {
        Self(Ratio::whole(degrees))
    }

    /// Reads degrees Fahrenheit: five ninths of what lies above 32.
    #[must_use]
    pub fn of_fahrenheit(degrees: &Ratio) -> Self {
        Self(&(&(degrees - &Ratio::whole(32)) * &Ratio::whole(5)) / &Ratio::whole(9))
    }

    /// Gives degrees Fahrenheit.
    #[must_use]
    pub fn fahrenheit(&self) -> Ratio {
        &(&(&self.0 * &Ratio::whole(9)) / &Ratio::whole(5)) + &Ratio::whole(32)
    }
}

/// A difference between two temperatures in degrees Celsius, such as the friction of a mixer.
///
/// It is a type of its own because 24 °F of friction are 13.3 °C and not -4.4 °C.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct DegreesApart(pub Ratio);

impl DegreesApart {
    /// Reads a difference in degrees Fahrenheit.
    #[must_use]
    pub fn of_fahrenheit(degrees: &Ratio) -> Self {
        Self(&(degrees * &Ratio::whole(5)) / &Ratio::whole(9))
    }
}

/// A temperature or a range of temperatures, whose middle counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CelsiusRange {
    /// The lowest.
    pub low: Celsius,
    /// The highest; the same as the lowest for a single temperature.
    pub high: Celsius,
}

impl CelsiusRange {
    /// Makes a range of a single temperature.
    #[must_use]
    pub fn single(temperature: Celsius) -> Self {
        Self {
            low: temperature.clone(),
            high: temperature,
        }
    }

    /// Gives the temperature that counts.
    #[must_use]
    pub fn middle(&self) -> Celsius {
        Celsius(&(&self.low.0 + &self.high.0) / &Ratio::whole(2))
    }
}

#[cfg(test)]
mod tests {
    use super::{Celsius, DegreesApart, Ratio};

    /// Published values U8 to U10: NIST SP 811 (from memory, not looked up); the pairs of 41 and 135 °F as
    /// the FDA Food Code prints them.
    #[test]
    fn u8_to_u10_temperatures() {
        for (fahrenheit, celsius) in [
            (350, "176.67"),
            (375, "190.56"),
            (400, "204.44"),
            (425, "218.33"),
            (450, "232.22"),
            (475, "246.11"),
            (500, "260.00"),
            (-40, "-40.00"),
            (0, "-17.78"),
            (32, "0.00"),
            (41, "5.00"),
            (135, "57.22"),
            (212, "100.00"),
        ] {
            let read = Celsius::of_fahrenheit(&Ratio::whole(fahrenheit));
            assert_eq!(read.0.to_fixed(2), celsius, "{fahrenheit} °F");
        }
        for (celsius, fahrenheit) in [
            (25, "77.0"),
            (28, "82.4"),
            (96, "204.8"),
            (230, "446.0"),
            (250, "482.0"),
        ] {
            assert_eq!(Celsius::whole(celsius).fahrenheit().to_fixed(1), fahrenheit);
        }
    }

    /// Published value U11, a trap: the definition of the interval.
    #[test]
    fn u11_a_difference_is_not_a_temperature() {
        assert_eq!(
            DegreesApart::of_fahrenheit(&Ratio::whole(24)).0.to_fixed(2),
            "13.33"
        );
    }
}
