//! A size asked for from outside: every weight in the file scaled, fillings and toppings with the pieces.

use super::blocks;
use super::solve::{self, Losses, is_extra, stated_piece};
use super::types::SizeRequest;
use super::worked::Worked;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Makes, Recipe, Tin};
use crate::quantity::{Grams, Ratio};

/// What a request does to a recipe that has sizes of its own.
#[derive(Clone, Debug)]
pub(super) struct Scaling {
    /// The factor of the dough and all that is poured into it.
    pub(super) dough: Ratio,
    /// The factor of fillings and toppings.
    pub(super) extras: Ratio,
    /// The number of pieces after it.
    pub(super) count: Ratio,
    /// What a piece is called after it.
    pub(super) piece: Option<String>,
}

/// Puts a request in place of the recipe's own sizes, for a recipe that leaves its size open.
pub(super) fn in_place(recipe: &Recipe, request: &SizeRequest) -> Recipe {
    let mut sized = recipe.clone();
    let span = recipe.title.span;
    sized.flour = None;
    match request {
        SizeRequest::Makes(makes) => {
            let weight = makes.weight.clone();
            let own = recipe.makes.as_ref().and_then(|own| own.value.weight.clone());
            let makes = Makes {
                weight: weight.or(own),
                ..makes.clone()
            };
            sized.makes = Some(crate::source::Spanned::new(makes, span));
        }
        SizeRequest::Fit(_) => sized.flour = Some(crate::source::Spanned::new(Grams::whole(1000), span)),
        SizeRequest::Flour(flour) => {
            sized.flour = Some(crate::source::Spanned::new(flour.clone(), span));
            if let Some(makes) = &mut sized.makes {
                makes.value.weight = None;
            }
        }
        SizeRequest::Tin(tin) => {
            let own = recipe.tin.as_ref().and_then(|own| own.value.ml_per_g.clone());
            let tin = Tin {
                ml_per_g: tin.ml_per_g.clone().or(own),
                ..tin.clone()
            };
            sized.tin = Some(crate::source::Spanned::new(tin, span));
            if let Some(makes) = &mut sized.makes {
                makes.value.weight = None;
            }
        }
    }
    sized
}

/// Works out the factors of a request; reports one that the recipe gives no answer to.
pub(super) fn scaling(
    recipe: &Recipe,
    worked: &Worked,
    losses: &Losses,
    request: &SizeRequest,
    report: &mut Report,
) -> Option<Scaling> {
    let dough = worked.block(recipe.main)?.total.clone();
    let count = solve::count(recipe);
    let after_handling = &Ratio::ONE - &losses.handling;
    let usable = &dough * &after_handling;
    match request {
        SizeRequest::Fit(_) => None,
        SizeRequest::Flour(flour) => {
            let base = worked.block(recipe.main)?.base.as_ref()?;
            let factor = flour.0.checked_div(base)?;
            Some(Scaling {
                count: &count * &factor,
                extras: factor.clone(),
                dough: factor,
                piece: None,
            })
        }
        SizeRequest::Makes(makes) => {
            let wanted = wanted_dough(recipe, worked, losses, makes, &usable, &count)?;
            Some(Scaling {
                dough: wanted.checked_div(&dough)?,
                extras: makes.count.checked_div(&count)?,
                count: makes.count.clone(),
                piece: Some(makes.piece.clone()).filter(|piece| !piece.is_empty()),
            })
        }
        SizeRequest::Tin(tin) => {
            let Some(ml_per_g) = ml_per_g(recipe, tin, &usable, &count) else {
                report.push(tin_alone(recipe));
                return None;
            };
            let each = tin.volume.0.checked_div(&ml_per_g)?;
            Some(Scaling {
                dough: (&each * &count).checked_div(&usable)?,
                extras: Ratio::ONE,
                count,
                piece: None,
            })
        }
    }
}

/// Works out the dough as mixed that a wanted number and weight of pieces takes.
fn wanted_dough(
    recipe: &Recipe,
    worked: &Worked,
    losses: &Losses,
    makes: &Makes,
    usable: &Ratio,
    count: &Ratio,
) -> Option<Ratio> {
    let after_handling = &Ratio::ONE - &losses.handling;
    match (
        &makes.weight,
        stated_piece(recipe.makes.as_ref().map(|own| &own.value)),
    ) {
        (Some(weight), _) if makes.baked => {
            let extras = blocks::extras(recipe, worked).checked_div(count)?;
            let dough = &(&weight.0 - &extras) * &makes.count;
            dough.checked_div(&(&after_handling - &losses.bake))
        }
        (Some(weight), _) => (&weight.0 * &makes.count).checked_div(&after_handling),
        (None, _) => {
            let each = usable.checked_div(count)?;
            (&each * &makes.count).checked_div(&after_handling)
        }
    }
    .filter(Ratio::is_positive)
}

/// Gives the millilitres of tin for a gram of dough: asked for, the recipe's own, or as its own tin is filled.
fn ml_per_g(recipe: &Recipe, tin: &Tin, usable: &Ratio, count: &Ratio) -> Option<Ratio> {
    let own = recipe.tin.as_ref();
    tin.ml_per_g
        .clone()
        .or_else(|| own.and_then(|own| own.value.ml_per_g.clone()))
        .or_else(|| {
            let each = usable.checked_div(count)?;
            own?.value.volume.0.checked_div(&each)
        })
}

fn tin_alone(recipe: &Recipe) -> Diagnostic {
    Diagnostic::new(
        Code::TinDoesNotSize,
        recipe.title.span,
        "the tin asked for does not say how much dough goes in",
    )
    .help("add the millilitres of tin for a gram of dough, `, 2.8 ml per g`")
}

/// Scales every weight: the dough and its parts by one factor, fillings and toppings by theirs, and each
/// stage with what is poured of it.
pub(super) fn scale(recipe: &Recipe, worked: &mut Worked, scaling: &Scaling) {
    let mut factors = vec![scaling.dough.clone(); recipe.blocks.len()];
    for id in worked.order.iter().rev() {
        let Some(block) = recipe.blocks.get(id.0) else {
            continue;
        };
        let factor = if is_extra(block.kind) {
            scaling.extras.clone()
        } else {
            let poured: Vec<_> = worked.pours(recipe).filter(|pour| pour.stage == *id).collect();
            let before: Ratio = poured.iter().map(|pour| pour.weight.clone()).sum();
            let after: Ratio = poured
                .iter()
                .filter_map(|pour| Some(pour.weight * factors.get(pour.into.0)?))
                .sum();
            after
                .checked_div(&before)
                .unwrap_or_else(|| scaling.dough.clone())
        };
        if let Some(place) = factors.get_mut(id.0) {
            *place = factor;
        }
    }
    for (weights, factor) in worked.blocks.iter_mut().zip(&factors) {
        for weight in weights.lines.iter_mut().filter_map(|line| line.weight.as_mut()) {
            *weight = &*weight * factor;
        }
        weights.total = &weights.total * factor;
        weights.seed = &weights.seed * factor;
        weights.base = weights.base.as_ref().map(|base| base * factor);
    }
}
