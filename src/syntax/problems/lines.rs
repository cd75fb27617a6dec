//! Slips of whole lines: too long, in no block, left behind by a merge.

use crate::diag::{Code, Diagnostic};
use crate::source::Span;
use crate::syntax::entry::looks_like_entry;
use crate::syntax::limits;
use crate::syntax::reader::Reader;

/// Reports a line past the limit.
pub(crate) fn report_long_line(reader: &mut Reader<'_>, span: Span) {
    let message = format!("a line of more than {} bytes", limits::LINE_BYTES);
    reader.fault(
        Code::LineTooLong,
        span,
        message,
        "break it up; a line holds one fact",
    );
}

/// Reports an indented line above all blocks.
pub(crate) fn report_outside_block(text: &str, reader: &mut Reader<'_>) {
    let span = reader.span(0, text.len());
    let help = if text.contains(':') {
        "keys and the headers of blocks start in the first column"
    } else {
        "put it below a header such as `dough:`"
    };
    let fault = Diagnostic::new(
        Code::EntryOutsideBlock,
        span,
        "an indented line that stands in no block",
    );
    reader.report(fault.label("there is no block above it").help(help));
}

/// Reports an entry in the first column.
pub(crate) fn report_unindented(text: &str, in_block: bool, reader: &mut Reader<'_>) {
    let span = reader.span(0, text.len());
    let fault = Diagnostic::new(Code::EntryOutsideBlock, span, "this entry is not indented");
    reader.report(if in_block {
        fault
            .label("read as an entry of the block above")
            .help("indent it like the other entries of its block")
            .fix("indent it", span.head(), "  ")
    } else {
        fault.help("put it below a header such as `dough:`, indented by two spaces")
    });
}

/// Reports a mark that version control leaves in a file, and says whether the line is one.
pub(crate) fn report_merge_mark(text: &str, reader: &mut Reader<'_>) -> bool {
    let is_mark = ["<<<<<<<", "=======", ">>>>>>>", "|||||||"].iter().any(|mark| {
        text.strip_prefix(mark)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    });
    if is_mark {
        let span = reader.span(0, text.len());
        let fault = Diagnostic::new(Code::MergeMark, span, "a mark that a merge left behind");
        reader.report(fault.help("keep one of the two versions, and take out the other with the marks"));
    }
    is_mark && !looks_like_entry(text)
}
