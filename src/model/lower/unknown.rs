//! The faults of names: unknown ones with what may have been meant, and words that say too little.

use super::Scene;
use super::resolve::is_stage_word;
use crate::diag::{Code, Diagnostic, holds};
use crate::model::catalog::BareWord;
use crate::model::recipe::BlockId;
use crate::source::Span;
use crate::syntax::tree::FormulaLine;

/// A name that is neither a stage nor in the table.
pub(super) fn names_nothing(scene: &Scene<'_>, name: &str, span: Span) -> Diagnostic {
    let fault = Diagnostic::new(
        Code::UnknownIngredient,
        span,
        format!("`{name}` is not in the ingredient table"),
    )
    .label("counts as weight alone");
    if is_stage_word(name) {
        return fault.help(format!(
            "there is no block `{name}:` in this recipe; write one, or `starter` for a culture that is kept"
        ));
    }
    let stage = scene.names.near(name, None).map(|(_, near)| near.to_owned());
    match stage.or_else(|| scene.near_ingredient(name)) {
        // A longer name may be one of several, which no program can tell.
        Some(near) if holds(&near, &name.to_lowercase()) => fault.help(format!("did you mean `{near}`?")),
        Some(near) => {
            fault
                .help(format!("did you mean `{near}`?"))
                .fix(format!("write `{near}`"), span, near.clone())
        }
        None => fault.help(
            "say which known ingredient it is like, in the way of `windmill flour as whole wheat flour`, or define it in bakehouse.loaf",
        ),
    }
}

/// `all` of a name that is no stage.
pub(super) fn all_of_no_stage(
    scene: &Scene<'_>,
    name: &str,
    near: Option<&str>,
    formula: &FormulaLine,
) -> Diagnostic {
    let span = formula.quantity.span.to(formula.name.span);
    let fault = Diagnostic::new(
        Code::AllOfNoStage,
        span,
        format!("there is no stage `{name}` in this recipe"),
    );
    if let Some(near) = near {
        return fault.help(format!("did you mean `all {near}`?")).fix(
            format!("write `{near}`"),
            formula.name.span,
            near,
        );
    }
    let stages: Vec<&str> = scene.names.pourable().collect();
    if stages.is_empty() {
        fault.help(format!("write a block `{name}:`, or a weight instead of `all`"))
    } else {
        fault.help(format!("the stages are {}", stages.join(", ")))
    }
}

/// A name that more than one stage answers to.
pub(super) fn ambiguous(scene: &Scene<'_>, name: &str, ids: &[BlockId], span: Span) -> Diagnostic {
    let titles: Vec<&str> = ids.iter().map(|id| scene.names.title(*id)).collect();
    let fault = Diagnostic::new(
        Code::AmbiguousStage,
        span,
        format!("`{name}` may mean {}", titles.join(" or ")),
    )
    .help(format!(
        "write the whole name, `{}`",
        titles.first().unwrap_or(&name)
    ));
    ids.iter().fold(fault, |fault, id| match scene.names.header(*id) {
        Some(header) => fault.other(header, "one of them"),
        None => fault,
    })
}

/// `flour`, without its kind.
pub(super) fn which_flour(name: &str, span: Span) -> Diagnostic {
    let choices = BareWord::Flour.choices();
    let plain = choices.first().copied().unwrap_or(name);
    Diagnostic::new(Code::WhichFlour, span, format!("`{name}` is taken as {plain}"))
        .help(format!("name the flour: {}", choices.join(", ")))
}

/// `yeast`, without its kind.
pub(super) fn which_yeast(name: &str, span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::WhichYeast,
        span,
        format!("`{name}` does not say which yeast"),
    )
    .label("fresh yeast is about a third as strong as instant yeast")
    .help(format!("write {}", BareWord::Yeast.choices().join(", ")))
}
