//! One exact linear system a recipe, that remembers which lines it was made of.
//!
//! Equations come one at a time, in the order in which a baker would trust them, and each is worked into
//! the ones before: it settles an unknown, says nothing new, or contradicts. Substitution is all that is
//! needed, since blocks pour into one another without rounds; nothing here is ever a dense matrix.

use std::collections::{BTreeMap, BTreeSet};

use crate::quantity::Ratio;

/// The size of a block, an unknown.
pub(super) type Unknown = usize;

/// A sum of unknowns, each times a number, and a number alone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Form {
    terms: BTreeMap<Unknown, Ratio>,
    alone: Ratio,
}

impl Form {
    /// A number alone.
    pub(super) fn number(value: Ratio) -> Self {
        Self {
            terms: BTreeMap::new(),
            alone: value,
        }
    }

    /// An unknown times a number.
    pub(super) fn of(unknown: Unknown, times: &Ratio) -> Self {
        let mut form = Self::default();
        form.put(unknown, times);
        form
    }

    /// Gives the number where no unknown is left.
    pub(super) fn as_number(&self) -> Option<&Ratio> {
        self.terms.is_empty().then_some(&self.alone)
    }

    /// Gives the unknown and its factor where the form is that and nothing else.
    pub(super) fn as_single(&self) -> Option<(Unknown, &Ratio)> {
        let (unknown, times) = self.terms.first_key_value()?;
        (self.terms.len() == 1 && self.alone.is_zero()).then_some((*unknown, times))
    }

    /// Gives the unknowns.
    pub(super) fn unknowns(&self) -> impl Iterator<Item = Unknown> {
        self.terms.keys().copied()
    }

    /// Adds another form to this one.
    pub(super) fn add(&mut self, other: &Self) {
        self.add_times(other, &Ratio::ONE);
    }

    /// Takes another form from this one.
    pub(super) fn take(&mut self, other: &Self) {
        self.add_times(other, &Ratio::whole(-1));
    }

    /// Adds another form, each of its members times a number.
    pub(super) fn add_times(&mut self, other: &Self, times: &Ratio) {
        for (unknown, factor) in &other.terms {
            self.put(*unknown, &(factor * times));
        }
        self.alone = &self.alone + &(&other.alone * times);
    }

    /// Gives the form times a number.
    pub(super) fn times(&self, factor: &Ratio) -> Self {
        let mut form = Self::default();
        form.add_times(self, factor);
        form
    }

    fn put(&mut self, unknown: Unknown, factor: &Ratio) {
        let sum = self
            .terms
            .get(&unknown)
            .map_or_else(|| factor.clone(), |old| old + factor);
        if sum.is_zero() {
            self.terms.remove(&unknown);
        } else {
            self.terms.insert(unknown, sum);
        }
    }

    /// Counts the digits of the most awkward number in it.
    fn digits(&self) -> usize {
        self.terms
            .values()
            .chain([&self.alone])
            .map(Ratio::digits)
            .max()
            .unwrap_or(0)
    }
}

/// What became of an equation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Added {
    /// It settled an unknown, perhaps in terms of others.
    Settled,
    /// It says what is known already.
    Redundant,
    /// It cannot hold beside the others.
    Contradicts {
        /// By how much it misses.
        by: Ratio,
        /// The equations that it cannot hold beside, by their numbers.
        beside: BTreeSet<usize>,
    },
}

/// The fractions grew past the limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TooAwkward;

/// Longest numerator or denominator, in digits, that is worked with.
const MOST_DIGITS: usize = 200;

/// A settled unknown.
#[derive(Clone, Debug)]
struct Row {
    form: Form,
    made_of: BTreeSet<usize>,
}

/// The equations so far, each unknown that is settled in terms of those that are not.
#[derive(Clone, Debug, Default)]
pub(super) struct Equations {
    rows: BTreeMap<Unknown, Row>,
}

impl Equations {
    /// Works an equation in: the form is nought. The unknown preferred is settled where there is a choice.
    pub(super) fn add(
        &mut self,
        number: usize,
        form: &Form,
        prefer: Option<Unknown>,
    ) -> Result<Added, TooAwkward> {
        let (mut rest, mut made_of) = self.reduce(form);
        if rest.digits() > MOST_DIGITS {
            return Err(TooAwkward);
        }
        if let Some(by) = rest.as_number() {
            return Ok(if by.is_zero() {
                Added::Redundant
            } else {
                Added::Contradicts {
                    by: by.clone(),
                    beside: made_of,
                }
            });
        }
        let pivot = prefer
            .filter(|unknown| rest.terms.contains_key(unknown))
            .or_else(|| rest.terms.keys().next_back().copied());
        let Some((pivot, factor)) = pivot.and_then(|unknown| rest.terms.remove_entry(&unknown)) else {
            return Ok(Added::Redundant);
        };
        made_of.insert(number);
        let row = Row {
            form: rest.times(&(&Ratio::whole(-1) / &factor)),
            made_of,
        };
        self.substitute(pivot, &row);
        self.rows.insert(pivot, row);
        Ok(Added::Settled)
    }

    fn substitute(&mut self, pivot: Unknown, by: &Row) {
        for row in self.rows.values_mut() {
            if let Some(factor) = row.form.terms.remove(&pivot) {
                row.form.add_times(&by.form, &factor);
                row.made_of.extend(&by.made_of);
            }
        }
    }

    /// Replaces what is settled; gives the equations that did it too.
    pub(super) fn reduce(&self, form: &Form) -> (Form, BTreeSet<usize>) {
        let mut reduced = Form::number(form.alone.clone());
        let mut made_of = BTreeSet::new();
        for (unknown, factor) in &form.terms {
            match self.rows.get(unknown) {
                Some(row) => {
                    reduced.add_times(&row.form, factor);
                    made_of.extend(&row.made_of);
                }
                None => reduced.put(*unknown, factor),
            }
        }
        (reduced, made_of)
    }

    /// Gives the number that a form comes to, where all its unknowns are settled.
    pub(super) fn value(&self, form: &Form) -> Option<Ratio> {
        self.reduce(form).0.as_number().cloned()
    }
}

#[cfg(test)]
mod tests {
    use super::{Added, Equations, Form, Ratio};

    fn form(terms: &[(usize, i64)], alone: i64) -> Form {
        let mut form = Form::number(Ratio::whole(alone));
        for (unknown, factor) in terms {
            form.add(&Form::of(*unknown, &Ratio::whole(*factor)));
        }
        form
    }

    #[test]
    fn settles_in_any_order_and_names_what_contradicts() {
        let mut equations = Equations::default();
        // x + y = 10 and x - y = 4 give 7 and 3.
        assert_eq!(
            equations.add(0, &form(&[(0, 1), (1, 1)], -10), None),
            Ok(Added::Settled)
        );
        assert_eq!(
            equations.add(1, &form(&[(0, 1), (1, -1)], -4), None),
            Ok(Added::Settled)
        );
        assert_eq!(equations.value(&form(&[(0, 1)], 0)), Some(Ratio::whole(7)));
        assert_eq!(equations.add(2, &form(&[(1, 2)], -6), None), Ok(Added::Redundant));
        let Ok(Added::Contradicts { by, beside }) = equations.add(3, &form(&[(1, 1)], -5), None) else {
            panic!("three is not five");
        };
        assert_eq!(by, Ratio::whole(-2));
        assert_eq!(beside, [0, 1].into());
    }
}
