//! `prose-looks-like-entry`: a line of prose that reads as an entry.
//!
//! A line indented deeper than its entry is prose. One space too many turns the water into a remark about
//! the flour, and the dough is mixed dry; so prose that reads as a quantity and a known ingredient, or as a
//! time and a known verb, is pointed at.

use crate::diag::{Code, Diagnostic, Report};
use crate::model::lower::Scene;
use crate::model::lower::page::{Page, entries};
use crate::model::lower::resolve::{Meaning, resolve};
use crate::model::verbs::Verb;
use crate::source::Spanned;
use crate::syntax;
use crate::syntax::tree::{Block, BlockKind, EntryKind, StepTime};

pub(super) fn check(page: &Page<'_>, scene: &Scene<'_>, report: &mut Report) {
    let plain = page.draft.blocks.iter().map(AsRef::as_ref);
    for block in plain.chain(page.variations.iter().copied()) {
        for prose in entries(block).filter_map(|entry| entry.prose.as_ref()) {
            let lines = prose
                .lines
                .iter()
                .filter(|line| reads_as_entry(block, line, scene));
            report.extend(lines.map(|line| fault(line, block.kind.value)));
        }
    }
}

fn reads_as_entry(block: &Block, line: &Spanned<String>, scene: &Scene<'_>) -> bool {
    match syntax::read_entry(line.value.trim(), line.span, block.kind.value) {
        Some(EntryKind::Formula(formula)) => !matches!(
            resolve(scene, None, &formula.name.value).meaning,
            Meaning::Nothing
        ),
        // `then turn the loaf` is how people write prose; a time in front of a verb is not.
        Some(EntryKind::Step(step)) => {
            let first = step.words.split_whitespace().next();
            step.time.value != StepTime::Then && first.and_then(Verb::of).is_some()
        }
        _ => false,
    }
}

fn fault(line: &Spanned<String>, kind: BlockKind) -> Diagnostic {
    Diagnostic::new(
        Code::ProseLooksLikeEntry,
        line.span,
        "this reads as an entry, but stands so deep that it is prose",
    )
    .label(format!("not part of the {}", kind.word()))
    .help("give it the indent of the entries around it, or begin it with another word")
}
