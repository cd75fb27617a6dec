//! What the bread has of everything beside what is usual for its kind. Owns the words; the bands are the sheet's.

use super::{Answer, AnswerTable};
use crate::quantity::Ratio;
use crate::sheet::{Usual, UsualFigure, UsualRow};
use crate::view::setting::Setting;

/// Lays figures and usual ranges side by side.
pub(super) fn view_usual(setting: &Setting<'_>, usual: &Usual) -> Answer {
    let head = ["Of all flour", "Here", "Usual", "From"];
    Answer {
        title: format!("Usual for {}", usual.kind),
        table: Some(AnswerTable {
            head: head.map(str::to_owned).to_vec(),
            rows: usual.rows.iter().map(|row| view_row(setting, row)).collect(),
        }),
        sentences: Vec::new(),
    }
}

fn view_row(setting: &Setting<'_>, row: &UsualRow) -> Vec<String> {
    let name = match row.figure {
        UsualFigure::Water => "water",
        UsualFigure::Salt => "salt",
        UsualFigure::Yeast => "yeast, counted as fresh",
        UsualFigure::Sugar => "sugar, syrup and honey",
        UsualFigure::Fat => "butter, fat and oil",
        UsualFigure::Egg => "egg",
        UsualFigure::Prefermented => "prefermented flour",
    };
    let number = |share: &Ratio| setting.numbers.decimal(&(share * &Ratio::HUNDRED), 1);
    let here = setting.numbers.share(&row.share);
    let band = if row.high.is_zero() {
        "none".to_owned()
    } else {
        format!("{} to {}\u{a0}%", number(&row.low), number(&row.high))
    };
    let mark = if row.is_unusual { "unusual: " } else { "" };
    vec![
        name.to_owned(),
        format!("{mark}{here}"),
        band,
        row.source.to_owned(),
    ]
}
