//! Head and foot of a card: what it makes, what describes the bread, what the figures rest on. Owns which
//! facts are told and in which order.

use schemars::JsonSchema;
use serde::Serialize;

use super::pieces::counted_pieces;
use super::setting::Setting;
use super::warmth::{view_room_facts, view_water};
use super::word_list::Word;
use crate::model::place::Place;
use crate::quantity::{CelsiusRange, Grams, Ratio, WeightUnit};
use crate::sheet::{Fit, TinBread};

/// The head of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Head {
    /// The title.
    pub title: String,
    /// What it makes, a sentence without its stop.
    pub makes: String,
    /// Slices and how long it keeps; often empty.
    pub keeping: String,
    /// Time from start to finish; empty where no step takes any.
    pub whole_time: String,
    /// Time that needs somebody; empty where no step takes any.
    pub hands_on_time: String,
    /// Tags as written.
    pub tags: Vec<String>,
}

/// Something that describes the bread.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Fact {
    /// What it is.
    pub name: &'static str,
    /// Its value.
    pub value: String,
    /// What else there is to say; often empty.
    pub note: String,
}

/// The foot of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Foot {
    /// Defaults that the figures rest on, each with its value.
    pub assumed: Vec<String>,
    /// Who developed it; often empty.
    pub author: String,
    /// Where it comes from; often empty.
    pub source: String,
    /// Which version it is; often empty.
    pub revision: String,
    /// The bakehouse by name; often empty.
    pub bakehouse: String,
    /// The bakehouse files that were used.
    pub files: Vec<String>,
}

/// Makes the head.
pub(super) fn view_head(setting: &Setting<'_>) -> Head {
    let schedule = &setting.sheet.schedule;
    let is_timed = !schedule.lanes.is_empty();
    let lengths = |range| {
        if is_timed {
            setting.numbers.lengths(range)
        } else {
            String::new()
        }
    };
    Head {
        title: setting.recipe.title.value.clone(),
        makes: makes(setting),
        keeping: keeping(setting),
        whole_time: lengths(schedule.whole),
        hands_on_time: lengths(schedule.hands_on),
        tags: setting.recipe.details.tags.clone(),
    }
}

/// Says what the recipe makes: pieces, the dough for each, and what a piece weighs baked.
fn makes(setting: &Setting<'_>) -> String {
    let (words, pieces) = (setting.words, &setting.sheet.pieces);
    if !pieces.said {
        return words.fill(
            Word::MakesWhole,
            &[("weight", &setting.weigh_about(&pieces.dough))],
        );
    }
    let mut text = if let Some(fit) = &setting.sheet.fit {
        in_tins(setting, fit)
    } else {
        let dough = setting.weigh_fixed(&pieces.dough);
        let count = counted_pieces(setting);
        words.fill(Word::MakesEach, &[("pieces", &count), ("dough", &dough)])
    };
    if !pieces.extras.is_zero() {
        text += " ";
        text += &words.fill(
            Word::WithExtras,
            &[("weight", &setting.weigh_fixed(&pieces.extras))],
        );
    }
    let are_alike = setting.sheet.fit.as_ref().is_none_or(Fit::is_of_one_kind);
    if !pieces.baked.is_zero() && are_alike {
        text += ", ";
        let loss = setting.numbers.share(&pieces.bake_loss);
        let word = if pieces.bake_loss_assumed {
            Word::MakesBakedAssumed
        } else {
            Word::MakesBaked
        };
        text += &words.fill(
            word,
            &[("weight", &setting.weigh_fixed(&pieces.baked)), ("loss", &loss)],
        );
    }
    text
}

/// Says what the tins take that the recipe was sized for: `2 tins of 690 g dough`.
fn in_tins(setting: &Setting<'_>, fit: &Fit) -> String {
    let (words, pieces) = (setting.words, &setting.sheet.pieces);
    let tins = counted_pieces(setting);
    let dough = if fit.is_of_one_kind() {
        setting.weigh_about(&pieces.dough)
    } else {
        let each = fit.tins.iter().map(|tin| setting.weigh_about(&tin.dough));
        words.list(&each.collect::<Vec<_>>())
    };
    words.fill(Word::MakesEach, &[("pieces", &tins), ("dough", &dough)])
}

/// Lists what describes the bread.
pub(super) fn view_facts(setting: &Setting<'_>) -> Vec<Fact> {
    let figures = &setting.sheet.figures;
    let head = view_head(setting);
    let weight = |weight: &Grams| setting.weigh_about(weight);
    let share = |share: &Option<Ratio>| {
        share
            .as_ref()
            .filter(|share| !share.is_zero())
            .map(|share| setting.numbers.share(share))
    };
    let mut facts = vec![
        fact(setting, Word::DoughWeight, Some(weight(&figures.dough))),
        fact(setting, Word::FlourWeight, Some(weight(&figures.flour))),
        hydration(setting),
        fact(setting, Word::Salt, share(&figures.salt)),
        fact(setting, Word::Prefermented, share(&figures.prefermented)),
        fact(setting, Word::Scalded, share(&figures.scalded)),
        fact(setting, Word::WholeTime, Some(head.whole_time)),
        fact(setting, Word::HandsOnTime, Some(head.hands_on_time)),
    ];
    let left = share(&Some(setting.sheet.pieces.handling_loss.clone()));
    facts.push(fact(setting, Word::HandlingLoss, left));
    facts.extend(view_room_facts(setting));
    // What the dough is to reach and how it gets there stand together.
    facts.extend([dough_temperature(setting), view_water(setting), tin(setting)]);
    facts.into_iter().flatten().collect()
}

