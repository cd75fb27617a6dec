//! Rows T1 to T34, D1 to D23 and H31 as recipes: water temperatures, ice, friction, scalds, cores. Rows that are
//! a formula with constants of their own are tested beside the formula, in `src/sheet/warmth`.

use loafwright::diag::Code;
use loafwright::sheet::{Advice, DoneSort, Doneness, ScaldHeat, Starch, WaterPlan, work_back};

use crate::bread::{Bread, bake, near};

/// A bakehouse with temperatures and a friction by hand, all as they are written.
fn house(room: &str, tap: &str, friction: &str) -> String {
    format!("bakehouse: Oxlip Row\nroom: {room}\ntap: {tap}\nfriction: {friction} by hand\n")
}

/// A dough that wants a temperature, with lines between flour and mixing.
fn dough(wanted: &str, lines: &str) -> String {
    format!("title: Warm\ndough temperature: {wanted}\n\ndough:\n{lines}  5 min mix by hand\n  2 h bulk\n")
}

fn plan(house: &str, recipe: &str) -> WaterPlan {
    let bread = bake(recipe, Some(house), None);
    bread.sheet().warmth.water.clone().expect("a plan for the water")
}

fn fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

const PLAIN: &str = "  1000 g bread flour\n  650 g water\n  20 g salt\n";

/// T1: 75, flour and room 65, friction 8 °F: 87 °F. San Francisco Baking Institute, course notes of 2009.
///
/// T8: the same in °C: 30.56 °C. T!, U11: the friction is 4.44 degrees and not the -13.3 of a thermometer.
#[test]
fn t1_t8_three_factors() {
    let plan_f = plan(&house("65 F", "60 F", "8 F"), &dough("75 F", PLAIN));
    near(fahrenheit(plan_f.three_factor.celsius), 87.0, 1e-9);
    near(plan_f.friction.factor, 4.444, 0.001);
    let plan_c = plan(&house("18.33 C", "15 C", "4.44 C"), &dough("23.89 C", PLAIN));
    near(plan_c.three_factor.celsius, 30.56, 0.02);
}

/// T2: 80, flour 65, room 75, friction 35 °F: 65 °F. *Pizza Today*, June 2018.
#[test]
fn t2_three_factors_with_much_friction() {
    let lines = "  1000 g bread flour at 65 F\n  650 g water\n";
    let plan = plan(&house("75 F", "60 F", "35 F"), &dough("80 F", lines));
    near(fahrenheit(plan.three_factor.celsius), 65.0, 1e-9);
}

/// T3: 75; room, flour and starter 71; friction 20 °F: 67 °F by four factors. A cooking magazine.
#[test]
fn t3_four_factors() {
    let lines = "  1000 g bread flour\n  650 g water\n  200 g starter\n";
    let plan = plan(&house("71 F", "60 F", "20 F"), &dough("75 F", lines));
    let four = plan.four_factor.expect("a preferment");
    near(fahrenheit(four.celsius), 67.0, 1e-9);
}

/// T4: without friction, shop 85, flour 67, water 82, and 72, 62, 100 °F, both give 78 °F. Wihlfahrt, *A Treatise
/// on Baking*, 1920s.
#[test]
fn t4_a_plain_average() {
    for (room, flour, water) in [("85 F", "67 F", 82.0), ("72 F", "62 F", 100.0)] {
        let lines = format!("  1000 g bread flour at {flour}\n  650 g water\n");
        let plan = plan(&house(room, "60 F", "0 F"), &dough("78 F", &lines));
        near(fahrenheit(plan.three_factor.celsius), water, 1e-9);
    }
}

/// T5: 80, flour 68, room 72, friction 20 °F: 80 °F. Gisslen, *Professional Baking* (from memory).
#[test]
fn t5_three_factors() {
    let lines = "  1000 g bread flour at 68 F\n  650 g water\n";
    let plan = plan(&house("72 F", "60 F", "20 F"), &dough("80 F", lines));
    near(fahrenheit(plan.three_factor.celsius), 80.0, 1e-9);
}

/// T6: room 72, flour 68, water 80, dough 80 °F: a friction of 20 °F. The method of a navy training course, the
/// figures of T5 turned about.
#[test]
fn t6_friction_from_a_record() {
    let text =
        dough("80 F", PLAIN) + "\nbake 2026-03-14:\n  72 F room\n  68 F flour\n  80 F water\n  80 F dough\n";
    let bread = bake(&text, Some(&house("70 F", "60 F", "8 F")), None);
    let (recipe, sheet) = bread.compiled.plain.as_ref().expect("a sheet");
    let found = work_back(recipe, sheet, &bread.compiled.records[0]);
    near(found.friction.expect("a friction") * 1.8, 20.0, 1e-9);
    // By heat the water counts for more than the flour, and the room for nothing.
    let rise = found.rise.expect("a rise") * 1.8;
    assert!((0.5..7.0).contains(&rise), "{rise}");
}

