//! A recipe in the terms of schema.org, for machines that read pages: what it is called, makes and takes, and how
//! it is done. Owns which property says what; only what is known is said, and nothing is guessed.
//!
//! Required and recommended properties: published values S1 to S5 (Google Search, recipe structured data).

use schemars::JsonSchema;
use serde::Serialize;

use super::formula::{line_name, line_note};
use super::markdown::words_of;
use super::pieces::counted_pieces;
use super::setting::Setting;
use super::steps::{Group, StepView, view_method};
use super::word_list::Word;
use crate::model::verbs::Purpose;
use crate::quantity::Elapsed;
use crate::sheet::{SheetBlock, Source};

/// Whole addresses, where the site has one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Address<'a> {
    pub(super) page: Option<&'a str>,
    pub(super) picture: Option<&'a str>,
}

/// A recipe in the terms of schema.org.
#[derive(Debug, JsonSchema, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StructuredRecipe {
    #[serde(rename = "@context")]
    context: &'static str,
    #[serde(rename = "@type")]
    kind: &'static str,
    #[serde(rename = "@id", skip_serializing_if = "Option::is_none")]
    id: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    url: Option<String>,
    name: String,
    description: String,
    in_language: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    image: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    author: Option<Person>,
    #[serde(skip_serializing_if = "String::is_empty")]
    keywords: String,
    recipe_yield: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    prep_time: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cook_time: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    total_time: Option<String>,
    recipe_ingredient: Vec<String>,
    recipe_instructions: Vec<Instruction>,
}

#[derive(Debug, JsonSchema, Serialize)]
struct Person {
    #[serde(rename = "@type")]
    kind: &'static str,
    name: String,
}

/// A step, or the steps of a block under its name.
#[derive(Debug, JsonSchema, Serialize)]
#[serde(untagged)]
enum Instruction {
    Section {
        #[serde(rename = "@type")]
        kind: &'static str,
        name: String,
        #[serde(rename = "itemListElement")]
        steps: Vec<Instruction>,
    },
    Step {
        #[serde(rename = "@type")]
        kind: &'static str,
        text: String,
    },
}

/// Says a recipe in the terms of schema.org; the setting marks no numbers.
pub(super) fn structured(
    setting: &Setting<'_>,
    language: &str,
    description: &str,
    address: Address<'_>,
) -> StructuredRecipe {
    let details = &setting.recipe.details;
    let author = details.author.as_ref().or(setting.recipe.place.author.as_ref());
    let times = times(setting);
    StructuredRecipe {
        context: "https://schema.org",
        kind: "Recipe",
        id: address.page.map(str::to_owned),
        url: address.page.map(str::to_owned),
        name: setting.recipe.title.value.clone(),
        description: description.to_owned(),
        in_language: language.to_owned(),
        image: address.picture.map(str::to_owned),
        author: author.map(|name| Person {
            kind: "Person",
            name: name.clone(),
        }),
        keywords: details.tags.join(", "),
        recipe_yield: yields(setting),
        prep_time: times.as_ref().and_then(|times| times.before.clone()),
        cook_time: times.as_ref().and_then(|times| times.oven.clone()),
        total_time: times.map(|times| times.whole),
        recipe_ingredient: ingredients(setting),
        recipe_instructions: instructions(setting),
    }
}

fn yields(setting: &Setting<'_>) -> String {
    let pieces = &setting.sheet.pieces;
    if !pieces.said {
        return setting.weigh_about(&pieces.dough);
    }
    counted_pieces(setting)
}

/// The lengths of a bake in the form of ISO 8601; a single length each, by the middles of ranges.
struct Times {
    before: Option<String>,
    oven: Option<String>,
    whole: String,
}

/// Tells the time in the oven from all that comes before it; nothing where no step takes any time. A recipe that
/// is not baked has no parts.
fn times(setting: &Setting<'_>) -> Option<Times> {
    let schedule = &setting.sheet.schedule;
    let whole = schedule.middle;
    let steps = schedule.lanes.iter().flat_map(|lane| &lane.steps);
    let baked = steps.filter(|placed| placed.purpose == Some(Purpose::Bake));
    let oven = baked.fold(Elapsed::ZERO, |sum, placed| {
        sum.plus(placed.end.less(placed.start))
    });
    let is_parted = oven > Elapsed::ZERO && oven < whole;
    (whole > Elapsed::ZERO).then(|| Times {
        before: is_parted.then(|| iso(whole.less(oven))),
        oven: is_parted.then(|| iso(oven)),
        whole: iso(whole),
    })
}

