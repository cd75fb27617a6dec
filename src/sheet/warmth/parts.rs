//! What goes into a dough, each thing with its heat: the temperature that it is stated at, or that such a
//! thing has where nothing is said. Owns those guesses, each with its reason; solves no balance.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use super::heat::Stuff;
use super::rules::cold_of_ice;
use super::types::WarmFrom;
use crate::model::catalog::{Composition, Ingredient, Kind};
use crate::model::recipe::{Block, BlockId, Entry, Recipe, TemperatureSpec, Thing};
use crate::quantity::Ratio;
use crate::sheet::physics::boiling_point;
use crate::sheet::reach::is_preferment;
use crate::sheet::walk::block_of;
use crate::sheet::{SheetBlock, SheetLine, Source};

/// A recipe with its weights, and the temperatures of the place.
pub(super) struct Bench<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) blocks: &'a [SheetBlock],
    /// What was found out of each block: stages that pour each other several times over are asked for it as often.
    found: RefCell<BTreeMap<BlockId, Found>>,
    /// What of the place was made use of, by its keys: `room`, `altitude`.
    used: RefCell<BTreeSet<String>>,
}

/// What was found out of a block.
#[derive(Clone, Copy, Default)]
struct Found {
    stuff: Option<(Stuff, bool)>,
    warmth: Option<(f64, WarmFrom)>,
}

/// A line with its heat.
pub(super) struct Part {
    pub(super) name: String,
    pub(super) stuff: Stuff,
    pub(super) celsius: f64,
    pub(super) from: WarmFrom,
    pub(super) known: bool,
    pub(super) sort: Sort,
    /// The step that it goes in at.
    pub(super) step: Option<usize>,
}

/// What a line is to the rules of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    Water,
    Ice,
    Milk,
    Flour,
    Preferment,
    Other,
}

/// Words of preparation and what they say of the temperature; common practice, no source.
const WORDS: &[(&str, Warm)] = &[
    ("boiling", Warm::Boiling),
    ("ice", Warm::At(0.0)),
    ("iced", Warm::At(0.0)),
    ("melted", Warm::At(40.0)),
    ("hot", Warm::At(80.0)),
    ("lukewarm", Warm::At(30.0)),
    ("warm", Warm::At(35.0)),
    ("cold", Warm::Fridge),
    ("chilled", Warm::Fridge),
    ("soft", Warm::Room),
    ("softened", Warm::Room),
    ("room temperature", Warm::Room),
];

#[derive(Clone, Copy)]
enum Warm {
    At(f64),
    Boiling,
    Fridge,
    Room,
}

impl<'a> Bench<'a> {
    pub(super) fn new(recipe: &'a Recipe, blocks: &'a [SheetBlock]) -> Self {
        Self {
            recipe,
            blocks,
            found: RefCell::default(),
            used: RefCell::default(),
        }
    }

    /// Gives what of the place was made use of by now.
    pub(super) fn used(&self) -> BTreeSet<String> {
        self.used.borrow().clone()
    }

    /// Notes that something worked out rests on what a key of the place says.
    pub(super) fn note(&self, key: &str) {
        self.used.borrow_mut().insert(key.to_owned());
    }

    /// Gives a named temperature of the place, and notes that it was made use of.
    pub(super) fn place(&self, name: &str, otherwise: f64) -> f64 {
        self.note(name);
        self.look_up(name, otherwise)
    }

    /// Gives a named temperature of the place, on which something may come to rest.
    pub(super) fn look_up(&self, name: &str, otherwise: f64) -> f64 {
        let known = self.recipe.place.temperatures.get(name);
        known.map_or(otherwise, |celsius| celsius.0.to_f64())
    }

    pub(super) fn room(&self) -> f64 {
        self.place("room", 21.0)
    }

    pub(super) fn boiling(&self) -> f64 {
        boiling_point(self.recipe.place.altitude_m.to_f64())
    }

    /// Gives the temperature of what is mostly water: no hotter than it boils here.
    pub(super) fn at_most_boiling(&self, celsius: f64) -> f64 {
        let boiling = self.boiling();
        if celsius < boiling {
            return celsius;
        }
        self.note("altitude");
        boiling
    }

    /// Gives the degrees of a temperature; a place of the bakehouse has those that hold now.
    pub(super) fn degrees(&self, spec: &TemperatureSpec) -> f64 {
        let stated = spec.middle().0.to_f64();
        spec.place
            .as_ref()
            .map_or(stated, |place| self.place(place, stated))
    }

    /// Finds a block of the sheet.
    fn block(&self, id: BlockId) -> Option<&SheetBlock> {
        self.blocks.iter().find(|block| block.id == id)
    }

