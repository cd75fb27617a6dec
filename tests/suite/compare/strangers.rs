//! Strangers' repositories: nothing of theirs runs, and nothing is fetched.
//!
//! Owns the traps: a marker stands for every program that they could have run, and each is first seen to bite.
#![cfg(unix)]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;
use std::process::{Command, Output};

use super::git::{bread, git, twenty_versions};
use crate::kitchen::Kitchen;

/// A kitchen's git without the care that the program takes.
fn careless(kitchen: &Kitchen, folder: &str, arguments: &[&str]) -> Output {
    let home = kitchen.path(".home");
    fs::create_dir_all(&home).unwrap();
    let mut command = Command::new("git");
    command
        .args(["-c", "user.name=Oxlip Row", "-c", "user.email=row@oxlip.example"])
        .args(arguments)
        .current_dir(kitchen.path(folder))
        .env("HOME", home);
    command.output().unwrap()
}

/// A script in the kitchen that can be started.
pub(super) fn script(kitchen: &Kitchen, name: &str, text: &str) -> String {
    let path = kitchen.path(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(&path, format!("#!/bin/sh\n{text}\n")).unwrap();
    fs::set_permissions(&path, Permissions::from_mode(0o755)).unwrap();
    path.to_str().unwrap().to_owned()
}

/// Says whether something was set off, and clears the marker away.
pub(super) fn was_set_off(kitchen: &Kitchen) -> bool {
    fs::remove_file(kitchen.path("marker")).is_ok()
}

/// A script that leaves a marker.
pub(super) fn trap(kitchen: &Kitchen) -> String {
    let marker = kitchen.path("marker");
    script(
        kitchen,
        ".traps/trap",
        &format!("touch '{}'\nexit 1", marker.display()),
    )
}

/// Puts a git before the real one that writes down how it is called, and then does as asked.
pub(super) fn with_git(kitchen: Kitchen, before: &str) -> Kitchen {
    let log = kitchen.path(".calls");
    let text = format!(
        "printf '%s\\n' \"$*\" >> '{}'\n{before}\nexec /usr/bin/git \"$@\"",
        log.display()
    );
    let program = script(&kitchen, ".bin/git", &text);
    let folder = Path::new(&program).parent().unwrap().to_str().unwrap().to_owned();
    kitchen.env("PATH", &format!("{folder}:/usr/bin:/bin"))
}

#[test]
fn no_setting_of_a_repository_runs_anything() {
    let kitchen = trapped();
    let _ = careless(&kitchen, ".", &["diff", "HEAD~1"]);
    assert!(was_set_off(&kitchen), "the trap does not bite");
    let kitchen = with_git(kitchen, "");
    for (arguments, code) in [
        (&["compare", "--since", "HEAD~3", "bread.loaf"][..], 1),
        (&["compare", "--since", "HEAD~3"], 1),
        (&["compare", "--history", "bread.loaf"], 0),
        (&["compare", "HEAD~1:bread.loaf", "HEAD:bread.loaf", "--html"], 1),
    ] {
        let _ = kitchen.run(arguments).ends_with(code);
    }
    assert!(!was_set_off(&kitchen), "a program of the repository ran");
    let calls = kitchen.read(".calls");
    assert!(calls.lines().count() > 40, "{calls}");
    for call in calls.lines() {
        let own = call
            .split_once("protocol.allow=never ")
            .map_or(call, |(_, own)| own);
        let command = own.split(' ').next().unwrap();
        assert!(
            ["version", "rev-parse", "ls-tree", "cat-file"].contains(&command),
            "{call}"
        );
        assert!(command == "version" || own != call, "{call}");
    }
}

/// A repository whose settings name a trap wherever git can be told to run something.
fn trapped() -> Kitchen {
    let kitchen = twenty_versions().file(".gitattributes", "*.loaf diff=trap filter=trap\n");
    let trap = trap(&kitchen);
    for key in [
        "core.fsmonitor",
        "core.pager",
        "core.editor",
        "core.sshCommand",
        "core.askPass",
        "core.gitProxy",
        "credential.helper",
        "diff.external",
        "diff.trap.command",
        "diff.trap.textconv",
        "filter.trap.smudge",
        "filter.trap.clean",
        "filter.trap.process",
        "gpg.program",
        "pager.cat-file",
        "pager.ls-tree",
        "pager.rev-parse",
    ] {
        git(&kitchen, &["config", key, &trap]);
    }
    for command in ["rev-parse", "ls-tree", "cat-file", "version"] {
        git(
            &kitchen,
            &["config", &format!("alias.{command}"), &format!("!{trap}")],
        );
    }
    git(
        &kitchen,
        &[
            "config",
            "core.hooksPath",
            kitchen.path(".traps").to_str().unwrap(),
        ],
    );
    kitchen
}

#[test]
fn odd_revisions_are_refused_before_git_sees_them() {
    let kitchen = with_git(twenty_versions(), "");
    let before: Vec<String> = kitchen.files().into_keys().collect();
    for odd in [
        "-x",
        "--output=made",
        "--upload-pack=touch made",
        "HEAD~1..HEAD",
        "HEAD@{yesterday}",
        "@{-1}",
        "HEAD\nHEAD",
        "HEAD:bread.loaf",
        ":/version",
        "",
    ] {
        let _ = kitchen
            .run(&["compare", &format!("--since={odd}"), "bread.loaf"])
            .ends_with(2);
        let calls = fs::read_to_string(kitchen.path(".calls")).unwrap_or_default();
        let word = if odd.is_empty() { "^{commit}" } else { odd };
        assert!(!calls.contains(word), "{odd:?}: {calls}");
    }
    for odd in ["nothing", "$(touch made)", "HEAD^{tree}", "HEAD^{/x}"] {
        let served = kitchen
            .run(&["compare", "--since", odd, "bread.loaf"])
            .ends_with(2);
        assert!(!served.err.contains("error: error"), "{}", served.err);
    }
    fs::remove_file(kitchen.path(".calls")).unwrap();
    let after: Vec<String> = kitchen.files().into_keys().collect();
    assert_eq!(before, after, "a file was made");
}

/// A clone that has left the recipes with its remote, which runs a trap when it is asked for them.
fn partial_clone() -> Kitchen {
    let kitchen = Kitchen::new();
    fs::create_dir_all(kitchen.path("there")).unwrap();
    let there = |arguments: &[&str]| {
        let output = careless(&kitchen, "there", arguments);
        assert!(output.status.success(), "{arguments:?} {output:?}");
    };
    there(&["init", "-q"]);
    there(&["config", "uploadpack.allowFilter", "true"]);
    for water in [300, 310] {
        fs::write(kitchen.path("there/bread.loaf"), bread(water)).unwrap();
        there(&["add", "."]);
        there(&["commit", "-qm", "a version"]);
    }
    let from = format!("file://{}", kitchen.path("there").display());
    let cloned = careless(
        &kitchen,
        ".",
        &[
            "clone",
            "-q",
            "--filter=blob:none",
            "--no-checkout",
            &from,
            "here",
        ],
    );
    assert!(cloned.status.success(), "{cloned:?}");
    fs::write(kitchen.path("here/bread.loaf"), bread(320)).unwrap();
    let trap = trap(&kitchen);
    for (key, value) in [
        ("remote.origin.uploadpack", trap.as_str()),
        ("protocol.file.allow", "always"),
        ("protocol.ext.allow", "always"),
    ] {
        assert!(
            careless(&kitchen, "here", &["config", key, value])
                .status
                .success()
        );
    }
    let _ = careless(&kitchen, "here", &["cat-file", "blob", "HEAD:bread.loaf"]);
    assert!(was_set_off(&kitchen), "the trap does not bite");
    kitchen
}

#[test]
fn what_a_partial_clone_lacks_is_not_fetched() {
    // A git of some years ago does not know the variable that forbids to fetch; it must not fetch either.
    for forgets in ["", "unset GIT_NO_LAZY_FETCH"] {
        let kitchen = with_git(partial_clone(), forgets);
        for arguments in [
            &["compare", "--since", "HEAD", "here/bread.loaf"][..],
            &["compare", "--since", "HEAD~1", "here"],
            &["compare", "--history", "here/bread.loaf"],
        ] {
            let served = kitchen.run(arguments).ends_with(2);
            assert!(served.err.contains("is not in this clone"), "{}", served.err);
        }
        assert!(!was_set_off(&kitchen), "the remote's program ran {forgets}");
    }
}

#[test]
fn what_a_clone_without_trees_lacks_is_not_fetched() {
    let kitchen = partial_clone();
    let from = format!("file://{}", kitchen.path("there").display());
    let clone = [
        "clone",
        "-q",
        "--filter=tree:0",
        "--no-checkout",
        &from,
        "bare-bones",
    ];
    assert!(careless(&kitchen, ".", &clone).status.success());
    fs::write(kitchen.path("bare-bones/bread.loaf"), bread(320)).unwrap();
    let trap = kitchen.path(".traps/trap");
    let config = ["config", "remote.origin.uploadpack", trap.to_str().unwrap()];
    assert!(careless(&kitchen, "bare-bones", &config).status.success());
    let served = kitchen
        .run(&["compare", "--since", "HEAD", "bare-bones/bread.loaf"])
        .ends_with(2);
    assert!(served.err.contains("is not in this clone"), "{}", served.err);
    assert!(!was_set_off(&kitchen), "the remote's program ran");
}

#[test]
fn a_repository_that_hides_in_a_folder_is_not_opened() {
    let kitchen = Kitchen::new();
    let made = careless(&kitchen, ".", &["init", "-q", "--bare", "recipes"]);
    assert!(made.status.success());
    let trap = trap(&kitchen);
    fs::write(
        kitchen.path("recipes/config"),
        format!(
            "[core]\n\trepositoryformatversion = 0\n\tbare = false\n\tworktree = {}\n\tfsmonitor = {trap}\n",
            kitchen.path("recipes").display()
        ),
    )
    .unwrap();
    fs::write(kitchen.path("recipes/bread.loaf"), bread(300)).unwrap();
    let _ = careless(&kitchen, "recipes", &["status"]);
    assert!(was_set_off(&kitchen), "the trap does not bite");
    for arguments in [
        &["compare", "--since", "HEAD", "recipes/bread.loaf"][..],
        &["compare", "--history", "recipes/bread.loaf"],
    ] {
        let served = kitchen.run(arguments).ends_with(2);
        assert!(served.err.contains("bare repository"), "{}", served.err);
    }
    assert!(!was_set_off(&kitchen), "the hidden repository was opened");
}

#[test]
fn a_repository_of_another_owner_is_not_opened() {
    // The git before the real one makes it believe that the repository is somebody else's.
    let kitchen = with_git(twenty_versions(), "export GIT_TEST_ASSUME_DIFFERENT_OWNER=1");
    let served = kitchen
        .run(&["compare", "--since", "HEAD", "bread.loaf"])
        .ends_with(2);
    assert!(served.err.contains("dubious ownership"), "{}", served.err);
    assert!(
        served.err.contains("safe.directory"),
        "git's own advice: {}",
        served.err
    );
    assert!(!kitchen.read(".calls").contains("safe.directory"));
    // Who has said that the repository is trusted is obeyed.
    let top = fs::canonicalize(kitchen.path(".")).unwrap();
    git(
        &kitchen,
        &["config", "--global", "safe.directory", top.to_str().unwrap()],
    );
    let _ = kitchen
        .run(&["compare", "--since", "HEAD", "bread.loaf"])
        .ends_with(0);
}

#[test]
fn what_the_environment_tells_git_does_not_get_in() {
    let kitchen = twenty_versions();
    let told = kitchen
        .run(&["compare", "--since", "HEAD~5", "bread.loaf"])
        .ends_with(1);
    let other = twenty_versions();
    git(&other, &["reset", "-q", "--hard", "HEAD~12"]);
    let trap = trap(&kitchen);
    // Nor does what the user has set for git's own differences.
    git(&kitchen, &["config", "--global", "diff.external", &trap]);
    git(&kitchen, &["config", "--global", "core.pager", &trap]);
    let mut kitchen = kitchen;
    for (name, value) in [
        ("GIT_DIR", other.path(".git").to_str().unwrap()),
        ("GIT_WORK_TREE", other.path(".").to_str().unwrap()),
        ("GIT_INDEX_FILE", "nowhere"),
        ("GIT_OBJECT_DIRECTORY", "nowhere"),
        ("GIT_EXTERNAL_DIFF", &trap),
        ("GIT_PAGER", &trap),
        ("GIT_CONFIG_COUNT", "1"),
        ("GIT_CONFIG_KEY_0", "core.fsmonitor"),
        ("GIT_CONFIG_VALUE_0", &trap),
        ("GIT_CONFIG_PARAMETERS", "'alias.ls-tree=!false'"),
        ("GIT_NAMESPACE", "other"),
    ] {
        kitchen = kitchen.env(name, value);
    }
    let again = kitchen
        .run(&["compare", "--since", "HEAD~5", "bread.loaf"])
        .ends_with(1);
    assert_eq!(told.out, again.out);
    assert!(!was_set_off(&kitchen));
}
