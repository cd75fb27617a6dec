//! Lines to items: which block is open, what is pending, and where each line goes.
//!
//! A blank line or a comment in the first column waits until the next line shows whether the block above
//! goes on; whatever is wrong with a line stays on that line.

use super::block::OpenBlock;
use super::counts::Counts;
use super::entry::{self, Home};
use super::header::Header;
use super::indent::{self, Place};
use super::limits;
use super::lines::{Line, plain_spaces, split, split_comment};
use super::problems;
use super::reader::Reader;
use super::tree::{BlockKind, BodyItem, Entry, FileKind, Item, KeyLine};
use crate::diag::Report;
use crate::source::{Source, SourceId, Span};

/// A line that waits to be given to a block or to the file.
#[derive(Clone, Copy)]
pub(crate) struct Trivia<'t> {
    /// The line.
    pub(crate) line: Line<'t>,
    source: SourceId,
}

impl Trivia<'_> {
    /// Says whether it is a blank line, not a comment.
    pub(crate) const fn is_blank(&self) -> bool {
        self.line.text.is_empty()
    }

    fn span(&self) -> Span {
        let start = if self.is_blank() {
            self.line.start
        } else {
            self.line.text_start()
        };
        let end = if self.is_blank() {
            self.line.end
        } else {
            self.line.text_end()
        };
        Span::new(self.source, start, end)
    }

    /// Makes it an item of a body.
    pub(crate) fn into_body(self) -> BodyItem {
        if self.is_blank() {
            BodyItem::Blank(self.span())
        } else {
            BodyItem::Comment(self.span())
        }
    }

    fn into_item(self) -> Item {
        if self.is_blank() {
            Item::Blank(self.span())
        } else {
            Item::Comment(self.span())
        }
    }
}

/// A file while it is read.
pub(crate) struct File<'s, 'r> {
    source: SourceId,
    text: &'s str,
    /// The kind of file, which says what keys and blocks there are.
    pub(crate) kind: FileKind,
    items: Vec<Item>,
    open: Option<OpenBlock<'s>>,
    pending: Vec<Trivia<'s>>,
    counts: Counts,
    /// How many faults there may be before it is asked whether to give up.
    patience: usize,
    report: &'r mut Report,
}

impl<'s, 'r> File<'s, 'r> {
    /// Starts a file without lines.
    pub(crate) fn new(source: &'s Source, kind: FileKind, report: &'r mut Report) -> Self {
        Self {
            source: source.id,
            text: &source.text,
            kind,
            items: Vec::new(),
            open: None,
            pending: Vec::new(),
            counts: Counts::new(),
            patience: limits::FAULTS,
            report,
        }
    }

    /// Takes the next line.
    pub(crate) fn push_line(&mut self, line: Line<'s>) {
        let first_column = line.indent.is_empty();
        if line.text.is_empty() || first_column && line.text.starts_with('#') {
            let source = self.source;
            self.pending.push(Trivia { line, source });
        } else if self.gives_up() {
            self.push_junk(&line);
        } else if line.text.len() > limits::LINE_BYTES {
            let span = self.span_of(&line);
            problems::report_long_line(&mut self.reader(&line), span);
            self.push_junk(&line);
        } else if first_column {
            self.push_first_column(line);
        } else {
            self.push_indented(line);
        }
    }

    /// Says whether there are so many faults that the lines that follow are not worth reading.
    ///
    /// Nobody reads a thousand messages, and a file of nothing but faults should cost no memory. Warnings
    /// alone give nothing up, since a line left unread must not go without an error.
    fn gives_up(&mut self) -> bool {
        if self.patience > 0 && self.report.len() >= self.patience {
            self.patience = if self.report.has_errors() {
                0
            } else {
                self.patience * 2
            };
        }
        self.patience == 0
    }

    /// Ends the file and hands over what stands in it.
    pub(crate) fn finish(mut self) -> Vec<Item> {
        self.close_block();
        self.items
    }

