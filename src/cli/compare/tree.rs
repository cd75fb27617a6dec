//! The files of a commit, with the bakehouses that held for them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::super::{Result, Unable};
use super::book::{Entry, Loaded};
use crate::disk::{BAKEHOUSE, ObjectId, Repository, TreeFile, shown};
use crate::model::place::{MOST_FILES, Place};
use crate::pipeline::{self, Bakehouse};
use crate::sheet::Request;
use crate::source::SourceId;
use crate::syntax::{self, MOST_BYTES};

/// How the text begins that stands for a file which is kept elsewhere.
const POINTER: &[u8] = b"version https://git-lfs.";

/// The files of a commit.
pub(super) struct Tree {
    repository: Arc<Repository>,
    /// The commit as it is called in front of people.
    label: String,
    files: Vec<TreeFile>,
    /// Bakehouses by the folders that they hold for.
    houses: BTreeMap<PathBuf, Bakehouse>,
}

impl Tree {
    /// Lists the recipes and bakehouse files of a commit.
    pub(super) fn of(repository: Arc<Repository>, label: &str, commit: &ObjectId) -> Result<Self> {
        let files = repository.files(commit)?;
        Ok(Self {
            repository,
            label: label.to_owned(),
            files: files.into_iter().filter(|file| is_loaf(&file.path)).collect(),
            houses: BTreeMap::new(),
        })
    }

    /// Takes files of a commit that are known already.
    pub(super) fn with_files(repository: Arc<Repository>, label: &str, files: Vec<TreeFile>) -> Self {
        Self {
            repository,
            label: label.to_owned(),
            files,
            houses: BTreeMap::new(),
        }
    }

    /// Lists the files below a path, or the one at it, as entries with paths from there.
    pub(super) fn entries(&self, below: &Path) -> Vec<Entry> {
        let files = self.files.iter().enumerate().filter(|(_, file)| file.is_ordinary);
        let entry = |(place, file): (usize, &TreeFile)| {
            let inner = file.path.strip_prefix(below).ok()?;
            let is_hidden = inner.iter().any(|name| name.as_encoded_bytes().starts_with(b"."));
            (!is_hidden).then(|| Entry {
                path: inner.to_owned(),
                is_house: file.path.file_name().is_some_and(|name| name == BAKEHOUSE),
                is_candidate: false,
                place,
            })
        };
        files.filter_map(entry).collect()
    }

    /// Says whether there is a file at a path, whatever kind of file.
    pub(super) fn has(&self, path: &Path) -> Option<&TreeFile> {
        self.files.iter().find(|file| file.path == path)
    }

    /// Reads the bakehouses that hold for entries, up to the top as on disk.
    pub(super) fn with_houses(mut self, entries: &[Entry]) -> Result<Self> {
        for entry in entries {
            let Some(folder) = self.files.get(entry.place).and_then(|file| file.path.parent()) else {
                continue;
            };
            if !self.houses.contains_key(folder) {
                let house = self.house_for(folder)?;
                self.houses.insert(folder.to_owned(), house);
            }
        }
        Ok(self)
    }

    fn house_for(&self, folder: &Path) -> Result<Bakehouse> {
        let mut sources = Vec::new();
        for folder in folder.ancestors() {
            let Some(file) = self.has(&folder.join(BAKEHOUSE)).filter(|file| file.is_ordinary) else {
                continue;
            };
            if sources.len() > MOST_FILES {
                break;
            }
            let id = SourceId(u32::try_from(sources.len()).unwrap_or(u32::MAX - 1) + 1);
            sources.push(syntax::decode(id, &self.name(file), &self.bytes(file)?).0);
        }
        Ok(pipeline::bakehouse(sources))
    }

    /// Reads a file and works it out.
    pub(super) fn load(&self, entry: &Entry) -> Result<Loaded> {
        let file = self
            .files
            .get(entry.place)
            .ok_or_else(|| Unable::new("there is no such file"))?;
        let (name, bytes) = (self.name(file), self.bytes(file)?);
        if entry.is_house {
            return Ok(Loaded::house(syntax::decode(SourceId(0), &name, &bytes).0));
        }
        let house = file.path.parent().and_then(|folder| self.houses.get(folder));
        let place = house.map_or_else(
            || Arc::new(Place::without_bakehouse()),
            |house| Arc::clone(&house.place),
        );
        let (source, compiled) =
            pipeline::compile_bytes(SourceId(0), &name, &bytes, &place, &Request::default());
        let mut sources = vec![source];
        sources.extend(house.into_iter().flat_map(|house| house.sources.clone()));
        Ok(Loaded::recipe(name, sources, compiled))
    }

    fn bytes(&self, file: &TreeFile) -> Result<Vec<u8>> {
        let name = self.name(file);
        let read = self.repository.read(file, MOST_BYTES)?;
        let bytes =
            read.ok_or_else(|| Unable::new(format!("{name} has more than 1 MiB; is it a recipe?")))?;
        if bytes.starts_with(POINTER) {
            return Err(Unable::new(format!(
                "{name} stands for a file that is kept elsewhere; it is not in this clone"
            )));
        }
        Ok(bytes)
    }

    fn name(&self, file: &TreeFile) -> String {
        format!("{}:{}", self.label, shown(&file.path))
    }
}

/// Recognises recipes and bakehouse files by the ends of their names.
pub(super) fn is_loaf(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "loaf")
}
