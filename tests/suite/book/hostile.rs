//! Text that would like to be more than text, on reader's pages, in the index, in the data for machines, in the
//! sitemap and on a terminal: it is shown as written, and each output has the shape that plain words give it.

use std::sync::Arc;

use loafwright::model::place::Place;
use loafwright::render::book::sitemap;
use loafwright::render::html::Renderer;
use loafwright::view::{Around, Index, IndexRow, Link};
use serde_json::Value;

use super::reader_of;
use crate::cards::compile;
use crate::cards::hostile::{FRAGMENTS, recipe, shape};
use crate::cards::page::{script_of, tags, text_of};
use crate::kitchen::Kitchen;

/// A plain word that stands where the fragments go.
const PLAIN: &str = "plainword";

/// Beside the fragments of the cards: what ends a script, a comment or a string in one.
const MORE: [&str; 8] = [
    "</script><script>alert(1)</script>",
    "<!--<script>",
    "]]></script>",
    "\\",
    "\\\" + alert(1) + \\\"",
    "a\u{2028}b\u{2029}c",
    "${alert(1)}",
    "javascript:alert(1)",
];

fn fragments() -> impl Iterator<Item = &'static str> {
    FRAGMENTS.into_iter().chain(MORE)
}

fn link(words: &str) -> Link {
    Link {
        href: "x.html".to_owned(),
        text: words.to_owned(),
    }
}

/// A recipe with the words in every field that takes words, prose too.
fn everywhere(words: &str) -> String {
    format!(
        "{}about:\n  {words}\n\nnotes:\n  {words}\n",
        recipe(words).replace("min mix ", "min mix\n              {prose}\n  5 min knead ")
    )
    .replace("{prose}", words)
}

fn page(words: &str) -> Option<String> {
    let place = Place {
        name: Some(words.to_owned()),
        files: vec![words.to_owned()],
        ..Place::without_bakehouse()
    };
    let compiled = compile(&everywhere(words), &Arc::new(place));
    let around = Around {
        previous: Some(link(words)),
        next: Some(link(words)),
        prints: vec![link(words)],
        picture: Some(link(words)),
        picture_address: Some("https://example.org/x.png".to_owned()),
        book: Some(words.to_owned()),
        ..Around::default()
    };
    let page = Renderer::new().unwrap().reader(&reader_of(&compiled, around)?);
    Some(page.unwrap())
}

/// Puts words in place of others in every text of a JSON value.
fn replaced(value: &Value, with: &str) -> Value {
    match value {
        Value::String(text) => Value::String(text.replace(PLAIN, with)),
        Value::Array(values) => values.iter().map(|value| replaced(value, with)).collect(),
        Value::Object(fields) => fields
            .iter()
            .map(|(name, value)| (name.clone(), replaced(value, with)))
            .collect(),
        other => other.clone(),
    }
}

fn data(page: &str, opening: &str) -> Value {
    let text = script_of(page, opening);
    assert!(
        !text.contains(['<', '>', '&', '\u{2028}', '\u{2029}']),
        "data that could end its script: {text}"
    );
    serde_json::from_str(text).expect("the data is JSON")
}

const STRUCTURED: &str = "<script type=\"application/ld+json\">";
const AMOUNTS: &str = "<script type=\"application/json\" id=\"amounts\">";

/// Markdown means something to some of the fragments, and one holds white space: their pages are looked at for
/// tags alone.
fn without_prose(words: &str) -> bool {
    !words.contains(['*', '`', '\\', '&', '<', '!', '[', '\u{2028}'])
}