/// Writes a length of time as ISO 8601 has it, in whole minutes: `PT26H30M`.
fn iso(length: Elapsed) -> String {
    let minutes = length.as_minutes();
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("PT{rest}M"),
        (hours, 0) => format!("PT{hours}H"),
        (hours, rest) => format!("PT{hours}H{rest}M"),
    }
}

/// Lists what has to be there: every line but those that pour a stage, which is made of others.
fn ingredients(setting: &Setting<'_>) -> Vec<String> {
    let blocks = &setting.sheet.blocks;
    let is_alone = blocks.len() < 2;
    let of_block = |block: &SheetBlock| -> Vec<String> {
        let title = setting.title(block);
        let lines = block
            .lines
            .iter()
            .enumerate()
            .filter(|(_, line)| !matches!(line.source, Source::Stage(_)));
        let texts = lines.map(|(place, line)| {
            let mut text = line_name(setting, line) + &line_note(setting, line);
            if let Some(weight) = setting.line_weight(block.id, place) {
                text = format!("{} {text}", setting.weigh(weight).joined());
            }
            if is_alone {
                text
            } else {
                format!("{text} ({title})")
            }
        });
        texts.collect()
    };
    blocks.iter().flat_map(of_block).map(|text| tidy(&text)).collect()
}

fn instructions(setting: &Setting<'_>) -> Vec<Instruction> {
    let groups = view_method(setting).groups;
    let is_alone = groups.len() < 2;
    let mut list = Vec::new();
    for (group, lane) in groups.iter().zip(&setting.sheet.schedule.lanes) {
        let steps = group.steps.iter().zip(&lane.steps).map(|(step, placed)| {
            let prose = placed.step.prose.as_ref().map(words_of);
            Instruction::Step {
                kind: "HowToStep",
                text: step_text(setting, step, prose.as_deref()),
            }
        });
        if is_alone {
            list.extend(steps);
        } else {
            list.push(section(group, steps.collect()));
        }
    }
    list
}

fn section(group: &Group, steps: Vec<Instruction>) -> Instruction {
    Instruction::Section {
        kind: "HowToSection",
        name: group.title.clone(),
        steps,
    }
}

/// Says a step in one line: what is done, for how long, how warm, until when, with what, and when it is folded.
fn step_text(setting: &Setting<'_>, step: &StepView, prose: Option<&str>) -> String {
    let mut text = step.words.clone();
    for part in [&step.takes, &step.temperature] {
        if !part.is_empty() {
            text.push_str(", ");
            text.push_str(part);
        }
    }
    if !step.cue.is_empty() {
        text.push_str(&format!(", {} {}", setting.words.get(Word::Until), step.cue));
    }
    let inputs = step.inputs.iter().map(|input| {
        let text = format!("{} {}{}", input.weight, input.name, input.note);
        text.trim_start().to_owned()
    });
    let inputs: Vec<String> = inputs.collect();
    if !inputs.is_empty() {
        text.push_str(": ");
        text.push_str(&inputs.join("; "));
    }
    text.push('.');
    if !step.folds.is_empty() {
        let folds = setting.words.list(&step.folds);
        text.push_str(&format!(" {} {folds}.", setting.words.get(Word::FoldAt)));
    }
    if let Some(prose) = prose.filter(|prose| !prose.is_empty()) {
        text.push(' ');
        text.push_str(prose);
    }
    tidy(&text)
}

/// Gives plain spaces for those that keep a number with its unit.
fn tidy(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}'], " ")
}

#[cfg(test)]
mod tests {
    use super::iso;
    use crate::quantity::Elapsed;

    /// Published value S4: a single ISO 8601 duration, no range (Google Search, recipe structured data).
    #[test]
    fn s4_lengths_as_iso_8601() {
        for (minutes, text) in [(1590, "PT26H30M"), (90, "PT1H30M"), (45, "PT45M"), (120, "PT2H")] {
            assert_eq!(iso(Elapsed::minutes(minutes)), text);
        }
    }
}
