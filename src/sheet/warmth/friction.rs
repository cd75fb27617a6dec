//! What mixing warms a dough by: as the bakehouse says, by a starting value of the trade, or worked back
//! from what was measured on a day. Owns no balance of its own.
//!
//! The factor is that of the rule of three factors. A third of it is what the dough warms by.

use super::parts::{Bench, Sort, together};
use super::rules::friction_of_trial;
use super::types::{Friction, RecordFindings};
use super::water::{Mix, mix};
use crate::model::recipe::{Block, Reading, Record};
use crate::model::verbs::Purpose;
use crate::sheet::measured::is_a_piece;
use crate::sheet::types::Pieces;
use crate::sheet::walk::{is_for, steps_of};

/// Starting values by words of a step, the strongest first, as differences in °F (T7, a cooking magazine):
/// food processor 25, stand mixer 20, hand 5.
const STARTING: &[(&[&str], &str, f64)] = &[
    (&["processor"], "food processor", 25.0),
    (
        &["mixer", "spiral", "machine", "planetary", "fork", "hook"],
        "stand mixer",
        20.0,
    ),
    (&["hand"], "hand", 5.0),
];

/// Finds the friction of a block: that of the way of mixing which its steps name.
pub(super) fn friction(bench: &Bench<'_>, block: &Block) -> Friction {
    let said: Vec<String> = steps_of(block)
        .filter(|step| is_for(step, Purpose::Mix))
        .map(|step| step.words.to_lowercase())
        .collect();
    let names = |way: &str| said.iter().any(|words| holds_word(words, way));
    let known = &bench.recipe.place.friction;
    let said_of = known.iter().filter(|(way, _)| names(way));
    if let Some((way, degrees)) = said_of.max_by(|left, right| left.1.cmp(&right.1)) {
        return Friction::of_factor(way, degrees.0.to_f64(), false);
    }
    let starting = STARTING
        .iter()
        .find(|(words, ..)| words.iter().any(|word| names(word)));
    match (starting, known.as_slice()) {
        (Some((_, way, fahrenheit)), _) => Friction::of_factor(way, fahrenheit / 1.8, true),
        (None, [(way, degrees)]) => Friction::of_factor(way, degrees.0.to_f64(), false),
        // Who names no machine mixes by hand.
        (None, _) => {
            let by_hand = known.iter().find(|(way, _)| way == "hand");
            by_hand.map_or_else(
                || Friction::of_factor("hand", 5.0 / 1.8, true),
                |(way, degrees)| Friction::of_factor(way, degrees.0.to_f64(), false),
            )
        }
    }
}

fn holds_word(words: &str, wanted: &str) -> bool {
    let plain = |letter: char| !letter.is_alphanumeric();
    if wanted.contains(plain) {
        return words.contains(wanted);
    }
    words.split(plain).any(|word| word == wanted)
}

/// Works back from what was measured: friction from the temperatures of dough, water and the rest, bake loss
/// from the weight of a loaf. What was not measured is as the plan has it, but the water has to be known.
pub(super) fn of_record(
    bench: &Bench<'_>,
    block: &Block,
    pieces: &Pieces,
    record: &Record,
) -> RecordFindings {
    let degrees = |wanted: &str| {
        record
            .readings
            .iter()
            .find_map(|(reading, of)| match &reading.value {
                Reading::Temperature(range) if of == wanted => Some(range.middle().0.to_f64()),
                _ => None,
            })
    };
    let mut found = RecordFindings {
        bake_loss: bake_loss(pieces, record),
        ..RecordFindings::default()
    };
    let (Some(dough), Some(Mix { liquid, mut rest })) = (degrees("dough"), mix(bench, block)) else {
        return found;
    };
    let Some(water) = degrees("water").or_else(|| degrees("milk")) else {
        return found;
    };
    let room = degrees("room")
        .or_else(|| degrees("kitchen"))
        .unwrap_or_else(|| bench.room());
    let flour = degrees("flour").unwrap_or(room);
    found.friction = Some(friction_of_trial(dough, room, flour, water));
    for part in &mut rest {
        let measured = match part.sort {
            Sort::Flour => Some(flour),
            Sort::Preferment => degrees("starter"),
            _ if part.from == super::types::WarmFrom::Room => Some(room),
            _ => None,
        };
        part.celsius = measured.unwrap_or(part.celsius);
    }
    let mut all = rest;
    all.extend(liquid.into_iter().map(|mut part| {
        part.celsius = water;
        part
    }));
    found.rise = Some(dough - together(&all));
    found
}

/// Works out the loss in the oven from the weight of a loaf, as a share of the dough as mixed.
fn bake_loss(pieces: &Pieces, record: &Record) -> Option<f64> {
    let loaf = record
        .readings
        .iter()
        .find_map(|(reading, of)| match &reading.value {
            Reading::Weight(weight) if is_a_piece(of) => Some(weight.0.to_f64()),
            _ => None,
        })?;
    let handled = 1.0 - pieces.handling_loss.to_f64();
    let piece = pieces.dough.0.to_f64();
    if piece <= 0.0 || handled <= 0.0 {
        return None;
    }
    let lost = (piece + pieces.extras.0.to_f64() - loaf) / piece * handled;
    (0.0..0.6).contains(&lost).then_some(lost)
}
