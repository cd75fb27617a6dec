//! Git itself: not there, too old, somebody else's, or one that does not answer.
#![cfg(unix)]

use std::fs;
use std::time::{Duration, Instant};

use super::git::{bread, twenty_versions};
use super::strangers::{script, trap, was_set_off};
use crate::kitchen::Kitchen;

#[test]
fn without_git_it_is_said_what_to_do() {
    let kitchen = twenty_versions().env("PATH", "/nowhere");
    let served = kitchen
        .run(&["compare", "--since", "HEAD", "bread.loaf"])
        .ends_with(2);
    assert!(
        served.err.contains("git was not found; install it"),
        "{}",
        served.err
    );
    let kitchen = kitchen.file("other.loaf", bread(300));
    let _ = kitchen.run(&["compare", "other.loaf", "bread.loaf"]).ends_with(1);
}

#[test]
fn a_git_in_the_current_folder_is_not_started() {
    let kitchen = twenty_versions();
    trap(&kitchen);
    fs::rename(kitchen.path(".traps/trap"), kitchen.path("git")).unwrap();
    let here = kitchen
        .path("")
        .to_str()
        .unwrap()
        .trim_end_matches('/')
        .to_owned();
    let elsewhere = Kitchen::new();
    let link = elsewhere.path("link");
    std::os::unix::fs::symlink(&here, &link).unwrap();
    for path in [
        ".",
        "",
        ":/usr/bin:/bin",
        &format!("{here}:/usr/bin:/bin"),
        &format!("{}:/usr/bin:/bin", link.display()),
        "relative:/usr/bin",
    ] {
        let kitchen = Kitchen::new().env("PATH", path);
        let mut command = kitchen.command(&["compare", "--since", "HEAD", "bread.loaf"]);
        let output = command.current_dir(&here).output().unwrap();
        let code = if path.contains("/usr") { 0 } else { 2 };
        assert_eq!(output.status.code(), Some(code), "{path}: {output:?}");
    }
    assert!(!was_set_off(&kitchen), "a git of the folder ran");
}

#[test]
fn a_git_that_is_too_old_is_told_of() {
    let kitchen = twenty_versions();
    script(&kitchen, ".bin/git", "echo git version 2.20.1");
    let path = kitchen.path(".bin").to_str().unwrap().to_owned();
    let kitchen = kitchen.env("PATH", &path);
    let served = kitchen
        .run(&["compare", "--since", "HEAD", "bread.loaf"])
        .ends_with(2);
    assert!(
        served.err.contains("too old (2.20.1); version 2.38 or newer"),
        "{}",
        served.err
    );
}

#[test]
fn a_git_that_hangs_or_talks_without_end_is_ended() {
    let kitchen = twenty_versions();
    let path = kitchen.path(".bin").to_str().unwrap().to_owned();
    let mut kitchen = kitchen.env("PATH", &format!("{path}:/usr/bin:/bin"));
    for (does, says, least) in [
        ("exec sleep 300", "git did not answer within 10 s", 9),
        ("exec yes", "git answered with more", 0),
        ("exec 1>&-; exec sleep 300", "git did not end within 10 s", 9),
    ] {
        let text = format!("case \"$1\" in version) echo git version 2.47.3; exit;; esac\n{does}");
        script(&kitchen, ".bin/git", &text);
        kitchen = kitchen.file("x", "");
        let start = Instant::now();
        let served = kitchen
            .run(&["compare", "--since", "HEAD", "bread.loaf"])
            .ends_with(2);
        assert!(served.err.contains(says), "{does}: {}", served.err);
        let took = start.elapsed();
        assert!(
            took >= Duration::from_secs(least) && took < Duration::from_secs(25),
            "{took:?}"
        );
    }
}
