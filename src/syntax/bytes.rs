//! Bytes to text: whether a file is text at all, and in which encoding.
//!
//! Owns what is refused before a line is read. Nothing is replaced: a file that is not UTF-8 is told of and
//! left as it is. The characters of a text are the business of `letters`.

use std::str::Utf8Error;

use super::{letters, limits};
use crate::diag::{Code, Diagnostic, Report};
use crate::source::{LineIndex, Source, SourceId};

/// The most bytes of one source.
pub const MOST_BYTES: u64 = limits::FILE_BYTES as u64;

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
        Ok(text) if !is_half_nul(bytes) => {
            let source = Source::new(id, name, text);
            letters::check(&source, &mut report);
            (source, report)
        }
        outcome => {
            let offset = outcome.err().map_or(0, |error| error.valid_up_to());
            let sound = bytes.get(..offset).unwrap_or_default();
            let source = Source::new(id, name, String::from_utf8_lossy(sound).as_ref());
            report.push(not_utf8(&source, bytes, offset, outcome.err()));
            (source, report)
        }
    }
}

/// Says whether every second byte or so is nought, as in UTF-16 of Latin letters.
fn is_half_nul(bytes: &[u8]) -> bool {
    let noughts = bytes.iter().map(|byte| usize::from(*byte == 0)).sum::<usize>();
    noughts > 0 && noughts * 3 >= bytes.len()
}

fn not_utf8(source: &Source, bytes: &[u8], offset: usize, error: Option<Utf8Error>) -> Diagnostic {
    let line = LineIndex::new(&source.text).position(source.text.len()).line;
    let (message, help) = if is_half_nul(bytes) || is_marked_utf16(bytes) {
        (
            "the file is not text in UTF-8".to_owned(),
            "it looks like UTF-16: save it again as UTF-8",
        )
    } else {
        let cut_off = error.is_some_and(|error| error.error_len().is_none());
        let help = if cut_off {
            "the file ends in the middle of a character: fetch or save it again"
        } else {
            likely_encoding(bytes, offset)
        };
        let message =
            format!("the file is not text in UTF-8: byte {offset}, in line {line}, belongs to no character");
        (message, help)
    };
    Diagnostic::new(Code::NotUtf8, source.whole().tail(), message).help(help)
}

fn is_marked_utf16(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff])
}

/// Tells text of an older encoding from what is no text at all.
fn likely_encoding(bytes: &[u8], offset: usize) -> &'static str {
    let is_control = |byte: &&u8| matches!(**byte, 0..=8 | 14..=26 | 28..=31 | 127);
    let controls = bytes.iter().filter(is_control).count();
    let high = bytes.iter().filter(|byte| **byte >= 0x80).count();
    if controls > 0 || high * 3 > bytes.len() {
        return "it looks like no text at all; is this the right file?";
    }
    match bytes.get(offset) {
        // Bytes that UTF-8 never has, or that only badly made UTF-8 has; Latin-1 has letters there too.
        Some(0xc0 | 0xc1 | 0xf5..) if high > 1 => "it looks like badly made UTF-8: save it again as UTF-8",
        Some(0x80..=0x9f) => "it looks like Windows-1252: save it again as UTF-8",
        _ => "it looks like an older encoding such as Latin-1: save it again as UTF-8",
    }
}