/// T7: starting values by hand, stand mixer and food processor, 5, 20 and 25 °F, which are 2.8, 11.1 and 13.9
/// degrees of Celsius. A cooking magazine; U11 for the degrees.
#[test]
fn t7_starting_values() {
    for (words, degrees) in [
        ("mix by hand", 2.8),
        ("mix in the stand mixer", 11.1),
        ("mix in the food processor", 13.9),
        ("mix", 2.8),
    ] {
        let text = dough("25 C", PLAIN).replace("mix by hand", words);
        let plan = plan("bakehouse: Oxlip Row\n", &text);
        near(plan.friction.factor, degrees, 0.1);
        assert!(plan.friction.assumed);
    }
}

/// T9: a base temperature of 54 °C, air and flour 20: water 14 °C. A note on the French rule.
#[test]
fn t9_base_temperature() {
    // The base is three times the dough less the friction: 3 x 22 - 12.
    let plan = plan(&house("20 C", "10 C", "12 C"), &dough("22 C", PLAIN));
    near(plan.three_factor.celsius, 14.0, 1e-9);
}

/// T10: two factors, dough 30.5, flour 21: 40 °C. Cauvain and Young, *Technology of Breadmaking* (from memory).
#[test]
fn t10_two_factors() {
    let plan = plan(&house("21 C", "10 C", "0 C"), &dough("30.5 C", PLAIN));
    near(plan.two_factor.celsius, 40.0, 1e-9);
}

/// T11: 25, room 21, flour 20, preferment 22, friction 8: 29 °C. The rule of T3.
#[test]
fn t11_four_factors_in_celsius() {
    let lines = "  1000 g bread flour at 20 C\n  650 g water\n  200 g starter at 22 C\n";
    let plan = plan(&house("21 C", "10 C", "8 C"), &dough("25 C", lines));
    near(plan.four_factor.expect("a preferment").celsius, 29.0, 1e-9);
}

/// T12: 24, room and flour 30, friction 14: -2 °C, which is ice. T27: for 10 kg of water at 20, 2.20 kg of it.
#[test]
fn t12_t27_water_below_freezing_is_ice() {
    let lines = "  15 kg bread flour\n  10 kg water\n";
    let plan = plan(&house("30 C", "20 C", "14 C"), &dough("24 C", lines));
    near(plan.three_factor.celsius, -2.0, 1e-9);
    let Advice::Ice(grams) = plan.three_factor.advice else {
        panic!("{:?}", plan.three_factor.advice);
    };
    near(grams, 2200.0, 10.0);
}

/// T21: 40 kg at 20 for 10 °C: 4.00 kg of ice in place of water; T23, T!: and not 4.45 kg on top of it. The rule of
/// the baking texts (from memory) and an article that mixes the two.
#[test]
fn t21_t23_ice_takes_the_place_of_water() {
    let lines = "  60 kg bread flour\n  40 kg water\n";
    let bread = bake(&dough("20 C", lines), Some(&house("20 C", "20 C", "10 C")), None);
    let plan = bread.sheet().warmth.water.clone().expect("a plan");
    near(plan.three_factor.celsius, 10.0, 1e-9);
    let Advice::Ice(grams) = plan.three_factor.advice else {
        panic!("{:?}", plan.three_factor.advice);
    };
    near(grams, 4000.0, 20.0);
    // The dough stays what it was.
    near(bread.dough().to_f64(), 100_000.0, 1e-9);
}

/// T13: above 50 °C no water is recommended, and the reason is said: yeast dies from about 55 to 60 °C (general
/// microbiology, from memory).
#[test]
fn t13_water_too_hot_for_yeast() {
    let lines = "  1000 g bread flour at 4 C\n  600 g water\n  10 g instant yeast\n";
    let bread = bake(&dough("32 C", lines), Some(&house("15 C", "10 C", "0 C")), None);
    let plan = bread.sheet().warmth.water.clone().expect("a plan");
    assert_eq!(plan.balance.advice, Advice::TooHot, "{:?}", plan.balance);
    assert!(bread.says(Code::OutOfReach));
    let page = bread.page();
    assert!(
        page.contains("no water does it") && page.contains("yeast suffers"),
        "{page}"
    );
    assert!(!page.contains("water at "), "a temperature is recommended");
}

