//! The rules that bakers work out water and ice by, with a pencil. Owns the formulas with their sources;
//! knows no recipe. Temperatures are in °C; friction is a difference of degrees and never a temperature.

use super::heat::of_water;

/// The heat that ice at 0 °C takes up to melt, kJ/kg: a handbook value (T30).
pub(crate) const MELTING: f64 = 333.55;

/// Specific heat of ice in kJ/(kg K), as handbooks round it (T25).
const ICE: f64 = 2.05;

/// Specific heat of cool tap water in kJ/(kg K), as handbooks round it (T21).
const COOL_WATER: f64 = 4.186;

/// The degrees that melting ice is worth in the rule of the baking texts: 144 Btu/lb less the 32 of the
/// scale give the 112 of the rule in °F, and 144 / 1.8 the 80 of the rule in °C (T20, T21, from memory).
const ICE_DEGREES: f64 = 80.0;

/// The hottest water that is recommended, in °C: yeast dies from about 55 to 60 °C (T13, general microbiology,
/// from memory).
pub const HOTTEST: f64 = 50.0;

/// The three-factor rule: water = 3 × dough − room − flour − friction (T1, San Francisco Baking Institute).
pub(crate) fn three_factor(dough: f64, room: f64, flour: f64, friction: f64) -> f64 {
    3.0 * dough - room - flour - friction
}

/// The four-factor rule, with a preferment: water = 4 × dough − room − flour − preferment − friction (T3).
pub(crate) fn four_factor(dough: f64, room: f64, flour: f64, preferment: f64, friction: f64) -> f64 {
    4.0 * dough - room - flour - preferment - friction
}

/// The two-factor rule of British plant bakers: water = 2 × dough − flour (T10, from memory).
pub(crate) fn two_factor(dough: f64, flour: f64) -> f64 {
    2.0 * dough - flour
}

/// The friction that a trial mix shows: 3 × dough as measured − room − flour − water (T6).
pub(crate) fn friction_of_trial(dough: f64, room: f64, flour: f64, water: f64) -> f64 {
    3.0 * dough - room - flour - water
}

/// Gives the ice that takes the place of as much of the water, by the rule of the trade:
/// water × (tap − needed) / (tap + 80).
pub(crate) fn ice_by_rule(water: f64, tap: f64, needed: f64) -> f64 {
    water * (tap - needed) / (tap + ICE_DEGREES)
}

/// Gives the ice that takes the place of as much of the water, by its heat: ice of some temperature warms,
/// melts and warms again; the rest of the water cools from the tap's temperature.
pub(crate) fn ice_by_heat(water: f64, tap: f64, needed: f64, ice: f64) -> f64 {
    // Water that should be colder than it can be is made up for by more ice: the sum only counts its heat.
    water * COOL_WATER * (tap - needed) / (COOL_WATER * tap + cold_of_ice(ice))
}

/// Gives the heat that a gram of ice takes up until it is water at 0 °C, in joules.
pub(crate) fn cold_of_ice(celsius: f64) -> f64 {
    MELTING + ICE * (0.0 - celsius).max(0.0)
}

/// Gives the temperature of water that brings some heat, in J, with a weight, in g.
pub(crate) fn water_of_heat(heat: f64, grams: f64) -> f64 {
    // The specific heat of water changes by less than 1 % from 0 to 100 °C, so that a few rounds settle it.
    (0..8).fold(heat / (grams * 4.186), |celsius, _| {
        heat / (grams * of_water(celsius))
    })
}

#[cfg(test)]
mod tests {
    use super::{ICE_DEGREES, MELTING, ice_by_heat, ice_by_rule, two_factor, water_of_heat};
    use crate::sheet::warmth::heat::Stuff;

    fn celsius(fahrenheit: f64) -> f64 {
        (fahrenheit - 32.0) / 1.8
    }

