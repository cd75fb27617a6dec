//! How numbers are written: weights, shares, temperatures and lengths of time, in the marks of a language.
//!
//! Owns digits, units and the spaces between them. Decides no weight: what the scales show is settled in the
//! sheet, and only other units are rounded here, to what their scales show.

use std::fmt::Write;

use super::live::{Key, marked};
use super::weights::{ONE, Shown, is_avoirdupois, millionths, settle_alone};
use super::word_list::Word;
use super::words::Words;
use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio, VolumeUnit, WeightUnit};

/// A space at which no line is broken.
const TIE: char = '\u{a0}';

/// The space between groups of three digits; a comma or a dot there means a thousand to one baker and one
/// to another.
const GROUP: char = '\u{202f}';

/// Writes numbers in the marks of one language.
#[derive(Clone, Copy, Debug)]
pub struct Numbers {
    words: &'static Words,
    /// Whether temperatures are marked, so that a reader may choose the scale.
    is_live: bool,
    /// Whether degrees Fahrenheit stand before degrees Celsius.
    is_fahrenheit_first: bool,
}

impl Numbers {
    /// Takes the marks of a language.
    #[must_use]
    pub const fn new(words: &'static Words) -> Self {
        Self {
            words,
            is_live: false,
            is_fahrenheit_first: false,
        }
    }

    /// Marks temperatures, for a page on which a reader may choose their scale.
    pub(super) const fn live(self) -> Self {
        Self {
            is_live: true,
            ..self
        }
    }

    /// Puts the degrees first that go with a unit of weight: Fahrenheit with ounces and pounds.
    pub(super) const fn beside(self, unit: WeightUnit) -> Self {
        Self {
            is_fahrenheit_first: is_avoirdupois(unit),
            ..self
        }
    }

    /// Writes a number with at most so many decimals and no noughts behind them.
    #[must_use]
    pub fn decimal(self, value: &Ratio, decimals: u32) -> String {
        value
            .to_trimmed(decimals)
            .replace('.', self.words.get(Word::DecimalMark))
    }

    /// Writes what a baker wrote in the decimal marks of the language: `0.3 %` is `0,3 %` in German.
    pub(super) fn as_written(self, text: &str) -> String {
        let mark = self.words.get(Word::DecimalMark);
        let mut parts = text.split('.').peekable();
        let mut written = String::with_capacity(text.len());
        while let Some(part) = parts.next() {
            written.push_str(part);
            let is_decimal = |next: &&str| {
                part.ends_with(|last: char| last.is_ascii_digit())
                    && next.starts_with(|first: char| first.is_ascii_digit())
            };
            if let Some(next) = parts.peek() {
                written.push_str(if is_decimal(next) { mark } else { "." });
            }
        }
        written
    }

    /// Writes a weight that is already rounded, in a unit.
    ///
    /// Kilograms below one are grams, and ounces from two pounds up are pounds and ounces, as scales show them.
    pub(super) fn weight(self, unit: WeightUnit, shown: Shown) -> String {
        match unit {
            WeightUnit::Ounce | WeightUnit::Pound => self.pounds(unit, shown),
            WeightUnit::Kilogram if shown >= 1000 * ONE => self.measured(shown / 1000, "kg"),
            WeightUnit::Gram | WeightUnit::Kilogram => self.measured(shown, "g"),
            WeightUnit::Milligram => self.counted(shown, ONE / 1000, "mg"),
        }
    }

    /// Writes a weight that is not rounded yet, with as many digits as a reader has use for.
    #[must_use]
    pub fn weight_about(self, unit: WeightUnit, weight: &Grams) -> String {
        self.weight(unit, settle_alone(unit, millionths(unit, &weight.0)))
    }

    /// Writes a share of one as a percentage: as written where two decimals hold it, else with one decimal,
    /// or two below one per cent.
    #[must_use]
    pub fn share(self, share: &Ratio) -> String {
        let hundredths = share.times_rounded(10_000, 1).unwrap_or(i64::MAX);
        let is_short = share.has_decimals(4) || hundredths.abs() < 100;
        let shown = if is_short {
            hundredths
        } else {
            share.times_rounded(1000, 1).unwrap_or(i64::MAX / 10) * 10
        };
        self.measured(shown.saturating_mul(ONE / 100), "%")
    }

