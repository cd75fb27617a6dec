//! How numbers are written: weights, shares, temperatures and lengths of time, in the marks of a language.
//!
//! Owns digits, units and the spaces between them. Decides no weight: what the scales show is settled in the
//! sheet, and only other units are rounded here, to what their scales show.

use super::word_list::Word;
use super::words::Words;
use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio, WeightUnit, round_to_step, share_out};

/// A space at which no line is broken.
const TIE: char = '\u{a0}';

/// The space between groups of three digits; a comma or a dot there means a thousand to one baker and one
/// to another.
const GROUP: char = '\u{202f}';

/// Writes numbers in the marks of one language.
#[derive(Clone, Copy, Debug)]
pub struct Numbers {
    words: &'static Words,
}

impl Numbers {
    /// Takes the marks of a language.
    #[must_use]
    pub const fn new(words: &'static Words) -> Self {
        Self { words }
    }

    /// Writes a number with at most so many decimals and no noughts behind them.
    #[must_use]
    pub fn decimal(&self, value: &Ratio, decimals: u32) -> String {
        let plain = value.to_trimmed(decimals);
        let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
        let mut text = grouped(whole);
        if !part.is_empty() {
            text.push_str(self.words.get(Word::DecimalMark));
            text.push_str(part);
        }
        text
    }

    /// Writes a weight that is already rounded, given in grams, in a unit.
    ///
    /// Kilograms below one are grams, and ounces from two pounds up are pounds and ounces, as scales show them.
    #[must_use]
    pub fn weight(&self, unit: WeightUnit, grams: &Ratio) -> String {
        let weight = Grams(grams.clone());
        match unit {
            WeightUnit::Kilogram if *grams < Ratio::whole(1000) => self.measured(grams, 3, "g"),
            WeightUnit::Ounce | WeightUnit::Pound => self.pounds(unit, &WeightUnit::Ounce.count(&weight)),
            other => self.measured(&other.count(&weight), 3, other.symbol()),
        }
    }

    /// Writes a weight that is not rounded yet, with as many digits as a reader has use for.
    #[must_use]
    pub fn weight_about(&self, unit: WeightUnit, weight: &Grams) -> String {
        self.weight(unit, &settle(unit, &weight.0))
    }

    /// Writes a share of one as a percentage: as written where two decimals hold it, else with one decimal,
    /// or two below one per cent.
    #[must_use]
    pub fn share(&self, share: &Ratio) -> String {
        let percent = share * &Ratio::HUNDRED;
        let is_short = round_to_step(&percent, &hundredth()) == percent;
        let decimals = if is_short || percent < Ratio::ONE { 2 } else { 1 };
        self.measured(&percent, decimals, "%")
    }

    /// Writes a temperature in both scales, `24 °C · 75 °F`, a range as a range.
    #[must_use]
    pub fn temperature(&self, range: &CelsiusRange) -> String {
        let (low, high) = (&range.low, &range.high);
        let celsius = self.from_to(&self.decimal(&low.0, 1), &self.decimal(&high.0, 1));
        let fahrenheit = self.from_to(
            &self.decimal(&low.fahrenheit(), 0),
            &self.decimal(&high.fahrenheit(), 0),
        );
        format!("{celsius}{TIE}°C · {fahrenheit}{TIE}°F")
    }

    /// Writes a length of time: `45 min`, `1 h 30 min`, `3 days`.
    #[must_use]
    pub fn length(&self, length: Elapsed) -> String {
        let minutes = length.as_minutes();
        let (days, hours, rest) = (minutes / 1440, minutes / 60, minutes % 60);
        let word = |word| self.words.get(word);
        if days >= 2 && minutes % 1440 == 0 {
            format!("{days}{TIE}{}", word(Word::Days))
        } else if hours == 0 {
            format!("{rest}{TIE}{}", word(Word::Minute))
        } else if rest == 0 {
            format!("{hours}{TIE}{}", word(Word::Hour))
        } else {
            format!("{hours}{TIE}{}{TIE}{rest}{TIE}{}", word(Word::Hour), word(Word::Minute))
        }
    }

