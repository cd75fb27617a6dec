//! Cautions that an ingredient or a figure calls for by itself.

use super::words::Text;
use super::{Facts, MUCH_CASSIA, Named, about_all, about_card};
use crate::model::catalog::Tag;
use crate::model::recipe::{Amount, BlockKind, Line, Recipe, Step, Thing};
use crate::model::verbs::Purpose;
use crate::quantity::{Elapsed, Grams, Ratio};
use crate::sheet::walk::{block_of, has_tag, lines_of, salt_is_open, weight_of};
use crate::sheet::{Caution, Lane, PlacedStep, Role};

/// Strength of a lye bath above which the graver words are called for, as a fraction of one.
const STRONG_LYE: (i64, i64) = (4, 100);
/// Names under which lye is written that no table need know.
const LYE_WORDS: &[&str] = &[
    "lye",
    "lauge",
    "natronlauge",
    "caustic soda",
    "naoh",
    "koh",
    "e524",
    "e525",
    "laugenbad",
    "laugenperlen",
    "belaugen",
    "sodium hydroxide",
    "potassium hydroxide",
    "brezellauge",
    "natriumhydroxid",
    "kaliumhydroxid",
    "ätznatron",
    "soude caustique",
    "lessive de soude",
];
/// Words for honey; the German ones are compounds of `Honig`.
const HONEY: &[&str] = &[
    "honey",
    "honeys",
    "honeyed",
    "honeycomb",
    "honeycombs",
    "miel",
    "miels",
    "miellé",
];
/// Words after `honey` that make it something else.
const NO_HONEY: &[&str] = &[
    "coloured",
    "colored",
    "colour",
    "color",
    "brown",
    "gold",
    "golden",
    "yellow",
    "tone",
    "toned",
    "like",
    "free",
    "melon",
    "melons",
    "mushroom",
    "mushrooms",
    "fungus",
    "berry",
    "berries",
    "frei",
];
/// Beginnings of German words with `honig` that name none.
const NO_HONIG: &[&str] = &[
    "honigmelone",
    "honigfarben",
    "honiggelb",
    "honigbraun",
    "honiggold",
    "honigfrei",
];
/// Share of a bread from which cassia is much: a piece of 100 g then holds 0.5 g, the most that a child of 15 kg should
/// eat of it day by day by the advice of the German risk institute BfR (2012, on coumarin: 0.1 mg for each kilogram
/// of body weight and day; as reported in the press, the paper itself was not looked up).
const CASSIA_SHARE: (i64, i64) = (5, 1000);
/// Words for cinnamon that the table need not know.
const CINNAMON: &[&str] = &["cinnamon", "cassia", "zimt", "zimtpulver", "cannelle"];
/// Words beside one of those that make it poor in coumarin, or mostly something else.
const NO_CASSIA: &[&str] = &[
    "ceylon", "ceylan", "true", "verum", "sugar", "zucker", "sucre", "chips", "stick", "sticks", "stange",
    "bâton",
];
/// Share of the flour from which poppy seed is more than a sprinkling; common practice, no source.
const MUCH_POPPY: (i64, i64) = (10, 100);
/// Words for plants that nobody has sold.
const GATHERED: &[&str] = &[
    "foraged",
    "wild garlic",
    "hand gathered",
    "wild herbs",
    "picked wild",
    "bärlauch",
    "wildkräuter",
    "ail des ours",
    "herbes sauvages",
];
/// Names of bean flours that the table does not have; those that it has carry a tag.
const BEAN_FLOURS: &[&str] = &[
    "bean flour",
    "bean meal",
    "bohnenmehl",
    "farine de haricot",
    "farine de haricots",
];
/// Words that make such a flour another thing.
const NO_RAW_BEAN: &[&str] = &["soy", "soya", "soja", "cooked", "toasted", "cocoa", "vanilla"];
/// Words of a culture that is kept going.
const FED: &[&str] = &[
    "feed daily",
    "fed daily",
    "feed it daily",
    "feed every day",
    "fed every day",
    "daily feed",
    "daily feeding",
    "täglich füttern",
    "täglich auffrischen",
    "rafraîchir chaque jour",
    "nourrir chaque jour",
];
/// How long a culture may ripen before it counts as kept.
const KEPT: Elapsed = Elapsed::hours(24);
/// Salt on flour outside of which the caution speaks, as fractions of one.
const LITTLE_SALT: (i64, i64) = (1, 100);
const MUCH_SALT: (i64, i64) = (25, 1000);
/// Words of somebody who bakes for their health.
const HEALTH: &[&str] = &[
    "low salt",
    "low sodium",
    "reduced salt",
    "salt free",
    "low sugar",
    "sugar free",
    "diabetic",
    "diabetics",
    "salzarm",
    "salzarmes",
    "zuckerfrei",
    "zuckerfreies",
    "diabetiker",
    "pauvre en sel",
    "sans sel",
    "sans sucre",
    "diabétique",
    "diabétiques",
];

