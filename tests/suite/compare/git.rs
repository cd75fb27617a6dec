//! Versions in git: compared by commit and told as a history.

use std::fs;
use std::process::Command;

use crate::kitchen::Kitchen;

const BREAD: &str =
    "title: Corner loaf\n\ndough:\n  500 g     bread flour\n  WATER g     water\n  10 g      salt\n";

pub(super) fn bread(water: u32) -> String {
    BREAD.replace("WATER", &water.to_string())
}

pub(super) fn git(kitchen: &Kitchen, arguments: &[&str]) -> String {
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
pub(super) fn twenty_versions() -> Kitchen {
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
