//! A folder of cards during one run: locked, with the list of what is ours in it.
//!
//! Owns what may be overwritten and what may be deleted: only files that the list names. The list is added
//! to before a new file is written, so that a run which is killed leaves nothing that nobody owns.
#![expect(
    clippy::disallowed_methods,
    reason = "this is where cards are written and swept away"
)]

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::error::{DiskError, Problem};
use super::lock::Lock;
use super::manifest::{self, Files};
use super::name::shown;
use super::refuse::{self, HIDDEN, MANIFEST};
use super::{read, whole};

/// The lock's file in the hidden folder.
const LOCK: &str = "lock";

/// The most bytes of a list: far more than a hundred thousand cards need.
const MOST_MANIFEST: u64 = 64 * 1024 * 1024;

/// The most bytes of a page that is shown: more than any that is written.
const MOST_PAGE: u64 = 16 * 1024 * 1024;

/// How often a page is looked for that is replaced while it is read.
const LOOKS: usize = 10;

/// A folder of cards that this run alone may write to.
#[derive(Debug)]
pub struct OutFolder {
    /// The folder without links.
    folder: PathBuf,
    /// As the user named it.
    given: PathBuf,
    books: Mutex<Books>,
    /// Held for its end: the fields above are dropped before it.
    _lock: Lock,
}

/// What a write did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// There was no such file.
    New,
    /// The file held something else.
    Changed,
    /// The file held the same already and was not touched.
    Same,
}

/// What is known of the files, before and during the run.
#[derive(Debug)]
struct Books {
    /// The list as it was found, with what was added to it since.
    ours: Files,
    list: File,
    /// The files of this run.
    made: Files,
    /// The sources of this run.
    sources: BTreeSet<PathBuf>,
    /// The sources whose files stay, whatever was made of them.
    kept: BTreeSet<PathBuf>,
    /// Pages of the folder itself that are wanted no longer.
    retired: BTreeSet<String>,
    /// The numbers of aside files that nobody uses at the moment.
    free: Vec<usize>,
    used: usize,
}

impl OutFolder {
    /// Opens a folder for cards, makes it where it is missing, waits at most five seconds for another run to
    /// leave it, and sweeps away what a killed run has left.
    ///
    /// The sources are the paths that the user gave, nothing for the folder that the program runs in.
    ///
    /// # Errors
    ///
    /// Gives an error for a folder that belongs to more than cards, that another run is working in, or that
    /// cannot be written to.
    pub fn open(out: &Path, sources: &[PathBuf]) -> Result<Self, DiskError> {
        let folder = refuse::check(out, sources)?;
        let hidden = folder.join(HIDDEN);
        fs::create_dir_all(&hidden).map_err(|error| DiskError::writing(&out.join(HIDDEN), error))?;
        if !fs::symlink_metadata(&hidden).is_ok_and(|found| found.is_dir()) {
            return Err(DiskError::new(&out.join(HIDDEN), Problem::InTheWay));
        }
        let lock = Lock::take(&hidden.join(LOCK), out)?;
        // Another run may have come first and left its cards, or somebody a file of theirs.
        refuse::check(out, sources)?;
        sweep(&hidden)?;
        let (ours, list) = open_list(&hidden)?;
        Ok(Self {
            folder,
            given: out.to_owned(),
            books: Mutex::new(Books {
                ours,
                list,
                made: Files::new(),
                sources: BTreeSet::new(),
                kept: BTreeSet::new(),
                retired: BTreeSet::new(),
                free: Vec::new(),
                used: 0,
            }),
            _lock: lock,
        })
    }

    /// Writes one file, whole or not at all; one that holds the same already keeps its time.
    ///
    /// The name is made of letters, digits, hyphens and dots, with slashes between folders. The source is the
    /// recipe's path without links, nothing for a page of the folder itself.
    ///
    /// # Errors
    ///
    /// Gives an error where another recipe of this run has that name, where something stands there that is
    /// not ours, or where the system refuses.
    pub fn write(&self, name: &str, source: Option<&Path>, bytes: &[u8]) -> Result<Written, DiskError> {
        let shown_path = self.given.join(name);
        if !manifest::is_plain(name) {
            return Err(DiskError::new(&shown_path, Problem::InTheWay));
        }
        let target = self.folder.join(name);
        let way = source.map(|source| manifest::way(&self.folder, source));
        self.make_folders(name)?;
        let is_same = whole::holds(&target, bytes);
        self.claim(name, way, &target, is_same)?;
        if is_same {
            return Ok(Written::Same);
        }
        let written = if fs::symlink_metadata(&target).is_ok() {
            Written::Changed
        } else {
            Written::New
        };
        let number = self.books().number();
        let aside = self.folder.join(HIDDEN);
        let outcome = whole::replace(&target, bytes, &aside, &format!("new-{number}"));
        self.books().free.push(number);
        outcome.map_err(|error| DiskError::new(&shown_path, error.problem))?;
        Ok(written)
    }

