//! The same bread, written in another way, has the same weights.

use std::collections::BTreeMap;

use loafwright::quantity::Ratio;
use proptest::prelude::*;

use super::cases;
use crate::bread::{Bread, bake};

const FLOURS: [&str; 3] = ["bread flour", "whole wheat flour", "medium rye flour"];
const OTHERS: [&str; 5] = ["water", "whole milk", "salt", "honey", "olive oil"];

/// Writes a fraction as a baker can: whole, or with a fraction behind it.
fn fraction(numerator: u64, denominator: u64) -> String {
    let (whole, rest) = (numerator / denominator, numerator % denominator);
    match (whole, rest) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{rest}/{denominator}"),
        _ => format!("{whole} {rest}/{denominator}"),
    }
}

/// Writes entries, one a line.
fn joined(entries: impl Iterator<Item = String>) -> String {
    entries.fold(String::new(), |text, entry| text + "  " + &entry + "\n")
}

fn weights(bread: &Bread) -> BTreeMap<(String, String), Ratio> {
    let mut found = BTreeMap::new();
    for block in &bread.sheet().blocks {
        for line in &block.lines {
            let weight = line
                .weight
                .as_ref()
                .map_or(Ratio::ZERO, |weight| weight.0.clone());
            found.insert((block.title.clone(), line.name.clone()), weight);
        }
    }
    found
}

proptest! {
    #![proptest_config(cases(1_000))]

    #[test]
    fn weights_to_percentages_and_back(
        flours in prop::collection::vec(50_u64..900, 1..=3),
        others in prop::collection::vec(1_u64..900, 1..=5),
    ) {
        let base: u64 = flours.iter().sum();
        let lines: Vec<(&str, u64)> = FLOURS.into_iter().zip(flours).chain(OTHERS.into_iter().zip(others)).collect();
        let by_weight = joined(lines.iter().map(|(name, grams)| format!("{grams} g {name}")));
        let first = bake(&format!("title: By weight\n\ndough:\n{by_weight}"), None, None);

        let shares = lines.iter().map(|(name, grams)| (name, fraction(grams * 100, base)));
        let by_share = joined(shares.map(|(name, share)| format!("{share} % {name}")));
        let text = format!("title: By share\nflour: {base} g\n\ndough:\n{by_share}");
        let second = bake(&text, None, None);

        prop_assert_eq!(weights(&first), weights(&second));
        for (name, grams) in lines {
            let of_flour = Ratio::fraction(i64::try_from(grams).unwrap(), i64::try_from(base).unwrap());
            let line = second.block("dough").lines.iter().find(|line| line.name == name);
            prop_assert_eq!(line.unwrap().of_block_flour.clone(), of_flour);
        }
    }

    /// A formula with a stage taken out of it, and the same bread with the stage made first, in tenths of a gram
    /// on a kilogram of flour.
    #[test]
    fn a_formula_and_its_stages_are_one_bread(
        share in 1_u64..400,
        stage_water in 40_u64..130,
        water in 55_u64..90,
        rye in 1_u64..300,
        salt in 1_u64..30,
    ) {
        let tenths = |count: u64| format!("{}.{}", count / 10, count % 10);
        let bread_flour = 1000 - rye;
        prop_assume!(share <= bread_flour && share * stage_water <= water * 1000);
        let formula = format!(
            "title: Taken apart\nflour: 1 kg\n\npoolish, {} % of the flour:\n  100 % bread flour\n  {stage_water} % \
             water\n\nformula:\n  {} % bread flour\n  {} % medium rye flour\n  {water} % water\n  {} % salt\n",
            tenths(share), tenths(bread_flour), tenths(rye), tenths(salt),
        );
        let staged = format!(
            "title: Put together\n\npoolish:\n  {share} g bread flour\n  {} g water\n\ndough:\n  {} g bread flour\n  \
             {rye} g medium rye flour\n  {} g water\n  {salt} g salt\n  all poolish\n",
            fraction(share * stage_water, 100),
            bread_flour - share,
            fraction(water * 1000 - share * stage_water, 100),
        );
        let (formula, staged) = (bake(&formula, None, None), bake(&staged, None, None));
        for name in ["bread flour", "medium rye flour", "water", "salt"] {
            prop_assert_eq!(formula.grams("poolish", name), staged.grams("poolish", name), "{}", name);
            let last = formula.sheet().blocks.last().unwrap().title.clone();
            prop_assert_eq!(formula.grams(&last, name), staged.grams("dough", name), "{}", name);
            prop_assert_eq!(formula.total(name), staged.total(name), "{}", name);
        }
        let (one, other) = (&formula.sheet().figures, &staged.sheet().figures);
        prop_assert_eq!(&one.hydration, &other.hydration);
        prop_assert_eq!(&one.prefermented, &other.prefermented);
        prop_assert_eq!(&one.dough, &other.dough);
    }

    /// No step stands between the lines, so their order is only a matter of habit.
    #[test]
    fn the_order_of_lines_does_not_matter_where_baking_does_not(
        order in Just((0_usize..7).collect::<Vec<_>>()).prop_shuffle(),
        blocks in Just((0_usize..3).collect::<Vec<_>>()).prop_shuffle(),
        share in 5_u64..60,
        water in 40_u64..90,
    ) {
        let lines = [
            "80 % bread flour".to_owned(),
            "20 % medium rye flour".to_owned(),
            format!("{water} % water"),
            format!("{share} % levain"),
            "30 g soaker".to_owned(),
            "2 % salt".to_owned(),
            "3 % honey".to_owned(),
        ];
        let text = |order: &[usize], blocks: &[usize]| {
            let dough = joined(order.iter().map(|at| lines[*at].clone()));
            let parts = [
                "levain:\n  100 % bread flour\n  90 % water\n  20 % starter\n".to_owned(),
                "soaker:\n  2 parts flax seeds\n  3 parts water\n".to_owned(),
                format!("dough:\n{dough}"),
            ];
            let parts: Vec<String> = blocks.iter().map(|at| parts[*at].clone()).collect();
            format!("title: Any order\nmakes: 2 loaves of 750 g\n\n{}", parts.join("\n"))
        };
        let plain = bake(&text(&[0, 1, 2, 3, 4, 5, 6], &[0, 1, 2]), None, None);
        let shuffled = bake(&text(&order, &blocks), None, None);
        prop_assert_eq!(weights(&plain), weights(&shuffled));
    }
}
