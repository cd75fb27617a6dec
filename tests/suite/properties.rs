//! What has to hold for every bread, tried on breads made at random.
//!
//! Owns how many cases are tried and where a case that once failed is kept: in `tests/cases/properties.txt`,
//! which is committed, and tried first ever after.

mod edits;
mod sums;
mod ways;

use proptest::test_runner::{Config, FileFailurePersistence};

/// Gives the settings for a number of cases.
fn cases(cases: u32) -> Config {
    Config {
        cases,
        failure_persistence: Some(Box::new(FileFailurePersistence::Direct(
            "tests/cases/properties.txt",
        ))),
        ..Config::default()
    }
}
