//! Where a figure comes from, and what to do where the dough tells that it is too much or too little.

use super::{Answer, AnswerTable};
use crate::quantity::{Grams, Ratio};
use crate::sheet::{Why, WhyFigure, WhyRow};
use crate::view::setting::Setting;

/// Tells the origin of a figure line by line, the largest first.
pub(super) fn view_why(setting: &Setting<'_>, why: &Why) -> Answer {
    let (name, counted) = match why.figure {
        WhyFigure::Hydration => ("Hydration", "Water"),
        WhyFigure::Salt => ("Salt", "Salt"),
        WhyFigure::Sugar => ("Sugar", "Sugars"),
        WhyFigure::Fat => ("Fat", "Fat"),
        WhyFigure::Prefermented => ("Prefermented flour", "Flour"),
    };
    let share = why.share.as_ref().map(|share| setting.numbers.share(share));
    let title = match &share {
        Some(share) => format!("{name} {share}: where it comes from"),
        None => format!("{name}: there is no flour to count it on"),
    };
    let mut sentences = vec![advice(why.figure).to_owned()];
    if let Some(salt) = why.in_100_g_of_bread.as_ref().filter(|salt| !salt.is_zero()) {
        sentences.push(salt_in_bread(setting, salt));
    }
    if why.is_blurred {
        sentences.push("Lines of which nobody knows what they hold are left out.".to_owned());
    }
    if why.rows.is_empty() {
        sentences = vec!["No line brings any.".to_owned()];
    }
    let head = ["Line", "Weighs", counted, "of all flour", "of the whole"];
    Answer {
        title,
        table: (!why.rows.is_empty()).then(|| AnswerTable {
            head: head.map(str::to_owned).to_vec(),
            rows: why.rows.iter().map(|row| view_row(setting, row)).collect(),
        }),
        sentences,
    }
}

/// Milligrams of sodium in a gram of salt, as labels reckon: salt is two and a half times its sodium.
const SODIUM_IN_SALT: i64 = 400;

/// Says how much salt the bread holds, as laws limit it.
fn salt_in_bread(setting: &Setting<'_>, salt: &Grams) -> String {
    let sodium = &salt.0 * &Ratio::whole(SODIUM_IN_SALT);
    format!(
        "100 g of the bread hold {} g of salt, or {} mg of sodium. Limits are local and change: Portugal has 1.4 g of \
         salt, South Africa 380 mg of sodium (both from memory, not looked up).",
        setting.numbers.decimal(&salt.0, 2),
        setting.numbers.decimal(&sodium, 0)
    )
}

fn view_row(setting: &Setting<'_>, row: &WhyRow) -> Vec<String> {
    let unit = setting.first_unit();
    let share = |share: &Option<Ratio>| {
        let share = share.as_ref().map(|share| setting.numbers.share(share));
        share.unwrap_or_default()
    };
    let title = setting.block(row.block).map(|block| setting.title(block));
    let part = row.part.as_ref().map(|part| format!(", its {part}"));
    vec![
        format!(
            "{}: {}{}",
            title.unwrap_or_default(),
            row.name,
            part.unwrap_or_default()
        ),
        setting.numbers.weight_about(unit, &row.line),
        setting.numbers.weight_about(unit, &row.counted),
        share(&row.of_all_flour),
        share(&row.of_figure),
    ]
}

/// Says what to try first; common practice, no source.
const fn advice(figure: WhyFigure) -> &'static str {
    match figure {
        WhyFigure::Hydration => {
            "If the dough is too sticky, hold back some of the first line that is poured in late; if it is too stiff, \
             add to it by the spoon. What stands in a stage was weighed the day before: look there next time."
        }
        WhyFigure::Salt => {
            "Less salt lets the dough ferment faster and makes it slacker; more slows it down and tightens it. Who \
             changes salt for their health asks a doctor or a dietitian first."
        }
        WhyFigure::Sugar => {
            "Up to about a tenth of the flour sugar feeds the yeast; more slows it down, and the crust browns sooner \
             (common practice, no source)."
        }
        WhyFigure::Fat => {
            "Fat makes a softer crumb that keeps longer; much of it goes in when the gluten is made (common practice, \
             no source)."
        }
        WhyFigure::Prefermented => {
            "More of it brings more flavour and a shorter bulk; from about half of the flour on the dough weakens \
             (common practice, no source)."
        }
    }
}
