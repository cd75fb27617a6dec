//! The command line: one file a verb, each with its arguments and what it does.
//!
//! Owns the words of the help, the exit codes, and which work is done for which verb. What is printed, and
//! where, is the business of `ui`.
mod args;
mod asked;
mod bench;
mod build;
mod check;
mod compare;
mod completions;
mod contents;
mod debug;
mod design;
mod explain;
mod format;
mod houses;
mod man;
mod new;
mod pages;
mod sheet;
mod shelf;
mod sources;
mod tally;
mod templates;
mod ui;
mod watch;
mod wishes;

use std::ffi::OsString;

use crate::disk::{DiskError, GitError};
use crate::render::html::RenderError;
use crate::watch::ServerError;
pub use args::command;
use ui::Ui;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Everything is as it should be.
    Fine,
    /// There is a fault in a recipe.
    Faults,
    /// The tool could not work: usage, disk, lock.
    Unable,
    /// The user ended it with Ctrl-C, and it had something to put in order first.
    Interrupted,
    /// It was asked to end, and had something to put in order first.
    Terminated,
}

impl Exit {
    /// Gives the exit code, as the help documents it.
    #[must_use]
    pub const fn code(self) -> u8 {
        match self {
            Self::Fine => 0,
            Self::Faults => 1,
            Self::Unable => 2,
            // What a shell reports of a program that the signal ends.
            Self::Interrupted => 130,
            Self::Terminated => 143,
        }
    }
}

/// Why the tool could not work, in words for the person who asked.
#[derive(Debug)]
pub(crate) struct Unable(String);

type Result<T> = std::result::Result<T, Unable>;

impl Unable {
    fn new(why: impl Into<String>) -> Self {
        Self(why.into())
    }
}

// These errors name their file or place and say all that there is to say: they are told as they are.

impl From<DiskError> for Unable {
    fn from(error: DiskError) -> Self {
        Self::new(error.to_string())
    }
}

impl From<GitError> for Unable {
    fn from(error: GitError) -> Self {
        Self::new(error.to_string())
    }
}

impl From<RenderError> for Unable {
    fn from(error: RenderError) -> Self {
        Self::new(error.to_string())
    }
}

impl From<ServerError> for Unable {
    fn from(error: ServerError) -> Self {
        Self::new(error.to_string())
    }
}

/// Runs the program with its arguments, the name of the program first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let mut ui = Ui::new(args::colour_of(&arguments));
    let exit = match args::parse(arguments) {
        Ok(verb) => verb.run(&mut ui).unwrap_or_else(|Unable(why)| {
            ui.talk(&format!("error: {why}\n"));
            Exit::Unable
        }),
        Err(answer) => {
            let text = answer.render().ansi().to_string();
            if answer.use_stderr() {
                ui.talk(&text);
                Exit::Unable
            } else {
                ui.result(&text);
                Exit::Fine
            }
        }
    };
    ui.finish(exit)
}
