//! Prose at its new indent; how its lines stand to each other stays.

use super::page::Laid;
use crate::source::{Source, Spanned};
use crate::syntax::tree::{Block, BodyItem, Prose};

/// The prose of a block, cut where comments stand in it.
pub(super) struct Paragraphs<'a> {
    source: &'a Source,
    /// The column of the block's entries, once there is one, and the place of the first.
    entries: Option<(usize, usize)>,
    /// Where comments begin.
    comments: Vec<usize>,
}

impl<'a> Paragraphs<'a> {
    /// Looks a block through for what its prose must mind.
    pub(super) fn of(source: &'a Source, block: &Block) -> Self {
        let comments = block.body.iter().filter_map(|item| match item {
            BodyItem::Comment(span) => Some(span.start),
            _ => None,
        });
        let first = block.body.iter().find_map(|item| match item {
            BodyItem::Entry(entry) => Some(entry.span.start),
            _ => None,
        });
        Self {
            source,
            entries: first.map(|start| (indent_before(source, start).chars().count(), start)),
            comments: comments.collect(),
        }
    }

    /// Lays out prose; each line comes with the place where it stood.
    pub(super) fn lay(&self, prose: &Prose, indent: usize, laid: &mut Vec<(usize, Laid)>) {
        let same = |left: &Spanned<String>, right: &Spanned<String>| {
            let between = left.span.start..right.span.start;
            !self.comments.iter().any(|comment| between.contains(comment))
        };
        for paragraph in prose.lines.chunk_by(same) {
            let has_text = |line: &&Spanned<String>| !line.value.trim().is_empty();
            let shared = paragraph
                .iter()
                .filter(has_text)
                .map(|line| self.column(line))
                .min()
                .unwrap_or_default();
            for line in paragraph {
                let text = line.value.trim();
                let line_of_page = if text.is_empty() {
                    Laid::Blank
                } else {
                    let indent = indent + self.column(line).saturating_sub(shared);
                    Laid::Line(format!("{:indent$}{text}", ""))
                };
                laid.push((line.span.start, line_of_page));
            }
        }
    }

    /// A block's own prose stands where its entries do. In a bench record what stood deeper stays deeper,
    /// because a line that begins with a number or a `#` would be no prose else.
    pub(super) fn lay_own(&self, prose: &Prose, indent: usize, laid: &mut Vec<(usize, Laid)>) {
        let start = prose.span.start;
        let column = indent_before(self.source, start).chars().count();
        let is_deeper = self
            .entries
            .is_some_and(|(entries, first)| first < start && column > entries);
        self.lay(prose, if is_deeper { indent + 2 } else { indent }, laid);
    }

    /// Gives the column that the text of a line begins in; a tab leads to the next fourth one, as Markdown
    /// has it.
    fn column(&self, line: &Spanned<String>) -> usize {
        let inner = line.value.len() - line.value.trim_start().len();
        let indent = indent_before(self.source, line.span.start + inner);
        indent.chars().fold(0, |column, c| {
            if c == '\t' {
                (column / 4 + 1) * 4
            } else {
                column + 1
            }
        })
    }
}

/// Gives what stands before a place in its line.
fn indent_before(source: &Source, at: usize) -> &str {
    let before = source.text.get(..at).unwrap_or_default();
    let line = before.rsplit(['\n', '\r']).next().unwrap_or_default();
    line.trim_start_matches('\u{feff}')
}
