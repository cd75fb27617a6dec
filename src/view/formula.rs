//! The formula of a card: a table with a column a stage where there are stages, else a plain list. Owns
//! which ingredient stands in which row and column; the weights come settled from the setting.

use schemars::JsonSchema;
use serde::Serialize;

use super::live::Key;
use super::numbers::decimals;
use super::paper::Layout;
use super::setting::{Setting, Weighed};
use super::table::{Table, view_table};
use super::weights::{Shown, sum_of};
use super::word_list::Word;
use super::words::Words;
use crate::model::recipe::BlockId;
use crate::quantity::{Ratio, WeightUnit};
use crate::sheet::{Role, SheetBlock, SheetLine, Source};

/// The formula of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Formula {
    /// The whole bread by stages; nothing where the dough has none.
    pub table: Option<Table>,
    /// Blocks as plain lists where there is no table.
    pub lists: Vec<List>,
    /// Fillings and toppings.
    pub outside: Vec<List>,
    /// What goes in unweighed, named and joined; often empty.
    pub unweighed: String,
    /// What is left over or kept of a stage, and what the shares leave out, a sentence each.
    pub remarks: Vec<String>,
}

/// A weight and share in the table; all empty where the ingredient has no part in the column.
#[derive(Clone, Debug, Default, JsonSchema, Serialize)]
pub struct Cell {
    /// The weight in the first unit, `340 g`.
    pub weight: String,
    /// The weight in the other units, `12 oz`; empty where the card has one unit.
    pub other: String,
    /// The share, `68 %`; empty where there is no flour to count on.
    pub share: String,
    /// A class that moves the weight until the decimal signs of its column stand in line; often empty.
    pub shift: &'static str,
    /// The same for the weight in the other units.
    pub other_shift: &'static str,
}

/// A block as a plain list.
#[derive(Debug, JsonSchema, Serialize)]
pub struct List {
    /// What the block is called; empty for a dough that stands alone.
    pub title: String,
    /// Its lines.
    pub lines: Vec<ListLine>,
    /// What they weigh together.
    pub total: Cell,
    /// Whether the lines have a share of all flour beside the one of the block's.
    pub two_shares: bool,
    /// What the shares of the lines count on; empty where there is no flour to count on.
    pub share_head: &'static str,
}

/// A line of a list.
#[derive(Debug, JsonSchema, Serialize)]
pub struct ListLine {
    /// Weight and share of the block's flour.
    pub cell: Cell,
    /// The share of all flour; empty where it is the same.
    pub of_all_flour: String,
    /// The name.
    pub name: String,
    /// Preparation and measure, to stand behind the name: `, soft`, ` (3 tbsp)`; often empty.
    pub note: String,
}

/// Lays out the formula.
pub(super) fn view_formula(setting: &Setting<'_>, layout: Layout) -> Formula {
    let blocks = &setting.sheet.blocks;
    let inside: Vec<&SheetBlock> = blocks
        .iter()
        .filter(|block| !is_outside(block) && !block.lines.is_empty())
        .collect();
    let has_table = (2..=layout.most_columns()).contains(&inside.len());
    let alone = inside.len() < 2;
    let kept = blocks.iter().filter_map(|block| kept(setting, block));
    let in_lists = if has_table { &[] } else { inside.as_slice() };
    let outside = blocks
        .iter()
        .filter(|block| is_outside(block) && block.lines.iter().any(|line| line.weight.is_some()));
    let lists = in_lists.iter().map(|block| view_list(setting, block, alone));
    let whole = (!has_table && !alone).then(|| view_whole(setting));
    Formula {
        table: has_table.then(|| view_table(setting, &inside)),
        lists: lists.chain(whole).collect(),
        outside: outside.map(|block| view_list(setting, block, false)).collect(),
        unweighed: view_unweighed(setting),
        remarks: kept.chain(unknown(setting)).chain(too_small(setting)).collect(),
    }
}