    /// Lists what the lines of a block bring, each with its heat.
    pub(super) fn parts(&self, id: BlockId) -> Vec<Part> {
        let lines = self.block(id).map(|block| block.lines.iter());
        let parts = lines.into_iter().flatten().filter_map(|line| self.part(id, line));
        parts.filter(|part| part.stuff.grams() > 0.0).collect()
    }

    fn part(&self, id: BlockId, line: &SheetLine) -> Option<Part> {
        let grams = line.weight.as_ref()?.0.to_f64();
        let (stuff, known, mut celsius, from, sort);
        if let Source::Stage(stage) = line.source {
            let block = block_of(self.recipe, stage)?;
            (stuff, known) = self.poured(stage, grams, 0);
            (celsius, from) = match &line.at {
                Some(at) => (self.degrees(at), WarmFrom::Stated),
                None => self.warmth_of(block),
            };
            sort = if is_preferment(block.kind) {
                Sort::Preferment
            } else {
                Sort::Other
            };
        } else {
            let thing = self.thing(id, line)?;
            (stuff, known) = stuff_of(thing, grams);
            (celsius, from) = self.line_warmth(line, thing);
            sort = sort_of(thing);
        }
        // Up a mountain nothing that is mostly water is hotter than it boils there, whatever the line says.
        if stuff.is_wet() {
            celsius = self.at_most_boiling(celsius);
        }
        Some(Part {
            name: line.name.clone(),
            stuff,
            celsius,
            from,
            known,
            sort,
            step: line.step,
        })
    }

    /// Finds what a line of the sheet pours in, as the recipe has it.
    fn thing(&self, id: BlockId, line: &SheetLine) -> Option<&Thing> {
        let mut entries = block_of(self.recipe, id)?.entries.iter();
        entries.find_map(|entry| match entry {
            Entry::Line(written) if written.span == line.span => Some(&written.thing),
            Entry::Line(_) | Entry::Step(_) | Entry::Note(_) => None,
        })
    }

    /// Takes a weight of a stage apart.
    fn poured(&self, stage: BlockId, grams: f64, depth: usize) -> (Stuff, bool) {
        let (stuff, known) = self.block_stuff(stage, depth);
        let whole = stuff.grams();
        if whole <= 0.0 {
            return (like_flour(grams), false);
        }
        (stuff.times(grams / whole), known)
    }

    /// Gives the temperature that a stage has where it is poured.
    fn warmth_of(&self, block: &Block) -> (f64, WarmFrom) {
        let known = self.found(block.id).warmth;
        known.unwrap_or_else(|| {
            let warmth = self.stage_warmth(block);
            self.found.borrow_mut().entry(block.id).or_default().warmth = Some(warmth);
            warmth
        })
    }

    fn found(&self, id: BlockId) -> Found {
        self.found.borrow().get(&id).copied().unwrap_or_default()
    }

    /// Adds up what a block is made of, all that is poured into it included.
    pub(super) fn block_stuff(&self, id: BlockId, depth: usize) -> (Stuff, bool) {
        let known = self.found(id).stuff;
        known.unwrap_or_else(|| {
            let stuff = self.add_up(id, depth);
            self.found.borrow_mut().entry(id).or_default().stuff = Some(stuff);
            stuff
        })
    }

    fn add_up(&self, id: BlockId, depth: usize) -> (Stuff, bool) {
        // A round of stages is an error by now; the bound only keeps a slip from running on.
        let block = self.block(id).filter(|_| depth <= self.blocks.len());
        let Some(block) = block else {
            return (Stuff::default(), false);
        };
        let parts = block.lines.iter().filter_map(|line| {
            let grams = line.weight.as_ref()?.0.to_f64();
            Some(match line.source {
                Source::Stage(stage) => self.poured(stage, grams, depth + 1),
                Source::Ingredient { .. } | Source::Mixture => stuff_of(self.thing(id, line)?, grams),
            })
        });
        parts.fold((Stuff::default(), true), |(sum, known), (stuff, is_known)| {
            (sum.plus(&stuff), known && is_known)
        })
    }

