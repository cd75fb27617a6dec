//! Weights as a card shows them: what the lines of a block weigh in each unit, as a scale of that unit would
//! read. Owns the second unit and what happens to traces that a scale cannot show; grams come settled from
//! the sheet.
//!
//! A shown weight is a count of millionths, so that columns are added and compared without a fraction.

use std::collections::BTreeSet;

use crate::model::recipe::BlockId;
use crate::quantity::{Ratio, WeightUnit, share_out_whole};
use crate::sheet::{Role, Sheet, SheetBlock, SheetLine, Source, TotalLine};

/// Millionths in one.
pub(super) const ONE: i64 = 1_000_000;

/// What ounces are rounded to, in millionths.
const STEP: Shown = ONE / 20;

/// Millionths of a gram or, for the avoirdupois units, of an ounce.
pub(super) type Shown = i64;

/// What the lines of a block weigh, a weight a unit; nothing for a line that is not weighed.
pub(super) struct BlockWeights {
    /// A line after the other, units side by side.
    shown: Vec<Shown>,
    /// Where the weights of each line begin.
    places: Vec<Option<usize>>,
    units: usize,
}

impl BlockWeights {
    /// Settles what the lines of a block weigh in some units, and where that is given, what they weigh together.
    fn of(
        block: &SheetBlock,
        units: &[WeightUnit],
        fixed: &BTreeSet<BlockId>,
        whole: Option<&[Shown]>,
    ) -> Self {
        let weighed = block.lines.iter().filter(|line| line.weight.is_some()).count();
        let mut shown = vec![0; weighed * units.len()];
        for (column, unit) in units.iter().enumerate() {
            let whole = whole.and_then(|whole| whole.get(column)).copied();
            let settled = settle_lines(*unit, block, fixed, whole);
            for (row, settled) in settled.into_iter().enumerate() {
                if let Some(cell) = shown.get_mut(row * units.len() + column) {
                    *cell = settled;
                }
            }
        }
        let mut next = 0;
        let places = block.lines.iter().map(|line| {
            line.weight.as_ref()?;
            next += units.len();
            Some(next - units.len())
        });
        Self {
            shown,
            places: places.collect(),
            units: units.len(),
        }
    }

    /// Gives what a line weighs, unit by unit; nothing for a line that is not weighed.
    pub(super) fn line(&self, line: usize) -> Option<&[Shown]> {
        let start = (*self.places.get(line)?)?;
        self.shown.get(start..start + self.units)
    }

    /// Gives what all lines weigh together, unit by unit, as the sum of what is shown.
    pub(super) fn total(&self) -> Vec<Shown> {
        let mut total = vec![0; self.units];
        for line in self.shown.chunks_exact(self.units.max(1)) {
            add_to(&mut total, line);
        }
        total
    }
}

/// Settles what the lines of every block weigh in some units: the dough first, then what is poured into it, so that
/// a stage comes to what is poured of it.
pub(super) fn blocks_of(sheet: &Sheet, units: &[WeightUnit]) -> Vec<BlockWeights> {
    let has_ounces = units.iter().any(|unit| is_avoirdupois(*unit));
    let fixed = if has_ounces {
        fixed_in_ounces(sheet)
    } else {
        BTreeSet::new()
    };
    let mut settled: Vec<(&SheetBlock, BlockWeights)> = Vec::new();
    for block in sheet.blocks.iter().rev() {
        let mut whole = vec![0; units.len()];
        for (other, weights) in settled.iter().filter(|_| block.is_poured_whole) {
            for (place, _) in pours(other, block.id) {
                add_to(&mut whole, weights.line(place).unwrap_or_default());
            }
        }
        let whole = block.is_poured_whole.then_some(whole.as_slice());
        settled.push((block, BlockWeights::of(block, units, &fixed, whole)));
    }
    settled.into_iter().rev().map(|(_, weights)| weights).collect()
}

/// Gives the lines of a block that pour another, with their places.
fn pours(block: &SheetBlock, other: BlockId) -> impl Iterator<Item = (usize, &SheetLine)> {
    let lines = block.lines.iter().enumerate();
    lines.filter(move |(_, line)| line.source == Source::Stage(other))
}

/// Gives what each line of the total formula weighs in a unit: the sum of what its lines in the blocks show, where
/// they hold all of it.
pub(super) fn whole_bread(sheet: &Sheet, blocks: &[BlockWeights], units: &[WeightUnit]) -> Vec<Shown> {
    let unit = units.first().copied().unwrap_or(WeightUnit::Gram);
    let of_line = |total: &TotalLine| {
        if !is_avoirdupois(unit) {
            return millionths(unit, &total.shown);
        }
        if !total.is_whole {
            return settle_alone(unit, millionths(unit, &total.weight.0));
        }
        let inside = sheet
            .blocks
            .iter()
            .zip(blocks)
            .filter(|(block, _)| !matches!(block.role, Role::Filling | Role::Topping));
        let shown = inside.flat_map(|(block, weights)| {
            let lines = block.lines.iter().enumerate();
            lines
                .filter(
                    |(_, line)| matches!(&line.source, Source::Ingredient { key, .. } if *key == total.key),
                )
                .filter_map(|(place, _)| weights.line(place)?.first().copied())
        });
        sum_of(shown)
    };
    sheet.total.iter().map(of_line).collect()
}

