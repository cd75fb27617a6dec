//! What an error leaves unknown of a recipe, noted while its lines are lowered.
//!
//! Owns which kind of line bears on what. What can be looked at in spite of it is the business of the sheet.

use super::lines::Home;
use super::resolve::{Meaning, resolve};
use super::{Findings, Scene};
use crate::diag::nearest;
use crate::model::catalog::BareWord;
use crate::model::recipe::{self, BlockKind, Doubts, Known, Thing};
use crate::model::verbs::Verb;
use crate::source::Span;
use crate::syntax::tree::{BAKEHOUSE_KEYS, Block, BodyItem, Entry, EntryKind, RECIPE_KEYS};

/// Notes that a known key was not understood, or given twice.
pub(super) fn of_key(key: &str, doubts: &mut Doubts) {
    match key {
        "makes" | "bake loss" | "handling loss" => {
            doubts.sizes = true;
            doubts.pieces = true;
            doubts.only(Known::Weights);
        }
        "flour" | "tin" => doubts.sizes = true,
        _ => {}
    }
}

/// Notes a key that is none: it may have been meant for one that sizes the bread.
pub(super) fn of_unknown_key(key: &str, doubts: &mut Doubts) {
    doubts.sizes = true;
    if BAKEHOUSE_KEYS.contains(&key) {
        doubts.only(Known::Weights);
    }
    if let Some(near) = nearest(key, RECIPE_KEYS.iter().copied()) {
        of_key(near, doubts);
    }
}

/// Notes that something is wrong with an entry of a block.
pub(super) fn of_entry(scene: &Scene<'_>, home: Home, entry: &Entry, doubts: &mut Doubts) {
    match &entry.kind {
        EntryKind::Step(_) | EntryKind::Note(_) => doubts.only(Known::Weights),
        EntryKind::Formula(line) => {
            doubts.only(Known::Flours);
            if line.as_known.is_some() || may_be_flour(scene, home, &line.name.value) {
                doubts.flours.insert(home.id);
            }
        }
        EntryKind::Key(line) => {
            doubts.only(Known::Weights);
            of_key(&line.key.value, doubts);
        }
        EntryKind::Without(_) | EntryKind::Scope(_) | EntryKind::Property(_) | EntryKind::Measurement(_) => {
            doubts.only(Known::Flours);
            doubts.flours.insert(home.id);
        }
    }
}

/// Notes the lines of a block that the parser could not read.
pub(super) fn of_body(scene: &Scene<'_>, home: Home, block: &Block, findings: &mut Findings) {
    let doubts = &mut findings.doubts;
    if block.kind.value == BlockKind::Unknown {
        doubts.only(Known::Flours);
        doubts.flours.insert(home.id);
    }
    for item in &block.body {
        if let BodyItem::Junk(span) = item {
            doubts.only(Known::Flours);
            if may_hold_flour(scene, home, *span) {
                doubts.flours.insert(home.id);
            }
        }
    }
}

/// Says whether a block has a line with a name that is not known.
pub(super) fn has_unlisted(block: &recipe::Block) -> bool {
    block.entries.iter().any(|entry| match entry {
        recipe::Entry::Line(line) => matches!(line.thing, Thing::Unlisted { like: None }),
        recipe::Entry::Step(_) | recipe::Entry::Note(_) => false,
    })
}

/// Says whether a line that could not be read may have held flour, or the header of another block.
fn may_hold_flour(scene: &Scene<'_>, home: Home, span: Span) -> bool {
    let text = scene.source.slice(span);
    !text.starts_with(|letter: char| letter.is_ascii_digit())
        || holds_flour(scene, home, text).unwrap_or_else(|| Verb::first_in(text).is_none())
}

/// Says whether a name that was not understood may be a flour's.
fn may_be_flour(scene: &Scene<'_>, home: Home, name: &str) -> bool {
    holds_flour(scene, home, name).unwrap_or(true)
}

/// Says whether a text ends with the name of a flour, or of something else; nothing where it ends with no name.
fn holds_flour(scene: &Scene<'_>, home: Home, text: &str) -> Option<bool> {
    let mut rest = text.trim();
    loop {
        match resolve(scene, Some(home.id), rest).meaning {
            Meaning::Ingredient(known) => return Some(known.is_flour),
            Meaning::Bare(bare) => return Some(bare == BareWord::Flour),
            Meaning::Stage(_) | Meaning::Starter | Meaning::OldDough => return Some(false),
            Meaning::Ambiguous(_) | Meaning::Nothing => {}
        }
        rest = rest.split_once(' ')?.1.trim_start();
    }
}
