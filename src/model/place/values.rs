//! What stands behind the colon of a bakehouse key, read from left to right: numbers, temperatures, times.
//!
//! Owns the small readers that several keys share, with the place of every word for the message. Does not
//! know which key wants what.

use crate::diag::{Code, Diagnostic, Report};
use crate::quantity::{Celsius, Elapsed, Ratio, WeightUnit};
use crate::source::{Span, Spanned};
use crate::syntax::tree::KeyLine;

/// A fault that ends the reading of a value; boxed, so that the good case stays small.
pub(super) type Fault = Box<Diagnostic>;

/// Makes the fault of a value that cannot be, with what to write instead.
pub(super) fn bad_value(span: Span, message: impl Into<String>, help: impl Into<String>) -> Fault {
    Box::new(Diagnostic::new(Code::BadValue, span, message).help(help))
}

/// A piece of a value that is read from the left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reader<'text> {
    rest: &'text str,
    span: Span,
}

impl<'text> Reader<'text> {
    /// Starts at the value of a key.
    pub(super) fn of_key(line: &'text KeyLine) -> Self {
        Self {
            rest: &line.value.value,
            span: line.value.span,
        }
    }

    /// Gives the place of what is still to be read.
    pub(super) fn span(&self) -> Span {
        self.span
    }

    /// Gives what is still to be read.
    pub(super) fn rest(&self) -> &'text str {
        self.rest
    }

    /// Says whether everything has been read.
    pub(super) fn is_done(&self) -> bool {
        self.rest.is_empty()
    }

    /// Cuts the value at its commas; one between two digits is a decimal comma.
    pub(super) fn parts(&self) -> Vec<Self> {
        let bytes = self.rest.as_bytes();
        let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
        let mut parts = Vec::new();
        let mut start = 0;
        for (at, _) in self.rest.match_indices(',') {
            if !(digit(at.checked_sub(1)) && digit(Some(at + 1))) {
                parts.push(self.piece(start, at));
                start = at + 1;
            }
        }
        parts.push(self.piece(start, self.rest.len()));
        parts
    }

    /// Takes the text up to a mark and leaves what stands behind it; nothing where there is no such mark.
    pub(super) fn take_until(&mut self, marks: &[&str]) -> Option<Self> {
        let (at, mark) = marks
            .iter()
            .filter_map(|mark| self.rest.find(mark).map(|at| (at, mark)))
            .min()?;
        let before = self.piece(0, at);
        *self = self.piece(at + mark.len(), self.rest.len());
        Some(before)
    }

    /// Takes everything that is left.
    pub(super) fn take_all(&mut self) -> Self {
        let all = *self;
        *self = self.piece(self.rest.len(), self.rest.len());
        all
    }

    /// Takes a word if it is the next one, whatever its case.
    pub(super) fn take_word(&mut self, word: &str) -> bool {
        let mut ahead = *self;
        let found = ahead.word().is_some_and(|next| next.eq_ignore_ascii_case(word));
        if found {
            *self = ahead;
        }
        found
    }

    /// Takes a run of letters and signs: `C`, `°C`, `%`, `hydration`.
    pub(super) fn word(&mut self) -> Option<&'text str> {
        let ends = |letter: char| letter.is_whitespace() || letter.is_ascii_digit() || "-–,".contains(letter);
        let end = self.rest.find(ends).unwrap_or(self.rest.len());
        let word = self.rest.get(..end).filter(|word| !word.is_empty())?;
        *self = self.piece(end, self.rest.len());
        Some(word)
    }

    /// Takes a dash between two ends of a range.
    pub(super) fn dash(&mut self) -> bool {
        let Some(rest) = self.rest.strip_prefix(['-', '–']) else {
            return false;
        };
        *self = self.piece(self.rest.len() - rest.len(), self.rest.len());
        true
    }

    /// Takes a number: `12`, `0.5`, `12,5`, `1/2`, `1 1/2`, `1½`, `-2`.
    pub(super) fn number(&mut self, report: &mut Report) -> Result<Ratio, Fault> {
        let negative = self.rest.starts_with('-');
        if negative {
            *self = self.piece(1, self.rest.len());
        }
        let mut total = self.plain_number(report)?;
        let mut ahead = *self;
        if !self.rest.starts_with('/')
            && let Ok(fraction) = ahead.plain_number(&mut Report::new())
            && ahead.rest.starts_with('/')
        {
            *self = ahead;
            total = &total + &self.over(&fraction)?;
        } else if self.rest.starts_with('/') {
            total = self.over(&total)?;
        }
        if let Some((sign, fraction)) = self.rest.chars().next().and_then(vulgar_fraction) {
            total = &total + &fraction;
            *self = self.piece(sign.len_utf8(), self.rest.len());
        }
        Ok(if negative { -&total } else { total })
    }

    /// Takes `/ 4` and divides by it.
    fn over(&mut self, numerator: &Ratio) -> Result<Ratio, Fault> {
        let span = self.span;
        *self = self.piece(1, self.rest.len());
        let denominator = self.plain_number(&mut Report::new())?;
        numerator
            .checked_div(&denominator)
            .ok_or_else(|| bad_number(span, "nothing can be divided by nought"))
    }

    /// Takes digits with at most one point or comma; only a sign such as `½` may stand without them.
    fn plain_number(&mut self, report: &mut Report) -> Result<Ratio, Fault> {
        let inside = |letter: char| letter.is_ascii_digit() || letter == '.' || letter == ',';
        let end = self
            .rest
            .find(|letter| !inside(letter))
            .unwrap_or(self.rest.len());
        let whole = self.piece(0, end);
        if whole.is_done() && self.rest.chars().next().and_then(vulgar_fraction).is_some() {
            return Ok(Ratio::ZERO);
        }
        let value = decimal(&whole, report)?;
        *self = self.piece(end, self.rest.len());
        Ok(value)
    }

    /// Cuts a piece out of what is left, without the white space around it.
    fn piece(&self, start: usize, end: usize) -> Self {
        let piece = self.rest.get(start..end).unwrap_or_default();
        let trimmed = piece.trim_start();
        let skipped = start + piece.len() - trimmed.len();
        let trimmed = trimmed.trim_end();
        Self {
            rest: trimmed,
            span: Span::new(
                self.span.source,
                self.span.start + skipped,
                self.span.start + skipped + trimmed.len(),
            ),
        }
    }
}

