//! The flour and the seed in a block, as forms: what `15 % of the flour` speaks of.

use super::forms::{self, BlockForms};
use super::linear::{Equations, Form};
use crate::model::recipe::{Amount, BlockId, BlockKind, Entry, Line, Recipe, Thing};
use crate::quantity::Ratio;

/// What a block holds, all that is poured into it included.
#[derive(Clone, Debug, Default)]
pub(super) struct Content {
    /// Everything.
    pub(super) total: Form,
    /// Flour; under a formula without that of the seed, which is taken out again.
    pub(super) flour: Form,
    /// Starter and old dough from the bakehouse, which a formula takes out again.
    pub(super) seed: Form,
}

/// Works out what every block holds, indexed by block, those that are poured first; nothing for a block
/// whose make-up hangs on sizes that are not known yet.
pub(super) fn of_recipe(
    recipe: &Recipe,
    all: &[BlockForms],
    equations: &Equations,
    order: &[BlockId],
) -> Vec<Option<Content>> {
    let mut contents = vec![None; recipe.blocks.len()];
    for id in order {
        let content = of_block(recipe, all, equations, &contents, *id);
        if let Some(place) = contents.get_mut(id.0) {
            *place = content;
        }
    }
    contents
}

fn of_block(
    recipe: &Recipe,
    all: &[BlockForms],
    equations: &Equations,
    known: &[Option<Content>],
    id: BlockId,
) -> Option<Content> {
    let (block, forms) = (recipe.blocks.get(id.0)?, all.get(id.0)?);
    let mut content = Content {
        total: forms.total.clone(),
        ..Content::default()
    };
    for at in &forms.lines {
        let Some(Entry::Line(line)) = block.entries.get(at.entry) else {
            continue;
        };
        match &line.thing {
            thing if forms::is_flour(thing) => content.flour.add(&at.form),
            Thing::Mixture(mixture) => {
                content.seed.add(&at.form);
                if !has_formula(recipe) {
                    let share: Ratio = mixture
                        .parts
                        .iter()
                        .filter(|(ingredient, _)| ingredient.is_flour)
                        .map(|(_, share)| share)
                        .sum();
                    content.flour.add_times(&at.form, &share);
                }
            }
            Thing::Stage(stage) => {
                let content_of_stage = known.get(stage.0)?.as_ref()?;
                let nothing_kept = recipe.blocks.get(stage.0)?.keep.is_none();
                let (flour, seed) = of_pour(equations, content_of_stage, nothing_kept, line, &at.form)?;
                content.flour.add(&flour);
                content.seed.add(&seed);
            }
            Thing::Ingredient(_) | Thing::Unlisted { .. } => {}
        }
    }
    Some(content)
}

/// Says whether the recipe is a formula, whose seeds are taken out again.
pub(super) fn has_formula(recipe: &Recipe) -> bool {
    recipe
        .blocks
        .get(recipe.main.0)
        .is_some_and(|block| block.kind == BlockKind::Formula)
}

/// Works out the flour and the seed in what a line pours of a stage.
fn of_pour(
    equations: &Equations,
    content: &Content,
    nothing_kept: bool,
    line: &Line,
    weight: &Form,
) -> Option<(Form, Form)> {
    if line.amount.value == Amount::All && nothing_kept && &content.total == weight {
        return Some((content.flour.clone(), content.seed.clone()));
    }
    let flour = part_of(equations, &content.flour, &content.total)?;
    let seed = part_of(equations, &content.seed, &content.total)?;
    Some((weight.times(&flour), weight.times(&seed)))
}

/// Gives how much one form is of another, where that is a number whatever the sizes turn out to be.
pub(super) fn part_of(equations: &Equations, part: &Form, whole: &Form) -> Option<Ratio> {
    let (part, whole) = (equations.reduce(part).0, equations.reduce(whole).0);
    if part == Form::default() {
        return Some(Ratio::ZERO);
    }
    if let (Some(part), Some(whole)) = (part.as_number(), whole.as_number()) {
        return part.checked_div(whole);
    }
    match (part.as_single(), whole.as_single()) {
        (Some((left, part)), Some((right, whole))) if left == right => part.checked_div(whole),
        _ => None,
    }
}
