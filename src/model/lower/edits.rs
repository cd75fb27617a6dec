//! The entries of a variation carried out on a draft, before it is lowered again.
//!
//! Owns where a change goes. What the changed lines mean, and whether they make a bread, is found out by
//! lowering the draft like any other.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::locate::{Search, Spot, Wanted, tiers};
use super::names::{Among, Found};
use super::page::{Draft, entries};
use super::resolve::resolve;
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
    main: BlockId,
    variation: &'tree Block,
    scope: Scope,
    keys: BTreeMap<&'tree str, Span>,
    /// The entries that went in behind a step.
    inserted: BTreeSet<Span>,
}

/// A change that cannot be made; why has been reported.
struct Reported;

/// Where a variation's entries apply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Scope {
    /// Nothing has been said: the dough first.
    Open,
    /// `in STAGE`.
    Within(BlockId),
    /// `in` something that is not there; it has been reported, and what follows is skipped.
    Lost,
}

impl<'tree, 'scene> Editor<'tree, 'scene> {
    /// Starts from the plain draft.
    pub(super) fn new(
        draft: &Draft<'tree>,
        scene: &'scene Scene<'scene>,
        main: BlockId,
        variation: &'tree Block,
    ) -> Self {
        Self {
            draft: draft.clone(),
            dropped: BTreeSet::new(),
            scene,
            main,
            variation,
            scope: Scope::Open,
            keys: BTreeMap::new(),
            inserted: BTreeSet::new(),
        }
    }

    /// Carries out every entry of the variation.
    pub(super) fn apply_all(&mut self, findings: &mut Findings) {
        for entry in entries(self.variation) {
            self.apply(entry, findings);
        }
    }

    fn apply(&mut self, entry: &'tree Entry, findings: &mut Findings) {
        match &entry.kind {
            EntryKind::Key(line) => self.set_key(line, findings),
            EntryKind::Scope(name) => self.set_scope(name, findings),
            EntryKind::Note(_) => {}
            EntryKind::Property(_) | EntryKind::Measurement(_) => {
                let fault = blocks::not_allowed(entry, &entry.kind, BlockKind::Variation);
                findings.report.extend(fault);
            }
            _ if self.scope == Scope::Lost => {}
            EntryKind::Without(name) => self.leave_out(name, findings),
            EntryKind::Step(step) => self.put_step(entry, step, findings),
            EntryKind::Formula(line) => self.put_line(entry, line, findings),
        }
    }

    fn set_key(&mut self, line: &'tree KeyLine, findings: &mut Findings) {
        let key = line.key.value.as_str();
        if let Some(first) = self.keys.insert(key, line.key.span) {
            findings.push(
                Diagnostic::new(Code::KeyTwice, line.key.span, format!("`{key}` is given twice"))
                    .other(first, "the first time")
                    .help("keep one of the two"),
            );
            return;
        }
        self.draft.keys.retain(|other| other.key.value != key);
        self.draft.keys.push(Cow::Borrowed(line));
    }

    fn set_scope(&mut self, name: &Spanned<String>, findings: &mut Findings) {
        self.scope = match self.scene.names.find(&fold_name(&name.value), Among::All) {
            Found::One(id) => Scope::Within(id),
            Found::Several(ids) => {
                findings.push(misses::unsure_block(self.scene, name, &ids));
                Scope::Lost
            }
            Found::Nothing => {
                findings.push(misses::no_block(self.scene, name));
                Scope::Lost
            }
        };
    }

    /// `without X`: an ingredient, a whole stage, or a step by its verb.
    fn leave_out(&mut self, name: &Spanned<String>, findings: &mut Findings) {
        let wanted = Wanted::of(self.scene, &name.value);
        let mut found = self.search().lines(&wanted);
        if let (true, Some(stage)) = (found.is_empty(), wanted.stage()) {
            // Under a formula a stage joins without a line, and a topping never has one.
            self.dropped.insert(stage);
            return;
        }
        if let (true, Some(verb)) = (found.is_empty(), Verb::of(&name.value)) {
            found = self.search().steps(verb);
        }
        if let Some(spot) = self.expect_one(name, &found, findings) {
            self.remove(spot);
        }
    }

    /// A step takes the place of the first one with its verb, or goes in behind another.
    fn put_step(&mut self, entry: &'tree Entry, step: &'tree StepLine, findings: &mut Findings) {
        let mut new = entry.clone();
        if let Some(after) = &step.after {
            if let EntryKind::Step(step) = &mut new.kind {
                step.after = None;
            }
            if let Some(spot) = self.expect_step(after, findings) {
                self.insert_after(spot, new);
            }
            return;
        }
        let Some(verb) = Verb::first_in(&step.words) else {
            findings.push(misses::no_verb(&step.text));
            return;
        };
        let found = self.search().steps(verb);
        let Some(spot) = found.first() else {
            let missing = Spanned::new(verb.word.to_owned(), step.text.span);
            findings.push(misses::no_step(self, &missing));
            return;
        };
        if let Some(old) = self.entry_mut(*spot) {
            if new.prose.is_none() {
                // What was said of how it is done still holds.
                new.prose.clone_from(&old.prose);
            }
            *old = new;
        }
    }

