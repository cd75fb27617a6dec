//! The sheet as a document for programs: every figure under a name that says its unit.
//!
//! Owns the names, the rounding of the decimals and the version. Beside every rounded weight stands the
//! exact one as a fraction. What is printed of it, and the schema, is the business of `render`.

mod answers;
mod block;
mod bread;
mod decimal;
mod record;
mod schedule;
mod usual;
mod warmth;

use schemars::JsonSchema;
use serde::Serialize;

pub use decimal::Decimal;

use crate::model::recipe::{Recipe, Record, Variation};
use crate::quantity::WeightUnit;
use crate::sheet::{Sheet, work_back};
use crate::syntax::tree::Prose;

/// The version of the document; it grows when a field changes its meaning or goes.
pub const SHEET_VERSION: u32 = 1;

/// A recipe with everything that was computed of it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = "A computed recipe of loafwright sheet")]
pub struct SheetDocument {
    /// Version of this document; a reader should refuse one that it does not know.
    schema_version: u32,
    /// Name of the recipe's file, as it was given.
    file: String,
    /// The variation that was asked for; absent for the plain recipe.
    #[serde(skip_serializing_if = "Option::is_none")]
    variation: Option<String>,
    /// What the recipe says of itself.
    recipe: RecipeDocument,
    /// What was computed.
    sheet: SheetFigures,
    /// The other variations, computed alike; empty where one was asked for, or another starter, a swap, or the origin of
    /// a figure.
    variations: Vec<VariationDocument>,
    /// What was measured at the bench.
    records: Vec<record::RecordDocument>,
}

/// What a recipe says of itself, without its formula.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct RecipeDocument {
    /// The title.
    title: String,
    /// What it makes, as written.
    #[serde(skip_serializing_if = "Option::is_none")]
    makes: Option<String>,
    /// The tin, as written.
    #[serde(skip_serializing_if = "Option::is_none")]
    tin: Option<String>,
    /// The weight units that a card shows, the largest one first; empty where nothing asks for any.
    units: Vec<&'static str>,
    /// The dough temperature wanted after mixing.
    #[serde(skip_serializing_if = "Option::is_none")]
    dough_temperature_c: Option<decimal::Celsius>,
    /// How long it keeps.
    #[serde(skip_serializing_if = "Option::is_none")]
    keeps_minutes: Option<decimal::Minutes>,
    /// The papers of the printed card.
    paper: Vec<String>,
    /// Tags, as written.
    tags: Vec<String>,
    /// Who developed the formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    author: Option<String>,
    /// Where it comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    /// Which version of the formula it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    revision: Option<String>,
    /// The language of the card, a BCP 47 tag.
    #[serde(skip_serializing_if = "Option::is_none")]
    language: Option<String>,
    /// Path of a picture, from the recipe's folder.
    #[serde(skip_serializing_if = "Option::is_none")]
    picture: Option<String>,
    /// Prose at the head of the card, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    about: Option<String>,
    /// Prose at its foot, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes: Option<String>,
    /// What the bakehouse is called.
    #[serde(skip_serializing_if = "Option::is_none")]
    bakehouse: Option<String>,
    /// The bakehouse files that were read, nearest first.
    bakehouse_files: Vec<String>,
}

/// A variation with everything that was computed of it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct VariationDocument {
    /// Its name.
    name: String,
    /// Its entries as written.
    changes: Vec<String>,
    /// What it says below them, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes: Option<String>,
    /// What was computed.
    sheet: SheetFigures,
}

/// Everything that was computed of a recipe.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SheetFigures {
    /// What it makes.
    makes: bread::MakesDocument,
    /// What describes the bread.
    figures: bread::FiguresDocument,
    /// The total formula of what reaches the dough: flours first, then the rest.
    total_formula: Vec<block::TotalDocument>,
    /// Stages in the order in which they are made, then the dough, then fillings and toppings.
    blocks: Vec<block::BlockDocument>,
    /// The steps in time.
    schedule: schedule::ScheduleDocument,
    /// How the dough suits its tin.
    #[serde(skip_serializing_if = "Option::is_none")]
    tin: Option<bread::TinDocument>,
    /// The tins that it was sized for, in the order in which they were asked for; empty where none were.
    fit: Vec<bread::FittedTinDocument>,
    /// What is usual for a bread of its kind; absent for what is no bread, or of which too little is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    usual: Option<usual::UsualDocument>,
    /// Lines that the scales show too far from what they weigh, the farthest first.
    too_small_for_scales: Vec<bread::TooSmallDocument>,
    /// Answers to what was asked besides the size.
    answers: answers::AnswersDocument,
    /// What is known of allergens.
    allergens: bread::AllergensDocument,
    /// Cautions, gravest first.
    cautions: Vec<bread::CautionDocument>,
    /// What is worked out of warmth and time.
    warmth: warmth::WarmthDocument,
    /// Keys whose defaults the figures rest on: `bake loss`, `room`.
    assumed: Vec<String>,
}

