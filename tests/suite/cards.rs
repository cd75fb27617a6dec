//! Cards: every number of the sheet is on them, nothing in a recipe becomes more than text, nothing is loaded.

pub(crate) mod hostile;
mod languages;
mod layout;
mod notes;
pub(crate) mod page;
mod papers;
mod wording;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use loafwright::model::place::Place;
use loafwright::model::recipe::Recipe;
use loafwright::pipeline::{self, Compiled};
use loafwright::quantity::WeightUnit;
use loafwright::render::html::Renderer;
use loafwright::sheet::{Request, Sheet};
use loafwright::source::{Source, SourceId};
use loafwright::view::{self, Card, CardOptions};

use page::{tags, text_of};

pub(crate) fn compile(text: &str, place: &Arc<Place>) -> Compiled {
    let source = Source::new(SourceId(0), "test.loaf", text);
    pipeline::compile(&source, place, &Request::default())
}

fn card_of(compiled: &Compiled, options: &CardOptions) -> Option<Card> {
    let (recipe, sheet) = compiled.plain.as_ref()?;
    Some(view::card(
        recipe,
        sheet,
        &compiled.variations,
        &compiled.records,
        options,
    ))
}

/// Makes the page of a recipe that compiles.
#[track_caller]
fn page(text: &str, options: &CardOptions) -> String {
    let compiled = compile(text, &Arc::new(Place::without_bakehouse()));
    let card = card_of(&compiled, options).unwrap_or_else(|| {
        panic!(
            "no card: {:?}",
            compiled
                .report
                .iter()
                .map(|fault| &fault.message)
                .collect::<Vec<_>>()
        )
    });
    Renderer::new().unwrap().card(&card).unwrap()
}

/// Makes the card of a plain loaf.
pub(crate) fn plain_card() -> Card {
    let compiled = compile(PLAIN, &Arc::new(Place::without_bakehouse()));
    card_of(&compiled, &CardOptions::default()).unwrap()
}

/// Gives the shipped recipes by name, compiled in their bakehouses.
pub(crate) fn shipped() -> Vec<(String, Compiled)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let read = |path: &Path| std::fs::read_to_string(path).unwrap();
    let house = Source::new(
        SourceId(1),
        "bakehouse.loaf",
        read(&folder.join("bakehouse.loaf")),
    );
    let place = pipeline::bakehouse(vec![house]).place;
    let mut paths: Vec<_> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.retain(|path| {
        path.extension().is_some_and(|end| end == "loaf") && !path.ends_with("bakehouse.loaf")
    });
    paths.sort();
    let name = |path: &Path| path.file_stem().unwrap().to_string_lossy().into_owned();
    paths
        .iter()
        .map(|path| (name(path), compile(&read(path), &place)))
        .collect()
}

const PLAIN: &str = "title: Plain loaf\nmakes: 1 loaf\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n  \
                     2.5 g instant yeast\n  10 min mix\n  2-3 h bulk at 24 C with 2 folds every 45 min until doubled\n  \
                     40 min bake at 230 C until core 96 C\n";

/// Writes grams as plain decimal digits, without the program's own writer.
fn digits(grams: &loafwright::quantity::Ratio) -> String {
    grams.to_trimmed(6)
}

#[track_caller]
fn holds_every_weight(name: &str, text: &str, recipe: &Recipe, sheet: &Sheet) {
    let grams_first = recipe
        .details
        .units
        .first()
        .is_none_or(|unit| *unit == WeightUnit::Gram);
    if !grams_first {
        return;
    }
    for line in sheet.blocks.iter().flat_map(|block| &block.lines) {
        if let (Some(exact), Some(shown)) = (&line.weight, &line.shown) {
            let off = (&exact.0 - shown).abs().to_f64();
            if off > exact.0.to_f64() / 10.0 {
                continue;
            }
            let weight = format!("{} g", digits(shown));
            assert!(
                text.contains(&weight),
                "{name}: {weight} of {} is not on the card",
                line.name
            );
        }
    }
}

#[test]
fn every_shipped_card_holds_every_weight_of_its_sheet() {
    let renderer = Renderer::new().unwrap();
    for (name, compiled) in shipped() {
        let options = CardOptions {
            units: vec![WeightUnit::Gram, WeightUnit::Ounce],
            ..CardOptions::default()
        };
        let card = card_of(&compiled, &options).unwrap_or_else(|| panic!("{name} has no card"));
        let text = text_of(&renderer.card(&card).unwrap());
        let (recipe, sheet) = compiled.plain.as_ref().unwrap();
        holds_every_weight(&name, &text, recipe, sheet);
        for placed in sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps) {
            let words = placed.step.words.to_lowercase();
            assert!(
                text.to_lowercase().contains(&words),
                "{name}: the step {words} is not on the card"
            );
        }
    }
}

