//! `sheet`: the numbers of a recipe, as a baker's table or as JSON.

use std::path::{Path, PathBuf};

use super::sources::{Sources, Worked};
use super::tally::Tally;
use super::ui::Ui;
use super::{Exit, Result, Unable, asked, wishes};
use crate::diag::nearest;
use crate::model::recipe::{Recipe, Variation};
use crate::quantity::WeightUnit;
use crate::render::json::{render_sheet, sheet_schema};
use crate::render::text::{Borders, render_bench};
use crate::sheet::{Request, Sheet, compute_with};
use crate::view::document::{SheetDocument, view_document, view_variation};
use crate::view::{CardOptions, bench_sheet};

/// Work out a recipe and show its numbers: total formula, stages, dough, steps and times
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The recipe; `-` reads it from standard input
    #[arg(value_name = "FILE", required_unless_present = "schema")]
    file: Option<PathBuf>,
    #[command(flatten)]
    size: asked::Size,
    #[command(flatten)]
    asked: wishes::Asked,
    #[command(flatten)]
    room: asked::Room,
    #[command(flatten)]
    leaven: asked::Leaven,
    /// Work out this variation in place of the plain recipe
    #[arg(long, value_name = "NAME")]
    variation: Option<String>,
    /// Show weights in these units, the first one first: `g,oz`
    #[arg(long, value_name = "UNITS")]
    units: Option<String>,
    /// Print everything as one JSON document
    #[arg(long)]
    json: bool,
    /// Print the JSON Schema of that document and nothing else
    #[arg(long)]
    schema: bool,
    /// Take standard input for the file of this name: its bakehouse holds, and faults name it
    #[arg(long, value_name = "NAME")]
    stdin_path: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let Some(file) = arguments.file.as_ref().filter(|_| !arguments.schema) else {
        ui.result(&sheet_schema());
        return Ok(Exit::Fine);
    };
    if let Some(count) = arguments.size.bare_count()
        && let Some(piece) = arguments.own_piece(file)
    {
        return Err(asked::lacks_piece(count, &piece));
    }
    let request = Request {
        room: arguments.room.celsius()?,
        leaven: arguments.leaven.share()?,
        ..arguments.size.request()?
    };
    let asked = arguments.asked.read()?;
    let units = asked::units(arguments.units.as_deref())?;
    let (sources, recipe) = Sources::find_one(file, arguments.stdin_path.as_deref())?;
    let worked = sources.work_out(&recipe, &request)?;
    asked::expect_size(&request, &worked.compiled)?;
    let tally = sources
        .houses
        .tell(ui)
        .plus(Tally::of_report(&worked.compiled.report));
    ui.talk(&worked.grave_faults());
    let exit = tally.exit(false);
    if worked.house_is_faulty {
        return Ok(exit);
    }
    let compiled = &worked.compiled;
    match &arguments.variation {
        None => {
            if let Some((plain, _)) = compiled.plain.as_ref().filter(|_| !asked.wishes.are_none()) {
                let (plain, sheet) = carry_out(plain, &request, &asked)?;
                let document = || view_document(&recipe.name, (&plain, &sheet), &[], &compiled.records);
                arguments.show((&plain, &sheet), document, &units, ui);
            } else if let Some((recipe_of, sheet)) = &compiled.plain {
                let both = (recipe_of, sheet);
                let document = || view_document(&recipe.name, both, &compiled.variations, &compiled.records);
                arguments.show(both, document, &units, ui);
            }
        }
        Some(name) => {
            if let Some((variation, sheet)) = find_variation(&worked, name, exit)? {
                let mut changed = (variation.clone(), sheet.clone());
                if !asked.wishes.are_none() {
                    (changed.0.recipe, changed.1) = carry_out(&variation.recipe, &request, &asked)?;
                }
                let (variation, sheet) = &changed;
                let document = || view_variation(&recipe.name, variation, sheet, &compiled.records);
                arguments.show((&variation.recipe, sheet), document, &units, ui);
            }
        }
    }
    Ok(exit)
}

impl Arguments {
    /// Gives what the recipe calls its pieces, as far as it can be worked out.
    fn own_piece(&self, file: &Path) -> Option<String> {
        let (sources, recipe) = Sources::find_one(file, self.stdin_path.as_deref()).ok()?;
        let compiled = sources.work_out(&recipe, &Request::default()).ok()?.compiled;
        let plain = compiled.plain.map(|(recipe, _)| recipe);
        let makes = plain.or(compiled.unsized_recipe)?.makes?;
        Some(makes.value.piece)
    }

    fn show(
        &self,
        (recipe, sheet): (&Recipe, &Sheet),
        document: impl Fn() -> SheetDocument,
        units: &[WeightUnit],
        ui: &mut Ui,
    ) {
        if self.json {
            ui.result(&render_sheet(&document()));
            return;
        }
        let options = CardOptions {
            units: units.to_owned(),
            ..CardOptions::default()
        };
        let borders = if ui.is_read_by_a_person() {
            Borders::Drawn
        } else {
            Borders::Left
        };
        ui.result(&render_bench(&bench_sheet(recipe, sheet, &options), borders));
    }
}

/// Works a recipe out with what is wished for; a wish that cannot be had is told at its words.
fn carry_out(recipe: &Recipe, request: &Request, asked: &wishes::Read) -> Result<(Recipe, Sheet)> {
    let (computed, report) = compute_with(recipe, request, &asked.wishes);
    computed.ok_or_else(|| asked.refused(report))
}

/// Finds a variation by its name; nothing where a fault that has been told of is the reason that it is missing.
fn find_variation<'run>(
    worked: &'run Worked,
    name: &str,
    exit: Exit,
) -> Result<Option<&'run (Variation, Sheet)>> {
    let is_meant =
        |(variation, _): &&(Variation, Sheet)| variation.name.value.eq_ignore_ascii_case(name.trim());
    let variations = &worked.compiled.variations;
    let found = variations.iter().find(is_meant);
    if found.is_some() || exit == Exit::Faults {
        return Ok(found);
    }
    let names = variations
        .iter()
        .map(|(variation, _)| variation.name.value.as_str());
    let hint = match nearest(name, names.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if variations.is_empty() => {
            let name = name.escape_debug();
            return Err(Unable::new(format!(
                "the recipe has no variations, so none is called `{name}`"
            )));
        }
        None => format!("it has {}", names.collect::<Vec<_>>().join(", ")),
    };
    Err(Unable::new(format!(
        "the recipe has no variation `{}`; {hint}",
        name.escape_debug()
    )))
}
