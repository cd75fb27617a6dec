//! A source file put into another form: whole or not at all, and only if nobody has touched it meanwhile.
//!
//! Owns what may be rewritten and what stays as it was: permissions, owner, where a link leads. The new text
//! is written aside in the file's own folder under one known name, and moved into place at the very end.
#![expect(
    clippy::disallowed_methods,
    reason = "this is where a source is written anew, by its owner alone"
)]

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use super::error::{DiskError, Problem};
use super::find::{LoafFile, git_top};
use super::name::folder_of;
use super::whole::sync_folder;
use super::{lock, read};

/// The name of the aside file. A run that was ended leaves one at most, and the next run takes it over.
const ASIDE: &str = ".loafwright-format";

/// How often a run looks for an aside file of its own, while others take theirs away under its hands.
const TRIES: usize = 1000;

/// Puts a new text into the place of an old one.
///
/// # Errors
///
/// Gives an error where the file no longer holds the old text, where it may not be written, where it leads
/// out of the project, or where it is known under a second name that would be parted from it.
pub fn rewrite(file: &LoafFile, before: &[u8], after: &[u8]) -> Result<(), DiskError> {
    let (target, found) = target(file)?;
    let failed = |error| DiskError::writing(&file.path, error);
    let folder = target.parent().unwrap_or(Path::new("/"));
    let mut aside = Aside::take(folder, &file.path)?;
    aside.keep_as(&found).map_err(failed)?;
    aside.file.write_all(after).map_err(failed)?;
    aside.file.sync_all().map_err(failed)?;
    if !still_holds(&target, &found, before) {
        return Err(DiskError::new(&file.path, Problem::Changed));
    }
    aside.move_to(&target).map_err(failed)?;
    sync_folder(folder).map_err(failed)
}

/// Finds the file behind a path, all links followed, and sees whether it may be rewritten.
fn target(file: &LoafFile) -> Result<(PathBuf, Metadata), DiskError> {
    let path = &file.path;
    let (opened, found) = read::open(path)?;
    drop(opened);
    let plain = read::resolved(path, &found)?;
    if !is_inside(file, &plain)? {
        return Err(DiskError::new(path, Problem::Outside));
    }
    if found.permissions().readonly() {
        return Err(DiskError::new(path, Problem::ReadOnly));
    }
    if has_other_names(&found) {
        return Err(DiskError::new(path, Problem::OtherNames));
    }
    Ok((plain, found))
}

/// Says whether a file lies where its path says, or a link to it stays within the project.
fn is_inside(file: &LoafFile, plain: &Path) -> Result<bool, DiskError> {
    let failed = |error| DiskError::reading(&file.path, error);
    if let Some(root) = &file.root {
        return Ok(plain.starts_with(root));
    }
    let is_link = fs::symlink_metadata(&file.path).map_err(failed)?.is_symlink();
    if !is_link {
        return Ok(true);
    }
    let folder = fs::canonicalize(folder_of(&file.path)).map_err(failed)?;
    Ok(plain.starts_with(git_top(&folder).unwrap_or(folder)))
}

fn still_holds(target: &Path, found: &Metadata, before: &[u8]) -> bool {
    let same_file =
        fs::symlink_metadata(target).is_ok_and(|now| read::identity(&now) == read::identity(found));
    same_file && read::read(target, None, before.len() as u64).is_ok_and(|now| now == before)
}

/// The aside file, locked: no other run writes into it.
struct Aside {
    path: PathBuf,
    file: File,
    is_moved: bool,
}

impl Aside {
    /// Makes the aside file of a folder or takes over one that a run has left; `of` is who it is for.
    fn take(folder: &Path, of: &Path) -> Result<Self, DiskError> {
        let path = folder.join(ASIDE);
        let failed = |error| DiskError::writing(of, error);
        for _ in 0..TRIES {
            let Some(file) = open_aside(&path).map_err(failed)? else {
                continue;
            };
            if !lock::wait_for(&file).map_err(failed)? {
                let holder = "another run of loafwright".to_owned();
                return Err(DiskError::new(of, Problem::Busy(holder)));
            }
            // The run before may have moved the file into place while this one waited for it. Until the
            // name is seen to lead to the file that is locked, nothing is written.
            if leads_to(&path, &file).map_err(failed)? {
                let aside = Self {
                    path,
                    file,
                    is_moved: false,
                };
                aside.file.set_len(0).map_err(failed)?;
                return Ok(aside);
            }
        }
        Err(DiskError::new(of, Problem::InTheWay))
    }

    /// Gives the aside file the permissions and the owner of the file that it will be.
    #[cfg(unix)]
    fn keep_as(&self, found: &Metadata) -> io::Result<()> {
        use std::os::unix::fs::{MetadataExt as _, fchown};
        let own = self.file.metadata()?;
        if (own.uid(), own.gid()) != (found.uid(), found.gid()) {
            fchown(&self.file, Some(found.uid()), Some(found.gid()))?;
        }
        self.file.set_permissions(found.permissions())
    }

    #[cfg(not(unix))]
    fn keep_as(&self, found: &Metadata) -> io::Result<()> {
        self.file.set_permissions(found.permissions())
    }

    fn move_to(&mut self, target: &Path) -> io::Result<()> {
        fs::rename(&self.path, target)?;
        self.is_moved = true;
        Ok(())
    }
}

impl Drop for Aside {
    /// Takes the aside file away where it was not moved into place; what fails here is swept by the next run.
    fn drop(&mut self) {
        if !self.is_moved {
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Opens the aside file without emptying it; what is no plain file of its own is taken away first.
fn open_aside(path: &Path) -> io::Result<Option<File>> {
    let is_odd = |found: Metadata| !found.is_file() || has_other_names(&found);
    if fs::symlink_metadata(path).is_ok_and(is_odd) {
        fs::remove_file(path)?;
    }
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(false);
    ask_for_private(&mut options);
    match options.open(path) {
        Ok(file) => Ok(Some(file)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        // What a run has left of a file that nobody may write is no use to the next one.
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied && path.exists() => {
            fs::remove_file(path)?;
            Ok(None)
        }
        Err(error) => Err(error),
    }
}

fn leads_to(path: &Path, file: &File) -> io::Result<bool> {
    let own = file.metadata()?;
    Ok(fs::symlink_metadata(path).is_ok_and(|found| read::identity(&found) == read::identity(&own)))
}

#[cfg(unix)]
fn ask_for_private(options: &mut OpenOptions) {
    use std::os::unix::fs::OpenOptionsExt as _;
    options.mode(0o600);
}

#[cfg(not(unix))]
fn ask_for_private(_: &mut OpenOptions) {}

#[cfg(unix)]
fn has_other_names(found: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    found.nlink() > 1
}

#[cfg(not(unix))]
fn has_other_names(_: &Metadata) -> bool {
    false
}
