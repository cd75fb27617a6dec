//! The lines of a source that a fault is shown with: cut to what matters, with nothing hidden left in them.
//!
//! Owns what a terminal may be shown of a text that a stranger wrote. Does not know how an excerpt is drawn.

use std::ops::Range;

use crate::source::{LineIndex, Source, Span, is_hidden};

/// Bytes of a line that are kept behind the start of the last place that is pointed at.
const KEPT_BEHIND: usize = 240;

/// A stretch of whole lines, safe to print, that knows where the bytes of its source went.
///
/// Every character of the source is one character here, so that columns stay what they are.
#[derive(Debug)]
pub(super) struct Excerpt {
    /// The lines, each ended by a line feed but the last.
    pub(super) text: String,
    /// The number of the first line, counted from 1.
    pub(super) first_line: usize,
    /// Byte offsets in the source and in the text, where the two stop running alike; both ascend.
    shifts: Vec<(usize, usize)>,
}

impl Excerpt {
    /// Takes the lines of a source from the first to the last of the places.
    pub(super) fn new(source: &Source, index: &LineIndex<'_>, spans: &[Span]) -> Self {
        let start = spans.iter().map(|span| span.start).min().unwrap_or(0);
        let end = spans
            .iter()
            .map(|span| span.end.max(span.start))
            .max()
            .unwrap_or(0);
        let first = index.position(start).line;
        let last = index.position(end).line.max(first);
        let mut excerpt = Self {
            text: String::new(),
            first_line: first,
            shifts: Vec::new(),
        };
        for number in first..=last {
            let line = index.line(number);
            excerpt.push_line(&source.text, &line, spans);
            if number < last {
                excerpt.note_shift(line.end);
                excerpt.text.push('\n');
            }
        }
        excerpt.note_shift(source.text.len());
        excerpt
    }

    /// Gives the bytes of the text that show a span.
    pub(super) fn range(&self, span: Span) -> Range<usize> {
        let start = self.place(span.start);
        start..self.place(span.end).max(start)
    }

    fn place(&self, offset: usize) -> usize {
        let at = self.shifts.partition_point(|&(from, _)| from <= offset);
        let before = at.checked_sub(1).and_then(|at| self.shifts.get(at));
        let (from, to) = before.copied().unwrap_or_default();
        let next = self.shifts.get(at).map_or(self.text.len(), |&(_, to)| to);
        let mut place = (to + offset.saturating_sub(from)).min(next);
        while !self.text.is_char_boundary(place) {
            place -= 1;
        }
        place
    }

    fn note_shift(&mut self, offset: usize) {
        self.shifts.push((offset, self.text.len()));
    }

    fn push_line(&mut self, text: &str, line: &Range<usize>, spans: &[Span]) {
        let end = kept_end(text, line, spans);
        self.note_shift(line.start);
        for (at, shown) in text.get(line.start..end).unwrap_or_default().char_indices() {
            let at = line.start + at;
            if shown == '\t' || !is_hidden(shown) {
                self.text.push(shown);
            } else if at > 0 || shown != '\u{feff}' {
                self.note_shift(at);
                self.text.push(stand_in(shown));
                self.note_shift(at + shown.len_utf8());
            } else {
                // A byte order mark at the head of a file is as it should be, and takes no column.
                self.note_shift(shown.len_utf8());
            }
        }
        if end < line.end {
            self.note_shift(end);
            self.text.push_str("...");
        }
    }
}

/// Gives the end of what is shown of a line: all of it, unless it runs on far behind what is pointed at.
fn kept_end(text: &str, line: &Range<usize>, spans: &[Span]) -> usize {
    let starts = spans.iter().map(|span| span.start).filter(|at| line.contains(at));
    let last = starts.max().unwrap_or(line.start);
    let mut end = (last + KEPT_BEHIND).min(line.end);
    while !text.is_char_boundary(end) {
        end += 1;
    }
    end
}

/// Gives the one character that stands for a hidden one in an excerpt.
fn stand_in(hidden: char) -> char {
    match u32::from(hidden) {
        low @ 0..0x20 => char::from_u32(0x2400 + low).unwrap_or('\u{fffd}'),
        0x7f => '\u{2421}',
        _ => '\u{fffd}',
    }
}

/// Gives a text on one line with everything hidden in it made visible.
#[must_use]
pub(super) fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter == '\n' || letter == '\t' {
            shown.push(' ');
        } else if is_hidden(letter) {
            shown.push_str(&format!("<U+{:04X}>", u32::from(letter)));
        } else {
            shown.push(letter);
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::{Excerpt, visible};
    use crate::source::{LineIndex, Source, SourceId, Span};

    fn shown(text: &str, start: usize, end: usize) -> (String, String) {
        let source = Source::new(SourceId(0), "a.loaf", text);
        let span = Span::new(SourceId(0), start, end);
        let excerpt = Excerpt::new(&source, &LineIndex::new(text), &[span]);
        let marked = excerpt.text[excerpt.range(span)].to_owned();
        (excerpt.text, marked)
    }

    #[test]
    fn marks_the_same_words_as_the_source() {
        let (text, marked) = shown("a\r\npâte 🍞 flower\r\nend", 14, 20);
        assert_eq!((text.as_str(), marked.as_str()), ("pâte 🍞 flower", "flower"));
    }

    #[test]
    fn hidden_characters_are_seen() {
        let (text, marked) = shown("10 g \u{202e}salt\u{1b}", 5, 8);
        assert_eq!((text.as_str(), marked.as_str()), ("10 g �salt␛", "�"));
        assert_eq!(visible("a\u{1b}[31m\nb"), "a<U+001B>[31m b");
    }

    #[test]
    fn a_byte_order_mark_takes_no_room() {
        let (text, marked) = shown("\u{feff}title", 3, 8);
        assert_eq!((text.as_str(), marked.as_str()), ("title", "title"));
    }

    #[test]
    fn a_long_line_is_cut_behind_the_place() {
        let (text, marked) = shown(&format!("salt{}", "y".repeat(9000)), 0, 4);
        assert!(text.len() < 300 && text.ends_with("y..."), "{text}");
        assert_eq!(marked, "salt");
    }

    #[test]
    fn places_past_the_end_and_on_line_ends_are_held_inside() {
        for (start, end) in [(0, 900), (5, 5), (2, 4), (900, 900)] {
            let (text, _) = shown("ab\r\nc", start, end);
            assert!(!text.contains('\r'));
        }
    }
}
