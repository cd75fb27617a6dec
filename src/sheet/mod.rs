//! Recipe to sheet: settled numbers.
//!
//! Owns the arithmetic of the bench: sizes, shares, what the dough holds, when each step falls. Knows
//! nothing of words on a card or of how a number is laid out.

mod physics;
mod schedule;
mod types;

pub use types::{
    Allergens, Caution, Figures, FlourBasis, Lane, Pieces, PlacedStep, Request, Role, Schedule, Sheet,
    SheetBlock, SheetLine, SizeRequest, Source, TinFit, TotalLine, TotalPart,
};
