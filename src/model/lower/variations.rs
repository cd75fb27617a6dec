//! Variations: each is the page with its changes made, lowered and checked like any other.
//!
//! Owns what a faulty variation costs: it is left out, its other faults are told where they do not follow from
//! that, and what was said of the plain recipe is not said again.

use std::collections::BTreeSet;

use super::edits::Editor;
use super::locate::Index;
use super::names::{self, Wanted};
use super::page::{Draft, Page, entries, is_damaged};
use super::{Findings, Scene, lower_recipe};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::fold_name;
use crate::model::checks;
use crate::model::recipe::{Block, BlockId, Change, Entry, Faulty, Prose, Recipe, Says, Thing, Variation};
use crate::source::{Span, Spanned};
use crate::syntax::limits;
use crate::syntax::tree::{self, BodyItem, EntryKind};

/// Makes the variations of a page that can be made, and beside them those with an error.
pub(in crate::model) fn lower_variations(
    page: &Page<'_>,
    scene: &Scene<'_>,
    plain: &Recipe,
    findings: &mut Findings,
) -> (Vec<Variation>, Vec<Faulty>) {
    let (mut made, mut faulty) = (Vec::new(), Vec::new());
    if page.variations.is_empty() {
        return (made, faulty);
    }
    let told: BTreeSet<(Code, Span)> = findings
        .report
        .iter()
        .map(|fault| (fault.code, fault.primary.span))
        .collect();
    let index = Index::of(&page.draft, scene);
    let mut names: Vec<(String, Span)> = Vec::new();
    for block in page.variations.iter().take(limits::VARIATIONS) {
        let Some(name) = expect_own_name(block, &mut names, findings) else {
            continue;
        };
        let mut found = Findings::default();
        match make(block, &index, page, scene, plain, &mut found) {
            Some(recipe) if !found.report.has_errors() && page.is_whole() => made.push(Variation {
                name,
                changes: changes(block, scene, &recipe),
                recipe,
                prose: prose(block),
            }),
            Some(recipe) => faulty.push(Faulty {
                recipe,
                variation: Some(name),
                doubts: std::mem::take(&mut found.doubts),
            }),
            None => {}
        }
        findings.report.extend(news(found.report, &told, block));
    }
    (made, faulty)
}

/// A variation needs a name, by which it is asked for.
const NAME: Wanted = Wanted {
    block: "variation",
    what: "name",
    below: "write what changes below it, indented",
    code: Code::BadQualifier,
    help: "write one behind the word: `variation plain:`",
};

/// Gives the name of a variation, which no other one has.
fn expect_own_name(
    block: &tree::Block,
    taken: &mut Vec<(String, Span)>,
    findings: &mut Findings,
) -> Option<Spanned<String>> {
    let name = names::expect_name(block, &NAME, findings)?;
    let folded = fold_name(&name.value);
    if let Some((_, first)) = taken.iter().find(|(known, _)| *known == folded) {
        findings.push(
            Diagnostic::new(
                Code::BlockTwice,
                block.header,
                format!("there is a second variation {}", name.value),
            )
            .other(*first, "the first one")
            .help("give it a name of its own"),
        );
        return None;
    }
    taken.push((folded, block.header));
    if entries(block).next().is_none() && !is_damaged(block) {
        findings.push(
            Diagnostic::new(
                Code::EmptyBlock,
                block.header,
                format!("the variation {} changes nothing", name.value),
            )
            .help("write what changes below it, indented: `without honey`"),
        );
        return None;
    }
    Some(name.clone())
}

/// Makes the changes and lowers what they make; gives nothing where not every change could be made.
fn make(
    block: &tree::Block,
    index: &Index,
    page: &Page<'_>,
    scene: &Scene<'_>,
    plain: &Recipe,
    found: &mut Findings,
) -> Option<Recipe> {
    let is_scope = |item: &BodyItem| matches!(item, BodyItem::Junk(span) if scene.source.slice(*span).starts_with("in "));
    if block.body.iter().any(is_scope) {
        // It is not known which block the entries after it mean.
        return None;
    }
    let mut editor = Editor::new(&page.draft, index, scene, plain.main, block);
    editor.apply_all(found);
    let Editor {
        draft,
        dropped,
        misses_lost,
        ..
    } = editor;
    if misses_lost || is_damaged(block) || found.report.has_errors() {
        // Of half a change only what its own lines say is looked at; all else would follow from what is missing.
        let mut ahead = Findings::default();
        let _ = lower_recipe(&draft, page, &scene.changed(&draft), &mut ahead);
        let own = ahead.report.into_faults().into_iter();
        found
            .report
            .extend(own.filter(|fault| block.span.covers(fault.primary.span)));
        return None;
    }
    let poured_before = poured(&plain.blocks);
    let mut draft = without(&draft, &dropped);
    loop {
        let names = scene.changed(&draft);
        let mut ahead = Findings::default();
        let recipe = lower_recipe(&draft, page, &names, &mut ahead);
        let idle = idle(&recipe, &poured_before);
        if idle.is_empty() {
            checks::check_recipe(&recipe, page.damaged, &mut ahead);
            found.report.merge(ahead.report);
            found.doubts = ahead.doubts;
            return Some(recipe);
        }
        draft = without(&draft, &idle);
    }
}

