//! Formula lines: a quantity and a thing.
//!
//! Owns what a name on a line becomes and the faults of names. How much of it there is, is the business of
//! `measures`.

use std::sync::Arc;

use super::measures::{Weighed, lower_amount};
use super::resolve::{Meaning, Resolved, resolve};
use super::temperatures::{lower_temperature, unsettled_words};
use super::unknown::{
    all_of_no_stage, ambiguous, is_flour, names_nothing, near_ingredient, near_name, which_flour, which_yeast,
};
use super::{Findings, Scene, mixtures};
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::{BareWord, Ingredient};
use crate::model::recipe::{BlockId, FlourMeant, Line, Thing};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{BlockKind, Entry, FormulaLine, Quantity};

/// The block that an entry stands in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Home {
    /// Its number.
    pub(super) id: BlockId,
    /// What it is.
    pub(super) kind: BlockKind,
}

/// Lowers a formula line; nothing where an error on it has been reported.
pub(super) fn lower_line(
    scene: &Scene<'_>,
    home: Home,
    entry: &Entry,
    formula: &FormulaLine,
    findings: &mut Findings,
) -> Option<Line> {
    check_clauses(formula, findings);
    let resolved = resolve(scene, Some(home.id), &formula.name.value);
    let span = name_span(&formula.name, &resolved);
    let name = Spanned::new(resolved.name.to_owned(), span);
    let mut near = None;
    let (thing, unknown) = if let Some(known) = &formula.as_known {
        let thing = lower_as(scene, &resolved, known, formula, findings);
        (Some(thing), known)
    } else {
        let thing = lower_thing(scene, home, &resolved, span, formula, &mut near, findings);
        (thing, &name)
    };
    let at = formula
        .at
        .as_ref()
        .and_then(|at| lower_temperature(scene, at, findings));
    let place = unsettled_words(scene, formula.at.as_ref(), at.as_ref());
    let thing = thing?;
    check_kind(home, &thing, &name, formula, findings);
    let weighed = Weighed {
        thing: &thing,
        name: &name,
        near: near.as_deref(),
    };
    let (amount, measure) = lower_amount(&formula.quantity, &weighed, findings)?;
    let flour_meant = match thing {
        Thing::Unlisted { like: None } => flour_meant(scene, unknown),
        _ => None,
    };
    Some(Line {
        span: entry.span,
        amount: Spanned::new(amount, formula.quantity.span),
        measure,
        thing,
        preparation: preparation(&resolved, formula, place.as_deref()),
        name,
        at,
        flour_meant,
        prose: entry.prose.clone(),
    })
}

/// Gives the flour that a name which is not known is nearest to; one nearer to a stage has been told as such.
fn flour_meant(scene: &Scene<'_>, unknown: &Spanned<String>) -> Option<FlourMeant> {
    let near = near_name(scene, &unknown.value)?;
    is_flour(scene, &near).then(|| FlourMeant {
        written: unknown.clone(),
        near,
    })
}

/// Gives the place of a name without its words of preparation.
fn name_span(written: &Spanned<String>, resolved: &Resolved<'_>) -> Span {
    let taken = written.value.len() - resolved.name.len();
    let span = written.span;
    // White space that the tree has tidied up makes the two lengths differ; then the whole place is right.
    if span.end - span.start == written.value.len() {
        Span::new(span.source, span.start + taken, span.end)
    } else {
        span
    }
}

/// Puts together what stands before a name, behind it, and a place that has no temperature.
fn preparation(resolved: &Resolved<'_>, formula: &FormulaLine, place: Option<&str>) -> Option<String> {
    let before = Some(resolved.preparation).filter(|words| !words.is_empty());
    let behind = formula.preparation.as_ref().map(|text| text.value.as_str());
    let all: Vec<&str> = [before, place, behind].into_iter().flatten().collect();
    Some(all.join(", ")).filter(|words| !words.is_empty())
}

/// `instead of` and `after` change something, which only a variation does.
fn check_clauses(formula: &FormulaLine, findings: &mut Findings) {
    for (clause, words) in [(&formula.instead_of, "instead of"), (&formula.after, "after")] {
        if let Some(clause) = clause {
            findings.push(
                Diagnostic::new(
                    Code::EntryNotAllowed,
                    clause.span,
                    format!("`{words}` has a meaning only in a variation"),
                )
                .help("take it out, or move the line below `variation NAME:`"),
            );
        }
    }
}

/// Settles a line that says `as KNOWN INGREDIENT`.
fn lower_as(
    scene: &Scene<'_>,
    resolved: &Resolved<'_>,
    known: &Spanned<String>,
    formula: &FormulaLine,
    findings: &mut Findings,
) -> Thing {
    let like = resolve(scene, None, &known.value);
    match (like.meaning, &resolved.meaning) {
        (Meaning::Starter, _) => mixtures::starter(scene.place, formula.hydration.as_ref()),
        (Meaning::OldDough, _) => mixtures::old_dough(scene.place, formula.hydration.as_ref()),
        (Meaning::Ingredient(like), Meaning::Ingredient(named)) if Arc::ptr_eq(&like, named) => {
            Thing::Ingredient(like)
        }
        (Meaning::Ingredient(like), _) => Thing::Unlisted { like: Some(like) },
        (Meaning::Bare(BareWord::Flour), _) => Thing::Unlisted {
            like: plain_flour(scene),
        },
        _ => {
            findings.push(names_nothing(scene, like.name, known.span));
            Thing::Unlisted { like: None }
        }
    }
}

