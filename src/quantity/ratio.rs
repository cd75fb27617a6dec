//! Exact numbers: every weight, share and sum is a fraction of whole numbers until it is rounded for show.
//!
//! Small fractions live in two machine words; one that outgrows them moves to big integers by itself, so
//! that no sum is ever rounded, wrapped or cut off.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Neg, Sub};

use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive};

mod text;

/// An exact fraction.
#[derive(Clone, Debug)]
pub struct Ratio(Form);

#[derive(Clone, Debug)]
enum Form {
    /// Lowest terms, denominator above zero.
    Small(i64, i64),
    /// Only for what does not fit the small form, so that equal numbers have one form.
    Big(Box<BigRational>),
}

impl Ratio {
    /// Nought.
    pub const ZERO: Self = Self(Form::Small(0, 1));
    /// One.
    pub const ONE: Self = Self(Form::Small(1, 1));
    /// One hundred.
    pub const HUNDRED: Self = Self(Form::Small(100, 1));

    /// Makes a whole number.
    #[must_use]
    pub const fn whole(value: i64) -> Self {
        Self(Form::Small(value, 1))
    }

    /// Makes a fraction in lowest terms; a denominator of nought gives nothing.
    #[must_use]
    pub fn fraction(numerator: i64, denominator: i64) -> Option<Self> {
        (denominator != 0).then(|| Self::reduced(i128::from(numerator), i128::from(denominator)))
    }

    /// Says whether the number is nought.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        matches!(self.0, Form::Small(0, _))
    }

    /// Says whether the number is below nought.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        match &self.0 {
            Form::Small(numerator, _) => *numerator < 0,
            Form::Big(big) => big.is_negative(),
        }
    }

    /// Says whether the number is above nought.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        !self.is_zero() && !self.is_negative()
    }

    /// Gives the number without its sign.
    #[must_use]
    pub fn abs(&self) -> Self {
        if self.is_negative() { -self } else { self.clone() }
    }

    /// Divides; nothing where the divisor is nought.
    #[must_use]
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        (!divisor.is_zero()).then(|| self / divisor)
    }

    /// Gives the largest whole number that is not above this one, where it fits a machine word.
    #[must_use]
    pub fn floor(&self) -> Option<i64> {
        match &self.0 {
            Form::Small(numerator, denominator) => Some(numerator.div_euclid(*denominator)),
            Form::Big(big) => big.floor().to_integer().to_i64(),
        }
    }

    /// Rounds to a whole number, halves away from nought, where it fits a machine word.
    #[must_use]
    pub fn round(&self) -> Option<i64> {
        let half = Self(Form::Small(1, 2));
        let rounded = (&self.abs() + &half).floor()?;
        Some(if self.is_negative() { -rounded } else { rounded })
    }

    /// Counts the decimal digits of the longer of numerator and denominator.
    ///
    /// A chain of awkward shares makes fractions grow; the solver refuses one that grows past its limit.
    #[must_use]
    pub fn digits(&self) -> usize {
        match &self.0 {
            Form::Small(..) => 19,
            Form::Big(big) => {
                let bits = big.numer().bits().max(big.denom().bits());
                usize::try_from(bits / 3).unwrap_or(usize::MAX)
            }
        }
    }

    /// Gives the nearest binary number, for physics and for drawing; never for weights or sums.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "the caller asks for an approximation")]
    pub fn to_f64(&self) -> f64 {
        match &self.0 {
            Form::Small(numerator, denominator) => *numerator as f64 / *denominator as f64,
            Form::Big(big) => big.to_f64().unwrap_or(f64::MAX),
        }
    }

    /// Multiplies by a plain fraction and rounds to a whole number, halves away from nought, in one go.
    ///
    /// For what is shown: nothing is brought to lowest terms on the way. Gives nothing where the result does
    /// not fit a machine word or the denominator is nought.
    #[must_use]
    pub fn times_rounded(&self, numerator: i64, denominator: i64) -> Option<i64> {
        let Form::Small(own_numerator, own_denominator) = self.0 else {
            return (self * &Self::fraction(numerator, denominator)?).round();
        };
        // Each product is below 2^126, so that doubling it and adding half a step still fits.
        let product = i128::from(own_numerator) * i128::from(numerator);
        let divisor = i128::from(own_denominator) * i128::from(denominator);
        if divisor == 0 {
            return None;
        }
        let (size, step) = (product.unsigned_abs(), divisor.unsigned_abs());
        let rounded = i64::try_from((2 * size + step) / (2 * step)).ok()?;
        Some(if (product < 0) == (divisor < 0) {
            rounded
        } else {
            -rounded
        })
    }

    fn to_big(&self) -> BigRational {
        match &self.0 {
            Form::Small(numerator, denominator) => {
                BigRational::new_raw((*numerator).into(), (*denominator).into())
            }
            Form::Big(big) => (**big).clone(),
        }
    }

    fn from_big(big: BigRational) -> Self {
        match (big.numer().to_i64(), big.denom().to_i64()) {
            (Some(numerator), Some(denominator)) => Self(Form::Small(numerator, denominator)),
            _ => Self(Form::Big(Box::new(big))),
        }
    }

    /// Brings a fraction of words to lowest terms; the denominator is above nought.
    ///
    /// Double words divide many times slower, and hardly any recipe needs them.
    fn reduced_words(numerator: i64, denominator: i64) -> Self {
        if denominator == 1 || numerator == 0 {
            return Self::whole(numerator);
        }
        let divisor = numerator.unsigned_abs().gcd(&denominator.unsigned_abs());
        let divisor = i64::try_from(divisor).unwrap_or(1); // It divides a positive word, and is one.
        Self(Form::Small(numerator / divisor, denominator / divisor))
    }

    /// Brings a fraction of double words to lowest terms; the denominator is not nought.
    fn reduced(numerator: i128, denominator: i128) -> Self {
        if let (Ok(numerator), Ok(denominator)) = (i64::try_from(numerator), i64::try_from(denominator))
            && denominator > 0
        {
            return Self::reduced_words(numerator, denominator);
        }
        let divisor = gcd(numerator.unsigned_abs(), denominator.unsigned_abs());
        let sign: i128 = if denominator < 0 { -1 } else { 1 };
        let divisor = i128::try_from(divisor).unwrap_or(1).max(1) * sign;
        let (numerator, denominator) = (numerator / divisor, denominator / divisor);
        match (i64::try_from(numerator), i64::try_from(denominator)) {
            (Ok(numerator), Ok(denominator)) => Self(Form::Small(numerator, denominator)),
            _ => Self(Form::Big(Box::new(BigRational::new(
                numerator.into(),
                denominator.into(),
            )))),
        }
    }
}

