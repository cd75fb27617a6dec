//! The only rounding of weights: to what a scale shows, with parts that still add up to the whole.

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

/// Rounds parts to a step so that they add up to their rounded sum.
///
/// Each part goes to its nearest whole step. What the sum then has too much or too little of is put on the
/// heaviest parts that rounding had moved the other way: a gram more of water is nothing, a gram more of
/// salt is a tenth of it. No part moves by a whole step. Parts are not negative.
#[must_use]
pub fn share_out(parts: &[Ratio], step: &Ratio) -> Vec<Ratio> {
    let counted: Option<Vec<(Ratio, i64)>> = parts
        .iter()
        .map(|part| {
            let exact = part.checked_div(step)?;
            let nearest = exact.round()?;
            Some((exact, nearest))
        })
        .collect();
    let Some(mut counted) = counted else {
        return parts.to_vec();
    };
    settle_sum(&mut counted);
    counted
        .into_iter()
        .map(|(_, steps)| step * &Ratio::whole(steps))
        .collect()
}

/// Moves parts, given as exact and rounded counts of steps, until they add up to their rounded sum.
fn settle_sum(counted: &mut [(Ratio, i64)]) {
    let sum: Ratio = counted.iter().map(|(exact, _)| exact).sum();
    let rounded: i64 = counted.iter().map(|(_, steps)| steps).sum();
    let missing = sum.round().unwrap_or(rounded).saturating_sub(rounded);
    let mut movable: Vec<usize> = (0..counted.len())
        .filter(|at| {
            counted.get(*at).is_some_and(|(exact, steps)| {
                let lost = exact - &Ratio::whole(*steps);
                if missing > 0 {
                    lost.is_positive()
                } else {
                    lost.is_negative()
                }
            })
        })
        .collect();
    movable.sort_by(|&left, &right| {
        let weight = |at: usize| counted.get(at).map(|(exact, _)| exact.clone());
        weight(right).cmp(&weight(left))
    });
    let moves = usize::try_from(missing.unsigned_abs()).unwrap_or(usize::MAX);
    for at in movable.into_iter().take(moves) {
        if let Some((_, steps)) = counted.get_mut(at) {
            *steps += missing.signum();
        }
    }
}

/// Rounds whole numbers to a step so that they add up to their rounded sum, as [`share_out`] does.
///
/// For what is shown in a second unit, where the parts are already counted in small whole steps. A step below
/// one leaves the parts as they are.
#[must_use]
pub fn share_out_whole(parts: &[i64], step: i64) -> Vec<i64> {
    if step < 1 {
        return parts.to_vec();
    }
    let nearest = |value: i64| value.saturating_add(step / 2).div_euclid(step);
    let mut steps: Vec<i64> = parts.iter().map(|part| nearest(*part)).collect();
    let rounded: i64 = steps.iter().sum();
    let missing = nearest(parts.iter().sum()).saturating_sub(rounded);
    let lost = |part: i64| part - nearest(part) * step;
    let mut movable: Vec<(i64, &mut i64)> = parts
        .iter()
        .zip(&mut steps)
        .filter(|(part, _)| lost(**part).signum() == missing.signum())
        .map(|(part, steps)| (*part, steps))
        .collect();
    movable.sort_by_key(|(part, _)| std::cmp::Reverse(*part));
    let moves = usize::try_from(missing.unsigned_abs()).unwrap_or(usize::MAX);
    for (_, steps) in movable.into_iter().take(moves) {
        *steps += missing.signum();
    }
    steps
        .into_iter()
        .map(|count| count.saturating_mul(step))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Ratio, round_to_step, share_out, share_out_whole};

    #[test]
    fn thirds_of_a_hundred_still_make_a_hundred() {
        let third = Ratio::fraction(100, 3).unwrap_or_default();
        let shown = share_out(&[third.clone(), third.clone(), third], &Ratio::ONE);
        assert_eq!(shown, [34, 33, 33].map(Ratio::whole));
    }

    #[test]
    fn what_the_sum_lacks_is_put_on_the_heaviest() {
        let exact =
            ["779.7", "530.2", "15.59", "7.8"].map(|text| Ratio::parse_decimal(text).unwrap_or_default());
        let shown = share_out(&exact, &Ratio::ONE);
        assert_eq!(shown, [779, 530, 16, 8].map(Ratio::whole));
    }

    #[test]
    fn steps_of_a_twentieth() {
        let step = Ratio::fraction(1, 20).unwrap_or_default();
        let value = Ratio::parse_decimal("11.98").unwrap_or_default();
        assert_eq!(round_to_step(&value, &step).to_trimmed(3), "12");
        assert_eq!(round_to_step(&value, &Ratio::ZERO), value);
    }

    #[test]
    fn whole_parts_are_shared_out_like_fractions() {
        for parts in [[333, 333, 334], [120, 5, 77], [50, 50, 50], [1, 2, 0]] {
            for step in [1, 7, 50, 100] {
                let whole = share_out_whole(&parts, step);
                let fractions = share_out(&parts.map(Ratio::whole), &Ratio::whole(step));
                assert_eq!(
                    whole.iter().map(|part| Ratio::whole(*part)).collect::<Vec<_>>(),
                    fractions
                );
            }
        }
    }
}
