//! Counts and volumes turned into weights by what the ingredient table knows.
//!
//! Owns the faults of amounts that are no weight. Knows nothing of shares; they are worked out by the sheet.

use super::Findings;
use crate::diag::{Code, Diagnostic};
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::{Amount, Measure, Thing};
use crate::quantity::{Grams, Ratio, VolumeUnit};
use crate::source::{Span, Spanned};
use crate::syntax::tree::Quantity;

/// A thing that is to be weighed.
pub(super) struct Weighed<'line> {
    /// What it is.
    pub(super) thing: &'line Thing,
    /// What the baker calls it.
    pub(super) name: &'line Spanned<String>,
    /// The nearest known name, where its own is not known.
    pub(super) near: Option<&'line str>,
}

/// Turns a quantity into what the sums know; nothing where it has been reported that this cannot be done.
pub(super) fn lower_amount(
    quantity: &Spanned<Quantity>,
    weighed: &Weighed<'_>,
    findings: &mut Findings,
) -> Option<(Amount, Option<Measure>)> {
    let amount = match &quantity.value {
        Quantity::Weight { grams, .. } => Amount::Weight(grams.clone()),
        Quantity::Percent(share) => Amount::Percent(share.clone()),
        Quantity::Parts(parts) => Amount::Parts(parts.clone()),
        Quantity::All => Amount::All,
        Quantity::Some => Amount::Some,
        Quantity::Count(count) => return lower_count(count, quantity.span, weighed, findings),
        Quantity::Volume { count, unit } => {
            return lower_volume(count, *unit, quantity.span, weighed, findings);
        }
    };
    Some((amount, None))
}

fn lower_count(
    count: &Ratio,
    span: Span,
    weighed: &Weighed<'_>,
    findings: &mut Findings,
) -> Option<(Amount, Option<Measure>)> {
    let Some(each) = ingredient_of(weighed.thing).and_then(|known| known.each_g.as_ref()) else {
        findings.push(no_unit_weight(span, weighed));
        return None;
    };
    let measure = Measure {
        count: count.clone(),
        unit: None,
    };
    Some((Amount::Weight(Grams(count * each)), Some(measure)))
}

/// Words that bakers count by and that weigh as much as they please, with what to do instead.
const LOOSE: &[(&[&str], &str)] = &[
    (
        &["sachet", "sachets", "packet", "packets", "envelope", "envelopes"],
        "weigh it: how much is in one stands on it",
    ),
    (
        &[
            "sprig", "sprigs", "bunch", "bunches", "scoop", "scoops", "splash", "splashes",
        ],
        "weigh it, or write `some`",
    ),
];

/// A count of sprigs: a measure that is none. A bakehouse may know `sachet yeast` as a thing of its own, so
/// that this is found out only where the name is not known.
fn no_unit(weighed: &Weighed<'_>) -> Option<Diagnostic> {
    let name = weighed.name;
    let first = name.value.split(' ').next()?;
    let lower = first.to_lowercase();
    let (_, help) = LOOSE.iter().find(|(words, _)| words.contains(&lower.as_str()))?;
    let is_known = !matches!(weighed.thing, Thing::Unlisted { like: None });
    let place = Span {
        end: name.span.start + first.len(),
        ..name.span
    };
    (!is_known)
        .then(|| Diagnostic::new(Code::UnknownUnit, place, format!("`{first}` is no unit")).help(*help))
}

fn no_unit_weight(span: Span, weighed: &Weighed<'_>) -> Diagnostic {
    if let Some(fault) = no_unit(weighed) {
        return fault;
    }
    let advice = Advice {
        code: Code::NoUnitWeight,
        measure: "count",
        of_a_dough: "a dough is poured by weight or by share",
        of_a_stranger: "write the weight, or define it in bakehouse.loaf with the weight of one: `58 g each`",
        of_a_known: (
            "the ingredient table does not say what one weighs",
            "write the weight, or give the weight of one in bakehouse.loaf: `58 g each`",
        ),
    };
    no_weight(&advice, span, weighed)
}

/// What to say of a measure that gives no weight, by what was measured.
struct Advice {
    code: Code,
    /// What was written in the place of a weight.
    measure: &'static str,
    /// Why not, where it is poured of a dough or a mixture.
    of_a_dough: &'static str,
    /// What to do about a thing that nobody knows.
    of_a_stranger: &'static str,
    /// Why not, and what to do about it, where the thing is known.
    of_a_known: (&'static str, &'static str),
}

