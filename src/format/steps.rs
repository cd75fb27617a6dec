//! Step lines in their one form: the baker's words stay, amounts and the little words before them are tidied.

use super::amount::tidy;
use crate::source::{Source, Span, Spanned};
use crate::syntax::tree::{Cue, StepLine, StepTime, TemperatureWord};

/// Words that open a clause; only there are they put into lower case.
const OPENING: &[&str] = &["at", "to", "in", "the", "until"];

/// Writes the time of a step.
pub(super) fn time(source: &Source, line: &StepLine) -> String {
    match line.time.value {
        StepTime::Overnight => "overnight".to_owned(),
        StepTime::Then => "then".to_owned(),
        StepTime::Takes(_) => tidy(source.slice(line.time.span)),
    }
}

/// Writes what is done; words and their order stay, amounts are tidied each in its own place.
pub(super) fn tail(source: &Source, line: &StepLine) -> String {
    let mut clauses = clauses(source, line);
    clauses.sort_by_key(|(span, _)| *span);
    let mut words: Vec<String> = Vec::new();
    let mut from = line.text.span.start;
    for (span, tidied) in clauses {
        push_words(&mut words, source.text.get(from..span.start));
        for word in words.iter_mut().rev() {
            let lower = word.to_lowercase();
            if !OPENING.contains(&lower.as_str()) {
                break;
            }
            *word = lower;
        }
        words.push(tidied);
        from = span.end;
    }
    push_words(&mut words, source.text.get(from..line.text.span.end));
    words.join(" ")
}

fn push_words(words: &mut Vec<String>, text: Option<&str>) {
    words.extend(text.unwrap_or_default().split_whitespace().map(str::to_owned));
}

/// Gives the clauses of a step with their one form.
fn clauses(source: &Source, line: &StepLine) -> Vec<(Span, String)> {
    let tidied = |span: Span| (span, tidy(&source.slice(span).to_lowercase()));
    let places = [&line.at, &line.to].into_iter().flatten();
    let mut clauses: Vec<(Span, String)> = places.map(|place| warmth(source, place)).collect();
    clauses.extend(line.folds.iter().map(|folds| tidied(folds.span)));
    clauses.extend(
        line.hands
            .iter()
            .map(|hands| (hands.span, source.slice(hands.span).to_lowercase())),
    );
    if let Some(until) = &line.until {
        clauses.push(match &until.value {
            // The words of a cue are the baker's own.
            Cue::Words(words) => (until.span, words.clone()),
            Cue::Core(_) | Cue::Dough(_) => tidied(until.span),
            Cue::Grown(_) => (until.span, growth(source.slice(until.span))),
        });
    }
    clauses
}

fn warmth(source: &Source, place: &Spanned<TemperatureWord>) -> (Span, String) {
    let written = source.slice(place.span);
    let text = match &place.value {
        TemperatureWord::Place(word) if written.to_lowercase().contains("temperature") => {
            format!("{word} temperature")
        }
        TemperatureWord::Place(word) => word.clone(),
        TemperatureWord::Degrees(_) => tidy(written),
    };
    (place.span, text)
}

/// A growth is told with its cross at the number, `1.5x`, or in a word.
fn growth(written: &str) -> String {
    let lower = written.to_lowercase().replace('×', "x");
    match lower.trim_end().strip_suffix('x') {
        Some(number) => format!("{}x", tidy(number)),
        None => lower,
    }
}
