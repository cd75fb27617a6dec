//! Cards in each language that ships: whole ones kept as they read, no English word on a German or French one,
//! and the marks of the language in numbers, dates and punctuation.

use std::path::Path;
use std::sync::Arc;

use loafwright::model::place::Place;
use loafwright::render::html::Renderer;
use loafwright::view::{CardOptions, Index, IndexRow, LANGUAGES, Words};

use super::page::text_of;
use super::{PLAIN, card_of, compile, page};

/// A case by name: its text, and its page.
fn case(name: &str) -> (String, String) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/cases/words/{name}.loaf"));
    let text = std::fs::read_to_string(path).unwrap();
    let page = page(&text, &CardOptions::default());
    (text, page)
}

/// A short recipe whose card speaks a language.
fn in_language(language: &str, text: &str) -> String {
    page(&format!("language: {language}\n{text}"), &CardOptions::default())
}

#[test]
fn a_card_in_each_language_reads_as_before() {
    for name in ["de", "fr", "en-us"] {
        let (_, page) = case(name);
        insta::with_settings!({ snapshot_path => "../../cases/words", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(name, text_of(&page));
        });
    }
}

/// Cuts a text of the catalogue into what stands between its gaps and forms.
fn pieces(text: &str) -> Vec<&str> {
    let parts = text.split(['{', '}', '|']).enumerate();
    let outside = parts
        .filter(|(place, part)| place % 2 == 0 || part.contains(' '))
        .map(|(_, part)| part);
    outside
        .map(|part| part.trim_matches(|letter: char| !letter.is_alphanumeric()))
        .filter(|part| part.chars().filter(|letter| letter.is_alphabetic()).count() > 2)
        .collect()
}

/// Says whether a text holds some words, not as a part of longer ones.
fn holds(text: &str, words: &str) -> bool {
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    text.match_indices(words).any(|(at, _)| {
        !is_letter(text[..at].chars().next_back()) && !is_letter(text[at + words.len()..].chars().next())
    })
}

#[test]
fn no_english_word_of_the_catalogue_is_on_a_german_or_french_card() {
    let english = Words::for_language("en");
    for name in ["de", "fr"] {
        let (source, page) = case(name);
        let text = text_of(&page);
        let own = Words::for_language(name);
        let mut looked_for = 0;
        for (word, theirs) in english.texts().iter().zip(own.texts()) {
            for piece in pieces(word) {
                // The baker's own words may be English, and some words are the same in both languages.
                if holds(&source, piece) || own.texts().iter().any(|theirs| holds(theirs, piece)) {
                    continue;
                }
                looked_for += 1;
                assert!(
                    !holds(&text, piece),
                    "{name}: `{piece}` instead of `{theirs}`\n{text}"
                );
            }
        }
        assert!(
            looked_for > 200,
            "{name}: only {looked_for} words were looked for"
        );
    }
}

/// What reads alike in English and another language, and is meant to.
const ALIKE: [&str; 19] = [
    ":",
    ";",
    "Hydration",
    "Poolish",
    "Biga",
    "vegan",
    "CDC; INSPQ, Québec",
    "Harvard Food Law and Policy Clinic, 2018",
    "min",
    "h",
    "{day} {month} {year}",
    "{hour}:{minute}",
    "Total",
    "total",
    "Levain",
    "autolyse",
    "lupin",
    "Notes",
    "altitude",
];

#[test]
fn every_other_word_is_told_apart_in_every_language() {
    let english = Words::for_language("en");
    for name in ["de", "fr"] {
        let own = Words::for_language(name);
        for (key, (word, theirs)) in Words::keys().iter().zip(english.texts().iter().zip(own.texts())) {
            assert!(
                word != theirs || ALIKE.contains(theirs),
                "{name}: {key} = {theirs}"
            );
        }
    }
}

