//! What a verb works on: recipes in files or from standard input, with the bakehouses that hold for them.
//!
//! Owns the way from arguments to bytes. Recipes are read one by one while they are worked on, so that a
//! large folder needs little room.
#![expect(
    clippy::disallowed_methods,
    reason = "this is where standard input is read, and what was named is told apart"
)]

use std::collections::BTreeSet;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::houses::Houses;
use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::diag::{Code, Diagnostic, Severity};
use crate::disk::{self, BAKEHOUSE, DiskError, Found, FoundRecipe};
use crate::model::place::Place;
use crate::pipeline::{self, Compiled};
use crate::render::html::image_address;
use crate::render::problems::{Look, render_problems};
use crate::sheet::Request;
use crate::source::{Source, SourceId};
use crate::syntax::MOST_BYTES;

/// The name of standard input as an argument.
pub(super) const STDIN: &str = "-";

/// Everything that a verb was asked to work on.
pub(super) struct Sources {
    /// The recipes, in the order of their paths.
    pub(super) recipes: Vec<Recipe>,
    /// The bakehouse files, and what they settle.
    pub(super) houses: Houses,
    /// The folders in which it counts what there is.
    pub(super) folders: BTreeSet<PathBuf>,
    /// What could not be looked at.
    pub(super) unread: Vec<DiskError>,
    /// What standard input held, where it was asked for.
    pub(super) stdin: Option<Stdin>,
}

/// What came in by standard input.
pub(super) struct Stdin {
    /// The bytes.
    pub(super) bytes: Vec<u8>,
    /// The number of the bakehouse file that they are; nothing for a recipe.
    house: Option<SourceId>,
}

/// A recipe that has not been read yet, or whose text came from standard input.
pub(super) struct Recipe {
    /// What it is called in front of people.
    pub(super) name: String,
    /// Its file; nothing for standard input.
    pub(super) file: Option<FoundRecipe>,
    stdin: Vec<u8>,
    /// The folder that its picture is sought in.
    folder: Option<Arc<Path>>,
    /// The number of the bakehouse that holds for it.
    pub(super) chain: usize,
}

/// A recipe with everything that was worked out, and the texts that its faults point into.
pub(super) struct Worked {
    /// The recipe's text first, then its bakehouses.
    pub(super) sources: Vec<Source>,
    /// What came of it.
    pub(super) compiled: Compiled,
    /// The folder that its picture is sought in.
    folder: Option<Arc<Path>>,
    /// The bakehouse that it is baked in.
    pub(super) place: Arc<Place>,
    /// Whether an error stands in one of its bakehouse files, so that no card of it can be trusted.
    pub(super) house_is_faulty: bool,
    /// Its picture, where it names one that a card can carry.
    pub(super) picture: Option<disk::Picture>,
}

impl Worked {
    /// Gives the picture as the address of an image, which holds it whole; nothing where there is none.
    pub(super) fn picture_address(&self) -> Option<String> {
        let picture = self.picture.as_ref()?;
        Some(image_address(picture.format.media_type(), &picture.bytes))
    }

    /// Gives the recipe's own text.
    pub(super) fn own_source(&self) -> Source {
        let own = self.sources.first();
        own.cloned().unwrap_or_else(|| Source::new(SourceId(0), "", ""))
    }
}

impl Sources {
    /// Finds what paths name; `-` is standard input, which is taken as the file of another path if there is one.
    pub(super) fn find(paths: &[PathBuf], stdin_path: Option<&Path>) -> Result<Self> {
        let from_stdin = paths.iter().any(|path| path.as_os_str() == STDIN);
        if !from_stdin {
            if stdin_path.is_some() {
                return Err(Unable::new(
                    "--stdin-path goes with `-`, which reads standard input",
                ));
            }
            return Ok(Self::of(disk::find(paths)));
        }
        if paths.len() > 1 {
            return Err(Unable::new("`-` stands alone: standard input holds one recipe"));
        }
        let mut text = Vec::new();
        let read = std::io::stdin()
            .lock()
            .take(MOST_BYTES + 1)
            .read_to_end(&mut text);
        read.map_err(|error| Unable::new(format!("standard input could not be read: {error}")))?;
        Ok(Self::of_stdin(text, stdin_path))
    }

    /// Finds the one recipe that an argument names.
    pub(super) fn find_one(path: &Path, stdin_path: Option<&Path>) -> Result<(Self, Recipe)> {
        let mut sources = Self::find(&[path.to_owned()], stdin_path)?;
        if !sources.unread.is_empty() {
            return Err(sources.unread.remove(0).into());
        }
        let recipe = sources.recipes.pop();
        match recipe.filter(|_| sources.recipes.is_empty() && !path.is_dir()) {
            Some(recipe) => Ok((sources, recipe)),
            None => Err(Unable::new(format!("{}: name one recipe", disk::shown(path)))),
        }
    }

    /// Says whether a bakehouse file was asked for by those paths, and does not just hold for a recipe that was.
    pub(super) fn is_meant(&self, house: &Source, paths: &[PathBuf]) -> bool {
        match &self.stdin {
            Some(stdin) => stdin.house == Some(house.id),
            None => self
                .houses
                .file(house)
                .is_some_and(|file| file.is_named_by(paths)),
        }
    }

    /// Takes it for a slip where nothing at all was found.
    pub(super) fn expect_some(&self) -> Result<()> {
        if self.recipes.is_empty() && self.houses.files.is_empty() && self.unread.is_empty() {
            return Err(Unable::new(
                "there is no recipe here: a recipe is a file that ends in `.loaf`",
            ));
        }
        Ok(())
    }

