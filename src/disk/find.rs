//! Which recipes there are, and which bakehouse files hold for each of them.
//!
//! Owns the walk through a folder and the climb out of it. The climb ends at the project's root: the top of the
//! git repository, else the folder that the program was started in, else the folder that was given or the
//! recipe's own. It never comes into a folder of another owner. So a recipe has the same bakehouses whichever
//! way it was named, and one that somebody left in a shared parent folder counts for nobody.
#![expect(
    clippy::disallowed_methods,
    reason = "this is where the disk is looked through"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ignore::{DirEntry, WalkBuilder};

use super::error::{DiskError, Problem};
use super::name::{folder_of, shown};
use super::read;
use super::refuse::is_ours;
use crate::model::place::MOST_FILES;

/// The name of a bakehouse file.
pub const BAKEHOUSE: &str = "bakehouse.loaf";

/// How a recipe's name ends.
const ENDING: &str = "loaf";

/// What was found below the paths that were given.
#[derive(Debug, Default)]
pub struct Found {
    /// The recipes, in the order of their paths.
    pub recipes: Vec<FoundRecipe>,
    /// Every bakehouse file that holds for a recipe or lies below a folder that was given, each once.
    pub bakehouses: Vec<LoafFile>,
    /// Every combination of bakehouse files, nearest first, as places in `bakehouses`; one more than the
    /// limit at most, so that too many are seen as such.
    pub chains: Vec<Vec<usize>>,
    /// The folders, without links, in which it counts what there is: those that recipes lie in or may come to lie
    /// in, and those above them where a bakehouse would hold for one.
    pub folders: BTreeSet<PathBuf>,
    /// What could not be looked at.
    pub faults: Vec<DiskError>,
}

/// A recipe that was found.
#[derive(Clone, Debug)]
pub struct FoundRecipe {
    /// The file.
    pub file: LoafFile,
    /// Its folder without links.
    pub folder: Arc<Path>,
    /// The place of its bakehouses in [`Found::chains`].
    pub chain: usize,
}

/// A file that is to be read.
#[derive(Clone, Debug)]
pub struct LoafFile {
    /// Where it is.
    pub path: PathBuf,
    /// How it is called in front of people.
    pub name: String,
    /// The folder that it may not lead out of; nothing for a file that the user has named.
    pub root: Option<Arc<Path>>,
}

impl FoundRecipe {
    /// Gives the file's path without links in its folder: what tells this recipe from every other.
    #[must_use]
    pub fn plain_path(&self) -> PathBuf {
        self.folder.join(self.file.path.file_name().unwrap_or_default())
    }
}

impl LoafFile {
    /// Says whether the file is one of those paths or lies below one; no paths stand for the folder that the
    /// program was started in.
    #[must_use]
    pub fn is_named_by(&self, paths: &[PathBuf]) -> bool {
        let here = [PathBuf::from(".")];
        let paths = if paths.is_empty() { &here } else { paths };
        let plain = fs::canonicalize(folder_of(&self.path));
        let Ok(folder) = plain else { return false };
        let plain = folder.join(self.path.file_name().unwrap_or_default());
        paths.iter().any(|path| {
            let named = path.file_name().filter(|_| !path.is_dir());
            let folder = named.map_or(path.as_path(), |_| folder_of(path));
            let given = fs::canonicalize(folder)
                .map(|folder| named.map_or_else(|| folder.clone(), |name| folder.join(name)));
            given.is_ok_and(|given| plain.starts_with(given))
        })
    }

    /// Reads the file up to one byte more than a limit.
    ///
    /// # Errors
    ///
    /// Gives an error for what is no ordinary file, leads out of the project or cannot be read.
    pub fn read(&self, limit: u64) -> Result<Vec<u8>, DiskError> {
        read::read(&self.path, self.root.as_deref(), limit)
    }
}

/// Finds the recipes in files and folders; without any, those in the folder that the program was started in.
#[must_use]
pub fn find(paths: &[PathBuf]) -> Found {
    let mut search = Search::default();
    if paths.is_empty() {
        search.folder(Path::new("."), true);
    }
    for path in paths {
        match fs::metadata(path) {
            Ok(found) if found.is_dir() => search.folder(path, false),
            Ok(_) => search.file(path),
            Err(error) => search.found.faults.push(DiskError::reading(path, error)),
        }
    }
    search.finished()
}