#[test]
fn the_page_says_what_language_it_is_in() {
    for (tag, words) in [
        ("de", "Zubereitung"),
        ("de-AT", "Zubereitung"),
        ("fr-CA", "Méthode"),
        ("en-GB", "Method"),
    ] {
        let page = in_language(tag, PLAIN);
        assert!(
            page.contains(&format!("<html lang=\"{tag}\" dir=\"ltr\">")),
            "{tag}"
        );
        assert!(text_of(&page).contains(words), "{tag}");
    }
}

#[test]
fn a_bakehouse_gives_its_recipes_a_language_and_a_recipe_overrules_it() {
    let place = Arc::new(Place {
        language: Some("fr".to_owned()),
        ..Place::without_bakehouse()
    });
    let text_in = |text: &str| {
        let compiled = compile(text, &place);
        let card = card_of(&compiled, &CardOptions::default()).unwrap();
        text_of(&Renderer::new().unwrap().card(&card).unwrap())
    };
    assert!(
        text_in(PLAIN).contains("Pétrir") || text_in(PLAIN).contains("Frasage"),
        "{}",
        text_in(PLAIN)
    );
    assert!(text_in(&format!("language: de\n{PLAIN}")).contains("Stockgare"));
}

#[test]
fn numbers_dates_and_lengths_of_time_follow_the_language() {
    let recipe = "title: Loaf\nmakes: 1 loaf\nslices: 1\nkeeps: 2 days\nunits: g, oz\ndough:\n  12500.5 g bread flour\n  \
                  8000 g water\n  1 1/2 cups whole milk\n  4 h 30 min bulk at 24.5 C with 1 fold every 1 h 30 min\n\
                  bake 2026-03-01:\n  20.5 C room\nbake 2026-12-24:\n  20.5 C room\n";
    let english = "12'501 g, 8000 g, 24.5 °C, 4 h 30 min, 1.5 cups, 1 slice each, keeps 2 days";
    let british = format!("{english}, 1 March 2026, 24 December 2026");
    let american = format!("{english}, March 1/ 2026, December 24/ 2026");
    let german =
        "12'501 g, 8000 g, 24/5 °C, 4 Std. 30 Min., 1/5 Tassen, je 1 Scheibe, hält sich 2 Tage, 1. März 2026";
    let french = "12'501 g, 8000 g, 24/5 °C, 4 h 30 min, 1/5 tasse, 1 tranche par pièce, se garde 2 jours, \
                  1er mars 2026, 24 décembre 2026";
    for (language, wanted) in [
        ("en", &*british),
        ("en-US", &*american),
        ("de", german),
        ("fr", french),
    ] {
        let text = text_of(&in_language(language, recipe)).replace('\u{202f}', "'");
        for words in wanted.split(", ").map(|words| words.replace('/', ",")) {
            assert!(text.contains(&words), "{language}: {words}\n{text}");
        }
    }
}

#[test]
fn a_count_takes_its_form_in_each_language() {
    let row = || IndexRow::bare(String::new(), String::new(), Vec::new());
    for (language, one, two) in [
        ("en", "One bread", "2 breads"),
        ("de", "Ein Brot", "2 Brote"),
        ("fr", "Un pain", "2 pains"),
    ] {
        assert_eq!(Index::new(None, language, None, vec![row()]).count, one);
        assert_eq!(Index::new(None, language, None, vec![row(), row()]).count, two);
    }
}

#[test]
fn french_sets_its_own_spaces_before_high_marks_and_inside_quotes() {
    let french = Words::for_language("fr");
    for (key, text) in Words::keys().iter().zip(french.texts()) {
        let letters: Vec<char> = text.chars().collect();
        for pair in letters.windows(2) {
            let space = match (pair[0], pair[1]) {
                (before, ':' | '»') => (before, '\u{a0}'),
                (before, ';' | '!' | '?') => (before, '\u{202f}'),
                ('«', after) => (after, '\u{a0}'),
                _ => continue,
            };
            assert_eq!(space.0, space.1, "{key} = {text}");
        }
        assert!(!text.contains(['\'', '"', '“', '”']), "{key} = {text}");
    }
    for (key, text) in Words::keys().iter().zip(Words::for_language("de").texts()) {
        assert!(!text.contains(['\'', '"', '”', '’']), "{key} = {text}");
        assert_eq!(text.contains('„'), text.contains('“'), "{key} = {text}");
    }
}