    /// Gives a reader for the text of a line.
    pub(crate) fn reader(&mut self, line: &Line<'_>) -> Reader<'_> {
        Reader::new(self.source, line.text_start(), self.report)
    }

    /// Gives the span of a line's text.
    pub(crate) fn span_of(&self, line: &Line<'_>) -> Span {
        Span::new(self.source, line.text_start(), line.text_end())
    }

    /// Says whether the next line with text, comments aside, is indented.
    pub(crate) fn goes_on_indented(&self, line: &Line<'_>) -> bool {
        let below = self.text.get(line.end..).unwrap_or_default();
        split(below)
            .find(|line| !line.text.is_empty() && !line.text.starts_with('#'))
            .is_some_and(|line| !line.indent.is_empty())
    }

    /// Says whether a block is open, so that an entry may be meant for it.
    pub(crate) const fn has_open_block(&self) -> bool {
        self.open.is_some()
    }

    /// Adds a key line and so ends the block above.
    pub(crate) fn push_key(&mut self, key: KeyLine) {
        self.close_block();
        self.items.push(Item::Key(key));
    }

    /// Opens a block and so ends the one above.
    pub(crate) fn open_block(&mut self, header: Header, span: Span, comment: Option<Span>) {
        self.close_block();
        self.counts
            .block(header.kind.value, header.kind.span, self.report);
        self.open = Some(OpenBlock::new(header, span, comment));
    }

    /// Takes what stands behind the colon of a header, which has been reported: prose, if the block holds it.
    pub(crate) fn push_behind_header(&mut self, line: Line<'s>) {
        let span = self.span_of(&line);
        match &mut self.open {
            Some(open) if open.is_prose() => open.push_prose(line, &mut self.pending),
            Some(open) => open.push(BodyItem::Junk(span)),
            None => {}
        }
    }

    /// Keeps a line that has been reported; an open block stays open.
    pub(crate) fn push_junk(&mut self, line: &Line<'s>) {
        let span = self.span_of(line);
        if let Some(open) = &mut self.open {
            open.take_trivia(&mut self.pending);
            open.push(BodyItem::Junk(span));
        } else {
            self.items.extend(self.pending.drain(..).map(Trivia::into_item));
            self.items.push(Item::Junk(span));
        }
    }

    fn close_block(&mut self) {
        if let Some(open) = self.open.take() {
            self.items.push(Item::Block(open.close()));
        }
        self.items.extend(self.pending.drain(..).map(Trivia::into_item));
    }

    /// Takes a line of a body.
    fn push_indented(&mut self, line: Line<'s>) {
        let Some(open) = &mut self.open else {
            problems::report_outside_block(line.text, &mut self.reader(&line));
            self.push_junk(&line);
            return;
        };
        if open.is_prose() {
            open.push_prose(line, &mut self.pending);
            return;
        }
        let place = indent::place(open, &line);
        // Where tabs and spaces are mixed, only the entry above shows that a comment stands no deeper than it.
        let is_level = !line.indent.is_empty() && open.latest.starts_with(line.indent);
        if line.text.starts_with('#') && (is_level || !(place.is_prose() && open.in_prose())) {
            open.take_trivia(&mut self.pending);
            open.push(BodyItem::Comment(Span::new(
                self.source,
                line.text_start(),
                line.text_end(),
            )));
            return;
        }
        indent::report(
            place,
            open,
            &line,
            &mut Reader::new(self.source, line.start, self.report),
        );
        if place.is_prose() {
            open.push_prose(line, &mut self.pending);
        } else {
            self.push_entry(line, place);
        }
    }

    /// Takes a line as an entry of the open block.
    pub(crate) fn push_entry(&mut self, line: Line<'s>, place: Place) {
        let Some(open) = &mut self.open else { return };
        let home = Home::of(open.block.kind.value);
        if open.block.kind.value == BlockKind::Unknown && !entry::looks_like_entry(line.text) {
            // Nobody knows what the block holds, which has been said at its header.
            self.push_junk(&line);
            return;
        }
        if home == Home::Record && !entry::opens_record(line.text) {
            open.own_prose();
            open.push_prose(line, &mut self.pending);
            return;
        }
        open.take_trivia(&mut self.pending);
        if place == Place::First {
            open.indent = Some(line.indent);
        }
        open.latest = line.indent;
        let (text, comment) = split_comment(line.text);
        let start = line.text_start();
        let mut reader = Reader::new(self.source, start, self.report);
        let span = reader.span(0, text.len());
        let comment = comment.map(|range| reader.span(range.start, range.end));
        let entry = entry::parse_entry(&plain_spaces(text), home, &mut reader);
        match entry.filter(|kind| self.counts.entry(kind, span, self.report)) {
            Some(kind) => open.push_entry(Entry {
                span,
                kind,
                comment,
                prose: None,
            }),
            None => open.push(BodyItem::Junk(Span::new(self.source, start, line.text_end()))),
        }
    }
}
