//! The only rounding of weights: to what a scale shows, with parts that still add up to the whole.

use std::collections::BTreeMap;

use super::Ratio;

/// Rounds a number to the nearest whole count of a step, halves away from nought.
///
/// A step of nought leaves the number as it is.
#[must_use]
pub fn round_to_step(value: &Ratio, step: &Ratio) -> Ratio {
    value
        .checked_div(step)
        .and_then(|count| count.round())
        .map_or_else(|| value.clone(), |count| step * &Ratio::whole(count))
}

/// A part of a whole, and how it is to be shown.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is; not below nought.
    pub exact: Ratio,
    /// The step that it is rounded to.
    pub step: Ratio,
    /// What it is shown as already; nothing where that is to be settled.
    pub held: Option<Ratio>,
}

/// Rounds parts, each to its step, so that they add up to a whole: the one that is given, else their sum rounded to
/// the coarsest of their steps.
///
/// Each part goes to its nearest whole step. What the sum then has too much or too little of is put on the
/// heaviest parts of the coarsest step that rounding had moved the other way: a gram more of water is nothing, a gram
/// more of salt is a tenth of it. Parts of a finer step keep their own sum. No part moves by a whole step, and
/// one that is held or needs no rounding does not move at all; where that leaves too few, the sum is off.
#[must_use]
pub fn share_out(parts: &[Part], whole: Option<&Ratio>) -> Vec<Ratio> {
    let nearest = |part: &Part| round_to_step(&part.exact, &part.step);
    let mut shown: Vec<Ratio> = parts
        .iter()
        .map(|part| part.held.clone().unwrap_or_else(|| nearest(part)))
        .collect();
    let Some(coarsest) = parts.iter().map(|part| &part.step).max() else {
        return shown;
    };
    let sum: Ratio = parts.iter().map(|part| &part.exact).sum();
    let whole = whole.map_or_else(|| round_to_step(&sum, coarsest), Ratio::clone);
    let mut groups: BTreeMap<&Ratio, Vec<usize>> = BTreeMap::new();
    for (at, part) in parts.iter().enumerate() {
        if part.held.is_none() {
            groups.entry(&part.step).or_default().push(at);
        }
    }
    for (step, places) in groups {
        let own: Ratio = places.iter().filter_map(|at| shown.get(*at)).sum();
        let missing = if step < coarsest {
            let exact: Ratio = places
                .iter()
                .filter_map(|at| parts.get(*at))
                .map(|part| &part.exact)
                .sum();
            (&round_to_step(&exact, step) - &own)
                .checked_div(step)
                .and_then(|steps| steps.round())
        } else {
            let all: Ratio = shown.iter().sum();
            half_down(&(&whole - &all), step)
        };
        move_steps(parts, &mut shown, &places, missing.unwrap_or(0));
    }
    shown
}

/// Counts a number in steps, halves down: a sum that lies half a step above a whole is shown as the next one.
fn half_down(value: &Ratio, step: &Ratio) -> Option<i64> {
    let below = &Ratio::fraction(1, 2)? - &value.checked_div(step)?;
    Some(-below.floor()?)
}

/// Moves so many of the parts at some places by a step, the heaviest first, if rounding had moved them the other way.
fn move_steps(parts: &[Part], shown: &mut [Ratio], places: &[usize], missing: i64) {
    let mut movable: Vec<(&Ratio, usize)> = places
        .iter()
        .filter_map(|at| {
            let exact = &parts.get(*at)?.exact;
            let lost = exact - shown.get(*at)?;
            let is_against = if missing > 0 {
                lost.is_positive()
            } else {
                lost.is_negative()
            };
            is_against.then_some((exact, *at))
        })
        .collect();
    movable.sort_by_key(|(exact, _)| std::cmp::Reverse(*exact));
    let moves = usize::try_from(missing.unsigned_abs()).unwrap_or(usize::MAX);
    for (_, at) in movable.into_iter().take(moves) {
        if let (Some(part), Some(shown)) = (parts.get(at), shown.get_mut(at)) {
            *shown = &*shown + &(&part.step * &Ratio::whole(missing.signum()));
        }
    }
}

