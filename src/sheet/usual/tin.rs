//! How much tin a gram of dough wants.

use super::{Baked, per_mille, percent};
use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::Ratio;

/// Millilitres of tin for a gram of dough, in thousandths: published value P10, trade practice from memory.
/// The open tin reaches from the craft to the factory loaf.
const LIDDED: (&str, i64, i64) = ("a white loaf under a lid", 3200, 4000);
const OPEN: (&str, i64, i64) = ("a white loaf in an open tin", 2800, 4400);
const EITHER: (&str, i64, i64) = ("a white tin loaf", 2800, 4400);
const WHOLEMEAL: (&str, i64, i64) = ("a wholemeal loaf", 2400, 3000);
const RYE: (&str, i64, i64) = ("a rye loaf", 1600, 2200);
/// How far outside is still not worth a word, as a share of the bound in hundredths; ours, no source.
const LEEWAY: i64 = 8;

/// Hints at a dough that is too much or too little for its tin.
pub(super) fn check(baked: Baked, report: &mut Report) {
    let (Some(fit), Some(key)) = (baked.tin, &baked.recipe.tin) else {
        return;
    };
    // Who says how much tin a gram of dough gets has decided.
    if fit.tin.ml_per_g.is_some() {
        return;
    }
    let (name, low, high) = band(baked, fit.tin.lidded);
    let bounds = (
        &per_mille(low) * &percent(100 - LEEWAY),
        &per_mille(high) * &percent(100 + LEEWAY),
    );
    let much = if fit.ml_per_g < bounds.0 {
        "more"
    } else if fit.ml_per_g > bounds.1 {
        "less"
    } else {
        return;
    };
    let suits = |ml_per_g: i64| {
        fit.tin
            .volume
            .0
            .checked_div(&per_mille(ml_per_g))
            .unwrap_or_default()
    };
    report.push(
        Diagnostic::new(
            Code::TinFit,
            key.span,
            format!(
                "there is {much} dough in this tin than is usual: {} ml for a gram",
                fit.ml_per_g.to_trimmed(2)
            ),
        )
        .help(format!(
            "{name} has {} to {} ml a gram (P10, from memory): {} to {} g of dough here",
            per_mille(low).to_trimmed(1),
            per_mille(high).to_trimmed(1),
            suits(high).to_trimmed(0),
            suits(low).to_trimmed(0)
        )),
    );
}

fn band(baked: Baked, lidded: Option<bool>) -> (&'static str, i64, i64) {
    let over =
        |share: &Option<Ratio>, hundredths| share.as_ref().is_some_and(|share| *share >= percent(hundredths));
    if over(&baked.figures.rye, 50) {
        return RYE;
    }
    if over(&baked.figures.wholegrain, 75) {
        return WHOLEMEAL;
    }
    match lidded {
        Some(true) => LIDDED,
        Some(false) => OPEN,
        None => EITHER,
    }
}
