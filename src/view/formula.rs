//! The formula of a card: a table with a column a stage where there are stages, else a plain list. Owns
//! which ingredient stands in which row and column; the weights come settled from the setting.

use serde::Serialize;

use super::numbers::decimals;
use super::setting::{Setting, Weighed};
use super::weights::{Shown, add_to};
use super::word_list::Word;
use crate::model::recipe::BlockId;
use crate::quantity::Ratio;
use crate::sheet::{Role, SheetBlock, SheetLine, Source};

/// More columns than this no paper holds; the blocks stand as lists then.
const MOST_COLUMNS: usize = 5;

/// The formula of a card.
#[derive(Debug, Serialize)]
pub struct Formula {
    /// The whole bread by stages; nothing where the dough has none.
    pub table: Option<Table>,
    /// Blocks that stand outside the table, fillings and toppings last.
    pub lists: Vec<List>,
    /// What is left over or kept of a stage, a sentence each.
    pub kept: Vec<String>,
}

/// The whole bread by stages.
#[derive(Debug, Serialize)]
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
#[derive(Debug, Serialize)]
pub struct Column {
    /// What the block is called.
    pub title: String,
}

/// An ingredient over the whole bread and by stages.
#[derive(Debug, Serialize)]
pub struct Row {
    /// The name.
    pub name: String,
    /// Its part in the whole bread, shares counted on all flour; empty for what a stage brings ready made.
    pub whole: Cell,
    /// Its part in each column's block, shares counted on the flour of that block.
    pub cells: Vec<Cell>,
}

/// A weight and share in the table; all empty where the ingredient has no part in the column.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Cell {
    /// The weight in the first unit, `340 g`.
    pub weight: String,
    /// The weight in the other units, `12 oz`; empty where the card has one unit.
    pub other: String,
    /// The share, `68 %`; empty where there is no flour to count on.
    pub share: String,
    /// A class that moves the weight until the decimal signs of its column stand in line; often empty.
    pub shift: &'static str,
}

/// A block as a plain list.
#[derive(Debug, Serialize)]
pub struct List {
    /// What the block is called; empty for a dough that stands alone.
    pub title: String,
    /// Its lines.
    pub lines: Vec<ListLine>,
    /// What they weigh together.
    pub total: Cell,
    /// Whether the lines have a share of all flour beside the one of the block's.
    pub two_shares: bool,
}

/// A line of a list.
#[derive(Debug, Serialize)]
pub struct ListLine {
    /// Weight and share of the block's flour.
    pub cell: Cell,
    /// The share of all flour; empty where it is the same.
    pub of_all_flour: String,
    /// The name.
    pub name: String,
    /// Preparation and measure, `soft`, `3 tbsp`; often empty.
    pub note: String,
}

/// Lays out the formula.
pub(super) fn view_formula(setting: &Setting<'_>) -> Formula {
    let blocks = &setting.sheet.blocks;
    let inside: Vec<&SheetBlock> = blocks
        .iter()
        .filter(|block| !is_outside(block) && !block.lines.is_empty())
        .collect();
    let has_table = (2..=MOST_COLUMNS).contains(&inside.len());
    let lists = blocks
        .iter()
        .filter(|block| !block.lines.is_empty() && (!has_table || is_outside(block)))
        .map(|block| view_list(setting, block, inside.len() < 2 && !is_outside(block)))
        .collect();
    Formula {
        table: has_table.then(|| view_table(setting, &inside)),
        lists,
        kept: blocks.iter().filter_map(|block| kept(setting, block)).collect(),
    }
}

fn is_outside(block: &SheetBlock) -> bool {
    matches!(block.role, Role::Filling | Role::Topping)
}

