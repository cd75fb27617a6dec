//! A recipe with settled weights while its lines change. Owns that all that hangs on a line follows: what its
//! block weighs, what 100 % of the block is, what is poured of it.

use std::sync::Arc;

use super::{Change, Shift};
use crate::model::catalog::Ingredient;
use crate::model::recipe::{Amount, Block, BlockId, Entry, Line, Recipe, Thing};
use crate::quantity::{Grams, Ratio};
use crate::sheet::compute::Inside;
use crate::sheet::reach::{self, Reach};
use crate::sheet::types::Figures;
use crate::sheet::worked::{What, Worked, WorkedLine, entry_line};
use crate::sheet::{forms, solve};
use crate::source::Spanned;

/// A recipe while it changes.
pub(super) struct Draft<'draft> {
    pub(super) recipe: &'draft mut Recipe,
    pub(super) worked: &'draft mut Worked,
    /// How much of each block reaches the dough, before anything changed.
    pub(super) reaches: Vec<Reach>,
    before: Worked,
    figures: Figures,
    changes: Vec<(Place, Change)>,
}

/// A weighed line: its block, and its place among the block's worked lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) block: BlockId,
    pub(super) line: usize,
}

impl<'draft> Draft<'draft> {
    /// Begins with a recipe as it is.
    pub(super) fn new(recipe: &'draft mut Recipe, worked: &'draft mut Worked) -> Self {
        Self {
            reaches: reach::of_recipe(recipe, worked),
            before: worked.clone(),
            figures: Inside::of(recipe, worked).figures,
            changes: Vec::new(),
            recipe,
            worked,
        }
    }

    /// Gives the weighed lines of what reaches the dough: those of the dough first, else in the order of the page.
    pub(super) fn places(&self) -> Vec<Place> {
        let main = self.recipe.main;
        let others = self.recipe.blocks.iter().map(|block| block.id);
        let ids = std::iter::once(main).chain(others.filter(|id| *id != main));
        ids.filter(|id| self.reach(*id).is_positive())
            .flat_map(|id| self.places_in(id))
            .collect()
    }

    /// Gives the weighed lines of a block.
    pub(super) fn places_in(&self, block: BlockId) -> Vec<Place> {
        let lines = self.worked.block(block).map_or(0, |block| block.lines.len());
        let places = (0..lines).map(|line| Place { block, line });
        places
            .filter(|place| self.line(*place).is_some() && self.weighed(*place).is_some())
            .collect()
    }

    /// Gives the line at a place; nothing for a stage that a formula pours by itself.
    pub(super) fn line(&self, place: Place) -> Option<&Line> {
        match self.worked_line(place)?.what {
            What::Entry(at) => entry_line(self.block(place.block)?, at),
            What::Joined(_) => None,
        }
    }

    /// Gives the ingredient at a place.
    pub(super) fn ingredient(&self, place: Place) -> Option<&Arc<Ingredient>> {
        match &self.line(place)?.thing {
            Thing::Ingredient(ingredient)
            | Thing::Unlisted {
                like: Some(ingredient),
            } => Some(ingredient),
            Thing::Unlisted { like: None } | Thing::Stage(_) | Thing::Mixture(_) => None,
        }
    }

    /// Gives what a line weighs, in grams; nought for one that is not weighed.
    pub(super) fn weight(&self, place: Place) -> Ratio {
        self.weighed(place).cloned().unwrap_or_default()
    }

    /// Gives the part of a block that reaches the dough, as a fraction of one.
    pub(super) fn reach(&self, block: BlockId) -> Ratio {
        let reach = self.reaches.get(block.0);
        reach.map(|reach| reach.all.clone()).unwrap_or_default()
    }

    /// Sets what a line weighs.
    pub(super) fn set(&mut self, place: Place, weight: Ratio) {
        let before = self.weight(place);
        let name = self.line(place).map(|line| line.name.value.clone());
        if let Some(line) = self.worked_line_mut(place) {
            line.weight = Some(weight.clone());
        }
        self.note(place, name.clone(), name.unwrap_or_default(), before, weight);
    }

