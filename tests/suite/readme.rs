//! What the README tells a reader to type: every command of it runs, beside the recipes that ship, and does what it says.

use std::fs;
use std::process::Command;

use super::kitchen::{Kitchen, Served};

/// Commands that are not run here, each with the reason.
const NOT_RUN: [(&str, &str); 2] = [
    (
        "watch --open",
        "goes on until it is ended, and opens a browser; tests/suite/watch runs it",
    ),
    (
        "watch --poll",
        "goes on until it is ended; tests/suite/watch runs it",
    ),
];

/// What stands for a word of the reader's own, and a word for it.
const WORDS: [(&str, &str); 2] = [("SHELL", "bash"), ("DIR", "pages")];

/// What is said where a command ran and did nothing of what it was asked for.
const IN_VAIN: [&str; 3] = ["no hint on", "not corrected", "error"];

/// The commands of the README in their order, as words.
fn commands() -> Vec<Vec<String>> {
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let mut is_block = false;
    let mut commands = Vec::new();
    for line in readme.lines() {
        is_block ^= line.starts_with("```");
        let typed: Vec<&str> = if is_block || line.starts_with("    ") {
            vec![line.trim().split(" || ").next().unwrap()]
        } else {
            line.split('`').skip(1).step_by(2).collect()
        };
        let typed = typed
            .into_iter()
            .filter_map(|typed| typed.strip_prefix("loafwright "));
        commands.extend(typed.map(words));
    }
    commands
}

/// Splits a command as a shell does: between blanks, but not within quotes.
fn words(typed: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (at, part) in typed.split('\'').enumerate() {
        if at % 2 == 1 {
            words.push(part.to_owned());
        } else {
            let plain = part.split_whitespace().map(|word| {
                let known = WORDS.iter().find(|(name, _)| *name == word);
                known.map_or(word, |(_, word)| word).to_owned()
            });
            words.extend(plain);
        }
    }
    words
}

/// Commits all that stands in a kitchen, so that git has a version to compare with.
fn commit(kitchen: &Kitchen) {
    for arguments in [
        &["init", "-q"][..],
        &["add", "."],
        &[
            "-c",
            "user.name=Oxlip Row",
            "-c",
            "user.email=row@oxlip.example",
            "commit",
            "-q",
            "-m",
            "first",
        ],
    ] {
        let done = Command::new("git")
            .args(arguments)
            .current_dir(kitchen.path("."))
            .env("HOME", kitchen.path("."))
            .env("GIT_CONFIG_NOSYSTEM", "1")
            .status();
        assert!(done.unwrap().success(), "git {arguments:?}");
    }
}

#[track_caller]
fn ran(kitchen: &Kitchen, command: &[String]) -> Served {
    let arguments: Vec<&str> = command.iter().map(String::as_str).collect();
    let served = kitchen.run(&arguments);
    let told = format!("loafwright {}\n{}", command.join(" "), served.err);
    assert_eq!(served.code, Some(0), "{told}");
    for vain in IN_VAIN {
        let said = served.err.lines().find(|line| line.contains(vain));
        assert_eq!(said, None, "{told}");
    }
    served
}

#[test]
fn every_command_of_the_readme_does_what_it_says() {
    let kitchen = Kitchen::new().shipped_recipes();
    fs::create_dir(kitchen.path("pages")).unwrap();
    let commands = commands();
    let (first, rest) = commands.split_first().expect("there are commands");
    assert_eq!(first, &["new", "Sunday tin"]);
    let _ = ran(&kitchen, first);
    commit(&kitchen);
    let mut passed_over = 0;
    for command in rest {
        let whole = command.join(" ");
        if NOT_RUN.iter().any(|(name, _)| *name == whole) {
            passed_over += 1;
            continue;
        }
        let served = ran(&kitchen, command);
        if command.iter().any(|word| word == "--swap") && command[0] == "build" {
            let card = kitchen.read("cards/hayloft-sandwich.html");
            assert!(card.contains("Sugar instead of honey"), "{whole}");
        } else if command[0] != "check" && command[0] != "format" && !whole.contains("--since") {
            assert_ne!(served.out, "", "{whole} prints nothing");
        }
    }
    assert_eq!(
        passed_over,
        NOT_RUN.len(),
        "what is not run stands there no longer"
    );
    for wanted in [
        "sheet",
        "build",
        "check",
        "format",
        "compare",
        "explain",
        "templates",
        "completions",
        "man",
    ] {
        assert!(
            rest.iter().any(|command| command[0] == wanted),
            "{wanted} is read"
        );
    }
}
