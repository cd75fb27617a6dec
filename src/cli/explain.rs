//! `explain`: what a fault means and how to mend it.

use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::diag::{Code, explanation, nearest};
use crate::render::text::push_wrapped;

/// Say what a fault means, why it spoils bread and how to mend it
///
/// Every fault has a name, which stands in square brackets where it is reported: `unknown-ingredient`.
/// Without a name, all of them are listed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The name of the fault
    #[arg(value_name = "NAME")]
    name: Option<String>,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let Some(name) = &arguments.name else {
        ui.result(&list());
        return Ok(Exit::Fine);
    };
    let wanted = name
        .trim_start_matches(|c: char| c.is_ascii_lowercase())
        .strip_prefix('[');
    let wanted = wanted.and_then(|name| name.strip_suffix(']')).unwrap_or(name);
    let code = Code::ALL.iter().find(|code| code.slug() == wanted);
    let page = code.and_then(|code| explanation(*code).map(|page| (code, page)));
    match page {
        Some((code, page)) => {
            let head = format!("{}[{}]", code.severity().word(), code.slug());
            ui.result(&format!("{head}\n\n{}", laid_out(page)));
            Ok(Exit::Fine)
        }
        None => Err(unknown(wanted)),
    }
}

/// Lays a page out for a terminal: paragraphs broken between words, examples indented and left as they are.
fn laid_out(page: &str) -> String {
    let mut text = String::new();
    for (at, part) in page.split("```").enumerate() {
        if at % 2 == 1 {
            let example = part.split_once('\n').map_or("", |(_, example)| example);
            for line in example.lines() {
                text.push_str(if line.is_empty() { "" } else { "  " });
                text.push_str(line);
                text.push('\n');
            }
        } else {
            let paragraphs = part
                .split("\n\n")
                .map(str::trim)
                .filter(|words| !words.is_empty());
            for paragraph in paragraphs {
                let gap = if text.is_empty() { "" } else { "\n" };
                text.push_str(gap);
                push_wrapped(&mut text, 0, paragraph);
            }
            text.push('\n');
        }
    }
    text.truncate(text.trim_end().len());
    text + "\n"
}

fn unknown(slug: &str) -> Unable {
    let near = nearest(slug, Code::ALL.iter().map(|code| code.slug()));
    let hint = near.map_or_else(
        || "`loafwright explain` lists all of them".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Unable::new(format!(
        "there is no fault called `{}`; {hint}",
        slug.escape_debug()
    ))
}

/// Lists every fault with its severity and the first sentence of its page.
fn list() -> String {
    let width = Code::ALL.iter().map(|code| code.slug().len()).max().unwrap_or(0);
    Code::ALL.iter().fold(String::new(), |list, code| {
        let page = explanation(*code).unwrap_or_default();
        let meaning = page.split("\n\n").next().unwrap_or_default().replace('\n', " ");
        let line = format!("{:width$}  {:7}  {meaning}", code.slug(), code.severity().word());
        list + line.trim_end() + "\n"
    })
}
