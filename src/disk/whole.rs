//! Files written whole or not at all: aside first, under one known name, then moved into place.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the door through which files go out"
)]

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;

use tempfile::{Builder, NamedTempFile};

use super::error::{DiskError, Problem};
use super::name::folder_of;
use super::read;

/// Puts bytes in the place of a file. The aside file lies in a folder of the same disk.
///
/// The bytes are not forced to the disk's own medium: a card that a power cut takes is made again.
pub(super) fn replace(target: &Path, bytes: &[u8], aside: &Path, name: &str) -> Result<(), DiskError> {
    let failed = |error| DiskError::writing(target, error);
    let mut file = fresh(aside, name).map_err(failed)?;
    file.write_all(bytes).map_err(failed)?;
    file.persist(target).map_err(|error| failed(error.error))?;
    Ok(())
}

/// Writes a file in place of whatever is there under its name.
///
/// # Errors
///
/// Gives an error where the folder cannot be written to.
pub fn write_over(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    replace(path, bytes, folder_of(path), ".loafwright-new")
}

/// Writes a file that must not be there yet, through to the disk's own medium.
///
/// # Errors
///
/// Gives an error where something of that name is there, or where the folder cannot be written to.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    let failed = |error| DiskError::writing(path, error);
    if fs::symlink_metadata(path).is_ok() {
        return Err(DiskError::new(path, Problem::Exists));
    }
    let folder = folder_of(path);
    let mut file = fresh(folder, ".loafwright-new").map_err(failed)?;
    file.write_all(bytes).map_err(failed)?;
    file.as_file().sync_all().map_err(failed)?;
    file.persist_noclobber(path)
        .map_err(|error| match error.error.kind() {
            io::ErrorKind::AlreadyExists => DiskError::new(path, Problem::Exists),
            _ => failed(error.error),
        })?;
    sync_folder(folder).map_err(failed)
}

/// Writes a file into a folder, which is made where it is not there yet; leaves what has its name and says that.
///
/// # Errors
///
/// Gives an error where the folder cannot be made or written to.
pub fn write_new_in(folder: &Path, name: &str, bytes: &[u8]) -> Result<bool, DiskError> {
    fs::create_dir_all(folder).map_err(|error| DiskError::writing(folder, error))?;
    match write_new(&folder.join(name), bytes) {
        Ok(()) => Ok(true),
        Err(error) if matches!(error.problem, Problem::Exists) => Ok(false),
        Err(error) => Err(error),
    }
}

/// Says whether a file is there, is an ordinary one and holds exactly these bytes.
pub(super) fn holds(path: &Path, bytes: &[u8]) -> bool {
    let length = bytes.len() as u64;
    fs::symlink_metadata(path).is_ok_and(|found| found.is_file() && found.len() == length)
        && read::read(path, None, length).is_ok_and(|there| there == bytes)
}

/// Makes the aside file. What a killed run or somebody else has left under its name is taken away; a link
/// there is taken away too and never written through.
fn fresh(folder: &Path, name: &str) -> io::Result<NamedTempFile> {
    let make = || {
        let mut builder = Builder::new();
        builder.prefix(name).suffix("").rand_bytes(0);
        ask_for_ordinary(&mut builder);
        builder.tempfile_in(folder)
    };
    match make() {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            fs::remove_file(folder.join(name))?;
            make()
        }
        other => other,
    }
}

/// Asks for the permissions of an ordinary file, from which the system takes what the user's mask forbids.
#[cfg(unix)]
fn ask_for_ordinary(builder: &mut Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt as _;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn ask_for_ordinary(_: &mut Builder<'_, '_>) {}

/// Has the system put a folder's names on the disk.
#[cfg(unix)]
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// There is nothing to be done for names elsewhere.
#[cfg(not(unix))]
pub(super) fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
