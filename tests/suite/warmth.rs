//! Warmth and time from outside: another room asked for, what is refused, what a card says of an estimate.

use serde_json::Value;

use crate::kitchen::Kitchen;

const HOUSE: &str = "bakehouse: Oxlip Row\nroom: 21 C\n";

const LEVAIN: &str = "title: Levain\nmakes: 2 loaves of 850 g\ndough temperature: 24 C\n\nlevain:\n  100 % bread flour\n  \
                      100 % water\n  20 % starter\n  3 min stir\n  6-8 h ripen\n\ndough:\n  100 % bread flour\n  68 % water\n  \
                      40 % levain\n  2 % salt\n  8 min mix by hand\n  4-5 h bulk at room with 2 folds every 1 h\n  10 min \
                      shape\n  12 h retard in the fridge\n  1 h proof at 27 C\n  40 min bake at 230 C until core 96 C\n  \
                      2 h cool\n";

fn sheet(text: &str, arguments: &[&str]) -> Value {
    let all = [&["sheet", "a.loaf", "--json"], arguments].concat();
    let kitchen = Kitchen::new().file("a.loaf", text).file("bakehouse.loaf", HOUSE);
    let served = kitchen.run(&all).ends_with(0);
    serde_json::from_str::<Value>(&served.out).unwrap()["sheet"].clone()
}

/// Gives least and most minutes of a step that hangs on the room.
fn takes(sheet: &Value, words: &str) -> (f64, f64) {
    let steps = sheet["warmth"]["timing"]["steps"].as_array().unwrap();
    let step = steps
        .iter()
        .find(|step| step["words"] == words)
        .expect("the step");
    let takes = &step["estimate"]["takes_minutes"];
    (takes["least"].as_f64().unwrap(), takes["most"].as_f64().unwrap())
}

#[test]
fn a_cold_room_takes_longer_and_a_warm_one_shorter() {
    let cold = takes(&sheet(LEVAIN, &["--room", "17 C"]), "bulk");
    let warm = takes(&sheet(LEVAIN, &["--room", "25 C"]), "bulk");
    assert!(cold.0 > 240.0 && cold.1 > 400.0, "{cold:?}");
    assert!(warm.0 < 240.0 && warm.1 <= 300.0, "{warm:?}");
    let same = takes(&sheet(LEVAIN, &["--room", "21 C"]), "bulk");
    assert_eq!(same, (240.0, 300.0));
    let fahrenheit = takes(&sheet(LEVAIN, &["--room", "62.6 F"]), "bulk");
    assert_eq!(fahrenheit, cold);
}

#[test]
fn only_rising_that_hangs_on_the_room_is_timed_anew() {
    let plain = sheet(LEVAIN, &[]);
    let moved = sheet(LEVAIN, &["--room", "17 C"]);
    assert_eq!(plain["warmth"]["timing"], Value::Null);
    let steps = moved["warmth"]["timing"]["steps"].as_array().unwrap();
    let words: Vec<&str> = steps.iter().map(|step| step["words"].as_str().unwrap()).collect();
    // `ripen` names no temperature, and `proof at 27 C` names one.
    assert_eq!(words, ["ripen", "bulk"]);
    let times = |sheet: &Value, words: &str| {
        let lanes = sheet["schedule"]["lanes"].as_array().unwrap().clone();
        let steps = lanes
            .iter()
            .flat_map(|lane| lane["steps"].as_array().unwrap().clone());
        let found = steps.into_iter().find(|step| step["words"] == words).unwrap();
        found["time_minutes"].clone()
    };
    for untouched in ["retard", "proof", "shape", "cool"] {
        assert_eq!(times(&plain, untouched), times(&moved, untouched), "{untouched}");
    }
    assert_eq!(
        times(&moved, "bulk")["least"].as_f64(),
        Some(takes(&moved, "bulk").0)
    );
    let whole = |sheet: &Value| sheet["schedule"]["whole_minutes"]["most"].as_f64().unwrap();
    assert!(whole(&moved) > whole(&plain));
    // The weights are what they were.
    assert_eq!(plain["total_formula"], moved["total_formula"]);
}

