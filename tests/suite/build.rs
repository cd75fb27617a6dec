//! `build`: which files it makes and which it leaves alone, what it says, and that its bytes depend on nothing
//! but the recipes.

use std::collections::BTreeMap;
use std::fs;

use crate::kitchen::Kitchen;

const PLAIN: &str = "title: Plain\nmakes: 2 loaves of 860 g\n\ndough:\n  100 %  bread flour\n  68 %   water\n  2 %    \
                     salt\n  2 %    fresh yeast\n  10 min knead\n  40 min bake at 230 C\n";

fn faulty() -> String {
    PLAIN.replace("68 %", "68 q")
}

/// Gives the cards, without what the program keeps for itself.
fn cards(kitchen: &Kitchen, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let start = format!("{folder}/");
    let ours = |name: &String| name.starts_with(&start) && !name.contains("/.loafwright/");
    kitchen
        .files()
        .into_iter()
        .filter(|(name, _)| ours(name))
        .collect()
}

#[test]
fn a_folder_becomes_cards_and_an_index() {
    let kitchen = Kitchen::new()
        .file("in/Rye & Honey.loaf", PLAIN.replace("Plain", "Rye & Honey"))
        .file("in/deep/index.loaf", PLAIN.replace("Plain", "Deep"));
    let served = kitchen.run(&["build", "in"]).ends_with(0);
    assert_eq!(served.out, "cards/index.html\n");
    assert!(
        served.err.starts_with("2 cards in cards: 2 new"),
        "{}",
        served.err
    );
    let made = cards(&kitchen, "cards");
    let names: Vec<&str> = made.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "cards/deep/recipe-index.html",
            "cards/deep/recipe-index.read.html",
            "cards/index.html",
            "cards/rye-honey.html",
            "cards/rye-honey.read.html"
        ]
    );
    let index = kitchen.read("cards/index.html");
    assert!(
        index
            .replace("&#x2f;", "/")
            .contains("href=\"deep/recipe-index.html\"")
            && index.contains("Rye &amp; Honey"),
        "{index}"
    );
}

#[test]
fn one_recipe_becomes_a_card_and_a_page() {
    let kitchen = Kitchen::new().file("a.loaf", PLAIN);
    let served = kitchen
        .run(&["build", "a.loaf", "--out", "mine/cards"])
        .ends_with(0);
    assert_eq!(served.out, "mine/cards/a.html\nmine/cards/a.read.html\n");
    assert_eq!(cards(&kitchen, "mine").len(), 2);
}

#[test]
fn only_what_changed_is_written() {
    let kitchen = Kitchen::new()
        .file("a.loaf", PLAIN)
        .file("b.loaf", PLAIN.replace("Plain", "Other"));
    let _ = kitchen.run(&["build"]).ends_with(0);
    let before = cards(&kitchen, "cards");
    let time = |name: &str| fs::metadata(kitchen.path(name)).unwrap().modified().unwrap();
    let times = [
        time("cards/a.html"),
        time("cards/b.html"),
        time("cards/index.html"),
    ];
    let served = kitchen.run(&["build"]).ends_with(0);
    assert!(
        served.err.contains("0 new, 0 changed, 2 as before"),
        "{}",
        served.err
    );
    assert_eq!(
        times,
        [
            time("cards/a.html"),
            time("cards/b.html"),
            time("cards/index.html")
        ]
    );
    let kitchen = kitchen.file("a.loaf", PLAIN.replace("2 %    salt", "1.8 %  salt"));
    let served = kitchen.run(&["build"]).ends_with(0);
    assert!(
        served.err.contains("0 new, 1 changed, 1 as before"),
        "{}",
        served.err
    );
    let after = cards(&kitchen, "cards");
    assert_ne!(before["cards/a.html"], after["cards/a.html"]);
    assert_eq!(before["cards/b.html"], after["cards/b.html"]);
}

#[test]
fn a_faulty_recipe_keeps_its_old_card() {
    let kitchen = Kitchen::new().file("a.loaf", PLAIN).file("b.loaf", PLAIN);
    let _ = kitchen.run(&["build"]).ends_with(0);
    let before = cards(&kitchen, "cards");
    let kitchen = kitchen.file("a.loaf", faulty()).file("new.loaf", faulty());
    let served = kitchen.run(&["build"]).ends_with(1);
    assert!(served.err.contains("a.loaf:6:"), "{}", served.err);
    let after = cards(&kitchen, "cards");
    assert_eq!(before["cards/a.html"], after["cards/a.html"]);
    assert!(!after.contains_key("cards/new.html"));
    assert!(kitchen.read("cards/index.html").contains("href=\"a.html\""));
}

