//! What stands where on a page besides the words: the title in heads and windows, numbers on a page that is written
//! from the right, names and patterns of the time line. How it looks in print, the tests in a browser see.

use loafwright::view::{CardOptions, Paper};

use super::page::{Tag, tags, text_of};
use super::{PLAIN, page};

/// A card of a recipe on a paper.
fn on(paper: Paper, text: &str) -> String {
    let options = CardOptions {
        paper: Some(paper),
        ..CardOptions::default()
    };
    page(text, &options)
}

/// Reads the string of a style sheet that stands behind some words, by the rules of CSS: a number of a letter ends
/// with its sixth digit, and one white space behind it belongs to it.
fn content(page: &str, before: &str) -> String {
    let (_, rest) = page.split_once(before).unwrap();
    let mut letters = rest.chars().peekable();
    let mut text = String::new();
    while let Some(letter) = letters.next().filter(|letter| *letter != '"') {
        if letter != '\\' {
            text.push(letter);
            continue;
        }
        let digits: String = std::iter::from_fn(|| letters.next_if(char::is_ascii_hexdigit))
            .take(6)
            .collect();
        text.push(char::from_u32(u32::from_str_radix(&digits, 16).unwrap()).unwrap());
        letters.next_if(char::is_ascii_whitespace);
    }
    text
}

fn running_title(page: &str) -> String {
    content(page, "@top-left{content:\"")
}

fn window_title(page: &str) -> &str {
    let (_, rest) = page.split_once("<title>").unwrap();
    rest.split_once("</title>").unwrap().0
}

#[test]
fn a_running_title_keeps_its_spaces_and_signs() {
    let title = "Brioche, with \"cream\" & 'jam' à la 4";
    let text = PLAIN.replacen("title: Plain loaf", &format!("title: {title}"), 1);
    assert!(text.contains(title));
    assert_eq!(running_title(&on(Paper::A4, &text)), title);
    assert_eq!(
        content(&page(&text, &CardOptions::default()), "counter(page) \""),
        " of "
    );
}

#[test]
fn a_long_title_is_whole_on_the_first_page_and_cut_in_heads_and_windows() {
    let title = "The extraordinarily long-named three-day farmhouse loaf with toasted seeds, old bread and honey from the garden";
    let text = PLAIN.replacen("title: Plain loaf", &format!("title: {title}"), 1);
    for (paper, room) in [(Paper::A4, 90), (Paper::HalfLetter, 60), (Paper::A6, 38)] {
        let page = on(paper, &text);
        let head = running_title(&page);
        assert!(
            head.chars().count() <= room && head.chars().count() > room / 2,
            "{head}"
        );
        assert!(
            title.starts_with(head.trim_end_matches('…')) && head.ends_with('…'),
            "{head}"
        );
        assert!(
            window_title(&page).chars().count() <= 70,
            "{}",
            window_title(&page)
        );
        assert!(page.contains(&format!("<h1><bdi>{title}</bdi></h1>")));
    }
}

const PARTS: &str = "title: Seeded\nmakes: 2 loaves of 900 g\nunits: g, oz\npaper: A6\nsoaker:\n  2 parts sunflower seeds\n  \
                     3 parts water\n  2 h soak\ndough:\n  100 % bread flour\n  68 % water\n  2 % salt\n  1 % instant \
                     yeast\n  25 % soaker\n  10 min mix\n  40 min bake at 230 C\n";

#[test]
fn no_head_of_a_column_is_empty() {
    for paper in [Paper::A4, Paper::A5, Paper::A6] {
        let page = on(paper, PARTS);
        for (place, _) in page.match_indices("<th") {
            let head = page[place..].split("</th>").next().unwrap();
            assert!(!text_of(head).is_empty(), "{head}");
        }
    }
}

const HEBREW: &str = "title: חלה\nmakes: 2 loaves of 550 g\nlanguage: he\nunits: g, oz\ndough:\n  92 % bread flour\n  8 % \
                      קמח as whole wheat flour\n  60 % water at 30 C\n  2 % salt\n  1 % instant yeast\n  10 min knead until \
                      הבצק חלק\n  2 h rise with 2 folds every 30 min\n  30 min bake at 180 C\n";

