//! Formula lines: a quantity, a thing, and the clauses behind it.

use pest::iterators::Pair;

use super::amounts::{next_number, share_of};
use super::entry::{Home, first_word_of, starts_with_figure};
use super::grammar::{self, Rule};
use super::heat::{lower_degrees, lower_temperature};
use super::limits;
use super::problems;
use super::reader::{Reader, single_spaced};
use super::tree::{FormulaLine, Quantity, TemperatureWord};
use crate::diag::{Code, Diagnostic};
use crate::quantity::Ratio;
use crate::source::{Span, Spanned};

/// Words that open a clause.
const CLAUSES: &[&str] = &["at", "as", "hydration"];

/// Words that open a clause in a variation only.
const CHANGES: &[&str] = &["instead", "after"];

/// Reads what stands behind the quantity of a line.
pub(crate) fn parse_formula(
    quantity: Spanned<Quantity>,
    tail: &str,
    home: Home,
    reader: &mut Reader<'_>,
) -> Option<FormulaLine> {
    let rule = match home {
        Home::Variation if first_word_of(tail, CHANGES).is_some() => Rule::change_tail,
        _ if tail.contains(',') || first_word_of(tail, CLAUSES).is_some() => Rule::line_tail,
        _ => {
            let name = Spanned::new(single_spaced(tail), reader.span(0, tail.len()));
            return finish(new_line(quantity, without_of(name)), home, reader);
        }
    };
    let mut pairs = match grammar::read(rule, tail) {
        Ok(pair) => pair.into_inner(),
        Err(misfit) => {
            problems::report_tail(tail, home, rule, &misfit, reader);
            return None;
        }
    };
    let name = without_of(reader.words_of(&pairs.next()?));
    let mut line = new_line(quantity, name);
    for clause in pairs {
        lower_clause(clause, &mut line, reader);
    }
    take_degrees(&mut line, reader);
    finish(line, home, reader)
}

const fn new_line(quantity: Spanned<Quantity>, name: Spanned<String>) -> FormulaLine {
    FormulaLine {
        quantity,
        name,
        hydration: None,
        at: None,
        as_known: None,
        preparation: None,
        instead_of: None,
        after: None,
    }
}

/// Judges a line that has been read.
fn finish(line: FormulaLine, home: Home, reader: &mut Reader<'_>) -> Option<FormulaLine> {
    let sound = expect_name_length(&line.name, reader) && problems::expect_sound_formula(&line, home, reader);
    if sound {
        report_nought(&line, reader);
    }
    sound.then_some(line)
}

/// Takes `30 C` behind the comma for the temperature that it is.
fn take_degrees(line: &mut FormulaLine, reader: &mut Reader<'_>) {
    let Some(words) = line
        .preparation
        .as_ref()
        .filter(|words| starts_with_figure(&words.value))
    else {
        return;
    };
    let inner = grammar::read(Rule::degrees, &words.value);
    if line.at.is_none()
        && let Ok(pair) = inner
    {
        let start = reader.offset(words.span.start);
        let degrees = lower_degrees(pair, &mut reader.from(start));
        line.at = degrees.map(|range| Spanned::new(TemperatureWord::Degrees(range), words.span));
        line.preparation = None;
    }
}

/// Reads what follows the name; a clause that has a fault is reported and left out of the line.
fn lower_clause(clause: Pair<'_, Rule>, line: &mut FormulaLine, reader: &mut Reader<'_>) {
    match clause.as_rule() {
        Rule::hydration => line.hydration = lower_hydration(clause, reader),
        Rule::at => line.at = inside(clause).and_then(|inner| lower_temperature(inner, reader)),
        Rule::as_known => line.as_known = inside(clause).map(|inner| reader.words_of(&inner)),
        Rule::instead_of => line.instead_of = inside(clause).map(|inner| reader.words_of(&inner)),
        Rule::after => line.after = inside(clause).map(|inner| reader.words_of(&inner)),
        _ => {
            let words = reader.words_of(&clause);
            line.preparation = Some(words).filter(|words| !words.value.is_empty());
        }
    }
}

/// Gives the one pair inside another.
pub(crate) fn inside(pair: Pair<'_, Rule>) -> Option<Pair<'_, Rule>> {
    pair.into_inner().next()
}

fn lower_hydration(clause: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Ratio>> {
    let mut pairs = clause.into_inner();
    let start = pairs.peek()?.as_span().start();
    let percent = next_number(&mut pairs, reader)?;
    let span = reader.span(start, pairs.next()?.as_span().end());
    Some(Spanned::new(share_of(&percent, span, reader)?, span))
}

/// Takes `of` and `of the` off a name, so that `2 cups of the flour` is 2 cups of flour.
fn without_of(name: Spanned<String>) -> Spanned<String> {
    let written = name.value.as_str();
    let Some(rest) = written
        .strip_prefix("of ")
        .or_else(|| written.strip_prefix("the "))
    else {
        return name;
    };
    let kept = rest.strip_prefix("the ").unwrap_or(rest);
    let start = name.span.end - kept.len().min(name.span.end - name.span.start);
    Spanned::new(kept.to_owned(), Span { start, ..name.span })
}

/// Reports a name past the limit and says whether it is within.
pub(crate) fn expect_name_length(name: &Spanned<String>, reader: &mut Reader<'_>) -> bool {
    let fits = name.value.len() <= limits::NAME_BYTES;
    if !fits {
        report_long_name(name.span, "a name", limits::NAME_BYTES, reader);
    }
    fits
}

/// Reports a name or title past its limit.
pub(crate) fn report_long_name(span: Span, what: &str, limit: usize, reader: &mut Reader<'_>) {
    let message = format!("{what} of more than {limit} bytes");
    let help = "shorten it; what else there is to say goes into the prose below";
    reader.fault(Code::NameTooLong, span, message, help);
}

/// Warns of a placeholder.
fn report_nought(line: &FormulaLine, reader: &mut Reader<'_>) {
    let nought = match &line.quantity.value {
        Quantity::Weight { grams, .. } => grams.is_zero(),
        Quantity::Percent(count)
        | Quantity::Parts(count)
        | Quantity::Count(count)
        | Quantity::Volume { count, .. } => count.is_zero(),
        Quantity::All | Quantity::Some => false,
    };
    if nought {
        let message = format!("nothing of {} goes in", line.name.value);
        reader.report(
            Diagnostic::new(Code::ZeroAmount, line.quantity.span, message)
                .help("give the amount, or take the line out"),
        );
    }
}
