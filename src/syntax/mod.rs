//! Text to tree: every line of a file as what it was written to be, junk included.
//!
//! Owns the grammar and the tree. Knows no ingredients, no verbs and no arithmetic: a line is read, not
//! judged. Parsing never fails; what cannot be read is kept as junk and reported.
//!
//! [`parse`] cuts the text into lines (`lines`), decides where each belongs (`file`, `columns`, `indent`,
//! `block`), gives it alone to one rule of the grammar (`entry`, `grammar`), and lowers what the rule found
//! (`formula`, `step`, `header`, …). `problems` words what is wrong with a line that fits no rule.

mod amounts;
mod block;
mod bytes;
mod columns;
mod counts;
mod dump;
mod entry;
mod file;
mod formula;
mod grammar;
mod header;
mod heat;
mod indent;
mod keys;
mod lengths;
mod letters;
pub mod limits;
mod lines;
mod nesting;
mod numbers;
mod plain;
mod problems;
mod property;
mod reader;
mod readers;
mod record;
mod step;
mod times;
pub mod tree;
mod values;
mod words;

pub use bytes::{MOST_BYTES, decode};
pub use dump::dump;
pub use readers::{
    OVERNIGHT, read_entry, read_length, read_number, read_percent, read_quantity, read_temperature,
    read_time, read_volume, read_weight,
};
pub use values::{MakesSpec, TinShape, TinSpec, parse_makes, parse_tin};

use crate::diag::Report;
use crate::source::Source;
use tree::{FileKind, Tree};

/// Reads a file; what cannot be read is kept as junk and reported.
#[must_use]
pub fn parse(source: &Source) -> (Tree, Report) {
    let mut report = Report::new();
    let kind = kind_of(source);
    let mut file = file::File::new(source, kind, &mut report);
    for line in lines::split(&source.text) {
        file.push_line(line);
    }
    let items = file.finish();
    let tree = Tree {
        source: source.id,
        kind,
        items,
    };
    (tree, report)
}

/// Tells a bakehouse from a recipe: by the name of the file, or by its first key.
fn kind_of(source: &Source) -> FileKind {
    let file_name = source.name.rsplit(['/', '\\']).next().unwrap_or_default();
    let first = lines::split(&source.text).find(|line| !line.text.is_empty() && !line.text.starts_with('#'));
    let first_key = first
        .and_then(|line| keys::before_colon(line.text))
        .unwrap_or_default();
    if file_name == "bakehouse.loaf" || first_key.eq_ignore_ascii_case("bakehouse") {
        FileKind::Bakehouse
    } else {
        FileKind::Recipe
    }
}