    /// Writes a length or a range of lengths: `4–6 h`, `45 min – 1 h`.
    #[must_use]
    pub fn lengths(&self, range: ElapsedRange) -> String {
        let (least, most) = (self.length(range.least), self.length(range.most));
        if least == most {
            return least;
        }
        match (least.split_once(TIE), most.split_once(TIE)) {
            (Some((low, unit)), Some((high, same))) if unit == same => format!("{low}–{high}{TIE}{unit}"),
            _ => format!("{least} – {most}"),
        }
    }

    /// Writes a moment as the time since the start: `0:00`, `12:05`.
    #[must_use]
    pub fn moment(&self, since_start: Elapsed) -> String {
        let minutes = since_start.as_minutes();
        format!("{}:{:02}", minutes / 60, minutes % 60)
    }

    /// Rounds weights to what the scales of a unit show, so that their sum still holds.
    ///
    /// Grams come settled from the sheet; this is for ounces, which are read off in twentieths.
    #[must_use]
    pub fn settle_all(unit: WeightUnit, weights: &[Ratio]) -> Vec<Ratio> {
        match scale_step(unit) {
            Some(step) => share_out(weights, &step),
            None => weights.to_vec(),
        }
    }

    fn measured(&self, value: &Ratio, decimals: u32, unit: &str) -> String {
        let mut text = self.decimal(value, decimals);
        text.push(TIE);
        text.push_str(unit);
        text
    }

    /// Writes ounces, with pounds where the unit or the size asks for them.
    fn pounds(&self, unit: WeightUnit, ounces: &Ratio) -> String {
        let limit = Ratio::whole(if unit == WeightUnit::Pound { 16 } else { 32 });
        let pounds = (ounces / &Ratio::whole(16)).floor().unwrap_or(0);
        if *ounces < limit || pounds <= 0 {
            return self.measured(ounces, 3, "oz");
        }
        let rest = ounces - &Ratio::whole(pounds.saturating_mul(16));
        let pounds = self.measured(&Ratio::whole(pounds), 0, "lb");
        if rest.is_zero() {
            return pounds;
        }
        format!("{pounds}{TIE}{}", self.measured(&rest, 3, "oz"))
    }

    fn from_to(&self, low: &str, high: &str) -> String {
        if low == high { low.to_owned() } else { format!("{low}–{high}") }
    }
}

/// The step of the scales of a unit in grams; nothing for grams, whose steps the bakehouse knows.
fn scale_step(unit: WeightUnit) -> Option<Ratio> {
    let twentieth = Ratio::fraction(1, 20)?;
    matches!(unit, WeightUnit::Ounce | WeightUnit::Pound).then(|| &WeightUnit::Ounce.grams() * &twentieth)
}

/// Says whether a rounded weight is too far from the exact one to bake by: nothing left of it, or more than
/// a tenth off. Yeast is not left out in silence because the scales are coarse.
#[must_use]
pub fn is_lost(exact: &Ratio, shown: &Ratio) -> bool {
    let off = (exact - shown).abs();
    exact.is_positive() && &off * &Ratio::whole(10) > *exact
}

/// Rounds grams to two digits that count in a unit, for what the scales cannot show.
#[must_use]
pub fn two_digits(unit: WeightUnit, grams: &Ratio) -> Ratio {
    let one = match unit {
        WeightUnit::Ounce | WeightUnit::Pound => WeightUnit::Ounce.grams(),
        _ => Ratio::ONE,
    };
    let tenth = Ratio::fraction(1, 10).unwrap_or(Ratio::ONE);
    let (mut step, mut left) = (&one * &tenth, 6);
    // From ten units down one decimal is enough; each power of ten further down takes one more.
    while left > 0 && *grams < &step * &Ratio::whole(10) {
        step = &step * &tenth;
        left -= 1;
    }
    round_to_step(grams, &step)
}

