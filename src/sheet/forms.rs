//! Every formula line as a sum of unknown sizes: the language of lines put into the language of equations.
//!
//! A block has one unknown, what 100 % of its percentages stands for; in a block without flour it is the
//! unit that its proportions share.

use std::collections::BTreeSet;

use super::linear::Form;
use super::{faults, linear::Unknown};
use crate::diag::{Diagnostic, Report};
use crate::model::recipe::{Amount, Block, BlockId, BlockKind, Entry, Line, Recipe, Thing};
use crate::quantity::Ratio;
use crate::source::Span;

/// A block's lines as forms.
#[derive(Clone, Debug)]
pub(super) struct BlockForms {
    /// How its percentages count.
    pub(super) basis: Basis,
    /// The lines that are in the sums, in the order of the bench.
    pub(super) lines: Vec<LineForm>,
    /// All lines together.
    pub(super) total: Form,
}

/// A line as a form.
#[derive(Clone, Debug)]
pub(super) struct LineForm {
    /// The index of the entry in its block.
    pub(super) entry: usize,
    /// Its weight in grams.
    pub(super) form: Form,
}

/// How the percentages of a block count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Basis {
    /// Flours in percent, raised or lowered alike by this factor to make 100 %.
    Percent(Ratio),
    /// Flours in parts, so many of them together.
    Parts(Ratio),
    /// Some flour is weighed or comes with parts of the dough: an equation says what 100 % is.
    Weighed,
    /// No flour: percentages and parts are proportions to each other.
    Proportion,
}

/// Gives the unknown of a block.
pub(super) const fn unknown(block: BlockId) -> Unknown {
    block.0
}

/// Gives the lines of a block with the indices of their entries.
pub(super) fn lines(block: &Block) -> impl Iterator<Item = (usize, &Line)> {
    block
        .entries
        .iter()
        .enumerate()
        .filter_map(|(at, entry)| match entry {
            Entry::Line(line) => Some((at, line)),
            Entry::Step(_) | Entry::Note(_) => None,
        })
}

/// Says whether a line's own thing counts as flour.
pub(super) fn is_flour(thing: &Thing) -> bool {
    match thing {
        Thing::Ingredient(ingredient)
        | Thing::Unlisted {
            like: Some(ingredient),
        } => ingredient.is_flour,
        Thing::Unlisted { like: None } | Thing::Stage(_) | Thing::Mixture(_) => false,
    }
}

/// Says whether a line only marks where a formula's stage joins.
pub(super) fn is_marker(block: &Block, line: &Line) -> bool {
    block.kind == BlockKind::Formula
        && matches!(line.thing, Thing::Stage(_))
        && line.amount.value == Amount::All
}

/// Gives the blocks with those that are poured before those that pour, else in the order of the page.
pub(super) fn in_order_of_use(recipe: &Recipe) -> Vec<BlockId> {
    fn visit(recipe: &Recipe, id: BlockId, seen: &mut Vec<bool>, order: &mut Vec<BlockId>) {
        match seen.get_mut(id.0) {
            Some(seen) if !*seen => *seen = true,
            _ => return,
        }
        if let Some(block) = recipe.blocks.get(id.0) {
            for poured in lines(block).filter_map(|(_, line)| stage_of(line)) {
                visit(recipe, poured, seen, order);
            }
        }
        order.push(id);
    }
    let mut seen = vec![false; recipe.blocks.len()];
    let mut order = Vec::with_capacity(recipe.blocks.len());
    // The main dough comes last of all that it pours, whatever the order of the page.
    for id in (0..recipe.blocks.len())
        .map(BlockId)
        .filter(|id| *id != recipe.main)
    {
        visit(recipe, id, &mut seen, &mut order);
    }
    visit(recipe, recipe.main, &mut seen, &mut order);
    order
}

/// Gives the stage that a line pours.
pub(super) const fn stage_of(line: &Line) -> Option<BlockId> {
    match line.thing {
        Thing::Stage(id) => Some(id),
        Thing::Ingredient(_) | Thing::Unlisted { .. } | Thing::Mixture(_) => None,
    }
}

/// Says whether a block is a named part of the dough.
pub(super) fn is_part(recipe: &Recipe, id: BlockId) -> bool {
    id != recipe.main
        && recipe
            .blocks
            .get(id.0)
            .is_some_and(|block| block.kind == BlockKind::Dough)
}

