//! The door to the two table files: CSV text in, cells by column name out. Gives no meaning to a cell.
//!
//! A row is one line of its file, and its first two cells hold neither commas nor quotes (the test suite
//! holds the files to both): so a table can be indexed by its first cells without reading all the rest,
//! which a run that looks up a dozen names has no time for.

use csv::{ReaderBuilder, StringRecord};

/// The ingredient table, as it stands in the source tree.
pub(super) const INGREDIENTS: &str = include_str!("../ingredients.csv");

/// The allergen lists, as they stand in the source tree.
pub(super) const ALLERGENS: &str = include_str!("../allergens.csv");

/// One row of a table, not yet read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    header: &'static str,
    line: &'static str,
}

/// One row of a table with its cells taken apart.
#[derive(Debug)]
pub(super) struct Record {
    header: StringRecord,
    cells: StringRecord,
}

/// Gives the rows of a table.
pub(super) fn rows(text: &'static str) -> impl Iterator<Item = Row> {
    let mut lines = text.lines();
    let header = lines.next().unwrap_or_default();
    lines.map(move |line| Row { header, line })
}

impl Row {
    /// Gives the first two cells as they stand.
    pub(super) fn leading(self) -> (&'static str, &'static str) {
        let mut cells = self.line.splitn(3, ',');
        (cells.next().unwrap_or_default(), cells.next().unwrap_or_default())
    }

    /// Takes the row apart; a malformed one reads as blank cells, which no ingredient is made of.
    pub(super) fn read(self) -> Record {
        Record {
            header: cells(self.header),
            cells: cells(self.line),
        }
    }
}

fn cells(line: &str) -> StringRecord {
    // Setting up a reader takes longer than a row does, and only a row with quotes needs more than commas.
    if !line.contains('"') {
        return line.split(',').collect();
    }
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .from_reader(line.as_bytes());
    reader.records().next().and_then(Result::ok).unwrap_or_default()
}

impl Record {
    /// Gives the text of a cell; a column that the table lacks reads as blank.
    pub(super) fn cell(&self, column: &str) -> &str {
        let place = self.header.iter().position(|name| name == column);
        place.and_then(|place| self.cells.get(place)).unwrap_or_default()
    }
}
