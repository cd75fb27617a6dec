//! A book: recipes of one state of things, on disk or in a commit, that can be loaded one by one.

use std::path::PathBuf;

use super::super::sources::{Recipe, Sources, Worked};
use super::super::{Result, Unable};
use super::tree::Tree;
use crate::compare::Side;
use crate::diag::{Diagnostic, Severity};
use crate::pipeline::Compiled;
use crate::render::problems::{Look, render_problems};
use crate::sheet::Request;
use crate::source::Source;
use crate::view::changes::Version;

/// Recipes of one state of things.
pub(super) struct Book {
    /// The recipes and bakehouse files, by their paths.
    pub(super) entries: Vec<Entry>,
    /// Whether a folder was named, whatever it holds.
    pub(super) is_folder: bool,
    /// What could not be looked at.
    pub(super) unread: Vec<String>,
    shelf: Shelf,
}

/// Where the recipes lie.
enum Shelf {
    Disk(Box<Sources>),
    Tree(Box<Tree>),
    Nothing,
}

/// A recipe or bakehouse file that has not been loaded.
pub(super) struct Entry {
    /// Its path within the book.
    pub(super) path: PathBuf,
    /// Whether it is a bakehouse file.
    pub(super) is_house: bool,
    /// Whether it is there only in case another one is what became of it.
    pub(super) is_candidate: bool,
    /// Its place among the files of its shelf.
    pub(super) place: usize,
}

/// A version that was read and worked out.
pub(super) struct Loaded {
    /// What it is called in front of people.
    pub(super) name: String,
    /// Whether it is a bakehouse file.
    pub(super) is_house: bool,
    sources: Vec<Source>,
    compiled: Option<Compiled>,
}

impl Book {
    /// Makes the book of what was found on disk.
    pub(super) fn on_disk(sources: Sources, is_folder: bool, path: impl Fn(&Recipe) -> PathBuf) -> Self {
        let unread = sources.unread.iter().map(ToString::to_string).collect();
        let entry = |(place, recipe): (usize, &Recipe)| Entry {
            path: path(recipe),
            is_house: false,
            is_candidate: false,
            place,
        };
        Self {
            entries: sources.recipes.iter().enumerate().map(entry).collect(),
            is_folder,
            unread,
            shelf: Shelf::Disk(Box::new(sources)),
        }
    }

    /// Makes the book of files of a commit.
    pub(super) fn in_tree(tree: Tree, is_folder: bool, entries: Vec<Entry>) -> Self {
        Self {
            entries,
            is_folder,
            unread: Vec::new(),
            shelf: Shelf::Tree(Box::new(tree)),
        }
    }

    /// Makes a book without anything in it.
    pub(super) fn nothing() -> Self {
        Self {
            entries: Vec::new(),
            is_folder: false,
            unread: Vec::new(),
            shelf: Shelf::Nothing,
        }
    }

    /// Adds the bakehouse files of a folder on disk.
    pub(super) fn with_houses(
        mut self,
        paths: &[PathBuf],
        path: impl Fn(&std::path::Path) -> PathBuf,
    ) -> Self {
        if let Shelf::Disk(sources) = &self.shelf {
            for (place, house) in sources.houses.files.iter().enumerate() {
                let file = sources
                    .houses
                    .file(&house.source)
                    .filter(|file| file.is_named_by(paths));
                self.entries.extend(file.map(|file| Entry {
                    path: path(&file.path),
                    is_house: true,
                    is_candidate: false,
                    place,
                }));
            }
        }
        self.entries.sort_by(|left, right| left.path.cmp(&right.path));
        self
    }

    /// Loads an entry by its number.
    pub(super) fn load(&self, at: usize) -> Result<Loaded> {
        let entry = self
            .entries
            .get(at)
            .ok_or_else(|| Unable::new("there is no such version"))?;
        match &self.shelf {
            Shelf::Tree(tree) => tree.load(entry),
            Shelf::Nothing => Err(Unable::new("there is no such version")),
            Shelf::Disk(sources) if entry.is_house => {
                let house = sources.houses.files.get(entry.place);
                let house = house.ok_or_else(|| Unable::new("there is no such file"))?;
                Ok(Loaded::house(house.source.clone()))
            }
            Shelf::Disk(sources) => {
                let recipe = sources.recipes.get(entry.place);
                let recipe = recipe.ok_or_else(|| Unable::new("there is no such recipe"))?;
                let worked = sources.work_out(recipe, &Request::default());
                Ok(Loaded::of(worked?))
            }
        }
    }
}

impl Loaded {
    /// Takes a recipe that was worked out.
    pub(super) fn of(worked: Worked) -> Self {
        Self {
            name: worked.name().to_owned(),
            is_house: false,
            sources: worked.sources,
            compiled: Some(worked.compiled),
        }
    }

    /// Takes a recipe with the texts that its faults point into, its own first.
    pub(super) fn recipe(name: String, sources: Vec<Source>, compiled: Compiled) -> Self {
        Self {
            name,
            is_house: false,
            sources,
            compiled: Some(compiled),
        }
    }

    /// Takes a bakehouse file.
    pub(super) fn house(source: Source) -> Self {
        Self {
            name: source.name.clone(),
            is_house: true,
            sources: vec![source],
            compiled: None,
        }
    }

    /// Gives the same version under another name.
    pub(super) fn called(self, name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..self
        }
    }

    /// Gives its text.
    pub(super) fn text(&self) -> &str {
        self.sources.first().map_or("", |source| &source.text)
    }

    /// Gives what is compared; nothing where an error stands in its way.
    pub(super) fn side(&self) -> Option<Side<'_>> {
        self.compiled.as_ref()?.side()
    }

    /// Gives it as a version with its side.
    pub(super) fn version<'a>(&'a self, side: Option<&'a Side<'a>>) -> Version<'a> {
        Version {
            name: &self.name,
            text: self.text(),
            side,
        }
    }

    /// Shows its errors, if an error keeps it from being compared.
    pub(super) fn errors(&self) -> String {
        let compiled = self.compiled.as_ref().filter(|compiled| compiled.plain.is_none());
        let Some(compiled) = compiled else {
            return String::new();
        };
        let errors = compiled
            .report
            .iter()
            .filter(|fault| fault.severity == Severity::Error);
        let errors: Vec<Diagnostic> = errors.cloned().collect();
        render_problems(&self.sources, &errors, Look::COLOURED)
    }
}