/// Puts every block into forms, indexed by block; what cannot be said as one is reported.
pub(super) fn of_recipe(recipe: &Recipe, order: &[BlockId], report: &mut Report) -> Vec<BlockForms> {
    let mut all: Vec<BlockForms> = recipe
        .blocks
        .iter()
        .map(|block| {
            let basis = basis(recipe, block, report);
            direct(block, basis.unwrap_or(Basis::Proportion))
        })
        .collect();
    for id in order {
        pour_whole(recipe, *id, &mut all, report);
    }
    all
}

/// Reports the blocks whose flours do not add up, those aside whose flour is not all known.
pub(super) fn check_flours(recipe: &Recipe, unsure: &BTreeSet<BlockId>, report: &mut Report) {
    for block in recipe.blocks.iter().filter(|block| !unsure.contains(&block.id)) {
        basis(recipe, block, report);
    }
}

/// Works out how a block's percentages count.
///
/// Where they count only if names that the table does not know are flour, as their nearest names are, those
/// names are the one cause, and the flour that seems to be missing is not told of besides.
fn basis(recipe: &Recipe, block: &Block, report: &mut Report) -> Option<Basis> {
    let known: Vec<&Line> = weighed(block).filter(|line| is_flour(&line.thing)).collect();
    let fault = match basis_of(recipe, block, &known) {
        Ok(basis) => return Some(basis),
        Err(fault) => fault,
    };
    let meant = |line: &&Line| is_flour(&line.thing) || line.flour_meant.is_some();
    let perhaps: Vec<&Line> = weighed(block).filter(meant).collect();
    match basis_of(recipe, block, &perhaps) {
        Err(other) if perhaps.len() > known.len() => report.push(*other),
        Err(_) => report.push(*fault),
        Ok(_) => {
            let meant = perhaps.iter().filter_map(|line| line.flour_meant.as_ref());
            report.extend(meant.map(faults::flour_misspelt));
        }
    }
    None
}

/// Gives the lines of a block that are in its sums.
fn weighed(block: &Block) -> impl Iterator<Item = &Line> {
    lines(block)
        .map(|(_, line)| line)
        .filter(|line| line.amount.value != Amount::Some)
}

fn basis_of(recipe: &Recipe, block: &Block, flours: &[&Line]) -> Result<Basis, Box<Diagnostic>> {
    let has_parts = lines(block).any(|(_, line)| stage_of(line).is_some_and(|id| is_part(recipe, id)));
    let sum = |pick: fn(&Amount) -> Option<&Ratio>| -> Ratio {
        flours.iter().filter_map(|line| pick(&line.amount.value)).sum()
    };
    let count = |is: fn(&Amount) -> bool| flours.iter().filter(|line| is(&line.amount.value)).count();
    let in_percent = count(|amount| matches!(amount, Amount::Percent(_)));
    let in_parts = count(|amount| matches!(amount, Amount::Parts(_)));
    let percent = sum(|amount| match amount {
        Amount::Percent(share) => Some(share),
        _ => None,
    });
    if flours.is_empty() && !has_parts {
        return without_flour(block);
    }
    if in_parts > 0 && (in_parts < flours.len() || has_parts) {
        return Err(Box::new(faults::parts_beside_others(block, flours)));
    }
    if in_parts > 0 {
        let parts = sum(|amount| match amount {
            Amount::Parts(parts) => Some(parts),
            _ => None,
        });
        return if parts.is_zero() {
            Err(Box::new(faults::no_flour(block)))
        } else {
            Ok(Basis::Parts(parts))
        };
    }
    let weighs_nothing =
        |line: &&Line| matches!(&line.amount.value, Amount::Weight(weight) if weight.0.is_zero());
    if !has_parts && flours.iter().all(weighs_nothing) && counts_in_shares(block) {
        return Err(Box::new(faults::flour_weighs_nothing(block, flours)));
    }
    if in_percent < flours.len() || has_parts {
        return if percent >= Ratio::ONE {
            Err(Box::new(faults::flours_past_whole(block, flours, &percent)))
        } else {
            Ok(Basis::Weighed)
        };
    }
    let leeway = Ratio::fraction(5, 1000).unwrap_or_default();
    if (&percent - &Ratio::ONE).abs() > leeway {
        return Err(Box::new(faults::flour_shares(block, flours, &percent)));
    }
    Ok(Basis::Percent(&Ratio::ONE / &percent))
}

