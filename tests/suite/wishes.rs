//! Cards of what is asked for at the bench: another size, a tin, another starter. Read off the pages that are made.

use crate::kitchen::{Kitchen, Served};

const SOUR: &str = "title: Sour\nmakes: 2 loaves of 800 g\n\nlevain:\n  100 %  bread flour\n  100 %  water\n  50 %  starter\n  8 h  ripen \
                    at 24 C\n\ndough:\n  100 %  bread flour\n  65 %  water\n  2 %  salt\n  30 %  levain\n  10 min  mix\n  3 h  bulk\n  40 min  \
                    bake at 230 C\n\nvariation salty:\n  2.5 %  salt\n";

const YEASTED: &str = "title: Yeasted\n\ndough:\n  1000 g  bread flour\n  650 g  water\n  20 g  salt\n  20 g  fresh yeast\n  10 min  mix\n  2 \
                       h  bulk\n  40 min  bake at 230 C\n";

/// Scales that leave no weight in doubt.
const HOUSE: &str = "bakehouse: Oxlip Row\nscales: 0.1 g\nbake loss: 12 %\n";

fn kitchen() -> Kitchen {
    Kitchen::new()
        .file("bakehouse.loaf", HOUSE)
        .file("sour.loaf", SOUR)
        .file("yeasted.loaf", YEASTED)
}

fn build(kitchen: &Kitchen, asked: &[&str]) -> Served {
    kitchen.run(&[&["build", "."], asked].concat()).ends_with(0)
}

