//! How a recipe became what it is: its versions in git, each compared with the one before.
//!
//! Owns the walk through the commits: newest first, only those that changed the file, along renames.
#![expect(
    clippy::disallowed_methods,
    reason = "this asks whether the file is still there"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::super::sources::Sources;
use super::super::ui::Ui;
use super::super::{Exit, Result, Unable};
use super::book::{Entry, Loaded};
use super::location::{in_plain_folder, repository};
use super::pairs::title_of;
use super::tree::{Tree, is_loaf};
use super::{Arguments, document};
use crate::disk::{self, BAKEHOUSE, Commit, ObjectId, Repository, TreeFile, folder_of, shown};
use crate::render::changes_markdown::render_history_markdown;
use crate::render::changes_text::render_history;
use crate::render::json::render_comparisons;
use crate::sheet::Request;
use crate::syntax::MOST_BYTES;
use crate::view::changes::{FileComparison, VersionRow};

/// Commits that are looked at before the walk is given up.
const MOST_COMMITS: usize = 5_000;

/// Versions that are shown; older ones are left out.
const MOST_VERSIONS: usize = 200;

/// A commit that changed the file.
struct Change {
    id: ObjectId,
    commit: Commit,
    file: TreeFile,
}

pub(super) fn run(arguments: &Arguments, file: &Path, ui: &mut Ui) -> Result<Exit> {
    let repository = repository(folder_of(file))?;
    let plain = in_plain_folder(file).map_err(|error| Unable::new(format!("{}: {error}", shown(file))))?;
    let path = plain
        .strip_prefix(&repository.top)
        .map_err(|_| Unable::new("the recipe lies in another repository"))?;
    let mut walk = Walk {
        repository: Arc::clone(&repository),
        files: BTreeMap::new(),
    };
    let (mut changes, is_whole) = walk.changes(path)?;
    if changes.is_empty() {
        return Err(Unable::new(format!("git has no version of {}", shown(file))));
    }
    let is_cut = !is_whole || changes.len() > MOST_VERSIONS;
    changes.truncate(MOST_VERSIONS);
    changes.reverse();
    if is_cut {
        ui.talk("only the newest versions are shown\n");
    }
    let (mut views, mut rows): (Vec<FileComparison>, Vec<VersionRow>) = (Vec::new(), Vec::new());
    let mut before: Option<Loaded> = None;
    for change in &changes {
        let (short, commit) = (change.id.short(), &change.commit);
        let name = format!("{} {short} {}", commit.day, commit.subject);
        let loaded = walk.load(change)?.called(name);
        let view = arguments.compared(before.as_ref(), Some(&loaded)).view;
        rows.push(VersionRow::of(Some((short, &commit.day)), &commit.subject, &view));
        views.push(view);
        before = Some(loaded);
    }
    if let Some(loaded) = uncommitted(file, before.as_ref())? {
        let view = arguments.compared(before.as_ref(), Some(&loaded)).view;
        rows.push(VersionRow::of(None, "not committed", &view));
        views.push(view);
    }
    if arguments.form.json {
        ui.result(&render_comparisons(&document(views, rows)));
    } else if arguments.form.markdown {
        ui.result(&render_history_markdown(&rows));
    } else if arguments.form.html {
        arguments.print_page(&document(views, rows), ui)?;
    } else {
        ui.result(&render_history(&rows));
    }
    Ok(Exit::Fine)
}

/// Loads what lies on disk, where that is not the newest version.
fn uncommitted(file: &Path, newest: Option<&Loaded>) -> Result<Option<Loaded>> {
    if fs::symlink_metadata(file).is_err() {
        return Ok(None);
    }
    let bytes = disk::read(file, None, MOST_BYTES)?;
    if newest.is_some_and(|newest| newest.text().as_bytes() == bytes) {
        return Ok(None);
    }
    let (sources, recipe) = Sources::find_one(file, None)?;
    let worked = sources.work_out(&recipe, &Request::default())?;
    Ok(Some(Loaded::of(worked).called("not committed")))
}

/// The commits behind the newest one, with what has been asked of them.
struct Walk {
    repository: Arc<Repository>,
    files: BTreeMap<(ObjectId, PathBuf), Option<TreeFile>>,
}

