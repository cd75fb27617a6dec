//! Cautions about hot things, fire and jars: what happens at the bench and the oven. Hot water and steam have a file
//! of their own.

use super::warm::oven_at;
use super::words::Text;
use super::{Facts, Named, about_all};
use crate::model::recipe::Step;
use crate::model::verbs::Purpose;
use crate::quantity::Celsius;
use crate::sheet::Caution;
use crate::sheet::walk::is_for;

/// What most baking paper is rated to; common practice, no source.
const PAPER: Celsius = Celsius::whole(220);

/// Words of things that are heated empty and look cold.
const HOT_THINGS: &[&str] = &[
    "pot",
    "pots",
    "dutch oven",
    "casserole",
    "cast iron",
    "cloche",
    "combo cooker",
    "clay baker",
    "hot skillet",
    "iron skillet",
    "römertopf",
    "tontopf",
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
    "on the bbq",
    "on a bbq",
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
    "im glas",
    "in gläsern",
    "sturzglas",
    "sturzgläser",
    "sturzgläsern",
    "einmachglas",
    "einmachgläser",
    "weckglas",
    "bocal",
    "bocaux",
];

/// Words of a jar that is shut.
const SEALING: &[&str] = &[
    "seal",
    "sealed",
    "close",
    "closed",
    "lid on",
    "lids on",
    "the lid",
    "the lids",
    "airtight",
    "verschließen",
    "verschlossen",
    "zuschrauben",
    "fermer",
    "fermés",
    "fermé",
];

/// Says whether a step is done at the oven.
pub(super) fn is_at_oven(step: &Step) -> bool {
    let loads = step.verb.is_some_and(|verb| verb.word == "load");
    loads || is_for(step, Purpose::Bake) || is_for(step, Purpose::Preheat)
}

/// C12.
pub(super) fn hot_things(facts: &Facts) -> Vec<Caution> {
    let at_oven: Vec<&(&Step, Text)> = facts
        .texts
        .steps
        .iter()
        .filter(|(step, _)| is_at_oven(step))
        .collect();
    let mut named: Vec<Named> = Vec::new();
    let things = facts.texts.likely(HOT_THINGS);
    let hot = at_oven.iter().find(|(_, text)| text.means_any(&things));
    named.extend(hot.map(|(step, _)| ("hot pot or stone".to_owned(), step.span)));
    let too_hot = |step: &Step| step.at.as_ref().is_some_and(|at| at.middle() > PAPER);
    let papers = facts.texts.likely(PAPERS);
    let paper = facts.texts.all().any(|text| text.means_any(&papers));
    let oven = at_oven
        .iter()
        .find(|(step, _)| is_for(step, Purpose::Bake) && too_hot(step));
    named.extend(
        oven.filter(|_| paper)
            .map(|(step, _)| ("baking paper".to_owned(), step.span)),
    );
    let fires = facts.texts.likely(FIRES);
    let fire = facts.texts.all().find_map(|text| text.find_meant(&fires));
    named.extend(fire.map(|(_, span)| ("open fire".to_owned(), span)));
    about_all("C12", &named).into_iter().collect()
}

/// C21. A culture ripens in a jar and a dough may rise in one, and crackers are kept in one; only bread that is baked in
/// it, or sealed in it once it is baked, is meant.
pub(super) fn sealed_jars(facts: &Facts) -> Vec<Caution> {
    let jars = facts.texts.likely(JARS);
    let lanes = &facts.schedule.lanes;
    let main = lanes.iter().find(|lane| lane.block == facts.recipe.main);
    let main = main.map_or(&[][..], |lane| lane.steps.as_slice());
    let baked = oven_at(main).map_or(&[][..], |oven| main.get(oven..).unwrap_or_default());
    let sealed = |(step, text): &&(&Step, Text)| {
        if !text.means_any(&jars) {
            return false;
        }
        let is_baked = baked.iter().any(|placed| placed.step.span == step.span);
        let seals = text.means_any(SEALING) && (is_baked || is_for(step, Purpose::Keep));
        is_for(step, Purpose::Bake) || seals || is_for(step, Purpose::Steam)
    };
    let steps = facts.texts.steps.iter().filter(sealed);
    let named: Vec<Named> = steps.map(|(step, _)| (step.words.clone(), step.span)).collect();
    about_all("C21", &named).into_iter().collect()
}
