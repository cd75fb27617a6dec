//! Bread formulas in plain text: parsed, computed exactly, shown as cards.
//!
//! Data flows one way, and the modules stand in that order: text is read into a [`source`], a source is
//! parsed into a tree ([`syntax`]), a tree is checked into a recipe ([`model`]), a recipe is computed into
//! a sheet, a sheet is put into words as a view, and a view is dressed as bytes.

pub mod cli;
pub mod compare;
pub mod diag;
pub mod disk;
pub mod format;
pub mod model;
pub mod pipeline;
pub mod quantity;
pub mod render;
pub mod sheet;
pub mod source;
pub mod syntax;
pub mod view;
pub mod watch;