#[test]
fn an_error_anywhere_in_the_plain_recipe_stops_its_card() {
    let wrong = [
        PLAIN.replace("title:", "titel:"),
        format!("{PLAIN}abut:\n  x\n"),
        format!("# \u{202e}\n{PLAIN}"),
        format!("{PLAIN}# \u{1}\n"),
        format!("{PLAIN}<<<<<<< ours\n"),
    ];
    for text in wrong {
        let kitchen = Kitchen::new().file("a.loaf", &text);
        let served = kitchen.run(&["build"]).ends_with(1);
        assert!(!kitchen.path("cards/a.html").exists(), "{text}\n{}", served.err);
    }
}

#[test]
fn a_faulty_variation_or_record_leaves_the_plain_card() {
    for rest in [
        "variation x:\n  without anchovies\n",
        "bake 2026-99-99:\n  20 C room\n",
    ] {
        let kitchen = Kitchen::new().file("a.loaf", format!("{PLAIN}\n{rest}"));
        let served = kitchen.run(&["build"]).ends_with(1);
        assert!(kitchen.path("cards/a.html").exists(), "{rest}\n{}", served.err);
    }
}

#[test]
fn a_faulty_bakehouse_stops_the_cards_below_it() {
    let kitchen = Kitchen::new()
        .file("in/bakehouse.loaf", "bakehouse: Oxlip Row\nroom: 9999 C\n")
        .file("in/a.loaf", PLAIN)
        .file("b.loaf", PLAIN);
    let served = kitchen.run(&["build", "in", "b.loaf"]).ends_with(1);
    assert_eq!(
        served.err.matches("bakehouse.loaf:2:").count(),
        1,
        "{}",
        served.err
    );
    assert!(!kitchen.path("cards/a.html").exists() && kitchen.path("cards/b.html").exists());
}

#[test]
fn two_recipes_never_overwrite_each_other() {
    let kitchen = Kitchen::new()
        .file("in/Rye.loaf", PLAIN)
        .file("in/rye!.loaf", PLAIN.replace("Plain", "B"));
    let served = kitchen.run(&["build", "in"]).ends_with(2);
    for (one, other) in [("in/Rye.loaf", "in/rye!.loaf"), ("in/rye!.loaf", "in/Rye.loaf")] {
        let told = format!("error: {one}: {other} makes a card of the same name, rye.html");
        assert!(served.err.contains(&told), "{}", served.err);
    }
    assert!(!kitchen.path("cards/rye.html").exists());
}

#[test]
fn a_folder_of_other_peoples_files_is_refused() {
    let kitchen = Kitchen::new()
        .file("in/a.loaf", PLAIN)
        .file("letters/aunt.txt", "dear");
    let served = kitchen.run(&["build", "in", "--out", "letters"]).ends_with(2);
    assert!(served.err.contains("aunt.txt"), "{}", served.err);
    let _ = kitchen.run(&["build", "in", "--out", "in"]).ends_with(2);
    let _ = kitchen.run(&["build", "absent"]).ends_with(2);
    let _ = Kitchen::new().run(&["build"]).ends_with(2);
    assert_eq!(kitchen.files().len(), 2);
}

#[test]
fn a_card_goes_with_its_recipe() {
    let kitchen = Kitchen::new().file("in/a.loaf", PLAIN).file("in/b.loaf", PLAIN);
    let _ = kitchen.run(&["build", "in"]).ends_with(0);
    fs::remove_file(kitchen.path("in/b.loaf")).unwrap();
    let served = kitchen.run(&["build", "in"]).ends_with(0);
    assert!(served.err.contains("1 as before, 1 gone"), "{}", served.err);
    assert!(!kitchen.path("cards/b.html").exists());
}

/// Gives the names of the cards, without the index and the pages for readers.
fn card_names(kitchen: &Kitchen) -> Vec<String> {
    let names = cards(kitchen, "cards").into_keys();
    let names = names.map(|name| name.replace("cards/", ""));
    names
        .filter(|name| name != "index.html" && !name.ends_with(".read.html"))
        .collect()
}

