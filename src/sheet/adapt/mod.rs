//! A recipe changed at the bench so that the bread stays: another starter, another ingredient; and where a
//! figure of the bread comes from.
//!
//! Owns what may be wished for and what the answers hold. Works on weights that are settled: what is not asked
//! for stays to the gram. Each kind of answer has a file of its own; `draft` holds the recipe while it changes.

mod balance;
mod draft;
mod rule;
mod starter;
mod swap;
mod sweetness;
mod why;

pub use rule::SwapRule;
pub use starter::{Excess, StarterAnswer};
pub use swap::{SwapAnswer, SwapNote};
pub use why::{Why, WhyFigure, WhyRow};

pub(super) use rule::strength;
pub(super) use why::of_held as why;

use draft::Draft;

use super::types::Figures;
use super::worked::Worked;
use crate::diag::Report;
use crate::model::recipe::Recipe;
use crate::quantity::{Grams, Ratio};
use crate::source::Spanned;

/// What is wished for besides a size.
#[derive(Clone, Debug, Default)]
pub struct Wishes {
    /// Water on flour of the starter that is at hand, as a fraction of one; above nought.
    pub starter: Option<Spanned<Ratio>>,
    /// Ingredients in place of others.
    pub swaps: Vec<Swap>,
    /// A figure whose origin is asked for.
    pub why: Option<WhyFigure>,
}

/// An ingredient in place of another, as they were named.
#[derive(Clone, Debug)]
pub struct Swap {
    /// What goes in.
    pub new: Spanned<String>,
    /// What it takes the place of.
    pub old: Spanned<String>,
}

/// The answers to wishes; empty where nothing was wished for.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    /// What another starter changes.
    pub starter: Option<StarterAnswer>,
    /// What each swap changes, in the order in which they were wished for.
    pub swaps: Vec<SwapAnswer>,
    /// Where a figure comes from.
    pub why: Option<Why>,
}

/// A line that changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What the block is called.
    pub block: String,
    /// The line's name before; nothing for a line that is new.
    pub old: Option<String>,
    /// Its name after.
    pub new: String,
    /// What it weighed; nought for a line that is new.
    pub before: Grams,
    /// What it weighs.
    pub after: Grams,
}

/// A figure of the bread that an answer speaks of; shares are fractions of one of all flour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shift {
    /// Which one.
    pub figure: Figure,
    /// What it was.
    pub before: Ratio,
    /// What it is.
    pub after: Ratio,
}

/// The figures that an answer looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Water of what is wet.
    Hydration,
    /// Salt.
    Salt,
    /// Sugars of what is no flour.
    Sugar,
    /// Fat of what is no flour.
    Fat,
    /// Egg as weighed.
    Egg,
    /// Milk solids without their fat.
    MilkSolids,
    /// Flour in preferments.
    Prefermented,
    /// Wholegrain flours.
    Wholegrain,
    /// Rye flours.
    Rye,
}

impl Wishes {
    /// Says whether the recipe itself is to be changed.
    #[must_use]
    pub fn change_something(&self) -> bool {
        self.starter.is_some() || !self.swaps.is_empty()
    }

    /// Says whether nothing is wished for.
    #[must_use]
    pub fn are_none(&self) -> bool {
        !self.change_something() && self.why.is_none()
    }
}

/// Carries wishes out on a recipe whose weights are settled; reports those that cannot be had, at the words that
/// name them.
pub(super) fn carry_out(
    recipe: &mut Recipe,
    worked: &mut Worked,
    wishes: &Wishes,
    report: &mut Report,
) -> Answers {
    let mut answers = Answers::default();
    if let Some(hydration) = &wishes.starter {
        let mut draft = Draft::new(recipe, worked);
        if let Some(mut answer) = starter::change(&mut draft, hydration, report) {
            (answer.changes, answer.shifts) = draft.finish();
            answers.starter = Some(answer);
        }
    }
    for wish in &wishes.swaps {
        let mut draft = Draft::new(recipe, worked);
        if let Some(mut answer) = swap::change(&mut draft, wish, report) {
            (answer.changes, answer.shifts) = draft.finish();
            answers.swaps.push(answer);
        }
    }
    answers
}

impl Change {
    /// Says whether anything is other than it was.
    fn is_one(&self) -> bool {
        self.before != self.after || self.old.as_ref() != Some(&self.new)
    }
}

impl Shift {
    /// Lists the figures that differ by a twentieth of a hundredth of the flour or more.
    fn between(before: &Figures, after: &Figures) -> Vec<Self> {
        let least = Ratio::fraction(5, 10_000).unwrap_or_default();
        let of = |figure: Figure| {
            let shift = Self {
                before: figure.of(before).cloned().unwrap_or_default(),
                after: figure.of(after).cloned().unwrap_or_default(),
                figure,
            };
            ((&shift.after - &shift.before).abs() >= least).then_some(shift)
        };
        Figure::ALL.into_iter().filter_map(of).collect()
    }
}

impl Figure {
    const ALL: [Self; 9] = [
        Self::Hydration,
        Self::Salt,
        Self::Sugar,
        Self::Fat,
        Self::Egg,
        Self::MilkSolids,
        Self::Prefermented,
        Self::Wholegrain,
        Self::Rye,
    ];

    const fn of(self, figures: &Figures) -> Option<&Ratio> {
        match self {
            Self::Hydration => figures.hydration.as_ref(),
            Self::Salt => figures.salt.as_ref(),
            Self::Sugar => figures.sugar.as_ref(),
            Self::Fat => figures.fat.as_ref(),
            Self::Egg => figures.egg.as_ref(),
            Self::MilkSolids => figures.milk_solids.as_ref(),
            Self::Prefermented => figures.prefermented.as_ref(),
            Self::Wholegrain => figures.wholegrain.as_ref(),
            Self::Rye => figures.rye.as_ref(),
        }
    }
}
