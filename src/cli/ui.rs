//! What the program says: results on standard output, talk on standard error, colour where it is wanted.
//!
//! The only place that prints. Knows nothing of what is said.
#![expect(clippy::disallowed_methods, reason = "this is what prints")]

use std::io::{self, IsTerminal as _, Write as _};

use anstream::{AutoStream, ColorChoice};

use super::Exit;

/// When colour is used.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Colour {
    #[default]
    Auto,
    Always,
    Never,
}

/// The two streams of a run.
pub(super) struct Ui {
    out: AutoStream<io::StdoutLock<'static>>,
    err: AutoStream<io::StderrLock<'static>>,
    out_is_terminal: bool,
    err_is_terminal: bool,
    progress_width: usize,
    out_state: io::Result<()>,
}

impl Ui {
    /// Opens the streams.
    pub(super) fn new(colour: Colour) -> Self {
        let choice = |auto: ColorChoice| match colour {
            Colour::Auto => auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        let (out, err) = (io::stdout(), io::stderr());
        let out_choice = choice(AutoStream::choice(&out));
        let err_choice = choice(AutoStream::choice(&err));
        Self {
            out_is_terminal: out.is_terminal(),
            err_is_terminal: err.is_terminal(),
            out: AutoStream::new(out.lock(), out_choice),
            err: AutoStream::new(err.lock(), err_choice),
            progress_width: 0,
            out_state: Ok(()),
        }
    }

    /// Says whether results go to a person's screen.
    pub(super) const fn is_read_by_a_person(&self) -> bool {
        self.out_is_terminal
    }

    /// Hands over a result. Once the reader has gone, the rest is dropped in silence.
    pub(super) fn result(&mut self, text: &str) {
        self.clear_progress();
        if self.out_state.is_ok() {
            self.out_state = self.out.write_all(text.as_bytes());
        }
    }

    /// Hands bytes on as they came, escape codes and all that is no text included.
    pub(super) fn pass_on(&mut self, bytes: &[u8]) {
        self.clear_progress();
        if self.out_state.is_ok() {
            self.out_state = self.out.flush().and_then(|()| io::stdout().write_all(bytes));
        }
    }

    /// Says something about the work. Nobody has to listen, so that a closed stream is no fault.
    pub(super) fn talk(&mut self, text: &str) {
        self.clear_progress();
        let _ = self.err.write_all(text.as_bytes());
    }

    /// Shows on a terminal how far the work has come; each call takes the place of the one before.
    pub(super) fn progress(&mut self, text: &str) {
        if self.err_is_terminal {
            self.clear_progress();
            let _ = write!(io::stderr(), "\r{text}");
            self.progress_width = text.chars().count();
        }
    }

    fn clear_progress(&mut self) {
        let width = std::mem::take(&mut self.progress_width);
        if width > 0 {
            // Spaces clear the line on any terminal, coloured or not.
            let _ = write!(io::stderr(), "\r{:width$}\r", "");
        }
    }

    /// Gives a text as it is without colour.
    pub(super) fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    /// Sees the results off and gives the exit code that is true at the end.
    pub(super) fn finish(mut self, exit: Exit) -> Exit {
        self.clear_progress();
        let state = std::mem::replace(&mut self.out_state, Ok(())).and_then(|()| self.out.flush());
        match state {
            Ok(()) => exit,
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => exit,
            Err(error) => {
                self.talk(&format!("error: the results could not be written: {error}\n"));
                Exit::Unable
            }
        }
    }
}
