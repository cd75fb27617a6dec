//! The only arithmetic of lines and columns: bytes to lines, characters and UTF-16 units.

/// A place as people and editors count it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Position {
    /// Line, counted from 1.
    pub line: usize,
    /// Character in the line, counted from 1; a tab is one character.
    pub column: usize,
    /// Code units of UTF-16 before the place in its line, counted from 0.
    pub utf16: usize,
}

/// Starts of the lines of one text.
#[derive(Clone, Debug)]
pub struct LineIndex<'text> {
    text: &'text str,
    starts: Vec<usize>,
}

impl<'text> LineIndex<'text> {
    /// Finds the line starts of a text; LF ends a line, and a lone CR does too.
    #[must_use]
    pub fn new(text: &'text str) -> Self {
        let bytes = text.as_bytes();
        let ends_line = |at: usize| match bytes.get(at) {
            Some(b'\n') => true,
            Some(b'\r') => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        let starts = std::iter::once(0)
            .chain((0..bytes.len()).filter(|&at| ends_line(at)).map(|at| at + 1))
            .collect();
        Self { text, starts }
    }

    /// Gives the position of a byte offset; an offset past the end counts as the end.
    ///
    /// A byte order mark at the start of the text takes no column, since nobody sees it.
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.starts.partition_point(|&start| start <= offset).max(1);
        let start = self.starts.get(line - 1).copied().unwrap_or(0);
        let before = self.text.get(start..offset).unwrap_or_default();
        let seen = before.strip_prefix('\u{feff}').unwrap_or(before);
        Position {
            line,
            column: seen.chars().count() + 1,
            utf16: before.encode_utf16().count(),
        }
    }

    /// Gives the bytes of a line, counted from 1, without its line end; a line past the end is empty.
    #[must_use]
    pub fn line(&self, number: usize) -> std::ops::Range<usize> {
        let end_of_text = self.text.len();
        let start_of = |number: usize| {
            let at = number.checked_sub(1).and_then(|at| self.starts.get(at));
            at.copied().unwrap_or(end_of_text)
        };
        let start = start_of(number);
        let whole = self.text.get(start..start_of(number + 1)).unwrap_or_default();
        let bare = whole.strip_suffix('\n').unwrap_or(whole);
        let bare = bare.strip_suffix('\r').unwrap_or(bare);
        start..start + bare.len()
    }

    /// Gives the number of lines; a text that ends with a line end has an empty last one.
    #[must_use]
    pub fn count(&self) -> usize {
        self.starts.len()
    }
}

#[cfg(test)]
mod tests {
    use super::LineIndex;

    #[test]
    fn columns_count_characters_and_utf16_units() {
        let index = LineIndex::new("a\npâte 🍞 flower\r\nend");
        let at = index.position(2 + "pâte 🍞 ".len());
        assert_eq!((at.line, at.column, at.utf16), (2, 8, 8));
    }

    #[test]
    fn a_byte_order_mark_takes_no_column() {
        assert_eq!(LineIndex::new("\u{feff}title").position(3).column, 1);
    }

    #[test]
    fn lone_carriage_returns_end_lines() {
        assert_eq!(LineIndex::new("a\rb\r\nc").position(5).line, 3);
    }
}