impl Walk {
    /// Lists the commits that changed a file, newest first, and says whether none was left out.
    fn changes(&mut self, path: &Path) -> Result<(Vec<Change>, bool)> {
        let head = self.repository.commit_id("HEAD")?;
        let mut waiting: BTreeMap<(i64, ObjectId), (Commit, PathBuf)> = BTreeMap::new();
        let mut seen: BTreeSet<ObjectId> = BTreeSet::new();
        let mut changes = Vec::new();
        self.wait(head, path.to_owned(), &mut seen, &mut waiting)?;
        while let Some(((_, id), (commit, path))) = waiting.pop_last() {
            if seen.len() > MOST_COMMITS || changes.len() > MOST_VERSIONS {
                return Ok((changes, false));
            }
            let Some(file) = self.file(&id, &path)? else {
                // The newest commit may lack a file that older ones have.
                for before in commit.parents {
                    self.wait(before, path.clone(), &mut seen, &mut waiting)?;
                }
                continue;
            };
            let mut older = Vec::new();
            for before in &commit.parents {
                older.push((before.clone(), self.file(before, &path)?));
            }
            // Where one of the commits before has the very file, it came from there.
            let unchanged = older
                .iter()
                .find(|(_, other)| other.as_ref().is_some_and(|other| other.id == file.id));
            if let Some((before, _)) = unchanged {
                self.wait(before.clone(), path, &mut seen, &mut waiting)?;
                continue;
            }
            for (before, other) in older {
                let path = match other {
                    Some(_) => Some(path.clone()),
                    None => self.renamed_from(&id, &before, &file)?,
                };
                if let Some(path) = path {
                    self.wait(before, path, &mut seen, &mut waiting)?;
                }
            }
            changes.push(Change { id, commit, file });
        }
        Ok((changes, true))
    }

    /// Puts a commit in line, by its time.
    fn wait(
        &self,
        id: ObjectId,
        path: PathBuf,
        seen: &mut BTreeSet<ObjectId>,
        waiting: &mut BTreeMap<(i64, ObjectId), (Commit, PathBuf)>,
    ) -> Result<()> {
        if seen.insert(id.clone()) {
            let commit = self.repository.commit(&id)?;
            waiting.insert((commit.time, id), (commit, path));
        }
        Ok(())
    }

    fn file(&mut self, commit: &ObjectId, path: &Path) -> Result<Option<TreeFile>> {
        let key = (commit.clone(), path.to_owned());
        if let Some(known) = self.files.get(&key) {
            return Ok(known.clone());
        }
        let found = self.repository.file(commit, path)?;
        let found = found.filter(|file| file.is_ordinary);
        self.files.insert(key, found.clone());
        Ok(found)
    }

    /// Finds what a file was called before a commit: a recipe that the commit no longer has, with the same
    /// content or the same title.
    fn renamed_from(&self, commit: &ObjectId, before: &ObjectId, file: &TreeFile) -> Result<Option<PathBuf>> {
        let files = |commit| self.repository.files(commit);
        let kept: BTreeSet<PathBuf> = files(commit)?.into_iter().map(|file| file.path).collect();
        let gone: Vec<TreeFile> = files(before)?
            .into_iter()
            .filter(|file| file.is_ordinary && is_loaf(&file.path) && !kept.contains(&file.path))
            .collect();
        if let Some(same) = gone.iter().find(|other| other.id == file.id) {
            return Ok(Some(same.path.clone()));
        }
        let title = |file: &TreeFile| -> Result<String> {
            let bytes = self.repository.read(file, MOST_BYTES)?;
            Ok(title_of(&String::from_utf8_lossy(&bytes.unwrap_or_default())))
        };
        let wanted = title(file)?;
        for other in gone {
            if !wanted.is_empty() && title(&other)? == wanted {
                return Ok(Some(other.path));
            }
        }
        Ok(None)
    }

    /// Loads a version with the bakehouses that held for it.
    fn load(&mut self, change: &Change) -> Result<Loaded> {
        let mut files = vec![change.file.clone()];
        let folder = change.file.path.parent().unwrap_or(Path::new(""));
        let above: Vec<PathBuf> = folder.ancestors().map(|folder| folder.join(BAKEHOUSE)).collect();
        for house in above {
            files.extend(self.file(&change.id, &house)?);
        }
        let entry = Entry {
            path: change.file.path.clone(),
            is_house: false,
            is_candidate: false,
            place: 0,
        };
        let tree = Tree::with_files(Arc::clone(&self.repository), change.id.short(), files);
        tree.with_houses(std::slice::from_ref(&entry))?.load(&entry)
    }
}
