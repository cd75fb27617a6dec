//! The entries of a variation carried out on a draft, before it is lowered again.
//!
//! Owns where a change goes. What the changed lines mean, and whether they make a bread, is found out by
//! lowering the draft like any other.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::locate::{Place, Searched, Spot};
use super::names::{Among, Found};
use super::page::Draft;
use super::{Findings, Scene, blocks, misses};
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::fold_name;
use crate::model::recipe::BlockId;
use crate::model::verbs::Verb;
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Block, BlockKind, BodyItem, Entry, EntryKind, FormulaLine, KeyLine, StepLine};

/// A draft while a variation changes it.
pub(super) struct Editor<'tree, 'scene> {
    /// The draft as it is by now.
    pub(super) draft: Draft<'tree>,
    /// Stages that are left out whole.
    pub(super) dropped: BTreeSet<BlockId>,
    /// What the names of the plain recipe mean.
    pub(super) scene: &'scene Scene<'scene>,
    /// The dough or the formula.
    pub(super) main: BlockId,
    /// The variation.
    pub(super) variation: &'tree Block,
    /// The block that `in STAGE` names.
    pub(super) scope: Option<BlockId>,
    keys: BTreeMap<&'tree str, Span>,
}
