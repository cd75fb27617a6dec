//! Step lines: a time and what is done.
//!
//! Owns what a step's words mean: its verb, whether it needs hands, how long it takes, its folds.

use super::temperatures::{lower_temperature, unsettled_words};
use super::{Findings, Scene};
use crate::diag::{Code, Diagnostic};
use crate::model::recipe::{FoldPlan, Step};
use crate::model::verbs::Verb;
use crate::quantity::{Elapsed, ElapsedRange};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Entry, Folds, Hands, StepLine, StepTime};

/// What `overnight` is.
const OVERNIGHT: ElapsedRange = ElapsedRange {
    least: Elapsed::hours(8),
    most: Elapsed::hours(12),
};

/// Below this a step without a known verb counts as hands on.
const SHORT: Elapsed = Elapsed::minutes(30);

/// The most folds that anybody gives a dough; the language has no use for more, and a card no room.
const MOST_FOLDS: u32 = 48;

/// Lowers a step line.
pub(super) fn lower_step(scene: &Scene<'_>, entry: &Entry, line: &StepLine, findings: &mut Findings) -> Step {
    if let Some(after) = &line.after {
        findings.push(
            Diagnostic::new(
                Code::EntryNotAllowed,
                after.span,
                "`after` has a meaning only in a variation",
            )
            .help("steps are done in the order of the page; put the line where it belongs"),
        );
    }
    let takes = takes(line.time.value);
    let verb = Verb::first_in(&line.words);
    let by_length = takes.middle() < SHORT;
    if verb.is_none() {
        findings.push(unknown_verb(line, by_length));
    }
    let hands_on = match &line.hands {
        Some(hands) => hands.value == Hands::On,
        None => verb.map_or(by_length, |verb| verb.hands_on),
    };
    let mut temperature = |word: &Option<Spanned<_>>| {
        word.as_ref()
            .and_then(|word| lower_temperature(scene, word, findings))
    };
    let (at, to) = (temperature(&line.at), temperature(&line.to));
    let mut words = without_gaps(&line.words);
    if let Some(place) = unsettled_words(scene, line.at.as_ref(), at.as_ref()) {
        words.push(' ');
        words.push_str(&place);
    }
    Step {
        span: entry.span,
        time: line.time.value,
        takes,
        words,
        verb,
        hands_on,
        at,
        to,
        folds: line
            .folds
            .as_ref()
            .and_then(|folds| lower_folds(folds, takes, findings)),
        until: line.until.clone(),
        uses: Vec::new(),
        prose: entry.prose.clone(),
    }
}

/// Takes out the commas that stood around a temperature or `hands-on`: `load, hands-on` is `load`.
fn without_gaps(words: &str) -> String {
    let one = |word: &str| match word.trim_end_matches(',') {
        "" => None,
        bare if bare.len() < word.len() => Some(format!("{bare},")),
        bare => Some(bare.to_owned()),
    };
    let joined = words
        .split_whitespace()
        .filter_map(one)
        .collect::<Vec<_>>()
        .join(" ");
    joined.trim_matches([',', ' ']).to_owned()
}

fn takes(time: StepTime) -> ElapsedRange {
    match time {
        StepTime::Takes(range) => range,
        StepTime::Overnight => OVERNIGHT,
        StepTime::Then => ElapsedRange::ZERO,
    }
}

fn unknown_verb(line: &StepLine, by_length: bool) -> Diagnostic {
    let (counts, other) = if by_length {
        ("hands on", "hands-off")
    } else {
        ("hands off", "hands-on")
    };
    let fault = Diagnostic::new(
        Code::UnknownVerb,
        line.text.span,
        format!("`{}` has no verb of the trade", line.words),
    );
    let fault = match &line.hands {
        Some(_) => fault,
        None => fault.label(format!("counts as {counts} by its length")),
    };
    match (Verb::near(&line.words), &line.hands) {
        (Some(near), _) => fault.help(format!("did you mean `{near}`?")),
        (None, Some(_)) => {
            fault.help("what the step is for is not known; say it with a verb such as `rest` or `mix`")
        }
        (None, None) => fault.help(format!(
            "say it with a verb such as `rest` or `mix`, or write `{other}`"
        )),
    }
}

/// Settles the interval of folds: the first one comes after one interval, and none at the very end.
fn lower_folds(folds: &Spanned<Folds>, takes: ElapsedRange, findings: &mut Findings) -> Option<FoldPlan> {
    let Folds { count, every } = folds.value;
    if count == 0 {
        return None;
    }
    let length = takes.middle();
    let every = every.unwrap_or(Elapsed {
        seconds: length.seconds / count.saturating_add(1),
    });
    if count > MOST_FOLDS || every.seconds == 0 {
        findings.push(folds_do_not_fit(folds.span, count, length, every));
        return None;
    }
    if u64::from(every.seconds) * u64::from(count) > u64::from(length.seconds) {
        findings.push(folds_do_not_fit(folds.span, count, length, every));
    }
    Some(FoldPlan { count, every })
}

fn folds_do_not_fit(span: Span, count: u32, length: Elapsed, every: Elapsed) -> Diagnostic {
    let minutes = length.as_minutes();
    let message = if minutes == 0 {
        "there is no time for folds in a step that takes none".to_owned()
    } else if every.seconds == 0 || count > MOST_FOLDS {
        format!("{count} folds do not fit into {minutes} min")
    } else {
        let needed = every.as_minutes().saturating_mul(count);
        format!("the last fold comes after {needed} min, and the step takes {minutes} min")
    };
    let fault = Diagnostic::new(Code::FoldsDoNotFit, span, message);
    match length.seconds.checked_div(every.seconds) {
        Some(fitting) if fitting > 0 && fitting < count => {
            fault.help(format!("{fitting} would fit, or a shorter interval"))
        }
        _ => fault.help("give the step its time, or leave the folds out"),
    }
}
