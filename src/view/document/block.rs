//! Blocks and the total formula in the document.

use schemars::JsonSchema;
use serde::Serialize;

use super::decimal::{Celsius, Decimal};
use super::markdown;
use crate::model::recipe::{BlockId, Measure, TemperatureSpec};
use crate::quantity::VolumeUnit;
use crate::sheet::{Role, Sheet, SheetBlock, SheetLine, Source, TotalLine, TotalPart};

/// An ingredient over the whole bread.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TotalDocument {
    /// The name on the card.
    name: String,
    /// The name in the ingredient table, or as written where the table does not know it.
    ingredient: String,
    /// Whether it counts as flour.
    counts_as_flour: bool,
    /// All of it that reaches the dough.
    weight_g: Decimal,
    /// The same, exact: `500` or `1340/3`.
    weight_g_exact: String,
    /// The same as the scales show it, the sum of what is weighed out where that is all of it.
    scale_weight_g: Decimal,
    /// Its share of all flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent_of_all_flour: Option<Decimal>,
    /// Where it goes in.
    parts: Vec<PartDocument>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PartDocument {
    /// Title of the block that brings it.
    block: String,
    /// How much of what the block brings reaches the dough.
    weight_g: Decimal,
    /// The same, exact.
    weight_g_exact: String,
}

/// A stage, a part of the dough, the dough, a filling or a topping.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BlockDocument {
    /// What it is called; no two blocks share a title.
    title: String,
    /// The kind of block, as it is spelt in a recipe: `levain`, `soaker`, `dough`.
    kind: &'static str,
    /// `stage`, `part`, `dough`, `filling` or `topping`.
    #[schemars(extend("enum" = ["stage", "part", "dough", "filling", "topping"]))]
    role: &'static str,
    /// Its lines in the order of the bench.
    lines: Vec<LineDocument>,
    /// What its lines weigh together.
    total_g: Decimal,
    /// The same, exact.
    total_g_exact: String,
    /// What of it is poured into other blocks.
    poured_g: Decimal,
    /// What is left of it for the next time.
    kept_g: Decimal,
    /// The flour that its percentages count against; absent where it has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    flour_base_g: Option<Decimal>,
    /// All flour in it, that of stages and starters poured in included.
    all_flour_g: Decimal,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LineDocument {
    /// The name on the card.
    name: String,
    /// `ingredient`, `stage`, or `mixture` for starter and old dough that no block makes.
    #[schemars(extend("enum" = ["ingredient", "stage", "mixture"]))]
    kind: &'static str,
    /// The name in the ingredient table; absent for stages and mixtures.
    #[serde(skip_serializing_if = "Option::is_none")]
    ingredient: Option<String>,
    /// The title of the stage that is poured; absent for anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    stage: Option<String>,
    /// Whether it counts as flour.
    counts_as_flour: bool,
    /// Whether its composition is known.
    composition_known: bool,
    /// How it is prepared.
    #[serde(skip_serializing_if = "Option::is_none")]
    preparation: Option<String>,
    /// Its weight; absent for an unweighed amount.
    #[serde(skip_serializing_if = "Option::is_none")]
    weight_g: Option<Decimal>,
    /// The same, exact: `500` or `1340/3`.
    #[serde(skip_serializing_if = "Option::is_none")]
    weight_g_exact: Option<String>,
    /// The same as the scales show it, so that the lines add up to the block; finer where that is a tenth off.
    #[serde(skip_serializing_if = "Option::is_none")]
    scale_weight_g: Option<Decimal>,
    /// Its share of the flour that its block counts against.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent_of_block_flour: Option<Decimal>,
    /// Its share of all flour in the bread, as far as it is poured.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent_of_all_flour: Option<Decimal>,
    /// The count or volume that the baker wrote.
    #[serde(skip_serializing_if = "Option::is_none")]
    measure: Option<MeasureDocument>,
    /// Its temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Celsius>,
    /// The place of the bakehouse that its temperature is taken from: `fridge`.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<String>,
    /// The step of its block that it goes in at, counted from 0; absent where none follows.
    #[serde(skip_serializing_if = "Option::is_none")]
    step: Option<usize>,
    /// What is said below it, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct MeasureDocument {
    /// How many.
    count: Decimal,
    /// Of what: `tbsp`, `cup`, `ml`; absent for pieces.
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
}

