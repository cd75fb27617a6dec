//! Entries put into the blocks of a draft, and taken out of them.
//!
//! Owns where in a body a new entry stands. A block is copied when it is first changed.

use std::collections::BTreeSet;

use super::locate::Spot;
use super::page::Draft;
use crate::model::recipe::BlockId;
use crate::source::Span;
use crate::syntax::tree::{BodyItem, Entry, EntryKind};

/// Gives an entry to be changed.
pub(super) fn entry_mut<'draft>(draft: &'draft mut Draft<'_>, spot: Spot) -> Option<&'draft mut Entry> {
    match body_mut(draft, spot.block)?.get_mut(spot.item)? {
        BodyItem::Entry(entry) => Some(entry),
        BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => None,
    }
}

/// Takes an entry out.
pub(super) fn remove(draft: &mut Draft<'_>, spot: Spot) {
    if let Some(body) = body_mut(draft, spot.block)
        && spot.item < body.len()
    {
        body.remove(spot.item);
    }
}

/// Puts an entry before the first step of a block, or at its end where it has none.
pub(super) fn insert_before_steps(draft: &mut Draft<'_>, block: BlockId, new: Entry) {
    if let Some(body) = body_mut(draft, block) {
        let first_step = body.iter().position(
            |item| matches!(item, BodyItem::Entry(entry) if matches!(entry.kind, EntryKind::Step(_))),
        );
        body.insert(first_step.unwrap_or(body.len()), BodyItem::Entry(new));
    }
}

/// Puts an entry behind a step, and behind what has been put there before, so that the order of the
/// variation is kept.
pub(super) fn insert_behind(draft: &mut Draft<'_>, spot: Spot, new: Entry, put_before: &BTreeSet<Span>) {
    if let Some(body) = body_mut(draft, spot.block) {
        let is_put =
            |item: &&BodyItem| matches!(item, BodyItem::Entry(entry) if put_before.contains(&entry.span));
        let behind = body.iter().skip(spot.item + 1).take_while(is_put).count();
        let place = (spot.item + 1 + behind).min(body.len());
        body.insert(place, BodyItem::Entry(new));
    }
}

fn body_mut<'draft>(draft: &'draft mut Draft<'_>, id: BlockId) -> Option<&'draft mut Vec<BodyItem>> {
    draft.blocks.get_mut(id.0).map(|block| &mut block.to_mut().body)
}
