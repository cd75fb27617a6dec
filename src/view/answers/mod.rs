//! Answers to what was asked of a recipe besides its size, and to what its numbers ask by themselves, each with a
//! heading, sentences and at most one table.
//!
//! Owns the form that all answers share. They are in English whatever the recipe's language is, as faults and
//! comparisons are: they speak to whoever asks, not to whoever reads the card. Which answers there are, and in which order, is told here; what one
//! says is in a file of its own.

mod changes;
mod fit;
mod scales;
mod usual;
mod why;

pub(super) use scales::pieces as scaled_pieces;
use schemars::JsonSchema;
use serde::Serialize;

use super::setting::Setting;
use crate::sheet::SwapAnswer;

/// An answer.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Answer {
    /// What it is about.
    pub title: String,
    /// Figures side by side; nothing where sentences are enough.
    pub table: Option<AnswerTable>,
    /// What there is to say, a sentence or two each.
    pub sentences: Vec<String>,
}

/// The table of an answer; the first column holds names, the others figures.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AnswerTable {
    /// The heads of the columns.
    pub head: Vec<String>,
    /// The rows, each as long as the head.
    pub rows: Vec<Vec<String>>,
}

/// Gathers the answers that a sheet holds.
pub(super) fn view_answers(setting: &Setting<'_>) -> Vec<Answer> {
    let asked = &setting.sheet.answers;
    let fit = setting.sheet.fit.iter().map(|fit| fit::view_fit(setting, fit));
    let starter = asked.starter.iter();
    let starter = starter.map(|answer| changes::view_starter(setting, answer));
    let swaps = asked.swaps.iter();
    let swaps = swaps.map(|answer| changes::view_swap(setting, answer));
    let why = asked.why.iter().map(|why| why::view_why(setting, why));
    let scales = scales::view_scales(setting);
    let asked = fit.chain(starter).chain(swaps).chain(why);
    let usual = setting.sheet.usual.iter();
    let usual = usual.map(|usual| usual::view_usual(setting, usual));
    asked.chain(scales).chain(usual).collect()
}

/// Gathers what stands on a card: the starter that it is corrected for, and what swaps would change.
pub(super) fn view_hints(setting: &Setting<'_>, swaps: &[SwapAnswer]) -> Vec<Answer> {
    let starter = setting.sheet.answers.starter.iter();
    let starter = starter.map(|answer| changes::view_starter(setting, answer));
    let swaps = swaps.iter().map(|swap| changes::view_swap(setting, swap));
    starter.chain(swaps).collect()
}
