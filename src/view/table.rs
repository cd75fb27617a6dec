//! The formula as a table: the whole bread and a column a stage. Owns which line stands in which row; the
//! writing of a cell is shared with the lists.

use schemars::JsonSchema;
use serde::Serialize;

use super::formula::{Cell, cell, mixture_name, shift, whole_cell};
use super::setting::Setting;
use super::weights::{Shown, add_to, sum_of};
use super::word_list::Word;
use crate::quantity::Ratio;
use crate::sheet::{SheetBlock, SheetLine, Source, TotalLine};

/// More weights than this side by side want smaller letters.
const MOST_AIRY: usize = 6;

/// The whole bread by stages.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Table {
    /// A column a block, stages first, the final dough last.
    pub columns: Vec<Column>,
    /// A row an ingredient, then what is poured in ready made.
    pub rows: Vec<Row>,
    /// What each column adds up to; its name is the word for it.
    pub total: Row,
    /// Whether the columns are many for the width of the paper.
    pub dense: bool,
}

/// The head of a column.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Column {
    /// What the block is called.
    pub title: String,
}

/// An ingredient over the whole bread and by stages.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Row {
    /// The name.
    pub name: String,
    /// Its part in the whole bread, shares counted on all flour; empty for what a stage brings ready made.
    pub whole: Cell,
    /// Whether it is a stage that is poured in.
    pub is_stage: bool,
    /// Its part in each column's block, shares counted on the flour of that block.
    pub cells: Vec<Cell>,
}

/// What a row is about.
enum About<'a> {
    /// An ingredient of what reaches the dough.
    Total(&'a TotalLine, Shown),
    /// An ingredient of a stage of which nothing reaches the dough.
    Other(&'a SheetLine, &'a str),
    /// Starter or old dough from the bakehouse.
    Mixture(&'a str),
    /// A stage that is poured in.
    Stage(&'a SheetBlock),
}

impl About<'_> {
    /// Says whether a line belongs in the row.
    fn takes(&self, line: &SheetLine) -> bool {
        match (self, &line.source) {
            (Self::Total(total, _), Source::Ingredient { key, .. }) => *key == total.key,
            (Self::Other(_, other), Source::Ingredient { key, .. }) => key == other,
            (Self::Mixture(name), Source::Mixture) => line.name == *name,
            (Self::Stage(stage), Source::Stage(id)) => *id == stage.id,
            _ => false,
        }
    }

    fn name(&self, setting: &Setting<'_>) -> String {
        match self {
            Self::Total(total, _) => total.name.clone(),
            Self::Other(line, _) => line.name.clone(),
            Self::Mixture(name) => mixture_name(setting.words, name).to_owned(),
            Self::Stage(stage) => setting.title(stage),
        }
    }
}

/// Lays out the table of blocks that make up the dough.
pub(super) fn view_table(setting: &Setting<'_>, inside: &[&SheetBlock]) -> Table {
    let mut rows: Vec<Row> = abouts(setting, inside)
        .iter()
        .map(|about| view_row(setting, inside, about))
        .collect();
    let mut total = total_row(setting, inside);
    line_up(&mut rows, &mut total);
    let columns: Vec<Column> = inside
        .iter()
        .map(|block| Column {
            title: setting.title(block),
        })
        .collect();
    let dense = columns.len() * setting.units.len() > MOST_AIRY;
    Table {
        columns,
        rows,
        total,
        dense,
    }
}

/// Lists what the rows are about: the ingredients in the order of the sheet, then what comes ready made.
fn abouts<'a>(setting: &Setting<'a>, inside: &[&'a SheetBlock]) -> Vec<About<'a>> {
    let totals = setting.sheet.total.iter().zip(setting.whole_bread());
    let mut rows: Vec<About<'a>> = totals.map(|(line, shown)| About::Total(line, shown)).collect();
    let mut ready_made: Vec<About<'a>> = Vec::new();
    for line in inside.iter().flat_map(|block| &block.lines) {
        let is_known = rows.iter().chain(&ready_made).any(|row| row.takes(line));
        if is_known || line.weight.is_none() {
            continue;
        }
        match &line.source {
            Source::Ingredient { key, .. } => rows.push(About::Other(line, key)),
            Source::Mixture => ready_made.insert(0, About::Mixture(&line.name)),
            Source::Stage(id) => ready_made.extend(setting.block(*id).map(About::Stage)),
        }
    }
    rows.extend(ready_made);
    rows
}

/// Gathers a row: what each block holds of what the row is about.
fn view_row(setting: &Setting<'_>, inside: &[&SheetBlock], about: &About<'_>) -> Row {
    let whole = match about {
        About::Total(total, shown) => whole_cell(setting, *shown, total.of_all_flour.as_ref()),
        About::Other(..) | About::Mixture(_) | About::Stage(_) => Cell::default(),
    };
    Row {
        name: about.name(setting),
        whole,
        is_stage: matches!(about, About::Stage(_)),
        cells: inside
            .iter()
            .map(|block| view_cell(setting, block, about))
            .collect(),
    }
}

fn view_cell(setting: &Setting<'_>, block: &SheetBlock, about: &About<'_>) -> Cell {
    let mut grams = vec![0; setting.units.len()];
    let mut part: Option<Ratio> = None;
    let mut any = false;
    for (place, line) in block
        .lines
        .iter()
        .enumerate()
        .filter(|(_, line)| about.takes(line))
    {
        if let Some(weight) = setting.line_weight(block.id, place) {
            add_to(&mut grams, weight);
            any = true;
            part = sum(part, line.of_block_flour.as_ref());
        }
    }
    if any {
        cell(setting, &grams, part.as_ref())
    } else {
        Cell::default()
    }
}

fn sum(left: Option<Ratio>, right: Option<&Ratio>) -> Option<Ratio> {
    match (left, right) {
        (Some(left), Some(right)) => Some(&left + right),
        (left, right) => left.or_else(|| right.cloned()),
    }
}

fn total_row(setting: &Setting<'_>, inside: &[&SheetBlock]) -> Row {
    let figures = &setting.sheet.figures;
    let of_flour = figures.dough.share_of(&figures.flour);
    let whole = whole_cell(setting, sum_of(setting.whole_bread()), of_flour.as_ref());
    let cells = inside.iter().map(|block| {
        let of_flour = block
            .flour_base
            .as_ref()
            .and_then(|base| block.total.share_of(base));
        cell(setting, &setting.total_about(block.id), of_flour.as_ref())
    });
    Row {
        name: setting.words.get(Word::Total).to_owned(),
        whole,
        is_stage: false,
        cells: cells.collect(),
    }
}

/// Moves the weights of every column until their decimal signs stand in line.
fn line_up(rows: &mut [Row], total: &mut Row) {
    let mut all: Vec<&mut Row> = rows.iter_mut().chain(std::iter::once(total)).collect();
    shift(all.iter_mut().map(|row| &mut row.whole).collect());
    for column in 0..all.first().map_or(0, |row| row.cells.len()) {
        shift(
            all.iter_mut()
                .filter_map(|row| row.cells.get_mut(column))
                .collect(),
        );
    }
}
