//! Indents: whether a line is an entry or prose of the entry above, and what is odd about it.

use std::cmp::Ordering;

use super::block::OpenBlock;
use super::entry::{Home, looks_like_entry_of};
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
    let entry_like = || looks_like_entry_of(line.text, Home::of(open.block.kind.value));
    if is_all_tabs(base) && is_all_tabs(indent) {
        return by_width(indent.len(), base.len());
    }
    if indent != base && (indent.contains('\t') || base.contains('\t')) {
        return if entry_like() {
            Place::Tabbed
        } else {
            Place::TabbedProse
        };
    }
    let width = |indent: &str| indent.chars().count();
    let below_shallow = width(open.latest) < width(base) && width(indent) > width(open.latest);
    if below_shallow && !entry_like() {
        return Place::Prose;
    }
    by_width(width(indent), width(base))
}

fn by_width(indent: usize, base: usize) -> Place {
    match indent.cmp(&base) {
        Ordering::Less => Place::Shallow,
        Ordering::Equal => Place::Entry,
        Ordering::Greater => Place::Prose,
    }
}

fn is_all_tabs(indent: &str) -> bool {
    !indent.is_empty() && indent.bytes().all(|byte| byte == b'\t')
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
