//! Text that was read, and places in it.
//!
//! Owns the text of every file that a run looks at, the positions within it, and which characters nobody sees.
//! Knows nothing of the language that the text is written in.

mod lines;
mod span;
mod unseen;

pub use lines::{LineIndex, Position};
pub use span::{Span, Spanned};
pub use unseen::{Unseen, is_hidden};

use std::sync::Arc;

/// The number of a source within one run; spans carry it, so that a message can point into any file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(pub u32);

/// One text that was read, with the name a person knows it by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Number of this source within the run.
    pub id: SourceId,
    /// The path as the user gave it, or `<stdin>`.
    pub name: String,
    /// The whole text, byte order mark and line ends included.
    pub text: Arc<str>,
}

impl Source {
    /// Makes a source of a name and a text.
    #[must_use]
    pub fn new(id: SourceId, name: impl Into<String>, text: impl Into<Arc<str>>) -> Self {
        Self {
            id,
            name: name.into(),
            text: text.into(),
        }
    }

    /// Gives the text below a span, or nothing where the span does not fit this source.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// Gives the span of the whole text.
    #[must_use]
    pub fn whole(&self) -> Span {
        Span::new(self.id, 0, self.text.len())
    }
}
