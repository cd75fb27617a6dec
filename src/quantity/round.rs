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
/// Each part is cut down to whole steps; the steps still missing go to the parts that lost most, the
/// earlier one where two lost the same. No part moves by a whole step. Parts are not negative.
#[must_use]
pub fn share_out(parts: &[Ratio], step: &Ratio) -> Vec<Ratio> {
    let steps: Option<Vec<(i64, Ratio)>> = parts
        .iter()
        .map(|part| {
            let count = part.checked_div(step)?;
            let floor = count.floor()?;
            Some((floor, &count - &Ratio::whole(floor)))
        })
        .collect();
    let Some(mut steps) = steps else {
        return parts.to_vec();
    };
    let lost: Ratio = steps.iter().map(|(_, rest)| rest).sum();
    let missing = usize::try_from(lost.round().unwrap_or(0)).unwrap_or(0);
    let mut order: Vec<usize> = (0..steps.len()).collect();
    order.sort_by(|&left, &right| {
        let rest = |at: usize| steps.get(at).map(|(_, rest)| rest);
        rest(right).cmp(&rest(left))
    });
    for at in order.into_iter().take(missing) {
        if let Some((count, _)) = steps.get_mut(at) {
            *count += 1;
        }
    }
    steps
        .into_iter()
        .map(|(count, _)| step * &Ratio::whole(count))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Ratio, round_to_step, share_out};

    #[test]
    fn thirds_of_a_hundred_still_make_a_hundred() {
        let third = Ratio::fraction(100, 3).unwrap_or_default();
        let shown = share_out(&[third.clone(), third.clone(), third], &Ratio::ONE);
        assert_eq!(shown, [34, 33, 33].map(Ratio::whole));
    }

    #[test]
    fn steps_of_a_twentieth() {
        let step = Ratio::fraction(1, 20).unwrap_or_default();
        let value = Ratio::parse_decimal("11.98").unwrap_or_default();
        assert_eq!(round_to_step(&value, &step).to_trimmed(3), "12");
        assert_eq!(round_to_step(&value, &Ratio::ZERO), value);
    }
}
