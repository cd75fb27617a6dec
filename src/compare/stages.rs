//! Blocks of two versions brought together, renamed ones too.

use std::collections::BTreeSet;

use super::types::{Side, StageChange};
use crate::model::recipe::{Block, BlockId, BlockKind, Entry, Recipe};

/// Which block of the newer version was which of the older one.
#[derive(Clone, Debug, Default)]
pub(super) struct Matched {
    pairs: Vec<(BlockId, BlockId)>,
}

impl Matched {
    /// Gives the older block of a newer one.
    pub(super) fn old_of(&self, new: BlockId) -> Option<BlockId> {
        self.pairs.iter().find(|pair| pair.1 == new).map(|pair| pair.0)
    }

    /// Gives a name for an older stage that its newer self has too.
    pub(super) fn name_for_old(&self, old: BlockId) -> String {
        let pair = self.pairs.iter().position(|pair| pair.0 == old);
        pair.map_or_else(|| format!("old stage {}", old.0), |at| format!("stage {at}"))
    }

    /// Gives a name for a newer stage that its older self has too.
    pub(super) fn name_for_new(&self, new: BlockId) -> String {
        let pair = self.pairs.iter().position(|pair| pair.1 == new);
        pair.map_or_else(|| format!("new stage {}", new.0), |at| format!("stage {at}"))
    }
}

/// Brings blocks together: main doughs first, then equal titles, then what holds much the same.
pub(super) fn matched(old: &Side<'_>, new: &Side<'_>) -> Matched {
    let mut pairs = vec![(old.recipe.main, new.recipe.main)];
    let free = |pairs: &[(BlockId, BlockId)], old: BlockId, new: BlockId| {
        pairs.iter().all(|pair| pair.0 != old && pair.1 != new)
    };
    let tests: [fn(&Block, &Block) -> bool; 3] = [
        |old, new| old.title == new.title,
        |old, new| old.kind == new.kind && holds_alike(old, new),
        |old, new| is_preferment(old.kind) && is_preferment(new.kind) && holds_alike(old, new),
    ];
    for test in tests {
        for now in &new.recipe.blocks {
            let before = old
                .recipe
                .blocks
                .iter()
                .find(|before| free(&pairs, before.id, now.id) && test(before, now));
            if let Some(before) = before {
                pairs.push((before.id, now.id));
            }
        }
    }
    Matched { pairs }
}

/// Lists stages that came, went and have another name.
pub(super) fn changes(old: &Side<'_>, new: &Side<'_>, stages: &Matched) -> Vec<StageChange> {
    let title = |recipe: &Recipe, id: BlockId| recipe.blocks.get(id.0).map(|block| block.title.clone());
    let mut found: Vec<StageChange> = new
        .recipe
        .blocks
        .iter()
        .filter(|block| block.id != new.recipe.main)
        .filter_map(|block| match stages.old_of(block.id) {
            None => Some(StageChange::Added(block.title.clone())),
            Some(before) => {
                let before = title(old.recipe, before)?;
                (before != block.title).then(|| StageChange::Renamed(before, block.title.clone()))
            }
        })
        .collect();
    let kept: BTreeSet<BlockId> = stages.pairs.iter().map(|pair| pair.0).collect();
    found.extend(
        old.recipe
            .blocks
            .iter()
            .filter(|block| !kept.contains(&block.id))
            .map(|block| StageChange::Gone(block.title.clone())),
    );
    found
}

/// Two blocks hold alike where at least half of the names in both together stand in each.
fn holds_alike(old: &Block, new: &Block) -> bool {
    let names = |block: &Block| -> BTreeSet<String> {
        block
            .entries
            .iter()
            .filter_map(|entry| match entry {
                Entry::Line(line) => Some(line.name.value.to_lowercase()),
                Entry::Step(_) | Entry::Note(_) => None,
            })
            .collect()
    };
    let (old, new) = (names(old), names(new));
    let shared = old.intersection(&new).count();
    shared > 0 && shared * 2 >= old.union(&new).count()
}

const fn is_preferment(kind: BlockKind) -> bool {
    matches!(
        kind,
        BlockKind::Levain | BlockKind::Poolish | BlockKind::Biga | BlockKind::Sponge | BlockKind::OldDough
    )
}
