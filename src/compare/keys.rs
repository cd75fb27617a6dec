//! Keys that say something else.

use super::types::KeyChange;
use crate::model::recipe::Recipe;
use crate::quantity::Ratio;

/// Lists the keys that differ, in the order of the language reference; what only sizes the batch is told by
/// the figures.
pub(super) fn changes(old: &Recipe, new: &Recipe) -> Vec<KeyChange> {
    read(old)
        .into_iter()
        .zip(read(new))
        .filter(|((_, old), (_, new))| old != new)
        .map(|((key, old), (_, new))| KeyChange { key, old, new })
        .collect()
}

fn read(recipe: &Recipe) -> Vec<(&'static str, Option<String>)> {
    let details = &recipe.details;
    let percent = |share: &Ratio| format!("{} %", (share * &Ratio::HUNDRED).to_trimmed(2));
    let joined = |words: &[String]| (!words.is_empty()).then(|| words.join(", "));
    let units: Vec<String> = details
        .units
        .iter()
        .map(|unit| unit.symbol().to_owned())
        .collect();
    vec![
        ("title", Some(recipe.title.value.clone())),
        (
            "makes",
            recipe.makes.as_ref().map(|makes| makes.value.piece.clone()),
        ),
        ("tin", recipe.tin.as_ref().map(|tin| tin.value.written.clone())),
        ("units", joined(&units)),
        (
            "dough temperature",
            details
                .dough_temperature
                .as_ref()
                .map(|wanted| format!("{} °C", wanted.value.middle().0.to_trimmed(1))),
        ),
        (
            "bake loss",
            details.bake_loss.as_ref().map(|loss| percent(&loss.value)),
        ),
        (
            "handling loss",
            details.handling_loss.as_ref().map(|loss| percent(&loss.value)),
        ),
        (
            "picture",
            details.picture.as_ref().map(|picture| picture.value.path.clone()),
        ),
        ("paper", joined(&details.paper)),
        ("slices", details.slices.map(|slices| slices.to_string())),
        (
            "keeps",
            details
                .keeps
                .map(|keeps| format!("{} h", keeps.middle().as_minutes() / 60)),
        ),
        ("tags", joined(&details.tags)),
        ("author", details.author.clone()),
        ("source", details.source.clone()),
        ("revision", details.revision.clone()),
        ("language", details.language.clone()),
    ]
}
