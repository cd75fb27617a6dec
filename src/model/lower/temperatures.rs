//! Temperatures as they are stated: degrees, or a place of the bakehouse.

use super::{Findings, Scene};
use crate::diag::{Code, Diagnostic, nearest};
use crate::model::recipe::TemperatureSpec;
use crate::quantity::CelsiusRange;
use crate::source::{Span, Spanned};
use crate::syntax::tree::TemperatureWord;

/// Settles a temperature; a place that the bakehouse does not name is warned of and has none.
pub(super) fn lower_temperature(
    scene: &Scene<'_>,
    word: &Spanned<TemperatureWord>,
    findings: &mut Findings,
) -> Option<TemperatureSpec> {
    match &word.value {
        TemperatureWord::Degrees(range) => Some(TemperatureSpec {
            span: word.span,
            range: range.clone(),
            place: None,
        }),
        TemperatureWord::Place(place) => {
            let place = place.to_lowercase();
            let Some(celsius) = scene.place.temperatures.get(&place) else {
                findings.push(unknown_place(scene, &place, word.span, "at "));
                return None;
            };
            Some(TemperatureSpec {
                span: word.span,
                range: CelsiusRange::single(celsius.clone()),
                place: Some(place),
            })
        }
    }
}

/// Gives the words of a temperature that could not be settled, `at garage`, so that a card does not lose them.
pub(super) fn unsettled_words(
    scene: &Scene<'_>,
    word: Option<&Spanned<TemperatureWord>>,
    settled: Option<&TemperatureSpec>,
) -> Option<String> {
    let place = word.filter(|_| settled.is_none())?;
    Some(format!("at {}", scene.source.slice(place.span)))
}

/// Words the fault of a place that the bakehouse does not name, with the word that leads to one there.
pub(super) fn unknown_place(scene: &Scene<'_>, place: &str, span: Span, lead: &str) -> Diagnostic {
    let known: Vec<&str> = scene.place.temperatures.keys().map(String::as_str).collect();
    let fault = Diagnostic::new(
        Code::UnknownPlace,
        span,
        format!("`{place}` is no place of the bakehouse"),
    )
    .label("kept as words, without a temperature");
    match nearest(place, known.iter().copied()) {
        Some(near) => fault.help(format!("did you mean `{lead}{near}`?")),
        None => fault.help(format!(
            "write the degrees, `{lead}18 C`, or one of the places: {}",
            known.join(", ")
        )),
    }
}
