//! What the system is asked for, seen from outside by a tracer: in which order a source is written, which files
//! are opened, and that nothing is connected to and no other program is started.
#![cfg(target_os = "linux")]
#![expect(clippy::print_stderr, reason = "a test that did not run says so")]

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::kitchen::Kitchen;

const LOOSE: &str = "title: Plain\n\ndough:\n    500g bread flour\n    325 g water\n    9 g salt\n";

/// Runs the program under a tracer and gives its calls, the paths behind handles written out; nothing where this
/// machine has no tracer or lets nobody trace.
fn traced(kitchen: &Kitchen, calls: &str, arguments: &[&str], code: i32) -> Option<Vec<String>> {
    let log = kitchen.path(".trace");
    let plain = kitchen.command(&[]);
    let output = Command::new("strace")
        .args([
            "-f",
            "-qq",
            "-y",
            "-s",
            "64",
            "-e",
            &format!("trace={calls}"),
            "-o",
        ])
        .arg(&log)
        .arg(env!("CARGO_BIN_EXE_loafwright"))
        .args(arguments)
        .current_dir(kitchen.path(""))
        .env_clear()
        .envs(plain.get_envs().filter_map(|(name, value)| Some((name, value?))))
        .output();
    let text = fs::read_to_string(&log).unwrap_or_default();
    let Some(output) = output.ok().filter(|_| !text.is_empty()) else {
        eprintln!("skipped: this machine has no strace, or lets nobody use it");
        return None;
    };
    fs::remove_file(log).unwrap();
    assert_eq!(output.status.code(), Some(code), "{output:?}");
    let own = |line: &str| line.split_once(' ').map(|(_, call)| call.trim().to_owned());
    // Where two threads call at once, the end of a call stands on a line of its own; the call itself is enough.
    let calls = text.lines().filter_map(own);
    Some(calls.filter(|call| !call.starts_with("<... ")).collect())
}

/// The place of the first call that holds all of some words.
fn first(calls: &[String], words: &[&str]) -> usize {
    let place = calls
        .iter()
        .position(|call| words.iter().all(|word| call.contains(word)));
    place.unwrap_or_else(|| panic!("no call with {words:?} in {calls:#?}"))
}

const WRITING: &str = "write,fsync,fdatasync,rename,renameat,renameat2,link,linkat,unlink";

#[test]
fn a_source_is_on_the_disk_before_it_takes_the_place_of_the_old_one() {
    let kitchen = Kitchen::new().file("a.loaf", LOOSE);
    let Some(calls) = traced(&kitchen, WRITING, &["format", "a.loaf"], 0) else {
        return;
    };
    let aside = "/.loafwright-format>";
    let top = fs::canonicalize(kitchen.path("")).unwrap();
    let order = [
        first(&calls, &["write(", aside, "title:"]),
        first(&calls, &["fsync(", aside]),
        first(&calls, &["rename", ".loafwright-format\"", "a.loaf\""]),
        first(&calls, &["fsync(", &format!("<{}>", top.display())]),
    ];
    assert!(order.is_sorted(), "{order:?} in {calls:#?}");
}

#[test]
fn a_new_source_is_on_the_disk_before_it_has_its_name() {
    let kitchen = Kitchen::new();
    let Some(calls) = traced(&kitchen, WRITING, &["new", "Sunday tin"], 0) else {
        return;
    };
    let aside = "/.loafwright-new>";
    let top = fs::canonicalize(kitchen.path("")).unwrap();
    let order = [
        first(&calls, &["write(", aside]),
        first(&calls, &["fsync(", aside]),
        first(&calls, &["Sunday tin.loaf"]),
        first(&calls, &["fsync(", &format!("<{}>", top.display())]),
    ];
    assert!(order.is_sorted(), "{order:?} in {calls:#?}");
}

/// Says whether a path is one of the system's own, which any program opens.
fn is_of_the_system(path: &str) -> bool {
    ["/lib", "/usr/lib", "/etc/ld.so", "/proc/", "/sys/", "/dev/null"]
        .iter()
        .any(|start| path.starts_with(start))
}

#[test]
fn paths_in_a_text_open_nothing_and_connect_to_nothing() {
    let hostile = "title:   Traps\n\
        source:  file:///etc/passwd\n\
        author:  ~/.ssh/id_rsa $HOME /etc/shadow\n\n\
        dough:\n  500 g     bread flour\n  325 g     water\n  9 g       salt\n\n\
        notes:\n  ![a](../outside/secret.png) ![b](/etc/hostname) [c](file:///etc/passwd) ![d](http://oxlip.example/x.png)\n  \
        ![e](%2e%2e/outside/secret.png) ![f](..\\outside\\secret.png) ![g](//oxlip.example/y) <img src=http://oxlip.example/z>\n";
    let kitchen = Kitchen::new()
        .file("p/a.loaf", hostile)
        .file(
            "p/pictures/b.loaf",
            "title: Picture\npicture: ../../outside/secret.png, a secret\n\ndough:\n  500 g  bread flour\n",
        )
        .file("p/.git/HEAD", "")
        .file("outside/secret.png", "secret")
        .file("outside/bakehouse.loaf", "room: 30 C\n");
    let calls = "openat,open,openat2,socket,connect,execve,fork,vfork";
    for (arguments, code) in [
        (&["check", "p"][..], 1),
        (&["build", "p", "--out", "p/cards"], 1),
        (&["sheet", "p/a.loaf", "--json"], 0),
        (&["format", "p"], 1),
        (&["compare", "p/a.loaf", "p/a.loaf", "--html"], 0),
    ] {
        let Some(calls) = traced(&kitchen, calls, arguments, code) else {
            return;
        };
        let top = fs::canonicalize(kitchen.path("p")).unwrap();
        for call in &calls {
            let is_start = call.starts_with("execve(") && call.contains("/loafwright\"");
            let path = call.split('"').nth(1).unwrap_or_default();
            let whole = kitchen.path(path);
            let plain = fs::canonicalize(&whole).unwrap_or(whole);
            let is_below =
                plain.starts_with(&top) && !Path::new(path).components().any(|part| part.as_os_str() == "..");
            let is_here = fs::canonicalize(kitchen.path("")).is_ok_and(|here| here == plain);
            assert!(
                is_start || call.starts_with("open") && (is_of_the_system(path) || is_below || is_here),
                "{arguments:?}: {call}"
            );
        }
        assert!(calls.iter().any(|call| call.contains("a.loaf")), "{calls:#?}");
    }
}
