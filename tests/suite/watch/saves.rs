//! The ways in which editors save, singly and in floods: none is missed, and what comes of them is a clean build.

use std::fs::{self, File, OpenOptions};
use std::io::Write as _;
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use loafwright::watch::PAUSE;

use super::{Watched, bread, is_long, save};
use crate::kitchen::Kitchen;

/// A way of putting a text into a file.
type Style = fn(&Path, &str);

/// The ways of saving, each with its name.
const STYLES: [(&str, Style); 5] = [
    ("in-place", in_place),
    ("truncate", truncate),
    ("aside", aside),
    ("backup", backup),
    ("delete", delete),
];

/// Overwrites the file without emptying it first, and cuts off what is left.
fn in_place(path: &Path, text: &str) {
    let mut file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)
        .unwrap();
    file.write_all(text.as_bytes()).unwrap();
    file.set_len(text.len() as u64).unwrap();
}

/// Empties the file and writes it in pieces.
fn truncate(path: &Path, text: &str) {
    let mut file = File::create(path).unwrap();
    for piece in text.as_bytes().chunks(100) {
        file.write_all(piece).unwrap();
        thread::sleep(Duration::from_millis(1));
    }
}

/// Writes another file and moves it over the first.
fn aside(path: &Path, text: &str) {
    let other = path.with_file_name(format!("sed{}", path.file_name().unwrap().len()));
    fs::write(&other, text).unwrap();
    fs::rename(&other, path).unwrap();
}

/// Moves the file away, writes it anew, and takes the old one away, with a swap file and a test of the folder beside.
fn backup(path: &Path, text: &str) {
    let name = path.file_name().unwrap().to_str().unwrap();
    let (swap, old) = (
        path.with_file_name(format!(".{name}.swp")),
        path.with_file_name(format!("{name}~")),
    );
    fs::write(&swap, "swap").unwrap();
    fs::write(path.with_file_name("4913"), "").unwrap();
    fs::remove_file(path.with_file_name("4913")).unwrap();
    let _ = fs::rename(path, &old);
    thread::sleep(Duration::from_millis(4));
    fs::write(path, text).unwrap();
    let _ = fs::remove_file(&old);
    fs::remove_file(&swap).unwrap();
}

/// Deletes the file and makes a new one.
fn delete(path: &Path, text: &str) {
    let _ = fs::remove_file(path);
    thread::sleep(Duration::from_millis(4));
    fs::write(path, text).unwrap();
}

/// Says that no half of a save was taken for a recipe. On a machine so busy that a save itself takes longer than the
/// program waits, a half was there to be seen, and to tell of it is right: nothing is judged then.
#[expect(
    clippy::print_stderr,
    reason = "who reads the tests shall know that this was not looked at"
)]
fn no_half_was_told_of(said: &str, slowest_save: Duration) {
    if slowest_save >= PAUSE {
        eprintln!(
            "not judged: a save took {slowest_save:?}, longer than the program waits for the rest of one"
        );
        return;
    }
    assert!(
        !said.contains("error") && !said.contains("gone"),
        "no half of a save is taken for a recipe\n{said}"
    );
}

/// Saves fifty times in each style, all styles side by side, and waits for each card.
fn no_save_is_missed(more: &[&str], rounds: usize) {
    let kitchen = STYLES.iter().fold(Kitchen::new(), |kitchen, (name, _)| {
        kitchen.file(&format!("book/{name}.loaf"), bread("Start"))
    });
    let watched = Watched::start(&kitchen, more);
    let slowest = AtomicU64::new(0);
    thread::scope(|scope| {
        for (name, style) in STYLES {
            let (kitchen, watched, slowest) = (&kitchen, &watched, &slowest);
            scope.spawn(move || {
                for round in 0..rounds {
                    // Some saves come while the program takes breath after the last one, and some later.
                    thread::sleep(Duration::from_millis(round as u64 * 37 % 190));
                    let title = format!("{name} {round}");
                    let begun = Instant::now();
                    style(&kitchen.path(&format!("book/{name}.loaf")), &bread(&title));
                    let took = u64::try_from(begun.elapsed().as_millis()).unwrap();
                    slowest.fetch_max(took, Ordering::Relaxed);
                    watched.until_card(&format!("{name}.html"), &title);
                }
            });
        }
    });
    no_half_was_told_of(&watched.said(), Duration::from_millis(slowest.into_inner()));
    watched.until_clean();
}