/// Annex II of Regulation (EU) No 1169/2011 in its German and French text; the French names were read where the
/// annex is quoted.
#[test]
fn allergens_are_named_as_in_the_annex() {
    let annex = [
        ("allergen_wheat", "Weizen", "blé"),
        ("allergen_spelt", "Dinkel", "épeautre"),
        ("allergen_khorasan", "Khorasan-Weizen", "blé de Khorasan"),
        ("allergen_rye", "Roggen", "seigle"),
        ("allergen_barley", "Gerste", "orge"),
        ("allergen_oats", "Hafer", "avoine"),
        ("allergen_crustacean", "Krebstiere", "crustacés"),
        ("allergen_egg", "Eier", "œufs"),
        ("allergen_fish", "Fische", "poissons"),
        ("allergen_peanut", "Erdnüsse", "arachides"),
        ("allergen_soy", "Sojabohnen", "soja"),
        ("allergen_milk", "Milch", "lait"),
        ("allergen_almond", "Mandeln", "amandes"),
        ("allergen_hazelnut", "Haselnüsse", "noisettes"),
        ("allergen_walnut", "Walnüsse", "noix"),
        ("allergen_cashew", "Kaschunüsse", "noix de cajou"),
        ("allergen_pecan", "Pecannüsse", "noix de pécan"),
        ("allergen_brazil_nut", "Paranüsse", "noix du Brésil"),
        ("allergen_pistachio", "Pistazien", "pistaches"),
        ("allergen_macadamia", "Macadamianüsse", "noix de Macadamia"),
        ("allergen_celery", "Sellerie", "céleri"),
        ("allergen_mustard", "Senf", "moutarde"),
        ("allergen_sesame", "Sesamsamen", "graines de sésame"),
        (
            "allergen_sulphites",
            "Schwefeldioxid und Sulphite",
            "anhydride sulfureux et sulfites",
        ),
        ("allergen_lupin", "Lupinen", "lupin"),
        ("allergen_mollusc", "Weichtiere", "mollusques"),
    ];
    let named = |language: &str, key: &str| {
        let place = Words::keys().iter().position(|other| *other == key).unwrap();
        Words::for_language(language).texts()[place]
    };
    for (key, german, french) in annex {
        assert_eq!(named("de", key), german);
        assert_eq!(named("fr", key), french);
    }
    assert_eq!(LANGUAGES.len(), 4);
}

#[test]
fn claims_and_heat_are_understood_in_german_and_french() {
    let recipe = |title: &str, bake: &str| {
        format!(
            "title: {title}\nmakes: 1 loaf\ndough:\n  500 g rye flour\n  400 g water\n  10 min mix\n  40 min {bake} at 230 C\n"
        )
    };
    for (language, title, claim) in [
        (
            "de",
            "Glutenfreies Brot",
            "„glutenfrei“, aber in rye flour ist Gluten",
        ),
        (
            "fr",
            "Pain sans gluten",
            "« sans gluten », mais il y a du gluten dans rye flour",
        ),
    ] {
        let text = text_of(&in_language(language, &recipe(title, "bake")));
        assert!(text.contains(claim), "{text}");
    }
    for (language, bake, unheated) in [
        ("de", "backen", "Hier erhitzt kein Schritt"),
        ("fr", "cuire", "aucune étape ne chauffe"),
    ] {
        let text = text_of(&in_language(language, &recipe("Loaf", bake)));
        assert!(!text.contains(unheated), "{text}");
        let text = text_of(&in_language(language, &recipe("Loaf", "rest")));
        assert!(text.contains(unheated), "{text}");
    }
}
