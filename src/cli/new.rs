//! `new`: a recipe to start from.

use std::path::{Path, PathBuf};

use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::disk::{self, BAKEHOUSE};

/// Write a small recipe to start from, with a remark on every part of it
///
/// Nothing is asked and nothing is overwritten. What it writes passes `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// What the bread is called, `'Sunday tin'`, or the file to write
    #[arg(value_name = "NAME")]
    name: PathBuf,
}

/// The recipe, but for its title.
const START: &str = include_str!("new.loaf");

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let path = path_of(&arguments.name);
    let title = title_of(&path).ok_or_else(|| {
        Unable::new(format!(
            "`{}` cannot be the name of a bread; write letters and digits",
            disk::shown(&arguments.name)
        ))
    })?;
    let text = START.replace("TITLE", &title);
    disk::write_new(&path, text.as_bytes())?;
    let shown = disk::shown(&path);
    ui.result(&format!("{shown}\n"));
    let word = as_word(&shown);
    ui.talk(&format!(
        "written; change a weight, then run `loafwright check {word}`\n"
    ));
    Ok(Exit::Fine)
}

/// Writes a path so that a shell takes it for one word and no option.
fn as_word(path: &str) -> String {
    let path = if path.starts_with('-') {
        format!("./{path}")
    } else {
        path.to_owned()
    };
    let is_plain = |letter: char| letter.is_alphanumeric() || "./-_".contains(letter);
    if path.chars().all(is_plain) {
        path
    } else {
        format!("'{}'", path.replace('\'', r"'\''"))
    }
}

/// Gives the file of a name: the name itself where it ends as recipes do.
fn path_of(name: &Path) -> PathBuf {
    if name.extension().is_some_and(|ending| ending == "loaf") {
        return name.to_owned();
    }
    let mut path = name.as_os_str().to_owned();
    path.push(".loaf");
    PathBuf::from(path)
}

/// Makes a title of a file's name; nothing where no title can be made of it.
fn title_of(path: &Path) -> Option<String> {
    let is_house = path.file_name().is_some_and(|name| name == BAKEHOUSE);
    let name = path.file_stem().filter(|_| !is_house)?.to_str()?;
    // A sign behind white space would begin a comment.
    let words: Vec<&str> = name
        .split(['-', '_', ' ', '#'])
        .filter(|word| !word.is_empty())
        .collect();
    let title = words.join(" ");
    let mut letters = title.chars();
    let first = letters.next().filter(|first| first.is_alphanumeric())?;
    let is_plain = disk::shown(Path::new(&title)) == title && title.len() <= 200;
    is_plain.then(|| first.to_uppercase().chain(letters).collect())
}
