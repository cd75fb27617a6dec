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
    );
    let alone = "counts as weight alone";
    if is_stage_word(name) {
        return fault.label(alone).help(format!(
            "there is no block `{name}:` in this recipe; write one, or `starter` for a culture that is kept"
        ));
    }
    let Some(near) = near_name(scene, name) else {
        return fault
            .label(alone)
            .help("say which known ingredient it is like, in the way of `windmill flour as whole wheat flour`, or define it in bakehouse.loaf");
    };
    let label = if is_flour(scene, &near) {
        "counts as weight alone, and as no flour"
    } else {
        alone
    };
    let fault = fault.label(label).help(format!("did you mean `{near}`?"));
    // A longer name may be one of several, which no program can tell.
    if holds(&near, &name.to_lowercase()) {
        return fault;
    }
    fault.fix(format!("write `{near}`"), span, near.clone())
}

/// Finds what a name that is not known was perhaps meant for: a stage, else an ingredient.
pub(super) fn near_name(scene: &Scene<'_>, name: &str) -> Option<String> {
    let stage = scene.names.near(name, None).map(|(_, near)| near.to_owned());
    stage.or_else(|| near_ingredient(scene, name))
}

/// Finds the ingredient that a name which is not known was perhaps meant for. What stands in brackets behind
/// a known name, `honey (runny)`, is a preparation, which stands behind a comma.
pub(super) fn near_ingredient(scene: &Scene<'_>, name: &str) -> Option<String> {
    let bracketed = name.strip_suffix(')').and_then(|name| name.split_once(" ("));
    match bracketed.filter(|(thing, _)| scene.place.catalog.lookup(thing).is_some()) {
        Some((thing, preparation)) => Some(format!("{thing}, {preparation}")),
        None => scene.near_ingredient(name),
    }
}

/// Says whether a near name is that of a flour, whatever its preparation.
pub(super) fn is_flour(scene: &Scene<'_>, near: &str) -> bool {
    let name = near.split(',').next().unwrap_or(near);
    let known = scene.place.catalog.lookup(name);
    known.is_some_and(|known| known.is_flour)
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
