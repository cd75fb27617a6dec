//! Sizes at and past the limits, through the program: whatever is asked for, there is a sheet that adds up or a fault
//! that says why there is none.

use crate::kitchen::Kitchen;

/// A recipe with all that is scaled: a stage, part of which is kept, a filling and pieces.
const PLAITS: &str = "title: Plaits\nmakes: 2 plaits of 800 g\n\nlevain, 100 g to keep:\n  100 %  bread flour\n  100 %  \
                      water\n  10 %   starter\n  8 h    ripen at room\n\ndough:\n  100 %  bread flour\n  68 %   water\n  \
                      20 %   levain\n  2 %    salt\n  0.01 % instant yeast\n  10 min knead\n  5 min  fill with the \
                      filling\n  40 min bake at 230 C\n\nfilling:\n  100 g  raisins\n";

/// A recipe that leaves its size open.
const OPEN: &str = "title: Open\n\ndough:\n  100 %  bread flour\n  68 %   water\n  2 %    salt\n  10 min knead\n  40 \
                    min bake at 230 C\n";

/// Runs the program and sees that it did not fall over.
fn settled(kitchen: &Kitchen, arguments: &[&str]) -> (String, i32) {
    let served = kitchen.run(arguments);
    let code = served.code.unwrap_or(-1);
    assert!((0..=2).contains(&code), "{arguments:?}: {code}\n{}", served.err);
    assert!(!served.err.contains("panicked"), "{arguments:?}\n{}", served.err);
    (served.out + &served.err, code)
}

#[test]
fn no_size_that_is_asked_for_makes_the_program_fall_over() {
    let kitchen = Kitchen::new().file("plaits.loaf", PLAITS).file("open.loaf", OPEN);
    let sizes = [
        ("--makes", "1000000 loaves of 1000000 kg"),
        ("--makes", "1000000 loaves of 200 kg"),
        ("--makes", "1000000 loaves of 200.001 kg"),
        ("--makes", "200 loaves of 1000000 kg"),
        ("--makes", "190 loaves of 1000000 kg baked"),
        ("--makes", "1000000 loaves of 0.000000001 g"),
        ("--makes", "1 loaf of 0.00000000000000000000001 g"),
        ("--flour", "1000000 kg"),
        ("--flour", "1 g"),
        ("--tin", "1000 x 1000 x 1000 cm, 0.0000001 ml per g"),
        ("--tin", "1000 x 1000 x 1000 cm, 0.005 ml per g"),
        ("--tin", "0.1 x 0.1 x 0.1 cm, 10000000 ml per g"),
        ("--fit", "1000 x 1000 x 1000 cm"),
        ("--fit", "0.1 x 0.1 x 0.1 cm"),
    ];
    for (option, size) in sizes {
        for recipe in ["plaits.loaf", "open.loaf"] {
            for units in ["g", "lb, mg"] {
                let _ = settled(&kitchen, &["sheet", recipe, option, size, "--units", units]);
            }
        }
        let _ = settled(&kitchen, &["build", option, size, "--out", "cards"]);
    }
}

/// Every recipe that `check` finds no error in has a sheet and a card.
#[test]
fn what_check_passes_is_made() {
    let mut refused = 0;
    for makes in [
        "10000 loaves of 1000000 kg",
        "200 loaves of 1000000 kg",
        "1000000 loaves of 200 kg",
        "1 loaf of 0.001 g",
    ] {
        let kitchen = Kitchen::new().file("a.loaf", PLAITS.replace("2 plaits of 800 g", makes));
        let (_, checked) = settled(&kitchen, &["check"]);
        let (told, shown) = settled(&kitchen, &["sheet", "a.loaf"]);
        assert_eq!(checked, shown, "{makes}: {told}");
        let (told, built) = settled(&kitchen, &["build", "--out", "cards"]);
        assert_eq!(checked, built, "{makes}: {told}");
        refused += checked;
    }
    assert_eq!(refused, 1);
}

/// The heaviest dough that is made is shown to the last gram, in every unit; a gram more for each piece is refused.
#[test]
fn the_heaviest_dough_is_shown_as_it_is() {
    let kitchen = Kitchen::new().file("open.loaf", OPEN);
    let most = [
        "sheet",
        "open.loaf",
        "--makes",
        "200 loaves of 1000000 kg",
        "--units",
    ];
    for (unit, dough) in [
        ("g", "200 000 000 000 g"),
        ("kg", "200 000 000 kg"),
        ("mg", "200 000 000 000 000 mg"),
    ] {
        let (told, code) = settled(&kitchen, &[&most[..], &[unit]].concat());
        assert_eq!(code, 0, "{told}");
        let told = told.replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ");
        assert!(told.contains(dough), "{unit}: {told}");
    }
    let (told, code) = settled(
        &kitchen,
        &["sheet", "open.loaf", "--makes", "1000000 loaves of 200001 g"],
    );
    assert_eq!(code, 2);
    assert!(
        told.contains("absurd-amount") && told.contains("two hundred thousand tonnes"),
        "{told}"
    );
    // What the recipe makes of a size may be past the bound where the size itself is not.
    let (told, code) = settled(
        &kitchen,
        &[
            "sheet",
            "open.loaf",
            "--tin",
            "1000 x 1000 x 1000 cm, 0.001 ml per g",
        ],
    );
    assert_eq!(code, 1);
    assert!(
        told.contains("the dough would weigh more than two hundred thousand tonnes"),
        "{told}"
    );
}

/// The units that a refusal names are those that are taken.
#[test]
fn every_unit_that_is_named_is_taken() {
    let kitchen = Kitchen::new().file("plaits.loaf", PLAITS);
    let refused = kitchen
        .run(&["sheet", "plaits.loaf", "--units", "stone"])
        .ends_with(2);
    let (_, list) = refused.err.split_once("write some of ").unwrap();
    let (list, _) = list.split_once(", with commas").unwrap();
    assert_eq!(list, "g, kg, mg, oz, lb");
    for unit in list.split(", ") {
        let _ = kitchen
            .run(&["sheet", "plaits.loaf", "--units", unit])
            .ends_with(0);
    }
}
