//! `watch`, from outside: the real program on a real disk, with the saves of editors, and raw requests to its server.
//!
//! Owns the watched kitchen. Waits for what must come with a bound far above what is usual; a machine that is busy
//! with other things makes a test slow and not red. With `LOAFWRIGHT_LONG` set, the tests of endurance take as long
//! as `tests/run` has them take.
#![cfg(unix)]

mod follows;
mod saves;
mod serves;
mod soak;

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, Command};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use crate::kitchen::Kitchen;

/// The longest that anything may take that must come.
const BOUND: Duration = Duration::from_secs(10);

/// A recipe without a fault.
pub(crate) fn bread(title: &str) -> String {
    format!(
        "title: {title}\nmakes: 2 loaves of 860 g\n\ndough:\n  100 %  bread flour\n  68 %   water\n  2 %    salt\n  \
         2 %    fresh yeast\n  10 min knead\n  40 min bake at 230 C\n"
    )
}

/// A faulty one.
pub(crate) fn faulty(title: &str) -> String {
    bread(title).replace("68 %", "68 q")
}

/// Says whether the tests of endurance take their full time.
pub(crate) fn is_long() -> bool {
    std::env::var_os("LOAFWRIGHT_LONG").is_some()
}

/// The program at work in a kitchen.
pub(crate) struct Watched<'kitchen> {
    kitchen: &'kitchen Kitchen,
    child: Child,
    /// Where it serves.
    pub(crate) address: SocketAddr,
    said: Arc<Mutex<String>>,
}

impl<'kitchen> Watched<'kitchen> {
    /// Starts the program on the folder `book`.
    pub(crate) fn start(kitchen: &'kitchen Kitchen, more: &[&str]) -> Self {
        let arguments = [&["watch", "book", "--port", "0"], more].concat();
        Self::of(kitchen, kitchen.command(&arguments))
    }

    /// Starts a command that ends in the program, and waits until it serves.
    pub(crate) fn of(kitchen: &'kitchen Kitchen, mut command: Command) -> Self {
        let mut child = command.spawn().unwrap();
        let said = Arc::<Mutex<String>>::default();
        let (mut err, noted) = (child.stderr.take().unwrap(), Arc::clone(&said));
        thread::spawn(move || {
            let mut some = [0; 4096];
            while let Ok(count @ 1..) = err.read(&mut some) {
                noted
                    .lock()
                    .unwrap()
                    .push_str(&String::from_utf8_lossy(&some[..count]));
            }
        });
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap())
            .read_line(&mut line)
            .unwrap();
        let host = line.trim().trim_start_matches("http://").trim_end_matches('/');
        let address = host
            .parse()
            .unwrap_or_else(|_| panic!("{line:?}: {}", said.lock().unwrap()));
        let watched = Self {
            kitchen,
            child,
            address,
            said,
        };
        watched.until("the last word of the start", || {
            watched.said().contains("watching;")
        });
        watched
    }

    /// Gives all that it has said.
    pub(crate) fn said(&self) -> String {
        self.said.lock().unwrap().clone()
    }

    /// Waits for something to be so.
    pub(crate) fn until(&self, what: &str, is_so: impl Fn() -> bool) -> Duration {
        let start = Instant::now();
        while !is_so() {
            assert!(start.elapsed() < BOUND, "{what} never came\n{}", self.said());
            thread::sleep(Duration::from_millis(2));
        }
        start.elapsed()
    }

    /// Waits for a card with a title.
    pub(crate) fn until_card(&self, card: &str, title: &str) -> Duration {
        let path = self.kitchen.path(&format!("cards/{card}"));
        let line = format!("<title>{title}</title>");
        self.until(&format!("{title} in {card}"), || {
            fs::read_to_string(&path).is_ok_and(|page| page.contains(&line))
        })
    }

    /// Waits until the cards are what a build makes that starts from nothing.
    pub(crate) fn until_clean(&self) -> Duration {
        let start = Instant::now();
        loop {
            let (ours, clean) = (cards(self.kitchen, "cards"), clean_build(self.kitchen));
            if ours == clean {
                return start.elapsed();
            }
            let differs = |name: &&String| ours.get(*name) != clean.get(*name);
            let names: Vec<&String> = ours.keys().chain(clean.keys()).filter(differs).collect();
            assert!(
                start.elapsed() < BOUND,
                "{names:?} differ from a clean build\n{}",
                self.said()
            );
        }
    }

    /// Ends it with a signal and gives the exit code.
    pub(crate) fn end(mut self, signal: &str) -> Option<i32> {
        let number = self.child.id().to_string();
        assert!(
            Command::new("kill")
                .args([signal, &number])
                .status()
                .unwrap()
                .success()
        );
        self.child.wait().unwrap().code()
    }

    /// Gives the number of the process.
    pub(crate) fn number(&self) -> u32 {
        self.child.id()
    }

    /// Sends bytes to the server and gives what comes back until it closes, or for a while.
    pub(crate) fn raw(&self, request: &[u8]) -> String {
        let mut stream = TcpStream::connect(self.address).unwrap();
        stream.set_read_timeout(Some(BOUND)).unwrap();
        let _ = stream.write_all(request);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        String::from_utf8_lossy(&answer).into_owned()
    }

    /// Asks for a path as a browser does.
    pub(crate) fn get(&self, path: &str) -> String {
        self.raw(format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.address).as_bytes())
    }
}

impl Drop for Watched<'_> {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Gives the cards in a folder, without what the program keeps for itself.
fn cards(kitchen: &Kitchen, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let start = format!("{folder}/");
    let ours = |name: &str| {
        Some(name.strip_prefix(&start)?.to_owned()).filter(|name| !name.starts_with(".loafwright"))
    };
    kitchen
        .files()
        .into_iter()
        .filter_map(|(name, bytes)| Some((ours(&name)?, bytes)))
        .collect()
}

/// Builds the book into an empty folder.
fn clean_build(kitchen: &Kitchen) -> BTreeMap<String, Vec<u8>> {
    let _ = fs::remove_dir_all(kitchen.path("clean"));
    let _ = kitchen.run(&["build", "book", "--out", "clean"]);
    cards(kitchen, "clean")
}

/// Writes a file in place.
pub(crate) fn save(kitchen: &Kitchen, name: &str, text: &str) {
    let path = kitchen.path(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}