/// Says whether a tag keeps what stands in it from being turned about.
fn is_apart(tag: &Tag) -> bool {
    let has = |name: &str, value: &str| tag.attributes.iter().any(|(n, v)| n == name && v == value);
    tag.name == "bdi" || has("dir", "ltr")
}

#[test]
fn numbers_are_set_apart_on_a_page_that_is_written_from_the_right() {
    let page = page(HEBREW, &CardOptions::default()).replace(['\u{a0}', '\u{202f}'], " ");
    let (_, body) = page.split_once("<body>").unwrap();
    let (body, _) = body.split_once("<svg").unwrap();
    for number in [
        "2 loaves of 550 g",
        "621 g",
        " oz",
        "92 %",
        "+0:10",
        "10 min",
        "2 h",
        "30 min",
        "at 180 °C · 356 °F",
    ] {
        let (before, _) = body
            .split_once(number)
            .unwrap_or_else(|| panic!("{number} is not on the page"));
        // All that is open around the number.
        let mut open: Vec<Tag> = Vec::new();
        for piece in before.split_inclusive('>') {
            if let Some((_, tag)) = piece.split_once("</") {
                let name = tag.trim_end_matches('>');
                let at = open.iter().rposition(|tag| tag.name == name).unwrap();
                open.truncate(at);
            } else if piece.contains('<') && piece.ends_with('>') {
                open.extend(
                    tags(&piece[piece.find('<').unwrap()..])
                        .into_iter()
                        .filter(|tag| tag.name != "img"),
                );
            }
        }
        assert!(open.iter().any(is_apart), "{number}: {open:?}");
    }
    assert!(page.contains("<span lang=\"en\" dir=\"ltr\">Total</span>"));
    assert!(page.contains("<footer lang=\"en\" dir=\"ltr\">"));
}

#[test]
fn a_page_in_a_language_with_words_has_no_marks_of_another() {
    for language in ["en-GB", "en-US", "de", "de-AT", "fr"] {
        let page = page(&format!("language: {language}\n{PLAIN}"), &CardOptions::default());
        assert_eq!(page.matches(" lang=").count(), 1, "{language}");
    }
    let dutch = page(&format!("language: nl\n{PLAIN}"), &CardOptions::default());
    assert!(dutch.contains("<span lang=\"en\">Total</span>"));
    assert!(!dutch.contains("dir=\"ltr\">Total"));
}

/// The words of the drawing alone.
fn drawing(page: &str) -> String {
    let (_, rest) = page.split_once("<svg").unwrap();
    text_of(&format!("<svg{}", rest.split_once("</svg>").unwrap().0))
}

#[test]
fn bars_are_named_for_what_heats_them() {
    let steps = |steps: &str| {
        format!(
            "title: Buns\nmakes: 12 buns of 60 g\ndough:\n  100 % bread flour\n  50 % water\n  1 h rise\n{steps}"
        )
    };
    let of = |text: &str| drawing(&page(&steps(text), &CardOptions::default()));
    let baked = of("  20 min bake at 200 C\n");
    assert!(
        baked.contains("in the oven") && !baked.contains("cooking"),
        "{baked}"
    );
    for other in ["  15 min steam\n", "  15 min steam\n  5 min bake at 200 C\n"] {
        let cooked = of(other);
        assert!(
            cooked.contains("cooking") && !cooked.contains("in the oven"),
            "{cooked}"
        );
    }
}

#[test]
fn names_of_lanes_are_whole_where_there_is_room() {
    let text = "title: Builds\nmakes: 2 loaves of 800 g\nlevain first build:\n  100 % whole rye flour\n  100 % water\n  20 % \
                starter\n  6 h ripen\nlevain second build:\n  100 % whole rye flour\n  80 % water\n  20 % levain first \
                build\n  8 h ripen\ndough:\n  100 % bread flour\n  68 % water\n  2 % salt\n  30 % levain second build\n  2 h \
                rise\n  40 min bake at 230 C\n";
    for paper in [Paper::A4, Paper::Letter, Paper::A5, Paper::A6] {
        let drawn = drawing(&on(paper, text));
        for name in ["Levain first build", "Levain second build", "Final dough"] {
            assert!(drawn.contains(name), "{paper:?}: {drawn}");
        }
    }
}
