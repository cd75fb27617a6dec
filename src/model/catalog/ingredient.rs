//! One ingredient: what it is, what it is made of, what a cup of it weighs. Owns the type and how a table
//! row becomes one; finding an ingredient by its name is the catalogue's work.

use std::collections::BTreeSet;

use super::table::Record;
use super::{Allergen, Kind, Tag};
use crate::quantity::{Ratio, VolumeUnit};

/// Something that goes into a dough, a filling or a topping, with all that is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Ingredient {
    /// The plain word that a baker writes, in lower case but for type letters (`T55 flour`).
    pub name: String,
    /// What sort of thing it is.
    pub kind: Kind,
    /// Whether it counts as flour, of which the percentages are shares.
    pub is_flour: bool,
    /// Whether its water counts in the hydration.
    pub is_wet: bool,
    /// What 100 g of it hold.
    pub composition: Composition,
    /// Grams of one US cup.
    pub cup_g: Option<Ratio>,
    /// Grams of one US tablespoon.
    pub tbsp_g: Option<Ratio>,
    /// Grams of one US teaspoon.
    pub tsp_g: Option<Ratio>,
    /// Grams of one piece: an egg without its shell, a clove of garlic.
    pub each_g: Option<Ratio>,
    /// Grams of one millilitre, where the table has it; see [`Ingredient::grams_of`] for the cup's part in it.
    pub density: Option<Ratio>,
    /// The allergens it contains by its nature; traces are nobody's to list here.
    pub contains: BTreeSet<Allergen>,
    /// What the cautions need to know.
    pub tags: BTreeSet<Tag>,
    /// Other names that bakers use, as they are written.
    pub aliases: Vec<String>,
    /// Where the figures come from.
    pub source: Provenance,
    /// A remark for a reader of the table, often on where the figures do not quite fit; mostly blank.
    pub note: String,
    /// What it costs; only a bakehouse knows.
    pub cost: Option<Cost>,
    /// Water that a bakehouse says it takes up, in grams per 100 g; the built-in table has none.
    pub absorption: Option<Ratio>,
}

/// What 100 g of an ingredient hold, in grams. A blank means that no figure is published, never nought.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Composition {
    /// Water.
    pub water: Option<Ratio>,
    /// Protein.
    pub protein: Option<Ratio>,
    /// Fat, the saturated part included.
    pub fat: Option<Ratio>,
    /// Saturated fatty acids.
    pub saturated: Option<Ratio>,
    /// Carbohydrate in all, sugars and fibre included.
    pub carbohydrate: Option<Ratio>,
    /// Sugars, those of milk and fruit included.
    pub sugars: Option<Ratio>,
    /// Fibre.
    pub fibre: Option<Ratio>,
    /// Salt, as 2.5 times the sodium.
    pub salt: Option<Ratio>,
    /// Ash, what is left when all else has burnt.
    pub ash: Option<Ratio>,
    /// Energy in kilocalories, as the source gives it.
    pub energy_kcal: Option<Ratio>,
}

/// Where the figures of an ingredient come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Provenance {
    /// The row with this number in the USDA National Nutrient Database for Standard Reference, Release 28.
    Usda(String),
    /// The row with this code in the table of Anses: "Anses. 2020. Ciqual French food composition table."
    Ciqual(String),
    /// No published table: figures are blank or stand on what the note says.
    None,
    /// A bakehouse file defines or changes it.
    Bakehouse,
}

/// What an ingredient costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Price of one kilogram.
    pub per_kg: Ratio,
    /// The currency as the bakehouse writes it, `EUR`.
    pub currency: String,
}

/// A cell of the table that is not what its column wants.
#[derive(Debug)]
pub(super) struct Malformed;

