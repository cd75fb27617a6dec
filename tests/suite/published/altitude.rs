//! Row H30: water boils cooler higher up, and a core cannot get hotter than that.

use loafwright::diag::Code;

use crate::bread::{Bread, bake, near};

/// Asks for a core of so many degrees at a height.
fn loaf_at(metres: f64, core: f64) -> Bread {
    let bakehouse = format!("bakehouse: Oxlip Row\naltitude: {metres:.1} m\n");
    let text = format!(
        "title: Up there\n\ndough:\n  1 kg bread flour\n  650 g water\n  20 g salt\n  40 min bake at 230 C until core \
         {core:.2} C\n"
    );
    bake(&text, Some(&bakehouse), None)
}

/// Reads the boiling point off what is said of a core that no height allows.
fn boiling_point(metres: f64) -> f64 {
    let bread = loaf_at(metres, 105.0);
    let fault = bread.report.iter().find(|fault| fault.code == Code::OutOfReach);
    let label = fault.expect("a core out of reach").primary.text.clone();
    let mut words = label.split_whitespace();
    words.find_map(|word| word.parse().ok()).expect("a boiling point")
}

/// H30: boiling points by height, 0.2 °C and 0.3 °F. ICAO standard atmosphere and the saturation equation of
/// Wagner and Pruss, computed.
#[test]
fn h30_boiling_point_by_altitude() {
    let metric = [
        (500.0, 98.3),
        (1000.0, 96.7),
        (1500.0, 95.0),
        (2000.0, 93.3),
        (2500.0, 91.6),
        (3000.0, 90.0),
    ];
    for (metres, wanted) in metric {
        near(boiling_point(metres), wanted, 0.2);
    }
    let feet = [
        (0.0, 212.0),
        (1000.0, 210.1),
        (2000.0, 208.3),
        (3000.0, 206.5),
        (5000.0, 202.8),
        (7500.0, 198.2),
        (10000.0, 193.7),
    ];
    for (feet, wanted) in feet {
        let found = boiling_point(feet * 0.3048) * 1.8 + 32.0;
        near(found, wanted, 0.3);
    }
}

/// D6: 96 °C cannot be reached at 2286 m, where water boils at 92.4 °C. Computed from H30.
#[test]
fn d6_a_core_above_the_boiling_point() {
    assert!(loaf_at(2286.0, 96.0).says(Code::OutOfReach));
    assert!(!loaf_at(250.0, 96.0).says(Code::OutOfReach));
}