/// Says how to weigh what the scales cannot show: as a weak solution, of which more is taken, or else on finer ones.
fn too_small<'s>(setting: &'s Setting<'_>) -> impl Iterator<Item = String> + use<'s> {
    let grams = |weight| setting.numbers.weight_about(WeightUnit::Gram, weight);
    setting.sheet.too_small.iter().filter_map(move |line| {
        let thing = [("name", line.name.clone()), ("weight", grams(&line.weight))];
        let (word, solved) = match &line.solution {
            Some(solution) => {
                let solved = [
                    ("stock", grams(&solution.stock)),
                    ("water", grams(&solution.water)),
                    ("take", grams(&solution.take)),
                    ("less", grams(&solution.less_water)),
                ];
                (Word::Dilute, Some(solved))
            }
            None if line.is_lost() => (Word::TooSmall, None),
            None => return None,
        };
        let gaps = thing.iter().chain(solved.iter().flatten());
        let gaps: Vec<(&str, &str)> = gaps.map(|(gap, value)| (*gap, value.as_str())).collect();
        Some(setting.words.fill(word, &gaps))
    })
}

/// Lays out every block as a list of its own, as a terminal shows them.
pub(super) fn view_lists(setting: &Setting<'_>) -> Vec<List> {
    let blocks = setting.sheet.blocks.iter();
    blocks
        .filter(|block| !block.lines.is_empty())
        .map(|block| view_list(setting, block, false))
        .collect()
}

/// Lays out the total formula as a list, shares counted on all flour.
pub(super) fn view_whole(setting: &Setting<'_>) -> List {
    let figures = &setting.sheet.figures;
    let shown = setting.whole_bread();
    let mut lines: Vec<ListLine> = setting
        .sheet
        .total
        .iter()
        .zip(&shown)
        .map(|(line, shown)| ListLine {
            cell: whole_cell(setting, *shown, line.of_all_flour.as_ref()),
            of_all_flour: String::new(),
            name: line.name.clone(),
            note: String::new(),
        })
        .collect();
    let of_flour = figures.dough.share_of(&figures.flour);
    let mut total = whole_cell(setting, sum_of(shown.iter().copied()), of_flour.as_ref());
    let cells = lines.iter_mut().map(|line| &mut line.cell);
    shift(cells.chain(std::iter::once(&mut total)).collect());
    List {
        title: setting.words.get(Word::WholeBread).to_owned(),
        lines,
        total,
        two_shares: false,
        share_head: setting.words.get(Word::OfAllFlour),
    }
}

pub(super) fn whole_cell(setting: &Setting<'_>, shown: Shown, part: Option<&Ratio>) -> Cell {
    Cell {
        weight: setting.whole_weight(shown),
        share: share(setting, part),
        ..Cell::default()
    }
}

/// Says what is left of every stage that is not poured whole.
pub(super) fn view_kept(setting: &Setting<'_>) -> Vec<String> {
    let blocks = setting.sheet.blocks.iter();
    blocks.filter_map(|block| kept(setting, block)).collect()
}

/// Says how much of the dough is of a make that is not known.
fn unknown(setting: &Setting<'_>) -> Option<String> {
    let unknown = &setting.sheet.figures.unknown;
    let gap = (!unknown.is_zero()).then(|| setting.weigh_about(unknown))?;
    Some(setting.words.fill(Word::UnknownNote, &[("weight", &gap)]))
}

