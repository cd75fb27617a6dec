//! The only door to pest: one line and one rule in, a pair or a place of failure out.
//!
//! Pest's types leave this file only towards the lowering files beside it; its error type not at all.

use std::num::NonZeroUsize;
use std::sync::Once;

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::Pair;

/// The generated parser; its rules are the ones of `grammar/loaf.pest`.
#[derive(pest_derive::Parser)]
#[grammar = "../grammar/loaf.pest"]
struct LoafParser;

/// Steps that pest may take on one line.
///
/// No line within the limits comes near it; the net is there for a rule that a later change makes slow.
const CALL_LIMIT: usize = 5_000_000;

/// Why a line does not fit its rule.
#[derive(Debug)]
pub(crate) struct Misfit {
    /// The byte of the line up to which it did fit.
    pub(crate) at: usize,
    /// What would have fitted there.
    pub(crate) expected: Vec<Rule>,
}

/// Reads one text by one rule; what the rule leaves over makes it a misfit.
pub(crate) fn read(rule: Rule, text: &str) -> Result<Pair<'_, Rule>, Misfit> {
    let pair = read_front(rule, text)?;
    let end = pair.as_span().end();
    let left_over = text.get(end..).unwrap_or_default();
    if left_over.trim_start().is_empty() {
        return Ok(pair);
    }
    Err(Misfit {
        at: end,
        expected: Vec::new(),
    })
}

/// Reads the front of a text by one rule.
pub(crate) fn read_front(rule: Rule, text: &str) -> Result<Pair<'_, Rule>, Misfit> {
    static LIMIT: Once = Once::new();
    LIMIT.call_once(|| pest::set_call_limit(NonZeroUsize::new(CALL_LIMIT)));
    match LoafParser::parse(rule, text) {
        Ok(mut pairs) => pairs.next().ok_or(Misfit {
            at: 0,
            expected: vec![rule],
        }),
        Err(error) => Err(misfit_of(error)),
    }
}

fn misfit_of(error: pest::error::Error<Rule>) -> Misfit {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let expected = match error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives,
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    Misfit { at, expected }
}
