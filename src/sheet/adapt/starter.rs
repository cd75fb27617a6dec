//! A starter that is runnier or stiffer than the formula has it: its weight stays, and flour and water of the
//! dough are corrected, so that the bread has the flour and the water that it should have.

use std::sync::Arc;

use super::balance::{Balanced, balance, take};
use super::draft::{Draft, Place};
use super::{Change, Shift};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::Ingredient;
use crate::model::recipe::{Mixture, Thing};
use crate::quantity::{Grams, Ratio};
use crate::sheet::figures;
use crate::source::Spanned;

/// What another starter changes.
#[derive(Clone, Debug)]
pub struct StarterAnswer {
    /// Water on flour of the starter that the formula counts on, as a fraction of one.
    pub formula: Ratio,
    /// That of the starter at hand.
    pub at_hand: Ratio,
    /// The lines that change.
    pub changes: Vec<Change>,
    /// The figures that change.
    pub shifts: Vec<Shift>,
    /// Water that could not be taken out, because there is no more of it to take.
    pub excess: Option<Excess>,
    /// Flours that change for the starter's own flour: its name, and that of the line.
    pub other_flour: Option<(String, String)>,
    /// Whether the starter only seeds stages and is taken out again, so that nothing changes.
    pub only_seeds: bool,
}

/// Water that the dough cannot give up.
#[derive(Clone, Debug)]
pub struct Excess {
    /// How much there is too much of, in the dough.
    pub water: Grams,
    /// Another liquid that could be held back in its place, and how much of it.
    pub hold_back: Option<(String, Grams)>,
    /// So much less starter would keep the bread,
    pub less_starter: Grams,
    /// with so much more flour.
    pub more_flour: Grams,
}

/// Puts the starter at hand in the place of the formula's.
pub(super) fn change(
    draft: &mut Draft<'_>,
    hydration: &Spanned<Ratio>,
    report: &mut Report,
) -> Option<StarterAnswer> {
    let is_starter = |place: &Place| matches!(draft.line(*place).map(|line| &line.thing), Some(Thing::Mixture(mixture)) if mixture.is_starter);
    let all: Vec<Place> = (0..draft.recipe.blocks.len())
        .flat_map(|at| draft.places_in(crate::model::recipe::BlockId(at)))
        .filter(is_starter)
        .collect();
    let Some(first) = all.first().copied() else {
        report.push(
            Diagnostic::new(
                Code::WishRefused,
                hydration.span,
                "this recipe puts no starter in",
            )
            .help("a stage of its own has the water that its lines say; change them to change it"),
        );
        return None;
    };
    let only_seeds = draft.worked.takes_seed_out;
    let mut state = State {
        at_hand: hydration.value.clone(),
        formula: mixture_at(draft, first).map_or(Ratio::ONE, hydration_of),
        excess: Ratio::ZERO,
        other_flour: None,
    };
    // From the last line to the first: a line that is put in moves those behind it.
    for place in all.into_iter().rev() {
        state.put_in(draft, place, only_seeds);
    }
    let excess = state.excess.is_positive().then(|| state.excess(draft));
    Some(StarterAnswer {
        formula: state.formula,
        at_hand: state.at_hand,
        excess,
        other_flour: state.other_flour,
        only_seeds,
        changes: Vec::new(),
        shifts: Vec::new(),
    })
}

/// What is found on the way from line to line.
struct State {
    formula: Ratio,
    at_hand: Ratio,
    /// Water that could not be taken out, in the dough.
    excess: Ratio,
    other_flour: Option<(String, String)>,
}

impl State {
    /// Puts the starter at hand into a line, and balances what it brings.
    fn put_in(&mut self, draft: &mut Draft<'_>, place: Place, only_seeds: bool) {
        let Some(mixture) = mixture_at(draft, place) else {
            return;
        };
        let before = water_share(mixture);
        let new = with_hydration(mixture, &self.at_hand);
        let more_water = &draft.weight(place) * &(&water_share(&new) - &before);
        let flour = flour_of(&new);
        draft.set_thing(place, Thing::Mixture(new));
        if only_seeds || more_water.is_zero() {
            return;
        }
        let left = balance(draft, place, Balanced::Water, &-&more_water);
        self.excess = &self.excess + &(&left * &draft.reach(place.block));
        if let Some(flour) = flour {
            self.balance_flour(draft, place, &flour, &more_water);
        }
    }

