//! The way from a recipe to its sheet, one step after the other.

use std::borrow::Cow;

use super::adapt::{self, Answers, Wishes};
use super::allergens::allergens;
use super::assumed;
use super::blocks;
use super::bounds;
use super::cautions;
use super::content;
use super::faults;
use super::figures;
use super::fit::{self, Fit};
use super::forms;
use super::holding::{self, Held};
use super::portion;
use super::reach::{self, Reach};
use super::request::{self, Scaling};
use super::schedule;
use super::solve::{self, Losses};
use super::types::{Figures, FlourBasis, Pieces, Request, Sheet, SheetBlock, SizeRequest};
use super::usual::{Baked, usual};
use super::walk::salt_is_open;
use super::warmth::{self, Timing, Warmed};
use super::weighing;
use super::worked::{self, Worked};
use crate::diag::{Code, Report};
use crate::model::recipe::{Block, Line, Recipe, Thing};
use crate::quantity::{Grams, Ratio};
use crate::source::Spanned;

/// Computes a recipe at the size it states, or at the one that is asked for.
///
/// Gives no sheet where the sizes are open or contradict; the report says which lines are to blame.
#[must_use]
pub fn compute(recipe: &Recipe, request: &Request) -> (Option<Sheet>, Report) {
    let mut report = Report::new();
    let size = request.size.as_ref();
    let settled = settle(recipe, size, &mut report);
    let settled = settled.filter(|settled| settled.is_within_bounds(size, &mut report));
    let sheet = settled.map(|settled| describe(&settled, request, &mut report));
    let sheet = sheet.filter(|_| !report.has_errors());
    (sheet, report)
}

/// Computes a recipe as [`compute`] does, with what else is wished for.
///
/// The recipe that comes back is the one that the sheet is of, with the changes that were wished for. A wish that
/// cannot be had is an error at the words that name it.
#[must_use]
pub fn compute_with(
    recipe: &Recipe,
    request: &Request,
    wishes: &Wishes,
) -> (Option<(Recipe, Sheet)>, Report) {
    let mut report = Report::new();
    let Some(mut settled) = settle(recipe, request.size.as_ref(), &mut report) else {
        return (None, report);
    };
    let mut answers = if wishes.change_something() {
        let Settled { recipe, worked, .. } = &mut settled;
        adapt::carry_out(recipe.to_mut(), worked, wishes, &mut report)
    } else {
        Answers::default()
    };
    if report.has_errors() || !settled.is_within_bounds(request.size.as_ref(), &mut report) {
        return (None, report);
    }
    answers.why = wishes.why.map(|figure| {
        let Inside { held, figures, .. } = Inside::of(&settled.recipe, &settled.worked);
        let losses = solve::losses(&settled.recipe);
        let bread = &figures.dough.0 * &(&(&Ratio::ONE - &losses.handling) - &losses.bake);
        adapt::why(figure, &held, &figures.flour.0, &bread)
    });
    let mut sheet = describe(&settled, request, &mut report);
    sheet.answers = answers;
    let computed = (!report.has_errors()).then(|| (settled.recipe.into_owned(), sheet));
    (computed, report)
}

/// A recipe whose weights are known.
struct Settled<'recipe> {
    recipe: Cow<'recipe, Recipe>,
    worked: Worked,
    scaling: Option<Scaling>,
    fit: Option<Fit>,
}

impl Settled<'_> {
    /// Gives the number of pieces, as written or as asked for.
    fn count(&self) -> Ratio {
        let scaling = self.scaling.as_ref();
        scaling.map_or_else(|| solve::count(&self.recipe), |scaling| scaling.count.clone())
    }

    /// Reports what no bakehouse could make.
    fn is_within_bounds(&self, asked: Option<&SizeRequest>, report: &mut Report) -> bool {
        bounds::check(&self.recipe, &self.worked, &self.count(), asked, report)
    }
}

/// Solves the recipe as it is and scales it; one that leaves its size open is solved with what is asked for.
fn settle<'recipe>(
    recipe: &'recipe Recipe,
    size: Option<&SizeRequest>,
    report: &mut Report,
) -> Option<Settled<'recipe>> {
    let mut found = Report::new();
    let solved = solve(recipe, &mut found);
    let Some(size) = size else {
        report.merge(found);
        return Some(Settled {
            recipe: Cow::Borrowed(recipe),
            worked: solved?,
            scaling: None,
            fit: None,
        });
    };
    if let Some(worked) = solved {
        report.merge(found);
        return resize(Cow::Borrowed(recipe), worked, size, report);
    }
    let only_open = found
        .iter()
        .filter(|fault| fault.severity == crate::diag::Severity::Error)
        .all(|fault| matches!(fault.code, Code::SizeOpen | Code::TinDoesNotSize));
    if !only_open {
        report.merge(found);
        return None;
    }
    let sized = request::in_place(recipe, size);
    let worked = solve(&sized, report)?;
    if matches!(size, SizeRequest::Fit(_)) {
        return resize(Cow::Owned(sized), worked, size, report);
    }
    Some(Settled {
        recipe: Cow::Owned(sized),
        worked,
        scaling: None,
        fit: None,
    })
}