#[test]
fn every_shipped_card_reads_as_before() {
    let renderer = Renderer::new().unwrap();
    for (name, compiled) in shipped() {
        let card = card_of(&compiled, &CardOptions::default()).unwrap();
        let page = renderer.card(&card).unwrap();
        insta::with_settings!({ snapshot_path => "../cases/cards", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(name, text_of(&page));
        });
    }
}

#[test]
fn ounces_stand_as_scales_show_them() {
    let options = CardOptions {
        units: vec![WeightUnit::Ounce, WeightUnit::Gram],
        ..CardOptions::default()
    };
    let text = text_of(&page(PLAIN, &options));
    for weight in [
        "17.6 oz", "500 g", "12 oz", "340 g", "0.35 oz", "10 g", "0.088 oz", "2.5 g",
    ] {
        assert!(text.contains(weight), "{weight}: {text}");
    }
    assert!(text.contains("30.05 oz 853 g Total"), "{text}");
}

#[test]
fn a_trace_of_yeast_is_not_rounded_away() {
    let recipe = PLAIN
        .replace("2.5 g instant", "0.05 % instant")
        .replace("500 g", "200 g")
        .replace("340 g", "140 g");
    let text = text_of(&page(&recipe, &CardOptions::default()));
    assert!(text.contains("0.1 g instant yeast"), "{text}");
    assert!(!text.contains("0 g instant"), "{text}");
}

