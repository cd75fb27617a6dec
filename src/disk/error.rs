//! What can go wrong with a file, as a value and as a sentence.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::name::shown;

/// A file that could not be read or written, and why.
#[derive(Debug)]
pub struct DiskError {
    /// The file or folder that it is about.
    pub path: PathBuf,
    /// What is wrong with it.
    pub problem: Problem,
}

/// What is wrong with a file or folder.
#[derive(Debug)]
pub enum Problem {
    /// It is not there.
    Missing,
    /// It is a folder where a file is wanted.
    Folder,
    /// It is a pipe, a device or a socket, which may never end.
    NotAFile,
    /// It is a link, or lies behind one, that leads out of the project.
    Outside,
    /// It changed places while it was opened.
    Swapped,
    /// It could not be read.
    Unreadable(io::Error),
    /// A picture's path that is more than names of folders and a file below the recipe's.
    NoPicturePath,
    /// A picture that is no PNG, JPEG or WebP by what stands in it.
    NoPicture,
    /// A picture past the limit, in bytes.
    PictureTooLarge(u64),
    /// It is no folder, and templates want one.
    NoTemplateFolder,
    /// It is a link among templates.
    LinkedTemplate,
    /// It is no text in UTF-8, or has a name in other letters.
    NotATemplate,
    /// A template past the limit, in bytes.
    TemplateTooLarge(u64),
    /// A folder of more templates than there can be.
    TooManyTemplates(usize),
    /// It could not be written.
    Unwritable(io::Error),
    /// It is there already and would be lost.
    Exists,
    /// It is no folder, and cards want one.
    NotAFolder,
    /// Cards would lie among the recipes.
    AmongRecipes,
    /// The recipes lie below it.
    AboveRecipes,
    /// It is the root of the disk, the home folder or part of a git repository's own files.
    NobodysFolder,
    /// It is a link.
    Link,
    /// It lies in another folder of cards.
    AmongCards,
    /// It holds something that is not ours; the name of one such thing.
    NotEmpty(PathBuf),
    /// Another run works in it, named as far as it is known.
    Busy(String),
    /// Something that is not ours stands where a file of ours would go.
    InTheWay,
    /// It no longer holds what was read from it.
    Changed,
    /// It may not be written, by its own permissions.
    ReadOnly,
    /// It has a second name, from which a new file would part it.
    OtherNames,
    /// Two recipes would make one file; the other recipe.
    SameName(String),
}

impl DiskError {
    /// Says whether it may be over in a moment: the file was not there or changed places just then, as when an editor
    /// replaces it.
    #[must_use]
    pub const fn may_pass(&self) -> bool {
        matches!(self.problem, Problem::Missing | Problem::Swapped)
    }

    /// Makes the error of a path.
    pub(super) fn new(path: &Path, problem: Problem) -> Self {
        Self {
            path: path.to_owned(),
            problem,
        }
    }

    /// Makes the error of a path that the system could not read.
    pub(super) fn reading(path: &Path, error: io::Error) -> Self {
        let problem = match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Problem::Missing,
            _ => Problem::Unreadable(error),
        };
        Self::new(path, problem)
    }

    /// Makes the error of a path that the system could not write.
    pub(super) fn writing(path: &Path, error: io::Error) -> Self {
        Self::new(path, Problem::Unwritable(error))
    }

    /// Gives what is wrong and what to do about it, without the path.
    #[must_use]
    pub fn reason(&self) -> String {
        match &self.problem {
            Problem::Unreadable(error) => format!("this cannot be read: {}", cause(error)),
            Problem::Unwritable(error) => format!("this cannot be written: {}", cause(error)),
            Problem::PictureTooLarge(most) => {
                format!(
                    "this picture has more than {} MiB; make it smaller",
                    most / (1024 * 1024)
                )
            }
            Problem::TemplateTooLarge(most) => {
                format!("no template has more than {} KiB; make it smaller", most / 1024)
            }
            Problem::TooManyTemplates(most) => {
                format!("this folder holds more than {most} files; name one with templates alone")
            }
            Problem::NotEmpty(other) => format!(
                "this folder holds `{}`, which is not ours; name an empty folder for the cards",
                shown(other)
            ),
            Problem::Busy(holder) => format!("{holder} is working in this folder; wait for it to end"),
            Problem::SameName(other) => {
                format!("{other} makes a card of the same name; give one of the two recipes another name")
            }
            plain => plain.sentence().to_owned(),
        }
    }
}

impl Problem {
    /// Gives the sentence of a problem that has nothing to add to it.
    const fn sentence(&self) -> &'static str {
        match self {
            Self::Missing => "there is no such file or folder; look at the spelling",
            Self::Folder => "this is a folder where a file is wanted; give it another name",
            Self::NotAFile => "this is a pipe, a device or a socket; only ordinary files are read",
            Self::Outside => {
                "this link leads out of the project and is not followed; put a copy in its place"
            }
            Self::Swapped => "this was replaced while it was read; run again",
            Self::NoPicturePath => {
                "a picture lies in the recipe's folder or below; write its path with forward slashes"
            }
            Self::NoPicture => "this holds no PNG, JPEG or WebP picture; save it as one of them",
            Self::NoTemplateFolder => "this is no folder; name the one that holds your templates",
            Self::LinkedTemplate => {
                "this is a link, and templates are not read through one; put a copy in its place"
            }
            Self::NotATemplate => "this is no text in UTF-8; move it out of the folder of templates",
            Self::Exists => "this is there already and stays as it is; choose another name",
            Self::NotAFolder => "this is no folder; name one for the cards",
            Self::AmongRecipes => "this is where the recipes lie; name a folder of its own for the cards",
            Self::AboveRecipes => "the recipes lie below this folder; name a folder of its own for the cards",
            Self::NobodysFolder => {
                "this folder belongs to more than cards; name a folder of its own for them"
            }
            Self::Link => "this is a link; name the folder that it leads to",
            Self::AmongCards => "this lies in a folder of other cards; name a folder beside it",
            Self::Changed => "this was changed by somebody else just now and is left as it is; run again",
            Self::ReadOnly => "this is marked as not to be written and is left as it is",
            Self::OtherNames => {
                "this file is known under a second name (a hard link), from which it would be parted; it is left as it is"
            }
            Self::InTheWay => "something that is not ours stands here; move it away",
            Self::Unreadable(_)
            | Self::Unwritable(_)
            | Self::PictureTooLarge(_)
            | Self::TemplateTooLarge(_)
            | Self::TooManyTemplates(_)
            | Self::NotEmpty(_)
            | Self::Busy(_)
            | Self::SameName(_) => "",
        }
    }
}

impl fmt::Display for DiskError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}: {}", shown(&self.path), self.reason())
    }
}

impl std::error::Error for DiskError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.problem {
            Problem::Unreadable(error) | Problem::Unwritable(error) => Some(error),
            _ => None,
        }
    }
}

/// Puts the causes that people meet into plain words.
fn cause(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "you are not allowed to".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read from".to_owned(),
        io::ErrorKind::NotFound => "the folder is not there".to_owned(),
        io::ErrorKind::InvalidFilename => {
            "the path is too long or holds a character that no path has".to_owned()
        }
        // The system's own number says nothing to a baker.
        _ => {
            let words = error.to_string();
            words.split(" (os error").next().unwrap_or_default().to_owned()
        }
    }
}
