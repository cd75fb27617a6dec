//! `check`: looks for faults and writes nothing.

use std::path::PathBuf;

use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};

use super::sources::{Recipe, Sources};
use super::tally::{Tally, counted};
use super::ui::Ui;
use super::{Exit, Result};
use crate::diag::Diagnostic;
use crate::disk::DiskError;
use crate::render::json::{FileFaults, faults_schema, render_faults};
use crate::render::problems::{Look, render_problems};
use crate::render::short::render_short;
use crate::sheet::Request;
use crate::source::Source;

/// Look for faults in recipes; nothing is written
///
/// Every fault is shown with its line, what is wrong and how to mend it. Errors keep a card from being made,
/// warnings are worth a look, cautions are about food, hints are good to know.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Recipes, or folders with recipes; `-` reads one from standard input [default: this folder]
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// End with exit code 1 on warnings too
    #[arg(long)]
    deny_warnings: bool,
    #[command(flatten)]
    form: Form,
    /// Print the JSON Schema of that document and nothing else
    #[arg(long)]
    schema: bool,
    /// Take standard input for the file of this name: its bakehouse holds, and faults name it
    #[arg(long, value_name = "NAME")]
    stdin_path: Option<PathBuf>,
}

/// In which form the faults are shown; without any with their lines.
#[derive(Debug, clap::Args)]
#[group(multiple = false)]
struct Form {
    /// Show each fault on one line, as editors and scripts read it
    #[arg(long)]
    short: bool,
    /// Show the faults as one JSON document; `grammar/check.schema.json` describes it
    #[arg(long)]
    json: bool,
}

/// What was found in one file.
struct Looked {
    tally: Tally,
    text: String,
    json: FileFaults,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    if arguments.schema {
        ui.result(&faults_schema());
        return Ok(Exit::Fine);
    }
    let sources = Sources::find(&arguments.paths, arguments.stdin_path.as_deref())?;
    sources.expect_some()?;
    let houses = sources.houses.files.iter();
    let mut looked: Vec<Looked> = houses
        .map(|house| {
            arguments.look(
                &house.source.name,
                std::slice::from_ref(&house.source),
                &house.faults,
            )
        })
        .collect();
    let recipes: Vec<_> = sources
        .recipes
        .par_iter()
        .map(|recipe| arguments.look_at(&sources, recipe))
        .collect();
    let mut exit = sources.tell_unread(ui);
    for recipe in recipes {
        match recipe {
            Ok(file) => looked.push(file),
            Err(error) => {
                ui.talk(&format!("error: {error}\n"));
                exit = Exit::Unable;
            }
        }
    }
    let tally = looked
        .iter()
        .fold(Tally::default(), |sum, file| sum.plus(file.tally));
    if arguments.form.json {
        ui.result(&render_faults(looked.into_iter().map(|file| file.json).collect()));
    } else {
        for file in &looked {
            ui.result(&file.text);
        }
        if !sources.recipes.is_empty() || sources.unread.is_empty() {
            ui.talk(&summary(&sources, tally));
        }
    }
    Ok(exit.max(tally.exit(arguments.deny_warnings)))
}

impl Arguments {
    fn look_at(&self, sources: &Sources, recipe: &Recipe) -> std::result::Result<Looked, DiskError> {
        let worked = sources.work_out(recipe, &Request::default())?;
        let faults = worked.compiled.report.into_faults();
        Ok(self.look(&recipe.name, &worked.sources, &faults))
    }

    fn look(&self, name: &str, sources: &[Source], faults: &[Diagnostic]) -> Looked {
        Looked {
            tally: Tally::of(faults),
            text: match (self.form.json, self.form.short) {
                (true, _) => String::new(),
                (_, true) => render_short(sources, faults),
                _ => render_problems(sources, faults, Look::COLOURED),
            },
            json: FileFaults::of(name, sources, if self.form.json { faults } else { &[] }),
        }
    }
}

/// Says what was looked at and what was found, and which bakehouses were read for it.
fn summary(sources: &Sources, tally: Tally) -> String {
    let houses: Vec<&str> = sources
        .houses
        .files
        .iter()
        .map(|house| house.source.name.as_str())
        .collect();
    let with = if houses.is_empty() {
        String::new()
    } else {
        format!(" with {}", houses.join(", "))
    };
    let looked_at = counted(sources.recipes.len(), "recipe");
    let more = if tally.is_clean() {
        ""
    } else {
        "; `loafwright explain NAME` says more about a fault"
    };
    format!("{looked_at} looked at{with}: {}{more}\n", tally.words())
}