/// Says what is left of a stage that is not poured whole.
fn kept(setting: &Setting<'_>, block: &SheetBlock) -> Option<String> {
    if block.kept.is_zero() || !matches!(block.role, Role::Stage | Role::Part) {
        return None;
    }
    let stage = setting.title(block);
    let word = if block.poured.is_zero() {
        Word::KeptAll
    } else {
        Word::Kept
    };
    let gaps = [
        ("stage", stage.as_str()),
        ("total", &setting.weigh_about(&block.total)),
        ("poured", &setting.weigh_about(&block.poured)),
        ("kept", &setting.weigh_about(&block.kept)),
    ];
    Some(setting.words.fill(word, &gaps))
}

fn view_table(setting: &Setting<'_>, inside: &[&SheetBlock]) -> Table {
    let mut rows: Vec<Row> = Vec::with_capacity(setting.sheet.total.len() + inside.len() + 2);
    for line in &setting.sheet.total {
        let whole = Cell {
            weight: setting.whole_weight(&line.shown),
            share: share(setting, line.of_all_flour.as_ref()),
            ..Cell::default()
        };
        let is_it = |source: &Source| matches!(source, Source::Ingredient { key, .. } if *key == line.key);
        rows.push(row(setting, inside, &line.name, whole, &is_it));
    }
    let is_mixture = |source: &Source| matches!(source, Source::Mixture);
    for name in mixtures(inside) {
        rows.push(row(setting, inside, name, Cell::default(), &is_mixture));
    }
    for stage in inside {
        let is_it = |source: &Source| matches!(source, Source::Stage(id) if *id == stage.id);
        if inside
            .iter()
            .any(|block| block.lines.iter().any(|line| is_it(&line.source)))
        {
            rows.push(row(
                setting,
                inside,
                &setting.title(stage),
                Cell::default(),
                &is_it,
            ));
        }
    }
    let mut total = total_row(setting, inside);
    line_up(&mut rows, &mut total);
    let columns: Vec<Column> = inside
        .iter()
        .map(|block| Column {
            title: setting.title(block),
        })
        .collect();
    let dense = columns.len() * setting.units.len() > 4;
    Table {
        columns,
        rows,
        total,
        dense,
    }
}

/// Names the mixtures that lines pour in, each once.
fn mixtures<'a>(inside: &[&'a SheetBlock]) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for line in inside.iter().flat_map(|block| &block.lines) {
        if line.source == Source::Mixture && !names.contains(&line.name.as_str()) {
            names.push(&line.name);
        }
    }
    names
}

