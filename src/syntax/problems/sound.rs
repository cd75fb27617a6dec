//! Slips that the grammar takes for words: a number without its unit, two amounts on a line.
//!
//! A line with one of these would be printed as it stands, with its number left out of every sum; so each is
//! a fault of its own.

use super::units::report_unit_slip;
use crate::diag::{Code, Diagnostic, nearest};
use crate::source::{Span, Spanned};
use crate::syntax::entry::Home;
use crate::syntax::grammar::{self, Rule};
use crate::syntax::reader::Reader;
use crate::syntax::tree::{Cue, FormulaLine, Quantity, StepLine};

/// Looks for slips in what is a formula line by its form; says whether the line can be trusted.
pub(crate) fn expect_sound_formula(line: &FormulaLine, home: Home, reader: &mut Reader<'_>) -> bool {
    let name = &line.name;
    if matches!(line.quantity.value, Quantity::Count(_)) && report_counted(name, line.quantity.span, reader) {
        return false;
    }
    if home != Home::Variation && name.value.contains(" instead of ") {
        let fault = Diagnostic::new(Code::EntryNotAllowed, name.span, "`instead of` has no place here");
        reader.report(fault.help("put the line into a `variation`"));
        return false;
    }
    let prepared = line.preparation.as_ref();
    if let Some(words) = [Some(name), prepared]
        .into_iter()
        .flatten()
        .find(|words| is_hydration(&words.value))
    {
        let fault = Diagnostic::new(Code::UnreadableLine, words.span, "a hydration in the wrong place");
        reader.report(fault.help("write it behind the name, as in `40 % starter hydration 80 %`"));
        return false;
    }
    let has_digit = name.value.bytes().any(|byte| byte.is_ascii_digit());
    !has_digit
        || !(report_second_amount(name, reader)
            || report_bare_degrees(&name.value, name.span, reader)
            || line.at.is_none() && report_lone_degrees(&name.value, name, reader))
}

/// Says whether words speak of `80 % hydration`.
fn is_hydration(words: &str) -> bool {
    words.contains('%') && words.contains("hydration")
}

/// Looks at the word behind a number that has no unit.
fn report_counted(name: &Spanned<String>, quantity: Span, reader: &mut Reader<'_>) -> bool {
    let first = name.value.split(' ').next().unwrap_or_default();
    let span = Span {
        end: name.span.start + first.len(),
        ..name.span
    };
    let multiplied = matches!(first, "x" | "×" | "X");
    if multiplied
        && name
            .value
            .split(' ')
            .nth(1)
            .is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()))
    {
        let fault = Diagnostic::new(Code::BadNumber, quantity.to(span), "two numbers to be multiplied");
        reader.report(fault.help("multiply them out: one line, one amount"));
        return true;
    }
    report_unit_slip(first, span, reader)
}

/// Reports a weight in the middle of a name.
fn report_second_amount(name: &Spanned<String>, reader: &mut Reader<'_>) -> bool {
    let weighed = |words: &str| {
        words.starts_with(|first: char| first.is_ascii_digit())
            && grammar::read(Rule::slip_weight, words).is_ok()
    };
    let mut words = name.value.match_indices(' ').map(|(at, _)| at + 1);
    let Some(at) = words.find(|at| name.value.get(*at..).is_some_and(weighed)) else {
        return false;
    };
    let fault = Diagnostic::new(Code::UnreadableLine, name.span, "a second weight on one line");
    let second = name.value.get(at..).unwrap_or_default();
    reader.report(
        fault
            .label(format!("`{second}` is read as a part of the name"))
            .help("give each thing a line of its own"),
    );
    true
}

/// Reports `at 180`, `at 425 degrees` and `to 35` without C or F; the words have single spaces.
fn report_bare_degrees(words: &str, span: Span, reader: &mut Reader<'_>) -> bool {
    let mut pieces = words.split(' ').peekable();
    while let Some(piece) = pieces.next() {
        if !matches!(piece, "at" | "to") {
            continue;
        }
        let number = pieces.peek().and_then(|next| bare_degrees(next));
        // `rolled out to 5` may be anything; degrees to come to have two digits and more.
        let Some(number) = number.filter(|number| piece == "at" || number.len() > 1) else {
            continue;
        };
        let mut behind = pieces.clone().skip(1);
        let ends = match behind.next() {
            None | Some("for" | "with" | "then" | "and" | "until" | "in") => true,
            Some(word) if is_degree_word(word) => behind.next().is_none_or(|scale| !is_scale(scale)),
            Some(word) => !is_scale(word) && nearest(word, ["celsius", "fahrenheit"]).is_some(),
        };
        if ends
            || pieces
                .peek()
                .is_some_and(|next| next.ends_with([',', ';', '°', 'º']))
        {
            let message = format!("`{piece} {number}` does not say in which degrees");
            let place = place_of(&format!("{piece} {number}"), words, span);
            reader.report(
                Diagnostic::new(Code::BadTemperature, place, message)
                    .help(format!("write `{piece} {number} C` or `{piece} {number} F`")),
            );
            return true;
        }
    }
    false
}

