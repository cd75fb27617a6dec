//! `templates`: the built-in templates and style sheets, to start one's own from.

use std::path::PathBuf;

use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::diag::nearest;
use crate::disk::{shown, write_new_in};
use crate::render::own::{OWN_STYLE, built_in, printed, remark};
use crate::render::values::template_values;

/// Print what cards are made with, to change how they look
///
/// A file of the same name in a folder of your own, with `--templates DIR` of `build`, `watch` and `compare --html`,
/// stands in the place of a built-in one, and can include it: `{% include "built-in/foot.html" %}`. What stands in `own.css` is added to the style of
/// every page. Without a name, all of them are listed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The template or style sheet to print
    #[arg(value_name = "NAME", conflicts_with_all = ["values", "out"])]
    name: Option<String>,
    /// List the values that a template can print
    #[arg(long, conflicts_with = "out")]
    values: bool,
    /// Write all of them into a folder; nothing that is there already is touched
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    if let Some(name) = &arguments.name {
        let (name, text) = find(name)?;
        ui.result(&printed(name, text));
    } else if arguments.values {
        ui.result(&template_values());
    } else if let Some(folder) = &arguments.out {
        write_all(folder, ui)?;
    } else {
        ui.result(&list());
    }
    Ok(Exit::Fine)
}

fn find(wanted: &str) -> Result<(&'static str, &'static str)> {
    if let Some(found) = built_in().find(|(name, _)| *name == wanted) {
        return Ok(found);
    }
    let near = nearest(wanted, built_in().map(|(name, _)| name));
    let hint = near.map_or_else(
        || "`loafwright templates` lists them".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Err(Unable::new(format!(
        "there is no built-in template `{}`; {hint}",
        wanted.escape_debug()
    )))
}

fn list() -> String {
    let names = built_in().map(|(name, _)| name.len());
    let width = names.chain([OWN_STYLE.len()]).max().unwrap_or_default() + 2;
    let row = |(name, text): (&str, &str)| {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        format!("{name:width$}{text}\n")
    };
    let rows = built_in().map(|(name, text)| row((name, remark(text))));
    rows.chain([row((OWN_STYLE, "yours: added to the style of every page"))])
        .collect()
}

/// Writes every file that is not there yet, and says which were.
fn write_all(folder: &std::path::Path, ui: &mut Ui) -> Result<()> {
    let mut kept = 0;
    for (name, text) in built_in() {
        let is_new = write_new_in(folder, name, printed(name, text).as_bytes())?;
        if is_new {
            ui.result(&format!("{}\n", shown(&folder.join(name))));
        } else {
            kept += 1;
        }
    }
    if kept > 0 {
        ui.talk(&format!(
            "{kept} of the files are there already and stay as they are\n"
        ));
    }
    Ok(())
}