/// T32: 1000 g of flour at 21 and 650 g of water for 25 °C, no friction: 27.70 °C. Measured specific heat of flour
/// (Geankoplis, T31), computed.
#[test]
fn t32_balance_of_heat() {
    let lines = "  1000 g bread flour at 21 C\n  650 g water\n";
    let plan = plan(&house("21 C", "10 C", "0 C"), &dough("25 C", lines));
    near(plan.balance.celsius, 27.70, 0.05);
}

/// T31: butter 2.30 and whole milk 3.85 kJ/(kg K) as measured (Geankoplis), within 4 %, since the table's butter has
/// 18 % of water; T44: bread flour 1.997 by the equations.
#[test]
fn t31_t44_specific_heats_of_the_table() {
    let lines = "  1000 g bread flour\n  600 g water\n  50 g whole milk\n  50 g unsalted butter\n";
    let plan = plan(&house("20 C", "10 C", "0 C"), &dough("25 C", lines));
    let part = |name: &str| {
        plan.parts
            .iter()
            .find(|part| part.name == name)
            .expect("the part")
    };
    near(part("bread flour").choi_okos, 1.997, 0.001);
    near(part("bread flour").specific_heat, 1.84, 0.001);
    near(part("whole milk").specific_heat, 3.85, 0.06);
    near(part("unsalted butter").specific_heat, 2.30, 0.09);
}

/// T45: dough of 100, 65, 2 and 1 at 25 °C: 2.840 kJ/(kg K). Choi and Okos, computed.
#[test]
fn t45_specific_heat_of_dough() {
    let lines = "  1000 g bread flour\n  650 g water\n  20 g salt\n";
    let plan = plan(&house("25 C", "10 C", "0 C"), &dough("25 C", lines));
    near(plan.dough_specific_heat, 2.840, 0.002);
}

fn scald(altitude: &str, lines: &str) -> ScaldHeat {
    let text = format!(
        "title: Scalded\n\nscald:\n{lines}\ndough:\n  400 g bread flour\n  200 g water\n  all scald\n  5 g salt\n  5 min mix\n"
    );
    let house = format!("bakehouse: Oxlip Row\naltitude: {altitude}\nroom: 20 C\n");
    bake(&text, Some(&house), None).sheet().warmth.scalds[0].clone()
}

/// T33, D21, D23: flour at 20 °C with as much boiling water comes to 75.6 °C, with twice as much to 85.6, with five
/// times to 93.5; and the starch swells, which it does from 58 to 64 °C (D10, from memory). T34: at 1500 m, where
/// water boils at 95 °C, 72.1, and it still does. Measured specific heat of flour (T31), computed.
#[test]
fn t33_t34_d10_d23_scalds() {
    for (altitude, water, wanted) in [
        ("0 m", 100, 75.6),
        ("0 m", 200, 85.6),
        ("0 m", 500, 93.5),
        ("1500 m", 100, 72.1),
    ] {
        let lines = format!("  100 g bread flour\n  {water} g water at 100 C\n  5 min stir\n");
        let found = scald(altitude, &lines);
        near(found.mixed, wanted, 0.5);
        assert_eq!(found.starch, Starch::Swells, "{found:?}");
    }
    let warm = scald(
        "0 m",
        "  100 g bread flour\n  100 g water at 60 C\n  5 min stir\n",
    );
    assert_eq!(warm.starch, Starch::Raw, "{warm:?}");
    let rye = scald(
        "0 m",
        "  100 g whole rye flour\n  120 g water at 85 C\n  5 min stir\n",
    );
    // D11: rye starch swells from 55 to 70 °C (from memory).
    assert_eq!(rye.swells, (55.0, 70.0));
    assert_eq!(rye.starch, Starch::Partly, "{rye:?}");
}

/// D20: a water roux of 1 to 5 that is heated to 65 °C has swollen. Chen, *65 °C Bread Doctor* (from memory).
#[test]
fn d20_a_water_roux() {
    let lines = "  20 g bread flour\n  100 g water\n  5 min cook to 65 C\n";
    let found = scald("0 m", lines);
    assert!(found.mixed < 25.0, "{found:?}");
    assert_eq!(found.heated, Some(65.0));
    assert_eq!(found.starch, Starch::Swells);
}

/// D22: 5 % of the flour in a scald of 1 to 5 takes 25 of 65 parts of water, 38.5 %. Computed.
#[test]
fn d22_the_water_of_a_scald() {
    let text = "title: Roux\nflour: 1 kg\n\nscald, 5 % of the flour:\n  1 part bread flour\n  5 parts water\n  5 min cook to 65 C\n\n\
                formula:\n  100 % bread flour\n  65 % water\n  2 % salt\n  all scald\n  5 min mix\n";
    let bread = bake(text, None, None);
    let scalded = bread.grams("scald", "water").to_f64();
    near(scalded / bread.total("water").to_f64() * 100.0, 38.5, 0.1);
}

