//! What tells from outside that a file is no longer the one that was read, without reading it.
#![expect(clippy::disallowed_methods, reason = "this looks at files from outside")]

use std::fs::{self, Metadata};
use std::io;
use std::path::Path;
use std::time::SystemTime;

use super::read::identity;

/// A file or folder as it looks from outside. Two stamps that differ are of two contents or two things; two that
/// are equal may still be of two contents, where the second was written within one tick of the disk's clock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    identity: Identity,
    length: u64,
    written: Option<SystemTime>,
    changed: Changed,
}

#[cfg(unix)]
type Identity = (u64, u64);
#[cfg(not(unix))]
type Identity = (u64, Option<SystemTime>);

/// When anything about it was changed last; nobody can set this clock back to hide a change.
#[cfg(unix)]
type Changed = (i64, i64);
#[cfg(not(unix))]
type Changed = ();

impl Stamp {
    /// Says whether both are of one thing, whatever is in it.
    #[must_use]
    pub fn is_same_thing(&self, other: &Self) -> bool {
        self.identity == other.identity
    }
}

/// Looks at a file or folder from outside, through links.
///
/// # Errors
///
/// Gives an error where it is not there or may not be looked at.
pub fn stamp(path: &Path) -> io::Result<Stamp> {
    let found = fs::metadata(path)?;
    Ok(Stamp {
        identity: identity(&found),
        length: found.len(),
        written: found.modified().ok(),
        changed: changed(&found),
    })
}

#[cfg(unix)]
fn changed(found: &Metadata) -> Changed {
    use std::os::unix::fs::MetadataExt as _;
    (found.ctime(), found.ctime_nsec())
}

#[cfg(not(unix))]
fn changed(_: &Metadata) -> Changed {}