fn share((numerator, denominator): (i64, i64)) -> Ratio {
    Ratio::fraction(numerator, denominator).unwrap_or_default()
}

fn all_lines(recipe: &Recipe) -> impl Iterator<Item = &Line> {
    recipe.blocks.iter().flat_map(lines_of).map(|(line, _)| line)
}

fn tagged_lines(recipe: &Recipe, tag: Tag) -> Vec<&Line> {
    all_lines(recipe).filter(|line| has_tag(line, &[tag])).collect()
}

/// Names the lines that have a tag.
fn tagged(recipe: &Recipe, tag: Tag) -> Vec<Named> {
    tagged_lines(recipe, tag)
        .iter()
        .map(|line| (line.name.value.clone(), line.span))
        .collect()
}

/// Names the texts that say one of some phrases, by the phrase.
fn said<'text>(facts: &Facts, texts: impl Iterator<Item = &'text Text>, phrases: &[&str]) -> Vec<Named> {
    let phrases = facts.texts.likely(phrases);
    texts
        .filter_map(|text| text.find_meant(&phrases))
        .map(|(phrase, span)| (phrase.to_owned(), span))
        .collect()
}

/// C01: what the ingredients contain, and which of them were not checked, stands with the sheet's allergens.
pub(super) fn allergens(facts: &Facts) -> Vec<Caution> {
    let any = all_lines(facts.recipe).next();
    any.map(|_| about_card("C01")).into_iter().collect()
}

/// C09: honey by the table, by its name on a line, else by what a step or the prose below a line says.
pub(super) fn honey(facts: &Facts) -> Vec<Caution> {
    let lines = facts.texts.lines.iter();
    let mut named: Vec<Named> = lines
        .filter(|(line, text)| has_tag(line, &[Tag::Honey]) || names_honey(text))
        .map(|(line, _)| (line.name.value.clone(), line.span))
        .collect();
    if named.is_empty() {
        let steps = facts.texts.steps.iter();
        let steps = steps.map(|(step, text)| (text, step.words.clone(), step.span));
        let remarks = facts.texts.remarks.iter();
        let remarks = remarks.map(|(line, text)| (text, line.name.value.clone(), line.span));
        let said = steps.chain(remarks).filter(|(text, _, _)| names_honey(text));
        named.extend(said.map(|(_, name, span)| (name, span)));
    }
    about_all("C09", &named).into_iter().collect()
}

/// Says whether a text names honey that goes in or on, in whatever compound: `honeycomb`, `Lavendelhonig`. A crust may
/// be honey-coloured, and a honeydew is a melon.
pub(super) fn names_honey(text: &Text) -> bool {
    let words: Vec<(&str, bool)> = text.each_word().collect();
    words.iter().enumerate().any(|(at, (word, denied))| {
        let next = words.get(at + 1).map_or("", |(next, _)| next);
        let german = word.contains("honig") && !NO_HONIG.iter().any(|start| word.starts_with(start));
        let honey = german || HONEY.contains(word);
        honey && !denied && !NO_HONEY.contains(&next)
    })
}

