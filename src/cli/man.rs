//! `man`: manual pages for those who pack the program.

use std::path::PathBuf;

use clap::Command;
use clap_mangen::Man;

use super::ui::Ui;
use super::{Exit, Result, Unable, command};
use crate::disk;

/// Write manual pages into a folder
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder; it has to be there
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    // The help of a verb is its own page, so that `help` needs none.
    let mut whole = command().disable_help_subcommand(true);
    whole.build();
    let mut commands: Vec<Command> = whole.get_subcommands().cloned().collect();
    commands.push(whole);
    for command in commands {
        let page = Man::new(command);
        let path = arguments.folder.join(page.get_filename());
        let mut bytes = Vec::new();
        let rendered = page.render(&mut bytes);
        rendered.map_err(|error| Unable::new(format!("a manual page could not be made: {error}")))?;
        disk::write_over(&path, &bytes)?;
        ui.result(&format!("{}\n", disk::shown(&path)));
    }
    Ok(Exit::Fine)
}
