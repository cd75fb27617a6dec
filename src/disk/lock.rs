//! One run at a time in a folder of cards; the lock ends with the run that holds it, however that ends.
#![expect(
    clippy::disallowed_methods,
    reason = "waiting for another run wants a clock, and the lock is a file"
)]

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Seek as _, Write as _};
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use super::error::{DiskError, Problem};
use super::read;

/// How long a run waits for another one to end.
const PATIENCE: Duration = Duration::from_secs(5);

/// How long it sleeps before it looks again.
const NAP: Duration = Duration::from_millis(40);

/// A lock that is held.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
}

impl Lock {
    /// Takes the lock of a folder, or says who has it.
    pub(super) fn take(path: &Path, folder: &Path) -> Result<Self, DiskError> {
        if fs::symlink_metadata(path).is_ok_and(|found| !found.is_file()) {
            return Err(DiskError::new(path, Problem::InTheWay));
        }
        let failed = |error| DiskError::writing(path, error);
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)
            .map_err(failed)?;
        if !wait_for(&file).map_err(failed)? {
            return Err(DiskError::new(folder, Problem::Busy(holder(path))));
        }
        let mut lock = Self { file };
        // A full disk takes no name, and the lock holds without it.
        let _ = lock.sign();
        Ok(lock)
    }

    /// Writes into the file who holds the lock.
    fn sign(&mut self) -> io::Result<()> {
        self.file.set_len(0)?;
        self.file.rewind()?;
        writeln!(self.file, "{}", std::process::id())
    }
}

impl Drop for Lock {
    /// Takes the name out again; the lock itself goes with the file's handle. What fails here harms nobody:
    /// the name of a run that has ended is never shown, because nobody waits for it.
    fn drop(&mut self) {
        let _ = self.file.set_len(0);
    }
}

/// Locks a file, with some patience for another run; says whether it has the lock.
pub(super) fn wait_for(file: &File) -> io::Result<bool> {
    let start = Instant::now();
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(true),
            Err(TryLockError::WouldBlock) if start.elapsed() < PATIENCE => thread::sleep(NAP),
            Err(TryLockError::WouldBlock) => return Ok(false),
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
}

/// Names the run that holds a lock, as far as the file says.
fn holder(path: &Path) -> String {
    let written = read::read(path, None, 64).unwrap_or_default();
    let number: String = String::from_utf8_lossy(&written)
        .chars()
        .take_while(char::is_ascii_digit)
        .collect();
    if number.is_empty() {
        "another run of loafwright".to_owned()
    } else {
        format!("another run of loafwright (process {number})")
    }
}
