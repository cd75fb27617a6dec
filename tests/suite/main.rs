//! The one integration test binary: module lines and nothing else.
#![expect(
    clippy::disallowed_methods,
    reason = "tests read the tree, write into a folder of their own and start the program"
)]
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not as it should be"
)]
#![expect(
    clippy::format_collect,
    clippy::similar_names,
    clippy::match_ref_pats,
    clippy::needless_borrowed_reference,
    reason = "tests say plainly what they mean"
)]

mod adapt;
mod arithmetic;
mod book;
mod bread;
mod build;
mod cards;
mod catalog;
mod cautions;
mod cautions_as_written;
mod cautions_of_variations;
mod check;
mod cli;
mod columns;
mod compare;
mod computed;
mod defaults;
mod disk;
mod explain;
mod format;
mod house_rules;
mod kitchen;
mod model;
mod place;
mod properties;
mod published;
mod readme;
mod reference;
mod schedule;
mod sheet;
mod sizes;
mod syntax;
mod templates;
mod usual;
mod warmth;
mod watch;
mod wishes;
mod worked;