    /// Changes what a line is, and nothing else.
    pub(super) fn set_thing(&mut self, place: Place, thing: Thing) {
        if let Some(line) = self.line_mut(place) {
            line.thing = thing;
        }
    }

    /// Puts an ingredient in the place of another.
    pub(super) fn replace(&mut self, place: Place, new: &Arc<Ingredient>, name: &str, weight: &Ratio) {
        let before = self.weight(place);
        let old = self.line(place).map(|line| line.name.value.clone());
        let is_alike = self.ingredient(place).is_some_and(|old| old.kind == new.kind);
        if let Some(line) = self.line_mut(place) {
            line.thing = Thing::Ingredient(Arc::clone(new));
            name.clone_into(&mut line.name.value);
            line.amount.value = Amount::Weight(Grams(weight.clone()));
            line.measure = None;
            // Softness and warmth are those of the thing that was written; what is like it takes them over.
            if !is_alike {
                line.preparation = None;
                line.at = None;
            }
        }
        if let Some(line) = self.worked_line_mut(place) {
            line.weight = Some(weight.clone());
        }
        self.note(place, old, name.to_owned(), before, weight.clone());
    }

    /// Puts a new line behind another, to go in at the same step.
    pub(super) fn insert_behind(&mut self, place: Place, new: &Arc<Ingredient>, name: &str, weight: &Ratio) {
        let Some(What::Entry(entry)) = self.worked_line(place).map(|line| line.what) else {
            return;
        };
        let step = self.worked_line(place).and_then(|line| line.step);
        let Some(beside) = self.line(place).cloned() else {
            return;
        };
        let line = Line {
            amount: Spanned::new(Amount::Weight(Grams(weight.clone())), beside.span),
            name: Spanned::new(name.to_owned(), beside.name.span),
            thing: Thing::Ingredient(Arc::clone(new)),
            measure: None,
            preparation: None,
            flour_meant: None,
            at: None,
            prose: None,
            span: beside.span,
        };
        if let Some(block) = self.recipe.blocks.get_mut(place.block.0) {
            block.entries.insert(entry + 1, Entry::Line(line));
        }
        if let Some(block) = self.worked.blocks.get_mut(place.block.0) {
            for line in &mut block.lines {
                if let What::Entry(at) = &mut line.what
                    && *at > entry
                {
                    *at += 1;
                }
            }
            let line = WorkedLine {
                what: What::Entry(entry + 1),
                weight: Some(weight.clone()),
                step,
            };
            block.lines.insert(place.line + 1, line);
        }
        for (other, _) in &mut self.changes {
            if other.block == place.block && other.line > place.line {
                other.line += 1;
            }
        }
        let new = Place {
            line: place.line + 1,
            ..place
        };
        self.note(new, None, name.to_owned(), Ratio::ZERO, weight.clone());
    }

    /// Lets totals, flour and what is poured follow, and gives what changed in lines and in figures.
    pub(super) fn finish(self) -> (Vec<Change>, Vec<Shift>) {
        let Self {
            recipe,
            worked,
            before,
            figures,
            changes,
            ..
        } = self;
        let mut poured = Vec::new();
        for id in worked.order.clone() {
            poured.extend(follow(recipe, worked, &before, id));
        }
        let after = Inside::of(recipe, worked).figures;
        let changes = changes.into_iter().map(|(_, change)| change).chain(poured);
        (
            changes.filter(Change::is_one).collect(),
            Shift::between(&figures, &after),
        )
    }

    fn note(&mut self, place: Place, old: Option<String>, new: String, before: Ratio, after: Ratio) {
        if let Some((_, change)) = self.changes.iter_mut().find(|(other, _)| *other == place) {
            change.after = Grams(after);
            change.new = new;
            return;
        }
        let block = self.block(place.block).map(|block| block.title.clone());
        let change = Change {
            block: block.unwrap_or_default(),
            old,
            new,
            before: Grams(before),
            after: Grams(after),
        };
        self.changes.push((place, change));
    }

