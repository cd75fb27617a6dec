//! The faults of a run, in the order of their places.

use super::{Code, Diagnostic, Severity};
use crate::source::Span;

/// A collection of faults that grows as the stages of a run go by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    faults: Vec<Diagnostic>,
}

impl Report {
    /// Starts an empty report.
    #[must_use]
    pub const fn new() -> Self {
        Self { faults: Vec::new() }
    }

    /// Adds a fault.
    pub fn push(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    /// Takes over all faults of another report.
    pub fn merge(&mut self, other: Self) {
        self.faults.extend(other.faults);
    }

    /// Says whether there is an error, so that no card can be trusted.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.has(Severity::Error)
    }

    /// Says whether there is a fault of a severity.
    #[must_use]
    pub fn has(&self, severity: Severity) -> bool {
        self.faults.iter().any(|fault| fault.severity == severity)
    }

    /// Says whether there is a fault of a code.
    #[must_use]
    pub fn has_code(&self, code: Code) -> bool {
        self.faults.iter().any(|fault| fault.code == code)
    }

    /// Counts the faults.
    #[must_use]
    pub fn len(&self) -> usize {
        self.faults.len()
    }

    /// Says whether there is no fault at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.faults.is_empty()
    }

    /// Gives the faults as they came.
    pub fn iter(&self) -> impl Iterator<Item = &Diagnostic> {
        self.faults.iter()
    }

    /// Puts the faults in the order of their places, the graver one first at one place, each once. What was
    /// told as a warning and turned out to be an error there is told as the error.
    #[must_use]
    pub fn settled(mut self) -> Self {
        self.faults.sort_by(|left, right| {
            (
                left.primary.span.source,
                left.primary.span.start,
                left.severity,
                left.code,
            )
                .cmp(&(
                    right.primary.span.source,
                    right.primary.span.start,
                    right.severity,
                    right.code,
                ))
        });
        self.faults.dedup();
        let errors: Vec<(Code, Span)> = self
            .faults
            .iter()
            .filter(|fault| fault.severity == Severity::Error && fault.code.severity() > Severity::Error)
            .map(|fault| (fault.code, fault.primary.span))
            .collect();
        self.faults.retain(|fault| {
            fault.severity == Severity::Error || !errors.contains(&(fault.code, fault.primary.span))
        });
        self
    }

    /// Hands the faults over.
    #[must_use]
    pub fn into_faults(self) -> Vec<Diagnostic> {
        self.faults
    }
}

impl Extend<Diagnostic> for Report {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, faults: I) {
        self.faults.extend(faults);
    }
}
