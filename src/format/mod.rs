//! Tree to text in the one form: the same file whoever typed it.
//!
//! Owns the look of a recipe file: columns, blank lines, one spelling of units. Changes no meaning, no
//! order and no comment. A file with an error is none of its business; its caller leaves that alone.

mod amount;
mod difference;
mod keys;
mod lines;
mod page;
mod prose;
mod steps;

pub use difference::difference;

use crate::source::Source;
use crate::syntax::tree::Tree;

/// Writes a tree in the one form; line ends and a byte order mark stay those of the source.
#[must_use]
pub fn format(source: &Source, tree: &Tree) -> String {
    let body = page::lay_out(&lines::of_tree(source, tree));
    let mark = if source.text.starts_with('\u{feff}') {
        "\u{feff}"
    } else {
        ""
    };
    let line_end = match source.text.find('\n') {
        Some(at) if source.text.get(..at).is_some_and(|before| before.ends_with('\r')) => "\r\n",
        _ => "\n",
    };
    let mut text = String::with_capacity(source.text.len() + 64);
    text.push_str(mark);
    for line in body {
        text.push_str(&line);
        text.push_str(line_end);
    }
    text
}
