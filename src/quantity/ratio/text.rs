//! Exact numbers as text: decimals read and written. Owns no arithmetic but the rounding to decimals.

use std::fmt;

use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::{Form, Ratio};

impl Ratio {
    /// Reads plain decimal digits with at most one dot, `12.5` or `-0.3`; anything else gives nothing.
    #[must_use]
    pub fn parse_decimal(text: &str) -> Option<Self> {
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let all_digits = |run: &str| run.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() && part.is_empty() || !all_digits(whole) || !all_digits(part) {
            return None;
        }
        let value = if whole.len() + part.len() <= 18 {
            let numerator: i64 = format!("0{whole}{part}").parse().ok()?;
            Self::fraction(numerator, 10_i64.checked_pow(u32::try_from(part.len()).ok()?)?)?
        } else {
            let numerator: BigInt = format!("0{whole}{part}").parse().ok()?;
            let denominator = BigInt::from(10).pow(u32::try_from(part.len()).ok()?);
            Self::from_big(BigRational::new(numerator, denominator))
        };
        Some(if negative { -&value } else { value })
    }

    /// Says whether so many decimals hold the number exactly.
    #[must_use]
    pub fn has_decimals(&self, decimals: u32) -> bool {
        match (&self.0, 10_i64.checked_pow(decimals)) {
            (Form::Small(_, denominator), Some(scale)) => scale % denominator == 0,
            _ => false,
        }
    }

    /// Writes the number with a fixed count of decimals, halves away from nought, with a decimal point.
    #[must_use]
    pub fn to_fixed(&self, decimals: u32) -> String {
        let scale = 10_i64.checked_pow(decimals);
        if let Some((scale, scaled)) = scale.and_then(|scale| Some((scale, self.times_rounded(scale, 1)?))) {
            let (scale, size) = (scale.unsigned_abs(), scaled.unsigned_abs());
            let sign = if scaled < 0 { "-" } else { "" };
            let (whole, part) = (size / scale, size % scale);
            return if decimals == 0 {
                format!("{sign}{whole}")
            } else {
                format!("{sign}{whole}.{part:0>width$}", width = decimals as usize)
            };
        }
        self.to_fixed_big(decimals)
    }

    /// Writes a number of any size; see [`Ratio::to_fixed`].
    fn to_fixed_big(&self, decimals: u32) -> String {
        let scale = BigInt::from(10).pow(decimals);
        let scaled = self.to_big().abs() * BigRational::from(scale.clone());
        let rounded = (scaled + BigRational::new(1.into(), 2.into()))
            .floor()
            .to_integer();
        let (whole, part) = rounded.div_rem(&scale);
        let sign = if self.is_negative() && !rounded.is_zero() {
            "-"
        } else {
            ""
        };
        if decimals == 0 {
            format!("{sign}{whole}")
        } else {
            format!("{sign}{whole}.{part:0>width$}", width = decimals as usize)
        }
    }

    /// Writes the number with at most a count of decimals and no trailing noughts.
    #[must_use]
    pub fn to_trimmed(&self, decimals: u32) -> String {
        let fixed = self.to_fixed(decimals);
        if fixed.contains('.') {
            fixed.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            fixed
        }
    }
}

impl fmt::Display for Ratio {
    /// Writes the exact fraction, `3` or `1/3`.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Form::Small(numerator, 1) => write!(out, "{numerator}"),
            Form::Small(numerator, denominator) => write!(out, "{numerator}/{denominator}"),
            Form::Big(big) => write!(out, "{big}"),
        }
    }
}