fn lower_thing(
    scene: &Scene<'_>,
    home: Home,
    resolved: &Resolved<'_>,
    span: Span,
    formula: &FormulaLine,
    near: &mut Option<String>,
    findings: &mut Findings,
) -> Option<Thing> {
    let hydration = formula.hydration.as_ref();
    match &resolved.meaning {
        Meaning::Ingredient(known) => Some(Thing::Ingredient(Arc::clone(known))),
        Meaning::Stage(id) => Some(Thing::Stage(*id)),
        Meaning::Starter => Some(mixtures::starter(scene.place, hydration)),
        Meaning::OldDough => Some(mixtures::old_dough(scene.place, hydration)),
        Meaning::Bare(BareWord::Flour) => {
            findings.push(which_flour(resolved.name, span));
            Some(plain_flour(scene).map_or(Thing::Unlisted { like: None }, Thing::Ingredient))
        }
        Meaning::Bare(BareWord::Yeast) => {
            findings.push(which_yeast(resolved.name, span));
            None
        }
        Meaning::Ambiguous(ids) => {
            findings.push(ambiguous(scene, resolved.name, ids, span));
            findings.suspected.extend(ids);
            None
        }
        Meaning::Nothing => lower_nothing(scene, home, resolved.name, span, formula, near, findings),
    }
}

/// Reports a name that means nothing, once: where the amount needs to know the thing, it has the word.
fn lower_nothing(
    scene: &Scene<'_>,
    home: Home,
    name: &str,
    span: Span,
    formula: &FormulaLine,
    near: &mut Option<String>,
    findings: &mut Findings,
) -> Option<Thing> {
    let stage = scene.names.near(name, Some(home.id));
    findings.suspected.extend(stage.map(|(id, _)| id));
    match formula.quantity.value {
        Quantity::All => {
            findings.push(all_of_no_stage(scene, name, stage.map(|(_, near)| near), formula));
            return None;
        }
        Quantity::Count(_) | Quantity::Volume { .. } => {
            *near = near_ingredient(scene, name);
        }
        // A sign in the name that no eye can see has been told of where it stands.
        _ if name.chars().any(char::is_control) => {}
        Quantity::Weight { .. } | Quantity::Percent(_) | Quantity::Parts(_) | Quantity::Some => {
            findings.push(names_nothing(scene, name, span));
        }
    }
    Some(Thing::Unlisted { like: None })
}

fn plain_flour(scene: &Scene<'_>) -> Option<Arc<Ingredient>> {
    let choice = BareWord::Flour.choices().first()?;
    scene.place.catalog.lookup(choice).map(Arc::clone)
}

/// Faults of a thing that is known but cannot be poured like this.
fn check_kind(
    home: Home,
    thing: &Thing,
    name: &Spanned<String>,
    formula: &FormulaLine,
    findings: &mut Findings,
) {
    let is_mixture = matches!(thing, Thing::Mixture(_));
    if let Some(hydration) = &formula.hydration {
        findings
            .report
            .extend(hydration_fault(hydration, is_mixture, &name.value));
    }
    if is_mixture && home.kind == BlockKind::Formula {
        findings.push(starter_in_formula(name));
    }
    match (&formula.quantity.value, thing) {
        (Quantity::All, Thing::Ingredient(_) | Thing::Mixture(_) | Thing::Unlisted { .. }) => {
            findings.push(
                Diagnostic::new(
                    Code::AllOfNoStage,
                    formula.quantity.span.to(name.span),
                    format!(
                        "{} is no stage of this recipe, so there is no `all` of it",
                        name.value
                    ),
                )
                .help("write a weight or a share"),
            );
        }
        (quantity, Thing::Stage(_)) if home.kind == BlockKind::Formula && *quantity != Quantity::All => {
            findings.push(stage_in_formula(&formula.quantity, &name.value));
        }
        (Quantity::Some, Thing::Stage(_)) => {
            findings.push(
                Diagnostic::new(
                    Code::EntryNotAllowed,
                    formula.quantity.span.to(name.span),
                    format!("`some` does not say how much of {} is poured", name.value),
                )
                .help(format!("write `all {}`, a weight or a share", name.value)),
            );
        }
        _ => {}
    }
}

fn hydration_fault(
    hydration: &Spanned<crate::quantity::Ratio>,
    is_mixture: bool,
    name: &str,
) -> Option<Diagnostic> {
    if !is_mixture {
        let fault = Diagnostic::new(
            Code::EntryNotAllowed,
            hydration.span,
            format!("{name} has no hydration that could be set here"),
        );
        return Some(fault.help("`hydration` belongs behind `starter`; a stage says it by its own water"));
    }
    hydration.value.is_zero().then(|| {
        Diagnostic::new(
            Code::StarterDry,
            hydration.span,
            format!("{name} without water cannot ripen"),
        )
        .help("write its water on its flour, `hydration 100 %` for equal weights")
    })
}

/// A formula is the whole bread, its stages included: an amount of one could only be counted twice.
fn stage_in_formula(quantity: &Spanned<Quantity>, word: &str) -> Diagnostic {
    Diagnostic::new(
        Code::EntryNotAllowed,
        quantity.span,
        format!("in a formula only `all {word}` says where {word} joins"),
    )
    .label("what is in it is in the percentages already")
    .help(format!(
        "write `all {word}`, and how much of it there is in its header: `{word}, 15 % of the flour:` or `{word}, 200 g:`"
    ))
}

fn starter_in_formula(name: &Spanned<String>) -> Diagnostic {
    let word = &name.value;
    Diagnostic::new(
        Code::StarterInFormula,
        name.span,
        format!("{word} brings flour and water that a formula cannot count"),
    )
    .label("all flour of the bread is in the percentages already")
    .help("put it into a stage, `levain, 15 % of the flour:`, and take it out here")
}
