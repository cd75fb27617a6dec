//! What `format` does to files: written whole or not at all, left alone with an error, nothing lost.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::kitchen::Kitchen;

const LOOSE: &str =
    "title: Plain\n\ndough:\n    500g bread flour # from the mill\n    325 g water\n    9 g salt\n";
const TIDY: &str = "title:  Plain\n\ndough:\n  500 g     bread flour                  # from the mill\n  325 g     \
                    water\n  9 g       salt\n";
const FAULTY: &str = "title: Broken\ndough:\n    500g bread flour\n    325 watter\n<<<<<<< HEAD\n  9 g\n";

fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/format");
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut cases: Vec<PathBuf> = entries
        .filter(|path| path.extension().is_some_and(|ending| ending == "loaf"))
        .collect();
    cases.sort();
    cases
}

/// Puts a file's time back, so that a write shows.
fn age(path: &Path) -> SystemTime {
    let then = SystemTime::now() - Duration::from_secs(1000);
    File::options()
        .append(true)
        .open(path)
        .unwrap()
        .set_modified(then)
        .unwrap();
    fs::metadata(path).unwrap().modified().unwrap()
}

#[test]
fn every_case_comes_out_as_agreed() {
    assert!(cases().len() >= 3);
    for case in cases() {
        let wanted = fs::read_to_string(case.with_extension("formatted")).unwrap();
        let is_house = case
            .file_name()
            .unwrap()
            .to_str()
            .unwrap()
            .starts_with("bakehouse");
        let name = if is_house { "bakehouse.loaf" } else { "a.loaf" };
        for text in [fs::read_to_string(&case).unwrap(), wanted.clone()] {
            let kitchen = Kitchen::new().file(name, text);
            let _ = kitchen.run(&["format", name]).ends_with(0);
            assert_eq!(kitchen.read(name), wanted, "{}", case.display());
            let served = kitchen.run(&["format", "--check"]).ends_with(0);
            assert_eq!(served.out, "");
        }
    }
}

#[test]
fn the_recipes_that_ship_are_in_their_one_form() {
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let served = Kitchen::new().run(&["format", "--check", recipes.to_str().unwrap()]);
    let _ = served.ends_with(0);
}

#[test]
fn a_file_with_an_error_is_left_alone_and_the_others_are_formatted() {
    let kitchen = Kitchen::new()
        .file("a.loaf", LOOSE)
        .file("b.loaf", FAULTY)
        .file("c.loaf", LOOSE)
        .file("d/bakehouse.loaf", "bakehouse: Oxlip Row\nroom: warm\n")
        .file(
            "e.loaf",
            "title: Eaten flour\n\ndough:\n  90 % bread flour\n  60 % water\n",
        );
    let times: Vec<_> = ["b.loaf", "d/bakehouse.loaf", "e.loaf"]
        .map(|name| age(&kitchen.path(name)))
        .into();
    let served = kitchen.run(&["format"]).ends_with(1);
    assert_eq!(served.out, "");
    assert!(
        served.err.contains("error[merge-marks]") || served.err.contains("error["),
        "{}",
        served.err
    );
    assert!(
        served
            .err
            .ends_with("2 files formatted, 3 files left alone because of errors\n"),
        "{}",
        served.err
    );
    assert_eq!(kitchen.read("a.loaf"), TIDY);
    assert_eq!(kitchen.read("b.loaf"), FAULTY);
    assert_eq!(kitchen.read("c.loaf"), TIDY);
    for (name, time) in ["b.loaf", "d/bakehouse.loaf", "e.loaf"].into_iter().zip(times) {
        assert_eq!(
            fs::metadata(kitchen.path(name)).unwrap().modified().unwrap(),
            time,
            "{name}"
        );
    }
}

#[test]
fn a_file_in_its_one_form_is_not_written_again() {
    let kitchen = Kitchen::new()
        .file("a.loaf", TIDY)
        .file("bakehouse.loaf", "bakehouse: Oxlip Row\n");
    let times = ["a.loaf", "bakehouse.loaf"].map(|name| (name, age(&kitchen.path(name))));
    let served = kitchen.run(&["format", "."]).ends_with(0);
    assert_eq!(served.err, "2 files in the one form already\n");
    for (name, time) in times {
        assert_eq!(
            fs::metadata(kitchen.path(name)).unwrap().modified().unwrap(),
            time,
            "{name}"
        );
    }
}

