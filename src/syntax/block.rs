//! An open block while its body is read: which lines are entries, which are prose, and to whom it belongs.

use super::file::Trivia;
use super::header::Header;
use super::lines::Line;
use super::tree::{Block, BlockKind, BodyItem, Entry, Prose};
use crate::source::{SourceId, Span, Spanned};

/// A block whose end has not been seen.
pub(crate) struct OpenBlock<'t> {
    /// The block so far.
    pub(crate) block: Block,
    /// The indent of its entries, once there is one.
    pub(crate) indent: Option<&'t str>,
    /// The indent of the latest entry.
    pub(crate) latest: &'t str,
    /// What deeper lines belong to.
    pub(crate) owner: Owner,
    prose: Vec<Line<'t>>,
}

/// What the lines of prose that come next belong to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Owner {
    /// The block itself: `about` and `notes`, and a bench record's own prose.
    Block,
    /// An entry, by its number in the body.
    Entry(usize),
    /// A line that was reported; its prose goes with it.
    Junk,
}

impl<'t> OpenBlock<'t> {
    /// Opens a block below its header.
    pub(crate) fn new(header: Header, span: Span, comment: Option<Span>) -> Self {
        Self {
            block: Block {
                span,
                kind: header.kind,
                name: header.name,
                qualifiers: header.qualifiers,
                header: span,
                comment,
                body: Vec::new(),
            },
            indent: None,
            latest: "",
            owner: Owner::Block,
            prose: Vec::new(),
        }
    }

    /// Says whether the block holds prose only.
    pub(crate) const fn is_prose(&self) -> bool {
        matches!(self.block.kind.value, BlockKind::About | BlockKind::Notes)
    }

    /// Says whether a paragraph is under way.
    pub(crate) fn in_prose(&self) -> bool {
        !self.prose.is_empty()
    }

    /// Takes the blank lines and comments that stood before a line of the body.
    pub(crate) fn take_trivia(&mut self, trivia: &mut Vec<Trivia<'t>>) {
        if !trivia.is_empty() {
            self.close_prose();
            self.block.body.extend(trivia.drain(..).map(Trivia::into_body));
        }
    }

    /// Adds an entry.
    pub(crate) fn push_entry(&mut self, entry: Entry) {
        self.close_prose();
        self.owner = Owner::Entry(self.block.body.len());
        self.reach(entry.comment.unwrap_or(entry.span));
        self.block.body.push(BodyItem::Entry(entry));
    }

    /// Adds a comment or a line that has been reported.
    pub(crate) fn push(&mut self, item: BodyItem) {
        self.close_prose();
        match item {
            BodyItem::Junk(span) => {
                self.owner = Owner::Junk;
                self.reach(span);
            }
            BodyItem::Comment(span) => self.reach(span),
            BodyItem::Blank(_) | BodyItem::Entry(_) | BodyItem::Prose(_) => {}
        }
        self.block.body.push(item);
    }

    /// Adds a line of prose, with the blank lines before it where a paragraph is under way.
    pub(crate) fn push_prose(&mut self, line: Line<'t>, trivia: &mut Vec<Trivia<'t>>) {
        if trivia.iter().all(Trivia::is_blank) {
            let blanks = trivia.drain(..).map(|blank| blank.line);
            if self.prose.is_empty() {
                // Blank lines between an entry and its own prose carry nothing; the block's own are kept.
                let source = self.block.span.source;
                if self.owner == Owner::Block {
                    self.block
                        .body
                        .extend(blanks.map(|line| BodyItem::Blank(whole(source, &line))));
                }
            } else {
                self.prose.extend(blanks);
            }
        } else {
            self.take_trivia(trivia);
        }
        self.reach(Span::new(
            self.block.span.source,
            line.text_start(),
            line.text_end(),
        ));
        self.prose.push(line);
    }

    /// Ends the block and hands it over.
    pub(crate) fn close(mut self) -> Block {
        self.close_prose();
        self.block
    }

    fn reach(&mut self, span: Span) {
        self.block.span.end = self.block.span.end.max(span.end);
    }

    /// Makes the lines of prose that follow the block's own.
    pub(crate) fn own_prose(&mut self) {
        if self.owner != Owner::Block {
            self.close_prose();
            self.owner = Owner::Block;
        }
    }

    /// Gives the prose that is under way to its owner.
    fn close_prose(&mut self) {
        if self.prose.is_empty() {
            return;
        }
        let prose = dedented(self.block.span.source, &self.prose);
        self.prose.clear();
        match self.owner {
            Owner::Block => self.block.body.push(BodyItem::Prose(prose)),
            Owner::Junk => self.block.body.push(BodyItem::Junk(prose.span)),
            Owner::Entry(at) => {
                if let Some(BodyItem::Entry(entry)) = self.block.body.get_mut(at) {
                    join(&mut entry.prose, prose);
                }
            }
        }
    }
}

/// Adds prose to an entry that may have some already, above a comment.
fn join(held: &mut Option<Prose>, more: Prose) {
    match held {
        Some(prose) => {
            prose.span = prose.span.to(more.span);
            prose.lines.extend(more.lines);
        }
        None => *held = Some(more),
    }
}

/// Gives the span of a line from its indent to its end.
fn whole(source: SourceId, line: &Line<'_>) -> Span {
    Span::new(source, line.start, line.end)
}

/// Takes off the indent that all lines share.
fn dedented(source: SourceId, lines: &[Line<'_>]) -> Prose {
    let indents = lines
        .iter()
        .filter(|line| !line.text.is_empty())
        .map(|line| line.indent);
    let shared = indents.reduce(common).map_or(0, str::len);
    let lines: Vec<_> = lines
        .iter()
        .map(|line| {
            let kept = line
                .indent
                .get(shared..)
                .filter(|_| !line.text.is_empty())
                .unwrap_or_default();
            let start = line.text_start() - kept.len();
            let span = Span::new(source, start, line.text_end());
            Spanned::new([kept, line.text].concat(), span)
        })
        .collect();
    let span = match (lines.first(), lines.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => Span::new(source, 0, 0),
    };
    Prose { span, lines }
}

/// Gives what two indents begin with alike.
fn common<'t>(left: &'t str, right: &'t str) -> &'t str {
    let differs = left
        .char_indices()
        .zip(right.chars())
        .find(|((_, left), right)| left != right)
        .map(|((at, _), _)| at);
    let shorter = left.len().min(right.len());
    left.get(..differs.unwrap_or(shorter)).unwrap_or(left)
}
