//! What a book hangs on besides its recipes: bakehouses, pictures, folders that come, move and go, and the system that
//! tells of all that, or does not.

use std::fs;
use std::process::Command;
use std::thread;
use std::time::Duration;

use super::{Watched, bread, cards, is_long, save};
use crate::kitchen::Kitchen;

const HOUSE: &str = "bakehouse: Oxlip Row\n";

/// The smallest picture there is, by its first bytes.
const PICTURE: &[u8] = b"\x89PNG\r\n\x1a\n";

#[test]
fn a_bakehouse_that_comes_changes_or_goes_makes_what_lies_below_it_anew_and_nothing_else() {
    let kitchen = Kitchen::new()
        .file("book/top.loaf", bread("Top"))
        .file("book/oven/one.loaf", bread("One"))
        .file("book/oven/deep/two.loaf", bread("Two"));
    let watched = Watched::start(&kitchen, &[]);
    let top = fs::metadata(kitchen.path("cards/top.html"))
        .unwrap()
        .modified()
        .unwrap();
    let names = |word: &str| {
        let has = |(name, page): &(String, Vec<u8>)| {
            name != "index.html"
                && !name.ends_with(".read.html")
                && String::from_utf8_lossy(page).contains(word)
        };
        cards(&kitchen, "cards")
            .into_iter()
            .filter(has)
            .map(|(name, _)| name)
            .collect::<Vec<_>>()
    };
    save(&kitchen, "book/oven/bakehouse.loaf", HOUSE);
    let below = ["oven/deep/two.html", "oven/one.html"];
    watched.until("the new bakehouse", || names("Oxlip Row") == below);
    save(
        &kitchen,
        "book/oven/bakehouse.loaf",
        &HOUSE.replace("Oxlip", "Sorrel"),
    );
    watched.until("the changed bakehouse", || names("Sorrel Row") == below);
    fs::rename(
        kitchen.path("book/oven/bakehouse.loaf"),
        kitchen.path("book/oven/deep/bakehouse.loaf"),
    )
    .unwrap();
    watched.until("the moved bakehouse", || names("Sorrel Row") == below[..1]);
    fs::remove_file(kitchen.path("book/oven/deep/bakehouse.loaf")).unwrap();
    watched.until("the removed bakehouse", || names("Sorrel Row").is_empty());
    watched.until_clean();
    let now = fs::metadata(kitchen.path("cards/top.html"))
        .unwrap()
        .modified()
        .unwrap();
    assert_eq!(top, now, "what lies beside it is left alone");
    assert!(!watched.said().contains("book/top.loaf"), "{}", watched.said());
}

#[test]
fn a_fault_in_a_bakehouse_stops_the_cards_below_and_is_told_on_their_pages() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/bakehouse.loaf", HOUSE);
    let watched = Watched::start(&kitchen, &[]);
    save(
        &kitchen,
        "book/bakehouse.loaf",
        "bakehouse: Oxlip Row\nroom: ninety\n",
    );
    watched.until("the fault", || watched.said().contains("book/bakehouse.loaf:2:"));
    watched.until("the fault on the page", || {
        let news = watched.get("/.live/news?page=/rye.html");
        news.contains("book/bakehouse.loaf:2:") && news.contains("\"kept\":true")
    });
    save(&kitchen, "book/rye.loaf", &bread("Rye two"));
    save(&kitchen, "book/bakehouse.loaf", HOUSE);
    watched.until_card("rye.html", "Rye two");
    watched.until_clean();
    watched.until("the end of the fault", || {
        !watched
            .get("/.live/news?page=/rye.html")
            .contains("bakehouse.loaf")
    });
}

#[test]
fn a_picture_that_comes_and_goes_is_noticed() {
    let text = bread("Rye").replace("makes:", "picture: crumb.png, the crumb\nmakes:");
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", text)
        .file("crumb.png", PICTURE);
    let watched = Watched::start(&kitchen, &[]);
    let is_missed = || {
        watched
            .get("/.live/news?page=/rye.html")
            .contains("picture-missing")
    };
    assert!(is_missed(), "{}", watched.said());
    for _ in 0..2 {
        fs::rename(kitchen.path("crumb.png"), kitchen.path("book/crumb.png")).unwrap();
        watched.until("the picture", || !is_missed());
        fs::rename(kitchen.path("book/crumb.png"), kitchen.path("crumb.png")).unwrap();
        watched.until("the missing picture", is_missed);
    }
}

#[test]
fn a_new_folder_with_a_recipe_in_it_is_never_missed() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    for round in 0..if is_long() { 50 } else { 15 } {
        save(
            &kitchen,
            &format!("book/new-{round}/deep/bread.loaf"),
            &bread(&format!("Bread {round}")),
        );
        watched.until_card(&format!("new-{round}/deep/bread.html"), &format!("Bread {round}"));
        save(
            &kitchen,
            &format!("book/new-{round}/deep/bread.loaf"),
            &bread(&format!("Again {round}")),
        );
        watched.until_card(&format!("new-{round}/deep/bread.html"), &format!("Again {round}"));
    }
    watched.until_clean();
}

