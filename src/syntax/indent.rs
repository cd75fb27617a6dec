//! Indents: whether a line is an entry or prose of the entry above, and what is odd about it.

use super::block::OpenBlock;
use super::entry::looks_like_entry;
use super::lines::Line;
use super::reader::Reader;
use crate::diag::{Code, Diagnostic};

/// What the indent of a line makes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// The first entry, which sets the indent of the block.
    First,
    /// An entry like those above.
    Entry,
    /// An entry that is indented less than those above.
    Shallow,
    /// An entry with a tab where the others have spaces, or the other way about.
    Tabbed,
    /// Prose of the entry above.
    Prose,
    /// Prose with a tab among its spaces.
    TabbedProse,
}

impl Place {
    /// Says whether the line is prose.
    pub(crate) const fn is_prose(self) -> bool {
        matches!(self, Self::Prose | Self::TabbedProse)
    }
}

/// Compares the indent of a line with those of its block.
pub(crate) fn place(open: &OpenBlock<'_>, line: &Line<'_>) -> Place {
    let Some(base) = open.indent else {
        return Place::First;
    };
    let indent = line.indent;
    if indent == base {
        return Place::Entry;
    }
    if is_all_tabs(base) && is_all_tabs(indent) {
        return if indent.len() > base.len() {
            Place::Prose
        } else {
            Place::Shallow
        };
    }
    if indent.contains('\t') || base.contains('\t') {
        let tabbed = looks_like_entry(line.text) || !starts_deeper(indent, base);
        return if tabbed { Place::Tabbed } else { Place::TabbedProse };
    }
    let width = |indent: &str| indent.chars().count();
    let below_shallow = width(indent) > width(open.latest) && !looks_like_entry(line.text);
    if width(indent) > width(base) || below_shallow {
        Place::Prose
    } else if width(indent) == width(base) {
        Place::Entry
    } else {
        Place::Shallow
    }
}

fn is_all_tabs(indent: &str) -> bool {
    !indent.is_empty() && indent.bytes().all(|byte| byte == b'\t')
}

/// Says whether an indent goes on where another ends, or is longer in any case.
fn starts_deeper(indent: &str, base: &str) -> bool {
    indent.starts_with(base) || indent.chars().count() > base.chars().count()
}

/// Warns of an indent that a careful hand would not leave; the reader stands at the start of the line.
pub(crate) fn report(place: Place, open: &OpenBlock<'_>, line: &Line<'_>, reader: &mut Reader<'_>) {
    let span = reader.span(0, line.indent.len());
    let base = open.indent.unwrap_or("  ");
    let mixed = place == Place::First && line.indent.contains('\t') && !is_all_tabs(line.indent);
    match place {
        Place::Tabbed | Place::TabbedProse => report_tab(place, base, span, reader),
        Place::First if mixed => report_tab(place, base, span, reader),
        Place::Shallow => reader.report(
            Diagnostic::new(
                Code::UnevenIndent,
                span,
                "this line is indented less than the entries above",
            )
            .label("read as an entry")
            .help("indent the entries of a block alike")
            .fix("indent it like the others", span, base),
        ),
        Place::First | Place::Entry | Place::Prose => {}
    }
}

fn report_tab(place: Place, base: &str, span: crate::source::Span, reader: &mut Reader<'_>) {
    let read_as = if place == Place::TabbedProse {
        "read as prose"
    } else {
        "read as an entry"
    };
    let fault = Diagnostic::new(
        Code::TabIndent,
        span,
        "tabs and spaces are mixed in this block's indents",
    )
    .label(read_as)
    .help("indent with spaces only; a tab is as wide as each editor likes");
    reader.report(if place == Place::Tabbed {
        fault.fix("indent it like the others", span, base)
    } else {
        fault
    });
}