/// Adds a weight to another, unit by unit.
pub(super) fn add_to(total: &mut [Shown], weight: &[Shown]) {
    for (total, part) in total.iter_mut().zip(weight) {
        *total = total.saturating_add(*part);
    }
}

/// Adds up what is shown.
pub(super) fn sum_of(weights: impl IntoIterator<Item = Shown>) -> Shown {
    weights.into_iter().fold(0, Shown::saturating_add)
}

/// Counts grams in millionths of a unit's small measure.
pub(super) fn millionths(unit: WeightUnit, grams: &Ratio) -> Shown {
    // An ounce is 45 359 237 / 1 600 000 g.
    let (numerator, denominator) = if is_avoirdupois(unit) {
        (1_600_000 * ONE, 45_359_237)
    } else {
        (ONE, 1)
    };
    grams.times_rounded(numerator, denominator).unwrap_or(Shown::MAX)
}

/// Rounds a weight that no scale has to show: whole grams from a hundred up, ounces to a twentieth.
pub(super) fn settle_alone(unit: WeightUnit, exact: Shown) -> Shown {
    let step = if is_avoirdupois(unit) {
        ONE / 20
    } else if exact >= 100 * ONE {
        ONE
    } else if exact >= 10 * ONE {
        ONE / 10
    } else {
        ONE / 100
    };
    let settled = to_step(exact, step);
    if is_lost(exact, settled) {
        two_digits(exact)
    } else {
        settled
    }
}

/// Says whether a unit is an ounce or a pound.
pub(super) const fn is_avoirdupois(unit: WeightUnit) -> bool {
    matches!(unit, WeightUnit::Ounce | WeightUnit::Pound)
}

/// Gives what scales show: grams as the sheet has them, ounces in twentieths whose sum holds.
fn settle_lines(
    unit: WeightUnit,
    block: &SheetBlock,
    fixed: &BTreeSet<BlockId>,
    whole: Option<Shown>,
) -> Vec<Shown> {
    if is_avoirdupois(unit) {
        return share_out_whole(&in_ounces(block, fixed), STEP, whole);
    }
    let shown = block.lines.iter().filter_map(|line| {
        let exact = &line.weight.as_ref()?.0;
        Some(millionths(unit, line.shown.as_ref().unwrap_or(exact)))
    });
    shown.collect()
}

/// Gives the weighed lines of a block in ounces, and what those are shown as that are not to be moved: what a twentieth
/// would lose, and a stage in which nothing can be moved.
fn in_ounces(block: &SheetBlock, fixed: &BTreeSet<BlockId>) -> Vec<(Shown, Option<Shown>)> {
    let parts = block.lines.iter().filter_map(|line| {
        let exact = millionths(WeightUnit::Ounce, &line.weight.as_ref()?.0);
        let nearest = to_step(exact, STEP);
        if is_lost(exact, nearest) {
            return Some((exact, Some(two_digits(exact))));
        }
        let is_fixed = matches!(&line.source, Source::Stage(id) if fixed.contains(id));
        Some((exact, is_fixed.then_some(nearest)))
    });
    parts.collect()
}

/// Finds the blocks in which nothing can be moved, in ounces; those that are poured stand before those that they are
/// poured into.
fn fixed_in_ounces(sheet: &Sheet) -> BTreeSet<BlockId> {
    let mut fixed = BTreeSet::new();
    for block in &sheet.blocks {
        let parts = in_ounces(block, &fixed);
        let is_settled =
            |(exact, held): &(Shown, Option<Shown>)| held.is_some() || *exact == to_step(*exact, STEP);
        if parts.iter().all(is_settled) {
            fixed.insert(block.id);
        }
    }
    fixed
}

/// Says whether a rounded weight is too far from the exact one to bake by: more than a tenth off. Yeast is
/// not left out in silence because the scales are coarse.
const fn is_lost(exact: Shown, shown: Shown) -> bool {
    exact > 0 && exact.abs_diff(shown).saturating_mul(10) > exact.unsigned_abs()
}

/// Rounds to two digits that count, or to tenths from one up, for what the scales cannot show.
const fn two_digits(exact: Shown) -> Shown {
    let mut step = ONE / 10;
    while step > 1 && exact < step * 10 {
        step /= 10;
    }
    to_step(exact, step)
}

const fn to_step(exact: Shown, step: Shown) -> Shown {
    exact.saturating_add(step / 2) / step * step
}

#[cfg(test)]
mod tests {
    use super::{ONE, is_lost, millionths, settle_alone, two_digits};
    use crate::quantity::{Ratio, WeightUnit};

    #[test]
    fn traces_keep_two_digits() {
        for (exact, shown) in [
            (123_400, 120_000),
            (1_440_000, 1_400_000),
            (12_340, 12_000),
            (7, 7),
        ] {
            assert_eq!(two_digits(exact), shown);
        }
        assert!(is_lost(ONE / 10, 0));
        assert!(is_lost(1_440_000, ONE));
        assert!(!is_lost(9_600_000, 10 * ONE));
        assert!(!is_lost(0, 0));
    }

    /// Published value U24, 1000 g; the U.S. handbook rounds it down to a tenth, a baker's scale shows the
    /// nearest twentieth.
    #[test]
    fn u24_a_kilogram_in_ounces() {
        let exact = millionths(WeightUnit::Ounce, &Ratio::whole(1000));
        assert_eq!(exact, 35_273_962);
        assert_eq!(settle_alone(WeightUnit::Pound, exact), 35_250_000);
    }
}