    /// Writes a temperature in both scales, `24 °C · 75 °F`, a range as a range.
    #[must_use]
    pub fn temperature(self, range: &CelsiusRange) -> String {
        let (low, high) = (&range.low, &range.high);
        // Above the warmth of water and dough, the tenths of a temperature that was written in °F tell nothing.
        let is_telling = |celsius: &Ratio| celsius.has_decimals(1) || *celsius < Ratio::whole(60);
        let decimals = u32::from(is_telling(&low.0) && is_telling(&high.0));
        let celsius = span(&self.decimal(&low.0, decimals), &self.decimal(&high.0, decimals));
        let fahrenheit = span(
            &self.decimal(&low.fahrenheit(), 0),
            &self.decimal(&high.fahrenheit(), 0),
        );
        self.in_both_scales(&celsius, &fahrenheit)
    }

    /// Writes a number of physics with at most so many decimals and no noughts behind them.
    pub(super) fn about(self, value: f64, decimals: usize) -> String {
        let value = if value.is_finite() { value } else { 0.0 };
        let text = format!("{value:.decimals$}");
        let short = if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.')
        } else {
            &text
        };
        let (sign, digits) = short.strip_prefix('-').map_or(("", short), |rest| ("−", rest));
        let sign = if digits == "0" { "" } else { sign };
        format!("{sign}{}", digits.replace('.', self.words.get(Word::DecimalMark)))
    }

    /// Writes a temperature of physics in both scales, to whole degrees: `24 °C · 75 °F`.
    pub(super) fn degrees(self, celsius: f64) -> String {
        self.in_both_scales(&self.about(celsius, 0), &self.about(celsius * 1.8 + 32.0, 0))
    }

    /// Writes a range of temperatures of physics in both scales.
    pub(super) fn degrees_range(self, low: f64, high: f64) -> String {
        let of = |celsius: f64| (self.about(celsius, 0), self.about(celsius * 1.8 + 32.0, 0));
        let (low, high) = (of(low), of(high));
        self.in_both_scales(&span(&low.0, &high.0), &span(&low.1, &high.1))
    }

    /// Writes a difference of temperatures in both scales: 4 degrees Celsius of it are 7 of Fahrenheit, not 39.
    pub(super) fn degrees_apart(self, celsius: f64) -> String {
        self.in_both_scales(&self.about(celsius, 1), &self.about(celsius * 1.8, 0))
    }

    /// Writes two figures as one temperature in both scales.
    fn in_both_scales(self, celsius: &str, fahrenheit: &str) -> String {
        let mut scales = [
            (Key::Celsius, format!("{celsius}{TIE}°C")),
            (Key::Fahrenheit, format!("{fahrenheit}{TIE}°F")),
        ];
        if self.is_fahrenheit_first {
            scales.reverse();
        }
        let between = format!("{TIE}·{TIE}");
        let shown = |key, text: &str| {
            if self.is_live {
                marked(key, text)
            } else {
                text.to_owned()
            }
        };
        let [first, second] = scales.map(|(key, text)| shown(key, &text));
        [first, shown(Key::Between, &between), second].concat()
    }

    /// Writes a length of time: `45 min`, `1 h 30 min`, `3 days`.
    #[must_use]
    pub fn length(self, length: Elapsed) -> String {
        let minutes = length.as_minutes();
        let (days, hours, rest) = (minutes / 1440, minutes / 60, minutes % 60);
        let word = |word| self.words.get(word);
        if days >= 2 && minutes.is_multiple_of(1440) {
            let count = days.to_string();
            let number = Ratio::whole(i64::from(days));
            self.words.fill_counted(Word::Days, &number, &[("count", &count)])
        } else if hours == 0 {
            format!("{rest}{TIE}{}", word(Word::Minute))
        } else if rest == 0 {
            format!("{hours}{TIE}{}", word(Word::Hour))
        } else {
            format!(
                "{hours}{TIE}{}{TIE}{rest}{TIE}{}",
                word(Word::Hour),
                word(Word::Minute)
            )
        }
    }

    /// Writes a length or a range of lengths: `4–6 h`, `45 min – 1 h`.
    #[must_use]
    pub fn lengths(self, range: ElapsedRange) -> String {
        let (least, most) = (self.length(range.least), self.length(range.most));
        if least == most {
            return least;
        }
        match (least.split_once(TIE), most.split_once(TIE)) {
            (Some((low, unit)), Some((high, same))) if unit == same && !unit.contains(TIE) => {
                format!("{low}–{high}{TIE}{unit}")
            }
            _ => format!("{least} – {most}"),
        }
    }

    /// Writes a moment as the time since the start: `+0:00`, `+12:05`.
    #[must_use]
    pub fn moment(self, since_start: Elapsed) -> String {
        let minutes = since_start.as_minutes();
        format!("+{}:{:02}", minutes / 60, minutes % 60)
    }

    /// Writes a day of the calendar: `14 March 2026`. A month that no calendar has stays a number.
    #[must_use]
    pub fn date(self, (year, month, day): (u16, u8, u8)) -> String {
        let months = self.words.get(Word::Months).split(", ");
        let name = months.into_iter().nth(usize::from(month).wrapping_sub(1));
        let number = month.to_string();
        let word = if day == 1 { Word::DateFirst } else { Word::Date };
        let gaps = [
            ("day", &*day.to_string()),
            ("month", name.unwrap_or(&number)),
            ("year", &*year.to_string()),
        ];
        self.words.fill(word, &gaps)
    }

    /// Writes how much the baker measured something by: `3 tbsp`, `1.5 cups`; eggs are counted without a unit.
    #[must_use]
    pub fn measure(self, count: &Ratio, unit: Option<VolumeUnit>) -> String {
        let number = self.decimal(count, 2);
        let number = if self.is_live {
            marked(Key::Measure(count), &number)
        } else {
            number
        };
        let word = match unit {
            None => return number,
            Some(VolumeUnit::Teaspoon) => Word::UnitTeaspoon,
            Some(VolumeUnit::Tablespoon) => Word::UnitTablespoon,
            Some(VolumeUnit::Cup) => Word::UnitCup,
            Some(unit @ (VolumeUnit::Millilitre | VolumeUnit::Litre | VolumeUnit::FluidOunce)) => {
                return format!("{number}{TIE}{}", unit.symbol());
            }
        };
        self.words.fill_counted(word, count, &[("count", &number)])
    }

    /// Writes a time on the clock: `8:35`, `20:00`.
    #[must_use]
    pub fn clock(self, minutes_since_midnight: u32) -> String {
        let minutes = minutes_since_midnight % 1440;
        let minute = format!("{:02}", minutes % 60);
        let gaps = [("hour", &*(minutes / 60).to_string()), ("minute", &minute)];
        self.words.fill(Word::Clock, &gaps)
    }

    /// Writes a count of millionths with its unit.
    fn measured(self, millionths: i64, unit: &str) -> String {
        self.counted(millionths, ONE, unit)
    }

    /// Writes a count of parts, of which so many make one of a unit; a million, or a thousand.
    fn counted(self, parts: i64, in_one: i64, unit: &str) -> String {
        let mut text = String::with_capacity(16);
        let (size, in_one) = (parts.unsigned_abs(), in_one.unsigned_abs());
        let (whole, mut part) = (size / in_one, size % in_one * (ONE.unsigned_abs() / in_one));
        if parts < 0 {
            text.push('−');
        }
        push_grouped(whole, &mut text);
        if part > 0 {
            let mut digits = 6;
            while part.is_multiple_of(10) {
                part /= 10;
                digits -= 1;
            }
            text.push_str(self.words.get(Word::DecimalMark));
            // Writing into a string does not fail.
            let _ = write!(text, "{part:0digits$}");
        }
        text.push(TIE);
        text.push_str(unit);
        text
    }

    /// Writes ounces, with pounds where the unit or the size asks for them.
    fn pounds(self, unit: WeightUnit, ounces: Shown) -> String {
        let limit = if unit == WeightUnit::Pound { 16 } else { 32 };
        if ounces < limit * ONE {
            return self.measured(ounces, "oz");
        }
        let rest = ounces % (16 * ONE);
        let pounds = self.measured(ounces / 16 / ONE * ONE, "lb");
        if rest == 0 {
            return pounds;
        }
        format!("{pounds}{TIE}{}", self.measured(rest, "oz"))
    }
}

