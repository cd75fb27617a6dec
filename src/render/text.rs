//! A recipe's numbers as text for a terminal: tables that fit 80 columns, then the steps.
//!
//! The only place that knows the table printer. Words and numbers arrive as text.

use comfy_table::presets::{ASCII_FULL_CONDENSED, NOTHING};
use comfy_table::{Cell as TableCell, CellAlignment, ContentArrangement, Table};

use super::excerpt::visible;
use crate::view::{Answer, AnswerTable, BenchSheet, Cell, Group, Input, Labels, List, StepView};

/// Columns that everything fits into.
const WIDTH: u16 = 80;

/// The columns before what a step says.
const STEP_INDENT: usize = 12;

/// Renders a recipe's numbers. Tables get borders where a person reads them, and none in a pipe.
#[must_use]
pub fn render_bench(sheet: &BenchSheet, borders: Borders) -> String {
    let labels = &sheet.labels;
    let mut text = String::new();
    // A program that reads logs takes a line which begins with certain signs for an order.
    let is_word = sheet.head.title.starts_with(char::is_alphanumeric);
    push_wrapped(&mut text, usize::from(!is_word), &sheet.head.title);
    push_wrapped(&mut text, 0, &sheet.head.makes);
    if !sheet.scaled.is_empty() {
        push_wrapped(&mut text, 0, &format!("scaled as {}", sheet.scaled));
    }
    text.push('\n');
    text.push_str(&whole_table(&sheet.whole, labels, borders));
    text.push('\n');
    text.push_str(&block_table(&sheet.lists, labels, borders));
    for kept in &sheet.kept {
        push_wrapped(&mut text, 0, kept);
    }
    for answer in &sheet.answers {
        push_answer(&mut text, answer, borders);
    }
    push_heading(&mut text, labels.method);
    for group in &sheet.method.groups {
        push_group(&mut text, group, labels);
    }
    text.push('\n');
    push_facts(&mut text, sheet);
    if !sheet.warmth.is_empty() {
        push_heading(&mut text, labels.warmth);
    }
    for sentence in &sheet.warmth {
        push_wrapped(&mut text, 2, sentence);
    }
    push_heading(&mut text, labels.take_care);
    if !sheet.cautions.allergens.contains.is_empty() {
        let contains = format!("{}: {}", labels.contains, sheet.cautions.allergens.contains);
        push_wrapped(&mut text, 2, &contains);
    }
    let notes = sheet.cautions.flow.iter().chain(&sheet.cautions.more);
    for sentence in sheet
        .cautions
        .allergens
        .sentences
        .iter()
        .chain(notes.map(|note| &note.text))
    {
        push_wrapped(&mut text, 2, sentence);
    }
    text.replace(['\u{a0}', '\u{202f}'], " ")
}

/// Whether tables have borders.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Borders {
    /// For a screen.
    Drawn,
    /// For a pipe.
    Left,
}

fn whole_table(list: &List, labels: &Labels, borders: Borders) -> String {
    let mut table = table(borders);
    table.set_header(right_from(1, [list.title.as_str(), "", labels.of_all_flour]));
    for line in &list.lines {
        table.add_row(right_from(
            1,
            [line.name.as_str(), &aligned(&line.cell), &line.cell.share],
        ));
    }
    let total = [labels.total, &aligned(&list.total), &list.total.share];
    table.add_row(right_from(1, total));
    printed(&table)
}

fn block_table(lists: &[List], labels: &Labels, borders: Borders) -> String {
    let has_other = lists.iter().any(|list| !list.total.other.is_empty());
    let has_two = lists.iter().any(|list| list.two_shares);
    let mut table = table(borders);
    let own = if has_two {
        labels.of_own_flour
    } else {
        labels.of_all_flour
    };
    let all = if has_two { labels.of_all_flour } else { "" };
    let row = |cells: [&str; 5]| {
        let kept = cells.into_iter().enumerate();
        let kept = kept.filter(|(at, _)| (*at != 2 || has_other) && (*at != 4 || has_two));
        right_from(1, kept.map(|(_, cell)| cell).collect::<Vec<_>>())
    };
    table.set_header(row([labels.ingredient, "", "", &narrow(own), &narrow(all)]));
    for (at, list) in lists.iter().enumerate() {
        if at > 0 {
            table.add_row(row([""; 5]));
        }
        table.add_row(row([&list.title, "", "", "", ""]));
        for line in &list.lines {
            let name = format!("\u{a0}\u{a0}{}{}", line.name, line.note);
            let all = if list.two_shares {
                line.of_all_flour.as_str()
            } else {
                ""
            };
            table.add_row(row([
                &name,
                &aligned(&line.cell),
                &line.cell.other,
                &line.cell.share,
                all,
            ]));
        }
        let total = format!("\u{a0}\u{a0}{}", labels.total);
        let cell = &list.total;
        table.add_row(row([&total, &aligned(cell), &cell.other, &cell.share, ""]));
    }
    printed(&table)
}

