//! How much tin a gram of dough wants.

use super::{Baked, percent};
use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::Ratio;
use crate::sheet::{TinBand, TinBread};

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
    let TinBand {
        bread,
        low,
        high,
        widest,
    } = &fit.band;
    let bounds = (low * &percent(100 - LEEWAY), widest * &percent(100 + LEEWAY));
    let much = if fit.ml_per_g < bounds.0 {
        "more"
    } else if fit.ml_per_g > bounds.1 {
        "less"
    } else {
        return;
    };
    let suits = |ml_per_g: &Ratio| fit.tin.volume.0.checked_div(ml_per_g).unwrap_or_default();
    // The bands are published value P10.
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
            "{} has {} to {} ml a gram (trade practice, from memory): {} to {} g of dough here",
            name(*bread),
            low.to_trimmed(1),
            high.to_trimmed(1),
            suits(high).to_trimmed(0),
            suits(low).to_trimmed(0)
        )),
    );
}

/// Names the bread of a band in a sentence.
const fn name(bread: TinBread) -> &'static str {
    match bread {
        TinBread::WhiteLidded => "a white loaf under a lid",
        TinBread::WhiteOpen => "a white loaf in an open tin",
        TinBread::White => "a white tin loaf",
        TinBread::Wholemeal => "a wholemeal loaf",
        TinBread::Rye => "a rye loaf",
    }
}
