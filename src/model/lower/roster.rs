//! Which blocks a recipe has: exactly one dough or a formula, and no two blocks of one name.
//!
//! Owns what can be said of the headers alone, one against the other.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::names::kind_of;
use super::page::{Draft, Page, has_formula_line, is_damaged};
use super::{Findings, Scene};
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::fold_name;
use crate::model::recipe::BlockId;
use crate::source::Source;
use crate::syntax::tree::{Block, BlockKind};

/// Checks which blocks there are, and finds the one that everything else is poured into.
///
/// Without any such block the number of one that is not there comes back; that has been reported then.
pub(super) fn check_roster(
    draft: &Draft<'_>,
    page: &Page<'_>,
    scene: &Scene<'_>,
    findings: &mut Findings,
) -> BlockId {
    let kinds: Vec<BlockKind> = draft
        .blocks
        .iter()
        .map(|block| kind_of(block, scene.source).0)
        .collect();
    check_twice(&draft.blocks, scene.source, findings);
    let is_dough = |place: &usize| {
        kinds.get(*place) == Some(&BlockKind::Dough)
            && draft.blocks.get(*place).is_some_and(|block| block.name.is_none())
    };
    let dough = (0..kinds.len()).find(is_dough);
    let formula = kinds.iter().position(|kind| *kind == BlockKind::Formula);
    if let Some(formula) = formula.and_then(|place| draft.blocks.get(place)) {
        check_doughs_beside(formula, draft, &kinds, findings);
    }
    let main = formula.or(dough);
    match main.and_then(|place| draft.blocks.get(place)) {
        Some(block) => check_filled(block, findings),
        None if kinds.contains(&BlockKind::Unknown) => {}
        None => findings.push(missing_dough(draft, page, &kinds)),
    }
    BlockId(main.unwrap_or(draft.blocks.len()))
}

/// Two blocks of one name; the second one is at fault.
fn check_twice(blocks: &[Cow<'_, Block>], source: &Source, findings: &mut Findings) {
    let mut seen: BTreeMap<(BlockKind, String), &Block> = BTreeMap::new();
    for block in blocks {
        let (kind, word) = kind_of(block, source);
        if kind == BlockKind::Unknown {
            continue;
        }
        let name = match &block.name {
            // A recipe has one formula, whatever it is called.
            Some(name) if kind != BlockKind::Formula => fold_name(&name.value),
            _ => String::new(),
        };
        let Some(first) = seen.get(&(kind, name.clone())) else {
            seen.insert((kind, name), block);
            continue;
        };
        let fault = Diagnostic::new(
            Code::BlockTwice,
            block.header,
            match &block.name {
                Some(name) if kind != BlockKind::Formula => {
                    format!("there is a second {word} {}", name.value)
                }
                _ => format!("there is a second {word}"),
            },
        )
        .other(first.header, "the first one");
        findings.push(match kind {
            BlockKind::Dough if name.is_empty() => {
                fault.help("a recipe has one final dough; give a part of it a name, `dough dark:`")
            }
            BlockKind::Formula => fault.help("a recipe has one formula"),
            _ => fault.help(format!("give each its own name, `{word} night:`")),
        });
    }
}

/// A formula is the whole bread, so that its dough is computed and needs no block.
fn check_doughs_beside(formula: &Block, draft: &Draft<'_>, kinds: &[BlockKind], findings: &mut Findings) {
    for (block, kind) in draft.blocks.iter().zip(kinds) {
        if *kind == BlockKind::Dough {
            findings.push(
                Diagnostic::new(
                    Code::DoughBesideFormula,
                    block.header,
                    "a recipe has a formula or a dough, not both",
                )
                .other(formula.header, "the formula is the whole bread")
                .help("the final dough is worked out from the formula; write its steps there"),
            );
        }
    }
}

/// A dough without a single line cannot become bread: it is as good as none.
fn check_filled(block: &Block, findings: &mut Findings) {
    if !has_formula_line(block) && !is_damaged(block) {
        let fault = Diagnostic::new(
            Code::MissingDough,
            block.header,
            format!("the {} has no ingredients", block.kind.value.word()),
        )
        .help("write them below, indented: `100 % bread flour`");
        findings.push(fault);
    }
}

fn missing_dough(draft: &Draft<'_>, page: &Page<'_>, kinds: &[BlockKind]) -> Diagnostic {
    let part = draft
        .blocks
        .iter()
        .zip(kinds)
        .find(|(_, kind)| **kind == BlockKind::Dough);
    let span = part.map_or(page.head, |(block, _)| block.header);
    let fault = Diagnostic::new(Code::MissingDough, span, "there is no dough and no formula");
    match part.and_then(|(block, _)| block.name.as_ref()) {
        Some(name) => fault.label("this is a part of a dough").help(format!(
            "pour the parts together in a block `dough:`, `all {}`",
            name.value
        )),
        None => fault.help("write a block `dough:` with the ingredients indented below it"),
    }
}
