//! `key: value` lines, and which keys there are.

use super::formula::report_long_name;
use super::limits;
use super::reader::{Reader, single_spaced};
use super::tree::{BAKEHOUSE_KEYS, FileKind, KeyLine, RECIPE_KEYS};
use crate::source::Spanned;

impl FileKind {
    /// Gives the keys that belong into such a file.
    #[must_use]
    pub const fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Recipe => RECIPE_KEYS,
            Self::Bakehouse => BAKEHOUSE_KEYS,
        }
    }

    /// Gives the other kind.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Recipe => Self::Bakehouse,
            Self::Bakehouse => Self::Recipe,
        }
    }
}

/// Finds a key among those of a kind of file, whatever its case and spacing.
pub(crate) fn known_key(written: &str, kind: FileKind) -> Option<&'static str> {
    let spaced;
    let written = if written.contains("  ") {
        spaced = single_spaced(written);
        &spaced
    } else {
        written
    };
    let mut keys = kind.keys().iter().copied();
    keys.find(|key| key.eq_ignore_ascii_case(written))
}

/// Gives what stands before the first colon, if it could be a key.
pub(crate) fn before_colon(text: &str) -> Option<&str> {
    text.split_once(':').map(|(key, _)| key.trim_end())
}

/// Says whether an entry of a variation is a key line, known or misspelt, and no other entry with a colon.
pub(crate) fn is_key_line(text: &str) -> bool {
    before_colon(text).is_some_and(|key| {
        known_key(key, FileKind::Recipe).is_some()
            || !super::entry::looks_like_entry(text) && key.split(' ').count() <= 2
    })
}

/// Says whether a line is one of a recipe's keys.
pub(crate) fn is_known_key_line(text: &str) -> bool {
    before_colon(text).is_some_and(|key| known_key(key, FileKind::Recipe).is_some())
}

/// Splits a key line at its first colon.
pub(crate) fn parse_key_line(text: &str, reader: &mut Reader<'_>) -> Option<KeyLine> {
    let (written, rest) = text.split_once(':')?;
    let key = written.trim_end();
    let value = rest.trim_start();
    let start = text.len() - value.len();
    let value = value.trim_end();
    let end = start + value.len();
    let value_span = if value.is_empty() {
        reader.span(written.len() + 1, written.len() + 1)
    } else {
        reader.span(start, end)
    };
    if key == "title" && value.len() > limits::TITLE_BYTES {
        report_long_name(value_span, "a title", limits::TITLE_BYTES, reader);
    }
    let mut name = single_spaced(key);
    name.make_ascii_lowercase();
    Some(KeyLine {
        span: reader.span(0, end.max(written.len() + 1)),
        key: Spanned::new(name, reader.span(0, key.len())),
        value: Spanned::new(value.to_owned(), value_span),
        comment: None,
    })
}