    /// Forgets what was made of a source that is gone, or these of its files that it makes no longer; the end of the
    /// run deletes them.
    pub fn forget(&self, source: &Path, names: &[String]) {
        let way = manifest::way(&self.folder, source);
        let mut books = self.books();
        books.kept.remove(&way);
        for name in names {
            if books
                .made
                .get(name)
                .is_some_and(|made| made.as_deref() == Some(way.as_path()))
            {
                books.made.remove(name);
            }
        }
        books.sources.insert(way);
    }

    /// Keeps every file that was ever made of a source: it has a fault, and its old cards stay.
    pub fn keep(&self, source: &Path) {
        let way = manifest::way(&self.folder, source);
        self.books().kept.insert(way);
    }

    /// Reads a file that is ours; nothing where there is none of that name, or something else in its place.
    #[must_use]
    pub fn page(&self, name: &str) -> Option<Vec<u8>> {
        let is_ours = manifest::is_plain(name) && self.books().ours.contains_key(name);
        let path = is_ours.then(|| self.folder.join(name))?;
        for _ in 0..LOOKS {
            if !fs::symlink_metadata(&path).is_ok_and(|found| found.is_file()) {
                return None;
            }
            match read::read(&path, Some(&self.folder), MOST_PAGE) {
                Ok(page) => return (page.len() as u64 <= MOST_PAGE).then_some(page),
                // A new one took its place at this moment, and is as good.
                Err(error) if matches!(error.problem, Problem::Swapped) => {}
                Err(_) => return None,
            }
        }
        None
    }

    /// Lets a page of the folder itself go, which no run makes by itself.
    pub fn retire(&self, name: &str) {
        self.books().retired.insert(name.to_owned());
    }

    /// Ends the run, or a round of one that goes on: deletes our files whose recipe is gone or no longer makes
    /// them, and puts the list in order. Gives the names of the files that went.
    ///
    /// # Errors
    ///
    /// Gives an error where the system refuses.
    pub fn finish(&self) -> Result<Vec<String>, DiskError> {
        let mut books = self.books();
        let stale: Vec<String> = books
            .ours
            .iter()
            .filter(|(name, source)| {
                let is_retired = source.is_none() && books.retired.contains(*name);
                !books.made.contains_key(*name) && (is_retired || self.is_stale(&books, source.as_deref()))
            })
            .map(|(name, _)| name.clone())
            .collect();
        for name in &stale {
            self.delete(name)?;
        }
        let mut files = books.ours.clone();
        files.extend(books.made.clone());
        for name in &stale {
            files.remove(name);
        }
        let text = manifest::print(&files);
        let hidden = self.folder.join(HIDDEN);
        let path = hidden.join(MANIFEST);
        if !whole::holds(&path, text.as_bytes()) {
            whole::replace(&path, text.as_bytes(), &hidden, "new-list")?;
            books.list = append_to(&path)?;
        }
        books.ours = files;
        books.sources = books.made.values().flatten().cloned().collect();
        Ok(stale)
    }

