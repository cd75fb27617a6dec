//! `format`: puts recipes and bakehouse files into their one form.

use std::path::PathBuf;

use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};

use super::sources::{Recipe, Sources};
use super::tally::counted;
use super::ui::Ui;
use super::{Exit, Result};
use crate::diag::{Diagnostic, Severity};
use crate::disk::{self, DiskError, LoafFile};
use crate::format;
use crate::render::changes_text::coloured;
use crate::render::problems::{Look, render_problems};
use crate::sheet::Request;
use crate::source::Source;
use crate::syntax;

/// Put recipes into their one form: columns, blank lines, one spelling of units
///
/// Meaning, order and comments stay as they are. A file with an error is not touched. There are no options
/// of style; `grammar/FORMAT.md` shows the form and says why it is as it is.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Recipes, or folders with recipes; `-` reads one from standard input and writes it to standard output
    /// [default: this folder]
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Write nothing; show what would change, and end with exit code 1 if anything would
    #[arg(long)]
    check: bool,
    /// Take standard input for the file of this name: its bakehouse holds, and faults name it
    #[arg(long, value_name = "NAME")]
    stdin_path: Option<PathBuf>,
}

/// A file that was read, and what formatting makes of it.
struct Formatted {
    name: String,
    /// The file; nothing for standard input.
    file: Option<LoafFile>,
    before: Source,
    outcome: Outcome,
}

enum Outcome {
    /// It is in its one form.
    Same,
    /// This is its one form.
    Other(String),
    /// It has errors, which this tells.
    Faulty(String),
}

/// How many files fared how.
#[derive(Default)]
struct Counts {
    same: usize,
    other: usize,
    faulty: usize,
    failed: usize,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let sources = Sources::find(&arguments.paths, arguments.stdin_path.as_deref())?;
    sources.expect_some()?;
    let mut counts = Counts::default();
    for error in &sources.unread {
        counts.failed += 1;
        ui.talk(&format!("error: {error}\n"));
    }
    let recipes: Vec<_> = sources
        .recipes
        .par_iter()
        .map(|recipe| of_recipe(&sources, recipe))
        .collect();
    let houses = arguments.houses(&sources).into_iter().map(Ok);
    for read in houses.chain(recipes) {
        let done = read.and_then(|formatted| arguments.settle(formatted, &mut counts, ui));
        if let Err(error) = done {
            counts.failed += 1;
            ui.talk(&format!("error: {error}\n"));
        }
    }
    match &sources.stdin {
        // Who pipes a text through wants one back, whatever is wrong with it.
        Some(stdin) if !arguments.check && counts.other == 0 => ui.pass_on(&stdin.bytes),
        Some(_) if !arguments.check => {}
        _ => ui.talk(&arguments.summary(&counts)),
    }
    Ok(arguments.exit(&counts))
}

impl Arguments {
    /// Formats the bakehouse files that were asked for; others only hold for a recipe that was.
    fn houses(&self, sources: &Sources) -> Vec<Formatted> {
        let houses = sources.houses.files.iter();
        houses
            .filter(|house| sources.is_meant(&house.source, &self.paths))
            .map(|house| {
                let file = sources.houses.file(&house.source);
                let file = file.filter(|_| sources.stdin.is_none());
                formatted(&house.source, &house.faults, file)
            })
            .collect()
    }

    /// Writes a file, shows its difference, or says why it is left alone.
    fn settle(
        &self,
        formatted: Formatted,
        counts: &mut Counts,
        ui: &mut Ui,
    ) -> std::result::Result<(), DiskError> {
        let Formatted {
            name,
            file,
            before,
            outcome,
        } = formatted;
        let after = match outcome {
            Outcome::Faulty(told) => {
                counts.faulty += 1;
                ui.talk(&told);
                None
            }
            Outcome::Same => {
                counts.same += 1;
                None
            }
            Outcome::Other(after) => Some(after),
        };
        match (after, &file) {
            (Some(after), _) if self.check => {
                counts.other += 1;
                ui.result(&coloured(&format::difference(&name, &before.text, &after)));
            }
            (Some(after), Some(file)) => {
                disk::rewrite(file, before.text.as_bytes(), after.as_bytes())?;
                counts.other += 1;
                ui.talk(&format!("formatted {name}\n"));
            }
            (Some(after), None) => {
                counts.other += 1;
                ui.pass_on(after.as_bytes());
            }
            (None, _) => {}
        }
        Ok(())
    }

    fn exit(&self, counts: &Counts) -> Exit {
        if counts.failed > 0 {
            Exit::Unable
        } else if counts.faulty > 0 || self.check && counts.other > 0 {
            Exit::Faults
        } else {
            Exit::Fine
        }
    }

    fn summary(&self, counts: &Counts) -> String {
        let changed = if self.check {
            "to be formatted"
        } else {
            "formatted"
        };
        let parts = [
            (counts.other, changed),
            (counts.same, "in the one form already"),
            (counts.faulty, "left alone because of errors"),
            (counts.failed, "that could not be read or written"),
        ];
        let named: Vec<String> = parts
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, fate)| format!("{} {fate}", counted(count, "file")))
            .collect();
        format!("{}\n", named.join(", "))
    }
}

fn of_recipe(sources: &Sources, recipe: &Recipe) -> std::result::Result<Formatted, DiskError> {
    let worked = sources.work_out(recipe, &Request::default())?;
    let before = worked.own_source();
    let faults = worked.compiled.report.into_faults();
    let outcome = match told(&worked.sources, &faults) {
        Some(told) => Outcome::Faulty(told),
        None => outcome(&before, format::format(&before, &worked.compiled.tree)),
    };
    Ok(Formatted {
        name: recipe.name.clone(),
        file: recipe.file.as_ref().map(|found| found.file.clone()),
        before,
        outcome,
    })
}

/// Formats a bakehouse file.
fn formatted(source: &Source, faults: &[Diagnostic], file: Option<&LoafFile>) -> Formatted {
    let outcome = match told(std::slice::from_ref(source), faults) {
        Some(told) => Outcome::Faulty(told),
        None => outcome(source, format::format(source, &syntax::parse(source).0)),
    };
    Formatted {
        name: source.name.clone(),
        file: file.cloned(),
        before: source.clone(),
        outcome,
    }
}

fn outcome(before: &Source, after: String) -> Outcome {
    if *before.text == *after {
        Outcome::Same
    } else {
        Outcome::Other(after)
    }
}

/// Tells the errors of a file, if it has any.
fn told(sources: &[Source], faults: &[Diagnostic]) -> Option<String> {
    let is_error = |fault: &&Diagnostic| fault.severity == Severity::Error;
    let errors: Vec<Diagnostic> = faults.iter().filter(is_error).cloned().collect();
    (!errors.is_empty()).then(|| render_problems(sources, &errors, Look::COLOURED))
}
