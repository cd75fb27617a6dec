//! Slips of the values of keys.

use super::entries::{report_range, report_unit};
use super::figures::report_figure;
use crate::diag::{Code, Diagnostic};
use crate::syntax::grammar::{self, Misfit, Rule};
use crate::syntax::reader::Reader;
use crate::syntax::words;

/// Reports a value that its rule does not take.
pub(crate) fn report_value(text: &str, rule: Rule, misfit: &Misfit, reader: &mut Reader<'_>) {
    if text.is_empty() {
        let fault = Diagnostic::new(
            Code::BadValue,
            reader.span(0, 0),
            "nothing stands behind the colon",
        );
        reader.report(fault.help(words::example(rule)));
        return;
    }
    let whole_number = grammar::read(Rule::number_value, text).is_ok();
    let below_nought = rule == Rule::temperature_value && text.starts_with('-');
    if !below_nought && report_figure(text, reader)
        || is_amount(rule) && !whole_number && (report_range(text, reader) || report_unit(text, reader))
    {
        return;
    }
    let at = misfit.at.min(text.len());
    let span = reader.span(0, text.len());
    let fault = Diagnostic::new(
        Code::BadValue,
        span,
        format!("`{text}` is no {}", words::of(rule)),
    );
    let fault = if at > 0 && at < text.len() {
        fault.other(reader.span(at, text.len()), "up to here it can be read")
    } else {
        fault
    };
    reader.report(fault.help(words::example(rule)));
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
