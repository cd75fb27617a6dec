//! Slips of the values of keys.

use super::entries::{report_range, report_unit};
use super::figures::report_value_figure;
use super::units::report_unit_slip;
use crate::diag::{Code, Diagnostic};
use crate::syntax::entry::starts_with_figure;
use crate::syntax::grammar::{self, Misfit, Rule};
use crate::syntax::reader::Reader;
use crate::syntax::words;

/// Reports a value that its rule does not take.
pub(crate) fn report_value(text: &str, rule: Rule, misfit: &Misfit, reader: &mut Reader<'_>) {
    let below_nought = rule == Rule::temperature_value && text.starts_with('-');
    let told =
        !below_nought && report_value_figure(text, reader) || is_amount(rule) && report_amount(text, reader);
    if told {
        return;
    }
    let at = misfit.at.min(text.len());
    let span = reader.span(0, text.len());
    let what = words::of(rule);
    let lacks_piece = rule == Rule::makes_value && grammar::read(Rule::number_value, text).is_ok();
    let message = if text.is_empty() {
        format!("a {what} is missing here")
    } else if lacks_piece {
        format!("`{text}` does not say what the pieces are")
    } else {
        format!("`{text}` is no {what}")
    };
    let fault = Diagnostic::new(Code::BadValue, span, message);
    let fault = if at > 0 && at < text.len() {
        fault.other(reader.span(0, at), "up to here it can be read")
    } else {
        fault
    };
    // Which key is read is known to the caller only, who shows the mend for it.
    reader.report(match rule {
        Rule::tin_value => fault.help(
            "write length x width x height, as in `lidded 20 x 10 x 10 cm`; `round` with diameter x height; \
             top / base x height; or a volume",
        ),
        Rule::makes_value if lacks_piece => fault.help(format!(
            "write a word for them behind the number, as in `{text} buns` or `{text} loaves of 650 g`"
        )),
        Rule::makes_value => {
            fault.help("write a number and what the pieces are, as in `2 loaves of 650 g` or `24 buns`")
        }
        _ => fault,
    });
}

/// Reports the slips of a value that is one amount.
fn report_amount(text: &str, reader: &mut Reader<'_>) -> bool {
    let of_another_kind = |rule| grammar::read(rule, text).is_ok();
    !of_another_kind(Rule::number_value)
        && !of_another_kind(Rule::degrees)
        && (report_range(text, reader) || report_unit(text, reader) || report_last_word(text, reader))
}

/// Reports a unit behind a space that was meant for another.
fn report_last_word(text: &str, reader: &mut Reader<'_>) -> bool {
    let Some((_, word)) = text.rsplit_once(' ').filter(|_| starts_with_figure(text)) else {
        return false;
    };
    report_unit_slip(word, reader.span(text.len() - word.len(), text.len()), reader)
}

/// Says whether a value is one amount, whose unit may be misspelt.
fn is_amount(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::weight_value
            | Rule::percent_value
            | Rule::quantity_value
            | Rule::time_value
            | Rule::volume_value
    )
}
