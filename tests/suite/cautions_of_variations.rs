//! Allergens and cautions of variations: who bakes one from the card is told what the recipe as written does not call
//! for, and under which name.

use crate::kitchen::Kitchen;

/// A lean dough with a head, and the entries of its variations.
fn bread(head: &str, variations: &str) -> String {
    format!(
        "title: Long loaf\nmakes: 1 loaf\n{head}\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n  4 g instant yeast\n  10 min mix\n  3 h bulk at 24 C\n  40 min bake at 230 C\n\n{variations}"
    )
}

const NUTTY: &str = "variation nutty:\n  60 g walnuts after mix\n  20 g sesame seeds after mix\n  60 g honey\n  200 g whole milk instead of water\n";

/// Gives the words of what a card and a page for readers say, without their marks.
fn pages(text: &str) -> (String, String) {
    let kitchen = Kitchen::new().file("long.loaf", text);
    let _ = kitchen.run(&["build", "long.loaf", "--out", "out"]).ends_with(0);
    let words = |name: &str| {
        let html = kitchen.read(name);
        let care = html.split("<section class=\"care\">").skip(1);
        let care = care.map(|section| section.split("</section>").next().unwrap());
        let marked: String = care.collect();
        let parts = marked
            .split('<')
            .map(|part| part.split_once('>').map_or(part, |(_, text)| text));
        parts.collect::<String>().replace(['\u{a0}', '\u{202f}'], " ")
    };
    (words("out/long.html"), words("out/long.read.html"))
}

fn check(text: &str) -> String {
    let kitchen = Kitchen::new().file("long.loaf", text);
    kitchen.run(&["check", "--short", "long.loaf"]).ends_with(0).out
}

#[test]
fn the_card_names_allergens_and_cautions_of_a_variation() {
    let (card, _) = pages(&bread("", NUTTY));
    for said in [
        "this contains: wheat. Read",
        "Nutty: also milk, sesame and walnut.",
        "Nutty: Honey is not for babies under 12 months",
        "Nutty: This dough with whole milk spends 3 h 10 min above 5 °C",
    ] {
        assert!(card.contains(said), "{said}\n{card}");
    }
    let nutty = card.matches("Nutty").count();
    assert_eq!(
        nutty, 3,
        "what the plain bread says too is not said again\n{card}"
    );
}

#[test]
fn the_card_says_so_in_german_and_french() {
    for (language, said) in [
        (
            "de",
            [
                "Nutty: außerdem Milch, Sesamsamen und Walnüsse.",
                "Nutty: Honig ist nichts für Kinder",
            ],
        ),
        (
            "fr",
            [
                "Nutty : aussi lait, graines de sésame et noix.",
                "Nutty : Le miel n’est pas pour les bébés",
            ],
        ),
    ] {
        let (card, _) = pages(&bread(&format!("language: {language}\n"), NUTTY));
        for said in said {
            assert!(card.contains(said), "{said}\n{card}");
        }
    }
}

#[test]
fn a_page_for_readers_has_them_with_the_variation_itself() {
    let (_, page) = pages(&bread("", NUTTY));
    assert!(!page.contains("Nutty:"), "{page}");
    assert!(
        page.contains("this contains: wheat, milk, sesame and walnut."),
        "{page}"
    );
}

#[test]
fn check_tells_of_them_under_the_name_of_the_variation() {
    let told = check(&bread("", NUTTY));
    for said in [
        "variation `nutty`: it also contains milk, sesame, walnut",
        "variation `nutty`: honey is not for babies under 12 months",
        "variation `nutty`: the dough with whole milk is above 5 °C for 3 h 10 min",
    ] {
        assert_eq!(told.matches(said).count(), 1, "{said}\n{told}");
    }
    assert_eq!(told.lines().count(), 3, "{told}");
}

#[test]
fn a_variation_that_adds_nothing_is_not_named() {
    let plain = bread("", "variation slow:\n  2 g instant yeast\n  4 h bulk at 24 C\n");
    let (card, _) = pages(&plain);
    assert!(!card.contains("Slow"), "{card}");
    assert_eq!(check(&plain), "");
}

#[test]
fn variations_that_add_the_same_are_named_together() {
    let sweet = "variation sweet:\n  60 g honey\n  50 g rye flour\n\nvariation sweeter:\n  90 g honey\n  50 g rye flour\n";
    let (card, _) = pages(&bread("", sweet));
    for said in [
        "Sweet and Sweeter: also rye. The U.S. list of nine names none of it.",
        "Sweet and Sweeter: Honey is not",
    ] {
        assert!(card.contains(said), "{said}\n{card}");
    }
    assert_eq!(card.matches("Sweeter").count(), 2, "{card}");
    let told = check(&bread("", sweet));
    assert!(
        told.contains("variations `sweet`, `sweeter`: honey is not")
            && told.contains("`sweeter`: it also contains rye"),
        "{told}"
    );
    assert_eq!(told.lines().count(), 2, "{told}");
}

#[test]
fn an_ingredient_that_nobody_checked_and_a_claim_that_is_broken_are_told_too() {
    let spiced = bread(
        "tags: dairy-free\n",
        "variation spiced:\n  5 g corner-shop spice\n  30 g butter\n",
    );
    let (card, _) = pages(&spiced);
    for said in [
        "Spiced: also milk. Not checked: corner-shop spice.",
        "Spiced: The words of this recipe say “dairy-free”, but that does not agree with butter.",
    ] {
        assert!(card.contains(said), "{said}\n{card}");
    }
    let told = check(&spiced);
    assert!(
        told.contains("variation `spiced`: its allergens are not checked: corner-shop spice"),
        "{told}"
    );
    assert!(
        told.contains("claim-contradicted") && told.contains("variation `spiced`: this is called dairy-free"),
        "{told}"
    );
}

#[test]
fn a_longer_wait_of_a_variation_is_told_and_a_shorter_one_is_not() {
    let milky = |time: &str| {
        let text = bread("", &format!("variation other:\n  {time} bulk at 24 C\n"));
        pages(&text.replace("340 g water", "340 g whole milk")).0
    };
    let longer = milky("6 h");
    assert!(
        longer.contains("Other: This dough with whole milk spends 6 h 10 min above 5 °C (41 °F) before baking. Home advice"),
        "{longer}"
    );
    // The advice has been given; only the time is another one.
    let alike = milky("3 h 30 min");
    assert!(
        alike.contains("Other: With whole milk, 3 h 40 min above 5 °C (41 °F) before baking"),
        "{alike}"
    );
    assert!(!milky("2 h 30 min").contains("Other"));
}
