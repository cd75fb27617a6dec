//! What is seen on the disk, folder by folder. The only place that knows the library which asks the system.
//!
//! Folders are watched and never files, since a file that is replaced takes its watch away with it. Each folder is
//! watched on its own and by name, so that nothing is watched that holds no recipes: not the cards, not what git
//! leaves out.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::mpsc::Sender;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use notify::event::{AccessKind, AccessMode, CreateKind, ModifyKind, RenameMode};
use notify::{Config, ErrorKind, Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher as _};

use super::{Call, Sight};
use crate::disk::{Stamp, stamp};

/// Why the system cannot tell of changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Blind {
    /// It watches no more folders for this user.
    Limit,
    /// It has no such service, or that failed; in its own words.
    Failed(String),
}

/// The watched folders.
pub struct Eyes {
    watcher: RecommendedWatcher,
    folders: Folders,
}

/// The folders that are watched. The library's thread looks at them too: nobody holds them while he asks something
/// of that thread.
type Folders = Arc<Mutex<BTreeMap<PathBuf, Folder>>>;

struct Folder {
    /// What was there under this name when the watch began.
    seen: Option<Stamp>,
    /// Whether it went or moved since: its watch, if it still holds, is on something else.
    is_doubtful: bool,
}

impl Eyes {
    /// Opens the eyes; what they see goes into the channel.
    ///
    /// # Errors
    ///
    /// Gives an error where the system tells of no changes.
    pub fn open(calls: Sender<Call>) -> Result<Self, Blind> {
        let folders = Folders::default();
        let known = Arc::clone(&folders);
        let handler = move |event: notify::Result<Event>| {
            for sight in sights(event) {
                if let Sight::Gone(path) = &sight {
                    doubt(&known, path);
                }
                // Nobody listens any more when the program ends.
                let _ = calls.send(Call::Seen(sight));
            }
        };
        let config = Config::default().with_follow_symlinks(false);
        let watcher = RecommendedWatcher::new(handler, config).map_err(|error| blind(&error))?;
        Ok(Self { watcher, folders })
    }

    /// Watches these folders and no others. Says whether one of them was not watched before: what lies in it was
    /// not seen and must be looked at.
    ///
    /// # Errors
    ///
    /// Gives an error where the system watches no more folders.
    pub fn look_at(&mut self, wanted: &BTreeSet<PathBuf>) -> Result<bool, Blind> {
        let is_left = |(path, folder): &(&PathBuf, &Folder)| {
            folder.is_doubtful || !wanted.contains(*path) || !is_same(folder.seen.as_ref(), path)
        };
        let left: Vec<PathBuf> = held(&self.folders)
            .iter()
            .filter(is_left)
            .map(|(path, _)| path.clone())
            .collect();
        // All are let go before one is watched: two names of one folder would share a watch.
        for path in left {
            held(&self.folders).remove(&path);
            // The system may have let go of it by itself.
            let _ = self.watcher.unwatch(&path);
        }
        let mut is_news = false;
        for path in wanted {
            if held(&self.folders).contains_key(path) {
                continue;
            }
            let folder = Folder {
                seen: stamp(path).ok(),
                is_doubtful: false,
            };
            // It is known before it is watched, so that whatever happens to it then is noted.
            held(&self.folders).insert(path.clone(), folder);
            match self.watcher.watch(path, RecursiveMode::NonRecursive) {
                Ok(()) => is_news = true,
                Err(error) if matches!(error.kind, ErrorKind::MaxFilesWatch) => return Err(Blind::Limit),
                // It went meanwhile, or may not be read; the folder around it tells when that changes.
                Err(_) => {
                    held(&self.folders).remove(path);
                }
            }
        }
        Ok(is_news)
    }
}

fn held(folders: &Folders) -> MutexGuard<'_, BTreeMap<PathBuf, Folder>> {
    folders.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Notes that a name is gone. Where it was that of a folder, the watches in it are no longer where they were.
fn doubt(folders: &Folders, gone: &Path) {
    let mut folders = held(folders);
    if folders.contains_key(gone) {
        for (path, folder) in folders.iter_mut() {
            folder.is_doubtful |= path.starts_with(gone);
        }
    }
}

fn is_same(seen: Option<&Stamp>, folder: &Path) -> bool {
    match (seen, stamp(folder)) {
        (Some(seen), Ok(there)) => seen.is_same_thing(&there),
        _ => false,
    }
}

/// Takes from an event what counts; our own reading does not.
fn sights(event: notify::Result<Event>) -> Vec<Sight> {
    let event = match event {
        Ok(event) if event.need_rescan() => return vec![Sight::Missed],
        Ok(event) => event,
        Err(_) => return vec![Sight::Missed],
    };
    let kind: fn(PathBuf) -> Sight = match event.kind {
        EventKind::Access(AccessKind::Close(AccessMode::Write))
        | EventKind::Modify(ModifyKind::Name(RenameMode::To)) => Sight::Whole,
        // The second names two paths, each of which has had an event of its own.
        EventKind::Access(_) | EventKind::Modify(ModifyKind::Name(RenameMode::Both)) => return Vec::new(),
        EventKind::Create(CreateKind::Folder) => Sight::Folder,
        EventKind::Remove(_) | EventKind::Modify(ModifyKind::Name(RenameMode::From)) => Sight::Gone,
        EventKind::Create(_) | EventKind::Modify(_) | EventKind::Any | EventKind::Other => Sight::Touched,
    };
    event.paths.into_iter().map(kind).collect()
}

fn blind(error: &notify::Error) -> Blind {
    match error.kind {
        ErrorKind::MaxFilesWatch => Blind::Limit,
        _ => Blind::Failed(error.to_string()),
    }
}
