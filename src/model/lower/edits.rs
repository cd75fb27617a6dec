//! The entries of a variation carried out on a draft, before it is lowered again.
//!
//! Owns where a change goes. What the changed lines mean, and whether they make a bread, is found out by
//! lowering the draft like any other.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::locate::{Identity, Index, Search, Spot, tiers};
use super::names::{Among, Found};
use super::page::{Draft, entries};
use super::resolve::{Meaning, resolve};
use super::words::holds_words;
use super::{Findings, Scene, blocks, misses, splice};
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::fold_name;
use crate::model::recipe::BlockId;
use crate::model::verbs::Verb;
use crate::source::{Span, Spanned};
use crate::syntax::tree::{
    Block, BlockKind, BodyItem, Entry, EntryKind, FormulaLine, KeyLine, Quantity, StepLine,
};

/// A draft while a variation changes it.
pub(super) struct Editor<'tree, 'scene> {
    /// The draft as it is by now.
    pub(super) draft: Draft<'tree>,
    /// Whether a change names a line that could not be read, so that it cannot be made.
    pub(super) misses_lost: bool,
    /// Stages that are left out whole.
    pub(super) dropped: BTreeSet<BlockId>,
    /// What the names of the plain recipe mean.
    pub(super) scene: &'scene Scene<'scene>,
    plain: &'scene Index,
    main: BlockId,
    variation: &'tree Block,
    scope: Scope,
    tiers: Vec<Vec<BlockId>>,
    keys: BTreeMap<&'tree str, Span>,
    own: Index,
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
        plain: &'scene Index,
        scene: &'scene Scene<'scene>,
        main: BlockId,
        variation: &'tree Block,
    ) -> Self {
        Self {
            draft: draft.clone(),
            misses_lost: false,
            dropped: BTreeSet::new(),
            scene,
            plain,
            main,
            variation,
            scope: Scope::Open,
            tiers: tiers(draft, scene, main, None),
            keys: BTreeMap::new(),
            own: Index::default(),
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
        if let Scope::Within(id) = self.scope {
            self.tiers = tiers(&self.draft, self.scene, self.main, Some(id));
        }
    }

    /// `without X`: an ingredient, a whole stage, or a step by its verb.
    fn leave_out(&mut self, name: &Spanned<String>, findings: &mut Findings) {
        let mut found = self.find_thing(&name.value);
        if found.is_empty() && self.drop_stage(&name.value) {
            return;
        }
        if found.is_empty() {
            found = self.find_steps(&name.value);
        }
        if let Some(spot) = self.expect_one(name, &found, findings) {
            splice::remove(&mut self.draft, spot);
        }
    }

    /// Leaves a whole stage out where a name is one: under a formula a stage joins without a line, and a
    /// topping never has one.
    fn drop_stage(&mut self, name: &str) -> bool {
        match Identity::of_name(self.scene, name) {
            Identity::Stage(stage) => {
                self.dropped.insert(stage);
                true
            }
            _ => false,
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
                self.insert_behind(spot, new);
            }
            return;
        }
        let Some(verb) = Verb::first_in(&step.words) else {
            findings.push(misses::no_verb(&step.text));
            return;
        };
        let missing = Spanned::new(verb.word.to_owned(), step.text.span);
        let Some(spot) = self.expect_step(&missing, findings) else {
            return;
        };
        if let Some(old) = splice::entry_mut(&mut self.draft, spot) {
            if new.prose.is_none() {
                // What was said of how it is done still holds.
                new.prose.clone_from(&old.prose);
            }
            self.own.add(spot.block, &new, self.scene);
            *old = new;
        }
    }

    /// A quantity sets the amount of a thing, takes the place of another, or goes in anew.
    fn put_line(&mut self, entry: &'tree Entry, line: &'tree FormulaLine, findings: &mut Findings) {
        let Ok(old) = self.find_old(line, findings) else {
            return;
        };
        let mut new = plain_entry(entry, line);
        if let (None, Some(spot)) = (&line.instead_of, old)
            && let Some(old) = splice::entry_mut(&mut self.draft, spot)
        {
            keep_what_is_not_said(self.scene, &mut new, old);
        }
        match (&line.after, old) {
            (None, Some(spot)) => {
                self.own.add(spot.block, &new, self.scene);
                if let Some(old) = splice::entry_mut(&mut self.draft, spot) {
                    *old = new;
                }
            }
            (None, None) => {
                let block = match self.scope {
                    Scope::Within(id) => id,
                    Scope::Open | Scope::Lost => self.main,
                };
                self.own.add(block, &new, self.scene);
                splice::insert_before_steps(&mut self.draft, block, new);
            }
            (Some(after), old) => {
                let Some(step) = self.expect_step(after, findings) else {
                    return;
                };
                self.insert_behind(step, new);
                // Taken out last: the line may stand above the step, whose place would change.
                if let Some(old) = old.and_then(|old| self.moved(old, step)) {
                    splice::remove(&mut self.draft, old);
                }
            }
        }
    }

    fn insert_behind(&mut self, step: Spot, new: Entry) {
        let span = new.span;
        self.own.add(step.block, &new, self.scene);
        splice::insert_behind(&mut self.draft, step, new, &self.inserted);
        self.inserted.insert(span);
    }

    /// Gives where a line stands after something went in behind a step.
    fn moved(&self, old: Spot, step: Spot) -> Option<Spot> {
        let body = &self.draft.blocks.get(old.block.0)?.body;
        let from = if old.block == step.block && old.item > step.item {
            step.item
        } else {
            0
        };
        let is_old = |item: &BodyItem| matches!(item, BodyItem::Entry(entry) if entry.span == old.span);
        let item = from + body.iter().skip(from).position(is_old)?;
        Some(Spot { item, ..old })
    }

    /// Finds the line that a line sets or replaces.
    fn find_old(&mut self, line: &FormulaLine, findings: &mut Findings) -> Result<Option<Spot>, Reported> {
        let name = line.instead_of.as_ref().unwrap_or(&line.name);
        let found = self.find_thing(&name.value);
        match (found.as_slice(), &line.instead_of) {
            ([], None) => Ok(None),
            ([], Some(_)) if self.drop_stage(&name.value) => Ok(None),
            (found, _) => self.expect_one(name, found, findings).map(Some).ok_or(Reported),
        }
    }

    /// Gives where things are looked for by now.
    pub(super) fn search(&self) -> Search<'_, 'tree> {
        Search {
            draft: &self.draft,
            tiers: &self.tiers,
            plain: self.plain,
            own: &self.own,
        }
    }

    fn find_thing(&self, name: &str) -> Vec<Spot> {
        let search = self.search();
        let found = search.find(&Identity::of_name(self.scene, name));
        match Identity::family_of(self.scene, name) {
            Some(family) if found.is_empty() => search.find(&family),
            _ => found,
        }
    }

    /// Says whether a line of the recipe that was not understood, and was reported, is the one that is named.
    fn is_lost(&self, name: &str) -> bool {
        let name = fold_name(name);
        let items = self.draft.blocks.iter().flat_map(|block| &block.body);
        let mut lines = items.filter_map(|item| match item {
            BodyItem::Junk(span) => Some(*span),
            // A unit that is none is read as the first word of a name, and a count of no known thing is an error.
            BodyItem::Entry(entry) => match &entry.kind {
                EntryKind::Formula(line) if matches!(line.quantity.value, Quantity::Count(_)) => {
                    let meaning = resolve(self.scene, None, &line.name.value).meaning;
                    matches!(meaning, Meaning::Nothing).then_some(entry.span)
                }
                _ => None,
            },
            BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) => None,
        });
        lines.any(|span| {
            let text = self.scene.source.slice(span);
            let verb = Verb::first_in(text);
            holds_words(&fold_name(text), &name) || verb.is_some() && verb == Verb::of(&name)
        })
    }

    fn find_steps(&self, verb: &str) -> Vec<Spot> {
        Verb::of(verb)
            .map(|verb| self.search().find(&Identity::Step(verb.word)))
            .unwrap_or_default()
    }

    fn expect_one(
        &mut self,
        name: &Spanned<String>,
        found: &[Spot],
        findings: &mut Findings,
    ) -> Option<Spot> {
        match found {
            [spot] => return Some(*spot),
            [] if self.is_lost(&name.value) => self.misses_lost = true,
            [] => findings.push(misses::nothing(self, name)),
            _ => findings.push(misses::unsure(self.scene, name, found)),
        }
        None
    }

    fn expect_step(&mut self, verb: &Spanned<String>, findings: &mut Findings) -> Option<Spot> {
        let found = self.find_steps(&verb.value);
        if found.is_empty() {
            if self.is_lost(&verb.value) {
                self.misses_lost = true;
            } else {
                findings.push(misses::no_step(self, verb));
            }
        }
        found.first().copied()
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
