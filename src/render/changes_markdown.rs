//! Comparisons as Markdown, for a pull request: a heading a recipe, a table of figures, lists.

use crate::view::changes::{COLUMNS, FigureRow, FileComparison, Row, RunView, Section, Verdict, VersionRow};

/// Renders a comparison, ended by a line feed.
#[must_use]
pub fn render_markdown(comparison: &FileComparison) -> String {
    let name = comparison
        .new
        .as_ref()
        .or(comparison.old.as_ref())
        .map_or("", String::as_str);
    let title = if comparison.title.is_empty() {
        name
    } else {
        &comparison.title
    };
    let mut out = format!("### {}\n\n", safe(title));
    if let (Some(old), Some(new)) = (&comparison.old, &comparison.new)
        && old != new
    {
        out.push_str(&format!("{} → {}\n\n", code(old), code(new)));
    } else {
        out.push_str(&format!("{}\n\n", code(name)));
    }
    out.push_str(&format!("**{}**\n", safe(&comparison.headline)));
    for obstacle in &comparison.obstacles {
        out.push_str(&format!("\n{}\n", safe(obstacle)));
    }
    push_figures(&mut out, comparison);
    if !matches!(comparison.verdict, Verdict::Added | Verdict::Gone) {
        for section in comparison.sections.iter().filter(|section| section.is_told()) {
            push_section(&mut out, section);
        }
        if comparison.rest.iter().any(Row::is_told) {
            out.push_str("\n**what else**\n");
            push_rows(&mut out, &comparison.rest);
        }
        for part in &comparison.parts {
            let line = part.kind.headed(&part.title, &part.told);
            out.push_str(&format!("\n**{}**\n", safe(&line)));
            let inner = part.sections.iter().flat_map(|section| &section.rows);
            push_rows(&mut out, inner.chain(&part.rest));
        }
    }
    if let Some(difference) = &comparison.difference {
        let fence = "`".repeat(longest_run(difference, '`').max(2) + 1);
        out.push_str(&format!("\n{fence}diff\n{}\n{fence}\n", difference.trim_end()));
    }
    out
}

/// Renders the versions of a recipe as a table, oldest first.
#[must_use]
pub fn render_history_markdown(versions: &[VersionRow]) -> String {
    let heads = COLUMNS.map(|(_, head)| head);
    let mut out = format!(
        "| commit | day | {} | what changed |\n| --- | --- |",
        heads.join(" | ")
    );
    out.push_str(&" ---: |".repeat(COLUMNS.len()));
    out.push_str(" --- |\n");
    for row in versions {
        let cells = COLUMNS.map(|(id, _)| safe(row.figure(id)));
        let commit = row
            .commit
            .as_deref()
            .map_or_else(|| "not committed".to_owned(), code);
        let subject = match row.commit {
            Some(_) => format!("{}: ", safe(&row.subject)),
            None => String::new(),
        };
        out.push_str(&format!(
            "| {commit} | {} | {} | {subject}{} |\n",
            row.day.as_deref().unwrap_or_default(),
            cells.join(" | "),
            safe(&row.headline)
        ));
    }
    out
}

fn push_figures(out: &mut String, comparison: &FileComparison) {
    let is_alone = comparison.verdict == Verdict::Unknown;
    let shown: Vec<&FigureRow> = comparison
        .figures
        .iter()
        .filter(|row| is_alone || row.is_changed)
        .collect();
    if shown.is_empty() {
        return;
    }
    if is_alone {
        out.push_str("\n| | |\n| --- | ---: |\n");
        for row in shown {
            out.push_str(&format!("| {} | {} |\n", row.label, safe(row.of_either())));
        }
        return;
    }
    out.push_str("\n| | before | now | |\n| --- | ---: | ---: | ---: |\n");
    for row in shown {
        let cells = [row.label, &row.old, &row.new, &row.change].map(safe);
        out.push_str(&format!("| {} |\n", cells.join(" | ")));
    }
}

fn push_section(out: &mut String, section: &Section) {
    let told = section.told.as_deref().unwrap_or_default();
    let line = section.kind.headed(&section.title, told);
    out.push_str(&format!("\n**{}**\n", safe(&line)));
    push_rows(out, &section.rows);
}

fn push_rows<'a>(out: &mut String, rows: impl IntoIterator<Item = &'a Row>) {
    let told: Vec<&Row> = rows.into_iter().filter(|row| row.is_told()).collect();
    if told.is_empty() {
        return;
    }
    out.push('\n');
    for row in told {
        let fate = row.kind.fate();
        let gap = if fate.is_empty() { "" } else { ": " };
        let told = safe(row.told.as_deref().unwrap_or_default());
        out.push_str(&format!("- {fate}{gap}{told}\n"));
        if !row.runs.is_empty() {
            out.push_str(&format!("  > {}\n", words(&row.runs)));
        }
    }
}

fn words(runs: &[RunView]) -> String {
    let shown = runs.iter().map(|run| {
        let bare = safe(run.text.trim());
        let before = if run.text.starts_with(char::is_whitespace) {
            " "
        } else {
            ""
        };
        let behind = if run.text.ends_with(char::is_whitespace) {
            " "
        } else {
            ""
        };
        match run.stands {
            _ if bare.is_empty() => " ".to_owned(),
            "old" => format!("{before}~~{bare}~~{behind}"),
            "new" => format!("{before}**{bare}**{behind}"),
            _ => format!("{before}{bare}{behind}"),
        }
    });
    shown.collect::<String>().trim().to_owned()
}

/// Makes text of a recipe mere text: nothing in it is markup, a mention or a link.
fn safe(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '\n' | '\r' | '\t' => out.push(' '),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '@' => out.push_str("&#64;"),
            // A number sign before a number is a link to an issue.
            '#' => out.push_str("&#35;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '!' => {
                out.push('\\');
                out.push(c);
            }
            ':' if out.ends_with("http") || out.ends_with("https") => out.push_str("&#58;"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Writes a name as code, whatever is in it.
fn code(name: &str) -> String {
    let bare: String = name
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let fence = "`".repeat(longest_run(&bare, '`') + 1);
    let gap = if bare.starts_with('`') || bare.ends_with('`') {
        " "
    } else {
        ""
    };
    format!("{fence}{gap}{bare}{gap}{fence}")
}

fn longest_run(text: &str, wanted: char) -> usize {
    let mut longest = 0;
    let mut run = 0;
    for c in text.chars() {
        run = if c == wanted { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    longest
}
