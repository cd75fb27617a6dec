//! Figures of both versions, in the order in which a baker asks.

use super::near;
use super::types::{Figure, FigurePair, Value};
use crate::quantity::Grams;
use crate::sheet::Sheet;

/// A figure and how it is read.
type Read = (Figure, fn(&Sheet) -> Option<Value>);

const ALL: &[Read] = &[
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

/// Pairs the figures; where one version does not compute, those of the other stand alone.
pub(super) fn pairs(old: Option<&Sheet>, new: Option<&Sheet>) -> Vec<FigurePair> {
    let flour = [old, new].into_iter().flatten().map(|sheet| &sheet.figures.flour);
    let flour = flour.min().cloned().unwrap_or_default();
    let pair = |(figure, read): &Read| {
        let (old, new) = (old.and_then(read), new.and_then(read));
        FigurePair {
            figure: *figure,
            is_changed: !alike(old.as_ref(), new.as_ref(), &flour),
            old,
            new,
        }
    };
    let has_any = |pair: &FigurePair| pair.old.is_some() || pair.new.is_some();
    ALL.iter().map(pair).filter(has_any).collect()
}

fn alike(old: Option<&Value>, new: Option<&Value>, flour: &Grams) -> bool {
    match (old, new) {
        (Some(Value::Weight(old)), Some(Value::Weight(new))) => {
            new.share_of(old).is_some_and(|factor| near::is_one(&factor)) || old == new
        }
        (Some(Value::Share(old)), Some(Value::Share(new))) => near::shares(old, new, flour),
        (old, new) => old == new,
    }
}
