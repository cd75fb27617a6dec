//! Recipes for the bench, each a little different, written by number.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Writes a folder of so many recipes with a bakehouse; one that is there already is kept.
pub(crate) fn write_book(folder: &Path, count: usize) -> io::Result<PathBuf> {
    fs::create_dir_all(folder)?;
    fs::write(
        folder.join("bakehouse.loaf"),
        "bakehouse: Oxlip Row\nroom:      20 C\nfridge:    4 C\nasleep:    22:30-05:30\nscales:    1 g, 0.1 g under 100 g\n",
    )?;
    for number in 0..count {
        fs::write(folder.join(format!("bread-{number:05}.loaf")), recipe(number))?;
    }
    Ok(folder.to_path_buf())
}

/// The recipe with words in capitals where its numbers go.
const BREAD: &str = include_str!("bread.loaf.txt");

/// Writes one recipe of about 2 KB: a levain, a soaker, a dough, steps and prose.
pub(crate) fn recipe(number: usize) -> String {
    let rye = 5 + number % 20;
    [
        ("NUMBER", number),
        ("WEIGHT", 600 + number % 7 * 50),
        ("WATER", 60 + number % 15),
        ("WHITE", 100 - rye),
        ("RYE", rye),
        ("SALT", 18 + number % 5),
    ]
    .into_iter()
    .fold(BREAD.to_owned(), |text, (word, value)| {
        text.replace(word, &value.to_string())
    })
}
