//! What a commit can hold that no honest program puts there: odd names, links, giants, odd words.
#![cfg(unix)]

use std::fs;
use std::process::Command;

use super::git::{bread, git, twenty_versions};
use super::strangers::with_git;
use crate::kitchen::Kitchen;

/// Puts an object into the repository and gives its name.
fn object(kitchen: &Kitchen, bytes: &[u8]) -> String {
    let file = kitchen.path("object");
    fs::write(&file, bytes).unwrap();
    let made = git(kitchen, &["hash-object", "-w", "object"]);
    fs::remove_file(file).unwrap();
    made.trim().to_owned()
}

/// Commits a tree that no honest program would make.
fn hostile_tree(kitchen: &Kitchen) -> String {
    let good = object(kitchen, bread(300).as_bytes());
    let link = object(kitchen, b"/etc/passwd");
    let pointer = object(
        kitchen,
        b"version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 9\n",
    );
    let huge = object(kitchen, &vec![b'#'; 100 * 1024 * 1024]);
    let head = git(kitchen, &["rev-parse", "HEAD"]).trim().to_owned();
    let evil = made_tree(kitchen, &[format!("100644 blob {good}\tevil.loaf")]);
    let tree = made_tree(
        kitchen,
        &[
            format!("100644 blob {good}\t-x.loaf"),
            format!("040000 tree {evil}\t.."),
            format!("100644 blob {good}\t--output=made.loaf"),
            format!("100644 blob {good}\ttwo\nlines.loaf"),
            format!("100644 blob {good}\t\u{1b}[31mred.loaf"),
            format!("100755 blob {good}\t$(touch made).loaf"),
            format!("120000 blob {link}\tlink.loaf"),
            format!("160000 commit {head}\tmodule.loaf"),
            format!("100644 blob {pointer}\tpointer.loaf"),
            format!("100644 blob {huge}\thuge.loaf"),
        ],
    );
    let commit = git(
        kitchen,
        &["commit-tree", "-m", "odd\u{1b}[31m names", "-p", "HEAD", &tree],
    );
    git(kitchen, &["update-ref", "refs/heads/odd", commit.trim()]);
    huge
}

fn made_tree(kitchen: &Kitchen, entries: &[String]) -> String {
    let list = kitchen.path("list");
    fs::write(&list, entries.join("\0") + "\0").unwrap();
    let output = Command::new("git")
        .args(["mktree", "-z"])
        .current_dir(kitchen.path("."))
        .stdin(fs::File::open(&list).unwrap())
        .output()
        .unwrap();
    fs::remove_file(list).unwrap();
    assert!(output.status.success(), "{output:?}");
    String::from_utf8(output.stdout).unwrap().trim().to_owned()
}

#[test]
fn a_tree_of_odd_names_is_read_and_shown_escaped() {
    let kitchen = twenty_versions();
    let huge = hostile_tree(&kitchen);
    let kitchen = with_git(kitchen, "");
    let before: Vec<String> = kitchen.files().into_keys().collect();
    let served = kitchen.run(&["compare", "--since", "odd"]).ends_with(2);
    let said = format!("{}{}", served.out, served.err);
    let is_odd = |c: char| c.is_control() && c != '\n';
    assert!(!said.contains(is_odd), "{said:?}");
    for name in [
        "odd:-x.loaf",
        "odd:--output=made.loaf",
        "odd:two\\u{a}lines.loaf",
        "odd:\\u{1b}[31mred.loaf",
        "odd:$(touch made).loaf",
    ] {
        assert!(served.out.contains(name), "{name}: {said}");
    }
    assert!(
        served
            .err
            .contains("odd:pointer.loaf stands for a file that is kept elsewhere"),
        "{said}"
    );
    assert!(served.err.contains("odd:huge.loaf has more than 1 MiB"), "{said}");
    for name in ["link.loaf", "module.loaf", "evil.loaf", "root:"] {
        assert!(!said.contains(name), "{name}: {said}");
    }
    let calls = kitchen.read(".calls");
    assert!(calls.contains(&format!("cat-file -s {huge}")));
    assert!(
        !calls.contains(&format!("blob {huge}")),
        "its size is asked for first"
    );
    let mut after: Vec<String> = kitchen.files().into_keys().collect();
    after.retain(|name| name != ".calls");
    assert_eq!(before, after, "a file was made");
}

#[test]
fn odd_things_of_a_tree_can_be_named_but_are_no_recipes() {
    let kitchen = twenty_versions();
    hostile_tree(&kitchen);
    let served = kitchen
        .run(&["compare", "odd:link.loaf", "odd:-x.loaf"])
        .ends_with(2);
    assert!(
        served.err.contains("is a link or another repository"),
        "{}",
        served.err
    );
    let served = kitchen
        .run(&["compare", "odd:module.loaf", "odd:-x.loaf"])
        .ends_with(2);
    assert!(
        served.err.contains("is a link or another repository"),
        "{}",
        served.err
    );
    let _ = kitchen
        .run(&["compare", "odd:-x.loaf", "bread.loaf"])
        .ends_with(1);
    let served = kitchen
        .run(&["compare", "odd:../evil.loaf", "bread.loaf"])
        .ends_with(2);
    assert!(served.err.contains("outside the repository"), "{}", served.err);
}

#[test]
fn a_commit_that_says_odd_things_acts_on_no_terminal() {
    let kitchen = twenty_versions();
    git(
        &kitchen,
        &[
            "commit",
            "-q",
            "--allow-empty",
            "-m",
            "::error:: \u{1b}]0;x\u{7}\u{9b}31m | <b>\r",
        ],
    );
    fs::write(kitchen.path("bread.loaf"), bread(400)).unwrap();
    git(
        &kitchen,
        &["commit", "-qam", "\u{1b}[31m::error:: red\u{7}\u{9b} | <b>"],
    );
    for form in [&[][..], &["--markdown"], &["--json"], &["--html"]] {
        let arguments = [&["compare", "--history", "bread.loaf"], form].concat();
        let served = kitchen.run(&arguments).ends_with(0);
        let is_odd = |c: char| c.is_control() && c != '\n';
        assert!(!served.out.contains(is_odd), "{form:?}");
        assert!(served.out.contains("error"), "{form:?}");
        assert!(!served.out.lines().any(|line| line.starts_with("::")), "{form:?}");
    }
}