/// Writes two values as a range, or one where they are the same.
fn span(low: &str, high: &str) -> String {
    if low == high {
        low.to_owned()
    } else {
        format!("{low}–{high}")
    }
}

/// Writes a whole number, its digits in groups of three from five digits up.
fn push_grouped(value: u64, text: &mut String) {
    let digits = value.to_string();
    for (place, digit) in digits.char_indices() {
        if place > 0 && digits.len() > 4 && (digits.len() - place).is_multiple_of(3) {
            text.push(GROUP);
        }
        text.push(digit);
    }
}

/// Counts the decimals of a written number, so that a column can be moved until its marks stand in line.
#[must_use]
pub(super) fn decimals(text: &str) -> usize {
    let number = text.trim_end_matches(|mark: char| !mark.is_ascii_digit());
    let digits = number.len() - number.trim_end_matches(|mark: char| mark.is_ascii_digit()).len();
    let before = number.get(..number.len() - digits).unwrap_or_default();
    if before.ends_with(['.', ',']) { digits } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::super::weights::millionths;
    use super::{Numbers, decimals};
    use crate::quantity::{Celsius, CelsiusRange, Elapsed, ElapsedRange, Ratio, WeightUnit};
    use crate::view::Words;

    fn numbers() -> Numbers {
        Numbers::new(Words::for_language("en"))
    }

    fn ratio(text: &str) -> Ratio {
        Ratio::parse_decimal(text).unwrap_or_default()
    }

    fn plain(text: &str) -> String {
        text.replace('\u{a0}', " ").replace('\u{202f}', "'")
    }

    #[test]
    fn weights_as_scales_show_them() {
        for (unit, grams, text) in [
            (WeightUnit::Gram, "340", "340 g"),
            (WeightUnit::Gram, "7.35", "7.35 g"),
            (WeightUnit::Gram, "1250", "1250 g"),
            (WeightUnit::Gram, "60000", "60'000 g"),
            (WeightUnit::Kilogram, "60000", "60 kg"),
            (WeightUnit::Kilogram, "1234", "1.234 kg"),
            (WeightUnit::Kilogram, "120", "120 g"),
            (WeightUnit::Milligram, "0.5", "500 mg"),
            (WeightUnit::Ounce, "340.1942775", "12 oz"),
            (WeightUnit::Pound, "340.1942775", "12 oz"),
            (WeightUnit::Pound, "453.59237", "1 lb"),
        ] {
            let shown = millionths(unit, &ratio(grams));
            assert_eq!(plain(&numbers().weight(unit, shown)), text);
        }
        let kilogram = crate::quantity::Grams::whole(1000);
        let text = numbers().weight_about(WeightUnit::Ounce, &kilogram);
        assert_eq!(plain(&text), "2 lb 3.25 oz");
    }

    #[test]
    fn shares_as_written_or_with_one_decimal() {
        for (share, text) in [
            ("0.68", "68 %"),
            ("0.0225", "2.25 %"),
            ("0.02255", "2.3 %"),
            ("0.0005", "0.05 %"),
            ("1.784", "178.4 %"),
        ] {
            assert_eq!(plain(&numbers().share(&ratio(share))), text);
        }
        let third = Ratio::fraction(1, 3).unwrap_or_default();
        assert_eq!(plain(&numbers().share(&third)), "33.3 %");
    }

    #[test]
    fn temperatures_in_both_scales() {
        let range = |low, high| CelsiusRange {
            low: Celsius::whole(low),
            high: Celsius::whole(high),
        };
        assert_eq!(plain(&numbers().temperature(&range(24, 24))), "24 °C · 75 °F");
        for (fahrenheit, text) in [(76, "24.4 °C · 76 °F"), (375, "191 °C · 375 °F")] {
            let degrees = Ratio::fraction((fahrenheit - 32) * 5, 9).unwrap_or_default();
            let range = CelsiusRange::single(Celsius(degrees));
            assert_eq!(plain(&numbers().temperature(&range)), text);
        }
        assert_eq!(
            plain(&numbers().temperature(&range(24, 26))),
            "24–26 °C · 75–79 °F"
        );
    }

    /// A difference of degrees is no temperature: published value U11.
    #[test]
    fn degrees_and_differences_of_physics() {
        assert_eq!(plain(&numbers().degrees(27.7)), "28 °C · 82 °F");
        assert_eq!(plain(&numbers().degrees(-2.0)), "−2 °C · 28 °F");
        assert_eq!(
            plain(&numbers().degrees_range(93.0, 98.0)),
            "93–98 °C · 199–208 °F"
        );
        assert_eq!(plain(&numbers().degrees_apart(40.0 / 3.0)), "13.3 °C · 24 °F");
        assert_eq!(numbers().about(-0.01, 1), "0");
    }

    #[test]
    fn lengths_of_time() {
        let range = |least, most| ElapsedRange {
            least: Elapsed::minutes(least),
            most: Elapsed::minutes(most),
        };
        for (least, most, text) in [
            (45, 45, "45 min"),
            (90, 90, "1 h 30 min"),
            (240, 360, "4–6 h"),
            (1119, 1479, "18 h 39 min – 24 h 39 min"),
            (45, 60, "45 min – 1 h"),
            (2880, 2880, "2 days"),
            (1440, 1440, "24 h"),
        ] {
            assert_eq!(plain(&numbers().lengths(range(least, most))), text);
        }
    }

    #[test]
    fn decimals_behind_the_mark() {
        for (text, count) in [
            ("340 g", 0),
            ("7.35 g", 2),
            ("1 lb 4.05 oz", 2),
            ("", 0),
            ("60'000 g", 0),
        ] {
            assert_eq!(decimals(text), count, "{text}");
        }
    }
}
