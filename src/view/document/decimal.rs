//! Numbers of the document: decimals that are rounded once, here, and ranges of times and temperatures.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio};

/// Decimals behind the point; weights so show milligrams.
const DECIMALS: u32 = 3;

/// A number rounded to three decimals, written as a JSON number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decimal(String);

impl Decimal {
    /// Rounds an exact number.
    #[must_use]
    pub fn of(exact: &Ratio) -> Self {
        Self(exact.to_trimmed(DECIMALS))
    }

    /// Rounds a number of physics; what is no number at all is nought.
    pub(super) fn of_float(value: f64) -> Self {
        let value = if value.is_finite() { value } else { 0.0 };
        let text = format!("{value:.3}");
        let short = text.trim_end_matches('0').trim_end_matches('.');
        Self(if short == "-0" { "0" } else { short }.to_owned())
    }

    /// Gives a weight in grams.
    pub(super) fn grams(weight: &Grams) -> Self {
        Self::of(&weight.0)
    }

    /// Gives a share, kept as a fraction of one, in percent.
    pub(super) fn percent(share: &Ratio) -> Self {
        Self::of(&(share * &Ratio::whole(100)))
    }

    /// Gives a length of time in minutes.
    pub(super) fn minutes(length: Elapsed) -> Self {
        Self::of(&(&Ratio::whole(i64::from(length.seconds)) / &Ratio::whole(60)))
    }
}

impl Serialize for Decimal {
    /// Writes a whole number without a point. The digits are settled before a float is made of them, so that
    /// the float only carries them into the text.
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        match self.0.parse::<i64>() {
            Ok(whole) => out.serialize_i64(whole),
            Err(_) => out.serialize_f64(self.0.parse().map_err(serde::ser::Error::custom)?),
        }
    }
}

impl JsonSchema for Decimal {
    fn schema_name() -> Cow<'static, str> {
        "Decimal".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "description": "A number, rounded to three decimals.", "type": "number" })
    }
}

/// A temperature or a range of temperatures in degrees Celsius; the middle is the one that counts.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct Celsius {
    /// The lowest.
    least: Decimal,
    /// The one that counts.
    middle: Decimal,
    /// The highest.
    most: Decimal,
}

impl Celsius {
    pub(super) fn of(range: &CelsiusRange) -> Self {
        Self {
            least: Decimal::of(&range.low.0),
            middle: Decimal::of(&range.middle().0),
            most: Decimal::of(&range.high.0),
        }
    }
}

/// A length of time or a range of lengths in minutes; the middle is the one that counts.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct Minutes {
    /// The shortest.
    least: Decimal,
    /// The one that counts.
    middle: Decimal,
    /// The longest.
    most: Decimal,
}

impl Minutes {
    pub(super) fn of(range: ElapsedRange) -> Self {
        Self::with_middle(range, range.middle())
    }

    /// Makes a range whose middle was found another way than half-way between its ends.
    pub(super) fn with_middle(range: ElapsedRange, middle: Elapsed) -> Self {
        Self {
            least: Decimal::minutes(range.least),
            middle: Decimal::minutes(middle),
            most: Decimal::minutes(range.most),
        }
    }
}