    /// Enters a file into the books, and into the list on the disk if it is not there yet.
    fn claim(&self, name: &str, way: Option<PathBuf>, target: &Path, is_same: bool) -> Result<(), DiskError> {
        let shown_path = self.given.join(name);
        let mut books = self.books();
        if let Some(other) = books.made.get(name).filter(|other| **other != way) {
            let other = other
                .as_deref()
                .map_or_else(|| "the folder's own page".to_owned(), file_name);
            return Err(DiskError::new(&shown_path, Problem::SameName(other)));
        }
        let ours = books.ours.get(name);
        let there = fs::symlink_metadata(target).ok();
        let foreign = ours.is_none() && !is_same || there.as_ref().is_some_and(fs::Metadata::is_dir);
        if there.is_some() && foreign {
            return Err(DiskError::new(&shown_path, Problem::InTheWay));
        }
        if ours != Some(&way) {
            let line = manifest::line(name, way.as_deref());
            books
                .list
                .write_all(line.as_bytes())
                .map_err(|error| DiskError::writing(&shown_path, error))?;
            books.ours.insert(name.to_owned(), way.clone());
        }
        if let Some(way) = &way {
            books.kept.remove(way);
            books.sources.insert(way.clone());
        }
        books.made.insert(name.to_owned(), way);
        Ok(())
    }

    /// Makes the folders that a name leads through; none of them may be a link.
    fn make_folders(&self, name: &str) -> Result<(), DiskError> {
        let mut folder = self.folder.clone();
        let mut given = self.given.clone();
        let parts: Vec<&str> = name.split('/').collect();
        for part in parts.iter().take(parts.len().saturating_sub(1)) {
            folder.push(part);
            given.push(part);
            match fs::symlink_metadata(&folder) {
                Ok(found) if found.is_dir() => {}
                Ok(_) => return Err(DiskError::new(&given, Problem::InTheWay)),
                // Another thread may have made it meanwhile.
                Err(_) => fs::create_dir_all(&folder).map_err(|error| DiskError::writing(&given, error))?,
            }
        }
        Ok(())
    }

    fn is_stale(&self, books: &Books, source: Option<&Path>) -> bool {
        source.is_some_and(|source| {
            !books.kept.contains(source)
                && (books.sources.contains(source) || fs::symlink_metadata(self.folder.join(source)).is_err())
        })
    }

    /// Deletes a file of ours, and the folder around it if that is empty then.
    fn delete(&self, name: &str) -> Result<(), DiskError> {
        let path = self.folder.join(name);
        let is_file = fs::symlink_metadata(&path).is_ok_and(|found| !found.is_dir());
        let above = path.parent().filter(|above| *above != self.folder);
        if !is_file || above.is_some_and(|above| fs::canonicalize(above).ok().as_deref() != Some(above)) {
            return Ok(());
        }
        fs::remove_file(&path).map_err(|error| DiskError::writing(&self.given.join(name), error))?;
        if let Some(above) = above {
            // A folder that is not empty stays, and that is no fault.
            let _ = fs::remove_dir(above);
        }
        Ok(())
    }

    fn books(&self) -> std::sync::MutexGuard<'_, Books> {
        self.books.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Books {
    /// Gives the number of an aside file that nobody else uses.
    fn number(&mut self) -> usize {
        self.free.pop().unwrap_or_else(|| {
            self.used += 1;
            self.used
        })
    }
}

fn file_name(path: &Path) -> String {
    shown(Path::new(path.file_name().unwrap_or_default()))
}

/// Takes away what a run has left that was killed while it wrote.
fn sweep(hidden: &Path) -> Result<(), DiskError> {
    let failed = |error| DiskError::writing(hidden, error);
    for entry in fs::read_dir(hidden).map_err(failed)? {
        let entry = entry.map_err(failed)?;
        let name = entry.file_name();
        if name != LOCK && name != MANIFEST {
            // A folder is nothing that we have made.
            if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                return Err(DiskError::new(&entry.path(), Problem::InTheWay));
            }
            fs::remove_file(entry.path()).map_err(|error| DiskError::writing(&entry.path(), error))?;
        }
    }
    Ok(())
}

/// Reads the list and opens it for more lines; a list that is missing is begun.
fn open_list(hidden: &Path) -> Result<(Files, File), DiskError> {
    let path = hidden.join(MANIFEST);
    if fs::symlink_metadata(&path).is_err() {
        whole::replace(&path, manifest::HEAD.as_bytes(), hidden, "new-list")?;
    }
    let ours = manifest::parse(&read::read(&path, Some(hidden), MOST_MANIFEST)?);
    let list = append_to(&path)?;
    Ok((ours, list))
}

/// Opens the list for more lines.
fn append_to(path: &Path) -> Result<File, DiskError> {
    let opened = OpenOptions::new().append(true).open(path);
    opened.map_err(|error| DiskError::writing(path, error))
}