/// Scales a solved recipe to a size that is asked for.
fn resize<'recipe>(
    mut recipe: Cow<'recipe, Recipe>,
    mut worked: Worked,
    size: &SizeRequest,
    report: &mut Report,
) -> Option<Settled<'recipe>> {
    let losses = solve::losses(&recipe);
    let fit = match size {
        SizeRequest::Fit(tins) => {
            let figures = Inside::of(&recipe, &worked).figures;
            Some(Fit::of(&recipe, &figures, &losses, tins)?)
        }
        SizeRequest::Makes(_) | SizeRequest::Flour(_) | SizeRequest::Tin(_) => None,
    };
    let scaling = match &fit {
        Some(fit) => fit.scaling(&recipe, &worked, &losses)?,
        None => request::scaling(&recipe, &worked, &losses, size, report)?,
    };
    request::scale(&recipe, &mut worked, &scaling);
    let tin = match (size, &fit) {
        (SizeRequest::Tin(tin), _) => Some(Some(tin)),
        (_, Some(fit)) => Some(fit.only_kind()),
        (_, None) => None,
    };
    if let Some(tin) = tin {
        let span = recipe.title.span;
        recipe.to_mut().tin = tin.map(|tin| Spanned::new(tin.clone(), span));
    }
    Some(Settled {
        recipe,
        worked,
        scaling: Some(scaling),
        fit,
    })
}

/// Finds what is wrong with the weights of a recipe alone.
pub(super) fn weigh(recipe: &Recipe) -> Report {
    let mut report = Report::new();
    let _ = solve(recipe, &mut report);
    report
}

/// Works out the weights and takes a formula apart.
fn solve(recipe: &Recipe, report: &mut Report) -> Option<Worked> {
    let sizes = solve::sizes(recipe, report)?;
    let mut worked = worked::work_out(recipe, &sizes, report)?;
    let short = if worked.takes_seed_out {
        portion::take_apart(recipe, &mut worked, report)
    } else {
        Vec::new()
    };
    worked::check_stages(recipe, &worked, &short, report);
    (!report.has_errors()).then_some(worked)
}

/// What reaches the dough, and what that makes of the bread.
pub(super) struct Inside {
    reaches: Vec<Reach>,
    held: Vec<Held>,
    pub(super) figures: Figures,
}

impl Inside {
    pub(super) fn of(recipe: &Recipe, worked: &Worked) -> Self {
        let reaches = reach::of_recipe(recipe, worked);
        let held = holding::of_dough(recipe, worked, &reaches);
        let dough = worked
            .block(recipe.main)
            .map_or(Ratio::ZERO, |main| main.total.clone());
        let basis = if content::has_formula(recipe) {
            FlourBasis::AllFlour
        } else {
            FlourBasis::BlockFlour
        };
        Self {
            figures: figures::of_dough(&held, &dough, basis),
            reaches,
            held,
        }
    }
}