#[test]
fn a_bakehouse_above_the_recipe_is_not_formatted_with_it() {
    let house = "bakehouse:   Oxlip Row\nroom:  21C\n";
    let kitchen = Kitchen::new()
        .file(".git/HEAD", "")
        .file("bakehouse.loaf", house)
        .file("breads/a.loaf", LOOSE)
        .file("breads/bakehouse.loaf", house);
    let _ = kitchen.run(&["format", "breads/a.loaf"]).ends_with(0);
    assert_eq!(kitchen.read("breads/bakehouse.loaf"), house);
    let _ = kitchen.run(&["format", "breads"]).ends_with(0);
    assert_eq!(
        kitchen.read("breads/bakehouse.loaf"),
        "bakehouse: Oxlip Row\nroom:      21 C\n"
    );
    assert_eq!(kitchen.read("bakehouse.loaf"), house);
    let _ = kitchen.run(&["format", "bakehouse.loaf"]).ends_with(0);
    assert_eq!(
        kitchen.read("bakehouse.loaf"),
        "bakehouse: Oxlip Row\nroom:      21 C\n"
    );
}

#[test]
fn a_check_writes_nothing_and_its_difference_can_be_put_in_place() {
    let kitchen = Kitchen::new().file("a.loaf", LOOSE).file("b.loaf", TIDY);
    let served = kitchen.run(&["format", "--check"]).ends_with(1);
    assert_eq!(kitchen.read("a.loaf"), LOOSE);
    assert!(
        served
            .out
            .starts_with("--- a.loaf\n+++ a.loaf\n@@ -1,6 +1,6 @@\n-title: Plain\n+title:  Plain\n \n"),
        "{}",
        served.out
    );
    assert!(!served.out.contains("b.loaf"));
    assert_eq!(
        served.err,
        "1 file to be formatted, 1 file in the one form already\n"
    );
    fs::write(kitchen.path("a.patch"), &served.out).unwrap();
    let applied = kitchen.command(&[]).get_current_dir().map(Path::to_owned);
    let git = std::process::Command::new("git")
        .args(["apply", "-p0", "a.patch"])
        .current_dir(applied.unwrap())
        .env("GIT_CEILING_DIRECTORIES", kitchen.path(".."))
        .status();
    assert!(git.unwrap().success());
    assert_eq!(kitchen.read("a.loaf"), TIDY);
}

#[test]
fn colour_is_for_terminals_only() {
    let kitchen = Kitchen::new().file("a.loaf", LOOSE);
    let plain = kitchen.run(&["format", "--check"]).ends_with(1);
    assert!(!plain.out.contains('\u{1b}'));
    let coloured = kitchen
        .run(&["format", "--check", "--color", "always"])
        .ends_with(1);
    assert!(
        coloured.out.contains("\u{1b}[32m+title:  Plain\u{1b}[0m\n"),
        "{}",
        coloured.out
    );
}

#[test]
fn standard_input_comes_back_formatted_or_as_it_was() {
    let served = Kitchen::new().stdin(LOOSE).run(&["format", "-"]).ends_with(0);
    assert_eq!((served.out.as_str(), served.err.as_str()), (TIDY, ""));
    let served = Kitchen::new().stdin(TIDY).run(&["format", "-"]).ends_with(0);
    assert_eq!(served.out, TIDY);
    let served = Kitchen::new().stdin(FAULTY).run(&["format", "-"]).ends_with(1);
    assert_eq!(served.out, FAULTY);
    assert!(served.err.contains("<stdin>:"), "{}", served.err);
    let served = Kitchen::new()
        .stdin(LOOSE)
        .run(&["format", "--check", "-"])
        .ends_with(1);
    assert!(
        served.out.starts_with("--- <stdin>\n+++ <stdin>\n"),
        "{}",
        served.out
    );
    let served = Kitchen::new()
        .stdin(LOOSE)
        .run(&["format", "-", "a.loaf"])
        .ends_with(2);
    assert_eq!(served.out, "");
}

