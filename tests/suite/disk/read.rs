//! One reading of one file: bounded, without waiting, and of what it claims to be.
#![cfg(unix)]
#![expect(clippy::print_stderr, reason = "a test that did not run says so")]

use std::fs;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use loafwright::disk::{Problem, read};

use crate::kitchen::Kitchen;

const LIMIT: u64 = 1024 * 1024;

/// What may never end is refused, and nobody waits for the other end of a pipe.
#[test]
fn pipes_devices_sockets_and_folders_are_refused_at_once() {
    let kitchen = Kitchen::new().file("p/sub/x.txt", "");
    let pipe = kitchen.path("p/pipe.loaf");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    // The path of a socket may not be long.
    let short = tempfile::tempdir().unwrap();
    let socket = short.path().join("s.loaf");
    let _listener = UnixListener::bind(&socket).unwrap();
    symlink("/dev/zero", kitchen.path("p/zero.loaf")).unwrap();
    let start = Instant::now();
    for path in [pipe, socket, kitchen.path("p/zero.loaf"), "/dev/tty".into()] {
        assert!(
            matches!(read(&path, None, LIMIT).unwrap_err().problem, Problem::NotAFile),
            "{path:?}"
        );
    }
    let folder = read(&kitchen.path("p/sub"), None, LIMIT).unwrap_err();
    assert!(matches!(folder.problem, Problem::Folder));
    assert!(start.elapsed() < Duration::from_secs(1), "{:?}", start.elapsed());
}

/// A file past the limit costs no more than the limit.
#[test]
fn a_file_past_the_limit_is_read_one_byte_past_it() {
    let kitchen = Kitchen::new();
    for size in [8 * 1024 * 1024 * 1024, LIMIT + 1, LIMIT, 0] {
        let path = kitchen.path("big.loaf");
        fs::File::create(&path).unwrap().set_len(size).unwrap();
        let start = Instant::now();
        let bytes = read(&path, None, LIMIT).unwrap();
        assert_eq!(bytes.len() as u64, size.min(LIMIT + 1));
        assert!(
            start.elapsed() < Duration::from_millis(500),
            "{:?}",
            start.elapsed()
        );
    }
}

/// A file that a thread swaps for something else and back, as fast as it can, while it is read.
fn read_while_swapped(
    put_in: impl Fn(&Path) + Sync,
    reader: impl Fn(&Path) -> Option<Vec<u8>>,
) -> [usize; 3] {
    let kitchen = Kitchen::new().file("p/a.loaf", "inside");
    let path = kitchen.path("p/a.loaf");
    let is_over = AtomicBool::new(false);
    let swaps = AtomicUsize::new(0);
    let mut seen = [0; 3];
    thread::scope(|scope| {
        scope.spawn(|| {
            while !is_over.load(Ordering::Relaxed) {
                put_in(&path);
                swaps.fetch_add(1, Ordering::Relaxed);
                fs::write(path.with_extension("new"), "inside").unwrap();
                fs::rename(path.with_extension("new"), &path).unwrap();
            }
        });
        let start = Instant::now();
        while swaps.load(Ordering::Relaxed) < 1000 && start.elapsed() < Duration::from_mins(1) {
            match reader(&path).as_deref() {
                Some(b"inside") => seen[0] += 1,
                Some(_) => seen[1] += 1,
                None => seen[2] += 1,
            }
        }
        is_over.store(true, Ordering::Relaxed);
    });
    seen
}

/// A file is swapped for a link that leads out, a thousand times. A reader that looks before
/// it opens must be caught, else the rig shows nothing.
#[test]
fn a_link_that_is_slipped_in_is_found_out() {
    let kitchen = Kitchen::new().file("secret", "outside");
    let secret = kitchen.path("secret");
    let slip_in = |path: &Path| {
        let _ = fs::remove_file(path.with_extension("link"));
        symlink(&secret, path.with_extension("link")).unwrap();
        fs::rename(path.with_extension("link"), path).unwrap();
    };
    let careless = |path: &Path| {
        let root = path.parent().unwrap().canonicalize().unwrap();
        let is_inside = path.canonicalize().is_ok_and(|plain| plain.starts_with(root));
        is_inside.then(|| fs::read(path).ok()).flatten()
    };
    let caught = (0..20).any(|_| read_while_swapped(slip_in, careless)[1] > 0);
    assert!(caught, "the rig never caught a careless reader");
    let ours = |path: &Path| {
        let root = path.parent().unwrap().canonicalize().unwrap();
        read(path, Some(&root), LIMIT).ok()
    };
    let [inside, outside, refused] = read_while_swapped(slip_in, ours);
    assert_eq!(outside, 0, "{inside} read, {refused} refused");
    assert!(inside > 0, "nothing was ever read");
}

/// A pipe that is slipped in between the look and the opening holds nobody up. (Opened in the
/// ordinary way, it makes this test wait for ever: tried.)
#[test]
fn a_pipe_that_is_slipped_in_holds_nobody_up() {
    let kitchen = Kitchen::new();
    let pipe = kitchen.path("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let slip_in = |path: &Path| {
        fs::hard_link(&pipe, path.with_extension("pipe")).unwrap();
        fs::rename(path.with_extension("pipe"), path).unwrap();
    };
    let [inside, other, _] = read_while_swapped(slip_in, |path| read(path, None, LIMIT).ok());
    assert_eq!(other, 0);
    assert!(inside > 0, "nothing was ever read");
}

/// A file that is replaced while it is read is one version or the other.
#[test]
fn a_reading_is_one_version_or_the_other() {
    let other = "x".repeat(60_000);
    let put_in = |path: &Path| {
        fs::write(path.with_extension("other"), &other).unwrap();
        fs::rename(path.with_extension("other"), path).unwrap();
    };
    let whole = |path: &Path| {
        let bytes = read(path, None, LIMIT).ok()?;
        assert!(
            bytes == b"inside" || bytes == other.as_bytes(),
            "{} bytes",
            bytes.len()
        );
        Some(bytes)
    };
    let [first, second, _] = read_while_swapped(put_in, whole);
    assert!(first > 0 && second > 0, "{first} and {second}");
}

/// An unreadable file says so. Root may read everything, so that an ordinary user is asked for.
#[test]
fn an_unreadable_file_says_why() {
    use std::os::unix::fs::PermissionsExt as _;
    let kitchen = Kitchen::new().file("p/a.loaf", "a");
    fs::set_permissions(kitchen.path("p/a.loaf"), fs::Permissions::from_mode(0o000)).unwrap();
    if fs::read(kitchen.path("p/a.loaf")).is_ok() {
        eprintln!("skipped: this user may read every file");
        return;
    }
    let fault = read(&kitchen.path("p/a.loaf"), None, LIMIT)
        .unwrap_err()
        .to_string();
    assert!(
        fault.ends_with("a.loaf: this cannot be read: you are not allowed to"),
        "{fault}"
    );
}
