//! How sweet sugars and syrups are. Owns the table; nothing else rests on it.

use crate::model::catalog::Ingredient;
use crate::quantity::Ratio;

/// How sweet 100 g are as they are weighed, as so many grams of table sugar: from memory, not looked up. Figures
/// in print differ by a fifth and more, with maker and temperature.
const TABLE: &[(&str, i64)] = &[
    ("granulated sugar", 100),
    ("honey", 100),
    ("malt syrup", 40),
    ("maple syrup", 60),
    ("molasses", 60),
    ("golden syrup", 85),
    ("corn syrup", 40),
    ("dark corn syrup", 40),
    ("glucose syrup", 40),
    ("invert sugar", 95),
    ("agave syrup", 105),
    ("rice syrup", 40),
    ("date syrup", 70),
    ("sugar beet syrup", 65),
];

/// Gives how sweet 100 g are, as so many grams of table sugar: by the table, else by the sugars that the ingredient
/// table knows of. Nothing where neither says.
pub(super) fn of(ingredient: &Ingredient) -> Option<Ratio> {
    let listed = TABLE.iter().find(|(name, _)| *name == ingredient.name);
    let listed = listed.map(|(_, grams)| Ratio::whole(*grams));
    let sweet = listed.or_else(|| ingredient.composition.sugars.clone())?;
    sweet.is_positive().then_some(sweet)
}

#[cfg(test)]
mod tests {
    use super::TABLE;
    use crate::model::catalog;

    #[test]
    fn the_table_names_what_there_is() {
        for (name, _) in TABLE {
            let found = catalog::builtin().lookup(name);
            assert_eq!(found.map(|found| found.name.as_str()), Some(*name));
        }
    }
}
