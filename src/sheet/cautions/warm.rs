//! How long a dough with egg, milk or the like is out of the cold before it is baked.
//!
//! Time is followed from the line that goes in, through its stage, to the oven. What is heated on the way
//! is not counted while it is hot, and a cold step without a temperature is as cold as the fridge.

use std::collections::BTreeMap;

use super::words::Text;
use super::{Facts, about_all};
use crate::model::catalog::Tag;
use crate::model::recipe::{Amount, BlockId, Line, Step};
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, Elapsed};
use crate::sheet::walk::{has_tag, is_for, lines_of, role_of, uses_of};
use crate::sheet::{Caution, PlacedStep, Role};

/// What spoils in a warm dough.
const SPOILS: &[Tag] = &[Tag::RawEgg, Tag::FluidMilk, Tag::SoftCheese, Tag::Meat, Tag::Fish];
/// At or below this it is cold: published value H1, FDA Food Code 3-501.16.
const COLD: Celsius = Celsius::whole(5);
/// Above this the shorter time counts: USDA FSIS advice, 90 °F.
const HOT_KITCHEN: Celsius = Celsius::whole(32);
/// At or above this it is held hot: published value H3, FDA Food Code 3-501.16.
const HELD_HOT: Celsius = Celsius::whole(57);
/// What is brought to this has been heated: published value H6, FDA Food Code 3-401.11(A)(2), 70 °C for an instant.
const HEATED: Celsius = Celsius::whole(70);
/// How long it may be warm by home advice, in an ordinary and in a hot kitchen, and by the rules of the trade.
const HOME: Elapsed = Elapsed::hours(2);
const HOME_HOT: Elapsed = Elapsed::hours(1);
const TRADE: Elapsed = Elapsed::hours(4);
/// Where something goes in: the block, and the step in it.
type Place = (BlockId, Option<usize>);

/// Phrases of a bake that starts by itself.
const DELAYED: &[&str] = &[
    "delayed start",
    "delay start",
    "delay timer",
    "timer delay",
    "start delay",
    "delayed bake",
    "startvorwahl",
    "zeitvorwahl",
    "time delay",
    "use the delay",
    "with the delay",
    "with a delay",
    "delay of",
    "delay function",
    "delay setting",
    "timer to start",
    "timed start",
    "verzögerter start",
    "départ différé",
    "démarrage différé",
];

/// Words of heat that no verb of the trade stands for.
const HEATING: &[&str] = &[
    "roast",
    "poach",
    "microwave",
    "sear",
    "hot pan",
    "frying",
    "fried",
    "frittieren",
    "braten",
    "grillen",
    "frire",
    "poêler",
    "griller",
    "rôtir",
];
/// Words for the fridge besides `in the fridge`.
const REFRIGERATORS: &[&str] = &[
    "refrigerator",
    "refrigerated",
    "kühlschrank",
    "réfrigérateur",
    "frigo",
    "frigidaire",
];
/// Words of a cold place that say no degrees.
const COLD_PLACES: &[&str] = &[
    "in the cold",
    "cold place",
    "cold room",
    "cold rest",
    "cold rise",
    "cold proof",
    "cold bulk",
    "somewhere cold",
    "cool place",
    "somewhere cool",
    "cellar",
    "im kalten",
    "im keller",
    "kühl stellen",
    "au froid",
    "au frais",
];

/// A line that spoils, with what becomes of it until it is baked.
struct Kept<'a> {
    line: &'a Line,
    steps: Vec<&'a PlacedStep>,
    warm: Elapsed,
    in_heat: bool,
}

impl Kept<'_> {
    fn is_too_long(&self) -> bool {
        self.warm > if self.in_heat { HOME_HOT } else { HOME }
    }
}

/// C03.
pub(super) fn kept_warm(facts: &Facts) -> Vec<Caution> {
    let kept = kept(facts);
    let long: Vec<&Kept> = kept.iter().filter(|kept| kept.is_too_long()).collect();
    let Some(worst) = long.iter().max_by_key(|kept| kept.warm) else {
        return Vec::new();
    };
    let about: Vec<_> = long.iter().map(|kept| named(kept.line)).collect();
    let caution = about_all("C03", &about).map(|caution| Caution {
        time: Some(worst.warm),
        graver: worst.warm > TRADE,
        span: Some(worst.line.span),
        ..caution
    });
    caution.into_iter().collect()
}

