//! The caution about hot water and steam: water that is hot by its degrees or by a word, what is boiled or cooked with
//! it, and what is poured or thrown into a hot oven.

use super::bench::is_at_oven;
use super::words::Text;
use super::{Facts, Named, about_all};
use crate::model::catalog::Kind;
use crate::model::recipe::{Amount, Block, BlockKind, Cue, Line, Step};
use crate::model::verbs::Purpose;
use crate::quantity::Celsius;
use crate::sheet::walk::{ingredients_of, is_for, lines_of, role_of, steps_of};
use crate::sheet::{Caution, Role};

/// Water that burns within seconds: published value H10, U.S. CPSC notice 5098 (from memory, not looked up).
const SCALDING: Celsius = Celsius::whole(60);
/// Nothing with water in it is hotter than this in an open pan; a griddle is.
const BOILING: Celsius = Celsius::whole(100);

/// Words of steam in an oven, besides those of hot water.
const STEAM: &[&str] = &[
    "steam",
    "steaming",
    "steamed",
    "mist the oven",
    "spray the oven",
    "spritz the oven",
    "wet towel",
    "wet towels",
    "ice cubes",
    "ice cube",
    "dampf",
    "schwaden",
    "eiswürfel",
    "vapeur",
    "buée",
    "glaçons",
];
/// Words of hot water and of boiling, wherever they stand.
const HOT_WATER: &[&str] = &[
    "boiling water",
    "boiling milk",
    "boiling liquid",
    "boiling hot",
    "hot water",
    "hot milk",
    "to the boil",
    "to a boil",
    "off the boil",
    "freshly boiled",
    "boiled water",
    "just boiled",
    "scald the",
    "hot soda",
    "hot lye",
    "from the kettle",
    "simmer",
    "simmering",
    "kochendes wasser",
    "kochendem wasser",
    "kochende milch",
    "heißes wasser",
    "heißem wasser",
    "heiße milch",
    "aufkochen",
    "aufgekocht",
    "eau bouillante",
    "eau chaude",
    "lait bouillant",
    "lait chaud",
    "ébullition",
];
/// Cues of a pan that has come to the heat: `heat until steaming`.
const HEATED: &[&str] = &[
    "steaming",
    "it steams",
    "boiling",
    "it boils",
    "dampft",
    "kocht",
    "fume",
    "frémit",
];
/// Words of heat on a line of water, milk or the like.
const HOT: &[&str] = &[
    "boiling",
    "boil",
    "hot",
    "scalding",
    "kochend",
    "kochendes",
    "heiß",
    "heißes",
    "bouillant",
    "bouillante",
    "chaud",
    "chaude",
];
/// Words of a line that was hot, and is poured when it is so no more.
const COOLED: &[&str] = &[
    "cooled",
    "cool",
    "lukewarm",
    "abgekühlt",
    "lauwarm",
    "refroidi",
    "refroidie",
    "tiède",
];

/// What turns to steam at once.
const WATERS: &[&str] = &["water", "ice", "wasser", "eis", "eau", "glace"];
/// What it is poured into.
const VESSELS: &[&str] = &["tray", "pan", "dish", "blech", "fettpfanne", "plaque", "plat"];
/// The oven itself, and what stands in it only.
const OVENS: &[&str] = &[
    "oven",
    "stove",
    "ofen",
    "ofenboden",
    "backofen",
    "four",
    "sole",
    "lèchefrite",
];
/// Where else it goes at the oven.
const FLOORS: &[&str] = &[
    "tin", "floor", "base", "bottom", "stone", "stones", "steel", "stein", "pierre", "boden",
];
/// Words between the water and where it goes.
const ON_THE_WAY: &[&str] = &[
    "in",
    "into",
    "on",
    "onto",
    "to",
    "at",
    "under",
    "over",
    "below",
    "the",
    "a",
    "an",
    "your",
    "that",
    "hot",
    "empty",
    "lower",
    "bottom",
    "deep",
    "second",
    "old",
    "metal",
    "preheated",
    "heated",
    "roasting",
    "baking",
    "drip",
    "steel",
    "iron",
    "cast",
    "auf",
    "das",
    "den",
    "dem",
    "die",
    "ein",
    "eine",
    "heiße",
    "heißen",
    "heißes",
    "untere",
    "dans",
    "sur",
    "le",
    "la",
    "un",
    "une",
    "du",
    "de",
    "chaude",
    "chaud",
];
/// Words between a vessel and the water in it.
const FULL_OF: &[&str] = &[
    "of", "with", "filled", "full", "holding", "hot", "cold", "warm", "boiling", "a", "the", "some",
    "little", "cup", "mit", "voll", "d", "remplie", "rempli",
];
/// Words of water that goes on a loaf and not into the oven.
const WETTING: &[&str] = &[
    "brush",
    "brushed",
    "paint",
    "rub",
    "wet",
    "damp",
    "rinse",
    "bestreichen",
    "badigeonner",
];
/// How many words back a word of wetting is looked for.
const NEAR: usize = 4;