/// Gathers a row: what each block holds of the lines that the row is about.
fn row(
    setting: &Setting<'_>,
    inside: &[&SheetBlock],
    name: &str,
    whole: Cell,
    is_it: &dyn Fn(&Source) -> bool,
) -> Row {
    let is_mixture = whole.weight.is_empty();
    let cells = inside.iter().map(|block| {
        let mut grams = vec![0; setting.units.len()];
        let mut part: Option<Ratio> = None;
        let mut any = false;
        for (place, line) in block.lines.iter().enumerate() {
            let is_named = !is_mixture || line.source != Source::Mixture || line.name == name;
            if let (true, true, Some(weight)) = (
                is_it(&line.source),
                is_named,
                setting.line_weight(block.id, place),
            ) {
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
    });
    Row {
        name: name.to_owned(),
        whole,
        cells: cells.collect(),
    }
}

fn sum(left: Option<Ratio>, right: Option<&Ratio>) -> Option<Ratio> {
    match (left, right) {
        (Some(left), Some(right)) => Some(&left + right),
        (left, right) => left.or_else(|| right.cloned()),
    }
}

fn total_row(setting: &Setting<'_>, inside: &[&SheetBlock]) -> Row {
    let shown: Ratio = setting.sheet.total.iter().map(|line| &line.shown).sum();
    let figures = &setting.sheet.figures;
    let whole = Cell {
        weight: setting.whole_weight(&shown),
        share: share(setting, figures.dough.share_of(&figures.flour).as_ref()),
        ..Cell::default()
    };
    let cells = inside.iter().map(|block| {
        let of_flour = block
            .flour_base
            .as_ref()
            .and_then(|base| block.total.share_of(base));
        cell(setting, &setting.total_weight(block.id), of_flour.as_ref())
    });
    Row {
        name: setting.words.get(Word::Total).to_owned(),
        whole,
        cells: cells.collect(),
    }
}

fn cell(setting: &Setting<'_>, weight: &[Shown], part: Option<&Ratio>) -> Cell {
    let Weighed { main, other } = setting.weigh(weight);
    Cell {
        weight: main,
        other,
        share: share(setting, part),
        shift: "",
    }
}

fn share(setting: &Setting<'_>, part: Option<&Ratio>) -> String {
    part.map(|part| setting.numbers.share(part)).unwrap_or_default()
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

fn shift(cells: Vec<&mut Cell>) {
    let most = cells.iter().map(|cell| decimals(&cell.weight)).max().unwrap_or(0);
    if most == 0 {
        return;
    }
    for cell in cells {
        cell.shift = shift_class(decimals(&cell.weight), most);
    }
}

/// The class for a number with some decimals in a column with more: `m` for the mark, `d` for digits alone.
const fn shift_class(own: usize, most: usize) -> &'static str {
    match (own, most.saturating_sub(own)) {
        (_, 0) => "",
        (0, 1) => "m1",
        (0, 2) => "m2",
        (0, _) => "m3",
        (_, 1) => "d1",
        (_, _) => "d2",
    }
}

fn view_list(setting: &Setting<'_>, block: &SheetBlock, alone: bool) -> List {
    let mut lines: Vec<ListLine> = block
        .lines
        .iter()
        .enumerate()
        .map(|(place, line)| list_line(setting, block.id, place, line))
        .collect();
    let of_flour = block
        .flour_base
        .as_ref()
        .and_then(|base| block.total.share_of(base));
    let mut total = cell(setting, &setting.total_weight(block.id), of_flour.as_ref());
    shift(
        lines
            .iter_mut()
            .map(|line| &mut line.cell)
            .chain(std::iter::once(&mut total))
            .collect(),
    );
    let two_shares = !is_outside(block)
        && lines
            .iter()
            .any(|line| !line.of_all_flour.is_empty() && line.of_all_flour != line.cell.share);
    List {
        title: if alone {
            String::new()
        } else {
            setting.title(block)
        },
        lines,
        total,
        two_shares,
    }
}

fn list_line(setting: &Setting<'_>, id: BlockId, place: usize, line: &SheetLine) -> ListLine {
    let cell = match setting.line_weight(id, place) {
        Some(grams) => cell(setting, grams, line.of_block_flour.as_ref()),
        None => Cell {
            weight: setting.words.get(Word::ToTaste).to_owned(),
            ..Cell::default()
        },
    };
    ListLine {
        cell,
        of_all_flour: share(setting, line.of_all_flour.as_ref()),
        name: line_name(setting, line),
        note: line_note(setting, line),
    }
}

/// Names what a line pours in: a stage by the card's own word for it.
pub(super) fn line_name(setting: &Setting<'_>, line: &SheetLine) -> String {
    match &line.source {
        Source::Stage(id) => setting
            .block(*id)
            .map_or_else(|| line.name.clone(), |block| setting.title(block)),
        _ => line.name.clone(),
    }
}

/// Says how a line's thing is prepared and what the baker measured it by: `soft`, `3 tbsp`.
pub(super) fn line_note(setting: &Setting<'_>, line: &SheetLine) -> String {
    let measure = line.measure.as_ref().map(|measure| {
        let count = setting.numbers.decimal(&measure.count, 2);
        match measure.unit {
            Some(unit) => format!("{count}\u{a0}{}", unit.symbol()),
            None => setting.words.fill(Word::WithPieces, &[("count", &count)]),
        }
    });
    let parts: Vec<String> = line.preparation.clone().into_iter().chain(measure).collect();
    parts.join(", ")
}
