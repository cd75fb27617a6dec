//! From what was named to a book: files, folders, versions in git.
#![expect(clippy::disallowed_methods, reason = "this looks at what was named")]

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use super::super::sources::{Recipe, Sources};
use super::super::{Result, Unable};
use super::book::{Book, Entry};
use super::tree::Tree;
use crate::disk::{Repository, folder_of, shown};

/// Finds the book that an argument names: a path on disk, else `REV:PATH`.
pub(super) fn book(argument: &OsStr) -> Result<Book> {
    let path = Path::new(argument);
    if fs::symlink_metadata(path).is_ok() {
        return on_disk(path);
    }
    match argument.to_str().and_then(|text| text.split_once(':')) {
        Some((revision, path)) => in_git(revision, path),
        None => Err(Unable::new(format!(
            "{}: there is no such file or folder; look at the spelling",
            shown(path)
        ))),
    }
}

fn on_disk(path: &Path) -> Result<Book> {
    let paths = [path.to_owned()];
    let sources = Sources::find(&paths, None)?;
    let is_folder = path.is_dir();
    let inner = |found: &Path| found.strip_prefix(path).unwrap_or(found).to_owned();
    let book = Book::on_disk(sources, is_folder, |recipe| inner(path_of(recipe)));
    Ok(if is_folder || book.entries.is_empty() {
        book.with_houses(&paths, inner)
    } else {
        book
    })
}

fn path_of(recipe: &Recipe) -> &Path {
    recipe
        .file
        .as_ref()
        .map_or(Path::new(""), |found| &found.file.path)
}

fn in_git(revision: &str, path: &str) -> Result<Book> {
    let repository = repository(Path::new("."))?;
    let commit = repository.commit_id(revision)?;
    let path = inside(&repository, path)?;
    let tree = Tree::of(Arc::clone(&repository), revision, &commit)?;
    let file = tree.has(&path);
    if file.is_some_and(|file| !file.is_ordinary) {
        return Err(Unable::new(format!(
            "{revision}:{} is a link or another repository, no file",
            shown(&path)
        )));
    }
    let is_folder = file.is_none();
    let entries = tree.entries(&path);
    if entries.is_empty() {
        return Err(Unable::new(format!(
            "there is no recipe at {revision}:{}",
            shown(&path)
        )));
    }
    let tree = tree.with_houses(&entries)?;
    Ok(Book::in_tree(tree, is_folder, entries))
}

/// Makes the books of a commit and of now, for paths on disk.
pub(super) fn since(revision: &str, paths: &[PathBuf]) -> Result<(Book, Book)> {
    let here = [PathBuf::from(".")];
    let paths = if paths.is_empty() { &here } else { paths };
    let first = paths.first().map_or(Path::new("."), PathBuf::as_path);
    let repository = repository(if first.is_dir() { first } else { folder_of(first) })?;
    let commit = repository.commit_id(revision)?;
    let tree = Tree::of(Arc::clone(&repository), revision, &commit)?;
    let is_there = |path: &&PathBuf| fs::symlink_metadata(path).is_ok();
    let there: Vec<PathBuf> = paths.iter().filter(is_there).cloned().collect();
    let is_folder = paths.iter().any(|path| path.is_dir());
    let mut entries = entries_at(&tree, &repository, paths, revision)?;
    if !is_folder {
        entries.extend(candidates(&tree, &repository, &entries));
    }
    let mut seen = BTreeSet::new();
    entries.retain(|entry| seen.insert(entry.place));
    entries.sort_by(|left, right| left.path.cmp(&right.path));
    let old = Book::in_tree(tree.with_houses(&entries)?, is_folder, entries);
    if there.is_empty() {
        return Ok((old, Book::nothing()));
    }
    let place = |path: &Path| from_top(&repository, path).unwrap_or_else(|_| path.to_owned());
    let new = Book::on_disk(Sources::find(&there, None)?, is_folder, |recipe| {
        place(path_of(recipe))
    });
    let new = if is_folder {
        new.with_houses(&there, place)
    } else {
        new
    };
    Ok((old, new))
}

/// Lists what a commit has at paths on disk, by paths from the top.
fn entries_at(tree: &Tree, repository: &Repository, paths: &[PathBuf], revision: &str) -> Result<Vec<Entry>> {
    let mut entries = Vec::new();
    for path in paths {
        let below = from_top(repository, path)?;
        let found = tree.entries(&below);
        if found.is_empty() && fs::symlink_metadata(path).is_err() {
            let shown = shown(path);
            return Err(Unable::new(format!(
                "{shown} is neither on disk nor in {revision}"
            )));
        }
        entries.extend(found.into_iter().map(|entry| Entry {
            path: below.join(&entry.path).components().collect(),
            ..entry
        }));
    }
    Ok(entries)
}

/// Takes a path on disk from the top of the repository.
fn from_top(repository: &Repository, path: &Path) -> Result<PathBuf> {
    let plain = if path.is_dir() {
        fs::canonicalize(path)
    } else {
        in_plain_folder(path)
    };
    let plain = plain.map_err(|error| Unable::new(format!("{}: {error}", shown(path))))?;
    match plain.strip_prefix(&repository.top) {
        Ok(inner) => Ok(inner.to_owned()),
        Err(_) => Err(Unable::new(format!("{} lies in another repository", shown(path)))),
    }
}

/// Lists files of a commit that are no longer on disk: one of them may be what a new file was called.
fn candidates(tree: &Tree, repository: &Repository, known: &[Entry]) -> Vec<Entry> {
    let known: BTreeSet<usize> = known.iter().map(|entry| entry.place).collect();
    let is_known = |entry: &Entry| known.contains(&entry.place);
    let is_gone = |entry: &Entry| fs::symlink_metadata(repository.top.join(&entry.path)).is_err();
    let all = tree.entries(Path::new("")).into_iter();
    all.filter(|entry| !entry.is_house && !is_known(entry) && is_gone(entry))
        .map(|entry| Entry {
            is_candidate: true,
            ..entry
        })
        .collect()
}

pub(super) fn repository(folder: &Path) -> Result<Arc<Repository>> {
    Ok(Arc::new(Repository::around(folder)?))
}

/// Gives the path of a file with the links of its folder followed, but not its own.
pub(super) fn in_plain_folder(path: &Path) -> std::io::Result<PathBuf> {
    let folder = fs::canonicalize(folder_of(path))?;
    Ok(folder.join(path.file_name().unwrap_or_default()))
}

/// Takes a path from the top of the repository, or one that begins with a dot from where the program was
/// started, as git does.
fn inside(repository: &Repository, path: &str) -> Result<PathBuf> {
    let outside = || Unable::new(format!("{} lies outside the repository", shown(Path::new(path))));
    let mut whole = PathBuf::new();
    if path == "." || path.starts_with("./") || path.starts_with("../") || path == ".." {
        let here = fs::canonicalize(".")
            .map_err(|error| Unable::new(format!("{}: {error}", shown(Path::new(".")))))?;
        whole.push(here.strip_prefix(&repository.top).map_err(|_| outside())?);
    }
    for part in Path::new(path).components() {
        match part {
            Component::Normal(name) => whole.push(name),
            Component::CurDir => {}
            Component::ParentDir if whole.pop() => {}
            Component::ParentDir | Component::RootDir | Component::Prefix(_) => return Err(outside()),
        }
    }
    Ok(whole)
}
