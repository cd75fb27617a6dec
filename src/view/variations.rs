//! Variations as a table of what changes, and bench records as lines. Owns which weights of a variation
//! differ enough to be shown.

use schemars::JsonSchema;
use serde::Serialize;

use super::formula::{Cell, shift};
use super::markdown::{Headings, html};
use super::setting::{Setting, capitalised};
use super::steps::step_words;
use super::verbs::verb_or_words;
use super::warmth::record_findings;
use super::weights::Shown;
use super::word_list::Word;
use crate::model::recipe::{Change, Reading, Record, Says, Variation};
use crate::quantity::Grams;
use crate::sheet::Sheet;

/// Wider tables of weights are left out; the changes as written remain.
const MOST_COLUMNS: usize = 4;

/// The variations of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Variations {
    /// What each one changes.
    pub list: Vec<VariationView>,
    /// Heads of the table of weights: the plain recipe first.
    pub columns: Vec<String>,
    /// Ingredients whose weight differs; empty where none does or the table would be too wide.
    pub rows: Vec<VariationRow>,
}

/// A variation.
#[derive(Debug, JsonSchema, Serialize)]
pub struct VariationView {
    /// Its name.
    pub name: String,
    /// What it changes, a sentence without its stop each.
    pub changes: Vec<String>,
    /// Its prose, as HTML that is settled and harmless.
    pub prose: Vec<String>,
}

/// An ingredient whose weight differs between variations.
#[derive(Debug, JsonSchema, Serialize)]
pub struct VariationRow {
    /// Its name.
    pub name: String,
    /// Its weight in the first unit, column by column; a dash where there is none of it. A cell has no share and no
    /// weight in another unit.
    pub weights: Vec<Cell>,
}

/// Bench records.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Records {
    /// The records in the order of the page.
    pub list: Vec<RecordView>,
}

/// A bench record.
#[derive(Debug, JsonSchema, Serialize)]
pub struct RecordView {
    /// The day for programs, `2026-03-14`.
    pub date: String,
    /// The day for people, `14 March 2026`.
    pub day: String,
    /// What was measured, joined.
    pub readings: String,
    /// Remarks, as HTML that is settled and harmless.
    pub prose: Vec<String>,
}

/// Lays out the variations; nothing where there are none.
pub(super) fn view_variations(
    setting: &Setting<'_>,
    variations: &[(Variation, Sheet)],
) -> Option<Variations> {
    if variations.is_empty() {
        return None;
    }
    let list = variations
        .iter()
        .map(|(variation, _)| view_variation(setting, variation));
    let list: Vec<VariationView> = list.collect();
    let plain = std::iter::once(setting.words.get(Word::AsWritten).to_owned());
    let columns: Vec<String> = plain.chain(list.iter().map(|view| view.name.clone())).collect();
    let rows = if columns.len() > MOST_COLUMNS {
        Vec::new()
    } else {
        view_rows(setting, variations)
    };
    Some(Variations { list, columns, rows })
}

/// Says what a variation is called and changes.
pub(super) fn view_variation(setting: &Setting<'_>, variation: &Variation) -> VariationView {
    let prose = variation.prose.iter();
    let changes = variation.changes.iter();
    VariationView {
        name: capitalised(&variation.name.value),
        changes: changes.map(|change| change_words(setting, change)).collect(),
        prose: prose.map(|prose| html(prose, Headings::AsText)).collect(),
    }
}

/// Says what an entry of a variation changes, in the words of the card.
fn change_words(setting: &Setting<'_>, change: &Change) -> String {
    let words = setting.words;
    let after = |text: String, step: &Option<String>| match step {
        Some(step) => words.fill(
            Word::ChangeAfter,
            &[("change", &text), ("step", verb_or_words(words, step))],
        ),
        None => text,
    };
    match &change.says {
        Says::Without(name) => words.fill(Word::ChangeWithout, &[("name", verb_or_words(words, name))]),
        Says::Within(block) => format!("{}{}", capitalised(block), words.get(Word::Colon)),
        Says::Amount {
            words: amount,
            at,
            preparation,
            instead_of,
            after: step,
        } => {
            let mut text = setting.numbers.as_written(amount);
            if let Some(other) = instead_of {
                text = words.fill(Word::ChangeInstead, &[("change", &text), ("name", other)]);
            }
            let at = at.as_ref().map(|at| setting.comes_at(at));
            for more in at.iter().chain(preparation) {
                text = format!("{text}, {more}");
            }
            after(text, step)
        }
        Says::Step { step, after: other } => after(step_words(setting, step), other),
        Says::Other => change.written.clone(),
    }
}

