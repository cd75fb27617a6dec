//! `format`: the one form of a recipe, and what happens to its file.

mod files;
mod laws;
mod words;
pub(crate) mod writer;