/// C10.
pub(super) fn lye(facts: &Facts) -> Vec<Caution> {
    let lines = facts.texts.lines.iter();
    let phrases = facts.texts.likely(LYE_WORDS);
    let lines: Vec<&Line> = lines
        .filter(|(line, text)| has_tag(line, &[Tag::Lye]) || text.means_any(&phrases))
        .map(|(line, _)| *line)
        .collect();
    let mut named: Vec<Named> = lines
        .iter()
        .map(|line| (line.name.value.clone(), line.span))
        .collect();
    if named.is_empty() {
        // Prose at the head may well say that this bread goes without lye.
        let texts = &facts.texts;
        let heads = texts.own.iter().filter(|text| !text.is_prose);
        let steps = texts.steps.iter().map(|(_, text)| text);
        named = said(facts, heads.chain(steps), LYE_WORDS);
    }
    let Some(caution) = about_all("C10", &named) else {
        return Vec::new();
    };
    let weak = !lines.is_empty() && lines.iter().all(|line| is_weak(facts, line));
    vec![Caution {
        graver: !weak,
        ..caution
    }]
}

/// Says whether a line of lye is known to stay within four parts in a hundred of its block.
fn is_weak(facts: &Facts, lye: &Line) -> bool {
    let block = facts
        .blocks
        .iter()
        .find(|block| block.lines.iter().any(|line| line.span == lye.span));
    let weight = weight_of(facts.blocks, &[lye]);
    let strength = block.and_then(|block| weight.share_of(&block.total));
    // An unweighed pinch has no weight on the sheet, and so no strength that anybody knows.
    !matches!(lye.amount.value, Amount::Some)
        && strength.is_some_and(|strength| strength <= share(STRONG_LYE))
}

/// C13.
pub(super) fn salt_and_health(facts: &Facts) -> Vec<Caution> {
    let title = facts.recipe.title.span;
    let mut named: Vec<Named> = Vec::new();
    if let Some(salt) = &facts.figures.salt {
        if *salt < share(LITTLE_SALT) && !salt_is_open(facts.recipe, facts.blocks) {
            named.push(("little salt".to_owned(), title));
        } else if *salt > share(MUCH_SALT) {
            named.push(("much salt".to_owned(), title));
        }
    }
    named.extend(tagged(facts.recipe, Tag::PotassiumSalt));
    named.extend(said(facts, facts.texts.own.iter(), HEALTH));
    about_all("C13", &named).into_iter().collect()
}

/// C16: improvers, and cassia where there is much of it in the bread.
pub(super) fn restricted_improvers(facts: &Facts) -> Vec<Caution> {
    let improvers = about_all("C16", &tagged(facts.recipe, Tag::RestrictedImprover));
    let phrases = facts.texts.likely(CINNAMON);
    let lines = facts.texts.lines.iter();
    let cassia: Vec<&Line> = lines
        .filter(|(line, text)| has_tag(line, &[Tag::Cassia]) || is_unlisted_cinnamon(line, text, &phrases))
        .map(|(line, _)| *line)
        .collect();
    let of_bread = |role| matches!(role, Role::Dough | Role::Filling | Role::Topping);
    let bread: Grams = facts
        .blocks
        .iter()
        .filter(|block| of_bread(block.role))
        .map(|block| &block.total)
        .sum();
    let is_much = weight_of(facts.blocks, &cassia) > bread.times(&share(CASSIA_SHARE));
    let named: Vec<Named> = cassia
        .iter()
        .map(|line| (line.name.value.clone(), line.span))
        .collect();
    let cassia = about_all("C16", &named).filter(|_| is_much).map(|mut caution| {
        caution.about.insert(0, MUCH_CASSIA.to_owned());
        caution
    });
    improvers.into_iter().chain(cassia).collect()
}

/// Says whether a line is cinnamon by a name that the table does not have, and not of the kind that is poor in coumarin.
fn is_unlisted_cinnamon(line: &Line, text: &Text, phrases: &[&str]) -> bool {
    let unlisted = matches!(line.thing, Thing::Unlisted { .. });
    unlisted && text.means_any(phrases) && !text.says_any(NO_CASSIA)
}

