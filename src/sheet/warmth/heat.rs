//! How much heat a thing takes up, by what it is made of. Owns the equations of Choi and Okos with their
//! constants; knows no recipe.
//!
//! Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal properties of foods", in
//! *Food Engineering and Process Applications* 1 (1986) 93 to 101, as reprinted in the *ASHRAE Handbook,
//! Refrigeration* (2006), chapter 9. The print itself was not seen; the constants are those that public
//! sources quote from it (published values T40 to T42). They hold from -40 to 150 °C.

use crate::model::catalog::Composition;
use crate::quantity::Ratio;

/// What a food is made of, in the order of the tables below.
pub(crate) const COMPONENTS: usize = 6;

/// The temperatures that the equations hold for.
const COVERED: (f64, f64) = (-40.0, 150.0);

/// A polynomial of the temperature in °C: the constant, the factor of it, the factor of its square.
type Curve = [f64; 3];

/// Specific heat in kJ/(kg K): protein, fat, carbohydrate, fibre, ash, water.
///
/// Water has the original's constant 4.1762 (from memory, not looked up); the reprint's 4.1289 gives 1.2 %
/// less than water is known to have (T40f, T40g).
pub(crate) const SPECIFIC_HEAT: [Curve; COMPONENTS] = [
    [2.0082, 1.2089e-3, -1.3129e-6],
    [1.9842, 1.4733e-3, -4.8008e-6],
    [1.5488, 1.9625e-3, -5.9399e-6],
    [1.8459, 1.8306e-3, -4.6509e-6],
    [1.0926, 1.8896e-3, -3.6817e-6],
    [4.1762, -9.0864e-5, 5.4731e-6],
];

/// Density in kg/m³, in the same order (T41).
pub(crate) const DENSITY: [Curve; COMPONENTS] = [
    [1329.9, -0.518_40, 0.0],
    [925.59, -0.417_57, 0.0],
    [1599.1, -0.310_46, 0.0],
    [1311.5, -0.365_89, 0.0],
    [2423.8, -0.280_63, 0.0],
    [997.18, 3.1439e-3, -3.7574e-3],
];

/// Conductivity in W/(m K), in the same order (T42).
pub(crate) const CONDUCTIVITY: [Curve; COMPONENTS] = [
    [0.178_81, 1.1958e-3, -2.7178e-6],
    [0.180_71, -2.7604e-4, -1.7749e-7],
    [0.201_41, 1.3874e-3, -4.3312e-6],
    [0.183_31, 1.2497e-3, -3.1683e-6],
    [0.329_62, 1.4011e-3, -2.9069e-6],
    [0.571_09, 1.7625e-3, -6.7036e-6],
];

/// What measured flour takes up of what the equations give: 1.84 kJ/(kg K), the middle of 1.80 to 1.88 at 12
/// to 13.5 % of moisture (Geankoplis, *Transport Processes and Separation Process Principles*, appendix
/// A.4-1; T31), over 1.997 for bread flour at 20 °C (T44).
const FLOUR_MEASURED: f64 = 1.84 / 1.997;

/// Something with a weight, by its components; what is flour is kept apart from the rest.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Stuff {
    /// Grams of each component in what is no flour.
    plain: [f64; COMPONENTS],
    /// Grams of each component in flour.
    flour: [f64; COMPONENTS],
}

impl Stuff {
    /// Takes a weight of something apart; nothing where its composition is not known.
    pub(crate) fn of(composition: &Composition, is_flour: bool, grams: f64) -> Option<Self> {
        let number = |part: &Option<Ratio>| part.as_ref().map(Ratio::to_f64);
        let water = number(&composition.water)?;
        let fibre = number(&composition.fibre).unwrap_or_default();
        let carbohydrate = number(&composition.carbohydrate).unwrap_or_default();
        let ash = number(&composition.ash).or_else(|| number(&composition.salt));
        let parts = [
            number(&composition.protein).unwrap_or_default(),
            number(&composition.fat).unwrap_or_default(),
            (carbohydrate - fibre).max(0.0),
            fibre,
            ash.unwrap_or_default(),
            water,
        ];
        let sum: f64 = parts.iter().sum();
        // A row that says nothing of half of itself is as good as none.
        if sum < 50.0 {
            return None;
        }
        let parts = parts.map(|part| part / sum * grams);
        Some(if is_flour {
            Self {
                flour: parts,
                ..Self::default()
            }
        } else {
            Self {
                plain: parts,
                ..Self::default()
            }
        })
    }

    /// Makes a weight of water.
    #[cfg(test)]
    pub(crate) fn water(grams: f64) -> Self {
        Self {
            plain: [0.0, 0.0, 0.0, 0.0, 0.0, grams],
            ..Self::default()
        }
    }