/// The dough is followed as it cools: one that starts warm in a cold room rises faster than one as cold as the
/// room.
#[test]
fn the_doughs_own_warmth_counts() {
    let cold_start = LEVAIN.replace("dough temperature: 24 C", "dough temperature: 18 C");
    let step = |text: &str| sheet(text, &["--room", "17 C"])["warmth"]["timing"]["steps"][1].clone();
    let (warm, cold) = (step(LEVAIN), step(&cold_start));
    assert_eq!(warm["estimate"]["begins_c"], 24);
    let ends = warm["estimate"]["ends_c"].as_f64().unwrap();
    assert!((17.0..21.0).contains(&ends), "{ends}");
    let growth = |step: &Value| step["estimate"]["growth"].as_f64().unwrap();
    assert!(growth(&warm) > growth(&cold));
}

/// The curves of sourdough are held against print from 10 to 34 °C, that of baker's yeast to 40: published values
/// F3 and F16.
#[test]
fn outside_of_its_sources_no_estimate_is_given() {
    let refused = |text: &str, room: &str| {
        let sheet = sheet(text, &["--room", room]);
        let steps = sheet["warmth"]["timing"]["steps"].as_array().unwrap().clone();
        let last = steps.last().unwrap().clone();
        (last["refused"].clone(), last["estimate"].clone())
    };
    for room in ["8 C", "36 C"] {
        assert_eq!(
            refused(LEVAIN, room),
            ("outside_source".into(), Value::Null),
            "{room}"
        );
    }
    let yeast = "title: Yeast\n\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n  5 g instant yeast\n  5 min mix\n  \
                 2 h bulk\n  35 min bake at 230 C\n";
    assert_eq!(refused(yeast, "36 C").0, Value::Null);
    assert_eq!(refused(yeast, "42 C").0, "outside_source");
    let slow = yeast.replace("2 h bulk", "300 days bulk");
    assert_eq!(refused(&slow, "17 C").0, "too_long");
    let flat = yeast.replace("  5 g instant yeast\n", "");
    assert_eq!(refused(&flat, "17 C").0, "no_leaven");
    let kitchen = Kitchen::new()
        .file("a.loaf", LEVAIN)
        .file("bakehouse.loaf", HOUSE);
    let served = kitchen.run(&["sheet", "a.loaf", "--room", "8 C"]).ends_with(0);
    assert!(
        served.out.contains("there is no estimate outside"),
        "{}",
        served.out
    );
}

#[test]
fn a_card_says_what_is_estimated() {
    let kitchen = Kitchen::new()
        .file("a.loaf", LEVAIN)
        .file("bakehouse.loaf", HOUSE);
    let _ = kitchen.run(&["build", "a.loaf", "--room", "17 C"]).ends_with(0);
    let page = kitchen.read("cards/a.html").replace('\u{a0}', " ");
    assert!(page.contains("an estimate; 4–5 h as written"), "{page}");
    assert!(page.contains("written for 21 °C"), "{page}");
    let _ = kitchen.run(&["build", "a.loaf"]).ends_with(0);
    assert!(!kitchen.read("cards/a.html").contains("an estimate; "));
}

#[test]
fn a_room_that_is_none_is_a_slip() {
    let kitchen = Kitchen::new().file("a.loaf", LEVAIN);
    for room in ["warm", "17", "room", "17 kg"] {
        let served = kitchen.run(&["sheet", "a.loaf", "--room", room]).ends_with(2);
        assert!(served.err.contains("--room"), "{}", served.err);
    }
}

/// A difference of degrees stays one: the bakehouse's friction of 24 °F warms by 4.4 degrees, and the sheet writes
/// 13.3 °C beside 24 °F and not beside 56.
#[test]
fn friction_is_shown_as_a_difference() {
    let house = "bakehouse: Oxlip Row\nroom: 21 C\nfriction: 24 F in spiral\n";
    let text = LEVAIN.replace("mix by hand", "mix in the spiral");
    let kitchen = Kitchen::new().file("a.loaf", text).file("bakehouse.loaf", house);
    let served = kitchen.run(&["sheet", "a.loaf"]).ends_with(0);
    let out = served.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("warms the dough by 4.4 °C · 8 °F"), "{out}");
    assert!(out.contains("the friction of 13.3 °C · 24 °F"), "{out}");
}

