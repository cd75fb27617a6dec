//! The water for a wanted dough temperature: by a balance of heat over all that goes in, and by the rules of
//! the trade beside it. Owns what is tempered and what is advised.
//!
//! The balance: what all things bring in heat, with the liquid's share to be found, is what the dough holds
//! at the wanted temperature less what mixing adds. Nothing is lost to bowl and air.

use super::friction::friction;
use super::heat::Stuff;
use super::parts::{Bench, Part, Sort, together};
use super::rules::{HOTTEST, four_factor, ice_by_heat, ice_by_rule, three_factor, two_factor, water_of_heat};
use super::types::{Advice, Friction, Tempered, WarmFrom, WarmPart, WaterPlan};
use crate::model::recipe::{Block, Step};
use crate::model::verbs::Purpose;
use crate::sheet::walk::{is_for, steps_of};

/// Less liquid than this share of the dough steers its temperature no more, as the milk of a brioche; common
/// practice, no source.
const LEAST_LIQUID: f64 = 0.1;

/// What goes into a dough until it is mixed: the liquid that is tempered, and all else.
pub(super) struct Mix {
    pub(super) liquid: Vec<Part>,
    pub(super) rest: Vec<Part>,
}

/// Works out the water for a dough; nothing where nothing in it can be tempered.
pub(super) fn plan(bench: &Bench<'_>, block: &Block, wanted: f64) -> Option<WaterPlan> {
    let Mix { liquid, rest } = mix(bench, block)?;
    let grams: f64 = liquid.iter().map(|part| part.stuff.grams()).sum();
    let is_water = liquid.iter().all(|part| part.sort == Sort::Water);
    let friction = friction(bench, block);
    let all = liquid
        .iter()
        .chain(&rest)
        .fold(Stuff::default(), |sum, part| sum.plus(&part.stuff));
    if grams < LEAST_LIQUID * all.grams() {
        return None;
    }
    let heat = all.heat(wanted - friction.rise) - rest.iter().map(Part::heat).sum::<f64>();
    let needed = if is_water {
        water_of_heat(heat, grams)
    } else {
        of_liquid(&liquid, heat)
    };
    let room = bench.room();
    let flour = mean(&rest, Sort::Flour).unwrap_or(room);
    let tap = Tap {
        bench,
        grams,
        celsius: bench.look_up("tap", 15.0),
        fridge: bench.look_up("fridge", 4.0),
        is_water,
    };
    let factor = friction.factor;
    Some(WaterPlan {
        wanted,
        liquid: liquid.first().map(|part| part.name.clone()).unwrap_or_default(),
        liquid_grams: grams,
        stated: stated(&liquid),
        tap: tap.celsius,
        tap_assumed: bench.recipe.place.is_default("tap"),
        room,
        dough_specific_heat: all.choi_okos(wanted),
        balance: tap.tempered(needed, |tap, needed| ice_by_heat(grams, tap, needed, 0.0)),
        three_factor: tap.by_rule(three_factor(wanted, room, flour, factor)),
        four_factor: mean(&rest, Sort::Preferment)
            .map(|preferment| tap.by_rule(four_factor(wanted, room, flour, preferment, factor))),
        two_factor: tap.by_rule(two_factor(wanted, flour)),
        parts: rest.iter().map(warm_part).collect(),
        friction,
    })
}

/// Gives the temperature that a dough has after mixing, with everything as warm as it is stated to be;
/// nothing where no liquid of it is stated, since then nobody has said how warm it becomes.
pub(super) fn as_stated(bench: &Bench<'_>, block: &Block) -> Option<f64> {
    let Mix { liquid, rest } = mix(bench, block)?;
    stated(&liquid)?;
    let parts: Vec<Part> = liquid.into_iter().chain(rest).collect();
    Some(together(&parts) + friction(bench, block).rise)
}

