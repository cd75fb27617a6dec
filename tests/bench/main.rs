//! Speed as ratios, all taken in one run: a book built against `cp -r` of the same pages, and a recipe's way
//! through memory stage by stage.
//!
//! `cargo bench` prints them, `cargo bench -- watch` those of watching alone; nothing here passes or fails. Sizes: 1, 1,000 and 10,000 recipes of about 2 KB.
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a bench times the program from outside and prints what it saw"
)]

mod memory;
mod recipes;
mod watch;

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What is timed in memory allocates as the program does.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const PROGRAM: &str = env!("CARGO_BIN_EXE_loafwright");

fn main() -> io::Result<()> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/bench");
    let only_watch = std::env::args().any(|word| word == "watch");
    if !only_watch {
        books(&folder)?;
    }
    println!("\nfrom the end of a save to the new card, watching");
    watch::run(&folder)
}

fn books(folder: &Path) -> io::Result<()> {
    println!("in memory, per recipe");
    memory::run();
    println!("\nin memory, per fault of one text");
    memory::faults();
    println!("\na whole process");
    let book = recipes::write_book(&folder.join("single"), 1)?;
    let check = median(31, || {
        timed(Command::new(PROGRAM).arg("check").arg(&book)).map(|run| run.took)
    })?;
    println!("  check of one recipe      {:>9.2} ms", milliseconds(check));
    println!("\na book, against `cp -r` of its pages");
    println!("  recipes    first build    unchanged     cp -r    ratio    peak memory");
    for count in [1, 1_000, 10_000] {
        book_of(folder, count)?;
    }
    Ok(())
}

/// Rounds of a book; the middle one counts, since a disk that is still busy with the last writes slows the next.
const ROUNDS: usize = 5;

fn book_of(folder: &Path, count: usize) -> io::Result<()> {
    let book = recipes::write_book(&folder.join(format!("book-{count}")), count)?;
    let pages = folder.join(format!("pages-{count}"));
    let copy = folder.join(format!("copy-{count}"));
    let build = || {
        timed(
            Command::new(PROGRAM)
                .args(["build", "--out"])
                .arg(&pages)
                .arg(&book),
        )
    };
    let (mut first, mut again, mut copied) = (Vec::new(), Vec::new(), Vec::new());
    let mut peak_kib = 0.0_f64;
    for _ in 0..ROUNDS {
        remove(&pages)?;
        remove(&copy)?;
        let run = build()?;
        peak_kib = peak_kib.max(run.peak_kib);
        first.push(run.took);
        again.push(build()?.took);
        copied.push(timed(Command::new("cp").arg("-r").arg(&pages).arg(&copy))?.took);
    }
    let (first, again, copied) = (middle(first), middle(again), middle(copied));
    println!(
        "  {count:>7} {:>11.1} ms {:>9.1} ms {:>7.1} ms {:>8.2} {:>10.1} MiB",
        milliseconds(first),
        milliseconds(again),
        milliseconds(copied),
        first.as_secs_f64() / copied.as_secs_f64(),
        peak_kib / 1024.0,
    );
    remove(&copy)
}

/// A run of a command: how long it took and how much memory it held at most.
struct Run {
    took: Duration,
    peak_kib: f64,
}

/// Runs a command; a thread beside it looks now and then how much memory it holds.
fn timed(command: &mut Command) -> io::Result<Run> {
    let start = Instant::now();
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn()?;
    let status = format!("/proc/{}/status", child.id());
    let watcher = std::thread::spawn(move || {
        let mut peak_kib = 0.0_f64;
        while let Some(seen) = fs::read_to_string(&status)
            .ok()
            .and_then(|text| high_water(&text))
        {
            peak_kib = peak_kib.max(seen);
            std::thread::sleep(Duration::from_millis(5));
        }
        peak_kib
    });
    child.wait()?;
    let took = start.elapsed();
    let peak_kib = watcher.join().unwrap_or(0.0);
    Ok(Run { took, peak_kib })
}

/// Reads the most memory that a process has held, in KiB.
fn high_water(status: &str) -> Option<f64> {
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

fn median(times: usize, mut run: impl FnMut() -> io::Result<Duration>) -> io::Result<Duration> {
    Ok(middle((0..times).map(|_| run()).collect::<io::Result<Vec<_>>>()?))
}

fn middle(mut all: Vec<Duration>) -> Duration {
    all.sort();
    all.get(all.len() / 2).copied().unwrap_or_default()
}

fn remove(folder: &Path) -> io::Result<()> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

fn milliseconds(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}