fn table(borders: Borders) -> Table {
    let mut table = Table::new();
    table
        .load_style(match borders {
            Borders::Drawn => ASCII_FULL_CONDENSED,
            Borders::Left => NOTHING,
        })
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(WIDTH);
    table
}

/// Breaks the words over a column before the last of them, so that the column need not be wide.
fn narrow(words: &str) -> String {
    words
        .rsplit_once(' ')
        .map_or_else(|| words.to_owned(), |(before, last)| format!("{before}\n{last}"))
}

/// Makes cells of texts, all from a place on with their text to the right.
fn right_from<'text>(place: usize, texts: impl IntoIterator<Item = &'text str>) -> Vec<TableCell> {
    let cell = |(at, text): (usize, &str)| {
        let lines: Vec<String> = text.split('\n').map(visible).collect();
        let cell = TableCell::new(lines.join("\n"));
        if at >= place {
            cell.set_alignment(CellAlignment::Right)
        } else {
            cell
        }
    };
    texts.into_iter().enumerate().map(cell).collect()
}

fn printed(table: &Table) -> String {
    let lines = table.lines().map(|line| line.trim_end().to_owned() + "\n");
    lines.collect()
}

/// Puts blanks between number and unit until the decimal marks of a column stand below each other.
fn aligned(cell: &Cell) -> String {
    let blanks = match cell.shift {
        "m1" | "d2" => 2,
        "m2" => 3,
        "m3" => 4,
        "d1" => 1,
        _ => 0,
    };
    match cell.weight.split_once('\u{a0}') {
        Some((number, unit)) => format!("{number}{}\u{a0}{unit}", "\u{a0}".repeat(blanks)),
        None => cell.weight.clone(),
    }
}

fn push_heading(text: &mut String, heading: &str) {
    text.push('\n');
    push_wrapped(text, 0, heading);
}

fn push_answer(text: &mut String, answer: &Answer, borders: Borders) {
    push_heading(text, &answer.title);
    if let Some(AnswerTable { head, rows }) = &answer.table {
        let mut table = table(borders);
        table.set_header(right_from(1, head.iter().map(String::as_str)));
        for row in rows {
            table.add_row(right_from(1, row.iter().map(String::as_str)));
        }
        text.push_str(&printed(&table));
    }
    for sentence in &answer.sentences {
        push_wrapped(text, 2, sentence);
    }
}

fn push_group(text: &mut String, group: &Group, labels: &Labels) {
    push_wrapped(text, 2, &group.title);
    for remark in &group.remarks {
        push_wrapped(text, 4, remark);
    }
    for step in &group.steps {
        push_step(text, step, labels);
    }
    for input in &group.rest {
        push_input(text, input);
    }
}

fn push_step(text: &mut String, step: &StepView, labels: &Labels) {
    let takes = if step.estimate.is_empty() {
        step.takes.clone()
    } else {
        format!("{} ({})", step.takes, step.estimate)
    };
    let mut said = vec![step.words.clone(), takes, step.temperature.clone()];
    if !step.cue.is_empty() {
        said.push(format!("{} {}", labels.until, step.cue));
    }
    said.retain(|part| !part.is_empty());
    for input in &step.inputs {
        push_input(text, input);
    }
    let head = format!("{:>4} {:>6} ", step.number, step.begins);
    let start = text.len();
    push_wrapped(text, STEP_INDENT, &said.join(", "));
    // The number and the time stand in the room that was left free before the words.
    text.replace_range(start..start + STEP_INDENT, &head);
    if !step.folds.is_empty() {
        let folds = format!("{} {}", labels.fold_at, step.folds.join(", "));
        push_wrapped(text, STEP_INDENT, &folds);
    }
}

fn push_input(text: &mut String, input: &Input) {
    let said = format!("{} {}{}", input.weight, input.name, input.note);
    push_wrapped(text, STEP_INDENT + 2, &said);
}

fn push_facts(text: &mut String, sheet: &BenchSheet) {
    let width = sheet
        .facts
        .iter()
        .map(|fact| fact.name.chars().count())
        .max()
        .unwrap_or(0);
    for fact in &sheet.facts {
        let blanks = "\u{a0}".repeat(width - fact.name.chars().count());
        let note = if fact.note.is_empty() {
            String::new()
        } else {
            format!(", {}", fact.note)
        };
        push_wrapped(
            text,
            2,
            &format!("{}{blanks}\u{a0}\u{a0}{}{note}", fact.name, fact.value),
        );
    }
}

/// Adds a text on lines of its own, broken between words, every line indented alike.
pub fn push_wrapped(text: &mut String, indent: usize, words: &str) {
    let room = usize::from(WIDTH).saturating_sub(indent);
    let mut used = 0;
    for word in visible(words).split(' ').filter(|word| !word.is_empty()) {
        let width = word.chars().count();
        if used == 0 {
            text.push_str(&" ".repeat(indent));
        } else if used + 1 + width > room {
            text.push('\n');
            text.push_str(&" ".repeat(indent));
            used = 0;
        } else {
            text.push(' ');
            used += 1;
        }
        text.push_str(word);
        used += width;
    }
    if used > 0 {
        text.push('\n');
    }
}
