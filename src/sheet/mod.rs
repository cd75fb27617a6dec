//! Recipe to sheet: settled numbers.
//!
//! Owns the arithmetic of the bench: sizes, shares, what the dough holds, when each step falls. Knows
//! nothing of words on a card or of how a number is laid out.

mod adapt;
mod allergens;
mod assumed;
mod blocks;
mod bounds;
mod cautions;
mod compute;
mod content;
mod faults;
mod figures;
mod fit;
mod forms;
mod further;
mod holding;
mod linear;
mod measured;
mod physics;
mod portion;
mod reach;
mod request;
mod rounding;
mod schedule;
mod solve;
mod types;
mod usual;
mod walk;
mod warmth;
mod weighing;
mod worked;

pub use adapt::{
    Answers, Change, Excess, Figure, Shift, StarterAnswer, Swap, SwapAnswer, SwapNote, SwapRule, Why,
    WhyFigure, WhyRow, Wishes,
};
pub(crate) use cautions::report_variations;
pub use cautions::{CAUTION_RULES, CautionRule, MUCH_CASSIA};
pub use compute::{compute, compute_with};
pub use fit::{FilledBy, Fit, FittedTin, TinBand, TinBread};
pub use further::further_faults;
pub use measured::check_records;
pub use types::{
    Allergens, Caution, Figures, FlourBasis, Lane, Pieces, PlacedStep, Request, Role, Schedule, Sheet,
    SheetBlock, SheetLine, SizeRequest, Source, TinFit, TotalLine, TotalPart,
};
pub use usual::{Usual, UsualFigure, UsualRow};
pub use warmth::{
    Advice, DoneSort, Doneness, Friction, HOTTEST_WATER, Leaven, NoEstimate, RecordFindings, ScaldHeat,
    Starch, Tempered, TimeEstimate, TimedStep, Timing, WarmFrom, WarmPart, Warmth, WaterPlan, work_back,
};
pub use weighing::{Solution, TooSmall};
