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
pub(crate) struct Misfit {
    /// The byte of the line up to which it did fit.
    pub(crate) at: usize,
    /// What would have fitted there.
    pub(crate) expected: Vec<Rule>,
}

/// Reads one line, or one value, by one rule; the rule itself sees to it that nothing is left over.
pub(crate) fn read(rule: Rule, text: &str) -> Result<Pair<'_, Rule>, Misfit> {
    static LIMIT: Once = Once::new();
    LIMIT.call_once(|| pest::set_call_limit(NonZeroUsize::new(CALL_LIMIT)));
    match LoafParser::parse(rule, text) {
        Ok(mut pairs) => pairs.next().ok_or(Misfit {
            at: 0,
            expected: vec![rule],
        }),
        Err(error) => {
            let at = match error.location {
                InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
            };
            let expected = match error.variant {
                ErrorVariant::ParsingError { positives, .. } => positives,
                ErrorVariant::CustomError { .. } => Vec::new(),
            };
            Err(Misfit { at, expected })
        }
    }
}