/// Rounds a weight that no scale has to show: whole grams from a hundred up, ounces to a twentieth.
fn settle(unit: WeightUnit, grams: &Ratio) -> Ratio {
    if let Some(step) = scale_step(unit) {
        return round_to_step(grams, &step);
    }
    let hundredths = if *grams >= Ratio::whole(100) {
        100
    } else if *grams >= Ratio::whole(10) {
        10
    } else {
        1
    };
    round_to_step(grams, &(&hundredth() * &Ratio::whole(hundredths)))
}

fn hundredth() -> Ratio {
    Ratio::fraction(1, 100).unwrap_or(Ratio::ONE)
}

/// Groups digits by threes from five digits up.
fn grouped(digits: &str) -> String {
    if digits.len() < 5 {
        return digits.to_owned();
    }
    let mut text = String::with_capacity(digits.len() + 6);
    for (place, digit) in digits.char_indices() {
        if place > 0 && (digits.len() - place) % 3 == 0 && digit.is_ascii_digit() {
            text.push(GROUP);
        }
        text.push(digit);
    }
    text
}

/// Counts the decimals of a written number, so that a column can be moved until its marks stand in line.
#[must_use]
pub fn decimals(text: &str) -> usize {
    let number = text.trim_end_matches(|mark: char| !mark.is_ascii_digit());
    let digits = number.len() - number.trim_end_matches(|mark: char| mark.is_ascii_digit()).len();
    let before = number.get(..number.len() - digits).unwrap_or_default();
    if before.ends_with(['.', ',']) { digits } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::{Numbers, decimals, two_digits};
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
            (WeightUnit::Ounce, "340.1942775", "12 oz"),
            (WeightUnit::Pound, "340.1942775", "12 oz"),
            (WeightUnit::Pound, "453.59237", "1 lb"),
        ] {
            assert_eq!(plain(&numbers().weight(unit, &ratio(grams))), text);
        }
    }

    /// Published value U24, 1000 g; the U.S. handbook rounds it down to a tenth, a baker's scale shows the
    /// nearest twentieth.
    #[test]
    fn u24_pounds_and_ounces() {
        let kilogram = crate::quantity::Grams::whole(1000);
        assert_eq!(plain(&numbers().weight_about(WeightUnit::Ounce, &kilogram)), "2 lb 3.25 oz");
    }

    #[test]
    fn shares_and_traces() {
        assert_eq!(plain(&numbers().share(&ratio("0.68"))), "68 %");
        assert_eq!(plain(&numbers().share(&ratio("0.0225"))), "2.25 %");
        assert_eq!(plain(&numbers().share(&ratio("0.02255"))), "2.3 %");
        assert_eq!(plain(&numbers().share(&ratio("0.0005"))), "0.05 %");
        assert_eq!(two_digits(WeightUnit::Gram, &ratio("0.1234")).to_trimmed(9), "0.12");
        assert_eq!(two_digits(WeightUnit::Gram, &ratio("1.44")).to_trimmed(9), "1.4");
    }

    #[test]
    fn temperatures_in_both_scales() {
        let range = |low, high| CelsiusRange {
            low: Celsius::whole(low),
            high: Celsius::whole(high),
        };
        assert_eq!(plain(&numbers().temperature(&range(24, 24))), "24 °C · 75 °F");
        assert_eq!(plain(&numbers().temperature(&range(24, 26))), "24–26 °C · 75–79 °F");
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
            (45, 60, "45 min – 1 h"),
            (2880, 2880, "2 days"),
            (1440, 1440, "24 h"),
        ] {
            assert_eq!(plain(&numbers().lengths(range(least, most))), text);
        }
    }

    #[test]
    fn decimals_behind_the_mark() {
        for (text, count) in [("340 g", 0), ("7.35 g", 2), ("1 lb 4.05 oz", 2), ("", 0), ("60'000 g", 0)] {
            assert_eq!(decimals(text), count, "{text}");
        }
    }
}
