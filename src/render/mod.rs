//! Views and faults as bytes: terminal text, one-line text, JSON.
//!
//! Owns how things look. Numbers and words arrive as text or as plain data; nothing is computed here.

pub mod book;
pub mod changes_markdown;
pub mod changes_text;
mod excerpt;
pub mod html;
pub mod json;
pub mod news;
pub mod numbers;
pub mod own;
pub mod problems;
pub mod short;
mod tags;
pub mod text;
pub mod values;
mod versions;

use crate::diag::Diagnostic;
use crate::source::{LineIndex, Source, SourceId};

/// Texts with their lines, which are sought once for all the faults that lie in them.
struct Pages<'text>(Vec<(&'text Source, LineIndex<'text>)>);

impl<'text> Pages<'text> {
    /// Finds the lines of texts; without a fault nobody asks for them.
    fn of(sources: &'text [Source], faults: &[Diagnostic]) -> Self {
        let page = |source: &'text Source| (source, LineIndex::new(&source.text));
        Self(sources.iter().filter(|_| !faults.is_empty()).map(page).collect())
    }

    /// Finds the text that a span lies in.
    fn page(&self, id: SourceId) -> Option<&(&'text Source, LineIndex<'text>)> {
        self.0.iter().find(|(source, _)| source.id == id)
    }
}
