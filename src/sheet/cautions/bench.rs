//! Cautions about heat, steam, fire and jars: what happens at the bench and the oven.

use super::words::Text;
use super::{Facts, Named, about_all};
use crate::model::recipe::{BlockKind, Step};
use crate::model::verbs::Purpose;
use crate::quantity::Celsius;
use crate::sheet::Caution;
use crate::sheet::walk::{ingredients_of, is_for, lines_of};

/// Water that burns within seconds: published value H10, U.S. CPSC notice 5098 (from memory, not looked up).
const SCALDING: Celsius = Celsius::whole(60);
/// What most baking paper is rated to; common practice, no source.
const PAPER: Celsius = Celsius::whole(220);

/// Words of steam in an oven.
const STEAM: &[&str] = &[
    "steam",
    "boiling water",
    "ice cubes",
    "ice cube",
    "hot water",
    "dampf",
    "schwaden",
    "heißes wasser",
    "eiswürfel",
    "vapeur",
    "buée",
    "eau bouillante",
    "eau chaude",
    "glaçons",
];
/// Words of things that are heated empty and look cold.
const HOT_THINGS: &[&str] = &[
    "pot",
    "pots",
    "dutch oven",
    "casserole",
    "cast iron",
    "cloche",
    "stone",
    "steel",
    "hot tray",
    "hot pan",
    "topf",
    "gusstopf",
    "bräter",
    "backstein",
    "backstahl",
    "heißes blech",
    "cocotte",
    "fonte",
    "pierre",
    "plaque brûlante",
];
const PAPERS: &[&str] = &[
    "parchment",
    "baking paper",
    "baking parchment",
    "paper",
    "backpapier",
    "papier cuisson",
    "papier de cuisson",
    "papier sulfurisé",
];
const FIRES: &[&str] = &[
    "wood fired",
    "wood oven",
    "wood burning",
    "charcoal",
    "embers",
    "open fire",
    "campfire",
    "gas oven",
    "gas flame",
    "gas fired",
    "barbecue",
    "holzofen",
    "holzbackofen",
    "holzkohle",
    "gasofen",
    "offenes feu",
    "feu de bois",
    "four à bois",
    "four à gaz",
    "charbon de bois",
];
const JARS: &[&str] = &[
    "jar",
    "jars",
    "einmachglas",
    "einmachgläser",
    "weckglas",
    "bocal",
    "bocaux",
];

/// C11.
pub(super) fn steam_and_scalds(facts: &Facts) -> Vec<Caution> {
    let blocks = facts.recipe.blocks.iter();
    let scalds = blocks
        .clone()
        .filter(|block| block.kind == BlockKind::Scald)
        .map(|block| (block.title.clone(), block.span));
    let waters = blocks.flat_map(lines_of).filter_map(|(line, _)| {
        let hot = line.at.as_ref().is_some_and(|at| at.middle() >= SCALDING);
        let wet = ingredients_of(line).iter().any(|part| part.is_wet);
        (hot && wet).then(|| (line.name.value.clone(), line.span))
    });
    let steps = facts.texts.steps.iter();
    let steam = facts.texts.likely(STEAM);
    let steps = steps
        .filter(|(step, text)| is_steamy(step, text, &steam))
        .map(|(step, _)| (step.words.clone(), step.span));
    let named: Vec<Named> = scalds.chain(waters).chain(steps).collect();
    about_all("C11", &named).into_iter().collect()
}

fn is_steamy(step: &Step, text: &Text, steam: &[&str]) -> bool {
    let boils = step.verb.is_some_and(|verb| verb.word == "boil");
    let at_oven = is_for(step, Purpose::Bake) || is_for(step, Purpose::Preheat) || is_load(step);
    boils || is_for(step, Purpose::Steam) || at_oven && text.says_any(steam)
}

fn is_load(step: &Step) -> bool {
    step.verb.is_some_and(|verb| verb.word == "load")
}

/// C12.
pub(super) fn hot_things(facts: &Facts) -> Vec<Caution> {
    let is_at_oven =
        |step: &Step| is_for(step, Purpose::Bake) || is_for(step, Purpose::Preheat) || is_load(step);
    let at_oven: Vec<&(&Step, Text)> = facts
        .texts
        .steps
        .iter()
        .filter(|(step, _)| is_at_oven(step))
        .collect();
    let mut named: Vec<Named> = Vec::new();
    let things = facts.texts.likely(HOT_THINGS);
    let hot = at_oven.iter().find(|(_, text)| text.says_any(&things));
    named.extend(hot.map(|(step, _)| ("hot pot or stone".to_owned(), step.span)));
    let too_hot = |step: &Step| step.at.as_ref().is_some_and(|at| at.middle() > PAPER);
    let papers = facts.texts.likely(PAPERS);
    let paper = facts.texts.all().any(|text| text.says_any(&papers));
    let oven = at_oven
        .iter()
        .find(|(step, _)| is_for(step, Purpose::Bake) && too_hot(step));
    named.extend(
        oven.filter(|_| paper)
            .map(|(step, _)| ("baking paper".to_owned(), step.span)),
    );
    let fires = facts.texts.likely(FIRES);
    let fire = facts.texts.all().find_map(|text| text.find(&fires));
    named.extend(fire.map(|(_, span)| ("open fire".to_owned(), span)));
    about_all("C12", &named).into_iter().collect()
}

/// C21. A culture ripens in a jar and a dough may rise in one; only the baked bread must not be sealed in it.
pub(super) fn sealed_jars(facts: &Facts) -> Vec<Caution> {
    let jars = facts.texts.likely(JARS);
    let sealed = |(step, text): &&(&Step, Text)| {
        if !text.says_any(&jars) {
            return false;
        }
        let seals = text.says_any(&["seal", "sealed", "close", "lid on"]) && is_for(step, Purpose::Keep);
        is_for(step, Purpose::Bake) || seals || is_for(step, Purpose::Steam)
    };
    let steps = facts.texts.steps.iter().filter(sealed);
    let named: Vec<Named> = steps.map(|(step, _)| (step.words.clone(), step.span)).collect();
    about_all("C21", &named).into_iter().collect()
}