/// Finds what holds for a recipe whose text comes from elsewhere, as if it stood in the file of that path.
///
/// The file need not be there, its folder must.
#[must_use]
pub fn find_as_if(path: &Path) -> Found {
    let mut search = Search::default();
    search.file(path);
    search.finished()
}

/// A folder on the way up from a recipe.
#[derive(Clone)]
struct Folder {
    /// As the user would write it.
    given: PathBuf,
    /// Without links.
    plain: Arc<Path>,
    /// Where the climb ends.
    root: Arc<Path>,
}

#[derive(Default)]
struct Search {
    found: Found,
    /// The folders that have been looked up, by the path that they were met with.
    folders: BTreeMap<(PathBuf, Arc<Path>), (Arc<Path>, usize)>,
    bakehouses: BTreeMap<PathBuf, usize>,
    chains: BTreeMap<Vec<usize>, usize>,
    seen: BTreeSet<PathBuf>,
}

impl Search {
    /// Takes a recipe that the user has named; links are followed, because the user says so.
    fn file(&mut self, path: &Path) {
        let given = folder_of(path);
        let Some(plain) = self.plain(given) else { return };
        let root = root_of(&plain);
        if path.file_name().is_some_and(|name| name == BAKEHOUSE) {
            self.chain(given, &plain, &root);
        } else {
            self.add(path, None, given, &root);
        }
    }

    /// Takes all recipes below a folder. Links may lead within it, or anywhere in the project where it was not
    /// named.
    fn folder(&mut self, path: &Path, is_unnamed: bool) {
        let Some(plain) = self.plain(path) else { return };
        let root = root_of(&plain);
        let bounds = if is_unnamed { Arc::clone(&root) } else { plain };
        let walk = WalkBuilder::new(path)
            .hidden(true)
            .follow_links(false)
            // Disks list their files in orders of their own.
            .sort_by_file_name(std::ffi::OsStr::cmp)
            // Only what lies in the project counts: nothing above it, nothing of this machine's.
            .parents(false)
            .require_git(false)
            .git_global(false)
            .git_exclude(false)
            .ignore(false)
            .filter_entry(|entry| !is_cards(entry))
            .build();
        for entry in walk {
            match entry {
                Ok(entry) => self.entry(&entry, &bounds, &root),
                Err(error) => self.found.faults.push(walk_error(path, error)),
            }
        }
    }

    fn entry(&mut self, entry: &DirEntry, bounds: &Arc<Path>, root: &Arc<Path>) {
        let path = entry.path();
        if entry.file_type().is_some_and(|kind| kind.is_dir())
            && let Some(plain) = self.plain(path)
        {
            self.found.folders.insert(plain.to_path_buf());
        }
        let is_loaf = entry.depth() > 0 && path.extension().is_some_and(|ending| ending == ENDING);
        if !is_loaf {
            return;
        }
        if entry.file_type().is_some_and(|kind| kind.is_dir()) {
            self.found.faults.push(DiskError::new(path, Problem::Folder));
            return;
        }
        let given = folder_of(path);
        if entry.file_name() == BAKEHOUSE {
            if let Some(plain) = self.plain(given) {
                self.chain(given, &plain, root);
            }
        } else {
            self.add(path, Some(bounds), given, root);
        }
    }

    fn add(&mut self, path: &Path, bounds: Option<&Arc<Path>>, given: &Path, root: &Arc<Path>) {
        let key = (given.to_owned(), Arc::clone(root));
        let known = self.folders.get(&key).cloned();
        let Some((folder, chain)) = known.or_else(|| {
            let plain = self.plain(given)?;
            let chain = self.chain(given, &plain, root);
            self.folders.insert(key, (Arc::clone(&plain), chain));
            Some((plain, chain))
        }) else {
            return;
        };
        let name = path.file_name().unwrap_or_default();
        if self.seen.insert(folder.join(name)) {
            self.found.recipes.push(FoundRecipe {
                file: LoafFile {
                    path: path.to_owned(),
                    name: shown(path),
                    root: bounds.cloned(),
                },
                folder,
                chain,
            });
        }
    }

