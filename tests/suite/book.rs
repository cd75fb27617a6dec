//! The book of readers: pages that name each other, an index that finds, data for machines, and nothing of a
//! recipe that is more than text.

mod hostile;
mod pages;
mod structured;

use loafwright::pipeline::Compiled;
use loafwright::view::{Around, Readable, Reader, reader};

/// Makes the reader's page of a recipe that compiles.
fn reader_of(compiled: &Compiled, around: Around) -> Option<Reader> {
    let (recipe, sheet) = compiled.plain.as_ref()?;
    let of = Readable {
        recipe,
        sheet,
        variations: &compiled.variations,
        records: &compiled.records,
    };
    Some(reader(of, around))
}
