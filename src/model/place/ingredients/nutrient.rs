//! What a packet prints of 100 g of an ingredient, and where the composition keeps it.

use crate::model::catalog::{Composition, fold_name};
use crate::quantity::Ratio;

/// A figure of the composition that a bakehouse may give.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Nutrient {
    /// Water.
    Water,
    /// Protein.
    Protein,
    /// Fat, the saturated part included.
    Fat,
    /// Saturated fatty acids.
    Saturated,
    /// Carbohydrate in all.
    Carbohydrate,
    /// Sugars.
    Sugars,
    /// Fibre.
    Fibre,
    /// Salt.
    Salt,
    /// Ash.
    Ash,
}

/// The words for each, the one that messages use first.
const WORDS: &[(Nutrient, &[&str])] = &[
    (Nutrient::Water, &["water", "moisture"]),
    (Nutrient::Protein, &["protein"]),
    (Nutrient::Fat, &["fat", "total fat"]),
    (
        Nutrient::Saturated,
        &["saturated fat", "saturated", "saturates", "of which saturates"],
    ),
    (
        Nutrient::Carbohydrate,
        &["carbohydrate", "total carbohydrate", "carbs"],
    ),
    (Nutrient::Sugars, &["sugars", "of which sugars"]),
    (
        Nutrient::Fibre,
        &["fibre", "fiber", "dietary fibre", "dietary fiber"],
    ),
    (Nutrient::Salt, &["salt"]),
    (Nutrient::Ash, &["ash"]),
];

impl Nutrient {
    /// The parts that make up the whole; the others lie inside one of these.
    pub(super) const WHOLES: [Self; 5] = [
        Self::Water,
        Self::Protein,
        Self::Fat,
        Self::Carbohydrate,
        Self::Ash,
    ];

    /// The parts that lie inside a whole, with that whole.
    pub(super) const INSIDE: [(Self, Self); 4] = [
        (Self::Saturated, Self::Fat),
        (Self::Sugars, Self::Carbohydrate),
        (Self::Fibre, Self::Carbohydrate),
        (Self::Salt, Self::Ash),
    ];

    /// Recognises a word.
    pub(super) fn of_word(word: &str) -> Option<Self> {
        let folded = fold_name(word);
        WORDS
            .iter()
            .find(|(_, words)| words.iter().any(|known| fold_name(known) == folded))
            .map(|(nutrient, _)| *nutrient)
    }

    /// Gives every word that is known.
    pub(super) fn words() -> impl Iterator<Item = &'static str> {
        WORDS.iter().flat_map(|(_, words)| words.iter().copied())
    }

    /// Gives the word that messages use.
    pub(super) fn word(self) -> &'static str {
        WORDS
            .iter()
            .find(|(nutrient, _)| *nutrient == self)
            .and_then(|(_, words)| words.first())
            .map_or("share", |word| word)
    }

    /// Gives the place of the figure, in grams per 100 g.
    pub(super) fn slot(self, composition: &mut Composition) -> &mut Option<Ratio> {
        match self {
            Self::Water => &mut composition.water,
            Self::Protein => &mut composition.protein,
            Self::Fat => &mut composition.fat,
            Self::Saturated => &mut composition.saturated,
            Self::Carbohydrate => &mut composition.carbohydrate,
            Self::Sugars => &mut composition.sugars,
            Self::Fibre => &mut composition.fibre,
            Self::Salt => &mut composition.salt,
            Self::Ash => &mut composition.ash,
        }
    }
}