/// Reports `bake 230 C`, degrees that nothing leads in and that would be no more than words.
fn report_lone_degrees(words: &str, whole: &Spanned<String>, reader: &mut Reader<'_>) -> bool {
    let starts = words.match_indices(' ').map(|(at, _)| at + 1);
    let found = starts.filter_map(|at| {
        let rest = words.get(at..)?;
        let pair = grammar::read_front(Rule::degrees, rest).ok();
        pair.filter(|_| rest.starts_with(|first: char| first.is_ascii_digit()))
    });
    let Some(degrees) = found.map(|pair| pair.as_str().to_owned()).next() else {
        return false;
    };
    let place = place_of(&degrees, &whole.value, whole.span);
    let fault = Diagnostic::new(
        Code::BadTemperature,
        place,
        format!("`{degrees}` stands without `at` or `to`"),
    );
    reader.report(fault.label("read as words").help(format!("write `at {degrees}`")));
    true
}

/// Finds the place of some words in a line; where it cannot be told for spaces in between, the whole of it.
fn place_of(words: &str, line: &str, span: Span) -> Span {
    match line.find(words).filter(|_| line.len() == span.end - span.start) {
        Some(at) => Span {
            start: span.start + at,
            end: span.start + at + words.len(),
            ..span
        },
        None => span,
    }
}

/// Gives the digits of a word that could be degrees, or a range of them.
fn bare_degrees(word: &str) -> Option<&str> {
    let digits = word.trim_end_matches([',', ';', '°', 'º']);
    let plain = |digits: &str| {
        !digits.is_empty() && digits.len() <= 3 && digits.bytes().all(|byte| byte.is_ascii_digit())
    };
    let mut sides = digits.splitn(2, ['-', '–']);
    sides.all(plain).then_some(digits)
}

/// Says whether a word stands for degrees, but not for which ones.
fn is_degree_word(word: &str) -> bool {
    let word = word.trim_end_matches([',', ';', '.']).to_lowercase();
    matches!(word.as_str(), "degrees" | "degree" | "deg" | "°" | "º")
}

/// Says whether a word is C or F.
fn is_scale(word: &str) -> bool {
    grammar::read_front(Rule::degree_unit, word).is_ok()
}

/// Looks for slips in what is a step by its form; says whether the line can be trusted.
pub(crate) fn expect_sound_step(line: &StepLine, reader: &mut Reader<'_>) -> bool {
    if line.words.is_empty() {
        let fault = Diagnostic::new(
            Code::UnreadableLine,
            line.text.span,
            "a time without anything to do",
        );
        reader.report(fault.help("say what is done in that time, as in `30 min cool to 35 C`"));
        return false;
    }
    let has_digit = line.text.value.bytes().any(|byte| byte.is_ascii_digit());
    if !has_digit && !line.words.contains("fold") {
        return true;
    }
    let has_degrees = line.at.is_some() || line.to.is_some();
    !(report_bare_degrees(&line.text.value, line.text.span, reader)
        || !has_degrees && report_lone_degrees(&line.words, &line.text, reader)
        || report_bare_cue(line, reader)
        || report_bare_time(line, reader)
        || report_folds(line, reader))
}

/// Reports `until core 92`.
fn report_bare_cue(line: &StepLine, reader: &mut Reader<'_>) -> bool {
    let Some(Spanned {
        value: Cue::Words(words),
        span,
    }) = &line.until
    else {
        return false;
    };
    let number = words
        .strip_prefix("core ")
        .or_else(|| words.strip_prefix("dough "));
    let number = number.map(|number| number.split_once(' ').unwrap_or((number, "")));
    let number = number.filter(|(_, behind)| behind.is_empty() || is_degree_word(behind));
    let Some(number) = number.and_then(|(number, _)| bare_degrees(number)) else {
        return false;
    };
    let fault = Diagnostic::new(
        Code::BadTemperature,
        *span,
        format!("`until {words}` does not say in which degrees"),
    );
    reader.report(fault.help(format!("write `{number} C` or `{number} F`")));
    true
}

/// Reports `1 h 30 bulk`, a time whose second number has no unit.
fn report_bare_time(line: &StepLine, reader: &mut Reader<'_>) -> bool {
    let first = line.text.value.split(' ').next().unwrap_or_default();
    let bare = first.len() == 2 && first.bytes().all(|byte| byte.is_ascii_digit());
    if bare {
        let span = Span {
            end: line.text.span.start + first.len(),
            ..line.text.span
        };
        let fault = Diagnostic::new(
            Code::UnknownUnit,
            line.time.span.to(span),
            format!("{first} of which unit"),
        );
        reader.report(fault.help("write the unit behind each number, as in `1 h 30 min`"));
    }
    bare
}

/// Reports folds that the line mentions but nobody can count.
fn report_folds(line: &StepLine, reader: &mut Reader<'_>) -> bool {
    let words: Vec<&str> = line.words.split(' ').collect();
    let with = words.iter().position(|word| *word == "with");
    let uncounted = line.folds.is_none()
        && with.is_some_and(|at| {
            words
                .iter()
                .skip(at + 1)
                .take(3)
                .any(|word| word.starts_with("fold"))
        });
    let no_unit = line.folds.is_some() && words.contains(&"every");
    if uncounted || no_unit {
        let fault = Diagnostic::new(Code::BadNumber, line.text.span, "these folds cannot be counted");
        reader.report(fault.help("write `with 2 folds every 45 min`, one number in digits and one time"));
    }
    uncounted || no_unit
}
