//! `debug`: what a phase makes of a file, for those who work on the program. Hidden from the help.

use std::path::PathBuf;

use super::sources::Sources;
use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::sheet::Request;
use crate::syntax::dump;

/// Show what a phase of the program makes of a recipe
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The phase
    #[arg(value_name = "PHASE", value_enum)]
    phase: Phase,
    /// The recipe; `-` reads it from standard input
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

/// A phase whose outcome can be shown.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Phase {
    Tree,
    Recipe,
    Sheet,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let (sources, recipe) = Sources::find_one(&arguments.file, None)?;
    let worked = sources
        .work_out(&recipe, &Request::default())
        .map_err(|error| Unable::new(error.to_string()))?;
    ui.talk(&worked.grave_faults());
    let compiled = &worked.compiled;
    let plain = compiled.plain.as_ref();
    let text = match arguments.phase {
        Phase::Tree => Some(dump(&worked.own_source(), &compiled.tree)),
        // The bakehouse is left out: it holds the whole ingredient table.
        Phase::Recipe => plain
            .map(|(recipe, _)| recipe)
            .or(compiled.unsized_recipe.as_ref())
            .map(|recipe| {
                format!(
                    "{:#?}\n{:#?}\n{:#?}\n{:#?}\n{:#?}\n",
                    recipe.title, recipe.makes, recipe.flour, recipe.details, recipe.blocks
                )
            }),
        Phase::Sheet => plain.map(|(_, sheet)| format!("{sheet:#?}\n")),
    };
    match text {
        Some(text) => {
            ui.result(&text);
            Ok(Exit::Fine)
        }
        None => Ok(Exit::Faults),
    }
}
