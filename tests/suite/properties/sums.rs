//! Parts add up to the whole, and percentages stay what they are, at any size and on any scales.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use loafwright::quantity::{Ratio, round_to_step};
use loafwright::sheet::{Role, Sheet, SheetLine, SizeRequest, Source};
use proptest::prelude::*;

use super::cases;
use crate::bread::{Bread, bake, flour, makes};

/// The shipped recipes of the front room, each with its text.
static SHIPPED: LazyLock<Vec<(String, String)>> = LazyLock::new(read_shipped);

/// Gives the shipped recipes of the front room, each with its text.
pub(super) fn shipped() -> &'static [(String, String)] {
    &SHIPPED
}

fn read_shipped() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut found: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file() && !path.ends_with("bakehouse.loaf"))
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    found.sort();
    assert!(found.len() >= 12);
    found
}

/// Gives the bakehouse of the shipped recipes with other scales.
pub(super) fn bakehouse(scales: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes/bakehouse.loaf");
    let text = fs::read_to_string(path).unwrap();
    let lines = text.lines().map(|line| match line.strip_prefix("scales:") {
        Some(_) => format!("scales: {scales}\n"),
        None => format!("{line}\n"),
    });
    lines.collect()
}

fn assert_parts_add_up(sheet: &Sheet) {
    for block in &sheet.blocks {
        let sum: Ratio = block
            .lines
            .iter()
            .filter_map(|line| line.weight.as_ref())
            .map(|w| &w.0)
            .sum();
        assert_eq!(sum, block.total.0, "{}", block.title);
    }
    let sum: Ratio = sheet.total.iter().map(|line| &line.weight.0).sum();
    assert_eq!(sum, sheet.figures.dough.0);
    for line in &sheet.total {
        let parts: Ratio = line.parts.iter().map(|part| &part.weight.0).sum();
        assert_eq!(parts, line.weight.0, "{}", line.name);
    }
    let flour: Ratio = sheet
        .total
        .iter()
        .filter(|line| line.is_flour)
        .map(|line| &line.weight.0)
        .sum();
    assert_eq!(flour, sheet.figures.flour.0);
}

/// On scales of one step the shown parts add up to the rounded whole, and none moves by a whole step. What such
/// scales would lose is shown finer, so that the sum may lie beside the step, but never rounds to another.
///
/// A stage that is poured whole comes to what is poured of it, and the whole bread to the dough, within half a step for
/// each block.
fn assert_shown_parts_add_up(sheet: &Sheet, step: &Ratio) {
    let shown = |lines: &[&SheetLine]| -> Ratio { lines.iter().filter_map(|line| line.shown.as_ref()).sum() };
    let round = |weight: &Ratio| round_to_step(weight, step);
    for block in &sheet.blocks {
        let own = shown(&block.lines.iter().collect::<Vec<_>>());
        let pours: Vec<&SheetLine> = sheet
            .blocks
            .iter()
            .flat_map(|block| &block.lines)
            .filter(|line| line.source == Source::Stage(block.id))
            .collect();
        // Where a trace is shown finer there may be nothing to move that way.
        let mut each = block.lines.iter().filter_map(|line| line.shown.as_ref());
        let has_traces = each.any(|shown| round(shown) != *shown);
        if block.is_poured_whole && has_traces {
            assert!((&own - &shown(&pours)).abs() <= *step, "{}", block.title);
        } else if block.is_poured_whole {
            assert_eq!(own, shown(&pours), "{}", block.title);
        } else {
            assert_eq!(round(&own), round(&block.total.0), "{}", block.title);
        }
        for line in &block.lines {
            if let (Some(shown), Some(weight)) = (&line.shown, &line.weight) {
                let moved = (shown - &weight.0).abs();
                assert!(moved < *step, "{} of {}", line.name, block.title);
            }
        }
        if block.role == Role::Dough {
            let whole: Ratio = sheet.total.iter().map(|line| &line.shown).sum();
            let apart = (&whole - &own).abs() + (&whole - &own).abs();
            let blocks = i64::try_from(sheet.blocks.len()).unwrap();
            assert!(apart <= step * &Ratio::whole(blocks), "the whole bread");
        }
    }
}

fn size(count: u32, tenths: u32, by_flour: bool) -> SizeRequest {
    if by_flour {
        flour(&format!("{}.{} g", 300 + tenths / 10, tenths % 10))
    } else {
        makes(&format!(
            "{count} loaves of {}.{} g",
            50 + tenths / 10,
            tenths % 10
        ))
    }
}

fn shares(bread: &Bread) -> Vec<(String, Option<Ratio>, Option<Ratio>)> {
    let blocks = bread.sheet().blocks.iter();
    let lines = blocks.flat_map(|block| &block.lines);
    lines
        .map(|line| {
            (
                line.name.clone(),
                line.of_block_flour.clone(),
                line.of_all_flour.clone(),
            )
        })
        .collect()
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn parts_add_up_at_any_size_and_rounding(
        which in 0_usize..64,
        count in 1_u32..40,
        tenths in 1_u32..20_000,
        by_flour: bool,
        step in prop::sample::select(vec!["0.01", "0.1", "0.5", "1", "5"]),
    ) {
        let shipped = shipped();
        let (_, text) = &shipped[which % shipped.len()];
        let bakehouse = bakehouse(&format!("{step} g"));
        let bread = bake(text, Some(&bakehouse), Some(size(count, tenths, by_flour)));
        assert_parts_add_up(bread.sheet());
        assert_shown_parts_add_up(bread.sheet(), &Ratio::parse_decimal(step).unwrap());
    }

    #[test]
    fn scaling_keeps_percentages(
        which in 0_usize..64,
        count in 1_u32..40,
        tenths in 1_u32..20_000,
        by_flour: bool,
    ) {
        let shipped = shipped();
        let (name, text) = &shipped[which % shipped.len()];
        let bakehouse = bakehouse("1 g");
        let plain = bake(text, Some(&bakehouse), None);
        let scaled = bake(text, Some(&bakehouse), Some(size(count, tenths, by_flour)));
        prop_assert_eq!(shares(&plain), shares(&scaled), "{}", name);
        let (plain, scaled) = (&plain.sheet().figures, &scaled.sheet().figures);
        prop_assert_eq!(&plain.hydration, &scaled.hydration);
        prop_assert_eq!(&plain.salt, &scaled.salt);
        prop_assert_eq!(&plain.prefermented, &scaled.prefermented);
    }
}
