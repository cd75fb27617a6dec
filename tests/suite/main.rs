//! The one integration test binary: module lines and nothing else.

mod catalog;
