//! Starter and old dough that no block makes: flour, water and salt as the bakehouse says.

use std::sync::Arc;

use crate::model::catalog::Ingredient;
use crate::model::place::Place;
use crate::model::recipe::{Mixture, Thing};
use crate::quantity::Ratio;
use crate::source::Spanned;

/// The bakehouse's starter, or one of the hydration that a line gives.
pub(super) fn starter(place: &Place, hydration: Option<&Spanned<Ratio>>) -> Thing {
    let spec = &place.starter;
    let water = hydration.map_or(&spec.hydration, |given| &given.value);
    mixture(
        true,
        vec![
            (Arc::clone(&spec.flour), Ratio::ONE),
            (table(place, "water"), water.clone()),
        ],
    )
}

/// The bakehouse's old dough, or one of the hydration that a line gives.
pub(super) fn old_dough(place: &Place, hydration: Option<&Spanned<Ratio>>) -> Thing {
    let spec = &place.old_dough;
    let water = hydration.map_or(&spec.hydration, |given| &given.value);
    mixture(
        false,
        vec![
            (Arc::clone(&spec.flour), Ratio::ONE),
            (table(place, "water"), water.clone()),
            (table(place, "fine salt"), spec.salt.clone()),
        ],
    )
}

/// Turns parts on one of flour into shares of the whole.
fn mixture(is_starter: bool, mut parts: Vec<(Arc<Ingredient>, Ratio)>) -> Thing {
    parts.retain(|(_, part)| !part.is_zero());
    let whole: Ratio = parts.iter().map(|(_, part)| part).sum();
    for (_, part) in &mut parts {
        *part = part.checked_div(&whole).unwrap_or_default();
    }
    Thing::Mixture(Mixture { is_starter, parts })
}

/// Finds an ingredient that every table has; one without it still knows the name.
fn table(place: &Place, name: &str) -> Arc<Ingredient> {
    place
        .catalog
        .lookup(name)
        .map_or_else(|| Arc::new(Ingredient::unknown(name)), Arc::clone)
}
