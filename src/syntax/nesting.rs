//! How deep brackets, quotes and lists of one paragraph stand within each other.
//!
//! Nothing in the language nests; what is nested here is nested in Markdown, whose reader must not be led
//! into the deep.

use super::limits;
use super::lines::{self, Line};
use crate::diag::{Code, Diagnostic, Report};
use crate::source::{Source, Span};

/// Reports the first place where something stands too deep.
pub(super) fn check(source: &Source, report: &mut Report) {
    let is_mark = |byte: &u8| matches!(byte, b'(' | b'[' | b'{' | b'>' | b'-' | b'*' | b'+');
    if source.text.bytes().filter(is_mark).count() <= limits::NESTING {
        return;
    }
    let mut open = 0_usize;
    for line in lines::split(&source.text) {
        if line.text.is_empty() || line.indent.is_empty() {
            open = 0;
        }
        let found = marks(&line).or_else(|| brackets(&line, &mut open));
        if let Some(at) = found {
            let span = Span::new(source.id, at, at + 1);
            let message = format!(
                "brackets, quotes or lists stand more than {} deep",
                limits::NESTING
            );
            let fault = Diagnostic::new(Code::NestedTooDeep, span, message);
            report.push(fault.help("close them, or write it in plain sentences"));
            return;
        }
    }
}

/// Counts the marks of quotes and lists in front of a line.
fn marks(line: &Line<'_>) -> Option<usize> {
    let mut bytes = line.text.bytes().enumerate().peekable();
    let mut depth = 0;
    while let Some((at, byte)) = bytes.next() {
        let is_list =
            matches!(byte, b'-' | b'*' | b'+') && bytes.peek().is_some_and(|(_, next)| *next == b' ');
        match byte {
            b' ' => {}
            b'>' => depth += 1,
            _ if is_list => depth += 1,
            _ => return None,
        }
        if depth > limits::NESTING {
            return Some(line.text_start() + at);
        }
    }
    None
}

/// Counts the brackets that are open, on from the lines above.
fn brackets(line: &Line<'_>, open: &mut usize) -> Option<usize> {
    for (at, byte) in line.text.bytes().enumerate() {
        match byte {
            b'(' | b'[' | b'{' => *open += 1,
            b')' | b']' | b'}' => *open = open.saturating_sub(1),
            _ => {}
        }
        if *open > limits::NESTING {
            return Some(line.text_start() + at);
        }
    }
    None
}