/// Names what goes in unweighed.
pub(super) fn view_unweighed(setting: &Setting<'_>) -> String {
    let lines = setting.sheet.blocks.iter().flat_map(|block| &block.lines);
    let names = lines
        .filter(|line| line.weight.is_none())
        .map(|line| line_name(setting, line) + &line_note(setting, line));
    names.collect::<Vec<_>>().join(&setting.words.semicolon())
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

pub(super) fn cell(setting: &Setting<'_>, weight: &[Shown], part: Option<&Ratio>) -> Cell {
    let Weighed { main, other } = setting.weigh(weight);
    Cell {
        weight: main,
        other,
        share: share(setting, part),
        ..Cell::default()
    }
}

/// Marks both weights of a cell, on a page that has marks.
fn mark(setting: &Setting<'_>, cell: &mut Cell, main: Key<'_>, other: Key<'_>) {
    cell.weight = setting.mark(main, std::mem::take(&mut cell.weight));
    if !cell.other.is_empty() {
        cell.other = setting.mark(other, std::mem::take(&mut cell.other));
    }
}

pub(super) fn share(setting: &Setting<'_>, part: Option<&Ratio>) -> String {
    part.map(|part| setting.numbers.share(part)).unwrap_or_default()
}

/// Moves the weights of a column until their decimal signs stand in line.
pub(super) fn shift(cells: Vec<&mut Cell>) {
    let most = |text: fn(&Cell) -> &str| {
        let decimals = cells.iter().map(|cell| decimals(text(cell)));
        decimals.max().unwrap_or(0)
    };
    let (most, other_most) = (most(|cell| &cell.weight), most(|cell| &cell.other));
    for cell in cells {
        cell.shift = shift_class(&cell.weight, most);
        cell.other_shift = shift_class(&cell.other, other_most);
    }
}

/// The class for a number with some decimals in a column with more: `m` for the mark, `d` for digits alone.
fn shift_class(text: &str, most: usize) -> &'static str {
    let own = decimals(text);
    match (own, most.saturating_sub(own)) {
        _ if text.is_empty() => "",
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
        .filter(|(_, line)| line.weight.is_some())
        .map(|(place, line)| list_line(setting, block.id, place, line))
        .collect();
    let of_flour = block
        .flour_base
        .as_ref()
        .and_then(|base| block.total.share_of(base));
    let mut total = cell(setting, &setting.total_about(block.id), of_flour.as_ref());
    if let Some(place) = setting.place(block.id) {
        mark(setting, &mut total, Key::Total(place), Key::TotalOther(place));
    }
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
        share_head: if block.flour_base.is_none() {
            ""
        } else if alone {
            setting.words.get(Word::OfFlour)
        } else {
            setting.words.get(Word::OfOwnFlour)
        },
        total,
        two_shares,
    }
}

fn list_line(setting: &Setting<'_>, id: BlockId, place: usize, line: &SheetLine) -> ListLine {
    let weight = setting.line_weight(id, place).unwrap_or_default();
    let mut cell = cell(setting, weight, line.of_block_flour.as_ref());
    if let Some(block) = setting.place(id) {
        mark(
            setting,
            &mut cell,
            Key::Line(block, place),
            Key::LineOther(block, place),
        );
    }
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
        Source::Mixture => mixture_name(setting.words, &line.name).to_owned(),
        Source::Ingredient { .. } => line.name.clone(),
    }
}

/// Names the starter or old dough of the bakehouse, which recipes call by one word in every language.
pub(super) fn mixture_name<'name>(words: &Words, written: &'name str) -> &'name str
where
    'static: 'name,
{
    match written {
        _ if words.are_english() => written,
        "starter" => words.get(Word::Starter),
        "old dough" => words.get(Word::OldDoughKept),
        _ => written,
    }
}

/// Says how a line's thing is prepared and what the baker measured it by, to stand behind its name: `, soft`,
/// ` (3 tbsp)`.
pub(super) fn line_note(setting: &Setting<'_>, line: &SheetLine) -> String {
    let mut note = String::new();
    if let Some(preparation) = &line.preparation {
        note.push_str(", ");
        note.push_str(preparation);
    }
    if let Some(measure) = &line.measure {
        note.push_str(" (");
        note.push_str(&setting.numbers.measure(&measure.count, measure.unit));
        note.push(')');
    }
    note
}
