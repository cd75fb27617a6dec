//! Lines in the first column: keys, headers of blocks, and what slips into their place.

use super::entry::looks_like_entry;
use super::file::File;
use super::header::{self, Header, parse_header};
use super::indent::Place;
use super::keys::{self, before_colon, known_key};
use super::lines::{Line, plain_spaces, split_comment};
use super::problems::{self, Resolved};
use super::tree::{BlockKind, KeyLine};
use crate::source::Span;

/// A line of the first column without its comment.
#[derive(Clone, Copy)]
struct Written<'w> {
    text: &'w str,
    span: Span,
    comment: Option<Span>,
}

impl<'s> File<'s, '_> {
    /// Takes a line that stands in the first column and is neither blank nor a comment.
    pub(crate) fn push_first_column(&mut self, line: Line<'s>) {
        if problems::report_merge_mark(line.text, &mut self.reader(&line)) {
            self.push_junk(&line);
            return;
        }
        let (text, comment) = split_comment(line.text);
        let spaced = plain_spaces(text);
        let reader = self.reader(&line);
        let written = Written {
            text: &spaced,
            span: reader.span(0, text.len()),
            comment: comment.map(|range| reader.span(range.start, range.end)),
        };
        let key = before_colon(written.text);
        if key.is_some_and(|key| known_key(key, self.kind).is_some()) {
            let parsed = keys::parse_key_line(written.text, &mut self.reader(&line));
            self.push_key_or_junk(parsed, written, &line);
        } else if let Some(head) = written.text.strip_suffix(':') {
            self.push_header(head, written, &line);
        } else {
            self.push_slip(written, line);
        }
    }

    fn push_key_or_junk(&mut self, key: Option<KeyLine>, written: Written<'_>, line: &Line<'s>) {
        match key {
            Some(mut key) => {
                key.comment = written.comment;
                self.push_key(key);
            }
            None => self.push_junk(line),
        }
    }

    /// Opens the block of a header, whose colon has been taken off.
    fn push_header(&mut self, head: &str, written: Written<'_>, line: &Line<'s>) {
        let kind = self.kind;
        let next_is_indented = self.goes_on_indented(line);
        let mut reader = self.reader(line);
        let Some(header) = parse_header(head, &mut reader) else {
            problems::report_header(head, &mut reader);
            self.push_junk(line);
            return;
        };
        match problems::resolve_header(header, head, kind, next_is_indented, &mut reader) {
            Resolved::Block(header) => self.open_block(header, written.span, written.comment),
            Resolved::Reported => self.push_junk(line),
        }
    }

    /// Takes a line that is neither a key nor a header as it stands.
    fn push_slip(&mut self, written: Written<'_>, line: Line<'s>) {
        let text = written.text;
        if let Some((head, more)) = text.split_once(':') {
            self.push_with_colon(head, more, written, &line);
        } else if looks_like_entry(text) {
            problems::report_unindented(text, self.has_open_block(), &mut self.reader(&line));
            if self.has_open_block() {
                self.push_entry(line, Place::Entry);
            } else {
                self.push_junk(&line);
            }
        } else if self.goes_on_indented(&line)
            && let Some(header) = self.header_without_colon(text, &line)
        {
            self.open_block(header, written.span, written.comment);
        } else {
            let key = problems::report_no_colon(text, self.kind, &mut self.reader(&line));
            self.push_key_or_junk(key, written, &line);
        }
    }

    /// Takes a line with a colon in its middle and no known key before it.
    fn push_with_colon(&mut self, head: &str, more: &str, written: Written<'_>, line: &Line<'s>) {
        let kind = self.kind;
        let in_block = self.has_open_block();
        let mut reader = self.reader(line);
        if header::kind_of(head.trim_end()) != BlockKind::Unknown || starts_block(head) {
            problems::report_text_behind_header(head, more, &mut reader);
            let Some(header) = parse_header(head, &mut reader) else {
                self.push_junk(line);
                return;
            };
            let end = written.span.start + head.len() + 1;
            self.open_block(header, Span { end, ..written.span }, written.comment);
            self.push_behind_header(line.behind(end, written.span.end));
            return;
        }
        let key = problems::report_unknown_key(written.text, head.trim_end(), kind, in_block, &mut reader);
        self.push_key_or_junk(key, written, line);
    }

    /// Reads `dough` or `levain night` without the colon behind it.
    fn header_without_colon(&mut self, text: &str, line: &Line<'s>) -> Option<Header> {
        if !starts_block(text) {
            return None;
        }
        let mut reader = self.reader(line);
        problems::report_header_colon(text, &mut reader);
        parse_header(text, &mut reader)
    }
}

/// Says whether a text begins with the word of a block.
fn starts_block(text: &str) -> bool {
    BlockKind::SPELT.iter().any(|(word, _)| {
        text.eq_ignore_ascii_case(word)
            || text
                .get(..word.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(word))
                && matches!(text.as_bytes().get(word.len()), Some(b' ' | b','))
    })
}