/// A dough as warm as its room, so that the rate of its leaven stays the same.
fn steady(leaven: &str) -> String {
    format!(
        "title: Steady\ndough temperature: 24 C\n\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n  {leaven}\n  5 min \
         mix by hand\n  4 h bulk at 24 C\n  1 h proof at 24 C\n  35 min bake at 230 C\n"
    )
}

fn leaven_steps(text: &str, share: &str) -> Vec<Value> {
    let sheet = sheet(text, &["--leaven", share]);
    sheet["warmth"]["leaven"]["steps"].as_array().unwrap().clone()
}

fn middle(step: &Value) -> f64 {
    step["estimate"]["middle_minutes"].as_f64().unwrap()
}

/// Half of the starter has to double first, which takes ln 2 over the growth of F1 at 24 °C, and only once; half of
/// the yeast of a shop works for twice as long, in every rise (common practice, no source).
#[test]
fn less_leaven_takes_longer() {
    let growth = 0.0124 * 12_f64.powf(2.981) * (-0.3355 * 12_f64).exp();
    let steps = leaven_steps(&steady("100 g starter"), "50 %");
    let wanted = 240.0 + 60.0 * std::f64::consts::LN_2 / growth;
    assert!(
        (middle(&steps[0]) - wanted).abs() < 0.2,
        "{} {wanted}",
        middle(&steps[0])
    );
    assert!((middle(&steps[1]) - 60.0).abs() < 0.2);
    let steps = leaven_steps(&steady("5 g instant yeast"), "50 %");
    assert!((middle(&steps[0]) - 480.0).abs() < 0.2);
    assert!((middle(&steps[1]) - 120.0).abs() < 0.2);
    // That the yeast multiplies as that of sourdough does is the other end of the range.
    let least = steps[0]["estimate"]["takes_minutes"]["least"].as_f64().unwrap();
    assert!((least - wanted).abs() <= 3.0, "{least} {wanted}");
}

#[test]
fn more_leaven_is_faster_until_no_time_is_left() {
    let steps = leaven_steps(&steady("100 g starter"), "200 %");
    assert!(middle(&steps[0]) < 150.0);
    let short = steady("100 g starter").replace("4 h bulk", "1 h bulk");
    assert_eq!(leaven_steps(&short, "200 %")[0]["refused"], "at_once");
}

/// It is an answer beside the sheet, whose weights and steps stay as they are written.
#[test]
fn another_amount_of_leaven_changes_no_step() {
    let text = steady("100 g starter");
    let (plain, asked) = (sheet(&text, &[]), sheet(&text, &["--leaven", "50 %"]));
    assert_eq!(plain["schedule"], asked["schedule"]);
    assert_eq!(plain["total_formula"], asked["total_formula"]);
    let kitchen = Kitchen::new().file("a.loaf", &text).file("bakehouse.loaf", HOUSE);
    let served = kitchen.run(&["sheet", "a.loaf", "--leaven", "50 %"]).ends_with(0);
    assert!(
        served.out.contains("With 50 % of the starter or yeast"),
        "{}",
        served.out
    );
    for share in ["10 %", "500 %", "half", "5"] {
        let served = kitchen.run(&["sheet", "a.loaf", "--leaven", share]).ends_with(2);
        assert!(served.err.contains("--leaven"), "{}", served.err);
    }
}

