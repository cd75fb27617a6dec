//! The figures of both versions as rows.

use super::say::Say;
use super::types::ABSENT;
use super::{Decimal, FigureRow};
use crate::compare::{Comparison, Figure, FigurePair, Value};
use crate::quantity::Ratio;

pub(super) fn view_figures(comparison: &Comparison, say: Say) -> Vec<FigureRow> {
    comparison.figures.iter().map(|pair| row(pair, say)).collect()
}

fn row(pair: &FigurePair, say: Say) -> FigureRow {
    let (id, label, unit) = names(pair.figure);
    let said = |value: &Option<Value>| {
        value
            .as_ref()
            .map_or_else(|| ABSENT.to_owned(), |value| text(value, say))
    };
    FigureRow {
        id,
        label,
        unit,
        old_value: pair.old.as_ref().map(number),
        new_value: pair.new.as_ref().map(number),
        old: said(&pair.old),
        new: said(&pair.new),
        change: pair
            .old
            .as_ref()
            .zip(pair.new.as_ref())
            .filter(|_| pair.is_changed)
            .map_or_else(String::new, |(old, new)| apart(old, new, say)),
        is_changed: pair.is_changed,
    }
}

const fn names(figure: Figure) -> (&'static str, &'static str, &'static str) {
    match figure {
        Figure::Dough => ("dough", "dough", "g"),
        Figure::Pieces => ("pieces", "pieces", "pieces"),
        Figure::PieceWeight => ("piece-weight", "dough a piece", "g"),
        Figure::Hydration => ("hydration", "hydration", "%"),
        Figure::Salt => ("salt", "salt", "%"),
        Figure::Sugar => ("sugar", "sugar", "%"),
        Figure::Fat => ("fat", "fat", "%"),
        Figure::Prefermented => ("prefermented", "prefermented flour", "%"),
        Figure::WholeTime => ("whole-time", "start to finish", "minutes"),
        Figure::HandsOn => ("hands-on", "hands-on", "minutes"),
    }
}

fn number(value: &Value) -> Decimal {
    match value {
        Value::Weight(weight) => Decimal::of(&weight.0),
        Value::Share(share) => Decimal::of(&(share * &Ratio::HUNDRED)),
        Value::Count(count) => Decimal::of(count),
        Value::Time(range) => Decimal::of(&Ratio::whole(i64::from(range.middle().as_minutes()))),
    }
}

fn text(value: &Value, say: Say) -> String {
    match value {
        Value::Weight(weight) => say.weight(weight),
        Value::Share(share) => say.share(share),
        Value::Count(count) => say.count(count),
        Value::Time(range) => say.lengths(*range),
    }
}

/// Says by how much two values differ; shares differ by points.
fn apart(old: &Value, new: &Value, say: Say) -> String {
    let signed = |apart: &Ratio, text: String| {
        let sign = if apart.is_negative() { "−" } else { "+" };
        format!("{sign}{text}")
    };
    match (old, new) {
        (Value::Weight(old), Value::Weight(new)) => say.weight_apart(old, new),
        (Value::Share(old), Value::Share(new)) => {
            let apart = new - old;
            signed(&apart, say.points(&apart.abs()))
        }
        (Value::Count(old), Value::Count(new)) => {
            let apart = new - old;
            signed(&apart, say.count(&apart.abs()))
        }
        (Value::Time(old), Value::Time(new)) => say.longer(*old, *new).unwrap_or_default(),
        _ => String::new(),
    }
}