fn counts_in_shares(block: &Block) -> bool {
    lines(block).any(|(_, line)| matches!(line.amount.value, Amount::Percent(_) | Amount::Parts(_)))
}

/// A block without flour has proportions, unless it is the dough and counts in percent of nothing.
fn without_flour(block: &Block) -> Result<Basis, Box<Diagnostic>> {
    if counts_in_shares(block) && matches!(block.kind, BlockKind::Dough | BlockKind::Formula) {
        return Err(Box::new(faults::no_flour(block)));
    }
    Ok(Basis::Proportion)
}

/// Puts the lines of a block into forms, whole stages left at nought for now.
fn direct(block: &Block, basis: Basis) -> BlockForms {
    let lines: Vec<LineForm> = lines(block)
        .filter(|(_, line)| line.amount.value != Amount::Some && !is_marker(block, line))
        .map(|(entry, line)| LineForm {
            entry,
            form: amount_form(block.id, &basis, line),
        })
        .collect();
    let mut total = Form::default();
    for line in &lines {
        total.add(&line.form);
    }
    BlockForms { basis, lines, total }
}

fn amount_form(block: BlockId, basis: &Basis, line: &Line) -> Form {
    match &line.amount.value {
        Amount::Weight(grams) => Form::number(grams.0.clone()),
        Amount::Percent(share) => {
            let share = match basis {
                Basis::Percent(factor) if is_flour(&line.thing) => share * factor,
                _ => share.clone(),
            };
            Form::of(unknown(block), &share)
        }
        Amount::Parts(parts) => {
            let share = match basis {
                Basis::Parts(whole) => parts / whole,
                _ => parts.clone(),
            };
            Form::of(unknown(block), &share)
        }
        Amount::All | Amount::Some => Form::default(),
    }
}

/// Pours whole stages into a block: what a stage makes, less what is kept and what is poured elsewhere.
fn pour_whole(recipe: &Recipe, id: BlockId, all: &mut [BlockForms], report: &mut Report) {
    let Some(block) = recipe.blocks.get(id.0) else {
        return;
    };
    for (entry, line) in lines(block) {
        let (Some(stage), Amount::All) = (stage_of(line), &line.amount.value) else {
            continue;
        };
        if is_marker(block, line) {
            continue;
        }
        let whole = match other_pours(recipe, all, stage, line.span) {
            Ok(others) => {
                let mut form = all
                    .get(stage.0)
                    .map(|forms| forms.total.clone())
                    .unwrap_or_default();
                form.take(&others);
                form.take(&kept(recipe, stage));
                form
            }
            Err(first) => {
                if first < line.span {
                    report.push(faults::whole_twice(recipe, stage, first, line.span));
                }
                Form::default()
            }
        };
        if let Some(forms) = all.get_mut(id.0) {
            forms.total.add(&whole);
            if let Some(at) = forms.lines.iter_mut().find(|at| at.entry == entry) {
                at.form = whole;
            }
        }
    }
}

/// Sums what lines pour of a stage by weight or share; fails with the place of another `all`.
fn other_pours(recipe: &Recipe, all: &[BlockForms], stage: BlockId, own: Span) -> Result<Form, Span> {
    let mut sum = Form::default();
    for (block, forms) in recipe.blocks.iter().zip(all) {
        for (entry, line) in lines(block) {
            if stage_of(line) != Some(stage) || line.span == own || is_marker(block, line) {
                continue;
            }
            if line.amount.value == Amount::All {
                return Err(line.span);
            }
            if let Some(poured) = forms.lines.iter().find(|at| at.entry == entry) {
                sum.add(&poured.form);
            }
        }
    }
    Ok(sum)
}

/// Gives what a stage's header keeps back.
pub(super) fn kept(recipe: &Recipe, stage: BlockId) -> Form {
    recipe
        .blocks
        .get(stage.0)
        .and_then(|block| block.keep.as_ref())
        .map_or_else(Form::default, |keep| Form::number(keep.value.0.clone()))
}

/// Sums everything that lines pour of a stage, markers left out.
pub(super) fn poured(recipe: &Recipe, all: &[BlockForms], stage: BlockId) -> Form {
    let mut sum = Form::default();
    for (block, forms) in recipe.blocks.iter().zip(all) {
        for at in &forms.lines {
            if let Some(Entry::Line(line)) = block.entries.get(at.entry)
                && stage_of(line) == Some(stage)
            {
                sum.add(&at.form);
            }
        }
    }
    sum
}
