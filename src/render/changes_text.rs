//! Comparisons as text for a terminal: a line that says it all, the figures, then the lines.
//!
//! Signs say what colours say: `+` came, `−` is gone, `~` differs, `↕` moved; in prose `[-words gone-]` and
//! `{+words new+}`. The stream takes the colours off where none are wanted.

use super::excerpt::visible;
use crate::view::changes::{
    COLUMNS, FigureRow, FileComparison, Kind, PartView, Row, RunView, Section, Verdict, VersionRow,
};

const BOLD: &str = "\x1b[1m";
const RED: &str = "\x1b[31m";
const GREEN: &str = "\x1b[32m";
const YELLOW: &str = "\x1b[33m";
const RESET: &str = "\x1b[0m";

/// Words that are shown of a run on each side of a change.
const CONTEXT: usize = 6;

/// Renders a comparison, ended by a line feed.
#[must_use]
pub fn render_comparison(comparison: &FileComparison) -> String {
    let mut out = String::new();
    out.push_str(&format!("{BOLD}{}{RESET}\n", names(comparison)));
    let title = visible(&comparison.title);
    let gap = if title.is_empty() { "" } else { ": " };
    out.push_str(&format!("{title}{gap}{}\n", visible(&comparison.headline)));
    for obstacle in &comparison.obstacles {
        out.push_str(&format!("  {}\n", visible(obstacle)));
    }
    let stands_alone = matches!(comparison.verdict, Verdict::Unknown);
    push_figures(&mut out, comparison, stands_alone);
    if !matches!(comparison.verdict, Verdict::Added | Verdict::Gone) {
        push_sections(&mut out, &comparison.sections);
        push_rows(&mut out, &comparison.rest);
        for part in &comparison.parts {
            push_part(&mut out, part);
        }
    }
    if let Some(difference) = &comparison.difference {
        out.push('\n');
        out.push_str(&coloured(difference));
    }
    out
}

/// Renders a recipe as lines that a difference of texts can tell apart, figures first.
#[must_use]
pub fn render_bread(bread: &FileComparison) -> String {
    let mut out = format!("{}\n\n", visible(&bread.title));
    for row in &bread.figures {
        out.push_str(&format!("{}: {}\n", row.label, row.of_either()));
    }
    for section in &bread.sections {
        out.push_str(&format!("\n{}:\n", visible(&section.title)));
        let said = section.rows.iter().filter_map(|row| row.new.as_ref());
        out.extend(said.map(|text| format!("  {}\n", visible(text))));
    }
    out
}

/// Renders the versions of a recipe as a table, oldest first: figures in columns, and below what changed.
#[must_use]
pub fn render_history(versions: &[VersionRow]) -> String {
    let cells = |row: &VersionRow| COLUMNS.map(|(id, _)| row.figure(id).to_owned());
    let width = |text: &str| text.chars().count();
    let mut widths = COLUMNS.map(|(_, head)| width(head));
    for row in versions {
        for (widest, cell) in widths.iter_mut().zip(cells(row)) {
            *widest = width(&cell).max(*widest);
        }
    }
    let line = |start: &str, cells: [String; COLUMNS.len()], end: &str| {
        let padded = cells
            .iter()
            .zip(widths)
            .map(|(cell, width)| format!("  {cell:>width$}"));
        let line = format!("{start:20}{}  {end}", padded.collect::<String>());
        line.trim_end().to_owned() + "\n"
    };
    let mut out = line("", COLUMNS.map(|(_, head)| head.to_owned()), "");
    for row in versions {
        let start = format!(
            "{}  {}",
            row.commit.as_deref().unwrap_or("--------"),
            row.day.as_deref().unwrap_or_default()
        );
        out.push_str(&line(
            &start,
            cells(row),
            &format!("{BOLD}{}{RESET}", visible(&row.subject)),
        ));
        out.push_str(&format!("          {}\n", visible(&row.headline)));
    }
    out
}

fn names(comparison: &FileComparison) -> String {
    match (&comparison.old, &comparison.new) {
        (Some(old), Some(new)) if old == new => visible(new),
        (Some(old), Some(new)) => format!("{} → {}", visible(old), visible(new)),
        (Some(one), None) | (None, Some(one)) => visible(one),
        (None, None) => String::new(),
    }
}

