//! What stands behind the colon of a bakehouse key, cut into the parts that the language's own readers take.
//!
//! Owns the places of the parts, for the message. Does not know which key wants what.

use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::{Celsius, Elapsed, Ratio, WeightUnit};
use crate::source::Span;
use crate::syntax;
use crate::syntax::tree::{KeyLine, TemperatureWord};

/// A fault that ends the reading of a value; boxed, so that the good case stays small.
pub(super) type Fault = Box<Diagnostic>;

/// Makes the fault of a value that cannot be, with what to write instead.
pub(super) fn bad_value(span: Span, message: impl Into<String>, help: impl Into<String>) -> Fault {
    Box::new(Diagnostic::new(Code::BadValue, span, message).help(help))
}

/// A part of a value, without white space around it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reader<'text> {
    text: &'text str,
    span: Span,
}

impl<'text> Reader<'text> {
    /// Starts with the whole value of a key.
    pub(super) fn of_key(line: &'text KeyLine) -> Self {
        Self {
            text: &line.value.value,
            span: line.value.span,
        }
    }

    /// Gives the place.
    pub(super) fn span(&self) -> Span {
        self.span
    }

    /// Gives the text.
    pub(super) fn rest(&self) -> &'text str {
        self.text
    }

    /// Cuts the value at its commas; one between two digits is a decimal comma.
    pub(super) fn parts(&self) -> Vec<Self> {
        let bytes = self.text.as_bytes();
        let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
        let mut parts = Vec::new();
        let mut start = 0;
        for (at, _) in self.text.match_indices(',') {
            if !(digit(at.checked_sub(1)) && digit(Some(at + 1))) {
                parts.push(self.piece(start, at));
                start = at + 1;
            }
        }
        parts.push(self.piece(start, self.text.len()));
        parts
    }

    /// Cuts at the first of some marks; nothing where none of them is there.
    pub(super) fn split_at(&self, marks: &[&str]) -> Option<(Self, Self)> {
        let (at, mark) = marks
            .iter()
            .filter_map(|mark| self.text.find(mark).map(|at| (at, mark)))
            .min()?;
        Some((self.piece(0, at), self.piece(at + mark.len(), self.text.len())))
    }

    /// Gives what stands before one of some last words, and that word, whatever its case.
    pub(super) fn without_last<'word>(&self, words: &[&'word str]) -> Option<(Self, &'word str)> {
        let end = |word: &str| self.text.len().checked_sub(word.len());
        let word = words.iter().find(|word| {
            end(word)
                .and_then(|end| self.text.get(end..))
                .is_some_and(|last| last.eq_ignore_ascii_case(word))
        })?;
        Some((self.piece(0, end(word)?), word))
    }

    /// Cuts a piece out, without the white space around it.
    fn piece(&self, start: usize, end: usize) -> Self {
        let piece = self.text.get(start..end).unwrap_or_default();
        let trimmed = piece.trim_start();
        let start = self.span.start + start + piece.len() - trimmed.len();
        let text = trimmed.trim_end();
        Self {
            text,
            span: Span::new(self.span.source, start, start + text.len()),
        }
    }
}

/// Runs one of the language's readers; what it could not read becomes the fault that ends the value.
fn read<T>(
    part: Reader<'_>,
    report: &mut Report,
    reader: impl FnOnce(&str, Span, &mut Report) -> Option<T>,
) -> Result<T, Fault> {
    let mut heard = Report::new();
    let value = reader(part.text, part.span, &mut heard);
    if let Some(value) = value {
        report.merge(heard);
        return Ok(value);
    }
    let fault = heard.into_faults().into_iter().next_back();
    Err(fault.map_or_else(
        || {
            Box::new(Diagnostic::new(
                Code::BadValue,
                part.span,
                "this cannot be read here",
            ))
        },
        Box::new,
    ))
}

/// A number; one below nought has a hyphen in front.
pub(super) fn number(part: Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    if part.text.starts_with('-') {
        read(part.piece(1, part.text.len()), report, syntax::read_number).map(|number| -&number)
    } else {
        read(part, report, syntax::read_number)
    }
}

/// A share in per cent, as a fraction of one.
pub(super) fn percent(part: Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    read(part, report, syntax::read_percent)
}

/// A weight in grams.
pub(super) fn weight(part: Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    read(part, report, syntax::read_weight).map(|(grams, _)| grams.0)
}

/// A length of time, or the middle of a range.
pub(super) fn elapsed(part: Reader<'_>, report: &mut Report) -> Result<Elapsed, Fault> {
    read(part, report, syntax::read_time).map(crate::quantity::ElapsedRange::middle)
}

/// A temperature, or the middle of a range.
pub(super) fn temperature(part: Reader<'_>, report: &mut Report) -> Result<Celsius, Fault> {
    match read(part, report, syntax::read_temperature)? {
        TemperatureWord::Degrees(range) => Ok(range.middle()),
        TemperatureWord::Place(word) => {
            let message = format!("`{word}` is no number of degrees");
            Err(bad_value(part.span, message, "write a number and `C` or `F`"))
        }
    }
}

/// A unit of weight, by its symbol or its name.
pub(super) fn weight_unit(part: Reader<'_>) -> Result<WeightUnit, Fault> {
    let lower = part.text.to_ascii_lowercase();
    let symbol = match lower.as_str() {
        "gram" | "grams" => "g",
        "kilo" | "kilos" | "kilogram" | "kilograms" => "kg",
        "milligram" | "milligrams" => "mg",
        "ounce" | "ounces" => "oz",
        "lbs" | "pound" | "pounds" => "lb",
        other => other,
    };
    let known = WeightUnit::ALL.map(WeightUnit::symbol);
    WeightUnit::of_symbol(symbol).ok_or_else(|| unknown_unit(part, &known))
}

/// Makes the fault of a unit that is not known.
pub(super) fn unknown_unit(part: Reader<'_>, known: &[&str]) -> Fault {
    let list: Vec<String> = known.iter().map(|unit| format!("`{unit}`")).collect();
    let message = format!("`{}` is no unit that fits here", part.text);
    Box::new(
        Diagnostic::new(Code::UnknownUnit, part.span, message).help(format!("write {}", list.join(" or "))),
    )
}

/// Gives the whole of a value as text of at most a number of bytes.
pub(super) fn text(line: &KeyLine, most: usize) -> Result<String, Fault> {
    let value = &line.value;
    if value.value.len() > most {
        let message = format!("`{}` has more than {most} bytes", line.key.value);
        return Err(Box::new(
            Diagnostic::new(Code::NameTooLong, value.span, message).help("make it shorter"),
        ));
    }
    Ok(value.value.clone())
}
