//! Blocks of two versions brought together, renamed ones too.

use std::collections::BTreeSet;

use super::align::{Match, woven};
use crate::model::recipe::{Block, BlockId, BlockKind, Entry, Recipe};

/// Which block of the newer version was which of the older one.
#[derive(Clone, Debug, Default)]
pub(super) struct Matched {
    pairs: Vec<Match>,
}

impl Matched {
    /// Gives all blocks in the order of the newer version; what is gone follows what it followed.
    pub(super) fn rows(&self, old: &Recipe, new: &Recipe) -> Vec<(Option<BlockId>, Option<BlockId>)> {
        woven(&self.pairs, old.blocks.len(), new.blocks.len())
            .into_iter()
            .map(|(old, new)| (old.map(BlockId), new.map(BlockId)))
            .collect()
    }

    /// Gives a name for an older stage that its newer self has too.
    pub(super) fn name_for_old(&self, old: BlockId) -> String {
        let pair = self.pairs.iter().position(|pair| pair.old == old.0);
        pair.map_or_else(|| format!("old stage {}", old.0), |at| format!("stage {at}"))
    }

    /// Gives a name for a newer stage that its older self has too.
    pub(super) fn name_for_new(&self, new: BlockId) -> String {
        let pair = self.pairs.iter().position(|pair| pair.new == new.0);
        pair.map_or_else(|| format!("new stage {}", new.0), |at| format!("stage {at}"))
    }
}

/// Brings blocks together: main doughs first, then equal titles, then those that hold the most alike.
pub(super) fn matched(old: &Recipe, new: &Recipe) -> Matched {
    let mut candidates = Vec::new();
    for before in &old.blocks {
        for now in &new.blocks {
            let are_main = (before.id == old.main, now.id == new.main);
            if let Some(rank) = rank(before, now, are_main) {
                let (left, right) = (before.id.0, now.id.0);
                // The order must not depend on which version comes first.
                candidates.push((rank, left.abs_diff(right), left + right, left, right));
            }
        }
    }
    candidates.sort_unstable();
    let mut pairs: Vec<Match> = Vec::new();
    for (.., left, right) in candidates {
        if pairs.iter().all(|pair| pair.old != left && pair.new != right) {
            pairs.push(Match {
                old: left,
                new: right,
                is_moved: false,
            });
        }
    }
    pairs.sort_unstable();
    Matched { pairs }
}

/// Says how likely two blocks are the same one, the likeliest first; nothing where they are not.
fn rank(old: &Block, new: &Block, are_main: (bool, bool)) -> Option<(u8, u32)> {
    match are_main {
        (true, true) => return Some((0, 0)),
        (false, false) => {}
        _ => return None,
    }
    if old.title == new.title {
        return Some((1, 0));
    }
    let (left, right) = (names(old), names(new));
    let (shared, all) = (left.intersection(&right).count(), left.union(&right).count());
    if shared == 0 || shared * 2 < all || !(old.kind == new.kind || are_preferments(old.kind, new.kind)) {
        return None;
    }
    let unlike = u32::try_from((all - shared) * 1000 / all).unwrap_or(u32::MAX);
    Some((if old.kind == new.kind { 2 } else { 3 }, unlike))
}

fn names(block: &Block) -> BTreeSet<String> {
    let names = block.entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => Some(line.name.value.to_lowercase()),
        Entry::Step(_) | Entry::Note(_) => None,
    });
    names.collect()
}

fn are_preferments(old: BlockKind, new: BlockKind) -> bool {
    let is_preferment = |kind| {
        matches!(
            kind,
            BlockKind::Levain
                | BlockKind::Poolish
                | BlockKind::Biga
                | BlockKind::Sponge
                | BlockKind::OldDough
        )
    };
    is_preferment(old) && is_preferment(new)
}
