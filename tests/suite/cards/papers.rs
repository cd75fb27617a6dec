//! A layout for each paper, a picture where there is room, and the clock where the start is known.

use loafwright::quantity::ClockTime;
use loafwright::view::{CardOptions, Layout, Paper};

use super::{PLAIN, page, page::text_of, shipped};
use crate::cards::card_of;
use crate::kitchen::Kitchen;

fn on(paper: Paper) -> CardOptions {
    CardOptions {
        paper: Some(paper),
        ..CardOptions::default()
    }
}

#[test]
fn papers_are_known_by_what_people_type() {
    for (name, paper) in Paper::NAMED {
        assert_eq!(Paper::named(name), Some(paper));
        for typed in [name, paper.slug(), &name.to_uppercase(), &name.replace(' ', "-")] {
            assert_eq!(Paper::typed(typed), Some(paper), "{typed}");
        }
    }
    for typed in ["", "a", "a44", "4x", "foolscap"] {
        assert_eq!(Paper::typed(typed), None, "{typed}");
    }
}

/// The formula stands as a table where the paper is wide enough, else as a list a block with the whole bread last.
#[test]
fn stages_stand_beside_each_other_or_below() {
    let (_, compiled) = shipped()
        .into_iter()
        .find(|(name, _)| name == "towpath-levain")
        .unwrap();
    for (_, paper) in Paper::NAMED {
        let card = card_of(&compiled, &on(paper)).unwrap();
        let titles: Vec<&str> = card
            .formula
            .lists
            .iter()
            .map(|list| list.title.as_str())
            .collect();
        let parts: Vec<&str> = card.parts.iter().map(|(_, name)| *name).collect();
        if paper.layout() == Layout::Small {
            assert!(card.formula.table.is_none());
            assert_eq!(titles, ["Levain", "Final dough", "Whole bread"]);
            assert_eq!(parts, ["Ingredients", "Steps", "Notes"]);
        } else {
            assert_eq!(card.formula.table.unwrap().columns.len(), 2);
            assert!(titles.is_empty() && parts.is_empty());
        }
    }
}

/// What a number is moved by counts up to the digits behind the mark that the longest number of the column has.
#[test]
fn every_column_of_weights_stands_on_its_decimal_signs() {
    let decimals = |weight: &str| {
        let number = weight.trim_end_matches(|letter: char| !letter.is_ascii_digit());
        number.rsplit_once('.').map_or(0, |(_, digits)| digits.len())
    };
    let moved = |shift: &str| match shift {
        "" => 0,
        "m1" | "d1" => 1,
        "m2" | "d2" => 2,
        "m3" => 3,
        other => panic!("{other}"),
    };
    for (name, compiled) in shipped() {
        for paper in [Paper::A4, Paper::FourBySix] {
            let formula = card_of(&compiled, &on(paper)).unwrap().formula;
            for list in formula.lists {
                let cells = list.lines.iter().map(|line| &line.cell).chain([&list.total]);
                let widths = |one: fn(&loafwright::view::Cell) -> (&str, &str)| {
                    let cells = cells.clone().map(one).filter(|(weight, _)| !weight.is_empty());
                    cells
                        .map(|(weight, shift)| decimals(weight) + moved(shift))
                        .collect::<Vec<usize>>()
                };
                for widths in [
                    widths(|cell| (&cell.weight, cell.shift)),
                    widths(|cell| (&cell.other, cell.other_shift)),
                ] {
                    assert!(
                        widths.windows(2).all(|pair| pair[0] == pair[1]),
                        "{name}, {}: {widths:?}",
                        list.title
                    );
                }
            }
        }
    }
}

#[test]
fn with_a_start_the_clock_stands_at_each_step() {
    let at = |hour, minute, place: &str| {
        let options = CardOptions {
            start: ClockTime::new(hour, minute),
            ..CardOptions::default()
        };
        text_of(&page(&format!("{PLAIN}{place}"), &options))
    };
    let text = at(22, 0, "");
    // 10 min mix, 2 h 30 min bulk by its middle.
    for words in [
        "22:00Mix",
        "22:10Bulk",
        "day 2, 0:40Bake",
        "a bake begun at 22:00",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(
        !text.contains("from the start") && !text.contains("+0:10"),
        "{text}"
    );
    // Without a bakehouse people sleep from 22:30 to 6:00: half an hour after the start, to the end.
    assert!(text.contains("night"), "{text}");
    assert!(!at(9, 0, "").contains("night"));
}

#[test]
fn a_picture_stands_where_the_paper_has_room() {
    let kitchen = Kitchen::new()
        .file(
            "a.loaf",
            PLAIN.replace(
                "dough:",
                "picture: crumb.png, a slice \"held\" to the light\ndough:",
            ),
        )
        .file("crumb.png", b"\x89PNG\r\n\x1a\nrest");
    let _ = kitchen.run(&["build", "--paper", "a4,a5,a6"]).ends_with(0);
    for name in ["a", "a.a5"] {
        let page = kitchen.read(&format!("cards/{name}.html"));
        let image = "<img src=\"data:image/png;base64,iVBORw0KGgpyZXN0\" alt=\"a slice &quot;held&quot; to the light\">";
        assert!(page.contains(image), "{page}");
    }
    assert!(!kitchen.read("cards/a.a6.html").contains("<img"));
    std::fs::remove_file(kitchen.path("crumb.png")).unwrap();
    let served = kitchen.run(&["build", "--paper", "a4"]).ends_with(0);
    assert!(served.err.contains("crumb.png"), "{}", served.err);
    assert!(!kitchen.read("cards/a.html").contains("<img"));
}

/// The largest picture that is taken makes a card that is not too long.
#[test]
fn the_largest_picture_fits() {
    let mut picture = b"\x89PNG\r\n\x1a\n".to_vec();
    picture.resize(2 * 1024 * 1024, 0xfb);
    let kitchen = Kitchen::new()
        .file(
            "a.loaf",
            PLAIN.replace("dough:", "picture: crumb.png, crumb\ndough:"),
        )
        .file("crumb.png", &picture);
    let _ = kitchen.run(&["build"]).ends_with(0);
    assert!(kitchen.read("cards/a.html").contains("alt=\"crumb\""));
}