fn done(lines: &str, altitude: &str) -> (Doneness, Bread) {
    let text = format!(
        "title: Done\n\ndough:\n  500 g bread flour\n{lines}  5 min mix\n  2 h bulk\n  40 min bake at 220 C\n"
    );
    let house = format!("bakehouse: Oxlip Row\naltitude: {altitude}\n");
    let bread = bake(&text, Some(&house), None);
    (bread.sheet().warmth.done.clone().expect("a core"), bread)
}

/// D1: soft and enriched 85 to 91 °C; D2: lean and crusty 93 to 98 °C, both of a baker's post on a list, low
/// authority; D3: rye 98 °C, a maker of Latvian rye. D4: 87.8 °C at the least (from memory); D5: 92 to 96 °C in a
/// plant (from memory), within the 2 °C of the rows.
#[test]
fn d1_to_d5_cores() {
    let (lean, _) = done("  340 g water\n  10 g salt\n  5 g instant yeast\n", "0 m");
    assert_eq!(lean.sort, DoneSort::Lean);
    near(lean.usual.0, (200.0 - 32.0) / 1.8, 2.0);
    near(lean.usual.1, (208.0 - 32.0) / 1.8, 2.0);
    assert!(lean.usual.0 - 2.0 <= 92.0 && lean.usual.1 >= 96.0);
    let (enriched, _) = done(
        "  200 g whole milk\n  75 g egg\n  75 g unsalted butter\n  60 g sugar\n  9 g salt\n  7 g instant yeast\n",
        "0 m",
    );
    assert_eq!(enriched.sort, DoneSort::Enriched);
    near(enriched.usual.0, (185.0 - 32.0) / 1.8, 2.0);
    near(enriched.usual.1, (195.0 - 32.0) / 1.8, 2.0);
    assert!(enriched.usual.0 <= 87.8 && 87.8 <= enriched.usual.1);
    let (rye, _) = done(
        "  600 g whole rye flour\n  800 g water\n  20 g salt\n  5 g instant yeast\n",
        "0 m",
    );
    assert_eq!(rye.sort, DoneSort::Rye);
    assert!(rye.usual.0 <= 98.0 && 98.0 <= rye.usual.1);
}

/// D6, H30: up a mountain the core stops below the local boiling point, 92.4 °C at 2286 m, and the card says so.
#[test]
fn d6_the_core_stops_below_the_boiling_point() {
    let (lean, bread) = done("  340 g water\n  10 g salt\n  5 g instant yeast\n", "2286 m");
    near(lean.boiling, 92.4, 0.3);
    assert!(lean.highest() < lean.boiling);
    assert!(bread.page().contains("water boils at"));
    let (_, bread) = done("  340 g water\n  10 g salt\n  5 g instant yeast\n", "0 m");
    assert!(!bread.page().contains("water boils at"));
}

/// H31: the linear rules in print, 1.8 and 1.9 °F for 1000 ft, lie within 0.8 °F of the boiling point up to 10,000
/// ft: 203.0 and 202.5 at 5000, 194.0 and 193.0 at 10,000. Found, computed.
#[test]
fn h31_linear_rules() {
    for (feet, rules) in [(5000, [203.0, 202.5]), (10_000, [194.0, 193.0])] {
        let altitude = format!("{feet} ft");
        let (found, _) = done("  340 g water\n  10 g salt\n  5 g instant yeast\n", &altitude);
        for rule in rules {
            near(fahrenheit(found.boiling), rule, 0.8);
        }
    }
}

/// B21: loaves of 2.5 lb that come out with 2 lb 5.5 loth of 32 have lost 13.1 %. Rumford, *Essays*. T!, P21: the loss is
/// a share of the dough, not an allowance on the bread, which would be 15.1 %.
#[test]
fn b21_p21_bake_loss_measured() {
    let text = "title: Army rye\nmakes: 2 loaves of 2.5 lb\n\ndough:\n  100 % whole rye flour\n  61.1 % water\n  2 % salt\n  \
                5 min mix\n  1 h bake at 220 C\n\nbake 2026-03-14:\n  985.145 g loaf\n";
    let bread = bake(text, None, None);
    let (recipe, sheet) = bread.compiled.plain.as_ref().expect("a sheet");
    let found = work_back(recipe, sheet, &bread.compiled.records[0]);
    near(found.bake_loss.expect("a loss") * 100.0, 13.125, 0.01);
}