#[test]
fn five_styles_of_saving_fifty_times_each() {
    no_save_is_missed(&[], 50);
}

#[test]
fn five_styles_of_saving_where_nobody_tells_of_changes() {
    no_save_is_missed(&["--poll"], if is_long() { 50 } else { 3 });
}

/// A new recipe makes the program look at the whole folder, and that look meets another one in the middle of a save.
#[test]
fn a_look_at_everything_takes_no_half_of_a_save_either() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    let rye = kitchen.path("book/rye.loaf");
    for round in 0..8 {
        let title = format!("Rye {round}");
        let text = bread(&title);
        let (start, end) = text.split_at(text.find("flour").unwrap() + 3);
        // The program has taken breath, so that it looks at once.
        thread::sleep(Duration::from_millis(250));
        let before = watched.said().len();
        let look = |number: u32| {
            save(
                &kitchen,
                &format!("book/new {round} {number}.loaf"),
                &bread("New"),
            );
            thread::sleep(PAUSE / 4);
        };
        let begun = Instant::now();
        if round % 2 == 0 {
            fs::remove_file(&rye).unwrap();
            (0..2).for_each(look);
            save(&kitchen, "book/rye.loaf", &text);
        } else {
            let mut half = File::create(&rye).unwrap();
            half.write_all(start.as_bytes()).unwrap();
            (2..4).for_each(look);
            half.write_all(end.as_bytes()).unwrap();
        }
        let took = begun.elapsed();
        watched.until_card("rye.html", &title);
        no_half_was_told_of(&watched.said().split_off(before), took);
    }
    watched.until_clean();
}

#[test]
fn one_save_is_one_build_and_one_quiet_line() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    let before = watched.said().lines().count();
    for round in 0..5 {
        save(&kitchen, "book/rye.loaf", &bread(&format!("Rye {round}")));
        watched.until_card("rye.html", &format!("Rye {round}"));
        thread::sleep(Duration::from_millis(300));
    }
    let said = watched.said();
    let lines: Vec<&str> = said.lines().skip(before).collect();
    assert_eq!(lines.len(), 5, "{said}");
    assert!(
        lines
            .iter()
            .all(|line| line.starts_with("book/rye.loaf: 1 card in ") && line.ends_with(" ms")),
        "{said}"
    );
}

#[test]
fn content_decides_and_not_the_clock() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("old", bread("Old"));
    let watched = Watched::start(&kitchen, &[]);
    let before = watched.said();
    let file = File::options()
        .append(true)
        .open(kitchen.path("book/rye.loaf"))
        .unwrap();
    file.set_modified(std::time::SystemTime::now() + Duration::from_secs(1000))
        .unwrap();
    save(&kitchen, "book/rye.loaf", &bread("Rye"));
    thread::sleep(Duration::from_millis(600));
    assert_eq!(watched.said(), before, "a touch builds nothing");
    let old = File::options().append(true).open(kitchen.path("old")).unwrap();
    old.set_modified(std::time::UNIX_EPOCH + Duration::from_secs(1000))
        .unwrap();
    fs::rename(kitchen.path("old"), kitchen.path("book/rye.loaf")).unwrap();
    watched.until_card("rye.html", "Old");
}