pub(super) fn view_total(line: &TotalLine, sheet: &Sheet) -> TotalDocument {
    let part = |part: &TotalPart| PartDocument {
        block: title_of(sheet, part.block),
        weight_g: Decimal::grams(&part.weight),
        weight_g_exact: part.weight.0.to_string(),
    };
    TotalDocument {
        name: line.name.clone(),
        ingredient: line.key.clone(),
        counts_as_flour: line.is_flour,
        weight_g: Decimal::grams(&line.weight),
        weight_g_exact: line.weight.0.to_string(),
        scale_weight_g: Decimal::of(&line.shown),
        percent_of_all_flour: line.of_all_flour.as_ref().map(Decimal::percent),
        parts: line.parts.iter().map(part).collect(),
    }
}

pub(super) fn view_block(block: &SheetBlock, sheet: &Sheet) -> BlockDocument {
    BlockDocument {
        title: block.title.clone(),
        kind: block.kind.word(),
        role: role_word(block.role),
        lines: block.lines.iter().map(|line| view_line(line, sheet)).collect(),
        total_g: Decimal::grams(&block.total),
        total_g_exact: block.total.0.to_string(),
        poured_g: Decimal::grams(&block.poured),
        kept_g: Decimal::grams(&block.kept),
        flour_base_g: block.flour_base.as_ref().map(Decimal::grams),
        all_flour_g: Decimal::grams(&block.all_flour),
    }
}

const fn role_word(role: Role) -> &'static str {
    match role {
        Role::Stage => "stage",
        Role::Part => "part",
        Role::Dough => "dough",
        Role::Filling => "filling",
        Role::Topping => "topping",
    }
}

fn view_line(line: &SheetLine, sheet: &Sheet) -> LineDocument {
    let (kind, ingredient, stage, is_flour, known) = match &line.source {
        Source::Ingredient { key, is_flour, known } => {
            ("ingredient", Some(key.clone()), None, *is_flour, *known)
        }
        Source::Stage(id) => ("stage", None, Some(title_of(sheet, *id)), false, true),
        Source::Mixture => ("mixture", None, None, false, true),
    };
    LineDocument {
        name: line.name.clone(),
        kind,
        ingredient,
        stage,
        counts_as_flour: is_flour,
        composition_known: known,
        preparation: line.preparation.clone(),
        weight_g: line.weight.as_ref().map(Decimal::grams),
        weight_g_exact: line.weight.as_ref().map(|weight| weight.0.to_string()),
        scale_weight_g: line.shown.as_ref().map(Decimal::of),
        percent_of_block_flour: line.of_block_flour.as_ref().map(Decimal::percent),
        percent_of_all_flour: line.of_all_flour.as_ref().map(Decimal::percent),
        measure: line.measure.as_ref().map(view_measure),
        temperature_c: line.at.as_ref().map(|at| Celsius::of(&at.range)),
        place: line.at.as_ref().and_then(place_of),
        step: line.step,
        notes: line.prose.as_ref().map(markdown),
    }
}

fn view_measure(measure: &Measure) -> MeasureDocument {
    MeasureDocument {
        count: Decimal::of(&measure.count),
        unit: measure.unit.map(VolumeUnit::symbol),
    }
}

/// Gives the place of the bakehouse that a temperature is taken from.
pub(super) fn place_of(at: &TemperatureSpec) -> Option<String> {
    at.place.clone()
}

/// Gives what a block is called on the sheet.
pub(super) fn title_of(sheet: &Sheet, id: BlockId) -> String {
    let block = sheet.blocks.iter().find(|block| block.id == id);
    block.map_or_else(String::new, |block| block.title.clone())
}