#[test]
fn every_field_of_a_readers_page_is_text() {
    let plain = page(PLAIN).expect("the recipe has a page");
    let scripts = |page: &str| page.matches("<script").count();
    assert_eq!(scripts(&plain), 3, "data for machines, the amounts, the script");
    let allowed: Vec<String> = tags(&plain).iter().map(|tag| tag.name.clone()).collect();
    let mut tried = 0;
    for fragment in fragments() {
        let Some(page) = page(fragment) else { continue };
        tried += 1;
        assert_eq!(scripts(&page), 3, "{fragment}");
        let found = tags(&page);
        assert!(
            found
                .iter()
                .all(|tag| allowed.contains(&tag.name) || ["code", "em", "strong"].contains(&&*tag.name)),
            "{fragment}"
        );
        if without_prose(fragment) {
            assert_eq!(shape(&found), shape(&tags(&plain)), "{fragment}");
            let seen = |page: &str, words: &str| {
                text_of(page)
                    .to_lowercase()
                    .matches(&words.to_lowercase())
                    .count()
            };
            assert_eq!(seen(&page, fragment), seen(&plain, PLAIN), "{fragment}");
            let as_plain = replaced(&data(&plain, STRUCTURED), fragment);
            assert_eq!(data(&page, STRUCTURED), as_plain, "{fragment}");
        }
        let structured = data(&page, STRUCTURED);
        let on_one_line = |value: &Value| {
            value
                .as_str()
                .map(|text| text.split_whitespace().collect::<String>())
        };
        let wanted = Some(fragment.split_whitespace().collect::<String>());
        assert_eq!(on_one_line(&structured["name"]), wanted);
        assert_eq!(on_one_line(&structured["author"]["name"]), wanted);
        assert_eq!(on_one_line(&structured["keywords"]), wanted);
        assert_eq!(data(&page, AMOUNTS), data(&plain, AMOUNTS), "{fragment}");
        let addresses = found.iter().flat_map(|tag| &tag.attributes);
        for (name, value) in addresses.filter(|(name, _)| ["href", "src"].contains(&name.as_str())) {
            assert!(["x.html"].contains(&value.as_str()), "{fragment}: {name}={value}");
        }
    }
    assert!(
        tried >= 24,
        "too many fragments are refused before they reach a page: {tried}"
    );
}

#[test]
fn the_index_is_text_too() {
    let renderer = Renderer::new().unwrap();
    let row = |words: &str| IndexRow {
        href: "x.html".to_owned(),
        title: words.to_owned(),
        makes: words.to_owned(),
        whole_time: words.to_owned(),
        hands_on_time: words.to_owned(),
        tags: vec![words.to_owned()],
        found_by: words.to_owned(),
        cards: vec![link(words)],
    };
    let page = |words: &str| {
        renderer
            .index(Index::new(Some(words), "en", None, vec![row(words)]))
            .unwrap()
    };
    let plain = shape(&tags(&page(PLAIN)));
    for fragment in fragments() {
        let page = page(fragment);
        assert_eq!(shape(&tags(&page)), plain, "{fragment}");
        assert_eq!(text_of(&page).matches(fragment).count(), 9, "{fragment}");
        assert_eq!(page.matches("<script").count(), 1, "{fragment}");
    }
}

#[test]
fn a_sitemap_holds_addresses_alone() {
    for fragment in fragments() {
        let xml = sitemap(&[format!("https://example.org/{fragment}")]);
        assert_eq!(xml.matches('<').count(), 7, "{fragment}: {xml}");
        let bare = xml.replace("&lt;", "").replace("&gt;", "").replace("&amp;", "");
        assert!(
            !bare.replace("&quot;", "").replace("&#39;", "").contains('&'),
            "{fragment}: {xml}"
        );
    }
}

/// Control characters never reach a terminal, and no line begins with a recipe's words.
#[test]
fn a_terminal_gets_words_alone() {
    for fragment in fragments() {
        let kitchen = Kitchen::new().file("a.loaf", everywhere(fragment));
        for verb in [["sheet", "a.loaf"], ["check", "a.loaf"], ["build", "a.loaf"]] {
            let served = kitchen.run(&verb);
            for text in [&served.out, &served.err] {
                let is_harmless = |letter: char| letter == '\n' || !letter.is_control();
                assert!(text.chars().all(is_harmless), "{fragment}: {text}");
                let begins = |line: &str| line.starts_with("::") || line.starts_with("##");
                assert!(!text.lines().any(begins), "{fragment}: {text}");
            }
        }
    }
}