/// C11.
pub(super) fn steam_and_scalds(facts: &Facts) -> Vec<Caution> {
    let blocks = facts.recipe.blocks.iter();
    let scalds = blocks
        .clone()
        .filter(|block| block.kind == BlockKind::Scald)
        .map(|block| (block.title.clone(), block.span));
    let phrases = Phrases {
        steam: facts.texts.likely(STEAM),
        hot_water: facts.texts.likely(HOT_WATER),
        hot: facts.texts.likely(HOT),
        waters: facts.texts.likely(WATERS),
    };
    let lines = facts.texts.lines.iter();
    let waters = lines
        .filter(|(line, text)| is_scalding(line, text, &phrases))
        .map(|(line, _)| (line.name.value.clone(), line.span));
    let remarks = facts.texts.remarks.iter();
    let remarks = remarks
        .filter(|(_, text)| text.means_any(&phrases.hot_water))
        .map(|(line, _)| (line.name.value.clone(), line.span));
    let steps = facts.texts.steps.iter();
    let steps = steps
        .filter(|(step, text)| is_steamy(step, text, &phrases))
        .map(|(step, _)| (step.words.clone(), step.span));
    let cooked = blocks.flat_map(|block| steps_of(block).map(move |step| (block, step)));
    let cooked = cooked
        .filter(|(block, step)| cooks_with_water(facts, block, step))
        .map(|(_, step)| (step.words.clone(), step.span));
    let named: Vec<Named> = scalds
        .chain(waters)
        .chain(remarks)
        .chain(steps)
        .chain(cooked)
        .collect();
    about_all("C11", &named).into_iter().collect()
}

/// The phrases that may stand somewhere in the recipe.
struct Phrases {
    steam: Vec<&'static str>,
    hot_water: Vec<&'static str>,
    hot: Vec<&'static str>,
    waters: Vec<&'static str>,
}

/// Says whether a line is poured hot: by its degrees where it has some, else by a word.
fn is_scalding(line: &Line, text: &Text, phrases: &Phrases) -> bool {
    if let Some(at) = &line.at {
        return at.middle() >= SCALDING && ingredients_of(line).iter().any(|part| part.is_wet);
    }
    let hot = is_poured(line) && text.means_any(&phrases.hot) || text.means_any(&phrases.hot_water);
    hot && !text.says_any(COOLED)
}

/// Says whether a line is water, milk or another liquid.
fn is_poured(line: &Line) -> bool {
    ingredients_of(line)
        .iter()
        .any(|part| matches!(part.kind, Kind::Liquid | Kind::Milk | Kind::Cream))
}

fn is_steamy(step: &Step, text: &Text, phrases: &Phrases) -> bool {
    let boils = step.verb.is_some_and(|verb| verb.word == "boil");
    // `15 min without steam` is a step whose verb is steam.
    let steams = is_for(step, Purpose::Steam) && (text.means_any(STEAM) || !text.says_any(STEAM));
    boils
        || steams
        || is_heated(step)
        || text.means_any(&phrases.hot_water)
        || is_at_oven(step) && text.means_any(&phrases.steam)
        || !phrases.waters.is_empty() && goes_into_oven(step, text)
}

fn is_heated(step: &Step) -> bool {
    step.until.as_ref().is_some_and(|until| match &until.value {
        Cue::Words(words) => Text::short(words, until.span).means_any(HEATED),
        Cue::Core(_) | Cue::Dough(_) | Cue::Grown(_) => false,
    })
}

/// Says whether water or ice goes into a hot oven: `throw a handful of ice on the oven floor`, `a tray of water`. A
/// tray may stand anywhere; a step at the oven, or one that no verb of the trade says more of, means that there.
fn goes_into_oven(step: &Step, text: &Text) -> bool {
    let words: Vec<(&str, bool)> = text.each_word().collect();
    let at_oven = is_at_oven(step) || step.verb.is_none();
    let is_place =
        |word: &str| OVENS.contains(&word) || at_oven && (VESSELS.contains(&word) || FLOORS.contains(&word));
    let is_vessel = |word: &str| at_oven && VESSELS.contains(&word);
    (0..words.len()).any(|at| {
        let (before, rest) = words.split_at(at);
        let Some(((first, denied), rest)) = rest.split_first() else {
            return false;
        };
        let wets = before
            .iter()
            .rev()
            .take(NEAR)
            .any(|(word, _)| WETTING.contains(word));
        if *denied || wets {
            return false;
        }
        WATERS.contains(first) && leads_to(rest, ON_THE_WAY, is_place)
            || is_vessel(first) && leads_to(rest, FULL_OF, |word| WATERS.contains(&word))
    })
}

/// Says whether one or more words of a kind lead to a word that is looked for.
fn leads_to(words: &[(&str, bool)], between: &[&str], is_end: impl Fn(&str) -> bool) -> bool {
    // A word such as `steel` may stand on the way and be the place itself.
    let end = words.iter().position(|(word, _)| !between.contains(word));
    let reached = end.map_or(words, |end| words.get(..=end).unwrap_or_default());
    reached.iter().skip(1).any(|(word, _)| is_end(word))
}

/// Says whether a step heats water or milk of its block. A dough that is cooked without a word of degrees lies on a
/// griddle.
fn cooks_with_water(facts: &Facts, block: &Block, step: &Step) -> bool {
    let warms = is_for(step, Purpose::Cook) || is_for(step, Purpose::Warm);
    let poured = |line: &Line| is_poured(line) && !matches!(line.amount.value, Amount::Some);
    if !warms || !lines_of(block).any(|(line, _)| poured(line)) {
        return false;
    }
    if let Some(degrees) = step.to.as_ref().or(step.at.as_ref()) {
        return (SCALDING..=BOILING).contains(&degrees.middle());
    }
    let is_dough = matches!(role_of(facts.blocks, block.id), Role::Dough | Role::Part);
    !is_dough && step.verb.is_some_and(|verb| verb.word == "cook")
}