/// A core well below the band of its bread is hinted at, with what the band rests on in words; one inside it is not.
/// D2: a post in the Bread-Bakers mailing list (v108.n020.1), low authority; D3: a Latvian bakery's table of ready bread.
#[test]
fn a_low_core_is_hinted_at() {
    let told = |flour: &str, core: &str| {
        let text = steady("5 g instant yeast")
            .replace("bread flour", flour)
            .replace("bake at 230 C", &format!("bake at 230 C until core {core}"));
        let kitchen = Kitchen::new().file("a.loaf", text).file("bakehouse.loaf", HOUSE);
        let served = kitchen.run(&["check", "a.loaf"]).ends_with(0);
        served.out + &served.err
    };
    let lean = told("bread flour", "85 C");
    assert!(lean.contains("is low for a lean bread"), "{lean}");
    let source = "(a post in the Bread-Bakers mailing list, low authority)";
    assert!(lean.contains(source), "{lean}");
    let rye = told("whole rye flour", "85 C");
    assert!(rye.contains("is low for a rye bread"), "{rye}");
    assert!(rye.contains("(a Latvian bakery's table of ready bread)"), "{rye}");
    for core in ["92 C", "97 C"] {
        let said = told("bread flour", core);
        assert!(!said.contains("is low for"), "{said}");
    }
}

/// What a record shows when it is worked back stands on the card, friction as a difference in both scales.
#[test]
fn a_record_worked_back_stands_on_the_card() {
    let text = "title: Recorded\n\ndough:\n  500 g bread flour\n  325 g water\n  10 g salt\n  5 g instant yeast\n  5 min mix by \
                hand\n  2 h bulk\n  35 min bake at 230 C\n\nbake 2026-03-14:\n  72 F room\n  68 F flour\n  80 F water\n  80 F \
                dough\n  750 g loaf\n";
    let kitchen = Kitchen::new().file("a.loaf", text);
    let _ = kitchen.run(&["build", "a.loaf"]).ends_with(0);
    let page = kitchen.read("cards/a.html").replace('\u{a0}', " ");
    assert!(page.contains("friction 11.1 °C · 20 °F"), "{page}");
    // 840 g of dough, 750 of bread.
    assert!(page.contains("10.7 % lost in the oven"), "{page}");
}

/// A bread with a scald of 60 g of flour, and so much as this of its own beyond that.
fn scalded(lines: &str) -> String {
    format!(
        "title: Scalded\ndough temperature: 25 C\n\nscald:\n  60 g bread flour\n{lines}\ndough:\n  1000 g bread flour\n  \
         all scald\n  500 g water\n  20 g salt\n  10 min mix by hand\n"
    )
}

/// Gives what a part of the dough is counted with in the balance of the water.
fn counted_at(sheet: &Value, name: &str) -> f64 {
    let parts = sheet["warmth"]["water"]["parts"].as_array().unwrap();
    let part = parts.iter().find(|part| part["name"] == name).expect("the part");
    part["at_c"].as_f64().unwrap()
}

#[test]
fn a_cooked_scald_is_counted_as_hot_as_it_was_cooked() {
    for (step, celsius) in [
        ("5 min cook until core 65 C", 65.0),
        ("5 min cook to 65 C", 65.0),
        ("5 min cook", 100.0),
        ("5 min cook\n  5 min stir", 100.0),
    ] {
        let sheet = sheet(&scalded(&format!("  300 g whole milk\n  {step}\n")), &[]);
        let counted = counted_at(&sheet, "scald");
        assert!((counted - celsius).abs() < 0.1, "{step}: {counted}");
        let water = &sheet["warmth"]["water"]["balance"];
        assert_eq!(water["advice"], "ice", "{step}: {water}");
    }
}

/// What it waits in after the cook cools it by Newton's law; what stood before it does not.
#[test]
fn a_scald_cools_in_what_comes_after_the_cook() {
    let counted = |steps: &str| {
        let text = scalded(&format!("  300 g whole milk\n  {steps}\n"));
        counted_at(&sheet(&text, &[]), "scald")
    };
    let cooked = counted("1 h soak\n  5 min cook to 65 C");
    assert!((cooked - 65.0).abs() < 0.1, "{cooked}");
    let short = counted("5 min cook to 65 C\n  5 min rest");
    assert!((60.0..65.0).contains(&short), "{short}");
    let long = counted("5 min cook to 65 C\n  2 h cool");
    assert!((30.0..50.0).contains(&long), "{long}");
    let overnight = counted("5 min cook to 65 C\n  overnight rest at fridge");
    assert!((4.0..6.0).contains(&overnight), "{overnight}");
    let chilled = counted("5 min cook to 65 C\n  12 h chill");
    assert!((4.0..6.0).contains(&chilled), "{chilled}");
    let to = counted("5 min cook to 65 C\n  1 h cool to 30 C");
    assert!((to - 30.0).abs() < 1e-9, "{to}");
}

