//! Versions in git: compared by commit, shown by git itself through our driver, and none of a stranger's
//! programs run on the way (hardening T90 and T91).

use std::fs;
use std::process::Command;

use crate::kitchen::Kitchen;

const BREAD: &str =
    "title: Corner loaf\n\ndough:\n  500 g     bread flour\n  WATER g     water\n  10 g      salt\n";

fn bread(water: u32) -> String {
    BREAD.replace("WATER", &water.to_string())
}

fn git(kitchen: &Kitchen, arguments: &[&str]) -> String {
    let home = kitchen.path(".home");
    fs::create_dir_all(&home).unwrap();
    let output = Command::new("git")
        .args(["-c", "user.name=Oxlip Row", "-c", "user.email=row@oxlip.example"])
        .args(arguments)
        .current_dir(kitchen.path("."))
        .env("HOME", home)
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "git {arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

/// A repository with twenty versions of one bread, each two grams of water wetter.
fn twenty_versions() -> Kitchen {
    let kitchen = Kitchen::new().file(".gitignore", ".home\n");
    git(&kitchen, &["init", "-q"]);
    for version in 0..20 {
        fs::write(kitchen.path("bread.loaf"), bread(300 + 2 * version)).unwrap();
        git(&kitchen, &["add", "bread.loaf"]);
        git(&kitchen, &["commit", "-q", "-m", &format!("version {version}")]);
    }
    kitchen
}

#[test]
fn a_version_is_compared_with_the_file_and_with_another_version() {
    let kitchen = twenty_versions();
    let told = kitchen
        .run(&["compare", "--since", "HEAD~5", "bread.loaf"])
        .ends_with(1);
    assert!(told.out.contains("65.6 % → 67.6 %"), "{}", told.out);
    let told = kitchen
        .run(&["compare", "HEAD~19:bread.loaf", "bread.loaf", "--markdown"])
        .ends_with(1);
    assert!(told.out.contains("hydration 60 → 67.6 %"), "{}", told.out);
    let _ = kitchen
        .run(&["compare", "HEAD:bread.loaf", "bread.loaf"])
        .ends_with(0);
}

#[test]
fn the_history_has_a_line_a_version() {
    let kitchen = twenty_versions();
    let told = kitchen.run(&["compare", "--history", "bread.loaf"]).ends_with(0);
    for version in 0..20 {
        assert!(
            told.out.contains(&format!("version {version}\n")),
            "{version}: {}",
            told.out
        );
    }
    assert!(told.out.contains("hydration 60 → 60.4 %"), "{}", told.out);
}

#[test]
fn git_shows_the_bread_through_the_driver() {
    let kitchen = twenty_versions().file(".gitattributes", "*.loaf diff=loaf\n");
    let program = env!("CARGO_BIN_EXE_loafwright");
    git(
        &kitchen,
        &["config", "diff.loaf.command", &format!("{program} compare --")],
    );
    git(
        &kitchen,
        &[
            "config",
            "diff.loaf.textconv",
            &format!("{program} compare --textconv"),
        ],
    );
    fs::write(kitchen.path("bread.loaf"), bread(360)).unwrap();
    let wetter = "hydration 67.6 → 72 %";
    assert!(git(&kitchen, &["diff"]).contains(wetter), "git diff");
    git(&kitchen, &["commit", "-qam", "wetter"]);
    assert!(
        git(&kitchen, &["show", "--ext-diff"]).contains(wetter),
        "git show"
    );
    let log = git(&kitchen, &["log", "-p", "--ext-diff"]);
    assert!(
        log.contains(wetter) && log.contains("hydration 60 → 60.4 %"),
        "git log"
    );
    git(&kitchen, &["mv", "bread.loaf", "loaf.loaf"]);
    git(&kitchen, &["diff", "--cached", "-M"]);
    assert!(
        git(&kitchen, &["show"]).contains("72"),
        "the text conversion shows figures"
    );
}

/// T90: programs that a stranger's repository names; none of them may run.
#[test]
fn a_strangers_repository_runs_nothing() {
    let kitchen = twenty_versions().file(".gitattributes", "*.loaf diff=trap filter=trap\n");
    let marker = kitchen.path("marker");
    let trap = format!("touch {}", marker.display());
    for key in [
        "core.fsmonitor",
        "core.pager",
        "core.sshCommand",
        "diff.external",
        "diff.trap.command",
        "diff.trap.textconv",
        "filter.trap.smudge",
        "filter.trap.clean",
        "gpg.program",
    ] {
        git(&kitchen, &["config", key, &trap]);
    }
    // The trap bites where git is asked carelessly.
    let _ = Command::new("git")
        .args(["diff", "HEAD~1"])
        .current_dir(kitchen.path("."))
        .output()
        .unwrap();
    assert!(marker.exists(), "the trap does not bite");
    fs::remove_file(&marker).unwrap();
    let _ = kitchen
        .run(&["compare", "--since", "HEAD~3", "bread.loaf"])
        .ends_with(1);
    let _ = kitchen.run(&["compare", "--history", "bread.loaf"]).ends_with(0);
    let _ = kitchen
        .run(&["compare", "HEAD~1:bread.loaf", "HEAD:bread.loaf"])
        .ends_with(1);
    assert!(!marker.exists(), "a program of the repository ran");
}

/// T91: revisions that are options, ranges or lookups in disguise.
#[test]
fn odd_revisions_are_refused_and_make_no_file() {
    let kitchen = twenty_versions();
    let before = kitchen.files().len();
    for odd in [
        "-x",
        "--output=made",
        "HEAD~1..HEAD",
        "HEAD@{yesterday}",
        "HEAD\nHEAD",
        "nothing",
    ] {
        let since = format!("--since={odd}");
        let _ = kitchen.run(&["compare", &since, "bread.loaf"]).ends_with(2);
    }
    assert!(!kitchen.path("made").exists());
    assert_eq!(kitchen.files().len(), before);
}
