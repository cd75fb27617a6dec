//! Cautions that an ingredient or a figure calls for by itself.

use super::words::Text;
use super::{Facts, Named, about_all, about_card};
use crate::model::catalog::Tag;
use crate::model::recipe::{Amount, BlockKind, Line, Recipe, Thing};
use crate::quantity::{Grams, Ratio};
use crate::sheet::Caution;
use crate::sheet::walk::{block_of, has_tag, lines_of, steps_of, weight_of};

/// Strength of a lye bath above which the graver words are called for, as a fraction of one.
const STRONG_LYE: (i64, i64) = (4, 100);
/// Names under which lye is written that no table need know.
const LYE_WORDS: &[&str] = &[
    "lye",
    "lauge",
    "natronlauge",
    "caustic soda",
    "sodium hydroxide",
    "potassium hydroxide",
    "brezellauge",
    "natriumhydroxid",
    "kaliumhydroxid",
    "ätznatron",
    "soude caustique",
    "lessive de soude",
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

/// Names the lines that have a tag.
fn tagged(recipe: &Recipe, tag: Tag) -> Vec<Named> {
    all_lines(recipe)
        .filter(|line| has_tag(line, &[tag]))
        .map(|line| (line.name.value.clone(), line.span))
        .collect()
}

/// Names the texts that say one of some phrases, by the phrase.
fn said<'text>(facts: &Facts, texts: impl Iterator<Item = &'text Text>, phrases: &[&str]) -> Vec<Named> {
    let phrases = facts.texts.likely(phrases);
    texts
        .filter_map(|text| text.find(&phrases))
        .map(|(phrase, span)| (phrase.to_owned(), span))
        .collect()
}

/// C01: what the ingredients contain, and which of them were not checked, stands with the sheet's allergens.
pub(super) fn allergens(facts: &Facts) -> Vec<Caution> {
    let any = all_lines(facts.recipe).next();
    any.map(|_| about_card("C01")).into_iter().collect()
}

/// C09.
pub(super) fn honey(facts: &Facts) -> Vec<Caution> {
    about_all("C09", &tagged(facts.recipe, Tag::Honey))
        .into_iter()
        .collect()
}

/// C10.
pub(super) fn lye(facts: &Facts) -> Vec<Caution> {
    let lines = facts.texts.lines.iter();
    let phrases = facts.texts.likely(LYE_WORDS);
    let lines: Vec<&Line> = lines
        .filter(|(line, text)| has_tag(line, &[Tag::Lye]) || text.says_any(&phrases))
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
        if *salt < share(LITTLE_SALT) {
            named.push(("little salt".to_owned(), title));
        } else if *salt > share(MUCH_SALT) {
            named.push(("much salt".to_owned(), title));
        }
    }
    named.extend(tagged(facts.recipe, Tag::PotassiumSalt));
    named.extend(said(facts, facts.texts.own.iter(), HEALTH));
    about_all("C13", &named).into_iter().collect()
}

/// C16.
pub(super) fn restricted_improvers(facts: &Facts) -> Vec<Caution> {
    about_all("C16", &tagged(facts.recipe, Tag::RestrictedImprover))
        .into_iter()
        .collect()
}

/// C17.
pub(super) fn risky_plants(facts: &Facts) -> Vec<Caution> {
    let mut named = tagged(facts.recipe, Tag::BeanFlour);
    named.extend(tagged(facts.recipe, Tag::BitterKernel));
    let poppy: Vec<&Line> = all_lines(facts.recipe)
        .filter(|line| has_tag(line, &[Tag::Poppy]))
        .collect();
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
    let fed = facts
        .recipe
        .blocks
        .iter()
        .flat_map(steps_of)
        .filter(|step| step.verb.is_some_and(|verb| verb.word == "feed"))
        .map(|step| (step.words.clone(), step.span));
    let named: Vec<Named> = starters.chain(kept).chain(fed).collect();
    about_all("C18", &named).into_iter().collect()
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