fn view_rows(setting: &Setting<'_>, variations: &[(Variation, Sheet)]) -> Vec<VariationRow> {
    let sheets: Vec<Vec<Whole<'_>>> = std::iter::once(setting.sheet)
        .chain(variations.iter().map(|(_, sheet)| sheet))
        .map(|sheet| wholes(setting, sheet))
        .collect();
    let mut names: Vec<&str> = Vec::new();
    for whole in sheets.iter().flatten() {
        if !names.contains(&whole.name) {
            names.push(whole.name);
        }
    }
    let rows = names.into_iter().filter_map(|name| {
        let of_name = |sheet: &Vec<Whole<'_>>| sheet.iter().position(|whole| whole.name == name);
        let found: Vec<Option<&Whole<'_>>> = sheets.iter().map(|sheet| sheet.get(of_name(sheet)?)).collect();
        let differs = found
            .windows(2)
            .any(|pair| matches!(pair, [left, right] if is_other(*left, *right)));
        differs.then(|| VariationRow {
            name: name.to_owned(),
            weights: found.into_iter().map(|whole| written(setting, whole)).collect(),
        })
    });
    let mut rows: Vec<VariationRow> = rows.collect();
    for column in 0..sheets.len() {
        shift(
            rows.iter_mut()
                .filter_map(|row| row.weights.get_mut(column))
                .collect(),
        );
    }
    rows
}

/// Says whether two versions hold another weight, and show it: rounding alone makes no difference.
fn is_other(left: Option<&Whole<'_>>, right: Option<&Whole<'_>>) -> bool {
    match (left, right) {
        (Some(left), Some(right)) => left.weight != right.weight && left.shown != right.shown,
        (left, right) => left.is_some() != right.is_some(),
    }
}

fn written(setting: &Setting<'_>, whole: Option<&Whole<'_>>) -> Cell {
    Cell {
        weight: whole.map_or_else(|| "–".to_owned(), |whole| setting.whole_weight(whole.shown)),
        ..Cell::default()
    }
}

/// What an ingredient weighs over the whole bread.
struct Whole<'a> {
    name: &'a str,
    /// What it is.
    weight: Grams,
    /// What it is shown as, in the first unit.
    shown: Shown,
}

/// Gives what each ingredient of a version weighs over the whole bread.
fn wholes<'a>(setting: &Setting<'_>, sheet: &'a Sheet) -> Vec<Whole<'a>> {
    let mut wholes: Vec<Whole<'a>> = Vec::new();
    for (line, shown) in sheet.total.iter().zip(setting.whole_bread_of(sheet)) {
        match wholes.iter_mut().find(|other| other.name == line.name) {
            Some(other) => {
                other.weight = &other.weight + &line.weight;
                other.shown = other.shown.saturating_add(shown);
            }
            None => wholes.push(Whole {
                name: &line.name,
                weight: line.weight.clone(),
                shown,
            }),
        }
    }
    wholes
}

/// Lays out the bench records; nothing where there are none.
pub(super) fn view_records(setting: &Setting<'_>, records: &[Record]) -> Option<Records> {
    let list: Vec<RecordView> = records
        .iter()
        .map(|record| view_record(setting, record))
        .collect();
    (!list.is_empty()).then_some(Records { list })
}

fn view_record(setting: &Setting<'_>, record: &Record) -> RecordView {
    let (year, month, day) = record.date.value;
    let readings = record.readings.iter().map(|(reading, of)| {
        let shown = reading_words(setting, &reading.value);
        format!("{of} {shown}")
    });
    RecordView {
        date: format!("{year:04}-{month:02}-{day:02}"),
        day: setting.numbers.date(record.date.value),
        readings: readings
            .chain(record_findings(setting, record))
            .collect::<Vec<_>>()
            .join(", "),
        prose: record
            .prose
            .iter()
            .map(|prose| html(prose, Headings::AsText))
            .collect(),
    }
}

fn reading_words(setting: &Setting<'_>, reading: &Reading) -> String {
    let numbers = &setting.numbers;
    match reading {
        Reading::Temperature(range) => numbers.temperature(range),
        Reading::Weight(weight) => setting.weigh_fixed(weight),
        Reading::Time(range) => numbers.lengths(*range),
        Reading::Count(count) => numbers.decimal(count, 2),
        Reading::Share(share) => numbers.share(share),
    }
}