fn no_weight(advice: &Advice, span: Span, weighed: &Weighed<'_>) -> Diagnostic {
    let name = &weighed.name.value;
    let message = format!("a {} of {name} gives no weight", advice.measure);
    let unlisted = || format!("`{name}` is not in the ingredient table");
    let (label, help) = match (weighed.near, weighed.thing) {
        (Some(near), _) => (unlisted(), format!("did you mean `{near}`?")),
        (None, Thing::Stage(_) | Thing::Mixture(_)) => (
            advice.of_a_dough.to_owned(),
            format!("write `170 g {name}` or `25 % {name}`"),
        ),
        (None, Thing::Unlisted { like: None }) => (unlisted(), advice.of_a_stranger.to_owned()),
        (None, Thing::Ingredient(_) | Thing::Unlisted { .. }) => {
            let (why, what) = advice.of_a_known;
            (why.to_owned(), what.to_owned())
        }
    };
    Diagnostic::new(advice.code, span, message)
        .label(label)
        .help(help)
}

fn lower_volume(
    count: &Ratio,
    unit: VolumeUnit,
    span: Span,
    weighed: &Weighed<'_>,
    findings: &mut Findings,
) -> Option<(Amount, Option<Measure>)> {
    let known = ingredient_of(weighed.thing);
    let Some((known, one)) = known.and_then(|known| Some((known, known.grams_of(unit)?))) else {
        findings.push(no_density(span, weighed));
        return None;
    };
    let grams = Grams(count * &one);
    if !grams.is_zero() {
        findings.push(weigh_instead(&grams, known, unit, span, &weighed.name.value));
    }
    let measure = Measure {
        count: count.clone(),
        unit: Some(unit),
    };
    Some((Amount::Weight(grams), Some(measure)))
}

fn no_density(span: Span, weighed: &Weighed<'_>) -> Diagnostic {
    let advice = Advice {
        code: Code::NoDensity,
        measure: "volume",
        of_a_dough: "it weighs less with every hour that it rises",
        of_a_stranger: "write the weight, or define it in bakehouse.loaf with the weight of a cup: `142 g per cup`",
        of_a_known: (
            "the ingredient table does not say what a cup of it weighs",
            "write the weight, or give it in bakehouse.loaf: `142 g per cup`",
        ),
    };
    no_weight(&advice, span, weighed)
}

/// A volume is a warning that asks for the weight. Kitchen scales weigh a spoon of salt no better than the
/// spoon measures it, so for such things it is only a hint.
fn weigh_instead(grams: &Grams, known: &Ingredient, unit: VolumeUnit, span: Span, name: &str) -> Diagnostic {
    let weight = format!("{} g", in_words(&grams.0));
    let is_small = matches!(
        known.kind,
        Kind::Salt | Kind::Yeast | Kind::Spice | Kind::Seed | Kind::Leavening
    );
    let fault = if is_small && unit.is_spoon() {
        Diagnostic::new(
            Code::SpoonForWeight,
            span,
            format!("spoons of {name} differ; this one is taken as {weight}"),
        )
        .help(format!("`{weight}` would be the same every time"))
    } else {
        Diagnostic::new(
            Code::VolumeForWeight,
            span,
            format!("{name} is measured by volume, and taken as {weight}"),
        )
        .help(format!("weigh it, and write `{weight}`"))
    };
    fault
        .label(whose(unit))
        .fix(format!("write `{weight}`"), span, weight)
}

/// Says whose measure is meant where countries differ: a cup holds 200 ml in one and 250 ml in another.
fn whose(unit: VolumeUnit) -> String {
    let is_metric = matches!(unit, VolumeUnit::Millilitre | VolumeUnit::Litre);
    if is_metric {
        return String::new();
    }
    format!(
        "the U.S. {} of {} ml",
        unit.symbol(),
        unit.millilitres().to_trimmed(1)
    )
}

/// Writes a weight as a scale would show it: whole grams, and finer where there is little of it.
fn in_words(grams: &Ratio) -> String {
    let decimals = if *grams >= Ratio::whole(20) {
        0
    } else if *grams >= Ratio::ONE {
        1
    } else {
        2
    };
    grams.to_trimmed(decimals)
}

/// Gives the ingredient whose measures count.
fn ingredient_of(thing: &Thing) -> Option<&Ingredient> {
    match thing {
        Thing::Ingredient(known) => Some(known),
        Thing::Unlisted { like } => like.as_deref(),
        Thing::Stage(_) | Thing::Mixture(_) => None,
    }
}
