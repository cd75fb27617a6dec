//! Where a figure of the bread comes from, line by line. Owns the shares; they add up to the figure exactly.

use crate::model::recipe::BlockId;
use crate::quantity::{Grams, Ratio};
use crate::sheet::figures;
use crate::sheet::holding::Held;

/// A figure whose origin can be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyFigure {
    /// Water of what is wet.
    Hydration,
    /// Salt of salt and salted goods.
    Salt,
    /// Sugars of what is no flour.
    Sugar,
    /// Fat of what is no flour.
    Fat,
    /// Flour that goes through a preferment.
    Prefermented,
}

/// Where a figure comes from.
#[derive(Clone, Debug)]
pub struct Why {
    /// Which figure.
    pub figure: WhyFigure,
    /// The figure itself, as a fraction of one of all flour; nothing where there is no flour.
    pub share: Option<Ratio>,
    /// All of what is counted.
    pub whole: Grams,
    /// The lines that bring some, the largest first.
    pub rows: Vec<WhyRow>,
    /// What 100 g of bread hold of it, in grams: what is counted over what the dough weighs after its losses. Only for
    /// salt, which laws limit so.
    pub in_100_g_of_bread: Option<Grams>,
    /// Whether anything whose make-up is not known is left out.
    pub is_blurred: bool,
}

/// What a line brings.
#[derive(Clone, Debug)]
pub struct WhyRow {
    /// The block that the line stands in.
    pub block: BlockId,
    /// What the line is called.
    pub name: String,
    /// The part of a starter or of old dough that it is; nothing for an ingredient on its own line.
    pub part: Option<String>,
    /// What of the line reaches the dough.
    pub line: Grams,
    /// What of that is counted: water, salt, sugar, fat, flour.
    pub counted: Grams,
    /// That over all flour, as a fraction of one.
    pub of_all_flour: Option<Ratio>,
    /// Its part of the whole figure, as a fraction of one.
    pub of_figure: Option<Ratio>,
}

impl WhyFigure {
    /// Every figure, with the words that ask for it.
    pub const ALL: [(Self, &'static str); 5] = [
        (Self::Hydration, "hydration"),
        (Self::Salt, "salt"),
        (Self::Sugar, "sugar"),
        (Self::Fat, "fat"),
        (Self::Prefermented, "prefermented flour"),
    ];

    /// Gives what an ingredient that reaches the dough brings, in grams.
    fn counted(self, held: &Held) -> Ratio {
        if self == Self::Prefermented {
            return if held.is_flour {
                held.prefermented.clone()
            } else {
                Ratio::ZERO
            };
        }
        let (Some(ingredient), false) = (&held.ingredient, held.is_flour) else {
            return Ratio::ZERO;
        };
        let part = match self {
            Self::Hydration => figures::wet_water(ingredient),
            Self::Salt => figures::salt(ingredient),
            Self::Sugar => figures::part(ingredient.composition.sugars.as_ref()),
            Self::Fat => figures::part(ingredient.composition.fat.as_ref()),
            Self::Prefermented => Ratio::ZERO,
        };
        &(&held.weight * &part) / &Ratio::HUNDRED
    }
}

/// Tells where a figure comes from, of everything that reaches the dough; flour and bread, without filling and
/// topping, in grams.
pub(in crate::sheet) fn of_held(figure: WhyFigure, held: &[Held], flour: &Ratio, bread: &Ratio) -> Why {
    let counted = held.iter().map(|held| (held, figure.counted(held)));
    let mut brings: Vec<(&Held, Ratio)> = counted.filter(|(_, grams)| !grams.is_zero()).collect();
    brings.sort_by(|(_, left), (_, right)| right.cmp(left));
    let whole: Ratio = brings.iter().map(|(_, grams)| grams).sum();
    let rows = brings.into_iter().map(|(held, grams)| WhyRow {
        block: held.block,
        name: held.through.as_ref().unwrap_or(&held.name).clone(),
        part: held.through.as_ref().map(|_| held.name.clone()),
        line: Grams(held.weight.clone()),
        of_all_flour: grams.checked_div(flour),
        of_figure: grams.checked_div(&whole),
        counted: Grams(grams),
    });
    let unknown = held.iter().any(|held| held.ingredient.is_none());
    let in_bread = (&whole * &Ratio::HUNDRED).checked_div(bread);
    Why {
        figure,
        in_100_g_of_bread: in_bread.filter(|_| figure == WhyFigure::Salt).map(Grams),
        share: whole.checked_div(flour),
        rows: rows.collect(),
        whole: Grams(whole),
        is_blurred: unknown && figure != WhyFigure::Prefermented,
    }
}