    fn of(found: Found) -> Self {
        let (houses, mut unread) = Houses::read(&found, None);
        unread.extend(found.faults);
        let recipes = found.recipes.into_iter().map(|recipe| Recipe {
            name: recipe.file.name.clone(),
            chain: recipe.chain,
            stdin: Vec::new(),
            folder: Some(Arc::clone(&recipe.folder)),
            file: Some(recipe),
        });
        Self {
            recipes: recipes.collect(),
            houses,
            folders: found.folders,
            unread,
            stdin: None,
        }
    }

    /// Takes a text as if it stood in the file of a path.
    pub(super) fn of_text(text: Vec<u8>, path: &Path) -> Self {
        Self::of_stdin(text, Some(path))
    }

    fn of_stdin(text: Vec<u8>, stdin_path: Option<&Path>) -> Self {
        let path = stdin_path.unwrap_or(Path::new(STDIN));
        let name = stdin_path.map_or_else(|| "<stdin>".to_owned(), disk::shown);
        let is_house = path.file_name().is_some_and(|file| file == BAKEHOUSE);
        // A bakehouse is met by whatever recipe lies beside it.
        let beside = if is_house {
            path.with_file_name(STDIN)
        } else {
            path.to_owned()
        };
        let mut found = disk::find_as_if(&beside);
        let as_if = found.recipes.first();
        let chain = as_if.map_or(0, |recipe| recipe.chain);
        let folder = as_if.map(|recipe| Arc::clone(&recipe.folder));
        found.faults.retain(|_| stdin_path.is_some());
        let (houses, mut unread) = Houses::read(&found, is_house.then_some((&name, &text)));
        unread.extend(found.faults);
        let own = houses
            .files
            .iter()
            .find(|house| is_house && house.source.name == name);
        let stdin = Stdin {
            bytes: text.clone(),
            house: own.map(|house| house.source.id),
        };
        let recipe = Recipe {
            name,
            file: None,
            stdin: text,
            folder,
            chain,
        };
        Self {
            recipes: if is_house { Vec::new() } else { vec![recipe] },
            houses,
            folders: found.folders,
            unread,
            stdin: Some(stdin),
        }
    }

    /// Reads a recipe and works it out.
    pub(super) fn work_out(
        &self,
        recipe: &Recipe,
        request: &Request,
    ) -> std::result::Result<Worked, DiskError> {
        let bytes = match &recipe.file {
            Some(found) => &found.file.read(MOST_BYTES)?,
            None => &recipe.stdin,
        };
        let chain = self.houses.of_chain(recipe.chain);
        let house = chain.map(|(house, _)| house);
        let place = house.map_or_else(
            || Arc::new(Place::without_bakehouse()),
            |house| Arc::clone(&house.place),
        );
        let (source, mut compiled) =
            pipeline::compile_bytes(SourceId(0), &recipe.name, bytes, &place, request);
        let folder = recipe.folder.as_ref();
        let picture = folder.and_then(|folder| read_picture(folder, &mut compiled));
        let mut sources = vec![source];
        sources.extend(house.into_iter().flat_map(|house| house.sources.clone()));
        Ok(Worked {
            sources,
            compiled,
            folder: recipe.folder.clone(),
            place,
            house_is_faulty: chain.is_some_and(|(_, is_sound)| !is_sound),
            picture,
        })
    }

    /// Says what could not be looked at.
    pub(super) fn tell_unread(&self, ui: &mut Ui) -> Exit {
        for error in &self.unread {
            ui.talk(&format!("error: {error}\n"));
        }
        if self.unread.is_empty() {
            Exit::Fine
        } else {
            Exit::Unable
        }
    }
}

impl Worked {
    /// Gives what the recipe is called in front of people.
    pub(super) fn name(&self) -> &str {
        self.sources.first().map_or("", |source| &source.name)
    }

    /// Gives the path of the picture that the recipe names, as far as that is known.
    pub(super) fn picture_path(&self) -> Option<PathBuf> {
        let named = &self.compiled.picture.as_ref()?.value.path;
        Some(self.folder.as_ref()?.join(named))
    }

    /// Shows errors and warnings; cautions and hints are left to the card and to `check`.
    pub(super) fn grave_faults(&self) -> String {
        grave(&self.sources, self.compiled.report.iter())
    }
}

/// Reads the picture; warns of one that is not there or that no card can carry.
fn read_picture(folder: &Path, compiled: &mut Compiled) -> Option<disk::Picture> {
    let picture = compiled.picture.as_ref()?;
    match disk::picture(folder, &picture.value.path) {
        Ok(picture) => Some(picture),
        Err(error) => {
            let message = format!("`{}` cannot be put on a card", picture.value.path);
            let fault = Diagnostic::new(Code::PictureMissing, picture.span, message);
            let mut report = std::mem::take(&mut compiled.report);
            report.push(fault.help(error.reason()));
            compiled.report = report.settled();
            None
        }
    }
}

/// Shows errors and warnings out of all faults of a file.
pub(super) fn grave<'run>(sources: &[Source], faults: impl Iterator<Item = &'run Diagnostic>) -> String {
    let is_grave = |fault: &&Diagnostic| matches!(fault.severity, Severity::Error | Severity::Warning);
    let faults: Vec<Diagnostic> = faults.filter(is_grave).cloned().collect();
    render_problems(sources, &faults, Look::COLOURED)
}