/// Parts what goes in until the dough is mixed.
///
/// Water is tempered; water lines with a temperature of their own, in degrees or in words (`boiling`), are only
/// where there is too little other to steer the dough. A dough without water is tempered by its milk.
pub(super) fn mix(bench: &Bench<'_>, block: &Block) -> Option<Mix> {
    let end = end_of_mixing(block);
    let mut parts = bench.parts(block.id);
    parts.retain(|part| end.is_none_or(|end| part.step.is_some_and(|step| step <= end)));
    let has = |wanted: &dyn Fn(&Part) -> bool| parts.iter().any(wanted);
    let is_open = |part: &Part| !matches!(part.from, WarmFrom::Stated | WarmFrom::Words);
    let sort = [Sort::Water, Sort::Milk]
        .into_iter()
        .find(|sort| has(&|part| part.sort == *sort))?;
    let grams = |of: &dyn Fn(&Part) -> bool| -> f64 {
        let of = parts.iter().filter(|part| of(part));
        of.map(|part| part.stuff.grams()).sum()
    };
    let open = grams(&|part| part.sort == sort && is_open(part));
    let only_open = open > 0.0 && open >= LEAST_LIQUID * grams(&|_| true);
    let (liquid, rest) = parts
        .into_iter()
        .partition(|part| part.sort == sort && (!only_open || is_open(part)));
    Some(Mix { liquid, rest })
}

/// Gives the last step that mixes before the dough is left to rise; nothing where no step mixes.
pub(super) fn end_of_mixing(block: &Block) -> Option<usize> {
    let rises = |step: &Step| {
        let purposes = [Purpose::Ferment, Purpose::Proof, Purpose::Chill, Purpose::Bake];
        purposes.into_iter().any(|purpose| is_for(step, purpose))
    };
    steps_of(block)
        .take_while(|step| !rises(step))
        .enumerate()
        .filter(|(_, step)| is_for(step, Purpose::Mix))
        .last()
        .map(|(at, _)| at)
}

/// Gives the temperature that the recipe states for the whole of the liquid.
fn stated(liquid: &[Part]) -> Option<f64> {
    let all_stated = liquid.iter().all(|part| part.from == WarmFrom::Stated);
    (all_stated && !liquid.is_empty()).then(|| weighted(liquid.iter()))
}

/// Gives the temperature of a liquid that is no water for some heat.
fn of_liquid(liquid: &[Part], heat: f64) -> f64 {
    let all = liquid
        .iter()
        .fold(Stuff::default(), |sum, part| sum.plus(&part.stuff));
    all.temperature(heat)
}

/// Gives the mean temperature of the parts of a sort, by their weights.
fn mean(parts: &[Part], sort: Sort) -> Option<f64> {
    let mut of_sort = parts.iter().filter(|part| part.sort == sort).peekable();
    of_sort.peek()?;
    Some(weighted(of_sort))
}

fn weighted<'a>(parts: impl Iterator<Item = &'a Part>) -> f64 {
    let (mut degrees, mut grams) = (0.0, 0.0);
    for part in parts {
        degrees += part.celsius * part.stuff.grams();
        grams += part.stuff.grams();
    }
    degrees / grams
}

fn warm_part(part: &Part) -> WarmPart {
    WarmPart {
        name: part.name.clone(),
        grams: part.stuff.grams(),
        celsius: part.celsius,
        from: part.from,
        specific_heat: part.stuff.specific_heat(part.celsius),
        choi_okos: part.stuff.choi_okos(part.celsius),
        known: part.known,
    }
}

/// What the tap and the fridge can give.
struct Tap<'a> {
    bench: &'a Bench<'a>,
    grams: f64,
    celsius: f64,
    fridge: f64,
    is_water: bool,
}

impl Tap<'_> {
    fn by_rule(&self, needed: f64) -> Tempered {
        self.tempered(needed, |tap, needed| ice_by_rule(self.grams, tap, needed))
    }

    /// Says what to do about a temperature that is needed.
    fn tempered(&self, needed: f64, ice: impl Fn(f64, f64) -> f64) -> Tempered {
        let advice = if needed > HOTTEST {
            Advice::TooHot
        } else if !self.is_water {
            if needed < self.fridge {
                self.bench.note("fridge");
                Advice::TooCold
            } else {
                Advice::Temper
            }
        } else if needed >= self.celsius {
            Advice::Temper
        } else {
            self.bench.note("tap");
            let ice = ice(self.celsius, needed);
            if ice > self.grams {
                Advice::TooCold
            } else {
                Advice::Ice(ice)
            }
        };
        Tempered {
            celsius: needed,
            advice,
        }
    }
}

impl Friction {
    /// Makes a friction of the factor of the trade's rule.
    pub(super) fn of_factor(way: &str, factor: f64, assumed: bool) -> Self {
        Self {
            way: way.to_owned(),
            factor,
            // Three times the dough is room, flour, water and friction: mixing warms it by a third of that.
            rise: factor / 3.0,
            assumed,
        }
    }
}
