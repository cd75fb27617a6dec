//! `stage-unused`: a stage that no line pours.
//!
//! A levain that is built and then forgotten leaves the dough without its leaven, its flour and its water.
//! Under a formula every stage joins by itself; fillings and toppings are put on by a step.

use std::collections::BTreeSet;

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Block, BlockId, BlockKind, Entry, Thing};

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    let recipe = subject.recipe;
    let Some(main) = recipe.blocks.get(recipe.main.0) else {
        return;
    };
    if subject.damaged || main.kind == BlockKind::Formula {
        return;
    }
    let poured: BTreeSet<BlockId> = recipe.blocks.iter().flat_map(poured_by).collect();
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
