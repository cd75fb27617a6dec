//! Endurance: saves without end, pages that come and go, and memory and handles that stay as they were.
#![cfg(target_os = "linux")]

use std::fs;
use std::io::Write as _;
use std::net::TcpStream;
use std::thread;
use std::time::{Duration, Instant};

use super::{Watched, bread, faulty, is_long, save};
use crate::kitchen::Kitchen;

/// What a process holds.
#[derive(Debug)]
struct Held {
    kib: usize,
    handles: usize,
    threads: usize,
    /// What it has worked, in hundredths of a second.
    worked: usize,
}

fn held(watched: &Watched) -> Held {
    let folder = format!("/proc/{}", watched.number());
    let status = fs::read_to_string(format!("{folder}/status")).unwrap();
    let field = |name: &str| {
        let line = status.lines().find(|line| line.starts_with(name)).unwrap();
        line.split_whitespace().nth(1).unwrap().parse().unwrap()
    };
    let stat = fs::read_to_string(format!("{folder}/stat")).unwrap();
    let behind_name = stat.rsplit_once(')').unwrap().1;
    let words: Vec<&str> = behind_name.split_whitespace().collect();
    let worked = |place: usize| words[place].parse::<usize>().unwrap();
    Held {
        worked: worked(11) + worked(12),
        kib: field("VmRSS:"),
        handles: fs::read_dir(format!("{folder}/fd")).unwrap().count(),
        threads: field("Threads:"),
    }
}

/// Saves five times a second, one save in ten with a fault, while streams are opened and closed.
fn work(kitchen: &Kitchen, watched: &Watched, time: Duration) -> usize {
    let start = Instant::now();
    let mut saves = 0;
    let mut streams = Vec::new();
    while start.elapsed() < time {
        let text = if saves % 10 == 9 {
            faulty("Rye")
        } else {
            bread(&format!("Rye {saves}"))
        };
        save(kitchen, "book/rye.loaf", &text);
        if saves % 7 == 3 {
            save(kitchen, &format!("book/passing-{saves}.loaf"), &bread("Passing"));
        } else if saves % 7 == 6 {
            fs::remove_file(kitchen.path(&format!("book/passing-{}.loaf", saves - 3))).unwrap();
        }
        let mut stream = TcpStream::connect(watched.address).unwrap();
        let _ = write!(
            stream,
            "GET /.live/ticks HTTP/1.1\r\nHost: {}\r\n\r\n",
            watched.address
        );
        streams.push(stream);
        if streams.len() > 8 {
            streams.remove(0);
        }
        assert!(watched.get("/rye.html").starts_with("HTTP/1.1 200"));
        saves += 1;
        thread::sleep(Duration::from_millis(200));
    }
    saves
}

#[test]
fn memory_handles_and_threads_stay_flat() {
    let (warm, long) = if is_long() { (15, 60) } else { (2, 3) };
    let kitchen = Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("book/wheat.loaf", bread("Wheat"));
    let watched = Watched::start(&kitchen, &[]);
    work(&kitchen, &watched, Duration::from_secs(warm));
    thread::sleep(Duration::from_secs(1));
    let before = held(&watched);
    work(&kitchen, &watched, Duration::from_secs(long));
    for entry in fs::read_dir(kitchen.path("book")).unwrap() {
        let path = entry.unwrap().path();
        if path.to_string_lossy().contains("passing") {
            fs::remove_file(path).unwrap();
        }
    }
    save(&kitchen, "book/rye.loaf", &bread("Rye at the end"));
    watched.until_card("rye.html", "Rye at the end");
    watched.until_clean();
    watched.until("handles as before", || held(&watched).handles <= before.handles);
    let after = held(&watched);
    assert!(after.kib < before.kib + 10 * 1024, "{before:?} became {after:?}");
    assert!(after.threads <= before.threads, "{before:?} became {after:?}");
    thread::sleep(Duration::from_secs(1));
    let (rest, long) = (held(&watched).worked, if is_long() { 20 } else { 4 });
    thread::sleep(Duration::from_secs(long));
    let worked = held(&watched).worked - rest;
    let most = usize::try_from(long).unwrap() / 2 + 1;
    assert!(
        worked <= most,
        "{worked} hundredths of a second worked in {long} idle seconds"
    );
}
