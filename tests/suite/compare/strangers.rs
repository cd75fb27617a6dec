//! Strangers' repositories: nothing of theirs runs, nothing is fetched, and what they hold is only read.
//!
//! A marker stands for every program that they could have run. Each trap is first seen to bite.
#![cfg(unix)]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;
use std::process::{Command, Output};
use std::time::{Duration, Instant};

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
fn script(kitchen: &Kitchen, name: &str, text: &str) -> String {
    let path = kitchen.path(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(&path, format!("#!/bin/sh\n{text}\n")).unwrap();
    fs::set_permissions(&path, Permissions::from_mode(0o755)).unwrap();
    path.to_str().unwrap().to_owned()
}

/// Says whether something was set off, and clears the marker away.
fn was_set_off(kitchen: &Kitchen) -> bool {
    fs::remove_file(kitchen.path("marker")).is_ok()
}

/// A script that leaves a marker.
fn trap(kitchen: &Kitchen) -> String {
    let marker = kitchen.path("marker");
    script(
        kitchen,
        ".traps/trap",
        &format!("touch '{}'\nexit 1", marker.display()),
    )
}

/// Puts a git before the real one that writes down how it is called, and then does as asked.
fn with_git(kitchen: Kitchen, before: &str) -> Kitchen {
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
    let mut after: Vec<String> = kitchen.files().into_keys().collect();
    after.retain(|name| name != ".calls");
    assert_eq!(before, after, "a file was made");
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
    for path in [
        ".",
        "",
        ":/usr/bin:/bin",
        &format!("{here}:/usr/bin:/bin"),
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
