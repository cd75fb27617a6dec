//! What is usual for a bread of its kind, in the document.

use schemars::JsonSchema;
use serde::Serialize;

use super::decimal::Decimal;
use crate::sheet::{Usual, UsualFigure, UsualRow};

/// What is usual for a bread of a kind.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct UsualDocument {
    /// The kind, as it is named in a sentence: `a rye bread`.
    kind: &'static str,
    /// The figures that have a usual range, in percent of all flour.
    ranges: Vec<RangeDocument>,
}

/// A figure with its usual range.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct RangeDocument {
    /// Which one: `water`, `salt`, `yeast` counted as fresh, `sugar` with syrup and honey as weighed, `fat` as butter,
    /// fat and oil as weighed, `egg` as weighed, or `prefermented_flour`.
    #[schemars(extend("enum" = ["water", "salt", "yeast", "sugar", "fat", "egg", "prefermented_flour"]))]
    figure: &'static str,
    /// What the bread has of it.
    percent: Decimal,
    /// The lower end of what is usual.
    low_percent: Decimal,
    /// The upper end.
    high_percent: Decimal,
    /// What that rests on, and how sure it is.
    source: &'static str,
    /// Whether it lies so far outside that a hint is given.
    unusual: bool,
}

pub(super) fn view_usual(usual: &Usual) -> UsualDocument {
    UsualDocument {
        kind: usual.kind,
        ranges: usual.rows.iter().map(view_range).collect(),
    }
}

fn view_range(row: &UsualRow) -> RangeDocument {
    RangeDocument {
        figure: match row.figure {
            UsualFigure::Water => "water",
            UsualFigure::Salt => "salt",
            UsualFigure::Yeast => "yeast",
            UsualFigure::Sugar => "sugar",
            UsualFigure::Fat => "fat",
            UsualFigure::Egg => "egg",
            UsualFigure::Prefermented => "prefermented_flour",
        },
        percent: Decimal::percent(&row.share),
        low_percent: Decimal::percent(&row.low),
        high_percent: Decimal::percent(&row.high),
        source: row.source,
        unusual: row.is_unusual,
    }
}