#[test]
fn a_flood_of_saves_settles_to_a_clean_build() {
    let seconds = if is_long() { 10 } else { 3 };
    let name = |number: usize| format!("book/bread-{}.loaf", number % 20);
    let kitchen = (0..20).fold(Kitchen::new(), |kitchen, number| {
        kitchen.file(&name(number), bread("Start"))
    });
    let watched = Watched::start(&kitchen, &[]);
    let before = watched.said().lines().count();
    let start = Instant::now();
    let mut saves = 0;
    while start.elapsed() < Duration::from_secs(seconds) {
        let (_, style) = STYLES[saves % STYLES.len()];
        let text = if saves % 10 == 9 {
            super::faulty("Broken")
        } else {
            bread(&format!("Save {saves}"))
        };
        style(&kitchen.path(&name(saves * 7)), &text);
        saves += 1;
        thread::sleep(Duration::from_millis(50));
    }
    for number in 0..20 {
        save(&kitchen, &name(number), &bread(&format!("End {number}")));
    }
    thread::sleep(Duration::from_secs(1));
    watched.until_clean();
    let said = watched.said();
    let rounds = said
        .lines()
        .skip(before)
        .filter(|line| line.ends_with(" ms"))
        .count();
    let most = usize::try_from(seconds + 2).unwrap() * 10;
    assert!(rounds <= most, "{rounds} builds in {seconds} seconds");
    assert!(
        saves >= usize::try_from(seconds).unwrap() * 4,
        "the flood was no flood: {saves} saves"
    );
}

#[test]
fn an_overflow_of_events_loses_nothing() {
    let kitchen = (0..20).fold(Kitchen::new(), |kitchen, number| {
        kitchen.file(&format!("book/bread-{number}.loaf"), bread("Start"))
    });
    let watched = Watched::start(&kitchen, &[]);
    // The system keeps some sixteen thousand events for who does not listen.
    stop_and_go(&watched, || {
        for write in 0..if is_long() { 60_000 } else { 20_000 } {
            let path = kitchen.path(&format!("book/bread-{}.loaf", write % 20));
            fs::write(path, bread(&format!("Write {}", write / 20))).unwrap();
        }
        // Nothing tells of this one.
        save(&kitchen, "book/deep/new.loaf", &bread("New"));
    });
    watched.until_card("deep/new.html", "New");
    watched.until_clean();
}

/// Keeps the program from listening while something is done.
fn stop_and_go(watched: &Watched, work: impl Fn()) {
    let number = watched.number().to_string();
    let signal = |name: &str| {
        let sent = Command::new("kill").args([name, &number]).status();
        assert!(sent.unwrap().success());
    };
    signal("-STOP");
    work();
    signal("-CONT");
}

/// Real editors: each is given a command that writes another title, and what it is started with. Vim overwrites the
/// file or moves it away first, as it is told; it leaves swap and backup files.
const EDITORS: [(&str, &[&str]); 5] = [
    ("sed", &["-i", "s/^title: .*/title: TITLE/"]),
    (
        "vim",
        &[
            "-es",
            "-N",
            "-u",
            "NONE",
            "-i",
            "NONE",
            "-c",
            "set backup backupcopy=no",
            "-c",
            "%s/^title: .*/title: TITLE/",
            "-c",
            "wq",
        ],
    ),
    (
        "vim",
        &[
            "-es",
            "-N",
            "-u",
            "NONE",
            "-i",
            "NONE",
            "-c",
            "set backup backupcopy=yes",
            "-c",
            "%s/^title: .*/title: TITLE/",
            "-c",
            "wq",
        ],
    ),
    (
        "nvim",
        &[
            "--headless",
            "-u",
            "NONE",
            "-i",
            "NONE",
            "-c",
            "%s/^title: .*/title: TITLE/",
            "-c",
            "wq",
        ],
    ),
    (
        "emacs",
        &[
            "-Q",
            "--batch",
            "--eval",
            "(progn (find-file (pop command-line-args-left)) (re-search-forward \"^title: .*\") (replace-match \"title: TITLE\") (save-buffer))",
        ],
    ),
];

