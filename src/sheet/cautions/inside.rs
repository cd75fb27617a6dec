//! Cautions about what is raw, and about what is inside or on top of the bread.

use super::warm::oven_at;
use super::{Facts, Named, about_all, about_card};
use crate::model::catalog::Tag;
use crate::model::recipe::{Amount, Block, BlockId, Cue, Line, Step};
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, Elapsed};
use crate::sheet::walk::{has_tag, ingredients_of, is_for, lines_of, role_of, steps_of, uses_of};
use crate::sheet::{Caution, PlacedStep, Role};

/// Home advice for food out of the cold: USDA FSIS, two hours.
const HOME: Elapsed = Elapsed::hours(2);
/// The middle that meat and egg fillings have to reach, FDA Food Code 3-401.11.
const BAKED_THROUGH: Celsius = Celsius::whole(74);
const COLD: Celsius = Celsius::whole(5);

/// Phrases of somebody who tastes raw dough.
const TASTING: &[&str] = &[
    "taste the dough",
    "taste the batter",
    "taste the raw dough",
    "taste a bit of the dough",
    "taste a little of the dough",
    "lick the spoon",
    "lick the bowl",
    "teig probieren",
    "teig kosten",
    "goûter la pâte",
    "goûtez la pâte",
];

/// C05.
pub(super) fn raw_flour(facts: &Facts) -> Vec<Caution> {
    let lines = || facts.recipe.blocks.iter().flat_map(lines_of);
    let is_flour = |line: &Line| ingredients_of(line).iter().any(|part| part.is_flour);
    if !lines().any(|(line, _)| is_flour(line)) {
        return Vec::new();
    }
    // "Do not taste the dough" is the very thing that we say.
    let not = &["not", "never", "don", "t", "nicht", "nie", "ne", "jamais", "pas"];
    let phrases = facts.texts.likely(TASTING);
    let mut texts = facts.texts.all();
    let tasted = texts.find_map(|text| text.find_unless(&phrases, 2, not));
    let main = main_steps(facts);
    let never_heated = !main.is_empty() && oven_at(main).is_none();
    vec![Caution {
        graver: tasted.is_some() || never_heated,
        span: tasted.map(|(_, span)| span),
        ..about_card("C05")
    }]
}

/// C06.
pub(super) fn baked_through(facts: &Facts) -> Vec<Caution> {
    let hot_enough = |step: &Step| match step.until.as_ref().map(|until| &until.value) {
        Some(Cue::Core(range)) => range.middle() >= BAKED_THROUGH,
        _ => false,
    };
    if facts.recipe.blocks.iter().flat_map(steps_of).any(hot_enough) {
        return Vec::new();
    }
    let named: Vec<Named> = facts
        .recipe
        .blocks
        .iter()
        .flat_map(|block| raw_inside(facts, block))
        .collect();
    about_all("C06", &named).into_iter().collect()
}

/// Names what has to be baked through: meat and fish inside, and the egg of a filling. A filling that was
/// cooked and goes in after the bake keeps by cold and not by the oven.
fn raw_inside(facts: &Facts, block: &Block) -> Vec<Named> {
    let tags: &[Tag] = match role_of(facts.blocks, block.id) {
        Role::Filling if is_cooked(block) && goes_on_after_bake(facts, block.id) => &[],
        Role::Filling => &[Tag::Meat, Tag::Fish, Tag::RawEgg],
        Role::Dough | Role::Part | Role::Stage => &[Tag::Meat, Tag::Fish],
        Role::Topping => &[],
    };
    lines_of(block)
        .filter(|(line, _)| has_tag(line, tags))
        .map(|(line, _)| (line.name.value.clone(), line.span))
        .collect()
}

/// C07.
pub(super) fn perishable(facts: &Facts) -> Vec<Caution> {
    let named: Vec<Named> = facts
        .recipe
        .blocks
        .iter()
        .flat_map(|block| perishables_of(facts, block))
        .collect();
    about_all("C07", &named).into_iter().collect()
}

