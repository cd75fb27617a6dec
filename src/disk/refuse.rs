//! Which folder may hold cards: an empty one or one of ours, and none that belongs to more than cards.
#![expect(
    clippy::disallowed_methods,
    reason = "this looks at the folder that cards shall go to"
)]

use std::env;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::error::{DiskError, Problem};

/// The folder in a folder of cards that holds what is ours alone.
pub(super) const HIDDEN: &str = ".loafwright";

/// The list of the files that are ours, in the hidden folder.
pub(super) const MANIFEST: &str = "manifest";

/// Says whether a folder is one that cards have been written to.
pub(super) fn is_ours(folder: &Path) -> bool {
    let hidden = folder.join(HIDDEN);
    let is_folder = fs::symlink_metadata(&hidden).is_ok_and(|found| found.is_dir());
    is_folder && fs::symlink_metadata(hidden.join(MANIFEST)).is_ok_and(|found| found.is_file())
}

/// Checks that a folder may hold the cards of sources, and gives its path without links; it need not be
/// there yet.
pub(super) fn check(out: &Path, sources: &[PathBuf]) -> Result<PathBuf, DiskError> {
    let refused = |problem| Err(DiskError::new(out, problem));
    let found = match fs::symlink_metadata(out) {
        Ok(found) => Some(found),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(DiskError::reading(out, error)),
    };
    if found.as_ref().is_some_and(fs::Metadata::is_symlink) {
        return refused(Problem::Link);
    }
    if found.as_ref().is_some_and(|found| !found.is_dir()) {
        return refused(Problem::NotAFolder);
    }
    let plain = plain(out)?;
    if belongs_to_more(&plain) {
        return refused(Problem::NobodysFolder);
    }
    for source in source_folders(sources) {
        if source == plain {
            return refused(Problem::AmongRecipes);
        }
        if source.starts_with(&plain) {
            return refused(Problem::AboveRecipes);
        }
    }
    if plain.ancestors().skip(1).any(is_ours) {
        return refused(Problem::AmongCards);
    }
    if found.is_some()
        && !is_ours(&plain)
        && let Some(other) = foreign(&plain)?
    {
        return refused(Problem::NotEmpty(other));
    }
    Ok(plain)
}

/// Gives a path without links, of which the last names need not exist yet.
fn plain(path: &Path) -> Result<PathBuf, DiskError> {
    let failed = |error| DiskError::reading(path, error);
    let whole = std::path::absolute(path).map_err(failed)?;
    let mut missing = Vec::new();
    let mut there = whole.as_path();
    loop {
        match (fs::canonicalize(there), there.parent(), there.file_name()) {
            (Ok(plain), _, _) => return Ok(plain.join(missing.iter().rev().collect::<PathBuf>())),
            (Err(error), Some(above), Some(name)) if error.kind() == io::ErrorKind::NotFound => {
                missing.push(name);
                there = above;
            }
            (Err(error), _, _) => return Err(failed(error)),
        }
    }
}

fn belongs_to_more(plain: &Path) -> bool {
    let home = env::home_dir().and_then(|home| fs::canonicalize(home).ok());
    plain.parent().is_none()
        || home.is_some_and(|home| home == plain)
        || plain.iter().any(|name| name == ".git" || name == HIDDEN)
}

/// Gives the folders that the sources lie in, without links; what is not there holds no recipes.
fn source_folders(sources: &[PathBuf]) -> Vec<PathBuf> {
    let here = [PathBuf::from(".")];
    let sources = if sources.is_empty() { &here } else { sources };
    let folder = |source: &PathBuf| {
        let plain = fs::canonicalize(source).ok()?;
        if plain.is_dir() {
            Some(plain)
        } else {
            plain.parent().map(Path::to_owned)
        }
    };
    sources.iter().filter_map(folder).collect()
}

/// Finds something in a folder that a run of ours has not put there.
///
/// A hidden folder without its manifest is what a run leaves that was ended before it wrote anything.
fn foreign(folder: &Path) -> Result<Option<PathBuf>, DiskError> {
    let failed = |error| DiskError::reading(folder, error);
    let mut first = None;
    for entry in fs::read_dir(folder).map_err(failed)? {
        let name = PathBuf::from(entry.map_err(failed)?.file_name());
        if name.as_os_str() != HIDDEN && first.as_ref().is_none_or(|first| name < *first) {
            first = Some(name);
        }
    }
    Ok(first)
}
