//! Text to lines: where each begins, how far it is indented, where its comment starts.

use std::borrow::Cow;
use std::ops::Range;

/// One line of a text, without its line end.
#[derive(Clone, Copy)]
pub(crate) struct Line<'t> {
    /// First byte of the line in the text.
    pub(crate) start: usize,
    /// White space in front.
    pub(crate) indent: &'t str,
    /// What follows, white space at its end taken off; empty for a blank line.
    pub(crate) text: &'t str,
    /// The byte behind the whole line, white space at its end included.
    pub(crate) end: usize,
}

impl Line<'_> {
    /// Gives the byte where the text begins.
    pub(crate) const fn text_start(&self) -> usize {
        self.start + self.indent.len()
    }

    /// Gives the part of the line between two bytes of the text, without white space around it.
    pub(crate) fn behind(self, start: usize, end: usize) -> Self {
        let from = self.text_start();
        let part = self.text.get(start - from..end - from).unwrap_or_default();
        let text = part.trim();
        Self {
            start: start + (part.len() - part.trim_start().len()),
            indent: "",
            text,
            end,
        }
    }

    /// Gives the byte behind the text.
    pub(crate) const fn text_end(&self) -> usize {
        self.text_start() + self.text.len()
    }
}

/// Cuts a text into lines; LF, CRLF and a lone CR end one. A byte order mark in front belongs to none.
pub(crate) fn split(text: &str) -> impl Iterator<Item = Line<'_>> {
    let mut at = if text.starts_with('\u{feff}') {
        '\u{feff}'.len_utf8()
    } else {
        0
    };
    let has_returns = text.as_bytes().contains(&b'\r');
    std::iter::from_fn(move || {
        let rest = text.get(at..).filter(|rest| !rest.is_empty())?;
        let length = line_length(rest, has_returns);
        let whole = rest.get(..length).unwrap_or_default();
        let ending = match rest.as_bytes().get(length..) {
            Some([b'\r', b'\n', ..]) => 2,
            Some([_, ..]) => 1,
            _ => 0,
        };
        let start = at;
        at += length + ending;
        let unindented = whole.trim_start();
        Some(Line {
            start,
            indent: whole.get(..whole.len() - unindented.len()).unwrap_or_default(),
            text: unindented.trim_end(),
            end: start + length,
        })
    })
}

/// Gives the bytes before the first line end.
fn line_length(text: &str, has_returns: bool) -> usize {
    let mut bytes = text.bytes();
    let line = bytes.position(|byte| byte == b'\n').unwrap_or(text.len());
    if !has_returns {
        return line;
    }
    let before = text.get(..line).unwrap_or_default();
    before.find('\r').unwrap_or(line)
}

/// Splits the comment off a line: what stands before it, and the range of the comment itself.
///
/// A comment begins at a `#` with white space on both sides, the end of the line counting as such; a `#`
/// in front of the line is the caller's business.
pub(crate) fn split_comment(text: &str) -> (&str, Option<Range<usize>>) {
    if !text.as_bytes().contains(&b'#') {
        return (text, None);
    }
    let space = |found: Option<char>| found.is_none_or(char::is_whitespace);
    for (at, _) in text.match_indices('#') {
        let (before, behind) = text.split_at(at);
        if at > 0 && space(before.chars().next_back()) && space(behind.chars().nth(1)) {
            return (before.trim_end(), Some(at..text.len()));
        }
    }
    (text, None)
}

/// Turns all white space into plain spaces, as many as it had bytes, so that every offset stays.
pub(crate) fn plain_spaces(text: &str) -> Cow<'_, str> {
    if text.is_ascii() && !text.as_bytes().contains(&b'\t') {
        return Cow::Borrowed(text);
    }
    let other = |letter: char| letter != ' ' && letter.is_whitespace();
    if !text.contains(other) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if other(letter) {
            out.extend(std::iter::repeat_n(' ', letter.len_utf8()));
        } else {
            out.push(letter);
        }
    }
    Cow::Owned(out)
}
