//! Weights as the bakehouse's scales show them, so that the totals still hold.

use std::collections::BTreeMap;

use crate::model::place::Scales;
use crate::quantity::{Grams, Ratio, share_out};

/// Rounds weights, each to the scale that it is weighed on, so that those of one scale keep their sum.
pub(super) fn to_scales(weights: &[Ratio], scales: &Scales) -> Vec<Ratio> {
    let mut by_step: BTreeMap<Ratio, Vec<usize>> = BTreeMap::new();
    for (at, weight) in weights.iter().enumerate() {
        let step = scales.step_for(&Grams(weight.clone())).clone();
        by_step.entry(step).or_default().push(at);
    }
    let mut shown = weights.to_vec();
    for (step, places) in by_step {
        let exact: Vec<Ratio> = places.iter().filter_map(|at| weights.get(*at).cloned()).collect();
        for (at, rounded) in places.iter().zip(share_out(&exact, &step)) {
            if let Some(place) = shown.get_mut(*at) {
                *place = rounded;
            }
        }
    }
    shown
}