/// Each further paper is a page of its own, and goes when it is wanted no longer.
#[test]
fn a_card_for_every_paper() {
    let own = PLAIN.replace("\ndough:", "paper: A5, 4 x 6 in\n\ndough:");
    let kitchen = Kitchen::new().file("a.loaf", PLAIN).file("b.loaf", own);
    let size = |name: &str| {
        let page = kitchen.read(&format!("cards/{name}"));
        let (_, after) = page
            .split_once("@page{size:")
            .unwrap_or_else(|| panic!("{name} is for no paper"));
        after.split_once(';').unwrap().0.to_owned()
    };
    let served = kitchen.run(&["build"]).ends_with(0);
    assert!(
        served.err.starts_with("3 cards in cards: 3 new"),
        "{}",
        served.err
    );
    assert_eq!(card_names(&kitchen), ["a.html", "b.4x6.html", "b.html"]);
    assert!(!kitchen.read("cards/a.html").contains("@page{size:"));
    assert_eq!([size("b.html"), size("b.4x6.html")], ["148mm 210mm", "4in 6in"]);

    let asked = [
        "build",
        "--paper",
        "half-letter,A6",
        "--paper",
        "5 x 8 in",
        "--paper",
        "a6",
    ];
    let served = kitchen.run(&asked).ends_with(0);
    assert_eq!(
        served.err,
        "6 cards in cards: 4 new, 2 changed, 0 as before, 1 gone\n"
    );
    let pages = [
        "a.5x8.html",
        "a.a6.html",
        "a.html",
        "b.5x8.html",
        "b.a6.html",
        "b.html",
    ];
    assert_eq!(card_names(&kitchen), pages);
    let sizes = pages.map(size);
    assert_eq!(sizes, ["5in 8in", "105mm 148mm", "5.5in 8.5in"].repeat(2)[..]);

    let served = kitchen
        .run(&["build", "a.loaf", "--paper", "letter,a4"])
        .ends_with(0);
    assert_eq!(served.out, "cards/a.html\ncards/a.a4.html\ncards/a.read.html\n");
    let served = kitchen.run(&["build", "--paper", "foolscap"]).ends_with(2);
    assert!(
        served.err.contains("a4, letter, a5, half-letter, a6, 4x6, 5x8"),
        "{}",
        served.err
    );
}

/// The same recipes give the same bytes from another folder, in another country, on one core and on many.
#[test]
fn the_same_recipes_give_the_same_bytes() {
    let first = Kitchen::new().shipped_recipes();
    let _ = first.run(&["build", "recipes"]).ends_with(0);
    let expected = cards(&first, "cards");
    assert!(expected.len() > 10);
    let settings = [
        ("LC_ALL", "ar_EG.UTF-8"),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("TZ", "Asia/Kathmandu"),
        ("TZ", "America/St_Johns"),
        ("RAYON_NUM_THREADS", "1"),
        ("RAYON_NUM_THREADS", "8"),
        ("SOURCE_DATE_EPOCH", "0"),
        ("HOME", "/nowhere"),
        ("USER", "somebody"),
        ("COLUMNS", "40"),
        ("LANG", "de_DE.UTF-8"),
        ("LANGUAGE", "fr"),
        ("LC_NUMERIC", "fr_FR.UTF-8"),
        ("TZ", "Pacific/Kiritimati"),
        ("TZ", "nowhere"),
        ("TMPDIR", "/nowhere"),
        ("TERM", "dumb"),
        ("CLICOLOR_FORCE", "1"),
        ("PWD", "/nowhere"),
        ("RUST_BACKTRACE", "1"),
    ];
    for (name, value) in settings {
        let kitchen = Kitchen::new().shipped_recipes().env(name, value);
        let mut command = kitchen.command(&["build", ".", "--out", "../cards"]);
        let status = command.current_dir(kitchen.path("recipes")).status().unwrap();
        assert_eq!(status.code(), Some(0), "{name}={value}");
        assert!(cards(&kitchen, "cards") == expected, "{name}={value}");
    }
}