/// Reads digits with at most one point or comma, by the language's rule for thousands.
fn decimal(digits: &Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    let (text, span) = (digits.rest, digits.span);
    if text.is_empty() {
        return Err(bad_number(span, "a number is missing"));
    }
    if text.len() > 30 {
        return Err(bad_number(span, "a number has too many digits"));
    }
    let thousand = text.split_once([',', '.']).is_some_and(|(before, after)| {
        after.len() == 3
            && before.len() <= 3
            && before.trim_start_matches('0').len() == before.len()
            && !before.is_empty()
    });
    if thousand && text.contains(',') {
        let message = format!("`{text}` is read in two ways");
        let help = format!(
            "write `{}` or `{}`",
            text.replace(',', ""),
            short(&text.replace(',', "."))
        );
        return Err(Box::new(
            Diagnostic::new(Code::AmbiguousNumber, span, message).help(help),
        ));
    }
    if thousand {
        let message = format!("`{text}` is read with a decimal point, as {}", short(text));
        report.push(Diagnostic::new(Code::DotThousand, span, message));
    }
    Ratio::parse_decimal(&text.replacen(',', ".", 1))
        .ok_or_else(|| bad_number(span, format!("`{text}` is no number that can be read")))
}

fn short(text: &str) -> String {
    Ratio::parse_decimal(text).unwrap_or_default().to_trimmed(3)
}

fn bad_number(span: Span, message: impl Into<String>) -> Fault {
    Box::new(Diagnostic::new(Code::BadNumber, span, message).help("write it as `12`, `0.5` or `1/2`"))
}

fn vulgar_fraction(sign: char) -> Option<(char, Ratio)> {
    let (numerator, denominator) = match sign {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        _ => return None,
    };
    Some((sign, Ratio::fraction(numerator, denominator)?))
}

/// A temperature, or the middle of a range of them.
pub(super) fn temperature(reader: &mut Reader<'_>, report: &mut Report) -> Result<Celsius, Fault> {
    let whole = reader.span();
    let (middle, fahrenheit) = degrees(reader, report)?;
    let celsius = if fahrenheit {
        Celsius::of_fahrenheit(&middle)
    } else {
        Celsius(middle)
    };
    if celsius < Celsius::whole(-40) || celsius > Celsius::whole(600) {
        let message = format!("{} °C is no place's and no oven's", celsius.0.to_trimmed(0));
        return Err(Box::new(
            Diagnostic::new(Code::BadTemperature, whole, message)
                .help("a temperature lies between -40 and 600 °C"),
        ));
    }
    Ok(celsius)
}

