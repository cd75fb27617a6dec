//! Slips of entries that fit no rule.

use super::figures::report_figure;
use super::units::report_unknown_unit;
use crate::diag::{Code, Diagnostic};
use crate::source::Spanned;
use crate::syntax::entry::{Home, opens_with, starts_with_figure};
use crate::syntax::grammar::{self, Misfit, Rule};
use crate::syntax::plain::Front;
use crate::syntax::reader::{Reader, single_spaced};
use crate::syntax::words;

/// Reports an entry that its rule does not take.
pub(crate) fn report_entry(text: &str, home: Home, rule: Rule, misfit: &Misfit, reader: &mut Reader<'_>) {
    let told = report_mark(text, reader)
        || report_spaced_fraction(text, reader)
        || report_clock(text, home, reader)
        || report_half_property(text, home, reader)
        || report_figure(text, reader)
        || report_range(text, reader)
        || report_unit(text, reader)
        || report_bare_degrees(text, reader)
        || report_strange_entry(text, home, reader)
        || report_turned(text, reader)
        || report_number_word(text, reader);
    if !told {
        report_misfit(text, home, rule, misfit, reader);
    }
}

/// Reports a mark or a word that stands before the quantity: `- 20 g`, `~20 g`, `about 20 g`.
fn report_mark(text: &str, reader: &mut Reader<'_>) -> bool {
    const MARKS: &[&str] = &[
        "- ", "* ", "• ", "~", "≈", "about ", "circa ", "ca. ", "ca ", "approx. ", "roughly ",
    ];
    let opens = |mark: &&&str| {
        let start = text.get(..mark.len());
        start.is_some_and(|start| start.eq_ignore_ascii_case(mark))
    };
    let Some(mark) = MARKS.iter().find(opens) else {
        return false;
    };
    let rest = text.get(mark.len()..).unwrap_or_default().trim_start();
    if !starts_with_figure(rest) {
        return false;
    }
    let span = reader.span(0, text.len() - rest.len());
    let message = format!("`{}` stands before the quantity", mark.trim_end());
    let fault = Diagnostic::new(Code::UnreadableLine, span, message);
    reader.report(
        fault
            .help(format!(
                "write `{}`; leeway goes into the prose below",
                single_spaced(rest)
            ))
            .fix("take it out", span, ""),
    );
    true
}

/// Reports a fraction with spaces around its stroke: `1 / 2 tsp`.
fn report_spaced_fraction(text: &str, reader: &mut Reader<'_>) -> bool {
    let is_whole = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let Some((above, rest)) = text.split_once('/') else {
        return false;
    };
    if !above.ends_with(' ') && !rest.starts_with(' ') {
        return false;
    }
    let (below, thing) = rest
        .trim_start()
        .split_once(' ')
        .unwrap_or((rest.trim_start(), ""));
    let is_fraction = above.trim_end().split(' ').all(is_whole) && is_whole(below);
    if !is_fraction {
        return false;
    }
    let length = text.trim_end().len() - thing.trim_end().len();
    let written = text.get(..length).unwrap_or(text).trim_end();
    let meant = format!("{}/{below}", above.trim_end());
    let span = reader.span(0, written.len());
    let fault = Diagnostic::new(
        Code::BadNumber,
        span,
        format!("a fraction has no spaces: `{written}`"),
    );
    reader.report(
        fault
            .help(format!("write `{meant}`"))
            .fix("close it up", span, meant),
    );
    true
}

/// Reports a time written as clocks show it: `1:30 proof`.
fn report_clock(text: &str, home: Home, reader: &mut Reader<'_>) -> bool {
    let written = text.split(' ').next().unwrap_or_default();
    let parts = written.split_once(':');
    let Some((hours, minutes)) =
        parts.and_then(|(hours, minutes)| Some((hours.parse::<u16>().ok()?, minutes.parse::<u16>().ok()?)))
    else {
        return false;
    };
    if home == Home::Ingredient {
        return false;
    }
    let meant = match (hours, minutes) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    };
    let span = reader.span(0, written.len());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        format!("`{written}` is a time of the clock"),
    );
    reader.report(fault.help(format!("write how long it takes with its units, `{meant}`")));
    true
}

