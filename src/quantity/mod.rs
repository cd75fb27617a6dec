//! Numbers with meaning: weights, volumes, temperatures, times, and the exact arithmetic below them.
//!
//! Owns units and their exact factors. Knows neither the language nor how a number is laid out on a card.

mod mass;
mod ratio;
mod round;
mod temperature;
mod time;
mod volume;

pub use mass::{Grams, WeightUnit};
pub use ratio::Ratio;
pub use round::{Part, round_to_step, share_out, share_out_whole};
pub use temperature::{Celsius, CelsiusRange, DegreesApart};
pub use time::{ClockTime, Elapsed, ElapsedRange};
pub use volume::{Millilitres, VolumeUnit};
