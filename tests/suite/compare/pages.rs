//! Comparisons as pages and as Markdown: what a recipe says stays text in both, and each form says the same.

use std::fs;

use pulldown_cmark::{Event, Options, Parser, Tag};

use super::cases::cases;
use crate::cards::hostile::{FRAGMENTS, shape};
use crate::cards::page::{tags, text_of};
use crate::kitchen::Kitchen;

/// Two versions that differ in every kind of words, each with a gap for more.
fn versions(words: &str) -> Kitchen {
    let version = |water: u32, word: &str| {
        format!(
            "title: {words}\nauthor: {words} {word}\n\n\
             dough:\n  500 g bread flour\n  {water} g water, {words} {word}\n  10 g salt\n  20 g wonder {words}{word}\n  \
             note {words} {word}\n  10 min mix {words} {word}\n    {words} {word}\n  \
             2 h bulk at 24 C until {words} {word}\n  40 min bake at 230 C\n\n\
             variation {words}:\n  12 g salt\n  10 min mix {word}\n\n\
             notes:\n  {words} {word}\n"
        )
    };
    Kitchen::new()
        .file("a.loaf", version(300, "before"))
        .file("b.loaf", version(310, "after"))
}

/// Gives a comparison in a form; nothing where the words are refused before they reach it.
fn told(words: &str, form: &str) -> Option<String> {
    let served = versions(words).run(&["compare", form, "a.loaf", "b.loaf"]);
    (served.code == Some(1)).then_some(served.out)
}

#[test]
fn every_field_is_text_on_the_page() {
    let plain = told("plainword", "--html").expect("the versions can be compared");
    let wanted = text_of(&plain).to_lowercase().matches("plainword").count();
    assert!(wanted > 20, "{wanted}");
    let tried = FRAGMENTS.iter().filter(|fragment| {
        let Some(page) = told(fragment, "--html") else {
            return false;
        };
        // Where a word repeats itself, what stays and what goes can be cut in other places.
        let bare = |page: &str| {
            let cut = |tag: &(String, Vec<String>)| !["ins", "del"].contains(&tag.0.as_str());
            shape(&tags(page)).into_iter().filter(cut).collect::<Vec<_>>()
        };
        assert_eq!(bare(&page), bare(&plain), "{fragment}");
        let seen = text_of(&page)
            .to_lowercase()
            .matches(&fragment.to_lowercase())
            .count();
        assert!(seen >= wanted * 3 / 4, "{fragment}: {seen} of {wanted}");
        true
    });
    assert!(tried.count() >= 14);
}

#[test]
fn every_field_is_text_in_markdown() {
    let mut tried = 0;
    for fragment in FRAGMENTS.into_iter().chain([
        "![a](http://oxlip.example/x)",
        "[a](http://oxlip.example)",
        "http://oxlip.example",
        "@oxlip",
        "#12",
        "**loud**",
        "~~gone~~",
        "`code`",
        "a | b",
    ]) {
        let Some(markdown) = told(fragment, "--markdown") else {
            continue;
        };
        tried += 1;
        let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
        for event in Parser::new_ext(&markdown, options) {
            let is_markup = matches!(
                event,
                Event::Html(_) | Event::InlineHtml(_) | Event::Start(Tag::Link { .. } | Tag::Image { .. })
            );
            assert!(!is_markup, "{fragment}: {event:?}\n{markdown}");
        }
        let outside: Vec<&str> = markdown.split('`').step_by(2).collect();
        let outside = outside.concat();
        assert!(!outside.contains('@') && !outside.contains("http:"), "{markdown}");
        assert!(!outside.contains("#12"), "{markdown}");
    }
    assert!(tried >= 20, "{tried}");
}

/// The words of a Markdown text as a reader sees them.
fn read(markdown: &str) -> String {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let words = Parser::new_ext(markdown, options).map(|event| match event {
        Event::Text(text) | Event::Code(text) => text.into_string(),
        Event::SoftBreak | Event::End(_) => " ".to_owned(),
        _ => String::new(),
    });
    words.collect()
}