/// Rounds whole numbers to one step as [`share_out`] does; those that are held are shown as given.
///
/// For what is shown in a second unit, where the parts are already counted in small whole steps. A step below
/// one leaves the parts as they are.
#[must_use]
pub fn share_out_whole(parts: &[(i64, Option<i64>)], step: i64, whole: Option<i64>) -> Vec<i64> {
    if step < 1 {
        return parts.iter().map(|(exact, held)| held.unwrap_or(*exact)).collect();
    }
    let nearest = |value: i64| value.saturating_add(step / 2).div_euclid(step) * step;
    let mut shown: Vec<i64> = parts
        .iter()
        .map(|(exact, held)| held.unwrap_or_else(|| nearest(*exact)))
        .collect();
    let sum = |weights: &mut dyn Iterator<Item = i64>| weights.fold(0, i64::saturating_add);
    let whole = whole.unwrap_or_else(|| nearest(sum(&mut parts.iter().map(|(exact, _)| *exact))));
    let apart = whole.saturating_sub(sum(&mut shown.iter().copied()));
    // Halves down, as for fractions.
    let missing = -(step.saturating_sub(apart.saturating_mul(2)).div_euclid(step * 2));
    let mut movable: Vec<(i64, &mut i64)> = parts
        .iter()
        .zip(&mut shown)
        .filter(|((exact, held), shown)| {
            held.is_none() && exact.saturating_sub(**shown).signum() == missing.signum()
        })
        .map(|((exact, _), shown)| (*exact, shown))
        .collect();
    movable.sort_by_key(|(exact, _)| std::cmp::Reverse(*exact));
    let moves = usize::try_from(missing.unsigned_abs()).unwrap_or(usize::MAX);
    for (_, shown) in movable.into_iter().take(moves) {
        *shown = shown.saturating_add(missing.signum() * step);
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::{Part, Ratio, round_to_step, share_out, share_out_whole};

    fn decimal(text: &str) -> Ratio {
        Ratio::parse_decimal(text).unwrap_or_default()
    }

    /// Parts of one step, none of them held.
    fn parts(exact: &[Ratio], step: &Ratio) -> Vec<Part> {
        let part = |exact: &Ratio| Part {
            exact: exact.clone(),
            step: step.clone(),
            held: None,
        };
        exact.iter().map(part).collect()
    }

    #[test]
    fn thirds_of_a_hundred_still_make_a_hundred() {
        let third = Ratio::fraction(100, 3).unwrap_or_default();
        let shown = share_out(&parts(&[third.clone(), third.clone(), third], &Ratio::ONE), None);
        assert_eq!(shown, [34, 33, 33].map(Ratio::whole));
    }

    #[test]
    fn what_the_sum_lacks_is_put_on_the_heaviest() {
        let exact = ["779.7", "530.2", "15.59", "7.8"].map(decimal);
        let shown = share_out(&parts(&exact, &Ratio::ONE), None);
        assert_eq!(shown, [779, 530, 16, 8].map(Ratio::whole));
    }

    /// A levain of 366.3 g is poured as 366 g, whatever else stands beside it.
    #[test]
    fn what_is_held_stays_and_the_others_make_up_for_it() {
        let mut levain = parts(&["366.3", "500.3", "300.3"].map(decimal), &Ratio::ONE);
        assert_eq!(share_out(&levain, None), [366, 501, 300].map(Ratio::whole));
        if let Some(first) = levain.first_mut() {
            first.held = Some(Ratio::whole(367));
        }
        assert_eq!(share_out(&levain, None), [367, 500, 300].map(Ratio::whole));
    }

    /// Two weights in grams and three in tenths, 810.72 g in all: the whole is shown as it rounds by itself.
    #[test]
    fn finer_steps_keep_their_sum_and_the_coarsest_makes_the_whole() {
        let mut mixed = parts(&["500.45", "300.45"].map(decimal), &Ratio::ONE);
        mixed.extend(parts(&["5.04", "4.34", "0.44"].map(decimal), &decimal("0.1")));
        let shown = share_out(&mixed, None);
        assert_eq!(shown, ["501", "300", "5.1", "4.3", "0.4"].map(decimal));
        let whole: Ratio = shown.iter().sum();
        assert_eq!(whole.round(), Some(811));
        let given = share_out(&mixed, Some(&Ratio::whole(810)));
        assert_eq!(given, ["500", "300", "5.1", "4.3", "0.4"].map(decimal));
    }

    #[test]
    fn steps_of_a_twentieth() {
        let step = Ratio::fraction(1, 20).unwrap_or_default();
        let value = decimal("11.98");
        assert_eq!(round_to_step(&value, &step).to_trimmed(3), "12");
        assert_eq!(round_to_step(&value, &Ratio::ZERO), value);
    }

    #[test]
    fn whole_parts_are_shared_out_like_fractions() {
        for exact in [[333, 333, 334], [120, 5, 77], [50, 50, 50], [1, 2, 0]] {
            for step in [1, 7, 50, 100] {
                for held in [None, Some(0), Some(70), Some(350)] {
                    let mut fractions = parts(&exact.map(Ratio::whole), &Ratio::whole(step));
                    let mut whole = exact.map(|exact| (exact, None));
                    if let (Some(part), [(_, first), ..]) = (fractions.first_mut(), &mut whole) {
                        part.held = held.map(Ratio::whole);
                        *first = held;
                    }
                    for sum in [None, Some(step * 2), Some(step * 20)] {
                        let whole = share_out_whole(&whole, step, sum);
                        let whole: Vec<Ratio> = whole.into_iter().map(Ratio::whole).collect();
                        let fractions = share_out(&fractions, sum.map(Ratio::whole).as_ref());
                        assert_eq!(whole, fractions, "{exact:?} {step} {held:?} {sum:?}");
                    }
                }
            }
        }
    }
}
