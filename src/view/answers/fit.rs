//! What goes into the tins that a recipe was sized for. Owns the words; how full a tin is to be is the sheet's.

use super::{Answer, AnswerTable};
use crate::sheet::{FilledBy, Fit, FittedTin, TinBand, TinBread};
use crate::view::setting::Setting;

/// Says what each tin takes, how that compares with what is usual, and where to scale the pieces.
pub(super) fn view_fit(setting: &Setting<'_>, fit: &Fit) -> Answer {
    let head = ["Tin", "Holds", "Dough", "ml a gram", "Scale at", "Baked"];
    Answer {
        title: "In these tins".to_owned(),
        table: Some(AnswerTable {
            head: head.map(str::to_owned).to_vec(),
            rows: rows(setting, fit),
        }),
        sentences: sentences(setting, fit),
    }
}

/// Lists the tins; those that are alike and follow each other stand in one row.
fn rows(setting: &Setting<'_>, fit: &Fit) -> Vec<Vec<String>> {
    let alike = |left: &FittedTin, right: &FittedTin| left.tin == right.tin && left.dough == right.dough;
    let groups = fit.tins.chunk_by(alike);
    groups.filter_map(|group| row(setting, group)).collect()
}

fn row(setting: &Setting<'_>, alike: &[FittedTin]) -> Option<Vec<String>> {
    let fitted = alike.first()?;
    let weight = |weight| setting.numbers.weight_about(setting.first_unit(), weight);
    let millilitres = setting.numbers.decimal(&fitted.tin.volume.0, 0);
    Some(vec![
        match alike.len() {
            1 => name(fitted),
            count => format!("{count} × {}", name(fitted)),
        },
        format!("{millilitres}\u{a0}ml"),
        weight(&fitted.dough),
        setting.numbers.decimal(&fitted.ml_per_g, 2),
        weight(&fitted.practical),
        weight(&fitted.baked),
    ])
}

/// Gives the tin as written, without how full it is to be, which has a column of its own.
fn name(fitted: &FittedTin) -> String {
    let written = fitted.tin.written.as_str();
    let without = written.rsplit_once(',').map_or(written, |(tin, _)| tin);
    let has_fill = fitted.tin.ml_per_g.is_some();
    if has_fill { without } else { written }.trim().to_owned()
}

/// Tells who decided on the filling and what is usual, each once however many tins there are.
fn sentences(setting: &Setting<'_>, fit: &Fit) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for tin in &fit.tins {
        let usual = usual(setting, &tin.band);
        let sentence = match tin.filled_by {
            FilledBy::Band => format!(
                "The dough is sized by the middle of what is usual, {usual} (trade practice, from memory)."
            ),
            FilledBy::Asked => format!("Usual is {usual} (trade practice, from memory)."),
            FilledBy::Recipe => format!(
                "The recipe says itself how full its tin is to be; usual is {usual} (trade practice, from memory)."
            ),
        };
        if !told.contains(&sentence) {
            told.push(sentence);
        }
    }
    told.push(
        "“Scale at” is the nearest round weight, as bakers scale pieces (common practice, no source). The recipe \
         is sized to the exact one."
            .to_owned(),
    );
    told
}

/// Says what is usual for a bread in a tin: `3.2 to 4 ml a gram for white bread under a lid`.
fn usual(setting: &Setting<'_>, band: &TinBand) -> String {
    let number = |value| setting.numbers.decimal(value, 1);
    let bread = match band.bread {
        TinBread::WhiteLidded => "white bread under a lid",
        TinBread::WhiteOpen => "white bread in an open tin",
        TinBread::White => "white tin bread",
        TinBread::Wholemeal => "wholemeal bread",
        TinBread::Rye => "rye bread",
    };
    let (low, high) = (number(&band.low), number(&band.high));
    format!("{low} to {high} ml a gram for {bread}")
}