/// Reports what a bakehouse says of an ingredient without all of its units: `58 each`, `1 EUR`.
fn report_half_property(text: &str, home: Home, reader: &mut Reader<'_>) -> bool {
    let Some((number, word)) = text
        .split_once(' ')
        .filter(|_| home == Home::Ingredient && starts_with_figure(text))
    else {
        return false;
    };
    let is_currency = word.len() == 3 && word.bytes().all(|byte| byte.is_ascii_uppercase());
    let (message, meant) = if word == "each" {
        ("the weight of one wants its unit", format!("{number} g each"))
    } else if is_currency {
        ("a price says for how much", format!("{number} {word} per kg"))
    } else {
        return false;
    };
    let span = reader.span(0, text.len());
    let fault = Diagnostic::new(Code::UnreadableLine, span, message);
    reader.report(fault.help(format!("write `{meant}`")));
    true
}

/// Reports a line that begins with a number in letters.
fn report_number_word(text: &str, reader: &mut Reader<'_>) -> bool {
    const WORDS: &[&str] = &[
        "a", "an", "half", "quarter", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
        "ten", "eleven", "twelve", "fifteen", "twenty", "thirty", "forty",
    ];
    let first = text.split(' ').next().unwrap_or_default();
    let is_number = WORDS.iter().any(|word| word.eq_ignore_ascii_case(first));
    if is_number {
        let span = reader.span(0, first.len());
        let fault = Diagnostic::new(
            Code::UnreadableLine,
            span,
            format!("`{first}` is a number in letters"),
        );
        reader.report(fault.help("write it in digits, as in `2 eggs`, `1/2 tsp salt` or `10 min rest`"));
    }
    is_number
}

/// Reports a range of amounts.
pub(super) fn report_range(text: &str, reader: &mut Reader<'_>) -> bool {
    let Ok(pair) = grammar::read(Rule::slip_range, text) else {
        return false;
    };
    let rest = pair
        .into_inner()
        .last()
        .map_or(text.len(), |rest| rest.as_span().start());
    let written = text.get(..rest).unwrap_or_default().trim_end();
    let fault = Diagnostic::new(
        Code::WeightRange,
        reader.span(0, written.len()),
        format!("`{written}` is a range, not an amount"),
    );
    reader.report(
        fault.label("only times and temperatures are ranges").help(
            "write one amount, and the leeway in the prose below; a time wants its unit, as in `10-14 h`",
        ),
    );
    true
}

/// Reports a unit that is not known, run together with its number or with a sign.
pub(super) fn report_unit(text: &str, reader: &mut Reader<'_>) -> bool {
    let Ok(pair) = grammar::read(Rule::slip_number, text) else {
        return false;
    };
    let Some(rest) = pair.into_inner().nth(1) else {
        return false;
    };
    let start = rest.as_span().start();
    let word = rest.as_str().split(' ').next().unwrap_or_default();
    if !word.starts_with(|first: char| first.is_alphabetic() || "°$€£#".contains(first)) {
        return false;
    }
    report_unknown_unit(word, reader.span(start, start + word.len()), reader);
    true
}

/// Reports a front with nothing behind it; the reader stands at the end of the line.
pub(crate) fn report_bare_front(text: &str, front: &Spanned<Option<Front>>, reader: &mut Reader<'_>) {
    let fault = |message: String| Diagnostic::new(Code::UnreadableLine, front.span, message);
    match &front.value {
        Some(Front::Quantity(_)) => reader.report(
            fault(format!("`{text}` of what"))
                .label("a quantity without a thing")
                .help(format!("write the thing behind it, as in `{text} water`")),
        ),
        Some(Front::Time(_)) => reader.report(
            fault("a time without anything to do".to_owned())
                .help("say what is done in that time, as in `30 min knead` or `then turn out`"),
        ),
        None => {}
    }
}

/// Reports degrees without a thing, in a block where they are none.
fn report_bare_degrees(text: &str, reader: &mut Reader<'_>) -> bool {
    let bare = starts_with_figure(text) && grammar::read(Rule::degrees, text).is_ok();
    if bare {
        let fault = Diagnostic::new(
            Code::UnreadableLine,
            reader.span(0, text.len()),
            format!("`{text}` of what"),
        );
        reader.report(fault.help("write a temperature behind what has it, as in `60 % water at 24 C`"));
    }
    bare
}

