//! What a word on a line means: a stage, a starter, an ingredient, or nothing that is known.
//!
//! Owns the order of that search. Says nothing to the baker; whoever asks does.

use std::sync::Arc;

use super::Scene;
use super::names::{Among, Found};
use super::preparations::is_preparation;
use crate::model::catalog::{BareWord, Ingredient, fold_name};
use crate::model::recipe::BlockId;

/// What a name means.
#[derive(Clone, Debug)]
pub(in crate::model) enum Meaning {
    /// An ingredient of the table or the bakehouse.
    Ingredient(Arc<Ingredient>),
    /// A block of the recipe.
    Stage(BlockId),
    /// The bakehouse's starter.
    Starter,
    /// The bakehouse's old dough.
    OldDough,
    /// A word for a family of ingredients.
    Bare(BareWord),
    /// A name that more than one block answers to.
    Ambiguous(Vec<BlockId>),
    /// Nothing that is known.
    Nothing,
}

/// A name taken apart.
#[derive(Clone, Debug)]
pub(in crate::model) struct Resolved<'name> {
    /// What it means.
    pub(in crate::model) meaning: Meaning,
    /// The words of preparation before it; empty without any.
    pub(in crate::model) preparation: &'name str,
    /// The name without them.
    pub(in crate::model) name: &'name str,
}

/// Finds out what a name means on a line of a block.
///
/// The whole name is tried first, then what is left when words of preparation are taken off its front.
pub(in crate::model) fn resolve<'name>(
    scene: &Scene<'_>,
    own: Option<BlockId>,
    written: &'name str,
) -> Resolved<'name> {
    let mut name = written;
    loop {
        let meaning = meaning_of(scene, own, name);
        let shorter = match name.split_once(' ') {
            Some((word, rest)) if is_preparation(word) => Some(rest),
            _ => None,
        };
        match (meaning, shorter) {
            (Meaning::Nothing, Some(rest)) => name = rest,
            (meaning, _) => {
                let taken = written.len() - name.len();
                return Resolved {
                    meaning,
                    preparation: written.get(..taken).unwrap_or_default().trim_end(),
                    name,
                };
            }
        }
    }
}

/// Inside its own block a word means the ingredient of that name; where there is none, it is a round.
fn meaning_of(scene: &Scene<'_>, own: Option<BlockId>, name: &str) -> Meaning {
    let folded = fold_name(name);
    let own_name = match scene.names.find(&folded, Among::Pourable) {
        Found::One(id) if Some(id) == own => Some(id),
        Found::One(id) => return Meaning::Stage(id),
        Found::Several(ids) => return Meaning::Ambiguous(ids),
        Found::Nothing => None,
    };
    if let Some(mixture) = mixture(&folded) {
        return mixture;
    }
    if let Some(found) = scene.place.catalog.lookup(name) {
        return Meaning::Ingredient(Arc::clone(found));
    }
    if let Some(bare) = BareWord::of(name) {
        return Meaning::Bare(bare);
    }
    if let Some(id) = own_name {
        return Meaning::Stage(id);
    }
    match scene.names.find(&folded, Among::BareOnTop) {
        Found::One(id) => Meaning::Stage(id),
        Found::Several(ids) => Meaning::Ambiguous(ids),
        Found::Nothing => Meaning::Nothing,
    }
}

/// Knows the words for what a bakehouse keeps, in their folded form.
fn mixture(folded: &str) -> Option<Meaning> {
    match folded {
        "starter" | "sourdough starter" | "sourdough" => Some(Meaning::Starter),
        "old dough" | "pâte fermentée" | "pate fermentee" => Some(Meaning::OldDough),
        _ => None,
    }
}

/// Says whether a name is the word of a kind of stage, which a recipe without such a block cannot pour.
pub(super) fn is_stage_word(name: &str) -> bool {
    matches!(
        fold_name(name).as_str(),
        "levain" | "poolish" | "biga" | "sponge" | "soaker" | "scald"
    )
}
