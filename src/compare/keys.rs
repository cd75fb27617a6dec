//! Keys that say something else.

use super::types::KeyChange;
use crate::model::recipe::{Recipe, Tin};
use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Ratio};
use crate::syntax::TinShape;

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
        ("tin", recipe.tin.as_ref().map(|tin| tin_told(&tin.value))),
        ("units", joined(&units)),
        (
            "dough temperature",
            details
                .dough_temperature
                .as_ref()
                .map(|wanted| degrees(&wanted.value)),
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
            details
                .picture
                .as_ref()
                .map(|picture| format!("{}, {}", picture.value.path, picture.value.description)),
        ),
        ("paper", joined(&details.paper)),
        ("slices", details.slices.map(|slices| slices.to_string())),
        ("keeps", details.keeps.map(keeping)),
        ("tags", joined(&details.tags)),
        ("author", details.author.clone()),
        ("source", details.source.clone()),
        ("revision", details.revision.clone()),
        ("language", details.language.clone()),
    ]
}

fn degrees(range: &CelsiusRange) -> String {
    let (low, high) = (range.low.0.to_trimmed(1), range.high.0.to_trimmed(1));
    if low == high {
        format!("{low} °C")
    } else {
        format!("{low}–{high} °C")
    }
}

fn keeping(keeps: ElapsedRange) -> String {
    let hours = |length: Elapsed| length.as_minutes() / 60;
    let (least, most) = (hours(keeps.least), hours(keeps.most));
    let (unit, size) = if least % 24 == 0 && most % 24 == 0 {
        ("days", 24)
    } else {
        ("h", 1)
    };
    if least == most {
        format!("{} {unit}", least / size)
    } else {
        format!("{}–{} {unit}", least / size, most / size)
    }
}

/// Tells a tin in one spelling: its measures in centimetres, whatever they were typed in.
fn tin_told(tin: &Tin) -> String {
    let cm = |length: &Ratio| (length * &Ratio::fraction(1, 10).unwrap_or_default()).to_trimmed(1);
    let across = |lengths: &[Ratio]| lengths.iter().map(cm).collect::<Vec<_>>().join(" x ");
    let lid = match tin.lidded {
        Some(true) => "lidded ",
        Some(false) => "open ",
        None => "",
    };
    let shape = match &tin.shape {
        TinShape::Box(lengths) => format!("{} cm", across(lengths)),
        TinShape::Tapered { top, base, height } => {
            format!("{} / {} x {} cm", across(top), across(base), cm(height))
        }
        TinShape::Round([top, base, height]) if top == base => {
            format!("round {} x {} cm", cm(top), cm(height))
        }
        TinShape::Round([top, base, height]) => {
            format!("round {} / {} x {} cm", cm(top), cm(base), cm(height))
        }
        TinShape::Volume(volume) => format!("{} ml", volume.0.to_trimmed(0)),
    };
    let filled = tin
        .ml_per_g
        .as_ref()
        .map(|ml| format!(", {} ml per g", ml.to_trimmed(2)));
    format!("{lid}{shape}{}", filled.unwrap_or_default())
}