impl Ingredient {
    /// Makes an ingredient of which nothing but its name is known, for a bakehouse to fill in.
    #[must_use]
    pub fn unknown(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            kind: Kind::Other,
            is_flour: false,
            is_wet: false,
            composition: Composition::default(),
            cup_g: None,
            tbsp_g: None,
            tsp_g: None,
            each_g: None,
            density: None,
            contains: BTreeSet::new(),
            tags: BTreeSet::new(),
            aliases: Vec::new(),
            source: Provenance::None,
            note: String::new(),
            cost: None,
            absorption: None,
        }
    }

    /// Weighs one of a volume unit, in grams: by the household measure itself, else by the largest
    /// household measure known, scaled, else by density; nothing where none of them is known.
    #[must_use]
    pub fn grams_of(&self, unit: VolumeUnit) -> Option<Ratio> {
        let measures = [
            (VolumeUnit::Cup, &self.cup_g),
            (VolumeUnit::Tablespoon, &self.tbsp_g),
            (VolumeUnit::Teaspoon, &self.tsp_g),
        ];
        if let Some((_, Some(grams))) = measures.iter().find(|(measure, _)| *measure == unit) {
            return Some(grams.clone());
        }
        let scaled = measures
            .iter()
            .find_map(|(measure, grams)| grams.as_ref().map(|grams| grams / &measure.millilitres()));
        let per_ml = scaled.or_else(|| self.density.clone())?;
        Some(&per_ml * &unit.millilitres())
    }

    /// Reads a row of the table; an error where any cell is not what its column wants, so that a slip in
    /// the table makes an ingredient unknown and never wrong.
    pub(super) fn from_record(row: &Record) -> Result<Self, Malformed> {
        Ok(Self {
            name: row.cell("name").to_owned(),
            kind: Kind::from_id(row.cell("kind")).ok_or(Malformed)?,
            is_flour: yes_or_no(row, "flour")?,
            is_wet: yes_or_no(row, "wet")?,
            composition: Composition::from_record(row)?,
            cup_g: number(row, "cup_g")?,
            tbsp_g: number(row, "tbsp_g")?,
            tsp_g: number(row, "tsp_g")?,
            each_g: number(row, "each_g")?,
            density: number(row, "density")?,
            contains: words(row, "contains", Allergen::from_id)?,
            tags: words(row, "tags", Tag::from_id)?,
            aliases: split_aliases(row.cell("aliases")).map(str::to_owned).collect(),
            source: Provenance::from_cell(row.cell("source"))?,
            note: row.cell("note").to_owned(),
            cost: None,
            absorption: None,
        })
    }
}

impl Composition {
    fn from_record(row: &Record) -> Result<Self, Malformed> {
        Ok(Self {
            water: number(row, "water")?,
            protein: number(row, "protein")?,
            fat: number(row, "fat")?,
            saturated: number(row, "saturated")?,
            carbohydrate: number(row, "carbohydrate")?,
            sugars: number(row, "sugars")?,
            fibre: number(row, "fibre")?,
            salt: number(row, "salt")?,
            ash: number(row, "ash")?,
            energy_kcal: number(row, "energy_kcal")?,
        })
    }
}

impl Provenance {
    fn from_cell(cell: &str) -> Result<Self, Malformed> {
        match cell.split_once(':') {
            Some(("usda", id)) => Ok(Self::Usda(id.to_owned())),
            Some(("ciqual", code)) => Ok(Self::Ciqual(code.to_owned())),
            None if cell == "none" => Ok(Self::None),
            _ => Err(Malformed),
        }
    }
}

/// Takes a cell of other names apart.
pub(super) fn split_aliases(cell: &str) -> impl Iterator<Item = &str> {
    cell.split(';').map(str::trim).filter(|alias| !alias.is_empty())
}

/// Reads a number that may be blank.
fn number(row: &Record, column: &str) -> Result<Option<Ratio>, Malformed> {
    match row.cell(column) {
        "" => Ok(None),
        digits => Ratio::parse_decimal(digits).map(Some).ok_or(Malformed),
    }
}

fn yes_or_no(row: &Record, column: &str) -> Result<bool, Malformed> {
    match row.cell(column) {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err(Malformed),
    }
}

fn words<W: Ord>(
    row: &Record,
    column: &str,
    from_id: impl Fn(&str) -> Option<W>,
) -> Result<BTreeSet<W>, Malformed> {
    row.cell(column)
        .split_whitespace()
        .map(|word| from_id(word).ok_or(Malformed))
        .collect()
}
