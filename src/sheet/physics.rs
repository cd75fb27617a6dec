//! Physics that the checks rest on. Owns formulas with their sources; knows no recipes and prints nothing.
//!
//! Binary numbers are right here: what nature does is measured, and no weight or share passes through.

/// Nought on the Celsius scale, in kelvin.
const ZERO_CELSIUS: f64 = 273.15;

/// The critical point of water: kelvin and pascal, as the saturation equation takes them.
const CRITICAL: (f64, f64) = (647.096, 22_064_000.0);

/// Air pressure at a height above the sea, in pascal.
///
/// The ICAO standard atmosphere below 11,000 m: 101,325 Pa and 15 °C at the sea, 6.5 K less a kilometre
/// (ICAO Doc 7488; constants from memory, not looked up).
fn air_pressure(altitude_m: f64) -> f64 {
    let cooling = 0.0065 * altitude_m.clamp(-1_000.0, 11_000.0);
    101_325.0 * (1.0 - cooling / 288.15).powf(5.255_88)
}

/// Pressure of water vapour over boiling water, in pascal.
///
/// Wagner and Pruss, the saturation equation, J. Phys. Chem. Ref. Data 22 (1993) 783 (coefficients from
/// memory, not looked up; the test holds them against published boiling points).
fn vapour_pressure(celsius: f64) -> f64 {
    let kelvin = celsius + ZERO_CELSIUS;
    let (critical_kelvin, critical_pascal) = CRITICAL;
    let below = 1.0 - kelvin / critical_kelvin;
    let terms = [
        (-7.859_517_83, 1.0),
        (1.844_082_59, 1.5),
        (-11.786_649_7, 3.0),
        (22.680_741_1, 3.5),
        (-15.961_871_9, 4.0),
        (1.801_225_02, 7.5),
    ];
    let sum: f64 = terms
        .iter()
        .map(|(factor, power)| factor * below.powf(*power))
        .sum();
    critical_pascal * (critical_kelvin / kelvin * sum).exp()
}

/// Says whether water boils at a temperature, or did so below it, at a height above the sea, both metric.
///
/// The same as a look at [`boiling_point`], in a fortieth of its time.
pub(crate) fn boils_at(celsius: f64, altitude_m: f64) -> bool {
    vapour_pressure(celsius) >= air_pressure(altitude_m)
}

/// Gives the temperature at which water boils at a height above the sea, both metric.
///
/// The core of a bread cannot pass it while there is water in the crumb.
pub(crate) fn boiling_point(altitude_m: f64) -> f64 {
    let pressure = air_pressure(altitude_m);
    let (mut low, mut high) = (40.0, 120.0);
    // Forty halvings of eighty degrees leave far less than any thermometer shows.
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if vapour_pressure(middle) < pressure {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::boiling_point;

    /// Published value H30: ICAO standard atmosphere and the Wagner and Pruss saturation equation.
    #[test]
    fn h30_boiling_points_by_altitude() {
        for (feet, fahrenheit) in [
            (0.0, 212.0),
            (1000.0, 210.1),
            (2000.0, 208.3),
            (3000.0, 206.5),
            (5000.0, 202.8),
            (7500.0, 198.2),
            (10_000.0, 193.7),
        ] {
            let found = boiling_point(feet * 0.3048) * 1.8 + 32.0;
            assert!((found - fahrenheit).abs() < 0.3, "{feet} ft: {found} °F");
        }
        for (metres, celsius) in [
            (500.0, 98.3),
            (1000.0, 96.7),
            (1500.0, 95.0),
            (2000.0, 93.3),
            (2500.0, 91.6),
            (3000.0, 90.0),
        ] {
            let found = boiling_point(metres);
            assert!((found - celsius).abs() < 0.2, "{metres} m: {found} °C");
        }
    }
}