#[test]
fn folders_that_are_renamed_moved_and_removed_take_their_cards_along() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/a/deep/one.loaf", bread("One"))
        .file("outside/two.loaf", bread("Two"));
    let watched = Watched::start(&kitchen, &[]);
    let mv = |from: &str, to: &str| fs::rename(kitchen.path(from), kitchen.path(to)).unwrap();
    mv("book/a", "book/b");
    watched.until_card("b/deep/one.html", "One");
    watched.until_clean();
    save(&kitchen, "book/b/deep/one.loaf", &bread("One after the move"));
    watched.until_card("b/deep/one.html", "One after the move");
    mv("book/b", "away");
    watched.until_clean();
    mv("away", "book/b");
    mv("outside", "book/a");
    watched.until_card("a/two.html", "Two");
    watched.until_card("b/deep/one.html", "One after the move");
    save(&kitchen, "book/a/two.loaf", &bread("Two saved"));
    watched.until_card("a/two.html", "Two saved");
    // Two folders change places.
    mv("book/a", "book/c");
    mv("book/b", "book/a");
    mv("book/c", "book/b");
    watched.until_card("b/two.html", "Two saved");
    save(&kitchen, "book/b/two.loaf", &bread("Two swapped"));
    save(&kitchen, "book/a/deep/one.loaf", &bread("One swapped"));
    watched.until_card("b/two.html", "Two swapped");
    watched.until_card("a/deep/one.html", "One swapped");
    fs::remove_dir_all(kitchen.path("book/a")).unwrap();
    save(&kitchen, "book/a/new.loaf", &bread("New"));
    watched.until_card("a/new.html", "New");
    watched.until_clean();
}

#[test]
fn the_watched_folder_itself_may_go_and_come_back() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    fs::rename(kitchen.path("book"), kitchen.path("away")).unwrap();
    watched.until("a word", || {
        watched.said().contains("book is gone; its cards stay")
    });
    assert!(kitchen.path("cards/rye.html").is_file());
    watched.until("the news", || {
        watched
            .get("/.live/news?page=/rye.html")
            .contains("\"gone\":true")
    });
    save(&kitchen, "away/rye.loaf", &bread("Rye two"));
    fs::rename(kitchen.path("away"), kitchen.path("book")).unwrap();
    watched.until_card("rye.html", "Rye two");
    watched.until("the news", || {
        watched
            .get("/.live/news?page=/rye.html")
            .contains("\"gone\":false")
    });
    save(&kitchen, "book/rye.loaf", &bread("Rye three"));
    watched.until_card("rye.html", "Rye three");
    assert_eq!(watched.said().matches("is gone").count(), 1, "{}", watched.said());
}

#[test]
fn a_renamed_recipe_is_followed_and_its_old_card_goes() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/wheat.loaf", bread("Wheat"));
    let watched = Watched::start(&kitchen, &[]);
    fs::rename(kitchen.path("book/rye.loaf"), kitchen.path("book/dark.loaf")).unwrap();
    watched.until_card("dark.html", "Rye");
    watched.until("the end of the old card", || {
        !kitchen.path("cards/rye.html").exists()
    });
    let news = watched.get("/.live/news?page=/rye.html");
    assert!(
        news.contains("\"gone\":true") && news.contains("\"moved\":\"/dark.html\""),
        "{news}"
    );
    watched.until_clean();
    fs::remove_file(kitchen.path("book/dark.loaf")).unwrap();
    watched.until("the end of the card", || {
        !kitchen.path("cards/dark.html").exists()
    });
    watched.until_clean();
}

#[test]
fn two_recipes_with_one_card_are_told_and_come_right_again() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    save(&kitchen, "book/Rye.loaf", &bread("Other"));
    watched.until("a word", || {
        watched.said().contains("makes a card of the same name")
    });
    fs::remove_file(kitchen.path("book/Rye.loaf")).unwrap();
    save(&kitchen, "book/rye.loaf", &bread("Rye two"));
    watched.until_card("rye.html", "Rye two");
    watched.until_clean();
}

#[test]
fn one_recipe_is_watched_with_its_bakehouse() {
    let kitchen = Kitchen::new()
        .file(".git/HEAD", "")
        .file("book/deep/rye.loaf", bread("Rye"));
    let command = kitchen.command(&["watch", "book/deep/rye.loaf", "--port", "0"]);
    let watched = Watched::of(&kitchen, command);
    save(&kitchen, "book/deep/rye.loaf", &bread("Rye two"));
    watched.until_card("rye.html", "Rye two");
    save(&kitchen, "book/bakehouse.loaf", HOUSE);
    watched.until("the bakehouse above", || {
        kitchen.read("cards/rye.html").contains("Oxlip Row")
    });
}

