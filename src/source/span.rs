//! Places in a text as half-open byte ranges.

use super::SourceId;

/// A half-open range of bytes in one source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The source that the range lies in.
    pub source: SourceId,
    /// First byte.
    pub start: usize,
    /// The byte after the last one.
    pub end: usize,
}

impl Span {
    /// Makes a span of a source and a byte range.
    #[must_use]
    pub const fn new(source: SourceId, start: usize, end: usize) -> Self {
        Self { source, start, end }
    }

    /// Gives the smallest span that covers both; the two must lie in one source.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self {
            source: self.source,
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// Says whether another place of the same text lies wholly in this one.
    #[must_use]
    pub fn covers(self, other: Self) -> bool {
        self.source == other.source && self.start <= other.start && other.end <= self.end
    }

    /// Gives the empty span at the start of this one.
    #[must_use]
    pub const fn head(self) -> Self {
        Self {
            source: self.source,
            start: self.start,
            end: self.start,
        }
    }

    /// Gives the empty span at the end of this one.
    #[must_use]
    pub const fn tail(self) -> Self {
        Self {
            source: self.source,
            start: self.end,
            end: self.end,
        }
    }
}

/// A value together with the place where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Ties a value to its place.
    pub const fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// Keeps the place and changes the value.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned {
            value: change(self.value),
            span: self.span,
        }
    }
}