#[test]
fn every_pair_is_told_alike_in_all_forms() {
    for case in cases() {
        let kitchen = Kitchen::new()
            .file("a.loaf", fs::read(case.join("a.loaf")).unwrap())
            .file("b.loaf", fs::read(case.join("b.loaf")).unwrap());
        let name = case.display();
        let terminal = kitchen.run(&["compare", "a.loaf", "b.loaf"]);
        let (headline, _) = terminal.out.split_once('\n').unwrap().1.split_once('\n').unwrap();
        let headline = headline.split_once(": ").unwrap().1;
        let markdown = kitchen.run(&["compare", "--markdown", "a.loaf", "b.loaf"]);
        let page = kitchen.run(&["compare", "--html", "a.loaf", "b.loaf"]);
        let json = kitchen.run(&["compare", "--json", "a.loaf", "b.loaf"]);
        let codes = [terminal.code, markdown.code, page.code, json.code];
        assert_eq!(codes, [terminal.code; 4], "{name}");
        let document: serde_json::Value = serde_json::from_str(&json.out).unwrap();
        assert_eq!(document["comparisons"][0]["headline"], headline, "{name}");
        assert!(read(&markdown.out).contains(headline), "{name}\n{}", markdown.out);
        assert!(text_of(&page.out).contains(headline), "{name}\n{}", page.out);
        // Every sentence of the terminal stands in the Markdown too.
        let words = read(&markdown.out).replace(' ', "");
        for line in terminal.out.lines().filter_map(|line| line.strip_prefix("  ~ ")) {
            assert!(
                words.contains(&line.replace(' ', "")),
                "{name}: {line}\n{}",
                markdown.out
            );
        }
    }
}

/// The two versions beside templates of one's own, compared as a page.
fn with_templates(templates: &[(&str, &str)], more: &[&str]) -> crate::kitchen::Served {
    let kitchen = templates.iter().fold(versions("Rye"), |kitchen, (name, text)| {
        kitchen.file(&format!("mine/{name}"), text)
    });
    kitchen.run(&[&["compare", "a.loaf", "b.loaf", "--templates", "mine"], more].concat())
}

#[test]
fn a_template_and_a_style_of_one_s_own_make_the_page() {
    let own = "<title>{{ compared.title }}</title><style>{{ page.style|safe }}</style>\n\
               {% for one in compared.comparisons %}<h1>{{ one.title }}: {{ one.verdict }}</h1>\n\
               {% for section in one.sections %}{% for row in section.rows %}{{ compared.signs[row.kind] }}\
               {% endfor %}{% endfor %}{% endfor %}";
    let css = ".versions { color: #333 }";
    let page = with_templates(&[("compare.html", own), ("compare.css", css)], &["--html"]).ends_with(1);
    assert!(page.out.starts_with("<title>Rye</title>"), "{}", page.out);
    assert!(page.out.contains("<h1>Rye: changed</h1>"), "{}", page.out);
    assert!(page.out.contains(css), "{}", page.out);
    assert!(page.out.contains('~'), "{}", page.out);
    let plain = versions("Rye")
        .run(&["compare", "a.loaf", "b.loaf", "--html"])
        .ends_with(1);
    let styled = with_templates(&[("compare.css", css)], &["--html"]).ends_with(1);
    assert!(styled.out.contains(css) && !plain.out.contains(css));
    assert_eq!(text_of(&styled.out), text_of(&plain.out), "only the look differs");
}

#[test]
fn the_printed_template_of_a_comparison_makes_the_same_page() {
    let kitchen = versions("Rye");
    let plain = kitchen
        .run(&["compare", "a.loaf", "b.loaf", "--html"])
        .ends_with(1);
    let _ = kitchen.run(&["templates", "--out", "mine"]).ends_with(0);
    let own = kitchen
        .run(&["compare", "a.loaf", "b.loaf", "--html", "--templates", "mine"])
        .ends_with(1);
    assert_eq!(own.err, plain.err);
    assert_eq!(own.out.trim(), plain.out.trim());
}

#[test]
fn a_mistake_in_the_template_of_a_comparison_is_told_with_its_place() {
    let wrong = "<h1>{{ compared.title }}</h1>\n<p>{{ compared.titel }}</p>\n";
    let told = with_templates(&[("compare.html", wrong)], &["--html"]).ends_with(2);
    assert_eq!(told.out, "");
    assert!(
        told.err
            .contains("mine/compare.html:2: this template gets no `compared.titel`"),
        "{}",
        told.err
    );
    let told = with_templates(&[("compair.html", "")], &["--html"]).ends_with(2);
    assert!(told.err.contains("did you mean `compare.html`?"), "{}", told.err);
    for more in [&[][..], &["--json"], &["--markdown"]] {
        let told = with_templates(&[("compare.css", "")], more).ends_with(2);
        assert!(
            told.err.contains("--templates goes with --html"),
            "{more:?}: {}",
            told.err
        );
    }
}