    #[track_caller]
    fn near(found: f64, wanted: f64, tolerance: f64) {
        assert!((found - wanted).abs() <= tolerance, "{found}, not {wanted}");
    }

    /// T10: dough 30.5, flour 21 °C: 40 °C. Cauvain and Young, *Technology of Breadmaking* (from memory).
    #[test]
    fn t10_two_factor_rule() {
        near(two_factor(30.5, 21.0), 40.0, 1e-9);
    }

    /// T20 to T22: 4 of 40 at 68 for 50 °F; 4 kg of 40 at 20 for 10 °C; °F and °C agree. The rule of the
    /// baking texts (from memory).
    #[test]
    fn t20_to_t22_ice_in_place_of_water() {
        near(ice_by_rule(40.0, celsius(68.0), celsius(50.0)), 4.0, 0.004);
        near(ice_by_rule(40.0, 20.0, 10.0), 4.0, 0.02);
        near(ice_by_heat(40.0, 20.0, 10.0, 0.0), 4.01, 0.02);
        near(ice_by_rule(20.0, 24.0, 15.0), 1.731, 0.001);
        near(ice_by_rule(20.0, celsius(75.2), celsius(59.0)), 1.731, 0.001);
    }

    /// T23, T!: ice added to all the water would be 4.45 kg, and the dough wetter; 4.00 kg take its place.
    #[test]
    fn t23_ice_is_not_added() {
        let ice = ice_by_rule(40.0, 20.0, 10.0);
        assert!((ice - 4.45).abs() > 0.3);
        // What is left of the tap water and the ice are as heavy as the water was, and as warm as needed.
        let warm = (40.0 - ice) * 20.0 - ice * ICE_DEGREES;
        near(warm / 40.0, 10.0, 1e-9);
    }

    /// T24: a supplier's table, lb of ice for a lb of water, tap and needed in °F; every cell within 0.006.
    #[test]
    fn t24_a_table_of_the_trade() {
        for (tap, needed, ice) in [
            (32.0, 0.0, 0.222),
            (80.0, 0.0, 0.416),
            (80.0, 50.0, 0.155),
            (80.0, 20.0, 0.309),
            (70.0, 50.0, 0.109),
            (60.0, 40.0, 0.115),
            (60.0, 0.0, 0.345),
            (50.0, 0.0, 0.305),
            (80.0, -30.0, 0.573),
            (32.0, -30.0, 0.430),
        ] {
            near(ice_by_rule(1.0, celsius(tap), celsius(needed)), ice, 0.006);
        }
    }

    /// T25: colder ice is less ice: 1.60 kg at -18 °C against 1.73 at 0 °C. Computed.
    #[test]
    fn t25_colder_ice() {
        near(ice_by_heat(20.0, 24.0, 15.0, -18.0), 1.60, 0.02);
        near(ice_by_heat(20.0, 24.0, 15.0, 0.0), 1.73, 0.02);
    }

    /// T26: 350 lb of ice against water at 32 °F store 50,400 Btu, 4.2 tons for an hour. A trade article.
    #[test]
    fn t26_cooling_stored_in_ice() {
        let stored = 350.0 * ICE_DEGREES * 1.8;
        near(stored, 50_400.0, 1e-6);
        near(stored / 12_000.0, 4.2, 1e-9);
    }

    /// T30: 333.55 kJ/kg are 143.4 Btu/lb and 79.7 cal/g. A handbook value.
    #[test]
    fn t30_melting_ice() {
        near(MELTING / 2.326, 143.4, 0.05);
        near(MELTING / 4.1868, 79.7, 0.05);
    }

    /// The temperature of water is found back from its heat.
    #[test]
    fn water_is_found_back_from_its_heat() {
        for wanted in [0.5, 12.0, 40.0, 95.0] {
            near(
                water_of_heat(Stuff::water(650.0).heat(wanted), 650.0),
                wanted,
                0.02,
            );
        }
    }
}