/// Shows the figures that differ, or of a version that stands alone all that it has.
fn push_figures(out: &mut String, comparison: &FileComparison, stands_alone: bool) {
    let shown: Vec<&FigureRow> = comparison
        .figures
        .iter()
        .filter(|row| stands_alone || row.is_changed)
        .collect();
    if shown.is_empty() {
        return;
    }
    out.push('\n');
    let width = |text: &str| text.chars().count();
    let widest =
        |read: fn(&FigureRow) -> &str| shown.iter().map(|row| width(read(row))).max().unwrap_or_default();
    let (labels, olds, news) = (
        widest(|row| row.label),
        widest(|row| &row.old),
        widest(|row| &row.new),
    );
    let either = widest(FigureRow::of_either);
    for row in &shown {
        let line = if stands_alone {
            format!("  {:labels$}  {:>either$}", row.label, row.of_either())
        } else {
            format!(
                "  {:labels$}  {:>olds$} → {:news$}  {}",
                row.label, row.old, row.new, row.change
            )
        };
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

fn push_sections(out: &mut String, sections: &[Section]) {
    for section in sections.iter().filter(|section| section.is_told()) {
        let title = visible(&section.title);
        match (section.kind, &section.told) {
            (Kind::Added | Kind::Gone, Some(told)) => {
                let line = section.kind.headed(&title, &visible(told));
                let line = format!("{} {line}", section.kind.sign());
                out.push_str(&format!("\n{}\n", dressed(section.kind, &line)));
            }
            (_, told) => {
                out.push_str(&format!("\n{BOLD}{title}{RESET}\n"));
                if let Some(told) = told {
                    let line = format!("{} {}", section.kind.sign(), visible(told));
                    out.push_str(&format!("  {}\n", dressed(section.kind, &line)));
                }
            }
        }
        push_told(out, &section.rows);
    }
}

/// Shows rows under no heading of their own.
fn push_rows(out: &mut String, rows: &[Row]) {
    if rows.iter().any(Row::is_told) {
        out.push('\n');
        push_told(out, rows);
    }
}

fn push_told(out: &mut String, rows: &[Row]) {
    for row in rows {
        let Some(told) = &row.told else { continue };
        let line = format!("{} {}", row.kind.sign(), visible(told));
        out.push_str(&format!("  {}\n", dressed(row.kind, &line)));
        if !row.runs.is_empty() {
            out.push_str(&format!("      {}\n", words(&row.runs)));
        }
    }
}

fn push_part(out: &mut String, part: &PartView) {
    let line = part.kind.headed(&visible(&part.title), &visible(&part.told));
    let line = format!("{} {line}", part.kind.sign());
    out.push_str(&format!("\n{}\n", dressed(part.kind, &line)));
    for section in &part.sections {
        push_told(out, &section.rows);
    }
    push_told(out, &part.rest);
}

fn dressed(kind: Kind, line: &str) -> String {
    let colour = match kind {
        Kind::Added => GREEN,
        Kind::Gone => RED,
        Kind::Same => return line.to_owned(),
        Kind::Changed | Kind::Moved | Kind::Renamed | Kind::Swapped => YELLOW,
    };
    format!("{colour}{line}{RESET}")
}

/// Shows prose word by word; long runs that both versions have are cut.
fn words(runs: &[RunView]) -> String {
    let last = runs.len().saturating_sub(1);
    let shown = runs.iter().enumerate().map(|(at, run)| {
        let text = visible(&run.text);
        let bare = text.trim();
        let (before, behind) = (leading(&text), trailing(&text));
        match run.stands {
            "old" => format!("{before}{RED}[-{bare}-]{RESET}{behind}"),
            "new" => format!("{before}{GREEN}{{+{bare}+}}{RESET}{behind}"),
            _ => cut(&text, at == 0, at == last),
        }
    });
    shown.collect::<String>().trim().to_owned()
}

fn leading(text: &str) -> &str {
    text.get(..text.len() - text.trim_start().len())
        .unwrap_or_default()
}

fn trailing(text: &str) -> &str {
    text.get(text.trim_end().len()..).unwrap_or_default()
}

/// Cuts a run to the words beside the changes before and behind it.
fn cut(text: &str, is_first: bool, is_last: bool) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let kept = match (is_first, is_last) {
        (true, true) => 0,
        (true, false) | (false, true) => CONTEXT,
        (false, false) => CONTEXT * 2,
    };
    if words.len() <= kept + 1 {
        return text.to_owned();
    }
    let head = if is_first { 0 } else { CONTEXT };
    let tail = if is_last { 0 } else { CONTEXT };
    let behind = words.len() - tail;
    let part = |range: &[&str]| range.join(" ");
    let head = part(words.get(..head).unwrap_or_default());
    let tail = part(words.get(behind..).unwrap_or_default());
    format!("{}{head} … {tail}{}", leading(text), trailing(text))
}

/// Colours what goes and what comes in a difference of texts.
#[must_use]
pub fn coloured(difference: &str) -> String {
    let mut out = String::with_capacity(difference.len() + 256);
    for line in difference.split_inclusive('\n') {
        let (bare, end) = match line.strip_suffix('\n') {
            Some(bare) => (bare, "\n"),
            None => (line, ""),
        };
        let colour = match bare.as_bytes() {
            [b'-', b'-', b'-', ..] | [b'+', b'+', b'+', ..] => BOLD,
            [b'-', ..] => RED,
            [b'+', ..] => GREEN,
            [b'@', ..] => "\x1b[36m",
            _ => "",
        };
        let reset = if colour.is_empty() { "" } else { RESET };
        out.extend([colour, bare, reset, end]);
    }
    out
}