/// C04.
pub(super) fn cold_enough(facts: &Facts) -> Vec<Caution> {
    let kept = kept(facts);
    let doubtful = |placed: &&PlacedStep| is_cold_step(facts, &placed.step) && !is_said_cold(&placed.step);
    let concerned: Vec<_> = kept
        .iter()
        .filter(|kept| kept.steps.iter().any(&doubtful))
        .map(|kept| named(kept.line))
        .collect();
    let step = kept
        .iter()
        .flat_map(|kept| &kept.steps)
        .find(|placed| doubtful(placed));
    let caution = about_all("C04", &concerned).map(|caution| Caution {
        span: step.map(|placed| placed.step.span),
        ..caution
    });
    caution.into_iter().collect()
}

/// C20.
pub(super) fn delayed_start(facts: &Facts) -> Vec<Caution> {
    let phrases = facts.texts.likely(DELAYED);
    if !facts.texts.all().any(|text| text.means_any(&phrases)) {
        return Vec::new();
    }
    let named: Vec<_> = kept(facts).iter().map(|kept| named(kept.line)).collect();
    about_all("C20", &named).into_iter().collect()
}

fn named(line: &Line) -> super::Named {
    (line.name.value.clone(), line.span)
}

/// Follows every line of the dough that spoils; fillings and toppings have cautions of their own.
fn kept<'a>(facts: &Facts<'a>) -> Vec<Kept<'a>> {
    let dough = |id| matches!(role_of(facts.blocks, id), Role::Stage | Role::Part | Role::Dough);
    let blocks = facts.recipe.blocks.iter().filter(|block| dough(block.id));
    let mut known = BTreeMap::new();
    blocks
        .flat_map(|block| lines_of(block).map(|(line, step)| (block.id, line, step)))
        .filter(|(_, line, _)| has_tag(line, SPOILS) && !matches!(line.amount.value, Amount::Some))
        .map(|(block, line, step)| {
            let steps = way_to_the_oven(facts, (block, step), &mut known);
            let warm: Vec<&&PlacedStep> = steps
                .iter()
                .filter(|placed| is_warm(facts, &placed.step))
                .collect();
            Kept {
                line,
                warm: warm
                    .iter()
                    .map(|placed| placed.end.less(placed.start))
                    .fold(Elapsed::ZERO, Elapsed::plus),
                in_heat: warm
                    .iter()
                    .any(|placed| temperature(facts, &placed.step) > HOT_KITCHEN),
                steps,
            }
        })
        .collect()
}

/// Gives the steps that a line goes through from where it goes in until it is baked, by the longest way. Each place is
/// gone through once, however many ways lead there; where they lead round, the round ends.
fn way_to_the_oven<'a>(
    facts: &Facts<'a>,
    place: Place,
    known: &mut BTreeMap<Place, Vec<&'a PlacedStep>>,
) -> Vec<&'a PlacedStep> {
    if let Some(way) = known.get(&place) {
        return way.clone();
    }
    known.insert(place, Vec::new());
    let (block, from) = place;
    let own = steps_of_lane(facts, block);
    let end = if block == facts.recipe.main {
        oven_at(own).unwrap_or(own.len())
    } else {
        own.len()
    };
    let from = from.unwrap_or(own.len());
    let mut steps: Vec<&PlacedStep> = own.get(from..end).unwrap_or_default().iter().collect();
    if block != facts.recipe.main {
        let onwards = uses_of(facts.recipe, facts.blocks, block)
            .into_iter()
            .map(|place| way_to_the_oven(facts, place, known));
        let length = |steps: &Vec<&PlacedStep>| -> u64 {
            let seconds = |placed: &&PlacedStep| u64::from(placed.end.less(placed.start).seconds);
            steps.iter().map(seconds).sum()
        };
        steps.extend(onwards.max_by_key(length).unwrap_or_default());
    }
    steps.retain(|placed| !is_for(&placed.step, Purpose::Preheat));
    known.insert(place, steps.clone());
    steps
}

/// Finds the step that heats the dough through: the first bake, else steam, else the last boiling or frying.
pub(super) fn oven_at(steps: &[PlacedStep]) -> Option<usize> {
    let first = |purpose| steps.iter().position(|placed| placed.purpose == Some(purpose));
    first(Purpose::Bake)
        .or_else(|| first(Purpose::Steam))
        .or_else(|| steps.iter().rposition(|placed| is_boiled_or_fried(&placed.step)))
}

/// Says whether anything heats what goes into a block at a step, there or on its way through the bread.
pub(super) fn is_heated(facts: &Facts, block: BlockId, from: Option<usize>) -> bool {
    heated_on_the_way(facts, (block, from), &mut BTreeMap::new())
}

