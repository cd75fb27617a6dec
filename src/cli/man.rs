//! `man`: manual pages for those who pack the program.

use std::path::PathBuf;

use super::ui::Ui;
use super::{Exit, Result, Unable, command};

/// Write manual pages into a folder
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder; it has to be there
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let folder = &arguments.folder;
    clap_mangen::generate_to(command(), folder).map_err(|error| {
        Unable::new(format!(
            "the manual pages could not be written to {}: {error}",
            folder.display()
        ))
    })?;
    ui.talk(&format!("manual pages written to {}\n", folder.display()));
    Ok(Exit::Fine)
}
