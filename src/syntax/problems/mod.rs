//! What is wrong with a line that its rule does not take, in a baker's words.
//!
//! The grammar says only how far a line fitted. The slips that bakers make most are told apart here, each
//! with its own sentence; what is left gets the grammar's own expectation in words.

mod entries;
mod figures;
mod heads;
mod lines;
mod sound;
mod units;
mod values;

pub(crate) use entries::{report_bare_front, report_entry, report_tail};
pub(crate) use heads::{
    Resolved, report_header, report_header_colon, report_no_colon, report_text_behind_header,
    report_unknown_key, resolve_header,
};
pub(crate) use lines::{report_long_line, report_merge_mark, report_outside_block, report_unindented};
pub(crate) use sound::{expect_sound_formula, expect_sound_step};
pub(crate) use values::report_value;
