//! Bench records in the document: what was measured on a day.

use schemars::JsonSchema;
use serde::Serialize;

use super::decimal::{Celsius, Decimal, Minutes};
use super::joined;
use crate::model::recipe::{Reading, Record};
use crate::sheet::RecordFindings;

/// What was measured at the bench on a day.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct RecordDocument {
    /// The day, as year, month and day: `2026-03-14`.
    date: String,
    /// What was read off.
    readings: Vec<ReadingDocument>,
    /// What the readings show when they are worked back.
    worked_back: WorkedBackDocument,
    /// Remarks, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes: Option<String>,
}

/// What readings show when they are worked back; absent what was not measured.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WorkedBackDocument {
    /// The friction of the rule of three factors, a difference of degrees Celsius.
    #[serde(skip_serializing_if = "Option::is_none")]
    friction_factor_c_apart: Option<Decimal>,
    /// What mixing warmed the dough by, by the balance of heat, a difference of degrees Celsius.
    #[serde(skip_serializing_if = "Option::is_none")]
    rise_c_apart: Option<Decimal>,
    /// What was lost in the oven, in percent of the dough as mixed.
    #[serde(skip_serializing_if = "Option::is_none")]
    bake_loss_percent: Option<Decimal>,
}

/// A reading: what of, and one of the other fields.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
struct ReadingDocument {
    /// What it was read of: `room`, `dough`, `bulk`, `loaf`.
    of: String,
    /// What the thermometer showed.
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Celsius>,
    /// What the scale showed.
    #[serde(skip_serializing_if = "Option::is_none")]
    weight_g: Option<Decimal>,
    /// What the clock showed.
    #[serde(skip_serializing_if = "Option::is_none")]
    time_minutes: Option<Minutes>,
    /// A count, or a mark out of ten.
    #[serde(skip_serializing_if = "Option::is_none")]
    count: Option<Decimal>,
    /// A share.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent: Option<Decimal>,
}

pub(super) fn view_record(record: &Record, found: &RecordFindings) -> RecordDocument {
    let (year, month, day) = record.date.value;
    RecordDocument {
        date: format!("{year:04}-{month:02}-{day:02}"),
        readings: record
            .readings
            .iter()
            .map(|(reading, of)| view_reading(&reading.value, of))
            .collect(),
        worked_back: WorkedBackDocument {
            friction_factor_c_apart: found.friction.map(Decimal::of_float),
            rise_c_apart: found.rise.map(Decimal::of_float),
            bake_loss_percent: found.bake_loss.map(|share| Decimal::of_float(share * 100.0)),
        },
        notes: joined(&record.prose),
    }
}

fn view_reading(reading: &Reading, of: &str) -> ReadingDocument {
    let bare = ReadingDocument {
        of: of.to_owned(),
        ..ReadingDocument::default()
    };
    match reading {
        Reading::Temperature(range) => ReadingDocument {
            temperature_c: Some(Celsius::of(range)),
            ..bare
        },
        Reading::Weight(weight) => ReadingDocument {
            weight_g: Some(Decimal::grams(weight)),
            ..bare
        },
        Reading::Time(range) => ReadingDocument {
            time_minutes: Some(Minutes::of(*range)),
            ..bare
        },
        Reading::Count(count) => ReadingDocument {
            count: Some(Decimal::of(count)),
            ..bare
        },
        Reading::Share(share) => ReadingDocument {
            percent: Some(Decimal::percent(share)),
            ..bare
        },
    }
}
