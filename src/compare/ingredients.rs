//! Ingredients added, gone, swapped and re-weighed, by their shares, so that a larger batch is no change.

use super::nearly;
use super::stages::Matched;
use super::types::{IngredientChange, Piece};
use crate::model::recipe::BlockId;
use crate::sheet::{Sheet, SheetBlock, SheetLine, Source};

/// An ingredient of one version with the name that tells it from others.
struct Known {
    key: String,
    piece: Piece,
}

/// Compares what the breads hold, by share of all flour.
pub(super) fn of_total(old: Option<&Sheet>, new: Option<&Sheet>) -> Vec<IngredientChange> {
    let read = |sheet: &Sheet| -> Vec<Known> {
        sheet
            .total
            .iter()
            .map(|line| Known {
                key: line.key.clone(),
                piece: Piece {
                    name: line.name.clone(),
                    weight: Some(line.weight.clone()),
                    share: line.of_all_flour.clone(),
                },
            })
            .collect()
    };
    old.zip(new)
        .map_or_else(Vec::new, |(old, new)| changes(&read(old), read(new)))
}

/// Compares the lines of blocks that both versions have, by share of the block's flour.
pub(super) fn of_blocks(
    old: Option<&Sheet>,
    new: Option<&Sheet>,
    stages: &Matched,
) -> Vec<(String, Vec<IngredientChange>)> {
    let (Some(old), Some(new)) = (old, new) else {
        return Vec::new();
    };
    new.blocks
        .iter()
        .filter_map(|block| {
            let before = stages.old_of(block.id)?;
            let before = old.blocks.iter().find(|block| block.id == before)?;
            let found = changes(
                &lines(before, |id| stages.name_for_old(id)),
                lines(block, |id| stages.name_for_new(id)),
            );
            (!found.is_empty()).then(|| (block.title.clone(), found))
        })
        .collect()
}

fn lines(block: &SheetBlock, stage_name: impl Fn(BlockId) -> String) -> Vec<Known> {
    let mut known: Vec<Known> = Vec::new();
    for line in &block.lines {
        let key = match &line.source {
            Source::Ingredient { key, .. } => key.clone(),
            Source::Stage(id) => stage_name(*id),
            Source::Mixture => format!("mixture {}", line.name),
        };
        // A line split in two is the same dough: equal names are one.
        match known.iter_mut().find(|one| one.key == key) {
            Some(one) => add(&mut one.piece, line, block),
            None => known.push(Known {
                key,
                piece: Piece {
                    name: line.name.clone(),
                    weight: line.weight.clone(),
                    share: share(line, block),
                },
            }),
        }
    }
    known
}

/// A block without flour is compared by shares of its whole.
fn share(line: &SheetLine, block: &SheetBlock) -> Option<crate::quantity::Ratio> {
    line.of_block_flour
        .clone()
        .or_else(|| line.weight.as_ref()?.share_of(&block.total))
}

fn add(piece: &mut Piece, line: &SheetLine, block: &SheetBlock) {
    if let (Some(sum), Some(more)) = (&mut piece.weight, &line.weight) {
        *sum = &*sum + more;
    }
    if let (Some(sum), Some(more)) = (&mut piece.share, share(line, block)) {
        *sum = &*sum + &more;
    }
}

/// Finds what came, went and changed; one ingredient gone and one new of nearly one share are a swap.
fn changes(old: &[Known], new: Vec<Known>) -> Vec<IngredientChange> {
    let mut gone: Vec<&Known> = old
        .iter()
        .filter(|before| new.iter().all(|now| now.key != before.key))
        .collect();
    let mut found = Vec::new();
    for now in new {
        match old.iter().find(|before| before.key == now.key) {
            Some(before) if alike(&before.piece, &now.piece) => {}
            Some(before) => found.push(IngredientChange::Reweighed(before.piece.clone(), now.piece)),
            None => match gone.iter().position(|before| alike(&before.piece, &now.piece)) {
                Some(at) => found.push(IngredientChange::Swapped(
                    gone.remove(at).piece.clone(),
                    now.piece,
                )),
                None => found.push(IngredientChange::Added(now.piece)),
            },
        }
    }
    found.extend(
        gone.into_iter()
            .map(|before| IngredientChange::Gone(before.piece.clone())),
    );
    found
}

fn alike(old: &Piece, new: &Piece) -> bool {
    match (&old.share, &new.share) {
        (Some(old), Some(new)) => nearly(old, new),
        (None, None) => match (&old.weight, &new.weight) {
            (Some(old), Some(new)) => nearly(&old.0, &new.0),
            (old, new) => old == new,
        },
        _ => false,
    }
}
