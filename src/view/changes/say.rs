//! How single values are said: weights, shares, times, temperatures, and the way from one to the next.

use super::super::numbers::Numbers;
use super::super::words::Words;
use super::{Kind, RunView};
use crate::compare::{In, Run};
use crate::model::recipe::TemperatureSpec;
use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio, WeightUnit};

/// Says values in English and in one unit of weight.
#[derive(Clone, Copy, Debug)]
pub(super) struct Say {
    numbers: Numbers,
    unit: WeightUnit,
}

impl Say {
    pub(super) fn new(unit: WeightUnit) -> Self {
        Self {
            numbers: Numbers::new(Words::for_language("en")),
            unit,
        }
    }

    pub(super) fn weight(self, weight: &Grams) -> String {
        plain(&self.numbers.weight_about(self.unit, weight))
    }

    pub(super) fn share(self, share: &Ratio) -> String {
        plain(&self.numbers.share(share))
    }

    /// Says how far two shares are apart.
    pub(super) fn points(self, apart: &Ratio) -> String {
        let points = apart * &Ratio::HUNDRED;
        let decimals = if points < Ratio::ONE { 2 } else { 1 };
        format!("{} points", self.numbers.decimal(&points, decimals))
    }

    pub(super) fn count(self, count: &Ratio) -> String {
        self.numbers.decimal(count, 2)
    }

    pub(super) fn length(self, length: Elapsed) -> String {
        plain(&self.numbers.length(length))
    }

    pub(super) fn lengths(self, range: ElapsedRange) -> String {
        plain(&self.numbers.lengths(range))
    }

    /// Says a factor with as many digits as tell it from one.
    pub(super) fn factor(self, factor: &Ratio) -> String {
        format!("× {}", self.numbers.decimal(factor, 3))
    }

    /// Says degrees in one scale, `24–26 °C`.
    pub(super) fn degrees(self, range: &CelsiusRange) -> String {
        let (low, high) = (
            self.numbers.decimal(&range.low.0, 1),
            self.numbers.decimal(&range.high.0, 1),
        );
        if low == high {
            format!("{low} °C")
        } else {
            format!("{low}–{high} °C")
        }
    }

    /// Says a place by its name and anything else in degrees: `in the fridge`, `at 24 °C`.
    pub(super) fn place(self, word: &str, at: &TemperatureSpec) -> String {
        match (word, at.place.as_deref()) {
            ("at", Some(place @ ("fridge" | "proofer"))) => format!("in the {place}"),
            (_, Some(place)) => format!("{word} {place} temperature"),
            (_, None) => format!("{word} {}", self.degrees(&at.range)),
        }
    }

    /// Says how the temperature of something differs.
    pub(super) fn other_warmth(
        self,
        word: &str,
        (old, new): (Option<&TemperatureSpec>, Option<&TemperatureSpec>),
        detail: Detail,
    ) -> String {
        match (old, new) {
            (Some(old), Some(new)) if old.place.is_none() && new.place.is_none() => {
                let way = arrow(&self.degrees(&old.range), &self.degrees(&new.range));
                match self.warmer(&old.range, &new.range) {
                    Some(warmer) => detail.with(Some(warmer), &way),
                    None => format!("{word} {way}"),
                }
            }
            (Some(old), Some(new)) => detail.before(self.place(word, new), &self.place(word, old)),
            (None, Some(new)) => format!("now {}", self.place(word, new)),
            (Some(old), None) => format!("no longer {}", self.place(word, old)),
            (None, None) => String::new(),
        }
    }

    /// Says how much warmer something is, in both scales.
    pub(super) fn warmer(self, old: &CelsiusRange, new: &CelsiusRange) -> Option<String> {
        let apart = &new.middle().0 - &old.middle().0;
        if apart.is_zero() {
            return None;
        }
        let size = apart.abs();
        let fahrenheit = &size * &Ratio::fraction(9, 5).unwrap_or_default();
        let is_hot = new.middle().0 > Ratio::HUNDRED;
        let word = match (apart.is_negative(), is_hot) {
            (false, true) => "hotter",
            (false, false) => "warmer",
            (true, true) => "cooler",
            (true, false) => "colder",
        };
        let (celsius, fahrenheit) = (
            self.numbers.decimal(&size, 1),
            self.numbers.decimal(&fahrenheit, 0),
        );
        Some(format!("{celsius} °C ({fahrenheit} °F) {word}"))
    }

    /// Says how much longer something takes, by the middles.
    pub(super) fn longer(self, old: ElapsedRange, new: ElapsedRange) -> Option<String> {
        let (old, new) = (old.middle(), new.middle());
        match old.cmp(&new) {
            std::cmp::Ordering::Less => Some(format!("{} longer", self.length(new.less(old)))),
            std::cmp::Ordering::Greater => Some(format!("{} shorter", self.length(old.less(new)))),
            std::cmp::Ordering::Equal => None,
        }
    }

    /// Says by how much a weight differs.
    pub(super) fn weight_apart(self, old: &Grams, new: &Grams) -> String {
        if new < old {
            format!("−{}", self.weight(&(old - new)))
        } else {
            format!("+{}", self.weight(&(new - old)))
        }
    }
}

/// How much is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Detail {
    /// By how much something differs.
    Brief,
    /// The values before and after too.
    Whole,
}

impl Detail {
    /// Puts what was before behind what is, where all is said.
    pub(super) fn before(self, now: String, before: &str) -> String {
        match self {
            Self::Brief => now,
            Self::Whole => format!("{now}, before {before}"),
        }
    }

    /// Puts the way from one value to the other behind what is said, where all is said.
    pub(super) fn with(self, told: Option<String>, way: &str) -> String {
        match (told, self) {
            (Some(told), Self::Brief) => told,
            (Some(told), Self::Whole) => format!("{told} ({way})"),
            (None, _) => way.to_owned(),
        }
    }
}

/// Says the way from one value to another; a unit that both have is said once.
pub(super) fn arrow(old: &str, new: &str) -> String {
    let unit = |text: &str| text.rsplit_once(' ').map(|(_, unit)| unit.to_owned());
    let shared =
        unit(new).filter(|shared| unit(old).as_ref() == Some(shared) && old.matches(' ').count() == 1);
    match shared.and_then(|shared| old.strip_suffix(&shared).map(str::trim_end)) {
        Some(bare) => format!("{bare} → {new}"),
        None => format!("{old} → {new}"),
    }
}

/// Joins names with commas and a last `and`.
pub(super) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Tells what became of a thing from whether it was there and is there.
pub(super) const fn kind(was: bool, is: bool) -> Kind {
    match (was, is) {
        (false, true) => Kind::Added,
        (true, false) => Kind::Gone,
        _ => Kind::Changed,
    }
}

pub(super) fn runs(runs: &[Run]) -> Vec<RunView> {
    let view = |run: &Run| RunView {
        stands: match run.stands {
            In::Both => "both",
            In::Old => "old",
            In::New => "new",
        },
        text: run.text.clone(),
    };
    runs.iter().map(view).collect()
}

/// Sentences are broken anywhere; a number and its unit stay together on cards only.
fn plain(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}'], " ")
}