/// Finds the greatest common divisor of double words; words are used as soon as both sides fit, which is nearly always.
fn gcd(mut left: u128, mut right: u128) -> u128 {
    while right != 0 {
        if let (Ok(left), Ok(right)) = (u64::try_from(left), u64::try_from(right)) {
            return u128::from(left.gcd(&right));
        }
        (left, right) = (right, left % right);
    }
    left
}

impl Add for &Ratio {
    type Output = Ratio;
    fn add(self, other: &Ratio) -> Ratio {
        match (&self.0, &other.0) {
            (Form::Small(0, _), _) => other.clone(),
            (_, Form::Small(0, _)) => self.clone(),
            (Form::Small(a, b), Form::Small(c, d)) if b == d => {
                Ratio::reduced(i128::from(*a) + i128::from(*c), i128::from(*b))
            }
            (Form::Small(a, b), Form::Small(c, d)) => {
                let (a, b, c, d) = (i128::from(*a), i128::from(*b), i128::from(*c), i128::from(*d));
                // Each product is below 2^126, so that the sum fits.
                Ratio::reduced(a * d + c * b, b * d)
            }
            _ => Ratio::from_big(self.to_big() + other.to_big()),
        }
    }
}

impl Neg for &Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        match &self.0 {
            // The negative of a fraction in lowest terms is in lowest terms; only the least word has none.
            Form::Small(numerator, denominator) => match numerator.checked_neg() {
                Some(numerator) => Ratio(Form::Small(numerator, *denominator)),
                None => Ratio::reduced(-i128::from(*numerator), i128::from(*denominator)),
            },
            Form::Big(big) => Ratio::from_big(-(**big).clone()),
        }
    }
}

impl Sub for &Ratio {
    type Output = Ratio;
    fn sub(self, other: &Ratio) -> Ratio {
        self + &-other
    }
}

impl Mul for &Ratio {
    type Output = Ratio;
    fn mul(self, other: &Ratio) -> Ratio {
        match (&self.0, &other.0) {
            (Form::Small(0, _), _) | (_, Form::Small(0, _)) => Ratio::ZERO,
            (Form::Small(1, 1), _) => other.clone(),
            (_, Form::Small(1, 1)) => self.clone(),
            (Form::Small(a, b), Form::Small(c, d)) => {
                Ratio::reduced(i128::from(*a) * i128::from(*c), i128::from(*b) * i128::from(*d))
            }
            _ => Ratio::from_big(self.to_big() * other.to_big()),
        }
    }
}

impl Div for &Ratio {
    type Output = Ratio;
    /// Divides; the caller has made sure that the divisor is not nought (see [`Ratio::checked_div`]).
    fn div(self, other: &Ratio) -> Ratio {
        match (&self.0, &other.0) {
            (Form::Small(a, b), Form::Small(c, d)) if *c != 0 => {
                Ratio::reduced(i128::from(*a) * i128::from(*d), i128::from(*b) * i128::from(*c))
            }
            _ if other.is_zero() => Ratio::ZERO,
            _ => Ratio::from_big(self.to_big() / other.to_big()),
        }
    }
}

