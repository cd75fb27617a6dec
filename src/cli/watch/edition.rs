//! The book as it was found at one moment: which recipes there are, and what holds for each. Between two editions
//! only what stands in the recipes changes.
#![expect(clippy::disallowed_methods, reason = "this looks at what is there")]

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};

use crate::cli::bench::Bench;
use crate::cli::sources::{Recipe, Sources};
use crate::cli::ui::Ui;
use crate::disk::{BAKEHOUSE, FoundRecipe};

/// Names that decide what belongs to a book.
const RULES: [&str; 2] = [".gitignore", ".git"];

/// A book at one moment.
pub(super) struct Edition<'run> {
    pub(super) sources: &'run Sources,
    pub(super) bench: &'run Bench<'run>,
    /// The recipes by their paths without links.
    places: BTreeMap<PathBuf, usize>,
    /// The folder of templates, where one was named.
    templates: Option<PathBuf>,
    /// What holds for the recipes of each chain of bakehouses, as a number that changes with it, and what is wrong
    /// there.
    chains: BTreeMap<usize, (u64, String)>,
}

/// What a change on the disk means for an edition.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// What stands in recipes may have changed.
    Recipes(Vec<usize>),
    /// There may be other recipes now, or others rules for them.
    Structure,
    /// Something that may be part of a card lies there, though none is known to ask for it.
    Doubt,
    /// Nothing.
    Nothing,
}

impl<'run> Edition<'run> {
    /// Puts an edition together. The look is a number that changes with the templates, of which the folder is named.
    pub(super) fn new(
        sources: &'run Sources,
        bench: &'run Bench<'run>,
        look: u64,
        templates: Option<PathBuf>,
    ) -> Self {
        let places = sources
            .recipes
            .iter()
            .enumerate()
            .filter_map(|(place, recipe)| Some((path_of(recipe)?, place)))
            .collect();
        let used: BTreeSet<usize> = sources.recipes.iter().map(|recipe| recipe.chain).collect();
        let chains = used
            .into_iter()
            .map(|chain| {
                let faults = Ui::plain(&sources.houses.grave_faults(chain));
                (chain, (print_of_chain(sources, chain) ^ look, faults))
            })
            .collect();
        Self {
            sources,
            bench,
            places,
            templates,
            chains,
        }
    }

    /// Says whether there was a folder of templates.
    pub(super) fn has_templates(&self) -> bool {
        self.templates.is_some()
    }

    /// Gives the number that changes with what holds for a recipe.
    pub(super) fn house(&self, recipe: &Recipe) -> u64 {
        self.chains.get(&recipe.chain).map_or(0, |(print, _)| *print)
    }

    /// Shows what is wrong in the bakehouse of a recipe, without colour.
    pub(super) fn house_faults(&self, recipe: &Recipe) -> &str {
        self.chains.get(&recipe.chain).map_or("", |(_, faults)| faults)
    }

    /// Says whether there is a recipe of this path.
    pub(super) fn has(&self, path: &Path) -> bool {
        self.places.contains_key(path)
    }

    /// Says what it means that something happened to a path. The pictures are those that recipes name.
    pub(super) fn meaning(&self, path: &Path, pictures: &BTreeMap<PathBuf, BTreeSet<PathBuf>>) -> Meaning {
        let is_there = path.symlink_metadata().is_ok();
        if let Some(place) = self.places.get(path) {
            return if is_there {
                Meaning::Recipes(vec![*place])
            } else {
                Meaning::Structure
            };
        }
        if let Some(recipes) = pictures.get(path) {
            let places = recipes.iter().filter_map(|recipe| self.places.get(recipe));
            return Meaning::Recipes(places.copied().collect());
        }
        if self
            .templates
            .as_deref()
            .is_some_and(|folder| path.starts_with(folder))
        {
            return Meaning::Structure;
        }
        let name = path.file_name().unwrap_or_default();
        let is_rule = name == BAKEHOUSE || RULES.iter().any(|rule| name == *rule);
        let is_recipe = is_there && path.extension().is_some_and(|ending| ending == "loaf");
        let is_folder = path.is_dir() || self.sources.folders.contains(path);
        if is_rule || is_recipe || is_folder {
            Meaning::Structure
        } else if is_there {
            Meaning::Doubt
        } else {
            Meaning::Nothing
        }
    }
}

/// Gives the path without links of a recipe's file.
pub(super) fn path_of(recipe: &Recipe) -> Option<PathBuf> {
    recipe.file.as_ref().map(FoundRecipe::plain_path)
}

/// Recognises what editors leave beside a file while they work on it: swap files and locks, which are hidden,
/// backups, and the file by which Vim finds out what it may do in a folder.
pub(super) fn is_litter(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let is_rule = RULES.contains(&name.as_ref());
    let is_number = !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_digit());
    !is_rule && (name.starts_with(['.', '#']) || name.ends_with('~') || is_number)
}

/// Gives a number that is the same for the same content.
pub(super) fn print_of(content: &[u8]) -> u64 {
    let mut hasher = DefaultHasher::new();
    content.hash(&mut hasher);
    hasher.finish()
}

fn print_of_chain(sources: &Sources, chain: usize) -> u64 {
    let mut hasher = DefaultHasher::new();
    if let Some((settled, is_sound)) = sources.houses.of_chain(chain) {
        is_sound.hash(&mut hasher);
        settled.place.files.hash(&mut hasher);
        for source in &settled.sources {
            (&source.name, &source.text).hash(&mut hasher);
        }
    }
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::is_litter;

    #[test]
    fn what_editors_leave_is_litter_and_what_a_book_hangs_on_is_not() {
        for name in [
            ".rye.loaf.swp",
            ".rye.loaf.swx",
            "rye.loaf~",
            ".#rye.loaf",
            "#rye.loaf#",
            "4913",
            ".git.lock",
        ] {
            assert!(is_litter(Path::new("book").join(name).as_path()), "{name}");
        }
        for name in [
            "rye.loaf",
            "bakehouse.loaf",
            ".gitignore",
            ".git",
            "crumb.jpg",
            "sedA1b2C3",
        ] {
            assert!(!is_litter(Path::new("book").join(name).as_path()), "{name}");
        }
    }
}
