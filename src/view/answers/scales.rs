//! Lines that the scales cannot show closely, with the way out, and pieces that add up to the dough.

use super::{Answer, AnswerTable};
use crate::quantity::{Grams, Ratio, WeightUnit};
use crate::sheet::{Solution, TooSmall};
use crate::view::setting::Setting;

/// Tells which lines the scales cannot show closely; nothing where they can.
pub(super) fn view_scales(setting: &Setting<'_>) -> Option<Answer> {
    let lines = &setting.sheet.too_small;
    if lines.is_empty() {
        return None;
    }
    let mut sentences: Vec<String> = lines
        .iter()
        .filter_map(|line| Some(solution(setting, line, line.solution.as_ref()?)))
        .collect();
    sentences
        .push("Or weigh on a finer scale, and say so in the bakehouse, or make a larger batch.".to_owned());
    Some(Answer {
        title: "Too little for these scales".to_owned(),
        table: Some(AnswerTable {
            head: ["Line", "Weighs", "Shown", "Scales show", "Off by"]
                .map(str::to_owned)
                .to_vec(),
            rows: lines.iter().map(|line| row(setting, line)).collect(),
        }),
        sentences,
    })
}

fn row(setting: &Setting<'_>, line: &TooSmall) -> Vec<String> {
    let title = setting.block(line.block).map(|block| setting.title(block));
    let grams = |grams: &Ratio| format!("{}\u{a0}g", setting.numbers.decimal(grams, 2));
    vec![
        format!("{}: {}", title.unwrap_or_default(), line.name),
        grams(&line.weight.0),
        grams(&line.shown),
        grams(&line.step),
        setting.numbers.share(&line.moved),
    ]
}

fn solution(setting: &Setting<'_>, line: &TooSmall, solution: &Solution) -> String {
    let grams = |weight: &Grams| setting.numbers.weight_about(WeightUnit::Gram, weight);
    format!(
        "{}: stir {} into {} of water, take {} of that and leave {} of water out.",
        line.name,
        grams(&solution.stock),
        grams(&solution.water),
        grams(&solution.take),
        grams(&solution.less_water)
    )
}

/// Says at which weights the pieces are scaled so that they add up to the dough; nothing where all weigh the same.
pub(in crate::view) fn pieces(setting: &Setting<'_>) -> Option<String> {
    let scaled = &setting.sheet.pieces.scaled;
    if scaled.len() < 2 || setting.sheet.fit.is_some() {
        return None;
    }
    // Grams stand as the scales show them; in another unit what is shown alike counts as alike.
    let unit = setting.first_unit();
    let shown = |weight: &Grams| match unit {
        WeightUnit::Gram => format!("{}\u{a0}g", setting.numbers.decimal(&weight.0, 2)),
        _ => setting.numbers.weight_about(unit, weight),
    };
    let mut each: Vec<(i64, String)> = Vec::new();
    for (count, weight) in scaled {
        let weight = shown(weight);
        match each.last_mut().filter(|(_, last)| *last == weight) {
            Some((alike, _)) => *alike += count,
            None => each.push((*count, weight)),
        }
    }
    let each: Vec<String> = each
        .iter()
        .map(|(count, weight)| format!("{count} of {weight}"))
        .collect();
    (each.len() > 1).then(|| each.join(", "))
}