/// Puts a recipe together as a document: its sheet, those of its variations, and its bench records.
#[must_use]
pub fn view_document(
    file: &str,
    (recipe, sheet): (&Recipe, &Sheet),
    variations: &[(Variation, Sheet)],
    records: &[Record],
) -> SheetDocument {
    SheetDocument {
        schema_version: SHEET_VERSION,
        file: file.to_owned(),
        variation: None,
        recipe: view_recipe(recipe),
        sheet: view_sheet(sheet),
        variations: variations
            .iter()
            .map(|(variation, sheet)| VariationDocument {
                name: variation.name.value.clone(),
                changes: variation
                    .changes
                    .iter()
                    .map(|change| change.written.clone())
                    .collect(),
                notes: joined(&variation.prose),
                sheet: view_sheet(sheet),
            })
            .collect(),
        records: records
            .iter()
            .map(|record| record::view_record(record, &work_back(recipe, sheet, record)))
            .collect(),
    }
}

/// Puts one variation together as a document of its own.
#[must_use]
pub fn view_variation(file: &str, variation: &Variation, sheet: &Sheet, records: &[Record]) -> SheetDocument {
    SheetDocument {
        variation: Some(variation.name.value.clone()),
        ..view_document(file, (&variation.recipe, sheet), &[], records)
    }
}

fn view_recipe(recipe: &Recipe) -> RecipeDocument {
    let details = &recipe.details;
    RecipeDocument {
        title: recipe.title.value.clone(),
        makes: recipe.makes.as_ref().map(|makes| makes.value.written.clone()),
        tin: recipe.tin.as_ref().map(|tin| tin.value.written.clone()),
        units: details.units.iter().copied().map(WeightUnit::symbol).collect(),
        dough_temperature_c: details
            .dough_temperature
            .as_ref()
            .map(|range| decimal::Celsius::of(&range.value)),
        keeps_minutes: details.keeps.map(decimal::Minutes::of),
        paper: details.paper.clone(),
        tags: details.tags.clone(),
        author: details.author.clone(),
        source: details.source.clone(),
        revision: details.revision.clone(),
        language: details.language.clone(),
        picture: details.picture.as_ref().map(|picture| picture.value.path.clone()),
        about: recipe.about.as_ref().map(markdown),
        notes: recipe.notes.as_ref().map(markdown),
        bakehouse: recipe.place.name.clone(),
        bakehouse_files: recipe.place.files.clone(),
    }
}

fn view_sheet(sheet: &Sheet) -> SheetFigures {
    SheetFigures {
        makes: bread::view_makes(&sheet.pieces),
        figures: bread::view_figures(&sheet.figures),
        total_formula: sheet
            .total
            .iter()
            .map(|line| block::view_total(line, sheet))
            .collect(),
        blocks: sheet
            .blocks
            .iter()
            .map(|block| block::view_block(block, sheet))
            .collect(),
        schedule: schedule::view_schedule(&sheet.schedule, sheet),
        tin: sheet.tin.as_ref().map(bread::view_tin),
        fit: sheet
            .fit
            .iter()
            .flat_map(|fit| &fit.tins)
            .map(bread::view_fitted)
            .collect(),
        usual: sheet.usual.as_ref().map(usual::view_usual),
        too_small_for_scales: sheet
            .too_small
            .iter()
            .map(|line| bread::view_too_small(line, sheet))
            .collect(),
        answers: answers::view_answers(sheet),
        allergens: bread::view_allergens(&sheet.allergens),
        cautions: sheet.cautions.iter().map(bread::view_caution).collect(),
        warmth: warmth::view_warmth(&sheet.warmth, sheet),
        assumed: sheet.assumed.clone(),
    }
}

/// Gives prose as Markdown with line feeds.
fn markdown(prose: &Prose) -> String {
    let lines: Vec<&str> = prose.lines.iter().map(|line| line.value.as_str()).collect();
    lines.join("\n")
}

fn joined(prose: &[Prose]) -> Option<String> {
    let parts: Vec<String> = prose.iter().map(markdown).collect();
    (!parts.is_empty()).then(|| parts.join("\n\n"))
}
