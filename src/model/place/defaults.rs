//! What is taken for true of a place that no bakehouse file describes.
//!
//! The temperatures, the scales, the starter and the old dough are the language's own defaults. Preheating
//! and the hours of sleep are common practice, no source: a home oven with a stone takes three quarters of
//! an hour, and most people sleep from half past ten to six.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::{OldDoughSpec, Place, Scales, StarterSpec};
use crate::model::catalog::{self, Catalog, Ingredient};
use crate::quantity::{Celsius, ClockTime, Elapsed, Ratio};

/// The flour of a starter and of an old dough, where none is named.
const FLOUR: &str = "bread flour";

/// A place of which nobody has said anything.
pub(super) fn place() -> Place {
    let catalog = Arc::clone(catalog::builtin());
    let temperatures = [("room", 21), ("fridge", 4), ("proofer", 27), ("tap", 15)];
    Place {
        name: None,
        temperatures: temperatures
            .map(|(name, degrees)| (name.to_owned(), Celsius::whole(degrees)))
            .into_iter()
            .collect::<BTreeMap<_, _>>(),
        altitude_m: Ratio::ZERO,
        asleep: ClockTime::new(22, 30).zip(ClockTime::new(6, 0)),
        preheat: Elapsed::minutes(45),
        scales: Scales {
            step: Ratio::ONE,
            finer: Vec::new(),
        },
        starter: starter(&catalog),
        old_dough: old_dough(&catalog),
        friction: Vec::new(),
        currency: None,
        units: Vec::new(),
        paper: Vec::new(),
        bake_loss: None,
        author: None,
        language: None,
        catalog,
        given: BTreeSet::new(),
        files: Vec::new(),
    }
}

/// A starter of as much water as flour.
pub(super) fn starter(catalog: &Catalog) -> StarterSpec {
    StarterSpec {
        hydration: Ratio::ONE,
        flour: flour(catalog),
    }
}

/// A piece of a plain white dough.
pub(super) fn old_dough(catalog: &Catalog) -> OldDoughSpec {
    OldDoughSpec {
        hydration: share(65),
        salt: share(2),
        flour: flour(catalog),
    }
}

fn share(percent: i64) -> Ratio {
    &Ratio::whole(percent) / &Ratio::HUNDRED
}

/// The table's bread flour, as the bakehouse may have changed it.
fn flour(catalog: &Catalog) -> Arc<Ingredient> {
    catalog.lookup(FLOUR).map_or_else(
        || {
            let mut flour = Ingredient::unknown(FLOUR);
            flour.is_flour = true;
            Arc::new(flour)
        },
        Arc::clone,
    )
}
