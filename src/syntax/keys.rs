//! `key: value` lines, and which keys there are.

use super::formula::report_long_name;
use super::grammar::{self, Rule};
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
    kind.keys().iter().copied().find(|key| same_words(key, written))
}

/// Compares a key with what was written, case and runs of spaces aside.
fn same_words(key: &str, written: &str) -> bool {
    if key.eq_ignore_ascii_case(written) {
        return true;
    }
    key.contains(' ') && written.contains("  ") && key.eq_ignore_ascii_case(&single_spaced(written))
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

/// Reads a key line whose key is known to be one.
pub(crate) fn parse_key_line(text: &str, reader: &mut Reader<'_>) -> Option<KeyLine> {
    let pair = grammar::read(Rule::key_line, text).ok()?;
    let mut pairs = pair.into_inner();
    let (key, value) = (pairs.next()?, pairs.next()?);
    let key = reader.words_of(&key).map(|key| key.to_ascii_lowercase());
    let value_span = value.as_span();
    let kept = value.as_str().trim_end();
    let start = value_span.start();
    let value = Spanned::new(kept.to_owned(), reader.span(start, start + kept.len()));
    if key.value == "title" && kept.len() > limits::TITLE_BYTES {
        report_long_name(value.span, "a title", limits::TITLE_BYTES, reader);
    }
    let end = if kept.is_empty() {
        text.find(':').unwrap_or_default() + 1
    } else {
        start + kept.len()
    };
    Some(KeyLine {
        span: reader.span(key.span.start - reader.base(), end),
        key,
        value,
        comment: None,
    })
}
