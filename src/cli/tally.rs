//! How many faults of each severity a run has met, and what follows from it.

use super::Exit;
use crate::diag::{Diagnostic, Report, Severity};

/// Counts by severity.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tally {
    errors: usize,
    warnings: usize,
    cautions: usize,
    hints: usize,
}

impl Tally {
    /// Counts faults.
    pub(super) fn of(faults: &[Diagnostic]) -> Self {
        Self::of_all(|| faults.iter())
    }

    /// Counts the faults of a report.
    pub(super) fn of_report(report: &Report) -> Self {
        Self::of_all(|| report.iter())
    }

    fn of_all<'run, I: Iterator<Item = &'run Diagnostic>>(faults: impl Fn() -> I) -> Self {
        let count = |severity| faults().filter(|fault| fault.severity == severity).count();
        Self {
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            cautions: count(Severity::Caution),
            hints: count(Severity::Hint),
        }
    }

    /// Adds the counts of another file.
    pub(super) const fn plus(self, other: Self) -> Self {
        Self {
            errors: self.errors + other.errors,
            warnings: self.warnings + other.warnings,
            cautions: self.cautions + other.cautions,
            hints: self.hints + other.hints,
        }
    }

    /// Says whether nothing was met at all.
    pub(super) const fn is_clean(self) -> bool {
        self.errors + self.warnings + self.cautions + self.hints == 0
    }

    /// Gives the exit code, where warnings may count as errors do.
    pub(super) const fn exit(self, deny_warnings: bool) -> Exit {
        if self.errors > 0 || deny_warnings && self.warnings > 0 {
            Exit::Faults
        } else {
            Exit::Fine
        }
    }

    /// Says the counts in words: `1 error, 2 hints`, or `no faults`.
    pub(super) fn words(self) -> String {
        let parts = [
            (self.errors, "error"),
            (self.warnings, "warning"),
            (self.cautions, "caution"),
            (self.hints, "hint"),
        ];
        let named: Vec<String> = parts
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| counted(count, word))
            .collect();
        if named.is_empty() {
            "no faults".to_owned()
        } else {
            named.join(", ")
        }
    }
}

/// Gives a number with its noun: `1 recipe`, `2 recipes`.
pub(super) fn counted(count: usize, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}