/// What goes in behind the cook cools it too.
#[test]
fn cold_milk_behind_the_cook_cools_a_scald() {
    let text = scalded("  200 g whole milk\n  5 min cook to 65 C\n  100 g whole milk\n  2 min stir\n");
    let counted = counted_at(&sheet(&text, &[]), "scald");
    assert!((44.0..50.0).contains(&counted), "{counted}");
}

/// H30: water boils at 90 °C at 3000 m, so that a scald of boiling water is cooler there, in the balance as in its
/// own sentence.
#[test]
fn a_scald_up_a_mountain_is_the_same_wherever_it_is_told_of() {
    let text = scalded("  300 g water at 100 C\n  5 min stir\n");
    let kitchen = Kitchen::new().file("a.loaf", &text).file(
        "bakehouse.loaf",
        "bakehouse: High\nroom: 20 C\naltitude: 3000 m\n",
    );
    let served = kitchen.run(&["sheet", "a.loaf", "--json"]).ends_with(0);
    let sheet = serde_json::from_str::<Value>(&served.out).unwrap()["sheet"].clone();
    let mixed = sheet["warmth"]["scalds"][0]["mixed_c"].as_f64().unwrap();
    assert!((83.0..85.0).contains(&mixed), "{mixed}");
    let counted = counted_at(&sheet, "scald");
    assert!((counted - mixed).abs() < 0.1, "{counted}, not {mixed}");
}

/// Water that is written as boiling or as ice water is given; the rest alone can be chosen. With too little rest the
/// whole is.
#[test]
fn only_the_water_that_is_not_given_is_tempered() {
    let water = |lines: &str| {
        let text = format!(
            "title: Two waters\ndough temperature: 25 C\n\ndough:\n  1000 g bread flour\n{lines}  20 g salt\n  10 min mix by \
             hand\n"
        );
        sheet(&text, &[])
    };
    let tempered = |sheet: &Value| sheet["warmth"]["water"]["liquid_g"].as_f64().unwrap();
    let one = water("  600 g water\n");
    assert!((tempered(&one) - 600.0).abs() < 1e-9);
    for (line, celsius) in [
        ("100 g boiling water", 100.0),
        ("100 g water, iced", 0.0),
        ("100 g ice water as water", 0.0),
        ("100 g ice water", 0.0),
        ("100 g hot water", 80.0),
    ] {
        let two = water(&format!("  500 g water\n  {line}\n"));
        assert!((tempered(&two) - 500.0).abs() < 1e-9, "{line}");
        let name = if line.contains("ice water") {
            "ice water"
        } else {
            "water"
        };
        let counted = counted_at(&two, name);
        assert!((counted - celsius).abs() < 0.1, "{line}: {counted}");
        // What the other water brings too much or too little of, the rest makes up for.
        let needed = |sheet: &Value| sheet["warmth"]["water"]["balance"]["water_c"].as_f64().unwrap();
        let mixed = (500.0 * needed(&two) + 100.0 * celsius) / 600.0;
        assert!((mixed - needed(&one)).abs() < 0.3, "{line}: {mixed}");
    }
    let all = water("  550 g warm water\n  50 g water\n");
    assert!((tempered(&all) - 600.0).abs() < 1e-9);
}

