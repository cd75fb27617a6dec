//! What stands behind the colon of a recipe's key, one reader for each kind of value.
//!
//! Owns what a value must be to make sense. Numbers and units are read by `syntax`, so that a key takes
//! every form that a line takes.

use super::keys::example;
use super::temperatures::{lower_temperature, unknown_place};
use super::{Findings, Scene};
use crate::diag::{Code, Diagnostic};
use crate::model::place;
use crate::model::recipe::{Makes, Picture};
use crate::quantity::{CelsiusRange, ElapsedRange, Grams, Ratio, WeightUnit};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{KeyLine, TemperatureWord};
use crate::syntax::{self, MakesSpec};

/// The most slices that anybody cuts of a piece.
const MOST_SLICES: i64 = 1_000;

/// Reads `makes`.
pub(super) fn makes(line: &KeyLine, findings: &mut Findings) -> Option<Makes> {
    let value = &line.value;
    syntax::parse_makes(&value.value, value.span, &mut findings.report)
        .map(|spec| makes_of(spec, &value.value))
}

/// Settles what is made, read from its words.
#[must_use]
pub fn makes_of(spec: MakesSpec, written: &str) -> Makes {
    Makes {
        count: Ratio::whole(i64::from(spec.count.value)),
        piece: spec.piece.value,
        weight: spec.weight.map(|weight| weight.value.0),
        baked: spec.baked,
        written: written.to_owned(),
    }
}

/// Reads a weight above nought.
pub(super) fn weight(line: &KeyLine, findings: &mut Findings) -> Option<Grams> {
    let (grams, _) = syntax::read_weight(&line.value.value, line.value.span, &mut findings.report)?;
    if grams.is_zero() {
        findings.push(bad(
            line,
            line.value.span,
            format!("`{}` of nothing", line.key.value),
        ));
        return None;
    }
    Some(grams)
}

/// Reads the weights to be shown.
pub(super) fn units(line: &KeyLine, findings: &mut Findings) -> Vec<WeightUnit> {
    settle(place::read_units(line), findings).unwrap_or_default()
}

/// Reads the papers of the card.
pub(super) fn papers(line: &KeyLine, findings: &mut Findings) -> Vec<String> {
    settle(place::read_papers(line), findings).unwrap_or_default()
}

/// Reads the language of the card.
pub(super) fn language(line: &KeyLine, findings: &mut Findings) -> Option<String> {
    settle(place::read_language(line), findings)
}

fn settle<T>(read: Result<T, Box<Diagnostic>>, findings: &mut Findings) -> Option<T> {
    match read {
        Ok(value) => Some(value),
        Err(fault) => {
            findings.push(*fault);
            None
        }
    }
}

/// Reads degrees, or the word of a place for its temperature.
pub(super) fn temperature(
    scene: &Scene<'_>,
    line: &KeyLine,
    findings: &mut Findings,
) -> Option<CelsiusRange> {
    let word = syntax::read_temperature(&line.value.value, line.value.span, &mut findings.report)?;
    if let TemperatureWord::Place(place) = &word
        && !scene.place.temperatures.contains_key(&place.to_lowercase())
    {
        findings.push(unknown_place(scene, &place.to_lowercase(), line.value.span, ""));
        return None;
    }
    lower_temperature(scene, &Spanned::new(word, line.value.span), findings).map(|read| read.range)
}

/// Reads a share of the dough that gets lost, less than the whole of it.
pub(super) fn loss(line: &KeyLine, findings: &mut Findings) -> Option<Ratio> {
    let share = syntax::read_percent(&line.value.value, line.value.span, &mut findings.report)?;
    if share >= Ratio::ONE {
        findings.push(bad(line, line.value.span, "nothing is left of the dough"));
        return None;
    }
    Some(share)
}

/// Reads a length of time above nought.
pub(super) fn time(line: &KeyLine, findings: &mut Findings) -> Option<ElapsedRange> {
    let time = syntax::read_time(&line.value.value, line.value.span, &mut findings.report)?;
    if time.most.seconds == 0 {
        findings.push(bad(
            line,
            line.value.span,
            format!("`{}` for no time at all", line.key.value),
        ));
        return None;
    }
    Some(time)
}

/// Reads a whole number of slices.
pub(super) fn slices(line: &KeyLine, findings: &mut Findings) -> Option<u32> {
    let number = syntax::read_number(&line.value.value, line.value.span, &mut findings.report)?;
    let whole = number
        .floor()
        .filter(|floor| Ratio::whole(*floor) == number && (1..=MOST_SLICES).contains(floor))
        .and_then(|floor| u32::try_from(floor).ok());
    if whole.is_none() {
        findings.push(bad(
            line,
            line.value.span,
            format!("slices are counted in whole numbers from 1 to {MOST_SLICES}"),
        ));
    }
    whole
}

/// Reads words between commas.
pub(super) fn list(line: &KeyLine) -> Vec<String> {
    let words = line.value.value.split(',').map(str::trim);
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Reads a picture and what it shows. The file itself is looked for by the edge that can see files.
pub(super) fn picture(line: &KeyLine, findings: &mut Findings) -> Option<Picture> {
    let value = &line.value;
    let Some((path, description)) = value.value.split_once(',') else {
        findings.push(
            bad(line, value.span, "the picture does not say what it shows")
                .label("for those who cannot see it"),
        );
        return None;
    };
    let (path, description) = (path.trim(), description.trim());
    let span = Span::new(value.span.source, value.span.start, value.span.start + path.len());
    if description.is_empty() {
        findings.push(bad(line, value.span, "the picture does not say what it shows"));
        return None;
    }
    if !stays_inside(path) {
        findings.push(
            Diagnostic::new(
                Code::BadValue,
                span,
                format!("`{path}` leads out of the recipe's folder"),
            )
            .help("put the picture beside the recipe or in a folder below it, and write `crumb.jpg`"),
        );
        return None;
    }
    if !is_picture(path) {
        findings.push(
            Diagnostic::new(
                Code::PictureMissing,
                span,
                format!("`{path}` cannot be put on a card"),
            )
            .help("a picture is a PNG, JPEG or WebP file"),
        );
        return None;
    }
    Some(Picture {
        path: path.to_owned(),
        description: description.to_owned(),
    })
}

/// Says whether a path stays below the folder of its recipe, on every system.
fn stays_inside(path: &str) -> bool {
    let odd = |letter: char| matches!(letter, '\\' | ':' | '%' | '~' | '$') || letter.is_control();
    !path.is_empty()
        && !path.contains(odd)
        && path
            .split('/')
            .all(|part| !part.is_empty() && part != "." && part != "..")
}

fn is_picture(path: &str) -> bool {
    let ending = path
        .rsplit_once('.')
        .map(|(_, ending)| ending.to_ascii_lowercase());
    matches!(ending.as_deref(), Some("png" | "jpg" | "jpeg" | "webp"))
}

fn bad(line: &KeyLine, span: Span, message: impl Into<String>) -> Diagnostic {
    Diagnostic::new(Code::BadValue, span, message).help(format!("write it as `{}`", example(&line.key.value)))
}
