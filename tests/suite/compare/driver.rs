//! What git shows of recipes by itself, with the set-up that the program prints.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::git::{bread, git, twenty_versions};
use crate::kitchen::{Kitchen, Served};

const WETTER: &str = "hydration 67.6 → 72 %";

/// Twenty versions in a repository that is set up as `--git-setup` says, and a wetter one that is not committed.
fn set_up() -> Kitchen {
    let kitchen = twenty_versions();
    let setup = kitchen.run(&["compare", "--git-setup"]).ends_with(0).out;
    let program = env!("CARGO_BIN_EXE_loafwright");
    let mut settings = 0;
    for line in setup.lines().filter(|line| !line.starts_with('#')) {
        if let Some(rest) = line.strip_prefix("git config --global ") {
            let (key, value) = rest.split_once(' ').unwrap();
            let value = value.trim_matches('\'').replace("loafwright", program);
            git(&kitchen, &["config", "--global", key, &value]);
            settings += 1;
        } else if !line.is_empty() {
            fs::write(kitchen.path(".gitattributes"), format!("{line}\n")).unwrap();
        }
    }
    assert_eq!(settings, 3, "{setup}");
    fs::write(kitchen.path("bread.loaf"), bread(360)).unwrap();
    kitchen
}

#[test]
fn git_shows_the_bread_by_the_printed_set_up() {
    let kitchen = set_up();
    let shown = git(&kitchen, &["diff"]);
    assert!(shown.contains(WETTER) && !shown.contains("@@"), "{shown}");
    git(&kitchen, &["commit", "-qam", "wetter"]);
    let shown = git(&kitchen, &["show", "--ext-diff"]);
    assert!(shown.contains(WETTER), "{shown}");
    let log = git(&kitchen, &["log", "-p", "--ext-diff"]);
    assert!(
        log.contains(WETTER) && log.contains("hydration 60 → 60.4 %"),
        "{log}"
    );
    assert_eq!(log.matches("Corner loaf: ").count(), 21, "{log}");
}

#[test]
fn git_compares_the_text_conversion_where_it_calls_no_driver() {
    let kitchen = set_up();
    git(&kitchen, &["commit", "-qam", "wetter"]);
    for arguments in [&["show"][..], &["log", "-p", "-1"]] {
        let shown = git(&kitchen, arguments);
        assert!(
            shown.contains("\n-hydration: 67.6 %\n") && shown.contains("\n+hydration: 72 %\n"),
            "{shown}"
        );
    }
    let plain = git(&kitchen, &["show", "--no-textconv"]);
    assert!(plain.contains("\n+  360 g     water\n"), "{plain}");
}

#[test]
fn git_tells_new_gone_and_renamed_recipes() {
    let kitchen = set_up();
    git(&kitchen, &["commit", "-qam", "wetter"]);
    fs::write(kitchen.path("second.loaf"), bread(330)).unwrap();
    git(&kitchen, &["add", "second.loaf"]);
    let shown = git(&kitchen, &["diff", "--cached"]);
    assert!(shown.contains("a new recipe: dough 840 g"), "{shown}");
    git(&kitchen, &["mv", "-f", "bread.loaf", "second.loaf"]);
    fs::write(kitchen.path("second.loaf"), bread(365)).unwrap();
    git(&kitchen, &["add", "-A", "*.loaf"]);
    let shown = git(&kitchen, &["diff", "--cached", "-M30"]);
    assert!(shown.contains("bread.loaf → second.loaf"), "{shown}");
    assert!(shown.contains("hydration 72 → 73 %"), "{shown}");
    let shown = git(&kitchen, &["diff", "--cached", "--no-renames"]);
    assert!(shown.contains("gone: dough 870 g"), "{shown}");
}

#[test]
fn exit_codes_of_git_itself_are_not_touched() {
    let kitchen = set_up();
    let code = |arguments: &[&str]| {
        let status = Command::new("git")
            .args(arguments)
            .current_dir(kitchen.path("."))
            .env("HOME", kitchen.path(".home"))
            .stdout(std::process::Stdio::null())
            .status();
        status.unwrap().code()
    };
    assert_eq!(code(&["diff", "--exit-code", "--", "bread.loaf"]), Some(1));
    assert_eq!(code(&["diff", "--", "bread.loaf"]), Some(0));
    fs::write(kitchen.path("bread.loaf"), "title: Half\ndough:\n  500 g bre").unwrap();
    assert_eq!(code(&["diff", "--", "bread.loaf"]), Some(0), "a faulty version");
    git(&kitchen, &["checkout", "-q", "bread.loaf"]);
    assert_eq!(code(&["diff", "--exit-code", "--", "bread.loaf"]), Some(0));
}

