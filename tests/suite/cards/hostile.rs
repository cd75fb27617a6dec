//! Text that would like to be more than text, in every field of a recipe: it is
//! shown as written, and the page has the tags that the same recipe has with plain words.

use std::sync::Arc;

use loafwright::model::place::Place;
use loafwright::render::html::Renderer;
use loafwright::view::CardOptions;

use super::page::{Tag, tags, text_of};
use super::{card_of, compile};

pub(crate) const FRAGMENTS: [&str; 24] = [
    "<b>bold</b>",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</title><script>x</script>",
    "</style><script>x</script>",
    "</main></body></html>",
    "<!-- hidden",
    "--> seen",
    "]]> seen",
    "&lt;b&gt; &amp; &#60;",
    "&copy &notit;",
    "\" onload=\"alert(1)",
    "' onload='alert(1)",
    "` onload=`alert(1)",
    "x onload=alert(1)",
    "red;x",
    "url(javascript:x)",
    "x{} *{color:red}",
    "{{ 7*7 }} MARK",
    "{% include 'card.html' %} MARK",
    "{# gone #} MARK",
    "::error::MARK",
    "שלום MARK",
    "مرحبا MARK",
];

/// A recipe with a gap in every field that takes words.
pub(crate) fn recipe(words: &str) -> String {
    format!(
        "title: {words}\nmakes: 2 loaves\ntags: {words}\nauthor: {words}\nsource: {words}\nrevision: {words}\n\
         levain night:\n  100 g bread flour\n  100 g water\n  note {words}\n  8 h ripen at 24 C\n\
         dough:\n  500 g bread flour\n  300 g water, {words}\n  all night\n  10 g salt\n  20 g wonder {words}\n  \
         some oil, {words}\n  10 min mix {words}\n  2 h bulk at 24 C until {words}\n  40 min bake at 230 C\n\
         variation {words}:\n  12 g salt\n\
         bake 2026-03-14:\n  20 C room {words}\n"
    )
}

pub(crate) fn shape(tags: &[Tag]) -> Vec<(String, Vec<String>)> {
    let names = |tag: &Tag| tag.attributes.iter().map(|(name, _)| name.clone()).collect();
    tags.iter().map(|tag| (tag.name.clone(), names(tag))).collect()
}

fn page(words: &str) -> Option<String> {
    let place = Place {
        name: Some(words.to_owned()),
        files: vec![words.to_owned()],
        ..Place::without_bakehouse()
    };
    let compiled = compile(&recipe(words), &Arc::new(place));
    let card = card_of(&compiled, &CardOptions::default())?;
    Some(Renderer::new().unwrap().card(&card).unwrap())
}

#[test]
fn every_field_is_text_whatever_stands_in_it() {
    let plain = page("plainword").expect("the recipe has a card");
    let tried = FRAGMENTS.iter().filter(|fragment| {
        let Some(page) = page(fragment) else {
            return false;
        };
        // The time line cuts long names, and a row of the variations may come or go with a word.
        assert_eq!(shape(&tags(&page)), shape(&tags(&plain)), "{fragment}");
        let text = text_of(&page);
        let seen = text.to_lowercase().matches(&fragment.to_lowercase()).count();
        let wanted = text_of(&plain).to_lowercase().matches("plainword").count();
        assert_eq!(seen, wanted, "{fragment}:\n{text}");
        true
    });
    assert!(
        tried.count() >= 16,
        "too many fragments are refused before they reach a card"
    );
}

/// What the parser would refuse is tried past it, straight in the fields of a checked recipe.
#[test]
fn fields_are_text_even_past_the_parser() {
    let compiled = compile(&recipe("plainword"), &Arc::new(Place::without_bakehouse()));
    let renderer = Renderer::new().unwrap();
    let (mut recipe, mut sheet) = compiled.plain.clone().unwrap();
    let page = |recipe: &_, sheet: &_| {
        let card = loafwright::view::card(recipe, sheet, &[], &[], &CardOptions::default());
        renderer.card(&card).unwrap()
    };
    let plain = shape(&tags(&page(&recipe, &sheet)));
    for fragment in FRAGMENTS {
        fragment.clone_into(&mut recipe.title.value);
        recipe.details.tags = vec![fragment.to_owned()];
        fragment.clone_into(&mut sheet.pieces.piece);
        for block in &mut sheet.blocks {
            for line in &mut block.lines {
                fragment.clone_into(&mut line.name);
                line.preparation = line.preparation.as_ref().map(|_| fragment.to_owned());
            }
        }
        for lane in &mut sheet.schedule.lanes {
            for placed in &mut lane.steps {
                fragment.clone_into(&mut placed.step.words);
            }
        }
        sheet.allergens.not_checked = vec![fragment.to_owned()];
        let page = page(&recipe, &sheet);
        let same_but_labels = |shape: Vec<(String, Vec<String>)>| -> Vec<_> {
            shape.into_iter().filter(|(name, _)| name != "text").collect()
        };
        assert_eq!(
            same_but_labels(shape(&tags(&page))),
            same_but_labels(plain.clone()),
            "{fragment}"
        );
        assert!(text_of(&page).contains(fragment), "{fragment}");
    }
}

#[test]
fn the_running_title_is_written_by_number() {
    for title in [
        "</style><script>",
        "a\"}*{color:red}",
        "back\\slash",
        "new\u{2028}line",
        "Brød & bröd",
    ] {
        let text = format!(
            "title: {title}\nmakes: 1 loaf\ndough:\n  500 g bread flour\n  300 g water\n  10 min mix\n"
        );
        let compiled = compile(&text, &Arc::new(Place::without_bakehouse()));
        let Some(card) = card_of(&compiled, &CardOptions::default()) else {
            continue;
        };
        let page = Renderer::new().unwrap().card(&card).unwrap();
        let content = page
            .split("content:\"")
            .nth(1)
            .and_then(|rest| rest.split('"').next())
            .unwrap();
        let is_plain = |c: char| c.is_ascii_alphanumeric() || c == ' ' || c == '\\';
        assert!(content.chars().all(is_plain), "{title}: {content}");
    }
}