/// T13: above 50 °C no water is recommended, by no rule, and the reason is said on sheet and card. General
/// microbiology, from memory.
#[test]
fn no_rule_recommends_water_that_is_bad_for_yeast() {
    let text = |language: &str, wanted: &str| {
        format!(
            "title: Cold\nlanguage: {language}\ndough temperature: {wanted}\n\ndough:\n  1000 g bread flour\n  600 g water\n  20 g salt\n  \
             10 min mix by hand\n  2 h bulk\n  40 min bake at 230 C\n"
        )
    };
    let shown = |house: &str, language: &str, wanted: &str| {
        let kitchen = Kitchen::new()
            .file("a.loaf", text(language, wanted))
            .file("bakehouse.loaf", house);
        let sheet = kitchen.run(&["sheet", "a.loaf"]).ends_with(0).out;
        let _ = kitchen.run(&["build", "a.loaf"]).ends_with(0);
        let one_line = |text: &str| {
            let text = text.replace(['\u{a0}', '\u{202f}'], " ");
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        (one_line(&sheet), one_line(&kitchen.read("cards/a.html")))
    };
    let cold = "bakehouse: Cold\nroom: 2 C\ntap: 4 C\n";
    // 3 × 27 − 2 − 2 − 2.8 = 74 °C by the rule of three; 44 by heat.
    let (sheet, card) = shown(cold, "en", "27 C");
    for page in [&sheet, &card] {
        assert!(page.contains("water at 44 °C"), "{page}");
        assert!(
            page.contains("none (above 50 °C · 122 °F yeast suffers)"),
            "{page}"
        );
        assert!(!page.contains("74 °C"), "{page}");
    }
    for (language, said) in [
        ("de", "ohne Ergebnis (über 50 °C · 122 °F leidet die Hefe)"),
        ("fr", "aucune (au-delà de 50 °C · 122 °F, la levure souffre)"),
    ] {
        let (sheet, card) = shown(cold, language, "27 C");
        assert!(sheet.contains(said) && card.contains(said), "{sheet}");
    }
    // Where the balance itself is hotter than that, the paragraph says why there is no answer.
    let (sheet, card) = shown(cold, "en", "34 C");
    assert!(sheet.contains("no water does it"), "{sheet}");
    for page in [sheet.to_lowercase(), card.to_lowercase()] {
        assert!(
            page.contains(
                "it would be above 50 °c (122 °f), where yeast suffers: warm the flour or the room"
            ),
            "{page}"
        );
    }
    // Below 0 °C there is no water either: 3 × 20 − 38 − 38 − 13.9 = −30 °C is ice.
    let hot = "bakehouse: Hot\nroom: 38 C\ntap: 20 C\nfriction: 13.9 C by hand\n";
    let (sheet, card) = shown(hot, "en", "20 C");
    for page in [&sheet, &card] {
        assert!(!page.contains("−30 °C") && !page.contains("-30 °C"), "{page}");
    }
    // 600 × (20 + 29.9) / 100, rounded as the sheet rounds.
    assert!(sheet.contains("three factors 299 g of it as ice"), "{sheet}");
}

/// Sixty stages that each pour the two before them: every stage is looked at once, and not once for each way in which
/// it reaches the dough, which would take longer than the oven lasts.
#[test]
fn many_stages_that_pour_each_other_are_no_trouble() {
    let mut text = "title: Many\ndough temperature: 25 C\n\n".to_owned();
    for stage in 0..60 {
        text += &format!("soaker s{stage}:\n  100 g bread flour\n  100 g water at 90 C\n");
        for (back, grams) in [(1, 30), (2, 20)].into_iter().filter(|(back, _)| *back <= stage) {
            text += &format!("  {grams} g soaker s{}\n", stage - back);
        }
        text += "  8 h soak\n\n";
    }
    text += "dough:\n  1000 g bread flour\n  600 g water\n  30 g soaker s59\n  20 g salt\n  5 g instant yeast\n  10 min mix by \
             hand\n  2 h bulk\n  40 min bake at 230 C\n";
    let sheet = sheet(&text, &["--room", "18 C"]);
    let counted = counted_at(&sheet, "soaker s59");
    assert!((18.0..22.0).contains(&counted), "{counted}");
    assert!(takes(&sheet, "bulk").0 > 120.0);
}