/// Reports what stands behind the front of a line and cannot be read.
pub(crate) fn report_tail(text: &str, home: Home, rule: Rule, misfit: &Misfit, reader: &mut Reader<'_>) {
    report_misfit(text, home, rule, misfit, reader);
}

/// Reports an entry that has its place in a block of another kind.
fn report_strange_entry(text: &str, home: Home, reader: &mut Reader<'_>) -> bool {
    let help = match home {
        Home::Record | Home::Ingredient if opens_with(text, "without") => {
            "`without` takes something out in a `variation`"
        }
        Home::Bench
            if ["like", "also", "contains", "counts"]
                .iter()
                .any(|word| opens_with(text, word)) =>
        {
            "this describes an ingredient; put it below `ingredient NAME:` in the bakehouse file"
        }
        _ => return false,
    };
    let fault = Diagnostic::new(
        Code::EntryNotAllowed,
        reader.span(0, text.len()),
        "this entry has no place here",
    );
    reader.report(fault.help(help));
    true
}

/// Reports a line whose quantity stands at its end, and writes it the right way round.
fn report_turned(text: &str, reader: &mut Reader<'_>) -> bool {
    let fits = |amount: &str| {
        [Rule::quantity_value, Rule::time_value]
            .iter()
            .any(|rule| starts_with_figure(amount) && grammar::read(*rule, amount).is_ok())
    };
    let Some((at, _)) = text
        .match_indices(' ')
        .find(|(at, _)| text.get(at + 1..).is_some_and(fits))
    else {
        return false;
    };
    let (thing, amount) = text.split_at(at);
    let (thing, amount) = (
        thing.trim().trim_end_matches([':', ',', '-']).trim_end(),
        amount.trim(),
    );
    let span = reader.span(0, text.len());
    let turned = format!("{amount} {thing}");
    let fault = Diagnostic::new(Code::UnreadableLine, span, "the quantity stands behind the thing");
    reader.report(
        fault
            .label("a line begins with its quantity or its time")
            .help(format!("write `{turned}`"))
            .fix("put the quantity first", span, turned),
    );
    true
}

/// Reports what is left: how far the line fitted, and what the rule wanted there.
fn report_misfit(text: &str, home: Home, rule: Rule, misfit: &Misfit, reader: &mut Reader<'_>) {
    let at = misfit.at.min(text.len());
    if at == 0 || text.len() == at {
        let fault = Diagnostic::new(Code::UnreadableLine, reader.span(0, text.len()), unread(home));
        reader.report(fault.help(forms(home)));
        return;
    }
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        reader.span(at, text.len()),
        format!("from here on this is no {}", words::of(rule)),
    );
    // Where several things would fit, the first of them is no more likely to be meant than the others.
    let fault = match misfit.expected.as_slice() {
        [wanted] => fault.label(format!("no {} here", words::of(*wanted))),
        _ => fault,
    };
    reader.report(fault.help(forms(home)));
}

/// Says what is wrong with a line that fits nothing at all.
const fn unread(home: Home) -> &'static str {
    match home {
        Home::Bench => "this line begins with neither a quantity nor a time",
        Home::Variation => "this line changes nothing in the recipe",
        Home::Record => "this line is no measurement",
        Home::Ingredient => "this line says nothing of an ingredient",
    }
}

/// Says what the entries of a block look like.
const fn forms(home: Home) -> &'static str {
    match home {
        Home::Bench => {
            "a line is a quantity and a thing, or a time and a verb; prose is indented deeper than the entry above it"
        }
        Home::Variation => {
            "write `without X`, `QUANTITY Y instead of X`, `QUANTITY X`, a step, a key or `in STAGE`; \
             prose is indented deeper than the entry above it"
        }
        Home::Record => "write what was read off and of what, as in `24 C dough` or `11 h 40 min bulk`",
        Home::Ingredient => {
            "write one of `like NAME`, `also NAME`, `13.1 % protein`, `364 kcal`, `contains wheat`, `58 g each`, \
             `142 g per cup`, `1.85 EUR per kg`, `counts as flour`, `wet`, `dry`, `absorption +3 %`"
        }
    }
}
