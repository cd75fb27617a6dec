//! When the oven is lit. Preheating runs beside the dough's steps: it takes no time of its own and does not
//! make the bake any longer, however short the rest of it is.

use crate::model::recipe::{Recipe, Step};
use crate::model::verbs::Purpose;
use crate::quantity::Elapsed;
use crate::sheet::{Lane, PlacedStep};

/// Says whether a step heats the oven.
pub(in crate::sheet) fn is_preheat(step: &Step) -> bool {
    step.verb.is_some_and(|verb| verb.purpose == Purpose::Preheat)
}

/// Finds when the oven has to be lit, in the order of time, and moves the recipe's own `preheat` lines there.
pub(super) fn preheats(recipe: &Recipe, lanes: &mut [Lane]) -> Vec<(Elapsed, Elapsed)> {
    let mut lit: Vec<(Elapsed, Elapsed)> = lanes.iter_mut().flat_map(move_own_lines).collect();
    if lit.is_empty() {
        lit = from_the_bakehouse(recipe.place.preheat, lanes);
    }
    lit.sort_unstable();
    lit
}

/// Moves the `preheat` lines of a lane so that each ends where the next bake begins.
fn move_own_lines(lane: &mut Lane) -> Vec<(Elapsed, Elapsed)> {
    let mut needed_at = None;
    let mut lit = Vec::new();
    for placed in lane.steps.iter_mut().rev() {
        if is_preheat(&placed.step) {
            let length = placed.step.takes.middle();
            let end = needed_at.unwrap_or(placed.start);
            placed.end = end;
            placed.start = end.less(length);
            lit.push((placed.start, length));
        } else if placed.purpose == Some(Purpose::Bake) {
            needed_at = Some(placed.start);
        }
    }
    lit
}

/// Lights the oven ahead of each bake. Nobody lets it go cold between two bakes that lie closer together
/// than the time it takes to heat it.
fn from_the_bakehouse(length: Elapsed, lanes: &[Lane]) -> Vec<(Elapsed, Elapsed)> {
    let mut bakes: Vec<&PlacedStep> = lanes
        .iter()
        .flat_map(|lane| &lane.steps)
        .filter(|placed| placed.purpose == Some(Purpose::Bake))
        .collect();
    bakes.sort_by_key(|placed| placed.start);
    let mut hot_until: Option<Elapsed> = None;
    let mut lit = Vec::new();
    for bake in bakes {
        if hot_until.is_none_or(|end| bake.start.less(end) > length) {
            lit.push((bake.start.less(length), length));
        }
        hot_until = hot_until.max(Some(bake.end));
    }
    lit
}
