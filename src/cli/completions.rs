//! `completions`: a script that teaches a shell the command line.

use clap_complete::Shell;

use super::ui::Ui;
use super::{Exit, command};

/// Print a script that completes commands in your shell
///
/// For bash: `loafwright completions bash > ~/.local/share/bash-completion/completions/loafwright`
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The shell
    #[arg(value_name = "SHELL")]
    shell: Shell,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut command(), "loafwright", &mut script);
    ui.result(&String::from_utf8_lossy(&script));
    Exit::Fine
}
