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

use crate::source::{Source, SourceId};

/// Finds the source that a span lies in.
fn source_of(sources: &[Source], id: SourceId) -> Option<&Source> {
    sources.iter().find(|source| source.id == id)
}
