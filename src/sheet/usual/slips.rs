//! Figures that are almost surely a slip of the pen: a wrong unit, a decimal point too far to the right.

use super::kinds::{MEMORY, SALT_SOURCE, WATER_SOURCE, YEAST_SOURCE};
use super::{Judged, percent, written};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::BlockKind;
use crate::quantity::Ratio;

/// Salt that no bread has, common practice and no source; published value R5 ends at half of it.
const SALT: i64 = 5;
/// Yeast, counted as fresh, that no bread has; published value R13 ends well below half of it.
const YEAST: i64 = 20;
/// Water that no batter needs; published value R9 ends below half of it.
const WET: i64 = 200;
/// Water that leaves flour dry where no fat binds it; published value R13 begins above it.
const DRY: i64 = 25;
/// Fat that binds flour without water, as in shortcrust; common practice, no source.
const SHORT: i64 = 10;

/// Kilograms of dough that no bakery mixes in one batch; common practice, no source.
const HEAVY: i64 = 10_000;

/// What to do about all of them.
const LOOK: &str = "look at the unit and the decimal point";

/// Warns of sizes and shares that cannot be meant.
pub(super) fn check(baked: &Judged, report: &mut Report) {
    let figures = baked.figures;
    let kilograms = &figures.dough.0 * &Ratio::fraction(1, 1000).unwrap_or_default();
    if kilograms > Ratio::whole(HEAVY) {
        let message = format!("the dough weighs {} kg", kilograms.to_trimmed(0));
        let help = "no mixer takes that much at once: look at the unit, `g` or `kg`";
        report.push(slip(baked, message, |part| part.is_flour, help));
    }
    if let Some(salt) = figures.salt.as_ref().filter(|salt| **salt > percent(SALT)) {
        report.push(slip(
            baked,
            format!("salt is {} of the flour", written(salt)),
            |part| part.kind == Kind::Salt,
            &format!("a bread has 1.5 to 2.5 % ({SALT_SOURCE}): {LOOK}"),
        ));
    }
    let yeast = baked.fresh_yeast();
    if yeast > percent(YEAST) {
        report.push(slip(
            baked,
            format!("yeast is {} of the flour, counted as fresh", written(&yeast)),
            |part| part.kind == Kind::Yeast,
            &format!("a bread has 0.1 to 5 % ({YEAST_SOURCE}), a sweet dough up to 8 % ({MEMORY}): {LOOK}"),
        ));
    }
    if let Some(water) = figures.hydration.as_ref().filter(|_| !baked.is_blurred()) {
        check_water(baked, water, report);
    }
}

fn check_water(baked: &Judged, water: &Ratio, report: &mut Report) {
    let soaked = baked.blocks.iter().any(|block| block.kind == BlockKind::Soaker);
    let fat = baked.figures.fat.clone().unwrap_or_default();
    let message = if *water > percent(WET) && !soaked {
        format!("there is {} of water on the flour", written(water))
    } else if *water < percent(DRY) && fat < percent(SHORT) {
        format!("there is only {} of water on the flour", written(water))
    } else {
        return;
    };
    let help = format!("a bread has 50 to 90 % ({WATER_SOURCE}): {LOOK}");
    report.push(slip(baked, message, |part| part.is_wet, &help));
}

fn slip(baked: &Judged, message: String, place: impl Fn(&Ingredient) -> bool, help: &str) -> Diagnostic {
    Diagnostic::new(Code::LikelySlip, baked.place_of(place), message).help(help)
}
