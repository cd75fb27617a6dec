//! Tins: the form that `tin` gives, and what such a form holds.

use super::Findings;
use crate::model::recipe::Tin;
use crate::quantity::{Millilitres, Ratio, round_to_step};
use crate::syntax::tree::KeyLine;
use crate::syntax::{self, TinShape, TinSpec};

/// Reads `tin`.
pub(super) fn lower_tin(line: &KeyLine, findings: &mut Findings) -> Option<Tin> {
    let value = &line.value;
    syntax::parse_tin(&value.value, value.span, &mut findings.report).map(|spec| tin_of(spec, &value.value))
}

/// Settles a tin that was read from its words.
#[must_use]
pub fn tin_of(spec: TinSpec, written: &str) -> Tin {
    Tin {
        lidded: spec.lidded,
        volume: volume_of(&spec.shape),
        shape: spec.shape,
        ml_per_g: spec.ml_per_g.map(|wanted| wanted.value),
        written: written.to_owned(),
    }
}

/// Gives what a form holds; lengths are in millimetres.
///
/// A sloping tin is a prismatoid: a sixth of its height times top, base and four times the middle. A round
/// one is the frustum of a cone.
fn volume_of(shape: &TinShape) -> Millilitres {
    match shape {
        TinShape::Box([length, width, height]) => millilitres(&(&(length * width) * height)),
        TinShape::Tapered { top, base, height } => {
            let ([top_length, top_width], [base_length, base_width]) = (top, base);
            let four_middles = &(top_length + base_length) * &(top_width + base_width);
            let areas = &(&(top_length * top_width) + &(base_length * base_width)) + &four_middles;
            millilitres(&(&(&areas * height) / &Ratio::whole(6)))
        }
        TinShape::Round([top, base, height]) => {
            let squares = &(&(top * top) + &(base * base)) + &(top * base);
            let volume = &(&(&squares * height) * &pi()) / &Ratio::whole(12);
            let Millilitres(exact) = millilitres(&volume);
            Millilitres(round_to_step(&exact, &thousandth()))
        }
        TinShape::Volume(volume) => volume.clone(),
    }
}

fn millilitres(cubic_millimetres: &Ratio) -> Millilitres {
    Millilitres(cubic_millimetres * &thousandth())
}

fn thousandth() -> Ratio {
    &Ratio::ONE / &Ratio::whole(1000)
}

/// Fourteen decimals: for the largest tin that can be written the error stays below what is rounded away.
fn pi() -> Ratio {
    Ratio::fraction(314_159_265_358_979, 100_000_000_000_000).unwrap_or_default()
}