    /// Puts flour in for that which a runnier starter lacks, or takes it out, in the block itself and else in the
    /// dough: the starter's own flour where there is a line of it, else the heaviest one.
    fn balance_flour(&mut self, draft: &mut Draft<'_>, near: Place, flour: &Arc<Ingredient>, grams: &Ratio) {
        let own = flours(draft, near.block, flour);
        let (lines, grams) = if own.is_empty() {
            let main = draft.recipe.main;
            (flours(draft, main, flour), grams * &draft.reach(near.block))
        } else {
            (own, grams.clone())
        };
        let Some(first) = lines.first().copied() else {
            return;
        };
        if draft
            .ingredient(first)
            .is_some_and(|found| found.name != flour.name)
        {
            let line = draft.line(first).map(|line| line.name.value.clone());
            self.other_flour = line.map(|line| (flour.name.clone(), line));
        }
        if grams.is_positive() {
            let weight = &draft.weight(first) + &grams;
            draft.set(first, weight);
        } else {
            take(draft, &lines, &grams.abs());
        }
    }

    /// Says what could be held back where the water is not there to be taken.
    fn excess(&self, draft: &Draft<'_>) -> Excess {
        let share = self.at_hand.checked_div(&(&Ratio::ONE + &self.at_hand));
        let share = share.unwrap_or(Ratio::ONE);
        let less = self.excess.checked_div(&share).unwrap_or_default();
        let liquids = draft
            .places_in(draft.recipe.main)
            .into_iter()
            .filter_map(|place| {
                let water = &figures::wet_water(draft.ingredient(place)?) / &Ratio::HUNDRED;
                let enough = self.excess.checked_div(&water)?;
                let name = draft.line(place)?.name.value.clone();
                (enough <= draft.weight(place)).then_some((name, Grams(enough), water))
            });
        let wettest = liquids.max_by(|left, right| left.2.cmp(&right.2));
        Excess {
            water: Grams(self.excess.clone()),
            hold_back: wettest.map(|(name, grams, _)| (name, grams)),
            more_flour: Grams(&less * &(&Ratio::ONE - &share)),
            less_starter: Grams(less),
        }
    }
}

/// Lists the flour lines of a block, those of a flour first, else the heaviest ones.
fn flours(draft: &Draft<'_>, block: crate::model::recipe::BlockId, flour: &Ingredient) -> Vec<Place> {
    let mut lines: Vec<Place> = draft.places_in(block);
    lines.retain(|place| draft.ingredient(*place).is_some_and(|found| found.is_flour));
    lines.sort_by_key(|place| {
        let is_other = draft
            .ingredient(*place)
            .is_none_or(|found| found.name != flour.name);
        (is_other, std::cmp::Reverse(draft.weight(*place)))
    });
    lines
}

fn mixture_at<'draft>(draft: &'draft Draft<'_>, place: Place) -> Option<&'draft Mixture> {
    match &draft.line(place)?.thing {
        Thing::Mixture(mixture) if mixture.is_starter => Some(mixture),
        _ => None,
    }
}

fn flour_of(mixture: &Mixture) -> Option<Arc<Ingredient>> {
    let mut flours = mixture.parts.iter().filter(|(part, _)| part.is_flour);
    flours.next().map(|(flour, _)| Arc::clone(flour))
}

/// Gives the part of a starter that is no flour, as a fraction of one.
fn water_share(mixture: &Mixture) -> Ratio {
    let wet = mixture.parts.iter().filter(|(part, _)| !part.is_flour);
    wet.map(|(_, share)| share).sum()
}

/// Gives the water on the flour of a starter, as a fraction of one.
fn hydration_of(mixture: &Mixture) -> Ratio {
    let water = water_share(mixture);
    let flour = &Ratio::ONE - &water;
    water.checked_div(&flour).unwrap_or_default()
}

/// Makes a starter of other hydration of the same flour.
fn with_hydration(mixture: &Mixture, hydration: &Ratio) -> Mixture {
    let whole = &Ratio::ONE + hydration;
    let part = |of: &Ratio| of.checked_div(&whole).unwrap_or_default();
    let parts = mixture.parts.iter().map(|(ingredient, _)| {
        let share = if ingredient.is_flour {
            part(&Ratio::ONE)
        } else {
            part(hydration)
        };
        (Arc::clone(ingredient), share)
    });
    Mixture {
        is_starter: true,
        parts: parts.collect(),
    }
}