    /// Climbs from a folder to the root and gives the number of the chain of bakehouses that it meets.
    fn chain(&mut self, given: &Path, plain: &Arc<Path>, root: &Arc<Path>) -> usize {
        let mut folder = Some(Folder {
            given: given.to_owned(),
            plain: Arc::clone(plain),
            root: Arc::clone(root),
        });
        let mut chain = Vec::new();
        while let Some(here) = folder
            && chain.len() <= MOST_FILES
        {
            chain.extend(self.bakehouse(&here));
            self.found.folders.insert(here.plain.to_path_buf());
            folder = here.above();
        }
        let next = self.chains.len();
        *self.chains.entry(chain).or_insert(next)
    }

    fn bakehouse(&mut self, folder: &Folder) -> Option<usize> {
        let path = folder.plain.join(BAKEHOUSE);
        if let Some(known) = self.bakehouses.get(&path) {
            return Some(*known);
        }
        // A link counts as being there, so that one which leads nowhere is heard of.
        fs::symlink_metadata(&path).ok()?;
        let place = self.found.bakehouses.len();
        self.found.bakehouses.push(LoafFile {
            name: shown(&folder.given.join(BAKEHOUSE)),
            path: path.clone(),
            root: Some(Arc::clone(&folder.root)),
        });
        self.bakehouses.insert(path, place);
        Some(place)
    }

    fn plain(&mut self, path: &Path) -> Option<Arc<Path>> {
        match fs::canonicalize(path) {
            Ok(plain) => Some(Arc::from(plain)),
            Err(error) => {
                self.found.faults.push(DiskError::reading(path, error));
                None
            }
        }
    }

    fn finished(mut self) -> Found {
        self.found
            .recipes
            .sort_by(|left, right| left.file.path.cmp(&right.file.path));
        self.found.chains = vec![Vec::new(); self.chains.len()];
        for (chain, place) in self.chains {
            if let Some(slot) = self.found.chains.get_mut(place) {
                *slot = chain;
            }
        }
        self.found
    }
}

impl Folder {
    /// Gives the folder above, below or at the root.
    fn above(&self) -> Option<Self> {
        if self.plain == self.root || !self.plain.starts_with(&self.root) {
            return None;
        }
        let same_name = self.given.file_name().is_some() && self.given.file_name() == self.plain.file_name();
        Some(Self {
            given: if same_name {
                folder_of(&self.given).to_owned()
            } else {
                self.given.join("..")
            },
            plain: Arc::from(self.plain.parent()?),
            root: Arc::clone(&self.root),
        })
    }
}

/// Recognises a folder of cards below the one that was given: nothing in it is a source.
fn is_cards(entry: &DirEntry) -> bool {
    entry.depth() > 0 && entry.file_type().is_some_and(|kind| kind.is_dir()) && is_ours(entry.path())
}

/// Finds the root of the project that a folder lies in.
fn root_of(plain: &Path) -> Arc<Path> {
    let here = || fs::canonicalize(".").ok().filter(|here| plain.starts_with(here));
    let widest = git_top(plain).or_else(here).unwrap_or_else(|| plain.to_owned());
    let is_ours = |folder: &&Path| folder.starts_with(&widest) && owner(folder) == owner(plain);
    Arc::from(plain.ancestors().take_while(is_ours).last().unwrap_or(plain))
}

#[cfg(unix)]
fn owner(folder: &Path) -> Option<u32> {
    use std::os::unix::fs::MetadataExt as _;
    fs::metadata(folder).ok().map(|found| found.uid())
}

#[cfg(not(unix))]
fn owner(_: &Path) -> Option<u32> {
    None
}

/// Finds the top of the git repository that a folder lies in; git itself is not asked.
pub(super) fn git_top(plain: &Path) -> Option<PathBuf> {
    plain
        .ancestors()
        .find(|folder| fs::symlink_metadata(folder.join(".git")).is_ok())
        .map(Path::to_owned)
}

fn walk_error(start: &Path, error: ignore::Error) -> DiskError {
    fn path_of(error: &ignore::Error) -> Option<&Path> {
        match error {
            ignore::Error::WithPath { path, .. } => Some(path),
            ignore::Error::WithDepth { err, .. } | ignore::Error::WithLineNumber { err, .. } => path_of(err),
            ignore::Error::Loop { child, .. } => Some(child),
            _ => None,
        }
    }
    let path = path_of(&error).unwrap_or(start).to_owned();
    let words = error.to_string();
    let cause = error
        .into_io_error()
        .unwrap_or_else(|| std::io::Error::other(words));
    DiskError::reading(&path, cause)
}
