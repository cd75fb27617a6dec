//! Cautions about what is raw, and about what is inside or on top of the bread.

use super::warm::{is_heated, is_heated_in_place, oven_at};
use super::words::Text;
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
    "taste the mixture",
    "taste the mix",
    "taste the sponge",
    "taste the starter",
    "taste the levain",
    "try the dough",
    "try the batter",
    "try a bit of the dough",
    "try a little of the dough",
    "eat the dough",
    "eat the raw dough",
    "lick the spoon",
    "lick the bowl",
    "teig probieren",
    "teig kosten",
    "goûter la pâte",
    "goûtez la pâte",
];

/// Words of oil that takes on a taste.
const INFUSING: &[&str] = &[
    "infuse",
    "infused",
    "infusing",
    "steep",
    "ziehen lassen",
    "durchziehen",
    "infuser",
];
/// Words of meat, fish and egg that are sold ready to eat.
const READY_TO_EAT: &[&str] = &[
    "pasteurised",
    "pasteurized",
    "pasteurisiert",
    "pasteurisiertes",
    "pasteurisé",
    "pasteurisée",
    "cooked",
    "cured",
    "smoked",
    "dried",
    "roast",
    "tinned",
    "canned",
    "salami",
    "pepperoni",
    "chorizo",
    "prosciutto",
    "ham",
    "schinken",
    "gekocht",
    "gekochter",
    "geräuchert",
    "geräucherter",
    "jambon",
    "saucisson",
    "cuit",
    "fumé",
];
/// Ingredients of the table that are sold ready to eat under any of their names.
const READY_KINDS: &[&str] = &[
    "ham",
    "anchovies",
    "tuna",
    "smoked salmon",
    "squid ink",
    "pasteurised egg",
];
/// Titles of a wash.
const WASHES: &[&str] = &["wash", "glaze", "egg wash", "streiche", "eistreiche", "dorure"];

/// C05.
pub(super) fn raw_flour(facts: &Facts) -> Vec<Caution> {
    let is_flour = |line: &Line| ingredients_of(line).iter().any(|part| part.is_flour);
    let blocks = facts.recipe.blocks.iter();
    let lines = blocks.flat_map(|block| lines_of(block).map(|(line, step)| (block.id, line, step)));
    let flours: Vec<_> = lines.filter(|(_, line, _)| is_flour(line)).collect();
    if flours.is_empty() {
        return Vec::new();
    }
    // "Do not taste the dough" is the very thing that we say.
    let not = &["not", "never", "don", "t", "nicht", "nie", "ne", "jamais", "pas"];
    let phrases = facts.texts.likely(TASTING);
    let mut texts = facts.texts.all();
    let tasted = texts.find_map(|text| text.find_unless(&phrases, 2, not));
    // An unweighed dusting stands anywhere in a list.
    let weighed = flours
        .iter()
        .filter(|(_, line, _)| !matches!(line.amount.value, Amount::Some));
    let never_heated = weighed
        .filter(|_| !main_steps(facts).is_empty())
        .find(|(block, _, step)| !is_heated(facts, *block, *step));
    let span = tasted.map(|(_, span)| span);
    vec![Caution {
        graver: tasted.is_some() || never_heated.is_some(),
        span: span.or(never_heated.map(|(_, line, _)| line.span)),
        ..about_card("C05")
    }]
}

/// C06: what the bake has to heat through, and, as the graver one, what nothing heats at all.
pub(super) fn baked_through(facts: &Facts) -> Vec<Caution> {
    let hot_enough = |step: &Step| match step.until.as_ref().map(|until| &until.value) {
        Some(Cue::Core(range)) => range.middle() >= BAKED_THROUGH,
        _ => false,
    };
    let (mut inside, mut raw) = (Vec::new(), Vec::new());
    for block in &facts.recipe.blocks {
        for (line, step) in lines_of(block) {
            let name = (line.name.value.clone(), line.span);
            match doneness(facts, block, line, step) {
                Some(Doneness::ByTheBake) => inside.push(name),
                Some(Doneness::Never) => raw.push(name),
                None => {}
            }
        }
    }
    if facts.recipe.blocks.iter().flat_map(steps_of).any(hot_enough) {
        inside.clear();
    }
    let raw = about_all("C06", &raw).map(|caution| Caution {
        graver: true,
        ..caution
    });
    about_all("C06", &inside).into_iter().chain(raw).collect()
}

/// What heats meat, fish or raw egg.
enum Doneness {
    ByTheBake,
    Never,
}

/// Says what heats a line that has to be heated; nothing for any other. The egg of a dough or a wash is done long
/// before the bread is, and a filling that was cooked and goes in after the bake keeps by cold.
fn doneness(facts: &Facts, block: &Block, line: &Line, step: Option<usize>) -> Option<Doneness> {
    let raw_tags = &[Tag::Meat, Tag::Fish, Tag::RawEgg];
    if !has_tag(line, raw_tags) {
        return None;
    }
    let role = role_of(facts.blocks, block.id);
    let has_steps = !main_steps(facts).is_empty();
    if has_steps && !is_heated(facts, block.id, step) {
        return (!is_ready_to_eat(facts, line)).then_some(Doneness::Never);
    }
    let extra = matches!(role, Role::Filling | Role::Topping);
    if extra && has_steps && !is_heated_in_place(facts, block.id) {
        return None;
    }
    let meat = has_tag(line, &[Tag::Meat, Tag::Fish]);
    let through = match role {
        Role::Filling => true,
        Role::Dough | Role::Part | Role::Stage => meat,
        Role::Topping => meat && !is_ready_to_eat(facts, line),
    };
    through.then_some(Doneness::ByTheBake)
}

/// Says whether meat, fish or egg may be eaten as it comes, by its name.
fn is_ready_to_eat(facts: &Facts, line: &Line) -> bool {
    let phrases = facts.texts.likely(READY_TO_EAT);
    let known = ingredients_of(line);
    let mut texts = facts.texts.lines.iter();
    let named = texts.any(|(other, text)| other.span == line.span && text.means_any(&phrases));
    named || known.iter().any(|part| READY_KINDS.contains(&part.name.as_str()))
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
    let milk = extra && (is_cooked(block) || goes_on_after_bake(facts, block.id));
    let custard = extra && is_custard(block);
    let keeps_badly = |line: &Line| {
        ingredients_of(line).iter().any(|part| {
            let in_pieces = extra || !part.is_wet;
            part.tags.contains(&Tag::Perishable) && in_pieces
                || (milk || custard) && part.tags.contains(&Tag::FluidMilk)
                || custard && part.tags.contains(&Tag::RawEgg)
        })
    };
    lines_of(block)
        .filter(|(line, _)| keeps_badly(line))
        .map(|(line, _)| (line.name.value.clone(), line.span))
        .collect()
}

/// Says whether a block is milk set with egg, cooked or baked in. An egg wash that is baked on in some other way than
/// by brushing is none, by its name.
fn is_custard(block: &Block) -> bool {
    let has = |tag| lines_of(block).any(|(line, _)| has_tag(line, &[tag]));
    let title = Text::short(&block.title, block.span);
    has(Tag::FluidMilk) && has(Tag::RawEgg) && !title.says_any(WASHES)
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
    let infused = steps.any(|(_, text)| text.means_any(INFUSING));
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