/// A run that is interrupted ends by that signal, which a shell tells as 130, and leaves whole cards.
#[test]
#[cfg(unix)]
fn an_interrupted_build_leaves_whole_cards() {
    use std::os::unix::process::ExitStatusExt as _;
    let mut kitchen = Kitchen::new();
    for number in 0..400 {
        let text =
            format!("title: Corner loaf {number}\n\ndough:\n  500 g     bread flour\n  330 g     water\n");
        kitchen = kitchen.file(&format!("book/bread-{number}.loaf"), text);
    }
    let mut child = kitchen
        .command(&["build", "book", "--out", "cards"])
        .spawn()
        .unwrap();
    while !kitchen.path("cards/bread-0.html").exists() {
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
    let sent = std::process::Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(sent.success());
    let status = child.wait().unwrap();
    assert!(status.signal() == Some(2) || status.code() == Some(0), "{status}");
    for (name, bytes) in pages_of(&kitchen) {
        assert!(bytes.trim_ascii_end().ends_with(b"</html>"), "{name} is torn");
    }
    let _ = kitchen.run(&["build", "book", "--out", "cards"]).ends_with(0);
    assert_eq!(pages_of(&kitchen).len(), 801);
}

/// Gives the finished pages below a kitchen, by their names.
fn pages_of(kitchen: &Kitchen) -> BTreeMap<String, Vec<u8>> {
    let mut files = kitchen.files();
    files.retain(|name, _| name.strip_suffix(".html").is_some());
    files
}

/// A bread of three days: 26 h, 30 min, 3 h, 8 to 12 h and 45 min, one after the other.
const LONG: &str = "title:  Long bread\n\nlevain:\n  100 g     bread flour\n  100 g     water\n  26 h      ripen at 18 C\n\n\
    dough:\n  500 g     bread flour\n  all levain\n  65 %      water\n  2 %       salt\n  30 min    mix\n  \
    3 h       bulk at 24 C\n  overnight retard at 4 C\n  45 min    bake at 230 C until core 96 C\n";

/// Times of the clock are hours after the start, past as many midnights as there are, whatever zone the machine
/// stands in and whether its clocks change that night.
#[test]
fn a_start_by_the_clock_is_the_same_in_every_zone() {
    // The start, then when the mixing, the bulk and the bake begin: 26 h, 26 h 30 min and 39 h 30 min later.
    let table = [
        ("0:00", ["day 2, 2:00", "day 2, 2:30", "day 2, 15:30"]),
        ("0:01", ["day 2, 2:01", "day 2, 2:31", "day 2, 15:31"]),
        ("01:30", ["day 2, 3:30", "day 2, 4:00", "day 2, 17:00"]),
        ("02:00", ["day 2, 4:00", "day 2, 4:30", "day 2, 17:30"]),
        ("02:30", ["day 2, 4:30", "day 2, 5:00", "day 2, 18:00"]),
        ("8:30", ["day 2, 10:30", "day 2, 11:00", "day 3, 0:00"]),
        ("12:00", ["day 2, 14:00", "day 2, 14:30", "day 3, 3:30"]),
        ("20:30", ["day 2, 22:30", "day 2, 23:00", "day 3, 12:00"]),
        ("21:30", ["day 2, 23:30", "day 3, 0:00", "day 3, 13:00"]),
        ("22:00", ["day 3, 0:00", "day 3, 0:30", "day 3, 13:30"]),
        ("23:30", ["day 3, 1:30", "day 3, 2:00", "day 3, 15:00"]),
        ("23:59", ["day 3, 1:59", "day 3, 2:29", "day 3, 15:29"]),
    ];
    let zones = [
        "UTC",
        "Europe/Dublin",
        "Australia/Lord_Howe",
        "Asia/Kathmandu",
        "Pacific/Apia",
    ];
    for (start, times) in table {
        let mut pages = zones.iter().map(|zone| {
            let kitchen = Kitchen::new().file("a.loaf", LONG).env("TZ", zone);
            let _ = kitchen.run(&["build", "a.loaf", "--start", start]).ends_with(0);
            kitchen.read("cards/a.html")
        });
        let first = pages.next().unwrap();
        for time in times {
            assert!(first.contains(&format!(">{time}<")), "{start}: no {time}");
        }
        assert!(pages.all(|page| page == first), "{start}");
    }
    let kitchen = Kitchen::new().file("a.loaf", LONG);
    for wrong in [
        "24:00",
        "2:60",
        "-1:00",
        "7",
        "7:5x",
        "25:99",
        "",
        "2:30 pm or so",
    ] {
        let _ = kitchen
            .run(&["build", "a.loaf", &format!("--start={wrong}")])
            .ends_with(2);
    }
    assert!(!kitchen.path("cards").exists());
}