#[test]
fn real_editors_are_followed_ten_saves_each() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Start"));
    let watched = Watched::start(&kitchen, &[]);
    let mut tried = 0;
    for (turn, (editor, arguments)) in EDITORS.into_iter().enumerate() {
        let is_there = Command::new(editor).arg("--version").output().is_ok();
        // Whoever runs all tests has Vim installed by them.
        assert!(
            is_there || !is_long() || !["sed", "vim"].contains(&editor),
            "{editor} is not there"
        );
        for round in 0..if is_there { 10 } else { 0 } {
            let title = format!("{editor} {turn} {round}");
            let arguments = arguments.iter().map(|one| one.replace("TITLE", &title));
            let mut command = kitchen.command(&[]);
            let mut editing = Command::new(editor);
            editing
                .args(arguments)
                .arg(kitchen.path("book/rye.loaf"))
                .current_dir(kitchen.path("book"));
            editing.env(
                "HOME",
                command
                    .get_envs()
                    .find_map(|(name, home)| (name == "HOME").then_some(home?))
                    .unwrap(),
            );
            let _ = command.stdin(std::process::Stdio::null());
            let _ = editing.stdin(std::process::Stdio::null()).output().unwrap();
            watched.until_card("rye.html", &title);
            tried += 1;
        }
    }
    assert!(tried >= 10, "no editor was tried");
    let said = watched.said();
    assert!(!said.contains("error") && !said.contains("gone"), "{said}");
}

#[test]
fn a_kill_in_the_midst_of_saves_leaves_whole_cards_and_a_new_start_goes_on() {
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Start"))
        .file("book/wheat.loaf", bread("Wheat"));
    for round in 0..if is_long() { 50 } else { 6 } {
        let watched = Watched::start(&kitchen, &[]);
        let title = format!("Rye {round}");
        save(&kitchen, "book/rye.loaf", &bread(&title));
        thread::sleep(Duration::from_millis(round * 3 % 40));
        assert_eq!(watched.end("-KILL"), None);
        let page = kitchen.read("cards/rye.html");
        assert!(
            page.starts_with("<!DOCTYPE html>") && page.trim_end().ends_with("</html>"),
            "torn: {page}"
        );
        let watched = Watched::start(&kitchen, &[]);
        watched.until_card("rye.html", &title);
        watched.until_clean();
        let left = kitchen
            .files()
            .into_keys()
            .filter(|name| name.contains(".loafwright/new"))
            .count();
        assert_eq!(left, 0, "what was left by the kill is swept away");
    }
}

#[test]
fn our_own_cards_and_what_editors_leave_build_nothing() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &["--out", "book/cards"]);
    save(&kitchen, "book/rye.loaf", &bread("Rye two"));
    watched.until("the card", || {
        kitchen.read("book/cards/rye.html").contains("Rye two")
    });
    thread::sleep(Duration::from_millis(600));
    let before = watched.said();
    for name in [".rye.loaf.swp", "rye.loaf~", ".#rye.loaf", "#rye.loaf#", "4913"] {
        save(&kitchen, &format!("book/{name}"), "litter");
        fs::remove_file(kitchen.path(&format!("book/{name}"))).unwrap();
    }
    thread::sleep(Duration::from_secs(if is_long() { 10 } else { 2 }));
    assert_eq!(watched.said(), before);
}

#[test]
fn a_fault_keeps_the_old_card_and_ends_nothing() {
    let kitchen = Kitchen::new().file("book/rye.loaf", bread("Rye"));
    let watched = Watched::start(&kitchen, &[]);
    save(&kitchen, "book/rye.loaf", &super::faulty("Rye two"));
    watched.until("the fault", || watched.said().contains("book/rye.loaf:6:"));
    assert!(kitchen.read("cards/rye.html").contains("<title>Rye</title>"));
    let news = || -> serde_json::Value {
        let told = watched.get("/.live/news?page=/rye.html");
        serde_json::from_str(told.split("\r\n\r\n").nth(1).unwrap()).unwrap()
    };
    watched.until("the fault on the page", || news()["kept"] == true);
    let faults = news()["faults"].as_str().unwrap().trim_end().to_owned();
    assert!(
        faults.contains("= help:") && watched.said().contains(&faults),
        "{faults}"
    );
    save(&kitchen, "book/rye.loaf", &bread("Rye three"));
    watched.until_card("rye.html", "Rye three");
    watched.until("the end of the fault", || {
        news()["faults"] == "" && news()["kept"] == false
    });
}