/// C17.
pub(super) fn risky_plants(facts: &Facts) -> Vec<Caution> {
    let mut named = tagged(facts.recipe, Tag::BeanFlour);
    named.extend(tagged(facts.recipe, Tag::BitterKernel));
    let poppy = tagged_lines(facts.recipe, Tag::Poppy);
    let much = &facts.figures.flour.times(&share(MUCH_POPPY));
    if weight_of(facts.blocks, &poppy) > *much {
        named.extend(poppy.iter().map(|line| (line.name.value.clone(), line.span)));
    }
    let phrases = facts.texts.likely(GATHERED);
    let gathered = facts
        .texts
        .lines
        .iter()
        .filter(|(_, text)| text.says_any(&phrases));
    named.extend(gathered.map(|(line, _)| (line.name.value.clone(), line.span)));
    let beans = facts.texts.likely(BEAN_FLOURS);
    let unlisted = |line: &Line| matches!(line.thing, Thing::Unlisted { .. });
    let raw = facts
        .texts
        .lines
        .iter()
        .filter(|(line, text)| unlisted(line) && text.means_any(&beans) && !text.says_any(NO_RAW_BEAN));
    named.extend(raw.map(|(line, _)| (line.name.value.clone(), line.span)));
    about_all("C17", &named).into_iter().collect()
}

/// C18: a starter comes from a jar that somebody keeps, and what is left over goes back to one.
pub(super) fn culture(facts: &Facts) -> Vec<Caution> {
    let starters = all_lines(facts.recipe)
        .filter(|line| matches!(&line.thing, Thing::Mixture(mixture) if mixture.is_starter))
        .map(|line| (line.name.value.clone(), line.span));
    let kept = facts
        .blocks
        .iter()
        .filter(|block| block.kind == BlockKind::Levain && block.kept > Grams::ZERO)
        .filter_map(|block| Some((block.title.clone(), block_of(facts.recipe, block.id)?.span)));
    let phrases = facts.texts.likely(FED);
    let is_fed = |step: &Step, text: &Text| {
        step.verb.is_some_and(|verb| verb.word == "feed") || text.means_any(&phrases)
    };
    let steps = facts.texts.steps.iter();
    let fed = steps
        .filter(|(step, text)| is_fed(step, text))
        .map(|(step, _)| (step.words.clone(), step.span));
    let named: Vec<Named> = starters
        .chain(kept)
        .chain(fed)
        .chain(ripened_long(facts))
        .collect();
    about_all("C18", &named).into_iter().collect()
}

/// Names the steps at which a preferment ripens for more than a day.
fn ripened_long<'a>(facts: &Facts<'a>) -> impl Iterator<Item = Named> + use<'a> {
    let cultures = [
        BlockKind::Levain,
        BlockKind::Sponge,
        BlockKind::Poolish,
        BlockKind::Biga,
    ];
    let blocks = facts.blocks;
    let is_culture = move |lane: &&Lane| {
        let mut found = blocks.iter().filter(|block| block.id == lane.block);
        found.any(|block| cultures.contains(&block.kind))
    };
    let ripens = |placed: &&PlacedStep| {
        let waits = matches!(
            placed.purpose,
            Some(Purpose::Ferment | Purpose::Rest | Purpose::Chill)
        );
        waits && placed.end.less(placed.start) > KEPT
    };
    let lanes = facts.schedule.lanes.iter().filter(is_culture);
    lanes
        .flat_map(|lane| &lane.steps)
        .filter(ripens)
        .map(|placed| (placed.step.words.clone(), placed.step.span))
}

/// C19.
pub(super) fn much_flour(facts: &Facts) -> Vec<Caution> {
    let much = facts.figures.flour > Grams::whole(25_000);
    much.then(|| about_card("C19")).into_iter().collect()
}

/// C23.
pub(super) fn footer(_facts: &Facts) -> Vec<Caution> {
    vec![about_card("C23")]
}