#[test]
fn steps_have_times_temperatures_in_both_scales_boxes_and_cues() {
    let page = page(PLAIN, &CardOptions::default());
    let text = text_of(&page);
    for words in [
        "Bulk 2–3 h at 24 °C · 75 °F until doubled",
        "Fold after 45 min 1 h 30 min",
        "+0:10",
        "+2:40",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(
        text.contains("Bake 40 min at 230 °C · 446 °F until 96 °C · 205 °F in the middle"),
        "{text}"
    );
    assert_eq!(
        page.matches("class=\"box\"").count(),
        3 + 2,
        "a box a step and a fold"
    );
}

#[test]
fn a_card_loads_nothing_and_says_so() {
    let renderer = Renderer::new().unwrap();
    for (name, compiled) in shipped() {
        let page = renderer
            .card(&card_of(&compiled, &CardOptions::default()).unwrap())
            .unwrap();
        for tag in tags(&page) {
            assert!(
                !["script", "link", "img", "iframe", "base", "object", "embed"].contains(&tag.name.as_str()),
                "{name}"
            );
            for (attribute, value) in &tag.attributes {
                assert!(
                    !["src", "style", "srcset", "background"].contains(&attribute.as_str()),
                    "{name}: {attribute}"
                );
                assert!(!attribute.starts_with("on"), "{name}: {attribute}");
                assert!(
                    attribute != "href" || !value.contains("://") || tag.name == "a",
                    "{name}: {value}"
                );
            }
        }
        assert_eq!(page.matches("<style>").count(), 2);
        for style in page
            .split("<style>")
            .skip(1)
            .map(|rest| rest.split("</style>").next().unwrap())
        {
            assert!(
                !style.contains("http") && !style.contains("@import") && !style.contains("url(h"),
                "{name}"
            );
            assert!(
                page.contains(&format!(
                    "&#x27;sha256-{}&#x27;",
                    hash(style).replace('/', "&#x2f;")
                )),
                "{name}: a style without its hash"
            );
        }
    }
}

fn hash(text: &str) -> String {
    use base64::Engine as _;
    use sha2::Digest as _;
    base64::engine::general_purpose::STANDARD.encode(sha2::Sha256::digest(text.as_bytes()))
}

#[test]
fn the_policy_forbids_all_but_the_page_s_own_styles() {
    let page = page(PLAIN, &CardOptions::default());
    let policy = tags(&page)
        .into_iter()
        .find(|tag| {
            tag.attributes
                .iter()
                .any(|(_, value)| value == "Content-Security-Policy")
        })
        .unwrap();
    let content = &policy
        .attributes
        .iter()
        .find(|(name, _)| name == "content")
        .unwrap()
        .1;
    let rules: Vec<&str> = content.split("; ").collect();
    assert_eq!(rules[0], "default-src 'none'");
    assert!(rules[1].starts_with("style-src 'sha256-"));
    assert_eq!(
        rules[2..],
        ["img-src data:", "base-uri 'none'", "form-action 'none'"]
    );
}

#[test]
fn the_same_recipe_gives_the_same_bytes() {
    let renderer = Renderer::new().unwrap();
    for ((name, first), (_, second)) in shipped().into_iter().zip(shipped()) {
        let page = |compiled| {
            renderer
                .card(&card_of(compiled, &CardOptions::default()).unwrap())
                .unwrap()
        };
        assert_eq!(page(&first), page(&second), "{name}");
    }
}

#[test]
fn language_and_direction_follow_the_recipe() {
    for (tag, lang, direction) in [
        ("en-GB", "en-GB", "ltr"),
        ("ar", "ar", "rtl"),
        ("he-IL", "he-IL", "rtl"),
    ] {
        let page = page(&in_language(tag), &CardOptions::default());
        assert!(
            page.contains(&format!("<html lang=\"{lang}\" dir=\"{direction}\">")),
            "{tag}"
        );
    }
    for tag in ["en\" onload=\"x", "x", "en-", "english"] {
        let compiled = compile(&in_language(tag), &Arc::new(Place::without_bakehouse()));
        let card = card_of(&compiled, &CardOptions::default());
        assert!(card.is_none() && compiled.report.has_errors(), "{tag}");
    }
}

fn in_language(tag: &str) -> String {
    PLAIN.replacen('\n', &format!("\nlanguage: {tag}\n"), 1)
}

#[test]
fn a_paper_is_asked_for_in_lengths() {
    for (name, paper) in view::Paper::NAMED {
        let options = CardOptions {
            paper: Some(paper),
            ..CardOptions::default()
        };
        let page = page(PLAIN, &options);
        let size = page
            .split("@page{size:")
            .nth(1)
            .and_then(|rest| rest.split(';').next())
            .unwrap();
        let lengths: Vec<&str> = size.split(' ').collect();
        assert!(
            lengths
                .iter()
                .all(|length| length.ends_with("mm") || length.ends_with("in")),
            "{name}: {size}"
        );
    }
}

#[test]
fn templates_print_text_and_nothing_else() {
    let settled = [
        "page.style",
        "page.paper_style",
        "page.script",
        "structured",
        "amounts",
        "reader.about",
        "reader.notes",
        "prose",
        "step.prose",
        "input.prose",
        "card.about",
        "card.notes",
        // Letters and digits alone, and what they are written by stands in the program.
        "card.picture.source",
        "page.tongue",
        "page.turn",
    ];
    for (name, template) in loafwright::render::html::TEMPLATES {
        for expression in template
            .split("{{")
            .skip(1)
            .map(|rest| rest.split("}}").next().unwrap().trim())
        {
            if let Some((value, filters)) = expression.split_once('|') {
                let is_settled = filters == "safe" && settled.contains(&value);
                assert!(is_settled || filters == "lower", "{name}: {expression}");
            }
            assert!(
                !expression.contains(['+', '*', '/', '%']),
                "{name}: arithmetic in {expression}"
            );
        }
        assert!(
            !template.contains("={{") && !template.contains("= {{"),
            "{name}: an attribute without quotes"
        );
    }
}

#[test]
fn no_word_of_the_catalogue_is_idle() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/view");
    let mut code = String::new();
    let mut folders = vec![source];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") && !path.ends_with("word_list.rs") {
                code += &std::fs::read_to_string(path).unwrap();
            }
        }
    }
    let templates: String = loafwright::render::html::TEMPLATES
        .iter()
        .map(|(_, text)| *text)
        .collect();
    let names: BTreeSet<&str> = code.split(|c: char| !c.is_ascii_alphanumeric()).collect();
    for key in view::Words::keys() {
        let variant: String = key.split('_').map(capitalised).collect();
        let is_used = names.contains(variant.as_str()) || templates.contains(&format!("words.{key}"));
        assert!(is_used, "no card prints {key}");
    }
}

fn capitalised(word: &str) -> String {
    let (first, rest) = word.split_at(1);
    first.to_uppercase() + rest
}

#[test]
fn every_language_leaves_the_same_gaps() {
    let gaps = |text: &str| -> BTreeSet<String> {
        text.split('{')
            .skip(1)
            .map(|rest| rest.split('}').next().unwrap().to_owned())
            .collect()
    };
    let english = view::LANGUAGES[0];
    for words in view::LANGUAGES {
        for (key, (text, plain)) in view::Words::keys()
            .iter()
            .zip(words.texts().iter().zip(english.texts()))
        {
            assert_eq!(gaps(text), gaps(plain), "{}: {key}", words.language);
            assert!(
                !text.trim().is_empty() && text.trim_matches(' ') == *text,
                "{}: {key}",
                words.language
            );
            let forms = |text: &str| text.split(" | ").count();
            assert_eq!(forms(text), forms(plain), "{}: {key}", words.language);
        }
    }
}
