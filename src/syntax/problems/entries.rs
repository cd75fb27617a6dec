//! Slips of entries.

use crate::diag::{Code, Diagnostic};
use crate::syntax::entry::Home;
use crate::syntax::grammar::Rule;
use crate::syntax::reader::Reader;
use crate::syntax::tree::{FormulaLine, StepLine};
use crate::syntax::words;

/// Reports an entry that its rule does not take.
pub(crate) fn report_entry(
    text: &str,
    _home: Home,
    rule: Rule,
    at: usize,
    expected: &[Rule],
    reader: &mut Reader<'_>,
) {
    let span = reader.span(0, text.len());
    let at = at.min(text.len());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        format!("this is no {}", words::of(rule)),
    );
    let fault = match expected.first() {
        Some(rule) => fault.other(
            reader.span(at, text.len()),
            format!("expected {}", words::of(*rule)),
        ),
        None => fault,
    };
    reader.report(fault);
}

/// Looks for slips that the grammar takes for words; says whether the line can be trusted.
pub(crate) fn expect_sound_formula(_line: &FormulaLine, _home: Home, _reader: &mut Reader<'_>) -> bool {
    true
}

/// Looks for slips that the grammar takes for words; says whether the line can be trusted.
pub(crate) fn expect_sound_step(_line: &StepLine, _reader: &mut Reader<'_>) -> bool {
    true
}