    fn line_warmth(&self, line: &SheetLine, thing: &Thing) -> (f64, WarmFrom) {
        if let Some(at) = &line.at {
            return (self.degrees(at), WarmFrom::Stated);
        }
        let words = line.preparation.as_deref().and_then(of_words);
        // Of water the name itself may say it, `ice water`; `ice` is ice.
        let is_water = || matches!(sort_of(thing), Sort::Water);
        let named = || of_words(&line.name).filter(|_| is_water());
        if let Some(warm) = words.or_else(named) {
            let celsius = match warm {
                Warm::At(celsius) => celsius,
                Warm::Boiling => self.at_most_boiling(f64::INFINITY),
                Warm::Fridge => self.place("fridge", 4.0),
                Warm::Room => self.room(),
            };
            return (celsius, WarmFrom::Words);
        }
        match ingredient_of(thing) {
            Some(ingredient) if ingredient.name == "ice" => (0.0, WarmFrom::Ice),
            Some(ingredient) if is_kept_cold(ingredient) => (self.place("fridge", 4.0), WarmFrom::Fridge),
            _ => (self.room(), WarmFrom::Room),
        }
    }
}

impl Part {
    /// Gives the heat that it brings, in joules above water at 0 °C.
    pub(super) fn heat(&self) -> f64 {
        match self.sort {
            Sort::Ice => -cold_of_ice(self.celsius) * self.stuff.grams(),
            _ => self.stuff.heat(self.celsius),
        }
    }
}

/// Gives the temperature that things come to when they are put together and nothing is lost.
pub(super) fn together(parts: &[Part]) -> f64 {
    let all = parts
        .iter()
        .fold(Stuff::default(), |sum, part| sum.plus(&part.stuff));
    all.temperature(parts.iter().map(Part::heat).sum())
}

/// Takes a thing apart; what is not known is taken for bread flour, which most dry goods are near.
fn stuff_of(thing: &Thing, grams: f64) -> (Stuff, bool) {
    if let Thing::Mixture(mixture) = thing {
        let parts = mixture.parts.iter();
        return parts.fold((Stuff::default(), true), |(sum, known), (part, share)| {
            let (stuff, is_known) = one(part, grams * share.to_f64());
            (sum.plus(&stuff), known && is_known)
        });
    }
    match ingredient_of(thing) {
        Some(ingredient) => one(ingredient, grams),
        None => (like_flour(grams), false),
    }
}

fn one(ingredient: &Ingredient, grams: f64) -> (Stuff, bool) {
    let stuff = Stuff::of(&ingredient.composition, ingredient.is_flour, grams);
    stuff.map_or_else(|| (like_flour(grams), false), |stuff| (stuff, true))
}

/// Bread flour with the figures of W9 (USDA, from memory).
pub(super) fn like_flour(grams: f64) -> Stuff {
    let number = |text: &str| Ratio::parse_decimal(text);
    let composition = Composition {
        water: number("13.36"),
        protein: number("11.98"),
        fat: number("1.66"),
        carbohydrate: number("72.53"),
        fibre: number("2.4"),
        ash: number("0.47"),
        ..Composition::default()
    };
    Stuff::of(&composition, true, grams).unwrap_or_default()
}

pub(super) fn ingredient_of(thing: &Thing) -> Option<&Ingredient> {
    match thing {
        Thing::Ingredient(ingredient) => Some(ingredient),
        Thing::Unlisted { like } => like.as_deref(),
        Thing::Stage(_) | Thing::Mixture(_) => None,
    }
}

fn sort_of(thing: &Thing) -> Sort {
    match thing {
        Thing::Mixture(_) => Sort::Preferment,
        Thing::Stage(_) => Sort::Other,
        _ => match ingredient_of(thing) {
            Some(one) if one.name == "water" => Sort::Water,
            Some(one) if one.name == "ice" => Sort::Ice,
            Some(one) if one.kind == Kind::Milk => Sort::Milk,
            Some(one) if one.is_flour => Sort::Flour,
            _ => Sort::Other,
        },
    }
}

/// What a bakehouse keeps in the fridge: common practice, no source.
fn is_kept_cold(ingredient: &Ingredient) -> bool {
    let is_fresh_yeast = || {
        let water = ingredient.composition.water.as_ref();
        ingredient.kind == Kind::Yeast && water.is_some_and(|water| *water > Ratio::whole(40))
    };
    matches!(
        ingredient.kind,
        Kind::Milk | Kind::Cream | Kind::Cultured | Kind::FreshCheese | Kind::Egg | Kind::Butter
    ) || is_fresh_yeast()
}

/// Reads the temperature off words of preparation.
fn of_words(preparation: &str) -> Option<Warm> {
    let words = preparation.to_lowercase();
    let holds = |phrase: &str| {
        words
            .split(|letter: char| !letter.is_alphabetic() && letter != ' ')
            .any(|part| part.trim() == phrase || part.split(' ').any(|word| word == phrase))
    };
    WORDS
        .iter()
        .find(|(phrase, _)| holds(phrase) || (phrase.contains(' ') && words.contains(phrase)))
        .map(|(_, warm)| *warm)
}