/// Names what needs the fridge once the bread is baked. A wash of milk or cream that is baked on as a film
/// does not, nor what a dough takes up; pieces in a dough do.
fn perishables_of(facts: &Facts, block: &Block) -> Vec<Named> {
    let role = role_of(facts.blocks, block.id);
    let extra = matches!(role, Role::Filling | Role::Topping);
    if extra && is_wash(facts, block.id) && !goes_on_after_bake(facts, block.id) {
        return Vec::new();
    }
    let custard = extra && (is_cooked(block) || goes_on_after_bake(facts, block.id));
    let keeps_badly = |line: &Line| {
        ingredients_of(line).iter().any(|part| {
            let in_pieces = extra || !part.is_wet;
            part.tags.contains(&Tag::Perishable) && in_pieces
                || custard && part.tags.contains(&Tag::FluidMilk)
        })
    };
    lines_of(block)
        .filter(|(line, _)| keeps_badly(line))
        .map(|(line, _)| (line.name.value.clone(), line.span))
        .collect()
}

/// C08.
pub(super) fn garlic_in_oil(facts: &Facts) -> Vec<Caution> {
    let parts = facts.recipe.blocks.iter().filter(|block| {
        matches!(
            role_of(facts.blocks, block.id),
            Role::Filling | Role::Topping | Role::Stage
        )
    });
    let named: Vec<Named> = parts
        .filter(|block| is_garlic_oil(facts, block))
        .map(|block| (block.title.clone(), block.span))
        .collect();
    about_all("C08", &named).into_iter().collect()
}

fn is_garlic_oil(facts: &Facts, block: &Block) -> bool {
    let first = |tags: &[Tag]| {
        let mut lines = lines_of(block).filter(|(line, _)| has_tag(line, tags));
        lines.next().map(|(_, step)| step)
    };
    let Some(oil) = first(&[Tag::Oil]) else {
        return false;
    };
    let mut steps = facts.texts.steps.iter().filter(|(step, _)| is_in(block, step));
    let infused = steps.any(|(_, text)| text.says_any(&["infuse", "infused", "infusing"]));
    let Some(garlic) = first(&[Tag::Garlic, Tag::FreshHerb]) else {
        return infused;
    };
    let together = oil.max(garlic).unwrap_or(0);
    let lane = facts.schedule.lanes.iter().find(|lane| lane.block == block.id);
    let kept = lane
        .iter()
        .flat_map(|lane| lane.steps.iter().skip(together))
        .filter(|placed| !is_cold(facts, placed))
        .map(|placed| placed.end.less(placed.start))
        .fold(Elapsed::ZERO, Elapsed::plus);
    infused || kept > HOME
}

/// Says whether a step stands in a block.
fn is_in(block: &Block, step: &Step) -> bool {
    steps_of(block).any(|own| std::ptr::eq(own, step))
}

fn is_cold(facts: &Facts, placed: &PlacedStep) -> bool {
    let fridge = facts.recipe.place.temperatures.get("fridge");
    match &placed.step.at {
        Some(at) => at.middle() <= COLD,
        None => is_for(&placed.step, Purpose::Chill) && fridge.is_none_or(|fridge| *fridge <= COLD),
    }
}

fn main_steps<'a>(facts: &Facts<'a>) -> &'a [PlacedStep] {
    let lanes = &facts.schedule.lanes;
    let main = lanes.iter().find(|lane| lane.block == facts.recipe.main);
    main.map_or(&[][..], |lane| lane.steps.as_slice())
}

fn is_cooked(block: &Block) -> bool {
    let weighed = lines_of(block).any(|(line, _)| !matches!(line.amount.value, Amount::Some));
    weighed && steps_of(block).any(|step| is_for(step, Purpose::Cook) || is_for(step, Purpose::Bake))
}

/// Says whether a filling or topping goes on when the bread is baked.
fn goes_on_after_bake(facts: &Facts, id: BlockId) -> bool {
    let Some(oven) = oven_at(main_steps(facts)) else {
        return false;
    };
    let uses = uses_of(facts.recipe, facts.blocks, id);
    uses.iter()
        .any(|(block, step)| *block == facts.recipe.main && step.is_none_or(|step| step > oven))
}

/// Says whether a topping is brushed on as a film.
fn is_wash(facts: &Facts, id: BlockId) -> bool {
    let brushes = |step: &Step| {
        step.uses.contains(&id)
            && step
                .verb
                .is_some_and(|verb| matches!(verb.word, "brush" | "glaze"))
    };
    facts.recipe.blocks.iter().flat_map(steps_of).any(brushes)
}
