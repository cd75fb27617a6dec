//! Formula lines: a quantity, a thing, and the clauses behind it.

use pest::iterators::Pair;

use super::amounts::{lower_quantity, next_share};
use super::grammar::Rule;
use super::heat::lower_temperature;
use super::limits;
use super::reader::Reader;
use super::tree::{FormulaLine, Quantity};
use crate::diag::{Code, Diagnostic};
use crate::quantity::Ratio;
use crate::source::{Span, Spanned};

/// Reads a `formula_line`, or in a variation a `change_line`.
pub(crate) fn lower_formula(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<FormulaLine> {
    let mut pairs = pair.into_inner();
    let first = pairs.next()?;
    let mut span = reader.span_of(&first);
    // A count takes in the spaces that tell it from a unit.
    span.end -= first.as_str().len() - first.as_str().trim_end().len();
    let quantity = lower_quantity(first, reader);
    let name = reader.words_of(&pairs.next()?);
    let sound = expect_name_length(&name, reader);
    let mut line = FormulaLine {
        quantity: Spanned::new(quantity.clone().unwrap_or(Quantity::Some), span),
        name,
        hydration: None,
        at: None,
        as_known: None,
        preparation: None,
        instead_of: None,
        after: None,
    };
    for clause in pairs {
        lower_clause(clause, &mut line, reader);
    }
    quantity.filter(|_| sound)?;
    report_nought(&line, reader);
    Some(line)
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
    let end = pairs.clone().last()?.as_span().end();
    let share = next_share(&mut pairs, reader)?;
    Some(Spanned::new(share, reader.span(start, end)))
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
        Quantity::Percent(count) | Quantity::Parts(count) | Quantity::Count(count) => count.is_zero(),
        Quantity::Volume { count, .. } => count.is_zero(),
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
