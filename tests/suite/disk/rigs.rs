//! What survives a kill, a full disk and many runs at once.
//!
//! A rig starts this very test binary as the run that is killed or crowded. Each rig is also tried on a
//! writer that is careless on purpose, because a rig that never failed has shown nothing.
#![cfg(unix)]
#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "the run of a rig tells what came of it, and a rig that did not run says so"
)]

use std::env;
use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use loafwright::disk::OutFolder;

use crate::kitchen::Kitchen;

/// How many cards a run writes.
const CARDS: usize = 20;

/// How many bytes a card has where kills shall fall into the writing of it.
const LARGE: usize = 1024 * 1024;

/// How many bytes a card has elsewhere.
const SMALL: usize = 64 * 1024;

/// The bytes of a card: every letter of one version is alike, so that a torn one shows, and the versions
/// differ in length, so that no time goes into comparing.
fn card(version: &str, size: usize) -> Vec<u8> {
    version.as_bytes().repeat(size + usize::from(version == "b"))
}

/// Starts this binary as a run that works in a kitchen.
fn child(folder: &Path, work: &str) -> Command {
    let mut command = Command::new(env::current_exe().unwrap());
    command
        .args([
            "--exact",
            "disk::rigs::child_of_the_rigs",
            "--ignored",
            "--nocapture",
        ])
        .env("RIG_WORK", work)
        .env("RIG_FOLDER", folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// The run of a rig; does nothing when somebody runs the ignored tests.
#[test]
#[ignore = "the rigs start it themselves"]
fn child_of_the_rigs() {
    let (Ok(work), Ok(folder)) = (env::var("RIG_WORK"), env::var("RIG_FOLDER")) else {
        return;
    };
    let folder = Path::new(&folder);
    println!("rig: at work");
    match work.as_str() {
        "careful" => loop {
            write_carefully(folder, "a", LARGE).unwrap();
            write_carefully(folder, "b", LARGE).unwrap();
        },
        "careless" => loop {
            write_carelessly(folder, "a");
            write_carelessly(folder, "b");
        },
        "once" => match write_carefully(folder, "a", SMALL) {
            Ok(()) => println!("rig: done"),
            Err(fault) => println!("rig: {fault}"),
        },
        "changed" => match write_carefully(folder, "b", SMALL) {
            Ok(()) => println!("rig: done"),
            Err(fault) => println!("rig: {fault}"),
        },
        "hold" => {
            let _held = OutFolder::open(&folder.join("cards"), &[folder.join("p")]).unwrap();
            println!("rig: held");
            thread::sleep(Duration::from_mins(1));
        }
        other => panic!("no such work: {other}"),
    }
}

fn write_carefully(folder: &Path, version: &str, size: usize) -> Result<(), loafwright::disk::DiskError> {
    let bytes = card(version, size);
    let out = OutFolder::open(&folder.join("cards"), &[folder.join("p")])?;
    for number in 0..CARDS {
        out.write(&format!("{number}.html"), None, &bytes)?;
    }
    out.finish().map(drop)
}

fn write_carelessly(folder: &Path, version: &str) {
    let bytes = card(version, LARGE);
    for number in 0..CARDS {
        fs::write(folder.join("cards").join(format!("{number}.html")), &bytes).unwrap();
    }
}

fn kitchen() -> Kitchen {
    Kitchen::new().file("p/rye.loaf", "rye")
}

/// Says what the rig's run printed behind its mark.
fn said(child: Child) -> String {
    let output = child.wait_with_output().unwrap();
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    let line = out.lines().filter_map(|line| line.split_once("rig: ")).nth(1);
    line.map_or_else(
        || panic!("{out}{}", String::from_utf8_lossy(&output.stderr)),
        |(_, said)| said.to_owned(),
    )
}

/// Waits until a run has begun its work, so that no kill falls before it.
fn wait_until_at_work(run: &mut Child) {
    let mut out = BufReader::new(run.stdout.take().unwrap());
    let mut line = String::new();
    while !line.contains("rig: at work") {
        line.clear();
        assert!(
            out.read_line(&mut line).unwrap() > 0,
            "the run ended before its work"
        );
    }
}

/// What the rounds of a kill rig came to.
#[derive(Debug, Default)]
struct Kills {
    torn: usize,
    inside_a_write: usize,
    most_strays: usize,
}

/// Makes a folder in the machine's memory where it lets us. On a disk the moving into place takes longer than
/// the writing, because the disk is waited for, and a kill would seldom fall inside a write.
fn memory_folder() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .unwrap()
}

/// Kills a writer at a random moment, again and again, and looks at every card each time. On a busy machine a kill
/// seldom falls inside a write: there are fifty rounds, and more until there were enough such kills.
fn kill_rounds(work: &str, least_inside: usize) -> Kills {
    let kitchen = memory_folder();
    let folder = kitchen.path();
    fs::create_dir(folder.join("p")).unwrap();
    write_carefully(folder, "a", LARGE).unwrap();
    let (a, b) = (card("a", LARGE), card("b", LARGE));
    let mut kills = Kills::default();
    let mut random = 0x9e37_79b9_u64;
    for round in 0..1000 {
        if round >= 50 && kills.inside_a_write >= least_inside {
            break;
        }
        let mut run = child(folder, work).spawn().unwrap();
        wait_until_at_work(&mut run);
        // A simple sequence that looks random.
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        thread::sleep(Duration::from_micros((random >> 33) % 50_000));
        run.kill().unwrap();
        run.wait().unwrap();
        let torn = (0..CARDS)
            .filter_map(|number| fs::read(folder.join(format!("cards/{number}.html"))).ok())
            .filter(|bytes| *bytes != a && *bytes != b)
            .count();
        kills.torn += torn;
        let strays = fs::read_dir(folder.join("cards/.loafwright"))
            .unwrap()
            .filter(|entry| {
                !matches!(
                    entry.as_ref().unwrap().file_name().to_str(),
                    Some("lock" | "manifest")
                )
            })
            .count();
        kills.inside_a_write += usize::from(strays > 0 || torn > 0);
        kills.most_strays = kills.most_strays.max(strays);
        if work == "careless" {
            write_carelessly(folder, "a");
        }
    }
    write_carefully(folder, "a", LARGE).unwrap();
    let left = fs::read_dir(folder.join("cards/.loafwright")).unwrap().count();
    assert_eq!(left, 2, "strays after the next run");
    kills
}

/// Each file is old or new after a kill, and the next run sweeps what was left.
#[test]
fn a_killed_run_leaves_every_card_whole() {
    let careless = kill_rounds("careless", 1);
    assert!(
        careless.torn > 0,
        "the rig never caught the careless writer: {careless:?}"
    );
    // On a disk fewer kills fall inside a write than in memory.
    let least = if Path::new("/dev/shm").is_dir() { 15 } else { 1 };
    let careful = kill_rounds("careful", least);
    assert_eq!(careful.torn, 0, "{careful:?}");
    assert!(
        careful.inside_a_write >= least,
        "too few kills fell inside a write: {careful:?}"
    );
    assert!(careful.most_strays <= 1, "{careful:?}");
}

/// Runs that come at once wait for each other, and the folder is as after one of them.
#[test]
fn eight_runs_at_once_leave_what_one_leaves() {
    let clean = kitchen();
    write_carefully(&clean.path(""), "a", SMALL).unwrap();
    let kitchen = kitchen();
    for _ in 0..10 {
        let runs: Vec<Child> = (0..8)
            .map(|_| child(&kitchen.path(""), "once").spawn().unwrap())
            .collect();
        for run in runs {
            assert_eq!(said(run), "done");
        }
        assert_eq!(kitchen.files(), clean.files());
    }
}

/// Starts a run that holds the folder, and waits until it does.
fn holder(kitchen: &Kitchen) -> Child {
    let run = child(&kitchen.path(""), "hold").spawn().unwrap();
    let start = Instant::now();
    let lock = kitchen.path("cards/.loafwright/lock");
    while fs::read_to_string(&lock).unwrap_or_default().trim() != run.id().to_string() {
        assert!(start.elapsed() < Duration::from_secs(20), "the holder never came");
        thread::sleep(Duration::from_millis(5));
    }
    run
}

/// A second run waits at most five seconds, says who works there, and gets its turn
/// when the holder is killed.
#[test]
fn the_lock_names_its_holder_and_ends_with_it() {
    let kitchen = kitchen();
    let mut run = holder(&kitchen);
    let start = Instant::now();
    let fault = OutFolder::open(&kitchen.path("cards"), &[kitchen.path("p")])
        .unwrap_err()
        .to_string();
    let waited = start.elapsed();
    assert!(
        fault.contains(&format!("another run of loafwright (process {})", run.id())),
        "{fault}"
    );
    assert!(
        waited >= Duration::from_secs(4) && waited < Duration::from_secs(10),
        "{waited:?}"
    );
    run.kill().unwrap();
    run.wait().unwrap();
    let start = Instant::now();
    write_carefully(&kitchen.path(""), "a", SMALL).unwrap();
    assert!(start.elapsed() < Duration::from_secs(4));
}

/// Runs a script that first mounts a small disk of its own on `cards`, or skips where that is not allowed.
fn with_small_disk(kitchen: &Kitchen, script: &str) -> Option<String> {
    fs::create_dir_all(kitchen.path("cards")).unwrap();
    let mount = "mount -t tmpfs -o size=2m tmpfs \"$RIG_FOLDER/cards\"";
    let probe = Command::new("unshare")
        .args(["-Urm", "sh", "-c", mount])
        .env("RIG_FOLDER", kitchen.path(""))
        .output();
    if !probe.is_ok_and(|output| output.status.success()) {
        eprintln!("skipped: this machine does not let a test mount a disk of its own");
        return None;
    }
    let me = env::current_exe().unwrap();
    let run = "--exact disk::rigs::child_of_the_rigs --ignored --nocapture";
    let script = format!(
        "set -e; {mount}; me() {{ RIG_WORK=$1 {} {run} 2>&1; }}; {script}",
        me.display()
    );
    let output = Command::new("unshare")
        .args(["-Urm", "sh", "-c", &script])
        .env("RIG_FOLDER", kitchen.path(""))
        .output()
        .unwrap();
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    Some(out + &String::from_utf8_lossy(&output.stderr))
}

/// A full disk leaves the old cards whole and says so.
#[test]
fn a_full_disk_leaves_the_old_cards() {
    let kitchen = kitchen();
    // Twenty cards of 64 KiB fit on the disk; what is left is filled before they are written anew.
    let script = "me once; cat \"$RIG_FOLDER\"/cards/*.html | sha256sum; \
        dd if=/dev/zero of=\"$RIG_FOLDER/cards/.fill\" bs=4096 2>/dev/null || true; \
        me changed; cat \"$RIG_FOLDER\"/cards/*.html | sha256sum; ls -A \"$RIG_FOLDER/cards/.loafwright\"";
    let Some(out) = with_small_disk(&kitchen, script) else {
        return;
    };
    assert!(out.contains("rig: done"), "{out}");
    assert!(
        out.contains("0.html: this cannot be written: the disk is full"),
        "{out}"
    );
    let sums: Vec<&str> = out.lines().filter(|line| line.ends_with("  -")).collect();
    assert!(sums.len() == 2 && sums[0] == sums[1], "{out}");
    assert!(!out.contains("new-"), "{out}");
}

/// A disk that can only be read from leaves the old cards and says so.
#[test]
fn a_read_only_disk_leaves_the_old_cards() {
    let kitchen = kitchen();
    let script = "me once; mount -o remount,ro \"$RIG_FOLDER/cards\"; me changed; \
        head -c 1 \"$RIG_FOLDER/cards/0.html\"";
    let Some(out) = with_small_disk(&kitchen, script) else {
        return;
    };
    assert!(out.contains("rig: done"), "{out}");
    assert!(
        out.contains("this cannot be written: the disk can only be read from"),
        "{out}"
    );
    assert!(out.trim_end().ends_with('a'), "{out}");
}

/// A folder that is taken away during the run is said not to be there.
#[test]
fn a_folder_that_is_taken_away() {
    let kitchen = kitchen();
    let out = OutFolder::open(&kitchen.path("cards"), &[kitchen.path("p")]).unwrap();
    out.write("a.html", None, b"a").unwrap();
    fs::remove_dir_all(kitchen.path("cards")).unwrap();
    let fault = out.write("b.html", None, b"b").unwrap_err().to_string();
    assert!(
        fault.ends_with("b.html: this cannot be written: the folder is not there"),
        "{fault}"
    );
}