/// Makes a fact with a note.
pub(super) fn fact_with(setting: &Setting<'_>, name: Word, value: String, note: String) -> Fact {
    Fact {
        name: setting.words.get(name),
        value,
        note,
    }
}

/// Says how many slices a piece gives and how long it keeps: `14 slices each, keeps 4 days`.
fn keeping(setting: &Setting<'_>) -> String {
    let words = setting.words;
    let slices = setting.sheet.pieces.slices.map(|count| {
        let number = Ratio::whole(i64::from(count));
        words.fill_counted(Word::SlicesEach, &number, &[("count", &count.to_string())])
    });
    let keeps = setting.recipe.details.keeps.map(|range| {
        let length = setting.numbers.lengths(range);
        words.fill(Word::Keeps, &[("length", &length)])
    });
    slices.into_iter().chain(keeps).collect::<Vec<_>>().join(", ")
}

fn fact(setting: &Setting<'_>, name: Word, value: Option<String>) -> Option<Fact> {
    let value = value.filter(|value| !value.is_empty())?;
    Some(Fact {
        name: setting.words.get(name),
        value,
        note: String::new(),
    })
}

/// Tells the two meanings of hydration apart: the water of all that is wet, and the water poured alone.
fn hydration(setting: &Setting<'_>) -> Option<Fact> {
    let figures = &setting.sheet.figures;
    let mut fact = fact(
        setting,
        Word::Hydration,
        figures
            .hydration
            .as_ref()
            .map(|share| setting.numbers.share(share)),
    )?;
    if let Some(poured) = figures
        .poured_water
        .as_ref()
        .filter(|poured| !poured.is_zero() && figures.hydration.as_ref() != Some(*poured))
    {
        fact.note = setting
            .words
            .fill(Word::PouredWater, &[("share", &setting.numbers.share(poured))]);
    }
    Some(fact)
}

fn tin(setting: &Setting<'_>) -> Option<Fact> {
    let fit = setting.sheet.tin.as_ref()?;
    let mut fact = fact(setting, Word::Tin, Some(fit.tin.written.clone()))?;
    let ml = setting.numbers.decimal(&fit.ml_per_g, 2);
    let band = &fit.band;
    let bread = setting.words.get(match band.bread {
        TinBread::WhiteLidded => Word::TinWhiteLidded,
        TinBread::WhiteOpen => Word::TinWhiteOpen,
        TinBread::White => Word::TinWhite,
        TinBread::Wholemeal => Word::TinWholemeal,
        TinBread::Rye => Word::TinRye,
    });
    let end = |end: &Ratio| setting.numbers.decimal(end, 1);
    let (low, high) = (end(&band.low), end(&band.high));
    let gaps = [("ml", &*ml), ("low", &low), ("high", &high), ("bread", bread)];
    fact.note = setting.words.fill(Word::TinFit, &gaps);
    Some(fact)
}

fn dough_temperature(setting: &Setting<'_>) -> Option<Fact> {
    let wanted = setting.recipe.details.dough_temperature.as_ref()?;
    fact(
        setting,
        Word::DoughTemperature,
        Some(setting.numbers.temperature(&wanted.value)),
    )
}

/// Makes the foot.
pub(super) fn view_foot(setting: &Setting<'_>) -> Foot {
    let (details, place) = (&setting.recipe.details, &setting.recipe.place);
    let assumed = &setting.sheet.assumed;
    Foot {
        assumed: assumed
            .iter()
            .filter_map(|key| assumption(setting, place, key))
            .collect(),
        author: details
            .author
            .clone()
            .or_else(|| place.author.clone())
            .unwrap_or_default(),
        source: details.source.clone().unwrap_or_default(),
        revision: details.revision.clone().unwrap_or_default(),
        bakehouse: place.name.clone().unwrap_or_default(),
        files: place.files.clone(),
    }
}

/// Says what a default is taken as, `room 21 °C · 70 °F`; nothing for a key that a card does not rest on.
fn assumption(setting: &Setting<'_>, place: &Place, key: &str) -> Option<String> {
    let numbers = &setting.numbers;
    let degrees = || {
        let degrees = place.temperatures.get(key)?;
        Some(numbers.temperature(&CelsiusRange::single(degrees.clone())))
    };
    let (word, value) = match key {
        "bake loss" => (Word::BakeLoss, numbers.share(&setting.sheet.pieces.bake_loss)),
        "room" => (Word::Room, degrees()?),
        "fridge" => (Word::Fridge, degrees()?),
        "proofer" => (Word::Proofer, degrees()?),
        "tap" => (Word::Tap, degrees()?),
        "preheat" => (Word::Preheat, numbers.length(place.preheat)),
        "altitude" => {
            let metres = numbers.decimal(&place.altitude_m, 0);
            (Word::Altitude, format!("{metres}\u{a0}m"))
        }
        "scales" => (Word::Scales, scale_steps(setting, place)),
        "starter" => (
            Word::Starter,
            mixture(setting, &place.starter.hydration, &place.starter.flour.name),
        ),
        "old dough" => (
            Word::OldDoughKept,
            mixture(setting, &place.old_dough.hydration, &place.old_dough.flour.name),
        ),
        _ => return None,
    };
    Some(format!("{} {value}", setting.words.get(word)))
}

fn mixture(setting: &Setting<'_>, hydration: &Ratio, flour: &str) -> String {
    let share = setting.numbers.share(hydration);
    setting
        .words
        .fill(Word::Mixture, &[("share", &share), ("flour", flour)])
}

fn scale_steps(setting: &Setting<'_>, place: &Place) -> String {
    setting
        .numbers
        .weight_about(WeightUnit::Gram, &Grams(place.scales.step.clone()))
}