/// Degrees as written, and whether they are Fahrenheit; of a range its middle.
pub(super) fn degrees(reader: &mut Reader<'_>, report: &mut Report) -> Result<(Ratio, bool), Fault> {
    let start = reader.span();
    let low = reader.number(report)?;
    let high = if reader.dash() {
        reader.number(report)?
    } else {
        low.clone()
    };
    if high < low {
        let message = "the range runs backwards";
        let help = "write the lower temperature first";
        return Err(Box::new(
            Diagnostic::new(Code::RangeBackwards, start, message).help(help),
        ));
    }
    let middle = &(&low + &high) / &Ratio::whole(2);
    let unit = reader.span();
    match reader.word().map(|word| word.trim_start_matches('°')) {
        Some("C" | "c") => Ok((middle, false)),
        Some("F" | "f") => Ok((middle, true)),
        Some(word) => Err(unknown_unit(unit, word, &["C", "F"])),
        None => Err(bad_value(
            start,
            "the degrees are without a scale",
            "write `C` or `F` behind the number",
        )),
    }
}

/// A share in per cent, as a fraction of one.
pub(super) fn percent(reader: &mut Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    let whole = reader.span();
    let count = reader.number(report)?;
    if reader.word() == Some("%") {
        Ok(&count / &Ratio::HUNDRED)
    } else {
        Err(bad_value(
            whole,
            "a share is given in per cent",
            "write `%` behind the number",
        ))
    }
}

/// A weight on one unit.
pub(super) fn weight(reader: &mut Reader<'_>, report: &mut Report) -> Result<Ratio, Fault> {
    let count = reader.number(report)?;
    Ok(&count * &weight_unit(reader)?.grams())
}

/// A unit of weight, by its symbol or its name.
pub(super) fn weight_unit(reader: &mut Reader<'_>) -> Result<WeightUnit, Fault> {
    let span = reader.span();
    let word = reader.word().unwrap_or_default();
    let lower = word.to_ascii_lowercase();
    let symbol = match lower.as_str() {
        "gram" | "grams" => "g",
        "kilo" | "kilos" | "kilogram" | "kilograms" => "kg",
        "milligram" | "milligrams" => "mg",
        "ounce" | "ounces" => "oz",
        "lbs" | "pound" | "pounds" => "lb",
        other => other,
    };
    let known: Vec<&str> = WeightUnit::ALL.iter().map(|unit| unit.symbol()).collect();
    WeightUnit::of_symbol(symbol).ok_or_else(|| unknown_unit(span, word, &known))
}

/// A length of time in one or more units, or the middle of a range of them.
pub(super) fn elapsed(reader: &mut Reader<'_>, report: &mut Report) -> Result<Elapsed, Fault> {
    let whole = reader.span();
    let mut seconds = Ratio::ZERO;
    while !reader.is_done() {
        let low = reader.number(report)?;
        let high = if reader.dash() {
            reader.number(report)?
        } else {
            low.clone()
        };
        let unit = reader.span();
        let length = match reader.word().map(str::to_ascii_lowercase).as_deref() {
            Some("s" | "sec" | "second" | "seconds") => 1,
            Some("min" | "mins" | "minute" | "minutes") => 60,
            Some("h" | "hr" | "hrs" | "hour" | "hours") => 3600,
            Some("day" | "days") => 86_400,
            word => return Err(unknown_unit(unit, word.unwrap_or_default(), &["min", "h"])),
        };
        let middle = &(&low + &high) / &Ratio::whole(2);
        seconds = &seconds + &(&middle * &Ratio::whole(length));
    }
    seconds
        .round()
        .and_then(|seconds| u32::try_from(seconds).ok())
        .map(|seconds| Elapsed { seconds })
        .ok_or_else(|| {
            Box::new(Diagnostic::new(
                Code::TimeTooLong,
                whole,
                "that is no time that anybody waits",
            ))
        })
}

/// Makes the fault of a unit that is not known.
pub(super) fn unknown_unit(span: Span, word: &str, known: &[&str]) -> Fault {
    let list = known.iter().map(|unit| format!("`{unit}`")).collect::<Vec<_>>();
    let message = if word.is_empty() {
        "the unit is missing".to_owned()
    } else {
        format!("`{word}` is no unit that fits here")
    };
    Box::new(Diagnostic::new(Code::UnknownUnit, span, message).help(format!("write {}", list.join(" or "))))
}

/// Faults where something is left behind a value that is complete.
pub(super) fn expect_end(reader: &Reader<'_>) -> Result<(), Fault> {
    if reader.is_done() {
        return Ok(());
    }
    let message = format!("`{}` does not belong here", reader.rest());
    Err(bad_value(
        reader.span(),
        message,
        "take it out, or put `#` before a remark",
    ))
}

/// Gives the whole of a value as text of at most a number of bytes.
pub(super) fn text(line: &KeyLine, most: usize) -> Result<String, Fault> {
    let Spanned { value, span } = &line.value;
    if value.len() > most {
        let message = format!(
            "`{}` holds {} bytes, more than {most}",
            line.key.value,
            value.len()
        );
        return Err(Box::new(Diagnostic::new(Code::NameTooLong, *span, message)));
    }
    Ok(value.clone())
}
