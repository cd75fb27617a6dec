//! What a card says of the defaults that it rests on: those that were made use of, and no others.

use crate::kitchen::Kitchen;

/// Everything that a figure may rest on is given: a place for none of it is left to the bakehouse.
const GIVEN: &str = "title: Given\nmakes: 2 loaves\nbake loss: 11 %\n\ndough:\n  1000 g bread flour\n  680 g  water at 22 \
                     C\n  20 g   salt\n  10 g   instant yeast\n  10 min knead\n  2 h    rise at 24 C\n  45 min preheat to \
                     240 C\n  40 min bake at 230 C until core 96 C\n  2 h    cool\n";

/// The same with places in the place of degrees, and with what nothing says.
const OPEN: &str = "title: Open\nmakes: 2 loaves\n\ndough:\n  1000 g bread flour\n  680 g  water at tap\n  20 g   salt\n  \
                    200 g  starter\n  10 min knead\n  2 h    rise at room\n  8 h    chill at fridge\n  40 min bake at 230 \
                    C\n";

/// A bakehouse that says all of it.
const HOUSE: &str = "bakehouse: Oxlip Row\nroom: 23 C\nfridge: 5 C\nproofer: 28 C\ntap: 14 C\naltitude: 400 \
                     m\npreheat: 30 min\nscales: 1 g, 0.1 g under 50 g\nbake loss: 11 %\nstarter: 100 % hydration, bread flour\n";

/// Gives the keys of the defaults that a recipe rests on.
fn assumed(kitchen: &Kitchen, recipe: &str, asked: &[&str]) -> Vec<String> {
    let served = kitchen
        .run(&[&["sheet", recipe, "--json"], asked].concat())
        .ends_with(0);
    let document: serde_json::Value = serde_json::from_str(&served.out).unwrap();
    let keys = document["sheet"]["assumed"].as_array().unwrap().iter();
    keys.map(|key| key.as_str().unwrap().to_owned()).collect()
}

/// Gives the foot of a recipe's card as plain words.
fn foot(kitchen: &Kitchen) -> String {
    let _ = kitchen.run(&["build", ".", "--out", "cards"]).ends_with(0);
    let card = kitchen.read("cards/a.html");
    let (_, foot) = card.rsplit_once("<footer>").unwrap();
    let mut text = String::new();
    let mut is_tag = false;
    for letter in foot.chars() {
        match letter {
            '<' | '>' => is_tag = letter == '<',
            _ if !is_tag => text.push(if letter == '\u{a0}' { ' ' } else { letter }),
            _ => {}
        }
    }
    text
}

#[test]
fn a_card_names_the_defaults_that_it_rests_on() {
    let kitchen = Kitchen::new().file("a.loaf", OPEN);
    let keys = [
        "bake loss",
        "room",
        "fridge",
        "tap",
        "altitude",
        "preheat",
        "starter",
    ];
    assert_eq!(assumed(&kitchen, "a.loaf", &[]), keys);
    let foot = foot(&kitchen);
    for said in [
        "bake loss 12 %",
        "room 21 °C",
        "fridge 4 °C",
        "tap 15 °C",
        "45 min",
        "starter 100 %",
    ] {
        assert!(
            foot.to_lowercase().contains(&said.to_lowercase()),
            "{said}: {foot}"
        );
    }
    assert!(!foot.contains("27 °C"), "{foot}");
}

#[test]
fn what_is_given_is_no_default() {
    let given = Kitchen::new().file("a.loaf", GIVEN);
    assert!(
        assumed(&given, "a.loaf", &[]).is_empty(),
        "{:?}",
        assumed(&given, "a.loaf", &[])
    );
    assert!(!foot(&given).contains("Assumed"), "{}", foot(&given));
    let housed = Kitchen::new().file("bakehouse.loaf", HOUSE).file("a.loaf", OPEN);
    assert!(
        assumed(&housed, "a.loaf", &[]).is_empty(),
        "{:?}",
        assumed(&housed, "a.loaf", &[])
    );
    assert!(!foot(&housed).contains("Assumed"), "{}", foot(&housed));
}

/// Each default by the one thing that makes use of it.
#[test]
fn a_default_is_named_where_something_rests_on_it() {
    let wanted =
        |degrees: &str| GIVEN.replace("bake loss", &format!("dough temperature: {degrees}\nbake loss"));
    let scald = |water: &str| {
        format!("{GIVEN}\nscald:\n  50 g   whole rye flour\n  100 g  {water}\n  1 h    rest\n")
            .replace("  10 g   instant", "  all    scald\n  10 g   instant")
    };
    let cases = [
        // Water for a dough temperature: the flour is as warm as the room; the tap counts where ice does.
        (wanted("27 C"), vec!["room"]),
        (wanted("14 C"), vec!["room", "tap"]),
        (
            wanted("26 C").replace("20 g   salt", "100 g  milk\n  20 g   salt"),
            vec!["room", "fridge"],
        ),
        // What boils, boils where it stands; warm water does not.
        (scald("boiling water"), vec!["room", "altitude"]),
        (scald("water at 75 C"), vec!["room"]),
        (GIVEN.replace("rise at 24 C", "rise at proofer"), vec!["proofer"]),
        (GIVEN.replace(" until core 96 C", ""), vec!["altitude"]),
        (GIVEN.replace("  45 min preheat to 240 C\n", ""), vec!["preheat"]),
        (GIVEN.replace("bake loss: 11 %\n", ""), vec!["bake loss"]),
        (GIVEN.replace("10 g   instant", "0.3 g  instant"), vec!["scales"]),
        (
            GIVEN.replace("10 g   instant yeast", "200 g  starter"),
            vec!["starter"],
        ),
        (
            GIVEN.replace("10 g   instant yeast", "200 g  starter hydration 50 %"),
            vec![],
        ),
        (
            GIVEN.replace("10 g   instant yeast", "200 g  old dough"),
            vec!["old dough"],
        ),
    ];
    for (text, keys) in cases {
        let kitchen = Kitchen::new().file("a.loaf", &text);
        assert_eq!(assumed(&kitchen, "a.loaf", &[]), keys, "{text}");
    }
    let kitchen = Kitchen::new().file("a.loaf", GIVEN);
    assert_eq!(assumed(&kitchen, "a.loaf", &["--room", "17 C"]), ["room"]);
}
