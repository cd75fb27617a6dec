//! The verbs and what they have in common. The arguments of a verb stand in its own file.

use std::ffi::OsString;

use clap::{Args as _, CommandFactory as _, FromArgMatches as _, Parser, Subcommand};

use super::ui::{Colour, Ui};
use super::{
    Exit, Result, build, check, compare, completions, debug, explain, format, man, new, sheet, templates,
    watch,
};

/// Works out bread formulas: you write a recipe as plain text, and get its sums, its faults and its card.
///
/// A recipe is a text file that ends in `.loaf`. Every line is a quantity and a thing: `68 % water`,
/// `12 min mix by hand`. `loafwright new NAME` writes one to start from.
#[derive(Debug, Parser)]
#[command(
    name = "loafwright",
    version,
    after_help = "Exit codes: 0 all is well, 1 a fault in a recipe or, of `format --check` and `compare`, a \
                  difference, 2 the tool could not work (a file, the disk, the command itself), 130 it was ended with \
                  Ctrl-C, 143 it was told to end."
)]
struct Arguments {
    /// When to use colour; `auto` is on a terminal, unless NO_COLOR or CLICOLOR say otherwise
    #[arg(
        long = "color",
        global = true,
        value_name = "WHEN",
        value_enum,
        default_value_t
    )]
    colour: Colour,
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    Check(check::Arguments),
    Build(build::Arguments),
    Watch(watch::Arguments),
    Sheet(sheet::Arguments),
    Format(format::Arguments),
    Compare(compare::Arguments),
    New(new::Arguments),
    Explain(explain::Arguments),
    Templates(templates::Arguments),
    Completions(completions::Arguments),
    Man(man::Arguments),
    // Added by the parser alone, so that neither completions nor manual pages name it.
    #[command(skip)]
    Debug(debug::Arguments),
}

impl Verb {
    pub(super) fn run(self, ui: &mut Ui) -> Result<Exit> {
        match self {
            Self::Check(arguments) => check::run(&arguments, ui),
            Self::Build(arguments) => build::run(&arguments, ui),
            Self::Watch(arguments) => watch::run(&arguments, ui),
            Self::Sheet(arguments) => sheet::run(&arguments, ui),
            Self::Format(arguments) => format::run(&arguments, ui),
            Self::Compare(arguments) => compare::run(&arguments, ui),
            Self::New(arguments) => new::run(&arguments, ui),
            Self::Explain(arguments) => explain::run(&arguments, ui),
            Self::Templates(arguments) => templates::run(&arguments, ui),
            Self::Completions(arguments) => Ok(completions::run(&arguments, ui)),
            Self::Man(arguments) => man::run(&arguments, ui),
            Self::Debug(arguments) => debug::run(&arguments, ui),
        }
    }
}

/// Gives the whole command line, for the parser, the completions and the manual pages.
#[must_use]
pub fn command() -> clap::Command {
    Arguments::command()
}

/// Reads the arguments; where they ask for help or are not understood, gives the answer.
pub(super) fn parse(arguments: Vec<OsString>) -> std::result::Result<Verb, clap::Error> {
    let hidden = debug::Arguments::augment_args(clap::Command::new("debug"));
    let matches = command()
        .subcommand(hidden.hide(true))
        .try_get_matches_from(arguments)?;
    match matches.subcommand() {
        Some(("debug", matches)) => debug::Arguments::from_arg_matches(matches).map(Verb::Debug),
        _ => Arguments::from_arg_matches(&matches).map(|arguments| arguments.verb),
    }
}

/// Finds out when to use colour before the arguments are understood, since the answer may be about them.
pub(super) fn colour_of(arguments: &[OsString]) -> Colour {
    let words: Vec<&str> = arguments.iter().filter_map(|word| word.to_str()).collect();
    let behind = words.windows(2).find_map(|pair| match pair {
        ["--color", when] => Some(*when),
        _ => None,
    });
    let when = behind.or_else(|| words.iter().find_map(|word| word.strip_prefix("--color=")));
    match when {
        Some("always") => Colour::Always,
        Some("never") => Colour::Never,
        _ => Colour::Auto,
    }
}
