//! Ways through a recipe that allergens, cautions and the schedule share. Owns no rule of any of them.

use crate::model::catalog::{Ingredient, Kind, Tag};
use crate::model::recipe::{Amount, Block, BlockId, Entry, Line, Recipe, Step, Thing};
use crate::model::verbs::Purpose;
use crate::quantity::Grams;
use crate::sheet::{Role, SheetBlock, Source};

/// Finds a block of the recipe.
pub(crate) fn block_of(recipe: &Recipe, id: BlockId) -> Option<&Block> {
    recipe.blocks.get(id.0)
}

/// Gives the steps of a block in the order of the bench.
pub(crate) fn steps_of(block: &Block) -> impl Iterator<Item = &Step> {
    block.entries.iter().filter_map(|entry| match entry {
        Entry::Step(step) => Some(step),
        Entry::Line(_) | Entry::Note(_) => None,
    })
}

/// Gives the lines of a block, each with the index of the step that it goes in at, where one follows.
pub(crate) fn lines_of(block: &Block) -> impl Iterator<Item = (&Line, Option<usize>)> {
    let steps = steps_of(block).count();
    let mut passed = 0;
    block.entries.iter().filter_map(move |entry| match entry {
        Entry::Step(_) => {
            passed += 1;
            None
        }
        Entry::Line(line) => Some((line, (passed < steps).then_some(passed))),
        Entry::Note(_) => None,
    })
}

/// Gives the ingredients that a line brings in by itself: its own, the one it is like, or those of a
/// starter. What a stage brings in stands on the stage's own lines.
pub(crate) fn ingredients_of(line: &Line) -> Vec<&Ingredient> {
    match &line.thing {
        Thing::Ingredient(ingredient) => vec![ingredient.as_ref()],
        Thing::Unlisted { like } => like.iter().map(AsRef::as_ref).collect(),
        Thing::Mixture(mixture) => mixture.parts.iter().map(|(part, _)| part.as_ref()).collect(),
        Thing::Stage(_) => Vec::new(),
    }
}

/// Says whether any ingredient of a line has one of some tags.
pub(crate) fn has_tag(line: &Line, tags: &[Tag]) -> bool {
    ingredients_of(line)
        .iter()
        .any(|ingredient| tags.iter().any(|tag| ingredient.tags.contains(tag)))
}

/// Says whether salt goes into the dough that nobody has weighed, `some salt`, so that there is more than the figures
/// know.
pub(crate) fn salt_is_open(recipe: &Recipe, blocks: &[SheetBlock]) -> bool {
    let is_dough =
        |block: &&Block| matches!(role_of(blocks, block.id), Role::Dough | Role::Part | Role::Stage);
    let is_salt = |line: &Line| ingredients_of(line).iter().any(|part| part.kind == Kind::Salt);
    let lines = recipe.blocks.iter().filter(is_dough).flat_map(lines_of);
    lines
        .filter(|(line, _)| matches!(line.amount.value, Amount::Some))
        .any(|(line, _)| is_salt(line))
}

/// Says whether a step is of a purpose.
pub(crate) fn is_for(step: &Step, purpose: Purpose) -> bool {
    step.verb.is_some_and(|verb| verb.purpose == purpose)
}

/// Gives the role of a block; a block that the sheet does not know is a stage.
pub(crate) fn role_of(blocks: &[SheetBlock], id: BlockId) -> Role {
    blocks
        .iter()
        .find(|block| block.id == id)
        .map_or(Role::Stage, |block| block.role)
}

/// Finds the blocks that wait for a block, each with the step at which it goes in.
pub(crate) fn uses_of(recipe: &Recipe, blocks: &[SheetBlock], id: BlockId) -> Vec<(BlockId, Option<usize>)> {
    let poured = blocks.iter().flat_map(|block| {
        let lines = block.lines.iter();
        lines
            .filter(|line| line.source == Source::Stage(id))
            .map(|line| (block.id, line.step))
    });
    let put_on = recipe.blocks.iter().flat_map(|block| {
        steps_of(block)
            .enumerate()
            .filter(|(_, step)| step.uses.contains(&id))
            .map(|(index, _)| (block.id, Some(index)))
    });
    poured.chain(put_on).collect()
}

/// Adds up the weights of the lines of the sheet that stand at the spans of some lines of the recipe.
pub(crate) fn weight_of(blocks: &[SheetBlock], lines: &[&Line]) -> Grams {
    blocks
        .iter()
        .flat_map(|block| &block.lines)
        .filter(|sheet| lines.iter().any(|line| line.span == sheet.span))
        .filter_map(|sheet| sheet.weight.as_ref())
        .sum()
}
