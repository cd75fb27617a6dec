//! Sheet to view: what is shown, in words and formatted numbers.

pub mod document;
