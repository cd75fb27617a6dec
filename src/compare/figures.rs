//! Figures that differ by more than a card would show.

use super::nearly;
use super::types::{Figure, FigureChange, Value};
use crate::quantity::Ratio;
use crate::sheet::Sheet;

/// How a figure is read off a sheet.
type Read = fn(&Sheet) -> Option<Value>;

/// Every figure, in the order in which a baker asks.
const ALL: &[(Figure, Read)] = &[
    (Figure::Dough, |sheet| {
        Some(Value::Weight(sheet.figures.dough.clone()))
    }),
    (Figure::Pieces, |sheet| {
        Some(Value::Count(sheet.pieces.count.clone()))
    }),
    (Figure::PieceWeight, |sheet| {
        Some(Value::Weight(sheet.pieces.dough.clone()))
    }),
    (Figure::Hydration, |sheet| {
        sheet.figures.hydration.clone().map(Value::Share)
    }),
    (Figure::Salt, |sheet| sheet.figures.salt.clone().map(Value::Share)),
    (Figure::Sugar, |sheet| {
        sheet.figures.sugar.clone().map(Value::Share)
    }),
    (Figure::Fat, |sheet| sheet.figures.fat.clone().map(Value::Share)),
    (Figure::Prefermented, |sheet| {
        sheet.figures.prefermented.clone().map(Value::Share)
    }),
    (Figure::WholeTime, |sheet| Some(Value::Time(sheet.schedule.whole))),
    (Figure::HandsOn, |sheet| {
        Some(Value::Time(sheet.schedule.hands_on))
    }),
];

/// Lists the figures that differ; where one version does not compute, those of the other stand alone.
pub(super) fn changes(old: Option<&Sheet>, new: Option<&Sheet>) -> Vec<FigureChange> {
    ALL.iter()
        .map(|(figure, read)| FigureChange {
            figure: *figure,
            old: old.and_then(read),
            new: new.and_then(read),
        })
        .filter(|change| !alike(change.old.as_ref(), change.new.as_ref()))
        .collect()
}

fn alike(old: Option<&Value>, new: Option<&Value>) -> bool {
    match (old, new) {
        (Some(Value::Weight(old)), Some(Value::Weight(new))) => nearly(&old.0, &new.0),
        (Some(Value::Count(old)), Some(Value::Count(new))) => old == new,
        // A card shows shares to a tenth of a point.
        (Some(Value::Share(old)), Some(Value::Share(new))) => {
            (old - new).abs() < Ratio::fraction(5, 10_000).unwrap_or_default()
        }
        (old, new) => old == new,
    }
}
