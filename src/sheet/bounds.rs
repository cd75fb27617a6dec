//! Sizes that no bakehouse bakes: refused as soon as the weights are known, so that no sum of what is shown runs out
//! of room. What one line may hold is bounded where it is read; this is what lines come to together.

use super::types::SizeRequest;
use super::worked::Worked;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::Recipe;
use crate::quantity::Ratio;
use crate::source::Span;
use crate::syntax::limits;

/// Says whether a bakehouse could make what a recipe comes to; reports it where none could.
pub(super) fn check(
    recipe: &Recipe,
    worked: &Worked,
    count: &Ratio,
    asked: Option<&SizeRequest>,
    report: &mut Report,
) -> bool {
    let most = Ratio::whole(limits::DOUGH_GRAMS);
    let mut blocks = recipe.blocks.iter().zip(&worked.blocks);
    let heavy = blocks.find(|(_, weights)| weights.total > most);
    let main = worked.block(recipe.main).map(|main| &main.total);
    let least = Ratio::fraction(1, 1000).unwrap_or_default();
    let fault = if main.is_some_and(|total| total.is_positive() && *total < least) {
        let message = "the dough would weigh less than a milligram".to_owned();
        absurd(recipe, asked, recipe.title.span, message)
    } else if let Some((block, _)) = heavy {
        let message = format!(
            "the {} would weigh more than two hundred thousand tonnes",
            block.title
        );
        absurd(recipe, asked, block.span, message)
    } else if *count > Ratio::whole(limits::COUNT) {
        let message = "this makes more than a million pieces".to_owned();
        absurd(recipe, asked, recipe.title.span, message)
    } else {
        return true;
    };
    report.push(fault);
    false
}

/// Makes the fault, at what is asked for or at the line that sizes the recipe.
fn absurd(recipe: &Recipe, asked: Option<&SizeRequest>, otherwise: Span, message: String) -> Diagnostic {
    let makes = recipe.makes.as_ref().map(|makes| makes.span);
    let tin = recipe.tin.as_ref().map(|tin| tin.span);
    let flour = recipe.flour.as_ref().map(|flour| flour.span);
    let (span, help) = match asked {
        Some(_) => (
            recipe.title.span,
            "look at the size that is asked for: all weights of the recipe follow it",
        ),
        None => (
            makes.or(flour).or(tin).unwrap_or(otherwise),
            "look for a digit too many or a unit mistaken for another, here and in the lines that it sizes",
        ),
    };
    Diagnostic::new(Code::AbsurdAmount, span, message).help(help)
}