macro_rules! by_value {
    ($($operator:ident $method:ident),*) => {$(
        impl $operator for Ratio {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $operator::$method(&self, &other)
            }
        }
        impl $operator<&Ratio> for Ratio {
            type Output = Ratio;
            fn $method(self, other: &Ratio) -> Ratio {
                $operator::$method(&self, other)
            }
        }
    )*};
}
by_value!(Add add, Sub sub, Mul mul, Div div);

impl Neg for Ratio {
    type Output = Self;
    fn neg(self) -> Self {
        -&self
    }
}

impl std::iter::Sum for Ratio {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::ZERO, |sum, term| &sum + &term)
    }
}

impl<'a> std::iter::Sum<&'a Self> for Ratio {
    fn sum<I: Iterator<Item = &'a Self>>(terms: I) -> Self {
        terms.fold(Self::ZERO, |sum, term| &sum + term)
    }
}

impl PartialEq for Ratio {
    /// Compares the forms, since equal numbers have one form.
    fn eq(&self, other: &Self) -> bool {
        match (&self.0, &other.0) {
            (Form::Small(a, b), Form::Small(c, d)) => a == c && b == d,
            (Form::Big(big), Form::Big(other)) => big == other,
            _ => false,
        }
    }
}

impl Eq for Ratio {}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Self) -> Ordering {
        match (&self.0, &other.0) {
            (Form::Small(a, b), Form::Small(c, d)) if b == d => a.cmp(c),
            (Form::Small(a, b), Form::Small(c, d)) => {
                (i128::from(*a) * i128::from(*d)).cmp(&(i128::from(*c) * i128::from(*b)))
            }
            _ => self.to_big().cmp(&other.to_big()),
        }
    }
}

impl Default for Ratio {
    fn default() -> Self {
        Self::ZERO
    }
}

#[cfg(test)]
mod tests {
    use super::Ratio;

    fn ratio(numerator: i64, denominator: i64) -> Ratio {
        Ratio::fraction(numerator, denominator).unwrap_or_default()
    }

    #[test]
    fn thirds_make_one() {
        let third = ratio(1, 3);
        assert_eq!(&(&third + &third) + &third, Ratio::ONE);
        assert_eq!(
            -&(-&ratio(i64::MIN, 1)),
            ratio(i64::MIN, 1),
            "the least word has no negative"
        );
    }

    #[test]
    fn grows_past_machine_words_and_comes_back() {
        let big = ratio(i64::MAX, 7);
        let square = &big * &big;
        assert_eq!(&square / &big, big);
        assert!((&square - &square).is_zero());
    }

    #[test]
    fn reads_decimals_and_nothing_else() {
        assert_eq!(Ratio::parse_decimal("12.50"), Some(ratio(25, 2)));
        assert_eq!(Ratio::parse_decimal(".5"), Some(ratio(1, 2)));
        for wrong in ["", ".", "1e3", "nan", "+1", "1,5", "½", "1_000"] {
            assert_eq!(Ratio::parse_decimal(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn rounds_halves_away_from_nought() {
        assert_eq!(ratio(5, 2).round(), Some(3));
        assert_eq!(ratio(-5, 2).round(), Some(-3));
        assert_eq!(ratio(1, 8).to_fixed(2), "0.13");
        assert_eq!(ratio(-1, 1000).to_fixed(2), "0.00");
        assert_eq!(ratio(5, 2).to_trimmed(3), "2.5");
    }

    #[test]
    fn rounds_a_product_in_one_go() {
        for (value, numerator, denominator, rounded) in [
            (ratio(1, 3), 100, 1, 33),
            (ratio(2, 3), 100, 1, 67),
            (ratio(5, 2), 1, 1, 3),
            (ratio(-5, 2), 1, 1, -3),
            (ratio(1, 2), 1, 7, 0),
            (ratio(7, 2), 1, 7, 1),
        ] {
            assert_eq!(value.times_rounded(numerator, denominator), Some(rounded));
            let product = &value * &ratio(numerator, denominator);
            assert_eq!(product.round(), Some(rounded), "as the slow way has it");
        }
        assert_eq!(ratio(i64::MAX, 1).times_rounded(3, 1), None);
        assert_eq!(Ratio::ONE.times_rounded(1, 0), None);
        let square = &ratio(i64::MAX, 7) * &ratio(i64::MAX, 11);
        assert_eq!(
            square.times_rounded(1, i64::MAX).map(|value| value > 0),
            Some(true)
        );
    }
}