#[test]
fn templates_of_ones_own_are_followed_and_a_fault_in_one_keeps_all_pages() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/wheat.loaf", bread("Wheat"))
        .file("look/own.css", "main { color: #111 }\n");
    let watched = Watched::start(&kitchen, &["--templates", "look"]);
    let pages = || cards(&kitchen, "cards");
    let is_clean = || {
        let _ = fs::remove_dir_all(kitchen.path("clean"));
        let built = kitchen.run(&["build", "book", "--out", "clean", "--templates", "look"]);
        built.code == Some(0) && cards(&kitchen, "clean") == pages()
    };
    let all_have = |word: &str| {
        pages()
            .values()
            .all(|page| String::from_utf8_lossy(page).contains(word))
    };
    assert!(all_have("#111"));
    save(&kitchen, "look/own.css", "main { color: #222 }\n");
    watched.until("the new style on all pages", || all_have("#222"));
    save(
        &kitchen,
        "look/foot.html",
        "<footer>{{ words.nonesuch.x }}</footer>\n",
    );
    watched.until("the fault", || watched.said().contains("look/foot.html"));
    for page in ["rye.html", "wheat.html", "rye.read.html"] {
        watched.until("the fault on every page", || {
            let news = watched.get(&format!("/.live/news?page=/{page}"));
            news.contains("look/foot.html") && news.contains("\"kept\":true")
        });
    }
    assert!(all_have("#222"));
    save(&kitchen, "look/foot.html", "<footer>Oxlip Row</footer>\n");
    watched.until("the mended look", is_clean);
    assert!(
        kitchen
            .read("cards/rye.html")
            .contains("<footer>Oxlip Row</footer>")
    );
    watched.until("the end of the fault", || {
        !watched.get("/.live/news?page=/rye.html").contains("foot.html")
    });
    save(&kitchen, "look/foot.html", "{% nonsense");
    watched.until("another fault", || {
        watched.get("/.live/news?page=/rye.html").contains("foot.html")
    });
    fs::remove_file(kitchen.path("look/foot.html")).unwrap();
    watched.until("the built-in one", is_clean);
    watched.until("the end of the fault", || {
        !watched.get("/.live/news?page=/rye.html").contains("foot.html")
    });
}

#[test]
fn what_git_leaves_out_is_left_out_as_soon_as_it_says_so() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/draft/new.loaf", bread("New"));
    let watched = Watched::start(&kitchen, &[]);
    save(&kitchen, "book/.gitignore", "draft/\n");
    watched.until("the end of the card", || {
        !kitchen.path("cards/draft/new.html").exists()
    });
    watched.until_clean();
    fs::remove_file(kitchen.path("book/.gitignore")).unwrap();
    watched.until_card("draft/new.html", "New");
}

#[test]
fn where_the_system_watches_no_more_folders_it_is_said_once_and_looked_for() {
    let mut kitchen = Kitchen::new();
    for number in 0..12 {
        kitchen = kitchen.file(&format!("book/{number}/bread.loaf"), bread("Start"));
    }
    let program = env!("CARGO_BIN_EXE_loafwright");
    let limit = "echo 4 > /proc/sys/user/max_inotify_watches && exec \"$0\" \"$@\"";
    let narrow = |arguments: &[&str]| {
        let mut command = kitchen.command(&[]);
        let mut outer = Command::new("unshare");
        outer.args(["-Ur", "sh", "-c", limit]).args(arguments);
        outer.current_dir(command.current_dir(kitchen.path("")).get_current_dir().unwrap());
        outer.stdin(std::process::Stdio::null());
        outer
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped());
        outer
    };
    if !narrow(&["true"])
        .output()
        .is_ok_and(|output| output.status.success())
    {
        #[expect(clippy::print_stderr, reason = "a test that could not be made says so")]
        {
            eprintln!("no limit of watches can be set here: not tested");
        }
        return;
    }
    let watched = Watched::of(&kitchen, narrow(&[program, "watch", "book", "--port", "0"]));
    for round in 0..3 {
        save(&kitchen, "book/9/bread.loaf", &bread(&format!("Save {round}")));
        watched.until_card("9/bread.html", &format!("Save {round}"));
    }
    thread::sleep(Duration::from_millis(1200));
    let said = watched.said();
    assert_eq!(said.matches("max_user_watches").count(), 1, "{said}");
    assert_eq!(said.matches("twice a second").count(), 1, "{said}");
    save(&kitchen, "book/new/deep/bread.loaf", &bread("New"));
    watched.until_card("new/deep/bread.html", "New");
}