/// Gives the headers of the stages that some line pours.
fn poured(blocks: &[Block]) -> BTreeSet<Span> {
    let lines = blocks.iter().flat_map(|block| &block.entries);
    lines
        .filter_map(|entry| match entry {
            Entry::Line(line) => match line.thing {
                Thing::Stage(id) => blocks.get(id.0).map(|block| block.span),
                Thing::Ingredient(_) | Thing::Unlisted { .. } | Thing::Mixture(_) => None,
            },
            Entry::Step(_) | Entry::Note(_) => None,
        })
        .collect()
}

/// Finds the stages that a change has left without use; they are left out with it, which may free others.
fn idle(recipe: &Recipe, poured_before: &BTreeSet<Span>) -> BTreeSet<BlockId> {
    let poured_now = poured(&recipe.blocks);
    recipe
        .blocks
        .iter()
        .filter(|block| poured_before.contains(&block.span) && !poured_now.contains(&block.span))
        .map(|block| block.id)
        .collect()
}

fn without<'tree>(draft: &Draft<'tree>, dropped: &BTreeSet<BlockId>) -> Draft<'tree> {
    let blocks = draft.blocks.iter().enumerate();
    Draft {
        keys: draft.keys.clone(),
        blocks: blocks
            .filter(|(place, _)| !dropped.contains(&BlockId(*place)))
            .map(|(_, block)| block.clone())
            .collect(),
    }
}

/// Gives what a variation's recipe is blamed for that the plain one is not.
fn news<'fault>(
    report: Report,
    told: &'fault BTreeSet<(Code, Span)>,
    block: &'fault tree::Block,
) -> impl Iterator<Item = Diagnostic> + 'fault {
    report
        .into_faults()
        .into_iter()
        .filter(|fault| !told.contains(&(fault.code, fault.primary.span)))
        .map(|fault| match &block.name {
            Some(name) => fault.in_variation(&name.value, block.span, block.header),
            None => fault,
        })
}

/// Gives what the entries say, for the card.
fn changes(block: &tree::Block, scene: &Scene<'_>, recipe: &Recipe) -> Vec<Change> {
    entries(block)
        .filter(|entry| !matches!(entry.kind, EntryKind::Note(_)))
        .map(|entry| change(entry, scene, recipe))
        .collect()
}

fn change(entry: &tree::Entry, scene: &Scene<'_>, recipe: &Recipe) -> Change {
    let value = |words: &Option<Spanned<String>>| words.as_ref().map(|words| words.value.clone());
    let mut made = recipe.blocks.iter().flat_map(|block| &block.entries);
    let made = made.find(|made| match made {
        Entry::Line(line) => line.span == entry.span,
        Entry::Step(step) => step.span == entry.span,
        Entry::Note(_) => false,
    });
    let words = |span| {
        let words = scene.source.slice(span).split_whitespace();
        words.collect::<Vec<_>>().join(" ")
    };
    let says = match (&entry.kind, made) {
        (EntryKind::Without(name), _) => Says::Without(name.value.clone()),
        (EntryKind::Scope(name), _) => Says::Within(name.value.clone()),
        (EntryKind::Step(line), Some(Entry::Step(step))) => Says::Step {
            step: Box::new(step.clone()),
            after: value(&line.after),
        },
        (EntryKind::Formula(line), Some(Entry::Line(made))) if line.hydration.is_none() => Says::Amount {
            words: format!("{} {}", words(line.quantity.span), line.name.value),
            at: made.at.clone(),
            preparation: value(&line.preparation),
            instead_of: value(&line.instead_of),
            after: value(&line.after),
        },
        _ => Says::Other,
    };
    Change {
        written: words(entry.span),
        says,
    }
}

/// Gives the prose below the entries, and the remarks.
fn prose(block: &tree::Block) -> Vec<Prose> {
    entries(block)
        .flat_map(|entry| {
            let remark = match &entry.kind {
                EntryKind::Note(text) => Some(Prose {
                    span: text.span,
                    lines: vec![text.clone()],
                }),
                _ => None,
            };
            remark.into_iter().chain(entry.prose.clone())
        })
        .collect()
}
