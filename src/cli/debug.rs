//! `debug`: what a phase makes of a file, for those who work on the program. Hidden from the help.

use std::path::PathBuf;

use serde_json::{Value, json};

use super::sources::Sources;
use super::ui::Ui;
use super::{Exit, Result};
use crate::model::recipe::Makes;
use crate::pipeline::Compiled;
use crate::quantity::Ratio;
use crate::sheet::{Request, SizeRequest};
use crate::syntax::dump;
use crate::view::{Around, Readable, Reader, Run, reader, runs};

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
                Some(json!({ "count": count, "numbers": numbers(&readable(&scaled.compiled)?) }))
            });
            let sizes: Vec<Value> = sizes.collect();
            let all = json!({ "amounts": page.amounts, "numbers": numbers(&page), "sizes": sizes });
            format!("{all}\n")
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

/// Lists the numbers of each version of a page, key and text, in an order that does not hang on the size.
fn numbers(page: &Reader) -> Vec<Vec<(String, String)>> {
    let versions = page.versions.iter().map(|version| {
        let mut found = Vec::new();
        gather(&serde_json::to_value(version).unwrap_or_default(), &mut found);
        found
    });
    versions.collect()
}

fn gather(value: &Value, found: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => found.extend(runs(text).filter_map(|run| match run {
            Run::Live(key, shown) => Some((key.to_owned(), shown.to_owned())),
            Run::Plain(_) => None,
        })),
        Value::Array(values) => values.iter().for_each(|value| gather(value, found)),
        Value::Object(fields) => fields.values().for_each(|value| gather(value, found)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
