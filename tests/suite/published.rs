//! Figures that others have published, put in as recipes and read off the sheet.
//!
//! Each test names the row of the collection that the project was checked against and where the figure comes
//! from. A source marked "from memory, not looked up" was not seen when the collection was made. `T!` marks a
//! plausible wrong answer that must not be given. The recipes are in `tests/cases/published`, and the Python
//! tests compute the same ones with other libraries.

mod altitude;
mod formulas;
mod losses;
mod papers;
mod stages;
mod tins;
mod units;
mod warmth;
mod water;
