//! Text to tree: every line of a file as what it was written to be, junk included.
//!
//! Owns the grammar and the tree. Knows no ingredients, no verbs and no arithmetic: a line is read, not
//! judged. Parsing never fails; what cannot be read is kept as junk and reported.

pub mod tree;
