//! The door to the two table files: CSV text in, cells by column name out. Gives no meaning to a cell.

use std::sync::Arc;

use csv::StringRecord;

/// The ingredient table, as it stands in the source tree.
pub(super) const INGREDIENTS: &str = include_str!("../ingredients.csv");

/// The allergen lists, as they stand in the source tree.
pub(super) const ALLERGENS: &str = include_str!("../allergens.csv");

/// One row of a table.
#[derive(Clone, Debug)]
pub(super) struct Row {
    header: Arc<StringRecord>,
    cells: StringRecord,
}

impl Row {
    /// Gives the text of a cell; a column that the table lacks reads as blank.
    pub(super) fn cell(&self, column: &str) -> &str {
        self.header
            .iter()
            .position(|name| name == column)
            .and_then(|place| self.cells.get(place))
            .unwrap_or_default()
    }
}

/// Reads the rows of a table. A malformed row is left out; the test suite holds the shipped files to none.
pub(super) fn rows(text: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let Ok(header) = reader.headers().cloned().map(Arc::new) else {
        return Vec::new();
    };
    reader
        .into_records()
        .filter_map(Result::ok)
        .map(|cells| Row {
            header: Arc::clone(&header),
            cells,
        })
        .collect()
}
