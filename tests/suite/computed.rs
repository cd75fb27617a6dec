//! A recipe from its text to its sheet in memory, for tests that look at numbers and faults.

use std::sync::Arc;

use loafwright::diag::{Code, Diagnostic, Report, Severity};
use loafwright::model;
use loafwright::model::place::{self, Place};
use loafwright::sheet::{self, Request, Sheet};
use loafwright::source::{Source, SourceId};
use loafwright::syntax;

/// A computed recipe with everything that was found on the way.
pub(crate) struct Computed {
    pub(crate) text: String,
    pub(crate) sheet: Option<Sheet>,
    pub(crate) report: Report,
}

/// Computes a recipe in a place without a bakehouse.
pub(crate) fn compute(text: &str) -> Computed {
    compute_at(&Arc::new(Place::without_bakehouse()), text)
}

/// Computes a recipe in a bakehouse that is given as the text of its file.
pub(crate) fn compute_in(bakehouse: &str, text: &str) -> Computed {
    let source = Source::new(SourceId(1), "bakehouse.loaf", bakehouse);
    let (tree, report) = syntax::parse(&source);
    assert!(report.is_empty(), "{report:#?}");
    let (place, report) = place::settle(&[(&source, &tree)]);
    assert!(report.is_empty(), "{report:#?}");
    compute_at(&Arc::new(place), text)
}

fn compute_at(place: &Arc<Place>, text: &str) -> Computed {
    let source = Source::new(SourceId(0), "test.loaf", text);
    let (tree, mut report) = syntax::parse(&source);
    let checked = model::check(&tree, &source, place);
    report.merge(checked.report);
    let sheet = checked.recipe.and_then(|recipe| {
        let (sheet, found) = sheet::compute(&recipe, &Request::default());
        report.merge(found);
        sheet
    });
    Computed {
        text: text.to_owned(),
        sheet,
        report: report.settled(),
    }
}

impl Computed {
    /// Gives the sheet; the recipe is one that can be computed.
    pub(crate) fn sheet(&self) -> &Sheet {
        let errors: Vec<&Diagnostic> = self
            .report
            .iter()
            .filter(|fault| fault.severity == Severity::Error)
            .collect();
        self.sheet
            .as_ref()
            .unwrap_or_else(|| panic!("no sheet: {errors:#?}\n{}", self.text))
    }

    /// Gives the faults of a code.
    pub(crate) fn faults(&self, code: Code) -> Vec<&Diagnostic> {
        self.report.iter().filter(|fault| fault.code == code).collect()
    }

    /// Gives the ids of the cautions, sorted.
    pub(crate) fn caution_ids(&self) -> Vec<&'static str> {
        let mut ids: Vec<&str> = self.sheet().cautions.iter().map(|caution| caution.id).collect();
        ids.sort_unstable();
        ids
    }

    /// Gives the text that a fault points at.
    pub(crate) fn pointed_at(&self, fault: &Diagnostic) -> &str {
        &self.text[fault.primary.span.start..fault.primary.span.end]
    }
}