#[test]
fn bytes_that_are_no_text_come_back_from_standard_input() {
    let bytes = b"title: Caf\xe9\n\ndough:\n  500g bread flour\n";
    let kitchen = Kitchen::new().file("in", bytes);
    let mut command = kitchen.command(&["format", "-"]);
    let output = command
        .stdin(File::open(kitchen.path("in")).unwrap())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(output.stdout, bytes);
}

#[test]
fn standard_input_stands_for_a_file_by_its_name() {
    let house = "bakehouse: Oxlip Row\n\ningredient lane rye:\n  like whole rye flour\n";
    let kitchen = Kitchen::new().file("in/bakehouse.loaf", house).stdin(house);
    let served = kitchen
        .run(&["format", "-", "--stdin-path", "in/bakehouse.loaf"])
        .ends_with(0);
    assert_eq!(served.out, house.replace("like whole", "like      whole"));
    assert_eq!(kitchen.read("in/bakehouse.loaf"), house);
    let with_rye = LOOSE.replace("bread flour", "bread flour as lane rye");
    let served = kitchen
        .stdin(with_rye)
        .run(&["format", "-", "--stdin-path", "in/new.loaf"])
        .ends_with(0);
    assert!(served.out.contains("bread flour as lane rye"), "{}", served.out);
}

#[test]
fn line_ends_and_a_byte_order_mark_stay() {
    for mark in ["", "\u{feff}"] {
        for end in ["\n", "\r\n"] {
            let dressed = |text: &str| format!("{mark}{}", text.replace('\n', end));
            let kitchen = Kitchen::new().file("a.loaf", dressed(LOOSE));
            let _ = kitchen.run(&["format", "a.loaf"]).ends_with(0);
            assert_eq!(kitchen.read("a.loaf"), dressed(TIDY));
        }
    }
}

#[test]
fn there_are_no_options_of_style() {
    let served = Kitchen::new().run(&["format", "--help"]).ends_with(0);
    let options: Vec<&str> = served
        .out
        .lines()
        .filter_map(|line| line.trim_start().split_once("--"))
        .filter(|(before, _)| before.is_empty() || before.starts_with('-'))
        .map(|(_, option)| option.split([' ', '=']).next().unwrap())
        .collect();
    assert_eq!(options, ["check", "color", "stdin-path", "help"]);
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/FORMAT.md");
    assert!(fs::read_to_string(page).unwrap().contains("no options"));
}

