//! What every lowering function is handed: where the text stands, and where faults go.

use pest::iterators::Pair;

use super::grammar::Rule;
use crate::diag::{Code, Diagnostic, Report};
use crate::source::{SourceId, Span, Spanned};

/// One text that is being read.
pub(crate) struct Reader<'r> {
    source: SourceId,
    base: usize,
    report: &'r mut Report,
}

impl<'r> Reader<'r> {
    /// Starts to read a text that begins at a byte of a source.
    pub(crate) const fn new(source: SourceId, base: usize, report: &'r mut Report) -> Self {
        Self { source, base, report }
    }

    /// Gives the span of a range of bytes of the text.
    pub(crate) const fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.source, self.base + start, self.base + end)
    }

    /// Gives the span of a pair.
    pub(crate) fn span_of(&self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        self.span(span.start(), span.end())
    }

    /// Gives the words of a pair with single spaces, and their place.
    pub(crate) fn words_of(&self, pair: &Pair<'_, Rule>) -> Spanned<String> {
        let text = pair.as_str();
        let kept = text.trim_end();
        let start = pair.as_span().start();
        let skipped = kept.len() - kept.trim_start().len();
        Spanned::new(
            single_spaced(kept.trim_start()),
            self.span(start + skipped, start + kept.len()),
        )
    }

    /// Gives the byte of the text at a place of the source.
    pub(crate) const fn offset(&self, place: usize) -> usize {
        place - self.base
    }

    /// Gives a reader of the text from a byte on.
    pub(crate) fn from(&mut self, offset: usize) -> Reader<'_> {
        Reader {
            source: self.source,
            base: self.base + offset,
            report: self.report,
        }
    }

    /// Hands over a fault.
    pub(crate) fn report(&mut self, mut fault: Diagnostic) {
        shorten(&mut fault.message);
        shorten(&mut fault.primary.text);
        if let Some(help) = &mut fault.help {
            shorten(help);
        }
        self.report.push(fault);
    }

    /// Reports a fault that needs a sentence and a mend only.
    pub(crate) fn fault(
        &mut self,
        code: Code,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.report(Diagnostic::new(code, span, message).help(help));
    }
}

/// Longest text that is quoted from a file within a sentence, in characters.
const QUOTED: usize = 60;

/// Cuts what a sentence quotes between backquotes, where a line of thousands of letters would drown it.
fn shorten(sentence: &mut String) {
    if sentence.len() <= 2 * QUOTED {
        return;
    }
    let parts = sentence.split('`').enumerate().map(|(at, part)| {
        let end = part.char_indices().nth(QUOTED).map_or(part.len(), |(end, _)| end);
        if at % 2 == 1 && end < part.len() {
            format!("{}…", part.get(..end).unwrap_or_default())
        } else {
            part.to_owned()
        }
    });
    *sentence = parts.collect::<Vec<_>>().join("`");
}

/// Brings every run of spaces down to one.
pub(crate) fn single_spaced(text: &str) -> String {
    let double = text.as_bytes().windows(2).any(|pair| pair == b"  ");
    if !double {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(word);
    }
    out
}
