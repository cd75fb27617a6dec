//! The two mixtures that a bakehouse keeps: its starter and its old dough.
//!
//! Owns the reading of their shares and of their flour. Knows nothing of the recipes that pour them.

use std::sync::Arc;

use super::defaults;
use super::values::{self, Fault, Reader, bad_value};
use super::{OldDoughSpec, StarterSpec};
use crate::diag::{Code, Diagnostic, Report, nearest_name};
use crate::model::catalog::{BareWord, Catalog, Ingredient};
use crate::quantity::Ratio;
use crate::source::{Span, Spanned};

/// The most water on flour that still makes a starter or a dough.
const MOST_HYDRATION: i64 = 5;

/// What a mixture's value says, each part at most once.
#[derive(Default)]
struct Mixture {
    hydration: Option<Spanned<Ratio>>,
    salt: Option<Spanned<Ratio>>,
    flour: Option<Arc<Ingredient>>,
}

/// Reads `100 % hydration, bread flour`; what is not said is the default's.
pub(super) fn starter(
    value: Reader<'_>,
    catalog: &Catalog,
    report: &mut Report,
) -> Result<StarterSpec, Fault> {
    let mixture = read(value, catalog, report)?;
    if let Some(salt) = mixture.salt {
        let help = "for a salted dough that is kept there is `old dough`";
        return Err(bad_value(salt.span, "a starter holds no salt", help));
    }
    let default = defaults::starter(catalog);
    Ok(StarterSpec {
        hydration: hydration(mixture.hydration, default.hydration)?,
        flour: mixture.flour.unwrap_or(default.flour),
    })
}

/// Reads `65 % hydration, 2 % salt, bread flour`; what is not said is the default's.
pub(super) fn old_dough(
    value: Reader<'_>,
    catalog: &Catalog,
    report: &mut Report,
) -> Result<OldDoughSpec, Fault> {
    let mixture = read(value, catalog, report)?;
    let default = defaults::old_dough(catalog);
    let tenth = &Ratio::ONE / &Ratio::whole(10);
    if let Some(salt) = mixture
        .salt
        .as_ref()
        .filter(|salt| salt.value > tenth || salt.value.is_negative())
    {
        let help = "old dough holds about 2 % of salt on its flour";
        return Err(bad_value(salt.span, "that much salt is in no dough", help));
    }
    Ok(OldDoughSpec {
        hydration: hydration(mixture.hydration, default.hydration)?,
        salt: mixture.salt.map_or(default.salt, |salt| salt.value),
        flour: mixture.flour.unwrap_or(default.flour),
    })
}

fn hydration(given: Option<Spanned<Ratio>>, default: Ratio) -> Result<Ratio, Fault> {
    let Some(Spanned { value, span }) = given else {
        return Ok(default);
    };
    if value.is_positive() && value <= Ratio::whole(MOST_HYDRATION) {
        return Ok(value);
    }
    let fault = if value.is_positive() {
        Diagnostic::new(Code::BadValue, span, "that much water is in no dough")
    } else {
        Diagnostic::new(Code::StarterDry, span, "without water nothing ferments")
    };
    Err(Box::new(fault.help(format!(
        "hydration lies above 0 and up to {MOST_HYDRATION}00 %"
    ))))
}

fn read(value: Reader<'_>, catalog: &Catalog, report: &mut Report) -> Result<Mixture, Fault> {
    let mut mixture = Mixture::default();
    for part in value.parts() {
        let is_twice = if let Some((share, word)) = part.without_last(&["hydration", "salt"]) {
            let share = Spanned::new(values::percent(share, report)?, part.span());
            let slot = if word == "salt" {
                &mut mixture.salt
            } else {
                &mut mixture.hydration
            };
            slot.replace(share).is_some()
        } else if part.rest().contains('%') {
            let help = "write `hydration` or `salt` behind the share";
            return Err(bad_value(
                part.span(),
                "it is not said what the share is of",
                help,
            ));
        } else {
            mixture.flour.replace(flour(part, catalog, report)?).is_some()
        };
        if is_twice {
            return Err(bad_value(
                part.span(),
                "this is said twice",
                "keep one of the two",
            ));
        }
    }
    Ok(mixture)
}

fn flour(name: Reader<'_>, catalog: &Catalog, report: &mut Report) -> Result<Arc<Ingredient>, Fault> {
    let (written, span) = (name.rest(), name.span());
    let meant = match BareWord::of(written) {
        Some(bare) => bare.choices().first().copied().unwrap_or(written),
        None => written,
    };
    match catalog.lookup(meant) {
        Some(found) if found.is_flour => {
            if meant != written {
                let message = format!("`{written}` is taken as {meant}");
                report.push(Diagnostic::new(Code::WhichFlour, span, message).help("name the flour"));
            }
            Ok(Arc::clone(found))
        }
        Some(found) => {
            let message = format!("{} does not count as flour", found.name);
            Err(bad_value(span, message, "name the flour that it is fed with"))
        }
        None => Err(unknown_flour(written, span, catalog)),
    }
}

fn unknown_flour(written: &str, span: Span, catalog: &Catalog) -> Fault {
    let help = match nearest_name(written, &catalog.offers()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("name a flour of the table, or add `ingredient {written}:` to the bakehouse"),
    };
    bad_value(span, format!("`{written}` is not in the ingredient table"), help)
}
