//! How long it takes from the end of a save to the new card on the disk, while the program watches.

use std::fs;
use std::io::{self, BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use super::recipes::{recipe, write_book};
use super::{PROGRAM, middle, milliseconds, remove};

/// Saves in each book; the middle one counts.
const SAVES: usize = 41;

/// The time between two saves, in which index and list follow.
const PAUSE: Duration = Duration::from_millis(700);

/// How often it is looked for the card.
const GLANCE: Duration = Duration::from_micros(200);

/// The longest that a card may take.
const BOUND: Duration = Duration::from_secs(20);

/// Prints what a save takes in a small book and in a large one.
pub(crate) fn run(folder: &Path) -> io::Result<()> {
    let small = middle(saves(folder, 10)?);
    let large = middle(saves(folder, 10_000)?);
    println!("  in a book of 10          {:>9.2} ms", milliseconds(small));
    println!("  in a book of 10,000      {:>9.2} ms", milliseconds(large));
    println!(
        "  ratio                    {:>9.2}",
        large.as_secs_f64() / small.as_secs_f64()
    );
    Ok(())
}

/// Watches a book and saves one recipe after the other.
fn saves(folder: &Path, count: usize) -> io::Result<Vec<Duration>> {
    let book = write_book(&folder.join(format!("watched-{count}")), count)?;
    let out = folder.join(format!("watched-pages-{count}"));
    remove(&out)?;
    let mut command = Command::new(PROGRAM);
    command
        .args(["watch", "--port", "0", "--out"])
        .arg(&out)
        .arg(&book);
    let mut child = Watching(command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn()?);
    if let Some(said) = child.0.stdout.take() {
        BufReader::new(said).read_line(&mut String::new())?;
    }
    let mut taken = Vec::new();
    for save in 0..SAVES {
        std::thread::sleep(PAUSE);
        let number = save * 239 % count;
        // Another number of the same length makes another text of the same recipe.
        let text = recipe(number + 20_000 + save);
        let card = out.join(format!("bread-{number:05}.html"));
        let before = seen(&card)?;
        fs::write(book.join(format!("bread-{number:05}.loaf")), text)?;
        let start = Instant::now();
        while seen(&card)? == before {
            if start.elapsed() > BOUND {
                return Err(io::Error::other("a card never came"));
            }
            std::thread::sleep(GLANCE);
        }
        taken.push(start.elapsed());
    }
    Ok(taken)
}

/// What changes when a card is replaced.
fn seen(card: &Path) -> io::Result<(u64, Option<std::time::SystemTime>)> {
    let found = fs::metadata(card)?;
    Ok((found.len(), found.modified().ok()))
}

/// The program at work; it ends with the bench.
struct Watching(Child);

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}