#[cfg(unix)]
mod unix {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, chown, symlink};

    use super::*;

    fn mode(kitchen: &Kitchen, name: &str) -> u32 {
        fs::metadata(kitchen.path(name)).unwrap().permissions().mode() & 0o7777
    }

    #[test]
    fn permissions_and_owner_stay() {
        let kitchen = Kitchen::new().file("a.loaf", LOOSE);
        let path = kitchen.path("a.loaf");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        // Only the superuser can give a file away; elsewhere the owner is the one that it was.
        let _ = chown(&path, Some(4242), Some(4343));
        let before = fs::metadata(&path).unwrap();
        let _ = kitchen.run(&["format", "a.loaf"]).ends_with(0);
        let after = fs::metadata(&path).unwrap();
        assert_eq!(kitchen.read("a.loaf"), TIDY);
        assert_eq!(
            (before.uid(), before.gid(), before.mode()),
            (after.uid(), after.gid(), after.mode())
        );
    }

    #[test]
    fn a_read_only_file_is_left_alone() {
        let kitchen = Kitchen::new().file("a.loaf", LOOSE);
        fs::set_permissions(kitchen.path("a.loaf"), fs::Permissions::from_mode(0o444)).unwrap();
        let served = kitchen.run(&["format", "a.loaf"]).ends_with(2);
        assert!(
            served.err.contains("marked as not to be written"),
            "{}",
            served.err
        );
        assert_eq!(kitchen.read("a.loaf"), LOOSE);
        assert_eq!(mode(&kitchen, "a.loaf"), 0o444);
    }

    #[test]
    fn a_file_with_two_names_is_left_alone() {
        let kitchen = Kitchen::new().file("a.loaf", LOOSE);
        fs::hard_link(kitchen.path("a.loaf"), kitchen.path("b.loaf")).unwrap();
        let served = kitchen.run(&["format", "a.loaf"]).ends_with(2);
        assert!(served.err.contains("second name"), "{}", served.err);
        assert_eq!(kitchen.read("b.loaf"), LOOSE);
    }

    #[test]
    fn a_link_within_the_project_stays_and_one_out_of_it_is_refused() {
        let kitchen = Kitchen::new()
            .file("project/.git/HEAD", "")
            .file("project/deep/a.loaf", LOOSE)
            .file("outside.loaf", LOOSE);
        symlink("deep/a.loaf", kitchen.path("project/in.loaf")).unwrap();
        symlink("../outside.loaf", kitchen.path("project/out.loaf")).unwrap();
        let _ = kitchen.run(&["format", "project/in.loaf"]).ends_with(0);
        assert!(
            fs::symlink_metadata(kitchen.path("project/in.loaf"))
                .unwrap()
                .is_symlink()
        );
        assert_eq!(kitchen.read("project/deep/a.loaf"), TIDY);
        let served = kitchen.run(&["format", "project/out.loaf"]).ends_with(2);
        assert!(served.err.contains("leads out of the project"), "{}", served.err);
        assert_eq!(kitchen.read("outside.loaf"), LOOSE);
    }

    #[test]
    fn what_lies_under_the_aside_name_is_never_written_through() {
        let kitchen = Kitchen::new()
            .file("a.loaf", LOOSE)
            .file("letter.txt", "Dear all");
        let aside = kitchen.path(".loafwright-format");
        symlink("letter.txt", &aside).unwrap();
        let _ = kitchen.run(&["format", "a.loaf"]).ends_with(0);
        fs::hard_link(kitchen.path("letter.txt"), &aside).unwrap();
        fs::write(kitchen.path("a.loaf"), LOOSE).unwrap();
        let _ = kitchen.run(&["format", "a.loaf"]).ends_with(0);
        assert_eq!(kitchen.read("letter.txt"), "Dear all");
        assert_eq!(kitchen.read("a.loaf"), TIDY);
        assert!(!aside.exists(), "nothing is left lying about");
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_file_that_somebody_saves_meanwhile_is_theirs() {
        let mut kitchen = Kitchen::new();
        for round in 0..200 {
            kitchen = kitchen.file("a.loaf", LOOSE);
            // Another run has the folder's aside file, so that this one has read the recipe and waits.
            let aside = File::create(kitchen.path(".loafwright-format")).unwrap();
            aside.lock().unwrap();
            let child = kitchen.command(&["format", "a.loaf"]).spawn().unwrap();
            let saved = LOOSE.replace("325 g", &format!("{} g", 400 + round));
            wait_until_blocked(child.id());
            fs::write(kitchen.path("a.loaf"), &saved).unwrap();
            drop(aside);
            let output = child.wait_with_output().unwrap();
            let told = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(2), "{told}");
            assert!(told.contains("changed by somebody else just now"), "{told}");
            assert_eq!(kitchen.read("a.loaf"), saved);
        }
    }

    #[cfg(target_os = "linux")]
    /// Waits until a process has opened the aside file, which it does after it has read the recipe.
    fn wait_until_blocked(process: u32) {
        let is_there = || {
            let open = fs::read_dir(format!("/proc/{process}/fd")).ok()?;
            let mut names = open.filter_map(|entry| fs::read_link(entry.ok()?.path()).ok());
            names.find(|name| name.ends_with(".loafwright-format"))
        };
        for _ in 0..2000 {
            if is_there().is_some() {
                return;
            }
            std::thread::sleep(Duration::from_millis(2));
        }
        panic!("the program did not come to the aside file");
    }
}
