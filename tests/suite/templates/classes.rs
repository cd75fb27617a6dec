//! The classes that a style sheet of one's own takes hold of: those that the page on templates lists are those of the
//! pages, no more and no less.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use loafwright::render::html::TEMPLATES;
use loafwright::view::changes::Kind;

use crate::kitchen::Kitchen;

/// Pages as the list names them, with their templates.
const PAGES: [(&str, &str); 4] = [
    ("card", "card.html"),
    ("reader", "reader.html"),
    ("index", "index.html"),
    ("compare", "compare.html"),
];

/// The classes of the list, by page.
fn listed() -> BTreeSet<(String, String)> {
    let page = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/TEMPLATES.md")).unwrap();
    let (_, rest) = page.split_once("\n## The classes\n").unwrap();
    let (section, _) = rest.split_once("\n## ").unwrap();
    let rows = section.lines().filter(|line| line.starts_with("| `"));
    rows.flat_map(|row| {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let classes: Vec<&str> = cells[1].split('`').skip(1).step_by(2).collect();
        let pages = cells[2].split(", ").map(str::to_owned).collect::<Vec<_>>();
        assert!(!classes.is_empty() && !cells[3].is_empty(), "{row}");
        let of_page = move |page: String| {
            let classes = classes
                .iter()
                .map(|class| (*class).to_owned())
                .collect::<Vec<_>>();
            classes
                .into_iter()
                .map(move |class| (page.clone(), class))
                .collect::<Vec<_>>()
        };
        pages.into_iter().flat_map(of_page).collect::<Vec<_>>()
    })
    .collect()
}

/// The classes that a text gives its elements.
fn classes_of(text: &str) -> BTreeSet<String> {
    let values = text.split("class=\"").skip(1);
    values
        .flat_map(|rest| rest.split('"').next().unwrap().split_whitespace())
        .map(str::to_owned)
        .collect()
}

/// A template without its tags.
fn bare(template: &str) -> String {
    let mut bare = String::new();
    for (at, piece) in template.split("{%").enumerate() {
        let piece = if at == 0 {
            piece
        } else {
            piece.split_once("%}").unwrap().1
        };
        for (at, piece) in piece.split("{{").enumerate() {
            bare.push_str(if at == 0 {
                piece
            } else {
                piece.split_once("}}").unwrap().1
            });
            bare.push(' ');
        }
    }
    bare
}

/// The classes that the template of a page writes itself, and those that it includes.
fn written(template: &str) -> BTreeSet<String> {
    let (_, text) = TEMPLATES.iter().find(|(name, _)| *name == template).unwrap();
    let mut classes = classes_of(&bare(text));
    for rest in text.split("{% include \"").skip(1) {
        classes.extend(written(rest.split('"').next().unwrap()));
    }
    classes
}

/// The classes of pages that were made of the recipes that ship, which have those too that come with a value.
fn made() -> BTreeMap<&'static str, BTreeSet<String>> {
    let kitchen = Kitchen::new().shipped_recipes();
    let _ = kitchen
        .run(&["build", "recipes", "--paper", "a4,a5,4x6", "--out", "cards"])
        .ends_with(0);
    let mut made: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for (name, bytes) in kitchen.files() {
        let stem = name
            .strip_prefix("cards/")
            .and_then(|name| name.strip_suffix(".html"));
        let Some(stem) = stem else { continue };
        let page = match stem.rsplit_once('.') {
            Some((_, "read")) => "reader",
            _ if stem == "index" => "index",
            _ => "card",
        };
        let classes = classes_of(&String::from_utf8(bytes).unwrap());
        made.entry(page).or_default().extend(classes);
    }
    let kinds = Kind::ALL.iter().map(|kind| kind.word().to_owned());
    made.insert("compare", kinds.collect());
    made
}

#[test]
fn the_classes_that_are_listed_are_those_of_the_pages() {
    let (listed, made) = (listed(), made());
    assert!(listed.len() > 100, "{}", listed.len());
    let mut there = BTreeSet::new();
    for (page, template) in PAGES {
        let of_page =
            |classes: BTreeSet<String>| classes.into_iter().map(move |class| (page.to_owned(), class));
        there.extend(of_page(written(template)));
        there.extend(of_page(made[page].clone()));
    }
    let missing: Vec<_> = listed.difference(&there).collect();
    assert!(missing.is_empty(), "listed, and on no such page: {missing:?}");
    let unlisted: Vec<_> = there.difference(&listed).collect();
    assert!(
        unlisted.is_empty(),
        "on a page, and not listed for it: {unlisted:?}"
    );
}
