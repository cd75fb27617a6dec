//! `debug`: what a phase makes of a file, for those who work on the program. Hidden from the help.

use std::path::PathBuf;

use super::sources::Sources;
use super::ui::Ui;
use super::{Exit, Result};
use crate::model::recipe::Makes;
use crate::pipeline::Compiled;
use crate::quantity::Ratio;
use crate::render::numbers::render_numbers;
use crate::sheet::{Request, SizeRequest};
use crate::syntax::dump;
use crate::view::{Around, Readable, Reader, reader};

/// Show what a phase of the program makes of a recipe
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The phase
    #[arg(value_name = "PHASE", value_enum)]
    phase: Phase,
    /// The recipe; `-` reads it from standard input
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Numbers of pieces to show the numbers of a reader's page for
    #[arg(long, value_name = "COUNT", value_delimiter = ',')]
    pieces: Vec<String>,
}

/// A phase whose outcome can be shown.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Phase {
    Tree,
    Recipe,
    Sheet,
    /// The numbers of a reader's page: the keys that its script works them out by, and what they are at other sizes.
    Numbers,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let (sources, recipe) = Sources::find_one(&arguments.file, None)?;
    let worked = sources.work_out(&recipe, &Request::default())?;
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
        Phase::Numbers => readable(compiled).map(|page| {
            let sizes = arguments.pieces.iter().filter_map(|count| {
                let scaled = sources.work_out(&recipe, &pieces(count)?).ok()?;
                Some((count.clone(), readable(&scaled.compiled)?))
            });
            render_numbers(&page, &sizes.collect::<Vec<_>>())
        }),
    };
    match text {
        Some(text) => {
            ui.result(&text);
            Ok(Exit::Fine)
        }
        None => Ok(Exit::Faults),
    }
}

/// Asks for so many pieces.
fn pieces(count: &str) -> Option<Request> {
    let makes = Makes {
        count: Ratio::parse_decimal(count)?,
        piece: String::new(),
        weight: None,
        baked: false,
        written: count.to_owned(),
    };
    Some(Request {
        size: Some(SizeRequest::Makes(makes)),
        ..Request::default()
    })
}

fn readable(compiled: &Compiled) -> Option<Reader> {
    let (recipe, sheet) = compiled.plain.as_ref()?;
    let of = Readable {
        recipe,
        sheet,
        variations: &compiled.variations,
        records: &compiled.records,
    };
    Some(reader(of, Around::default()))
}
