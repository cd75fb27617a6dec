//! The items of a tree sorted by what they are for, before any of them is given a meaning.
//!
//! Owns the draft that variations edit: keys and blocks as they stand on the page, borrowed until one of
//! them is changed.

use std::borrow::Cow;

use crate::source::Span;
use crate::syntax::limits;
use crate::syntax::tree::{
    Block, BlockKind, BodyItem, EntryKind, Item, KeyLine, Qualifier, RECIPE_KEYS, Tree,
};

/// The keys of a recipe and its blocks with a formula or steps, in the order of the page.
#[derive(Clone, Debug, Default)]
pub(in crate::model) struct Draft<'tree> {
    /// The keys.
    pub(in crate::model) keys: Vec<Cow<'tree, KeyLine>>,
    /// The blocks; the id of a block is its index here.
    pub(in crate::model) blocks: Vec<Cow<'tree, Block>>,
}

/// A tree with its items sorted.
#[derive(Clone, Debug)]
pub(in crate::model) struct Page<'tree> {
    /// What makes the recipe.
    pub(in crate::model) draft: Draft<'tree>,
    /// Prose blocks, `about` and `notes`.
    pub(in crate::model) prose: Vec<&'tree Block>,
    /// Variations.
    pub(in crate::model) variations: Vec<&'tree Block>,
    /// Bench records.
    pub(in crate::model) records: Vec<&'tree Block>,
    /// Keys that are none, which has been reported.
    pub(in crate::model) unknown_keys: Vec<&'tree KeyLine>,
    /// Whether some other line of the plain recipe could not be read and has been reported.
    pub(in crate::model) damaged: bool,
    /// The start of the text.
    pub(in crate::model) head: Span,
}

impl<'tree> Page<'tree> {
    /// Sorts the items of a tree.
    pub(in crate::model) fn of(tree: &'tree Tree) -> Self {
        let mut page = Self {
            draft: Draft::default(),
            prose: Vec::new(),
            variations: Vec::new(),
            records: Vec::new(),
            unknown_keys: Vec::new(),
            damaged: false,
            head: Span::new(tree.source, 0, 0),
        };
        for item in &tree.items {
            match item {
                Item::Blank(_) | Item::Comment(_) => {}
                Item::Junk(_) => page.damaged = true,
                Item::Key(line) if !RECIPE_KEYS.contains(&line.key.value.as_str()) => {
                    page.unknown_keys.push(line);
                }
                Item::Key(line) => page.draft.keys.push(Cow::Borrowed(line)),
                Item::Block(block) => page.sort_block(block),
            }
        }
        page
    }

    /// Says whether every line of the plain recipe could be read.
    pub(in crate::model) const fn is_whole(&self) -> bool {
        !self.damaged && self.unknown_keys.is_empty()
    }

    fn sort_block(&mut self, block: &'tree Block) {
        match block.kind.value {
            BlockKind::About | BlockKind::Notes => self.prose.push(block),
            BlockKind::Variation => self.variations.push(block),
            BlockKind::Bake => self.records.push(block),
            // Neither can be read as a part of a recipe, which the parser has said.
            BlockKind::Ingredient => self.damaged = true,
            _ if self.draft.blocks.len() > limits::STAGES => self.damaged = true,
            _ => {
                self.damaged |= block.kind.value == BlockKind::Unknown || is_damaged(block);
                self.draft.blocks.push(Cow::Borrowed(block));
            }
        }
    }
}

/// Says whether a line of a block, or a part of its header, could not be read and has been reported.
pub(super) fn is_damaged(block: &Block) -> bool {
    block.body.iter().any(|line| matches!(line, BodyItem::Junk(_)))
        || block
            .qualifiers
            .iter()
            .any(|qualifier| qualifier.value == Qualifier::Junk)
}

/// Says whether a block has an entry that makes it more than a header.
pub(super) fn has_entries(block: &Block) -> bool {
    block
        .body
        .iter()
        .any(|line| matches!(line, BodyItem::Entry(_) | BodyItem::Junk(_)))
}

/// Gives the entries of a block.
pub(in crate::model) fn entries(block: &Block) -> impl Iterator<Item = &crate::syntax::tree::Entry> {
    block.body.iter().filter_map(|line| match line {
        BodyItem::Entry(entry) => Some(entry),
        BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => None,
    })
}

/// Says whether a block has a formula line.
pub(super) fn has_formula_line(block: &Block) -> bool {
    entries(block).any(|entry| matches!(entry.kind, EntryKind::Formula(_)))
}