    fn weighed(&self, place: Place) -> Option<&Ratio> {
        self.worked_line(place)?.weight.as_ref()
    }

    fn block(&self, id: BlockId) -> Option<&Block> {
        self.recipe.blocks.get(id.0)
    }

    fn worked_line(&self, place: Place) -> Option<&WorkedLine> {
        self.worked.block(place.block)?.lines.get(place.line)
    }

    fn worked_line_mut(&mut self, place: Place) -> Option<&mut WorkedLine> {
        self.worked
            .blocks
            .get_mut(place.block.0)?
            .lines
            .get_mut(place.line)
    }

    fn line_mut(&mut self, place: Place) -> Option<&mut Line> {
        let What::Entry(at) = self.worked_line(place)?.what else {
            return None;
        };
        match self.recipe.blocks.get_mut(place.block.0)?.entries.get_mut(at)? {
            Entry::Line(line) => Some(line),
            Entry::Step(_) | Entry::Note(_) => None,
        }
    }
}

/// Works out anew what a block weighs and what 100 % of it is, and pours as much more of it as it has grown. Gives
/// the lines that say how much they pour and now pour something else.
fn follow(recipe: &Recipe, worked: &mut Worked, before: &Worked, id: BlockId) -> Vec<Change> {
    let (Some(block), Some(old)) = (recipe.blocks.get(id.0), before.block(id)) else {
        return Vec::new();
    };
    let old_flour = flour_base(recipe, before, block);
    let new_flour = flour_base(recipe, worked, block);
    let Some(new) = worked.blocks.get_mut(id.0) else {
        return Vec::new();
    };
    new.total = new.lines.iter().filter_map(|line| line.weight.as_ref()).sum();
    new.base = old.base.as_ref().map(|base| &(base + &new_flour) - &old_flour);
    let grown = new.total.checked_div(&old.total).unwrap_or(Ratio::ONE);
    if grown == Ratio::ONE || solve::is_extra(block.kind) {
        return Vec::new();
    }
    new.seed = &new.seed * &grown;
    let mut poured = Vec::new();
    for (other, weights) in recipe.blocks.iter().zip(&mut worked.blocks) {
        for line in &mut weights.lines {
            let entry = match line.what {
                What::Joined(_) => None,
                What::Entry(at) => entry_line(other, at),
            };
            let pours = match line.what {
                What::Joined(stage) => stage == id,
                What::Entry(_) => entry.and_then(forms::stage_of) == Some(id),
            };
            let (true, Some(weight)) = (pours, &mut line.weight) else {
                continue;
            };
            let before = std::mem::replace(weight, &*weight * &grown);
            if let Some(entry) = entry.filter(|entry| entry.amount.value != Amount::All) {
                poured.push(Change {
                    block: other.title.clone(),
                    old: Some(entry.name.value.clone()),
                    new: entry.name.value.clone(),
                    before: Grams(before),
                    after: Grams(weight.clone()),
                });
            }
        }
    }
    poured
}

/// Sums the flour on a block's own lines and, as percentages of a dough count, what 100 % of its parts is.
fn flour_base(recipe: &Recipe, worked: &Worked, block: &Block) -> Ratio {
    let lines = worked.block(block.id).map(|block| block.lines.as_slice());
    let of_line = |line: &WorkedLine| {
        let What::Entry(at) = line.what else { return None };
        let entry = entry_line(block, at)?;
        match forms::stage_of(entry) {
            Some(part) if forms::is_part(recipe, part) => worked.block(part)?.base.clone(),
            _ if forms::is_flour(&entry.thing) => line.weight.clone(),
            _ => None,
        }
    };
    lines.unwrap_or_default().iter().filter_map(of_line).sum()
}
