//! What git calls: the driver of its differences, the text that it compares, and what makes it do so.
#![expect(
    clippy::disallowed_methods,
    reason = "git says by its environment how it calls"
)]

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use super::super::sources::Sources;
use super::super::ui::Ui;
use super::super::{Exit, Result, Unable};
use super::Arguments;
use super::book::Loaded;
use crate::disk::{self, BAKEHOUSE};
use crate::render::changes_text::render_bread;
use crate::sheet::Request;
use crate::source::SourceId;
use crate::syntax::{self, MOST_BYTES};
use crate::view::changes::{Version, view_comparison};

/// What makes git show differences of recipes as differences of bread.
pub(super) const SETUP: &str = "\
# 1. In the file .gitattributes at the top of your repository:
*.loaf diff=loaf

# 2. Once on each machine:
git config --global diff.loaf.command 'loafwright compare --'
git config --global diff.loaf.textconv 'loafwright compare --textconv'
git config --global diff.loaf.xfuncname '^[a-z].*:'

# Then `git diff` tells what changed in the bread. `git log -p` and `git show` do so with --ext-diff; without it
# they compare the figures and lines of both versions. `git diff --no-ext-diff --no-textconv` shows the text.
# For colours write 'loafwright compare --color always --'.
";

/// The name of a version that is not there.
const NOTHING: &str = "/dev/null";

/// Says whether git called: with a path, the older file, its name and mode, the newer file, its name and mode,
/// and for a renamed file its new path and how alike the two are; or with the path alone where it is not merged.
pub(super) fn is_called_by_git(words: &[OsString]) -> bool {
    let is_in_a_list = std::env::var_os("GIT_DIFF_PATH_TOTAL").is_some();
    matches!(words.len(), 7 | 9) || words.len() == 1 && is_in_a_list
}

/// Compares for git. Differences are what git asked for, so that only a version which cannot be read is a
/// failure.
pub(super) fn run(arguments: &Arguments, words: &[OsString], ui: &mut Ui) -> Result<Exit> {
    let path = |at: usize| words.get(at).map_or_else(PathBuf::new, PathBuf::from);
    let (old_path, new_path) = (path(0), if words.len() == 9 { path(7) } else { path(0) });
    if words.len() == 1 {
        ui.result(&format!("{} is not merged\n", disk::shown(&old_path)));
        return Ok(Exit::Fine);
    }
    let old = load(&path(1), &old_path)?;
    let new = load(&path(4), &new_path)?;
    let compared = arguments.compared(old.as_ref(), new.as_ref());
    ui.talk(&compared.faults);
    arguments.print(vec![compared.view], ui)?;
    ui.result("\n");
    Ok(Exit::Fine)
}

/// Loads a file that git has laid out, as if it were the file of a path.
fn load(file: &Path, path: &Path) -> Result<Option<Loaded>> {
    if file == Path::new(NOTHING) {
        return Ok(None);
    }
    let bytes = disk::read(file, None, MOST_BYTES)?;
    let name = disk::shown(path);
    if path.file_name().is_some_and(|name| name == BAKEHOUSE) {
        return Ok(Some(Loaded::house(syntax::decode(SourceId(0), &name, &bytes).0)));
    }
    as_if(bytes, path).map(|loaded| Some(loaded.called(name)))
}

/// Works a text out as if it stood in the file of a path.
fn as_if(bytes: Vec<u8>, path: &Path) -> Result<Loaded> {
    let sources = Sources::of_text(bytes, path);
    let recipe = sources
        .recipes
        .first()
        .ok_or_else(|| Unable::new("there is no recipe"))?;
    Ok(Loaded::of(sources.work_out(recipe, &Request::default())?))
}

/// Prints a recipe as lines of figures. A text that has errors is printed as it is, so that git still has
/// something to compare.
pub(super) fn convert(file: &Path, ui: &mut Ui) -> Result<Exit> {
    let bytes = disk::read(file, None, MOST_BYTES)?;
    // Git lays the file out elsewhere and says nothing of where it belongs: the bakehouse at the top holds.
    let loaded = as_if(bytes.clone(), Path::new("./recipe.loaf"))?;
    match loaded.side() {
        Some(side) if side.sheet.is_some() => {
            let version = Version {
                name: "",
                text: loaded.text(),
                side: Some(&side),
            };
            ui.result(&render_bread(&view_comparison(None, Some(version))));
        }
        _ => ui.pass_on(&bytes),
    }
    Ok(Exit::Fine)
}
