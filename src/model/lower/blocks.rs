//! Blocks: header and entries, one after the other.
//!
//! Owns which qualifiers and entries have a place in which block. What the names of blocks have to do with
//! each other is the business of `roster`.

use super::lines::{Home, lower_line};
use super::names::kind_of;
use super::page::{Draft, Page, entries, has_entries};
use super::qualifiers::lower_qualifiers;
use super::steps::lower_step;
use super::{Findings, Scene, doubts};
use crate::diag::{Code, Diagnostic};
use crate::model::recipe::{Block, BlockId, Entry, Known, Prose};
use crate::source::Spanned;
use crate::syntax::tree::{self, BlockKind, BodyItem, EntryKind};

/// Lowers every block of a draft; the id of a block is its index there and here.
pub(super) fn lower_blocks(draft: &Draft<'_>, scene: &Scene<'_>, findings: &mut Findings) -> Vec<Block> {
    draft
        .blocks
        .iter()
        .enumerate()
        .map(|(place, block)| lower_block(BlockId(place), block, scene, findings))
        .collect()
}

fn lower_block(id: BlockId, block: &tree::Block, scene: &Scene<'_>, findings: &mut Findings) -> Block {
    let (kind, word) = kind_of(block, scene.source);
    let before = findings.report.len();
    let qualifiers = lower_qualifiers(block, kind, findings);
    if findings.has_errors_since(before) {
        findings.doubts.only(Known::Flours);
    }
    let is_main = kind == BlockKind::Formula || (kind == BlockKind::Dough && block.name.is_none());
    if !has_entries(block) && !is_main {
        findings.push(
            Diagnostic::new(
                Code::EmptyBlock,
                block.header,
                format!("nothing stands under this {word}"),
            )
            .help("write its ingredients below it, indented, or take the header out"),
        );
    }
    let home = Home { id, kind };
    doubts::of_body(scene, home, block, findings);
    Block {
        id,
        kind,
        name: block.name.as_ref().map(|name| name.value.clone()),
        title: match &block.name {
            Some(name) => format!("{word} {}", name.value),
            None => word.into_owned(),
        },
        span: block.header,
        size: qualifiers.size,
        keep: qualifiers.keep,
        entries: entries(block)
            .filter_map(|entry| lower_entry(home, entry, scene, findings))
            .collect(),
    }
}

fn lower_entry(home: Home, entry: &tree::Entry, scene: &Scene<'_>, findings: &mut Findings) -> Option<Entry> {
    let before = findings.report.len();
    let lowered = match &entry.kind {
        EntryKind::Formula(formula) => lower_line(scene, home, entry, formula, findings).map(Entry::Line),
        EntryKind::Step(step) => Some(Entry::Step(lower_step(scene, entry, step, findings))),
        EntryKind::Note(text) => Some(Entry::Note(lower_note(entry, text))),
        misplaced => {
            findings.report.extend(not_allowed(entry, misplaced, home.kind));
            None
        }
    };
    if findings.has_errors_since(before) {
        doubts::of_entry(scene, home, entry, &mut findings.doubts);
    }
    lowered
}

/// A remark with the prose below it, so that no word of the baker's is lost.
pub(super) fn lower_note(entry: &tree::Entry, text: &Spanned<String>) -> Spanned<String> {
    let mut whole = text.clone();
    for line in entry.prose.iter().flat_map(|prose| &prose.lines) {
        whole.value.push('\n');
        whole.value.push_str(&line.value);
    }
    whole
}

/// Words the fault of an entry that has no place in its block.
pub(super) fn not_allowed(entry: &tree::Entry, kind: &EntryKind, block: BlockKind) -> Option<Diagnostic> {
    let block = block.word();
    let (message, help) = match kind {
        EntryKind::Without(_) => (
            format!("`without` has no meaning in a {block}"),
            "it belongs below `variation NAME:`".to_owned(),
        ),
        EntryKind::Scope(_) => (
            format!("`in` has no meaning in a {block}"),
            "it belongs below `variation NAME:`".to_owned(),
        ),
        EntryKind::Key(line) => (
            format!("the key `{}` stands inside a {block}", line.key.value),
            "write it in the first column, above the blocks".to_owned(),
        ),
        EntryKind::Property(_) => (
            format!("this describes an ingredient, and stands in a {block}"),
            "it belongs below `ingredient NAME:` in bakehouse.loaf".to_owned(),
        ),
        EntryKind::Measurement(_) => (
            format!("this is a reading, and stands in a {block}"),
            "it belongs below `bake 2026-03-14:` with the day of the bake".to_owned(),
        ),
        EntryKind::Formula(_) => (
            format!("an ingredient has no place in a {block}"),
            "move it to the block that it goes into".to_owned(),
        ),
        EntryKind::Step(_) => (
            format!("a step has no place in a {block}"),
            "move it to the block that it belongs to".to_owned(),
        ),
        EntryKind::Note(_) => return None,
    };
    Some(Diagnostic::new(Code::EntryNotAllowed, entry.span, message).help(help))
}

/// Lowers `about` and `notes`.
pub(super) fn lower_prose(page: &Page<'_>, findings: &mut Findings) -> (Option<Prose>, Option<Prose>) {
    (
        prose_of(BlockKind::About, page, findings),
        prose_of(BlockKind::Notes, page, findings),
    )
}

fn prose_of(kind: BlockKind, page: &Page<'_>, findings: &mut Findings) -> Option<Prose> {
    let mut blocks = page.prose.iter().filter(|block| block.kind.value == kind);
    let first = blocks.next()?;
    for second in blocks {
        findings.push(
            Diagnostic::new(
                Code::BlockTwice,
                second.header,
                format!("there is a second block `{}:`", kind.word()),
            )
            .other(first.header, "the first one")
            .help("put all of it into one"),
        );
    }
    let prose = first.body.iter().find_map(|line| match line {
        BodyItem::Prose(prose) => Some(prose.clone()),
        BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Entry(_) | BodyItem::Junk(_) => None,
    });
    if prose.is_none() {
        findings.push(
            Diagnostic::new(
                Code::EmptyBlock,
                first.header,
                format!("nothing stands under `{}:`", kind.word()),
            )
            .help("write a few words below it, indented, or take it out"),
        );
    }
    prose
}
