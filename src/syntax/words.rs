//! The rules of the grammar in a baker's words.

use super::grammar::Rule;

/// Names what a rule reads, with its article where it takes one.
pub(crate) fn of(rule: Rule) -> &'static str {
    match rule {
        Rule::formula_line | Rule::change_line => "formula line",
        _ => "this",
    }
}
