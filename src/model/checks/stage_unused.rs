//! `stage-unused`: a stage that no line pours.
//!
//! A levain that is built and then forgotten leaves the dough without its leaven, its flour and its water.
//! Under a formula every stage joins by itself. Fillings and toppings are put on by a step; a filling that
//! no step takes is spoken of, since nothing but its maker knows when it goes in.

use std::collections::BTreeSet;

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::lower::pouring::step_names;
use crate::model::recipe::{Block, BlockId, BlockKind, Entry, Thing};

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    let recipe = subject.recipe;
    let Some(main) = recipe.blocks.get(recipe.main.0) else {
        return;
    };
    if subject.damaged {
        return;
    }
    let poured: BTreeSet<BlockId> = recipe.blocks.iter().flat_map(poured_by).collect();
    for filling in recipe.blocks.iter().filter(|block| {
        block.kind == BlockKind::Filling
            && !poured.contains(&block.id)
            && !block.entries.is_empty()
            && !has_twin_above(block, &recipe.blocks)
    }) {
        if !is_put_in(filling, &recipe.blocks) {
            report.push(never_put_in(filling));
        }
    }
    if main.kind == BlockKind::Formula {
        return;
    }
    let unused = recipe.blocks.iter().filter(|block| {
        is_stage(block)
            && !poured.contains(&block.id)
            && !subject.suspected.contains(&block.id)
            // A stage without entries, or the second one of a name, has been reported as such.
            && !block.entries.is_empty()
            && !has_twin_above(block, &recipe.blocks)
    });
    for block in unused {
        let name = &block.title;
        report.push(
            Diagnostic::new(
                Code::StageUnused,
                block.span,
                format!("{name} is made and never used"),
            )
            .help(format!(
                "pour it into the dough, `all {name}`, or take the block out"
            )),
        );
    }
}

/// Says whether a step takes a filling: one of filling, or one that names it. That it goes in at the bake
/// where nothing else is said is only so that the time line has a place for it.
fn is_put_in(filling: &Block, blocks: &[Block]) -> bool {
    let entries = blocks.iter().flat_map(|block| &block.entries);
    let mut steps = entries.filter_map(|entry| match entry {
        Entry::Step(step) if step.uses.contains(&filling.id) => Some(step),
        Entry::Step(_) | Entry::Line(_) | Entry::Note(_) => None,
    });
    steps.any(|step| step.verb.is_some_and(|verb| verb.word == "fill") || step_names(step, filling))
}

fn never_put_in(filling: &Block) -> Diagnostic {
    let name = &filling.title;
    Diagnostic::new(
        Code::StageUnused,
        filling.span,
        format!("no step puts the {name} in"),
    )
    .help(format!("add the step that does: `10 min fill with the {name}`"))
}

fn has_twin_above(block: &Block, blocks: &[Block]) -> bool {
    let above = blocks.iter().take_while(|other| other.id != block.id);
    above.map(|other| &other.title).any(|title| *title == block.title)
}

fn is_stage(block: &Block) -> bool {
    match block.kind {
        BlockKind::Filling | BlockKind::Topping | BlockKind::Formula | BlockKind::Unknown => false,
        // The final dough is what everything is poured into; one too many has been reported as such.
        BlockKind::Dough => block.name.is_some(),
        _ => true,
    }
}

fn poured_by(block: &Block) -> impl Iterator<Item = BlockId> {
    block.entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => match line.thing {
            Thing::Stage(id) => Some(id),
            Thing::Ingredient(_) | Thing::Unlisted { .. } | Thing::Mixture(_) => None,
        },
        Entry::Step(_) | Entry::Note(_) => None,
    })
}