/// Calls the driver as git does.
fn called(kitchen: &Kitchen, words: &[&str]) -> Served {
    kitchen.run(&[&["compare", "--"], words].concat()).ends_with(0)
}

#[test]
fn the_driver_takes_seven_words_and_nine_and_ends_well() {
    let kitchen = Kitchen::new()
        .file("old", bread(300))
        .file("new", bread(310))
        .file(
            "broken",
            "title: Broken\n\ndough:\n  500 g     bread flour\n  62 %     wat and\n  90 g\n",
        );
    let (zero, mode) = ("0".repeat(40), "100644");
    let told = called(&kitchen, &["bread.loaf", "old", &zero, mode, "new", &zero, mode]);
    assert!(told.out.contains("hydration 60 → 62 %"), "{}", told.out);
    let rename = "similarity index 97%\nrename from bread.loaf\nrename to tin.loaf\n";
    let told = called(
        &kitchen,
        &[
            "bread.loaf",
            "old",
            &zero,
            mode,
            "new",
            &zero,
            mode,
            "tin.loaf",
            rename,
        ],
    );
    assert!(told.out.starts_with("bread.loaf → tin.loaf\n"), "{}", told.out);
    let nothing = "/dev/null";
    let told = called(&kitchen, &["bread.loaf", nothing, ".", ".", "new", &zero, mode]);
    assert!(told.out.contains("a new recipe"), "{}", told.out);
    let told = called(&kitchen, &["bread.loaf", "old", &zero, mode, nothing, ".", "."]);
    assert!(told.out.contains("gone"), "{}", told.out);
    let told = called(
        &kitchen,
        &["bread.loaf", "old", &zero, mode, "broken", &zero, mode],
    );
    assert!(
        told.out.contains("cannot be compared as bread") && told.out.contains("\n-  300 g     water\n"),
        "{}",
        told.out
    );
    let kitchen = kitchen.env("GIT_DIFF_PATH_TOTAL", "1");
    let told = called(&kitchen, &["bread.loaf"]);
    assert_eq!(told.out, "bread.loaf is not merged\n");
}

#[test]
fn colours_come_where_git_is_set_up_to_have_them() {
    let kitchen = set_up();
    assert!(!git(&kitchen, &["diff"]).contains('\u{1b}'));
    let program = env!("CARGO_BIN_EXE_loafwright");
    let driver = format!("{program} compare --color always --");
    git(&kitchen, &["config", "diff.loaf.command", &driver]);
    assert!(git(&kitchen, &["diff"]).contains("\u{1b}[33m~ water"));
}

/// The hook of the manual, as it stands there.
fn hook() -> String {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let (_, rest) = page.split_once("```sh\n").unwrap();
    rest.split_once("```").unwrap().0.to_owned()
}

#[cfg(unix)]
#[test]
fn the_hook_of_the_manual_lets_only_sound_and_tidy_recipes_into_a_commit() {
    use std::os::unix::fs::PermissionsExt as _;
    let kitchen = Kitchen::new().file(".gitignore", ".home\n");
    git(&kitchen, &["init", "-q"]);
    let path = kitchen.path(".git/hooks/pre-commit");
    let program = Path::new(env!("CARGO_BIN_EXE_loafwright")).parent().unwrap();
    let hook = hook().replacen('\n', &format!("\nPATH='{}':$PATH\n", program.display()), 1);
    fs::write(&path, hook).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).unwrap();
    let commit = |text: &str| {
        fs::write(kitchen.path("bread.loaf"), text).unwrap();
        git(&kitchen, &["add", "bread.loaf"]);
        let output = Command::new("git")
            .args(["-c", "user.name=Oxlip Row", "-c", "user.email=row@oxlip.example"])
            .args(["commit", "-qm", "a version"])
            .current_dir(kitchen.path("."))
            .env("HOME", kitchen.path(".home"))
            .output()
            .unwrap();
        let said = [output.stdout, output.stderr].concat();
        (output.status.success(), String::from_utf8(said).unwrap())
    };
    let tidy = bread(300).replace("title: ", "title:  ");
    let (is_in, said) = commit(&tidy);
    assert!(is_in, "the first commit of all: {said}");
    let (is_in, said) = commit(&bread(320));
    assert!(!is_in && said.contains("+title:  Corner loaf"), "{said}");
    let (is_in, said) = commit(&tidy.replace("300 g     water", "300 g     watter and\n  90 g"));
    assert!(!is_in && said.contains("error["), "{said}");
    let (is_in, said) = commit(&tidy.replace("300 g", "320 g"));
    assert!(is_in && said.contains("hydration 60 → 64 %"), "{said}");
}
