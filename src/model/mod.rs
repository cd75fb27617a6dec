//! Tree to recipe: checked meaning.
//!
//! Owns what words mean: ingredients, stages, verbs, places, keys. Knows no weights that have to be worked
//! out; that is the business of the sheet.

pub mod catalog;
pub mod place;
pub mod recipe;
pub mod verbs;