/// Gives a page as one line of plain words.
fn words(kitchen: &Kitchen, page: &str) -> String {
    let page = kitchen.read(&format!("cards/{page}"));
    let mut text = String::new();
    let mut is_tag = false;
    for letter in page.chars() {
        match letter {
            '<' => is_tag = true,
            '>' => (is_tag, text) = (false, text + " "),
            _ if !is_tag => text.push(letter),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn cards_are_made_for_another_number_of_pieces() {
    let kitchen = kitchen();
    let _ = build(&kitchen, &["--makes", "3 loaves of 900 g"]);
    for page in ["sour.html", "sour.read.html", "yeasted.html"] {
        let card = words(&kitchen, page);
        assert!(card.contains("3 loaves of 900 g"), "{page}: {card}");
    }
    let _ = build(&kitchen, &["--flour", "5 kg"]);
    assert!(words(&kitchen, "yeasted.html").contains("5000 g"));
    let _ = build(&kitchen, &[]);
    assert!(words(&kitchen, "sour.html").contains("2 loaves of 800 g"));
}

/// 2000 ml at 2.5 ml for a gram are 800 g, at 3.2 are 625.
#[test]
fn cards_are_sized_to_tins() {
    let kitchen = kitchen();
    let _ = build(&kitchen, &["--fit", "open 20 x 10 x 10 cm, 2.5 ml per g"]);
    for page in ["sour.html", "yeasted.html"] {
        let card = words(&kitchen, page);
        assert!(card.contains("1 tin of 800 g dough"), "{page}: {card}");
        assert!(card.contains("open 20 x 10 x 10 cm"), "{page}: {card}");
    }
    let _ = build(&kitchen, &["--tin", "open 20 x 10 x 10 cm, 3.2 ml per g"]);
    assert!(words(&kitchen, "sour.html").contains("2 loaves of 625 g dough"));
}

/// A recipe that cannot have the size is told of; its card is that of the recipe, and the others are sized.
#[test]
fn a_size_that_one_recipe_cannot_have_leaves_its_card_plain() {
    let tinned = SOUR.replace(
        "makes: 2 loaves of 800 g",
        "makes: 1 loaf\ntin: open 20 x 10 x 8 cm, 2 ml per g",
    );
    let kitchen = kitchen().file("tinned.loaf", tinned.replace("title: Sour", "title: Tinned"));
    // The tin does not say how full it is, and only one of the recipes does.
    let served = build(&kitchen, &["--tin", "open 20 x 10 x 10 cm"]);
    for name in ["sour.loaf", "yeasted.loaf"] {
        let told = format!(
            "{name}: not of the size that is asked for: the tin asked for does not say how much dough goes in"
        );
        assert!(served.err.contains(&told), "{}", served.err);
    }
    assert!(!served.err.contains("tinned.loaf: not"), "{}", served.err);
    assert!(words(&kitchen, "sour.html").contains("2 loaves of 800 g"));
    assert!(words(&kitchen, "tinned.html").contains("1 loaf of 1000 g"));
    // What is wrong in a recipe is told as ever, and once.
    let faulty = kitchen.file(
        "faulty.loaf",
        "title: Faulty\n\ndough:\n  100 g bread flour\n  7 xx water\n",
    );
    let served = faulty.run(&["build", ".", "--makes", "3 loaves"]).ends_with(1);
    assert_eq!(served.err.matches("faulty.loaf:5").count(), 1, "{}", served.err);
    let slip = faulty.run(&["build", ".", "--makes", "loaves"]).ends_with(2);
    assert!(slip.err.contains("`--makes` cannot be read"), "{}", slip.err);
}

/// B26: what a starter of 125 % brings too much of is left out; the card says so, and its readers' page stays as the
/// formula is.
#[test]
fn cards_are_corrected_for_the_starter_at_hand() {
    let kitchen = kitchen();
    let _ = build(&kitchen, &[]);
    let plain = kitchen.read("cards/sour.read.html");
    let served = build(&kitchen, &["--starter", "hydration 125 %"]);
    assert!(
        served
            .err
            .contains("yeasted.loaf: not corrected for the starter: this recipe puts no starter in"),
        "{}",
        served.err
    );
    let card = words(&kitchen, "sour.html");
    assert!(card.contains("With a starter of 125 % hydration"), "{card}");
    assert!(
        card.contains("The dough has the flour and the water that it should have."),
        "{card}"
    );
    assert!(!words(&kitchen, "yeasted.html").contains("With a starter"));
    assert_eq!(kitchen.read("cards/sour.read.html"), plain);
    // Line for line it is what the sheet says.
    let sheet = kitchen
        .run(&["sheet", "sour.loaf", "--starter", "hydration 125 %", "--json"])
        .ends_with(0);
    let sheet: serde_json::Value = serde_json::from_str(&sheet.out).unwrap();
    for change in sheet["sheet"]["answers"]["starter"]["changes"]
        .as_array()
        .unwrap()
    {
        let grams = change["after_g"].as_f64().unwrap();
        let shown = format!("{grams:.1} g {}", change["new"].as_str().unwrap());
        assert!(card.contains(&shown), "{shown}: {card}");
    }
    let slip = kitchen.run(&["build", ".", "--starter", "runny"]).ends_with(2);
    assert!(slip.err.contains("`--starter` cannot be read"), "{}", slip.err);
}

/// A wish that a sound recipe cannot have has a name of its own, apart from words that cannot be read.
#[test]
fn a_wish_that_cannot_be_had_is_no_slip_of_the_pen() {
    let kitchen = kitchen();
    let refused = [
        (
            "yeasted.loaf",
            "--starter",
            "hydration 125 %",
            "this recipe puts no starter in",
        ),
        ("sour.loaf", "--swap", "honey instead of sugar", "sugar"),
        (
            "yeasted.loaf",
            "--swap",
            "butter instead of fresh yeast",
            "does not do the work of",
        ),
    ];
    for (recipe, option, wish, why) in refused {
        let served = kitchen.run(&["sheet", recipe, option, wish]);
        assert!(
            served.err.contains("error[wish-refused]"),
            "{wish}: {}",
            served.err
        );
        assert!(served.err.contains(why), "{wish}: {}", served.err);
    }
    for (option, wish) in [
        ("--starter", "hydration 900 %"),
        ("--swap", "honey"),
        ("--why", "crumb"),
    ] {
        let served = kitchen.run(&["sheet", "sour.loaf", option, wish]).ends_with(2);
        assert!(served.err.contains("error[bad-value]"), "{wish}: {}", served.err);
    }
    let _ = kitchen.run(&["explain", "wish-refused"]).ends_with(0);
}

/// A card calls the tins that its recipe is sized for by its own language.
#[test]
fn tins_are_named_in_the_language_of_the_card() {
    let german = YEASTED.replace("title: Yeasted\n", "title: Kasten\nlanguage: de\n");
    let kitchen = Kitchen::new().file("kasten.loaf", german);
    let tin = "open 20 x 10 x 10 cm, 2.5 ml per g";
    let _ = build(&kitchen, &["--fit", tin, "--fit", tin]);
    for page in ["kasten.html", "kasten.read.html", "index.html"] {
        let text = words(&kitchen, page);
        assert!(!text.contains(" tins"), "{page}: {text}");
    }
    assert!(
        words(&kitchen, "kasten.html").contains("2 Formen zu 800 g Teig"),
        "{}",
        words(&kitchen, "kasten.html")
    );
}

/// Sizes and wishes go together.
#[test]
fn a_size_a_starter_and_a_swap_go_together() {
    let kitchen = kitchen();
    let _ = build(
        &kitchen,
        &[
            "--makes",
            "4 loaves of 500 g",
            "--starter",
            "hydration 125 %",
            "--swap",
            "rye flour instead of bread flour",
        ],
    );
    let card = words(&kitchen, "sour.html");
    assert!(card.contains("4 loaves of 500 g"), "{card}");
    assert!(card.contains("With a starter of 125 % hydration"), "{card}");
    assert!(card.contains("Rye flour instead of bread flour"), "{card}");
}