    /// Puts two things together.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        Self {
            plain: add(&self.plain, &other.plain),
            flour: add(&self.flour, &other.flour),
        }
    }

    /// Gives a multiple.
    pub(crate) fn times(&self, factor: f64) -> Self {
        Self {
            plain: self.plain.map(|part| part * factor),
            flour: self.flour.map(|part| part * factor),
        }
    }

    /// Gives the weight in grams.
    pub(crate) fn grams(&self) -> f64 {
        self.plain.iter().chain(&self.flour).sum()
    }

    /// Says whether half of it and more is water.
    pub(crate) fn is_wet(&self) -> bool {
        self.plain[COMPONENTS - 1] + self.flour[COMPONENTS - 1] >= self.grams() / 2.0
    }

    /// Gives the heat in joules that it holds above 0 °C, flour as it was measured.
    pub(crate) fn heat(&self, celsius: f64) -> f64 {
        sum_with(&SPECIFIC_HEAT, &self.plain, |curve| integral(curve, celsius))
            + FLOUR_MEASURED * sum_with(&SPECIFIC_HEAT, &self.flour, |curve| integral(curve, celsius))
    }

    /// Gives the temperature at which it holds some heat in joules; nought for nothing.
    pub(crate) fn temperature(&self, heat: f64) -> f64 {
        if self.grams() <= 0.0 {
            return 0.0;
        }
        let (mut low, mut high) = COVERED;
        // Forty halvings of 190 degrees leave far less than any thermometer shows.
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if self.heat(middle) < heat {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }

    /// Gives the specific heat in kJ/(kg K), flour as it was measured; nought of nothing.
    pub(crate) fn specific_heat(&self, celsius: f64) -> f64 {
        let heat = sum_with(&SPECIFIC_HEAT, &self.plain, |curve| value(curve, celsius))
            + FLOUR_MEASURED * sum_with(&SPECIFIC_HEAT, &self.flour, |curve| value(curve, celsius));
        per(heat, self.grams())
    }

    /// Gives the specific heat in kJ/(kg K) by the equations alone; nought of nothing.
    pub(crate) fn choi_okos(&self, celsius: f64) -> f64 {
        let all = add(&self.plain, &self.flour);
        per(
            sum_with(&SPECIFIC_HEAT, &all, |curve| value(curve, celsius)),
            self.grams(),
        )
    }

    /// Gives the density in kg/m³ without any gas in it: the volumes add up, not the densities (T49).
    pub(crate) fn density(&self, celsius: f64) -> f64 {
        let all = add(&self.plain, &self.flour);
        per(
            self.grams(),
            sum_with(&DENSITY, &all, |curve| 1.0 / value(curve, celsius)),
        )
    }

    /// Gives the conductivity in W/(m K): each component by its share of the volume.
    pub(crate) fn conductivity(&self, celsius: f64) -> f64 {
        let all = add(&self.plain, &self.flour);
        let curves = CONDUCTIVITY.iter().zip(&DENSITY).zip(&all);
        let (mut led, mut volume) = (0.0, 0.0);
        for ((lead, density), grams) in curves {
            let part = grams / value(density, celsius);
            led += part * value(lead, celsius);
            volume += part;
        }
        per(led, volume)
    }
}

/// Gives the mean specific heat of water between 0 °C and a temperature, kJ/(kg K).
pub(crate) fn of_water(celsius: f64) -> f64 {
    let [constant, linear, square] = SPECIFIC_HEAT[COMPONENTS - 1];
    constant + celsius * (linear / 2.0 + celsius * square / 3.0)
}

fn add(left: &[f64; COMPONENTS], right: &[f64; COMPONENTS]) -> [f64; COMPONENTS] {
    std::array::from_fn(|at| {
        let part = |side: &[f64; COMPONENTS]| side.get(at).copied().unwrap_or_default();
        part(left) + part(right)
    })
}

/// Sums what each component adds by a property of its curve.
fn sum_with(
    curves: &[Curve; COMPONENTS],
    grams: &[f64; COMPONENTS],
    property: impl Fn(&Curve) -> f64,
) -> f64 {
    let parts = curves.iter().zip(grams);
    parts.map(|(curve, grams)| grams * property(curve)).sum()
}

/// Gives a curve at a temperature.
pub(crate) fn value([constant, linear, square]: &Curve, celsius: f64) -> f64 {
    constant + celsius * (linear + celsius * square)
}

/// Gives the area below a curve from 0 °C to a temperature.
fn integral([constant, linear, square]: &Curve, celsius: f64) -> f64 {
    celsius * (constant + celsius * (linear / 2.0 + celsius * square / 3.0))
}

fn per(amount: f64, of: f64) -> f64 {
    if of > 0.0 { amount / of } else { 0.0 }
}
