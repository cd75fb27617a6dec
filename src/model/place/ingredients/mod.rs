//! The ingredients of the bakehouse: what its files say of them, settled into whole ingredients.
//!
//! ```text
//! blocks ── written ─ lines of one entry, each in its range
//!        ── gathered ─ one entry an ingredient, nearer lines before farther ones
//!        ── like ───── what each starts from, without rounds
//!        ── settled ── whole ingredients over the built-in table
//! ```

mod gather;
mod like;
mod nutrient;
mod settle;
mod written;

use std::collections::BTreeMap;
use std::sync::Arc;

use gather::Entry;

use crate::diag::{Code, Diagnostic, Report, nearest};
use crate::model::catalog::{self, Catalog, fold_name};
use crate::source::{Source, Span};
use crate::syntax::tree::Tree;

/// The entries of all files, each under the folded name of the ingredient that it is about.
#[derive(Debug, Default)]
struct Entries {
    by_subject: BTreeMap<String, Entry>,
    /// The other folded names, with the subject that they lead to.
    others: BTreeMap<String, String>,
}

/// Lays the entries of all files, nearest first, over the built-in table.
pub(super) fn settle(
    files: &[(&Source, &Tree)],
    currency: Option<&str>,
    report: &mut Report,
) -> Arc<Catalog> {
    let builtin = catalog::builtin();
    let mut entries = gather::entries(files, report);
    if entries.by_subject.is_empty() {
        return Arc::clone(builtin);
    }
    like::mend(&mut entries, report);
    let ingredients = settle::ingredients(&entries, currency, report);
    Arc::new(Catalog::extended(builtin, ingredients))
}

impl Entries {
    fn get(&self, subject: &str) -> Option<&Entry> {
        self.by_subject.get(subject)
    }

    /// Finds the subject of the entry that answers to a name: by its own name first, else by one that it is
    /// also known by, else because the table has the name for an ingredient with an entry.
    fn subject_of(&self, name: &str) -> Option<&str> {
        let folded = fold_name(name);
        let builtin = || {
            catalog::builtin()
                .lookup(&folded)
                .map(|found| fold_name(&found.name))
        };
        let own = |subject: &str| {
            self.by_subject
                .get_key_value(subject)
                .map(|(key, _)| key.as_str())
        };
        own(&folded)
            .or_else(|| self.others.get(&folded).and_then(|subject| own(subject)))
            .or_else(|| own(&builtin()?))
    }
}

/// Makes the fault of a line in an ingredient's entry that cannot be.
fn bad(span: Span, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::new(Code::BadIngredient, span, message).help(help)
}
