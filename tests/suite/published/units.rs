//! Rows U1 to U11 and U20: units, temperatures and differences of temperature, by way of recipes.

use loafwright::diag::Code;
use loafwright::quantity::Ratio;

use crate::bread::{exactly, near, place_of, published, published_text};

/// U1, U2: the avoirdupois pound and ounce. NIST Special Publication 811, App. B, and Handbook 44, App. C (from
/// memory, not looked up; four decimals of the ounce seen in a ticket that quotes 21 CFR 101.9(b)(5)(viii)).
#[test]
fn u1_u2_pound_and_ounce() {
    let bread = published("u-weights");
    assert_eq!(bread.grams("dough", "water"), exactly("453.59237"));
    assert_eq!(bread.grams("dough", "whole milk"), exactly("28.349523125"));
    assert_eq!(bread.grams("dough", "honey"), exactly("566.9904625"));
    assert_eq!(bread.grams("dough", "fine salt"), exactly("0.5"));
}

/// U3 to U6: the U.S. fluid ounce, cup, tablespoon and teaspoon, of a liquid of one gram a millilitre. NIST SP
/// 811 (from memory, not looked up; four decimals and more seen in quotations of the same CFR text).
#[test]
fn u3_to_u6_spoons_and_cups() {
    let bread = published("u-volumes");
    let lines = &bread.block("dough").lines;
    let grams: Vec<&Ratio> = lines
        .iter()
        .map(|line| &line.weight.as_ref().unwrap().0)
        .collect();
    let wanted = [
        "1000",
        "29.5735295625",
        "236.5882365",
        "14.78676478125",
        "4.92892159375",
        "250",
    ];
    assert_eq!(grams, wanted.map(exactly).iter().collect::<Vec<_>>());
}

/// U7: the inch, by a tin of a thousand cubic inches. NIST SP 811 (from memory, not looked up).
#[test]
fn u7_cubic_inch() {
    let bread = published("u07-inches");
    let tin = bread.sheet().tin.as_ref().expect("a tin");
    assert_eq!(tin.tin.volume.0, exactly("16387.064"));
}

/// U8, U9: degrees Fahrenheit to Celsius. NIST SP 811 (from memory, not looked up); the pairs 41 °F / 5 °C and
/// 135 °F / 57 °C as printed in the FDA Food Code.
#[test]
fn u8_u9_fahrenheit_to_celsius() {
    let bread = published("u-temperatures");
    let lanes = &bread.sheet().schedule.lanes;
    let steps = lanes.iter().flat_map(|lane| &lane.steps);
    let found: Vec<f64> = steps
        .filter_map(|placed| placed.step.at.as_ref())
        .map(|at| at.middle().0.to_f64())
        .collect();
    let wanted = [
        -40.0, -17.78, 0.0, 5.0, 57.22, 100.0, 176.67, 190.56, 204.44, 218.33, 232.22, 246.11, 260.0,
    ];
    assert_eq!(found.len(), wanted.len());
    for (found, wanted) in found.into_iter().zip(wanted) {
        near(found, wanted, 0.01);
    }
}

/// U10: Celsius to degrees Fahrenheit, of temperatures written in a recipe. NIST SP 811 (from memory, not
/// looked up).
#[test]
fn u10_celsius_to_fahrenheit() {
    for (celsius, fahrenheit) in [(25, 77.0), (28, 82.4), (96, 204.8), (230, 446.0), (250, 482.0)] {
        let text = format!(
            "title: Hot\n\ndough:\n  1 kg bread flour\n  600 g water\n  1 h bake at {celsius} C until done\n"
        );
        let bread = crate::bread::bake(&text, None, None);
        let step = &bread.sheet().schedule.lanes[0].steps[0].step;
        near(
            step.at.as_ref().unwrap().middle().fahrenheit().to_f64(),
            fahrenheit,
            0.05,
        );
    }
}

/// U11, T!: friction is a difference, so 24 °F are 13.33 °C and not -4.44 °C. By the definition of the interval.
#[test]
fn u11_friction_is_a_difference() {
    let (place, report) = place_of(Some(&published_text("bakehouse")));
    assert!(!report.has_errors());
    let (by, friction) = &place.friction[0];
    assert_eq!(by, "hand");
    near(friction.0.to_f64(), 13.33, 0.01);
    assert!((friction.0.to_f64() + 4.44).abs() > 1.0);
}

/// U20, T!: a cup is 200 to 250 ml by country, so the one that was meant is named. By U4 and the Australian and
/// Japanese cups.
#[test]
fn u20_a_cup_says_whose_it_is() {
    let bread = published("u-volumes");
    assert!(bread.says(Code::VolumeForWeight));
    let cups = bread
        .report
        .iter()
        .filter(|fault| fault.code == Code::VolumeForWeight);
    let named = cups.filter(|fault| fault.primary.text == "the U.S. cup of 236.6 ml");
    assert_eq!(named.count(), 1);
}
