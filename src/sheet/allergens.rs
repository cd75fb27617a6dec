//! Which allergens go into or onto the bread, as far as the ingredients are known.
//!
//! Owns no list of any law and no word on a card. What is not known is named as not checked, so that
//! silence never reads as "contains none".

use std::collections::BTreeSet;

use super::Allergens;
use super::walk::{ingredients_of, lines_of};
use crate::model::catalog::{Allergen, Tag};
use crate::model::recipe::{Line, Recipe, Thing};

/// Gathers the allergens of every line, unweighed amounts, fillings, toppings and starters included.
///
/// An ingredient that is only `as` another is not checked, and brings in what that other one contains: a
/// flour of one's own `as spelt flour` may well hold more than spelt.
pub(crate) fn allergens(recipe: &Recipe) -> Allergens {
    let mut contains: BTreeSet<Allergen> = BTreeSet::new();
    let mut not_checked: Vec<String> = Vec::new();
    for (line, _) in recipe.blocks.iter().flat_map(lines_of) {
        for ingredient in ingredients_of(line) {
            contains.extend(&ingredient.contains);
        }
        let name = &line.name.value;
        if is_unchecked(line) && !not_checked.contains(name) {
            not_checked.push(name.clone());
        }
    }
    Allergens {
        contains: contains.into_iter().collect(),
        not_checked,
    }
}

/// Says whether only the packet knows what a line contains.
fn is_unchecked(line: &Line) -> bool {
    match &line.thing {
        Thing::Unlisted { .. } => true,
        Thing::Ingredient(ingredient) => ingredient.tags.contains(&Tag::ReadPacket),
        Thing::Stage(_) | Thing::Mixture(_) => false,
    }
}
