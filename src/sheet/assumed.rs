//! The defaults that what is shown of a bread rests on, as the keys that would say otherwise: `bake loss`, `room`.
//! Owns which of them were made use of; what they say is the bakehouse's, and how they are written the view's.

use std::collections::BTreeSet;

use super::forms;
use super::schedule::is_preheat;
use super::types::Sheet;
use crate::model::recipe::{BlockId, Recipe, Thing};
use crate::quantity::Ratio;

/// Every key that may stand for a default, in the order in which a card names them. `asleep`, papers and the like bear
/// on no figure, and friction says of itself where it comes from.
const KEYS: &[&str] = &[
    "bake loss",
    "room",
    "fridge",
    "proofer",
    "tap",
    "altitude",
    "preheat",
    "scales",
    "starter",
    "old dough",
];

/// Names the defaults that were made use of; none that a bakehouse or the recipe gives. The recipe is the one as
/// written, not moved into another room.
pub(super) fn defaults(recipe: &Recipe, sheet: &Sheet) -> Vec<String> {
    let used = Rests { recipe, sheet }.used();
    let is_default = |key: &str| match key {
        "bake loss" => sheet.pieces.bake_loss_assumed,
        _ => recipe.place.is_default(key),
    };
    let keys = KEYS.iter().filter(|key| used.contains(**key) && is_default(key));
    keys.map(|key| (*key).to_owned()).collect()
}

/// A recipe and what was worked out of it.
#[derive(Clone, Copy)]
struct Rests<'a> {
    recipe: &'a Recipe,
    sheet: &'a Sheet,
}

impl<'a> Rests<'a> {
    /// Gives the keys that something shown rests on, whoever says what they stand for.
    fn used(self) -> BTreeSet<&'a str> {
        let Sheet { warmth, pieces, .. } = self.sheet;
        let mut used: BTreeSet<&'a str> = warmth.rests_on.iter().map(String::as_str).collect();
        used.extend(self.places());
        used.extend(self.mixtures());
        let has = [
            // What a piece weighs baked is told where it is known what the pieces are.
            ("bake loss", pieces.said),
            // Times in another room, or with another amount of leaven, are led over from those of the room as written.
            ("room", warmth.timing.is_some() || warmth.leaven.is_some()),
            (
                "altitude",
                warmth.done.as_ref().is_some_and(|done| done.is_told(pieces)),
            ),
            ("preheat", self.is_preheated()),
            // What scales show moves every weight a little; it is told of where that matters.
            ("scales", !self.sheet.too_small.is_empty()),
        ];
        used.extend(
            has.into_iter()
                .filter(|(_, is_used)| *is_used)
                .map(|(key, _)| key),
        );
        used
    }

    /// Gives the places that steps and lines stand at: a card shows their degrees.
    fn places(self) -> impl Iterator<Item = &'a str> {
        let lines = self.sheet.blocks.iter().flat_map(|block| &block.lines);
        let steps = self.sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps);
        let of_lines = lines.map(|line| line.at.as_ref());
        let of_steps = steps.flat_map(|placed| [placed.step.at.as_ref(), placed.step.to.as_ref()]);
        let specs = of_lines.chain(of_steps).flatten();
        specs.filter_map(|spec| spec.place.as_deref())
    }

    /// Gives the starter and old dough that are poured somewhere as they are kept; a line may state its own hydration.
    fn mixtures(self) -> impl Iterator<Item = &'a str> {
        let is_made = move |id: BlockId| self.sheet.blocks.iter().any(|block| block.id == id);
        let blocks = self.recipe.blocks.iter().filter(move |block| is_made(block.id));
        let lines = blocks.flat_map(forms::lines);
        let mixtures = lines.filter_map(|(_, line)| match &line.thing {
            Thing::Mixture(mixture) => Some(mixture),
            _ => None,
        });
        mixtures.filter_map(move |mixture| {
            let place = &self.recipe.place;
            let (key, beside_flour) = if mixture.is_starter {
                ("starter", place.starter.hydration.clone())
            } else {
                let old_dough = &place.old_dough;
                ("old dough", &old_dough.hydration + &old_dough.salt)
            };
            let (_, flour) = mixture.parts.first()?;
            (&(&Ratio::ONE + &beside_flour) * flour == Ratio::ONE).then_some(key)
        })
    }

    /// Says whether the time line lights the oven for as long as the place says: the recipe has no line for it.
    fn is_preheated(self) -> bool {
        let mut steps = self.sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps);
        !self.sheet.schedule.preheats.is_empty() && !steps.any(|placed| is_preheat(&placed.step))
    }
}