/// Puts the weights into the shape of the sheet and works out what describes the bread.
fn describe(settled: &Settled<'_>, request: &Request, report: &mut Report) -> Sheet {
    let Settled { recipe, worked, .. } = settled;
    let losses = solve::losses(recipe);
    let Inside {
        reaches,
        held,
        mut figures,
    } = Inside::of(recipe, worked);
    check_flour(recipe, &figures, report);
    let blocks = blocks::of_sheet(recipe, worked, &reaches, &figures.flour.0);
    // Salt by eye is some, and nought is what it is not.
    figures.salt = figures
        .salt
        .filter(|salt| salt.is_positive() || !salt_is_open(recipe, &blocks));
    let total = blocks::total(recipe, &held, &blocks, &figures.flour.0);
    let pieces = pieces(settled, &losses, &figures.dough.0);
    let tin = fit::of_own_tin(recipe, &figures, &pieces.dough);
    let too_small = weighing::too_small(recipe, &blocks);
    let (recipe, times) = timed_anew(recipe, &blocks, &pieces, request);
    let recipe = recipe.as_ref();
    let (schedule, clashes) = schedule::place(recipe, &blocks);
    report.merge(clashes);
    let cautions = cautions::cautions(recipe, &blocks, &schedule, &figures);
    report.merge(cautions::report_cautions(&cautions, recipe));
    let (usual, odd) = usual(Baked {
        recipe,
        blocks: &blocks,
        total: &total,
        figures: &figures,
        tin: tin.as_ref(),
        too_small: &too_small,
    });
    report.merge(odd);
    let warmed = Warmed {
        recipe,
        blocks: &blocks,
        figures: &figures,
        total: &total,
        pieces: &pieces,
    };
    let mut sheet = Sheet {
        warmth: warmth::warmth(warmed, times, report),
        assumed: Vec::new(),
        schedule,
        allergens: allergens(recipe),
        cautions,
        blocks,
        total,
        figures,
        pieces,
        tin,
        fit: settled.fit.clone(),
        answers: Answers::default(),
        too_small,
        usual,
    };
    sheet.assumed = assumed::defaults(&settled.recipe, &sheet);
    sheet
}

/// Warns of a dough without flour, unless a line of flour is there that only waits for its weight, or one
/// whose name is not known and has been told of as no flour.
fn check_flour(recipe: &Recipe, figures: &Figures, report: &mut Report) {
    let lines = || {
        let of_dough = |block: &&Block| !solve::is_extra(block.kind);
        recipe.blocks.iter().filter(of_dough).flat_map(forms::lines)
    };
    let is_told = |line: &Line| forms::is_flour(&line.thing) || line.flour_meant.is_some();
    if !figures.flour.0.is_zero() || lines().any(|(_, line)| is_told(line)) {
        return;
    }
    if let Some(main) = recipe.blocks.get(recipe.main.0) {
        let unknown: Vec<&Line> = lines()
            .map(|(_, line)| line)
            .filter(|line| matches!(line.thing, Thing::Unlisted { like: None }))
            .collect();
        report.push(faults::dough_without_flour(main, &unknown));
    }
}

/// Moves a recipe into the room that is asked for and gives its steps the times of it; says besides what
/// another amount of leaven would do there.
fn timed_anew<'recipe>(
    recipe: &'recipe Recipe,
    blocks: &[SheetBlock],
    pieces: &Pieces,
    request: &Request,
) -> (Cow<'recipe, Recipe>, (Option<Timing>, Option<Timing>)) {
    let mut moved = Cow::Borrowed(recipe);
    if let Some(room) = &request.room {
        moved = Cow::Owned(warmth::in_room(recipe, room));
    }
    let times = |moved: &Recipe, share: f64| warmth::times((recipe, moved), blocks, pieces, share);
    let leaven = request.leaven.as_ref();
    let leaven = leaven.map(|share| times(&moved, share.to_f64()));
    let timing = request.room.as_ref().map(|_| times(&moved, 1.0));
    if let Some(timing) = &timing {
        warmth::retime(moved.to_mut(), timing);
    }
    (moved, (timing, leaven))
}

fn pieces(settled: &Settled<'_>, losses: &Losses, dough: &Ratio) -> Pieces {
    let Settled { recipe, worked, .. } = settled;
    let scaling = settled.scaling.as_ref();
    let makes = recipe.makes.as_ref().map(|makes| &makes.value);
    let count = settled.count();
    let each = |weight: &Ratio| weight.checked_div(&count).unwrap_or_else(|| weight.clone());
    let handled = dough * &(&Ratio::ONE - &losses.handling);
    let extras = blocks::extras(recipe, worked);
    let baked = &(dough * &(&(&Ratio::ONE - &losses.handling) - &losses.bake)) + &extras;
    let dough = Grams(each(&handled));
    let named = scaling.and_then(|scaling| Some((scaling.piece.clone()?, count.clone())));
    let own = || makes.map(|makes| (makes.piece.clone(), makes.count.clone()));
    let (piece, named_for) = named.or_else(own).unwrap_or_default();
    Pieces {
        scaled: weighing::pieces(&recipe.place.scales, &count, &dough),
        piece,
        named_for,
        said: makes.is_some() || scaling.is_some(),
        dough,
        extras: Grams(each(&extras)),
        baked: Grams(each(&baked)),
        bake_loss: losses.bake.clone(),
        bake_loss_assumed: losses.bake_assumed,
        handling_loss: losses.handling.clone(),
        slices: recipe.details.slices,
        count,
    }
}