    /// A quantity sets the amount of a thing, takes the place of another, or goes in anew.
    fn put_line(&mut self, entry: &'tree Entry, line: &'tree FormulaLine, findings: &mut Findings) {
        let Ok(old) = self.find_old(line, findings) else {
            return;
        };
        let mut new = plain_entry(entry, line);
        let scene = self.scene;
        if let (None, Some(old)) = (&line.instead_of, old.and_then(|spot| self.entry_mut(spot))) {
            keep_what_is_not_said(scene, &mut new, old);
        }
        match (&line.after, old) {
            (None, Some(spot)) => {
                if let Some(old) = self.entry_mut(spot) {
                    *old = new;
                }
            }
            (None, None) => self.insert_before_steps(new),
            (Some(after), old) => {
                // The step is looked for first, so that a missing one leaves the draft as it is.
                if self.expect_step(after, findings).is_some() {
                    if let Some(spot) = old {
                        self.remove(spot);
                    }
                    if let Some(spot) = self.expect_step(after, findings) {
                        self.insert_after(spot, new);
                    }
                }
            }
        }
    }

    /// Finds the line that a line sets or replaces.
    fn find_old(&self, line: &FormulaLine, findings: &mut Findings) -> Result<Option<Spot>, Reported> {
        let name = line.instead_of.as_ref().unwrap_or(&line.name);
        let wanted = Wanted::of(self.scene, &name.value);
        let found = self.search().lines(&wanted);
        match (found.as_slice(), &line.instead_of) {
            ([], None) => Ok(None),
            (found, _) => self.expect_one(name, found, findings).map(Some).ok_or(Reported),
        }
    }

    /// Gives where things are looked for by now.
    pub(super) fn search(&self) -> Search<'_, 'tree> {
        let scope = match self.scope {
            Scope::Within(id) => Some(id),
            Scope::Open | Scope::Lost => None,
        };
        Search {
            draft: &self.draft,
            scene: self.scene,
            tiers: tiers(&self.draft, self.scene, self.main, scope),
            ours: self.variation.span,
        }
    }

    fn expect_one(&self, name: &Spanned<String>, found: &[Spot], findings: &mut Findings) -> Option<Spot> {
        match found {
            [spot] => return Some(*spot),
            [] => findings.push(misses::nothing(self, name)),
            _ => findings.push(misses::unsure(self.scene, name, found)),
        }
        None
    }

    fn expect_step(&self, after: &Spanned<String>, findings: &mut Findings) -> Option<Spot> {
        let found = Verb::of(&after.value)
            .map(|verb| self.search().steps(verb))
            .unwrap_or_default();
        if found.is_empty() {
            findings.push(misses::no_step(self, after));
        }
        found.first().copied()
    }

    fn body_mut(&mut self, id: BlockId) -> Option<&mut Vec<BodyItem>> {
        self.draft
            .blocks
            .get_mut(id.0)
            .map(|block| &mut block.to_mut().body)
    }

    fn entry_mut(&mut self, spot: Spot) -> Option<&mut Entry> {
        match self.body_mut(spot.block)?.get_mut(spot.item)? {
            BodyItem::Entry(entry) => Some(entry),
            BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => None,
        }
    }

    fn remove(&mut self, spot: Spot) {
        if let Some(body) = self.body_mut(spot.block)
            && spot.item < body.len()
        {
            body.remove(spot.item);
        }
    }

    /// What is added goes in before the first step; without steps, at the end.
    fn insert_before_steps(&mut self, new: Entry) {
        let block = match self.scope {
            Scope::Within(id) => id,
            Scope::Open | Scope::Lost => self.main,
        };
        if let Some(body) = self.body_mut(block) {
            let first_step = body.iter().position(|item| match item {
                BodyItem::Entry(entry) => matches!(entry.kind, EntryKind::Step(_)),
                BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => false,
            });
            body.insert(first_step.unwrap_or(body.len()), BodyItem::Entry(new));
        }
    }

    /// Several things behind one step stand in the order in which the variation names them.
    fn insert_after(&mut self, spot: Spot, new: Entry) {
        let before = self.inserted.clone();
        self.inserted.insert(new.span);
        if let Some(body) = self.body_mut(spot.block) {
            let is_ours = |item: &BodyItem| match item {
                BodyItem::Entry(entry) => before.contains(&entry.span),
                BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => false,
            };
            let behind = body
                .iter()
                .skip(spot.item + 1)
                .take_while(|item| is_ours(item))
                .count();
            let place = (spot.item + 1 + behind).min(body.len());
            body.insert(place, BodyItem::Entry(new));
        }
    }
}

/// Gives a variation's line as it stands in the recipe.
fn plain_entry(entry: &Entry, line: &FormulaLine) -> Entry {
    let mut line = line.clone();
    line.instead_of = None;
    line.after = None;
    Entry {
        kind: EntryKind::Formula(line),
        ..entry.clone()
    }
}

/// A line that sets an amount leaves temperature and preparation as they were, unless it says otherwise.
fn keep_what_is_not_said(scene: &Scene<'_>, new: &mut Entry, old: &Entry) {
    if new.prose.is_none() {
        new.prose.clone_from(&old.prose);
    }
    if let (EntryKind::Formula(new), EntryKind::Formula(old)) = (&mut new.kind, &old.kind) {
        new.at = new.at.take().or_else(|| old.at.clone());
        new.hydration = new.hydration.take().or_else(|| old.hydration.clone());
        new.as_known = new.as_known.take().or_else(|| old.as_known.clone());
        let is_prepared = !resolve(scene, None, &new.name.value).preparation.is_empty();
        if !is_prepared && new.preparation.is_none() {
            new.name.clone_from(&old.name);
            new.preparation.clone_from(&old.preparation);
        }
    }
}
