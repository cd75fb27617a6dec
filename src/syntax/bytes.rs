//! Bytes to text: whether a file is text at all, and whether every character in it can be seen.
//!
//! Owns what is refused before a line is read. Nothing is replaced: a file that is not UTF-8 is told of and
//! left as it is.

use crate::diag::{Code, Diagnostic, Report};
use crate::source::{LineIndex, Source, SourceId, Span};

/// The most bytes of one source.
pub const MOST_BYTES: u64 = 1024 * 1024;

/// Makes a source of the bytes of a file.
///
/// Where they are not UTF-8, the source holds the text before the first byte that is not, and the report
/// says where that byte stands.
#[must_use]
pub fn decode(id: SourceId, name: &str, bytes: &[u8]) -> (Source, Report) {
    let mut report = Report::new();
    if bytes.len() as u64 > MOST_BYTES {
        let source = Source::new(id, name, "");
        let fault = Diagnostic::new(Code::FileTooLarge, source.whole(), "the file has more than 1 MiB");
        report.push(fault.help("a recipe is a few kilobytes of text; is this the right file?"));
        return (source, report);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => {
            let source = Source::new(id, name, text);
            check_characters(&source, &mut report);
            (source, report)
        }
        Err(error) => {
            let sound = bytes.get(..error.valid_up_to()).unwrap_or_default();
            let source = Source::new(id, name, String::from_utf8_lossy(sound).as_ref());
            report.push(not_utf8(&source, bytes, error.valid_up_to()));
            (source, report)
        }
    }
}

fn not_utf8(source: &Source, bytes: &[u8], offset: usize) -> Diagnostic {
    let line = LineIndex::new(&source.text).position(source.text.len()).line;
    let looks = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        "it looks like UTF-16: save it again as UTF-8"
    } else if bytes.contains(&0) {
        "it looks like no text at all; is this the right file?"
    } else {
        "it looks like an older encoding such as Latin-1: save it again as UTF-8"
    };
    Diagnostic::new(
        Code::NotUtf8,
        source.whole().tail(),
        format!("the file is not text in UTF-8: byte {offset}, in line {line}, belongs to no character"),
    )
    .help(looks)
}

/// Looks for characters that nobody sees or that turn the text about.
fn check_characters(source: &Source, report: &mut Report) {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let start = source.text.len() - text.len();
    if text
        .lines()
        .all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'))
    {
        let fault = Diagnostic::new(
            Code::EmptyFile,
            source.whole().head(),
            "there is nothing in this file",
        );
        report.push(fault.help("`loafwright new NAME` writes a recipe to start from"));
    }
    check_line_ends(source, report);
    if text.is_ascii() && !text.bytes().any(is_plain_control) {
        return;
    }
    let mut before = None;
    for (at, c) in text.char_indices() {
        let span = Span::new(source.id, start + at, start + at + c.len_utf8());
        let after = text.get(at + c.len_utf8()..).and_then(|rest| rest.chars().next());
        if let Some(fault) = fault_of(c, before, after, span) {
            report.push(fault);
        }
        before = Some(c);
    }
}

const fn is_plain_control(byte: u8) -> bool {
    matches!(byte, 0..=8 | 11 | 12 | 14..=31 | 127)
}

fn fault_of(c: char, before: Option<char>, after: Option<char>, span: Span) -> Option<Diagnostic> {
    let number = format!("U+{:04X}", u32::from(c));
    match c {
        '\t' | '\n' | '\r' => None,
        c if c.is_control() => Some(
            Diagnostic::new(
                Code::ControlCharacter,
                span,
                format!("a control character, {number}, stands here"),
            )
            .help("delete it; a recipe is plain text"),
        ),
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => Some(
            Diagnostic::new(
                Code::HiddenDirection,
                span,
                format!("a hidden character, {number}, turns the reading direction about"),
            )
            .help("delete it: with it the line reads otherwise than it is computed"),
        ),
        '\u{feff}' => Some(
            Diagnostic::new(
                Code::StrayByteOrderMark,
                span,
                "a byte order mark stands inside the text",
            )
            .help("delete it; it belongs at the start of a file, if anywhere"),
        ),
        // The joiner is honest between the parts of an emoji.
        '\u{200d}'
            if !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(char::is_alphanumeric) =>
        {
            None
        }
        '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{e0000}'..='\u{e007f}' => Some(
            Diagnostic::new(
                Code::LookAlike,
                span,
                format!("a character that nobody sees, {number}, stands here"),
            )
            .help("delete it: names that look alike would not be alike"),
        ),
        c if is_foreign_beside_latin(c, before, after) => Some(
            Diagnostic::new(
                Code::LookAlike,
                span,
                format!("`{c}` ({number}) is a letter of another script among Latin ones"),
            )
            .help("type the word again; it looks right, but it is another word"),
        ),
        _ => None,
    }
}

/// A Greek or Cyrillic letter with a Latin one beside it: one word of two scripts.
fn is_foreign_beside_latin(c: char, before: Option<char>, after: Option<char>) -> bool {
    let is_foreign = matches!(c, '\u{370}'..='\u{52f}') && c.is_alphabetic();
    is_foreign
        && [before, after]
            .into_iter()
            .flatten()
            .any(|beside| beside.is_ascii_alphabetic())
}

fn check_line_ends(source: &Source, report: &mut Report) {
    let text = &source.text;
    let with_return = text.matches("\r\n").count();
    let alone = text.matches('\n').count() - with_return;
    if with_return > 0 && alone > 0 {
        let first = text.find('\n').unwrap_or(0);
        let span = Span::new(source.id, first, first + 1);
        report.push(
            Diagnostic::new(Code::MixedLineEnds, span, "lines end in two ways in this file")
                .help("save the file with one kind of line end; `loafwright format` does it"),
        );
    }
}
