//! One reading of one file, bounded and without waiting for anybody.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the door through which files come in"
)]

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::Read as _;
use std::path::{Path, PathBuf};

use super::error::{DiskError, Problem};

/// The flag that keeps opening a pipe from waiting for its other end.
///
/// The number is the system's own and has not changed since it exists; where it is not known here, the look
/// at the kind of file before opening must do.
const DO_NOT_WAIT: i32 = if cfg!(all(
    target_os = "linux",
    any(
        target_arch = "x86_64",
        target_arch = "x86",
        target_arch = "aarch64",
        target_arch = "arm",
        target_arch = "riscv64"
    )
)) {
    0o4000
} else if cfg!(any(
    target_os = "macos",
    target_os = "freebsd",
    target_os = "openbsd",
    target_os = "netbsd"
)) {
    4
} else {
    0
};

/// Reads a file up to one byte more than a limit, so that the caller sees whether it goes on.
///
/// With a root, the file that was opened must lie below it when all links are followed.
///
/// # Errors
///
/// Gives an error for what is no ordinary file, lies outside or cannot be read.
pub fn read(path: &Path, root: Option<&Path>, limit: u64) -> Result<Vec<u8>, DiskError> {
    let (file, found) = open(path)?;
    if let Some(root) = root
        && !resolved(path, &found)?.starts_with(root)
    {
        return Err(DiskError::new(path, Problem::Outside));
    }
    contents(path, file, limit)
}

/// Opens an ordinary file without waiting, and gives what the opened file is.
pub(super) fn open(path: &Path) -> Result<(File, Metadata), DiskError> {
    let failed = |error| DiskError::reading(path, error);
    check_kind(path, &fs::metadata(path).map_err(failed)?)?;
    let file = options().open(path).map_err(failed)?;
    // What lay there a moment ago may be something else by now.
    let found = file.metadata().map_err(failed)?;
    check_kind(path, &found)?;
    Ok((file, found))
}

/// Reads what an opened file holds, at most one byte more than a limit whatever it says of its size.
pub(super) fn contents(path: &Path, file: File, limit: u64) -> Result<Vec<u8>, DiskError> {
    let mut bytes = Vec::new();
    file.take(limit.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(|error| DiskError::reading(path, error))?;
    Ok(bytes)
}

/// Gives the path without links of a file that has been opened.
///
/// The path is asked for after opening, and must lead to the very file that is open: a link that is put in
/// place and taken away again around the opening is found out.
pub(super) fn resolved(path: &Path, opened: &Metadata) -> Result<PathBuf, DiskError> {
    let failed = |error| DiskError::reading(path, error);
    let plain = fs::canonicalize(path).map_err(failed)?;
    let there = fs::symlink_metadata(&plain).map_err(failed)?;
    if identity(&there) == identity(opened) {
        Ok(plain)
    } else {
        Err(DiskError::new(path, Problem::Swapped))
    }
}

fn check_kind(path: &Path, found: &Metadata) -> Result<(), DiskError> {
    if found.is_file() {
        Ok(())
    } else if found.is_dir() {
        Err(DiskError::new(path, Problem::Folder))
    } else {
        Err(DiskError::new(path, Problem::NotAFile))
    }
}

#[cfg(unix)]
fn options() -> OpenOptions {
    use std::os::unix::fs::OpenOptionsExt as _;
    let mut options = OpenOptions::new();
    options.read(true).custom_flags(DO_NOT_WAIT);
    options
}

#[cfg(not(unix))]
fn options() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.read(true);
    options
}

/// Gives what tells two files apart whatever they are called.
#[cfg(unix)]
pub(super) fn identity(found: &Metadata) -> (u64, u64) {
    use std::os::unix::fs::MetadataExt as _;
    (found.dev(), found.ino())
}

#[cfg(not(unix))]
pub(super) fn identity(found: &Metadata) -> (u64, Option<std::time::SystemTime>) {
    (found.len(), found.created().ok())
}
