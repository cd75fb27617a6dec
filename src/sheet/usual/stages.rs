//! The water of preferments: what makes a poolish a poolish.

use super::{Judged, percent, written};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::BlockKind;
use crate::quantity::{Grams, Ratio};
use crate::sheet::walk::block_of;
use crate::sheet::{SheetBlock, Source};

/// The usual water of a preferment on its own flour, and how far outside is still not worth a word, in
/// hundredths: published value R15, from memory but for the poolish. The leeways are ours.
const BANDS: &[(BlockKind, &str, i64, i64, i64)] = &[
    (BlockKind::Poolish, "a poolish", 90, 110, 15),
    (BlockKind::Biga, "a biga", 50, 60, 12),
    (BlockKind::Levain, "a levain", 50, 125, 25),
];

/// Hints at a preferment whose water belongs to another kind.
pub(super) fn check(baked: &Judged, report: &mut Report) {
    for block in baked.blocks {
        let band = BANDS.iter().find(|(kind, ..)| *kind == block.kind);
        let (Some((_, name, low, high, leeway)), Some(water)) = (band, water_on_flour(baked, block)) else {
            continue;
        };
        if water >= percent(low - leeway) && water <= percent(high + leeway) {
            continue;
        }
        let header = block_of(baked.recipe, block.id).map(|block| block.span);
        report.push(
            Diagnostic::new(
                Code::UnusualFigure,
                header.unwrap_or(baked.recipe.title.span),
                format!("{} of water on its flour is unusual for {name}", written(&water)),
            )
            .help(format!("usual is {low} to {high} % (from memory)")),
        );
    }
}

/// Gives the water of the block's own lines on their flour; a seed of starter changes it but little.
fn water_on_flour(baked: &Judged, block: &SheetBlock) -> Option<Ratio> {
    let mut flour = Grams::ZERO;
    let mut water = Grams::ZERO;
    for line in &block.lines {
        let (Source::Ingredient { .. }, Some(weight)) = (&line.source, &line.weight) else {
            continue;
        };
        let ingredient = baked.ingredient(line)?;
        if ingredient.is_flour {
            flour = &flour + weight;
        } else if ingredient.is_wet {
            let share = ingredient.composition.water.as_ref()?;
            water = &water + &weight.times(&(share / &Ratio::HUNDRED));
        }
    }
    water.share_of(&flour)
}