/// Looks at each place once, however many ways lead there; where they lead round, nothing heats.
fn heated_on_the_way(facts: &Facts, place: Place, known: &mut BTreeMap<Place, bool>) -> bool {
    if let Some(heated) = known.get(&place) {
        return *heated;
    }
    known.insert(place, false);
    let (block, from) = place;
    let is_main = block == facts.recipe.main;
    let steps = steps_of_lane(facts, block);
    // What stands below all steps of the dough is an ingredient list at its foot.
    let from = from.unwrap_or(if is_main { 0 } else { steps.len() });
    let heated = any_heats(facts, steps.get(from..).unwrap_or_default())
        || !is_main && heated_where_it_goes(facts, block, known);
    known.insert(place, heated);
    heated
}

/// Says whether anything heats a stage, filling or topping once it is in or on what it is for.
pub(super) fn is_heated_in_place(facts: &Facts, block: BlockId) -> bool {
    heated_where_it_goes(facts, block, &mut BTreeMap::new())
}

fn heated_where_it_goes(facts: &Facts, block: BlockId, known: &mut BTreeMap<Place, bool>) -> bool {
    let uses = uses_of(facts.recipe, facts.blocks, block);
    if uses.is_empty() {
        return any_heats(facts, steps_of_lane(facts, facts.recipe.main));
    }
    uses.into_iter()
        .all(|place| heated_on_the_way(facts, place, known))
}

/// Says whether any of some steps heats; most recipes bake, and then no words need be read.
fn any_heats(facts: &Facts, steps: &[PlacedStep]) -> bool {
    let bakes = |placed: &PlacedStep| matches!(placed.purpose, Some(Purpose::Bake | Purpose::Steam));
    let phrases = facts.texts.likely(HEATING);
    let heats = |placed: &PlacedStep| {
        let to = placed.step.to.as_ref();
        to.is_some_and(|to| to.middle() >= HEATED)
            || is_boiled_or_fried(&placed.step)
            || says(&placed.step, &phrases)
    };
    let is_lit = |placed: &&PlacedStep| placed.purpose != Some(Purpose::Preheat);
    steps.iter().any(bakes) || steps.iter().filter(is_lit).any(heats)
}

fn steps_of_lane<'a>(facts: &Facts<'a>, block: BlockId) -> &'a [PlacedStep] {
    let lane = facts.schedule.lanes.iter().find(|lane| lane.block == block);
    lane.map_or(&[][..], |lane| lane.steps.as_slice())
}

fn is_boiled_or_fried(step: &Step) -> bool {
    let text = Text::short(&step.words, step.span);
    step.verb.is_some_and(|verb| matches!(verb.word, "boil" | "cook"))
        || text.says_any(&["fry", "deep fry", "griddle", "grill"])
}

fn is_warm(facts: &Facts, step: &Step) -> bool {
    let heated = is_for(step, Purpose::Cook) || is_for(step, Purpose::Bake) || is_for(step, Purpose::Steam);
    let temperature = temperature(facts, step);
    !heated && temperature > COLD && temperature < HELD_HOT
}

/// Gives the temperature of a step: its own, that of the fridge for a cold step, else the room's.
fn temperature(facts: &Facts, step: &Step) -> Celsius {
    if let Some(at) = &step.at {
        return at.middle();
    }
    let place = if is_for(step, Purpose::Chill) || is_in_refrigerator(facts, step) {
        "fridge"
    } else {
        "room"
    };
    let known = facts.recipe.place.temperatures.get(place);
    // A place without the word is an ordinary one; both figures are those of the language reference.
    let usual = if place == "fridge" { 4 } else { 21 };
    known.cloned().unwrap_or(Celsius::whole(usual))
}

fn is_cold_step(facts: &Facts, step: &Step) -> bool {
    let fridge = |at: &crate::model::recipe::TemperatureSpec| at.place.as_deref() == Some("fridge");
    is_for(step, Purpose::Chill)
        || step.at.as_ref().is_some_and(fridge)
        || step.at.is_none()
            && (is_in_refrigerator(facts, step) || says(step, &facts.texts.likely(COLD_PLACES)))
}

/// Says whether a step without a temperature is in the fridge by another word for it.
fn is_in_refrigerator(facts: &Facts, step: &Step) -> bool {
    says(step, &facts.texts.likely(REFRIGERATORS))
}

fn says(step: &Step, phrases: &[&str]) -> bool {
    !phrases.is_empty() && Text::short(&step.words, step.span).means_any(phrases)
}

fn is_said_cold(step: &Step) -> bool {
    step.at.as_ref().is_some_and(|at| at.middle() <= COLD)
}
