//! Allergens, and the two legal lists that name them. Owns the words and the dated lists; a list is data,
//! because laws change: the file beside the ingredient table carries its date and its legal basis.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use super::closed_list::closed_list;
use super::table;

closed_list! {
    /// A food that makes some people ill, by plant or animal, finer than any one law needs it.
    Allergen {
        /// Common, durum, einkorn and emmer wheat.
        Wheat = "wheat",
        /// Spelt, a wheat.
        Spelt = "spelt",
        /// Khorasan, a wheat.
        Khorasan = "khorasan",
        /// Rye.
        Rye = "rye",
        /// Barley, and malt made of it.
        Barley = "barley",
        /// Oats.
        Oats = "oats",
        /// Milk of any animal and what is made of it.
        Milk = "milk",
        /// Egg of any bird.
        Egg = "egg",
        /// Soya bean.
        Soy = "soy",
        /// Sesame.
        Sesame = "sesame",
        /// Peanut.
        Peanut = "peanut",
        /// Almond.
        Almond = "almond",
        /// Hazelnut.
        Hazelnut = "hazelnut",
        /// Walnut.
        Walnut = "walnut",
        /// Cashew.
        Cashew = "cashew",
        /// Pecan.
        Pecan = "pecan",
        /// Brazil nut.
        BrazilNut = "brazil-nut",
        /// Pistachio.
        Pistachio = "pistachio",
        /// Macadamia nut.
        Macadamia = "macadamia",
        /// Pine nut.
        PineNut = "pine-nut",
        /// Coconut.
        Coconut = "coconut",
        /// Fish.
        Fish = "fish",
        /// Crustaceans: prawns, crab, lobster.
        Crustacean = "crustacean",
        /// Molluscs: mussels, squid, snails.
        Mollusc = "mollusc",
        /// Celery, its root and its seed.
        Celery = "celery",
        /// Mustard.
        Mustard = "mustard",
        /// Lupin.
        Lupin = "lupin",
        /// Sulphur dioxide and sulphites, as they are used on dried fruit and in wine.
        Sulphites = "sulphites",
    }
}

impl Allergen {
    /// Gives the word a reader sees where no law's own word is asked for.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Spelt => "spelt wheat",
            Self::Khorasan => "khorasan wheat",
            Self::BrazilNut => "Brazil nut",
            Self::PineNut => "pine nut",
            Self::Crustacean => "crustaceans",
            Self::Mollusc => "molluscs",
            other => other.id(),
        }
    }
}

/// The allergens that one law wants named, and how it names them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllergenList {
    /// The law's date, `2025-01-06`: what a reader of an old card needs to know.
    pub dated: String,
    /// The law or guidance that the list follows.
    pub basis: String,
    entries: Vec<(Allergen, String)>,
}

impl AllergenList {
    /// Names what is on the list, in the law's words and order, each once; what is not on it is left out.
    #[must_use]
    pub fn named(&self, contained: &BTreeSet<Allergen>) -> Vec<String> {
        let mut words: Vec<String> = Vec::new();
        for (_, word) in self
            .entries
            .iter()
            .filter(|(allergen, _)| contained.contains(allergen))
        {
            if !words.contains(word) {
                words.push(word.clone());
            }
        }
        words
    }

    /// Gives every allergen on the list with the law's word for it.
    pub fn entries(&self) -> impl Iterator<Item = (Allergen, &str)> {
        self.entries
            .iter()
            .map(|(allergen, word)| (*allergen, word.as_str()))
    }
}

/// Gives the list of the United States: nine major allergens, tree nuts named by kind.
#[must_use]
pub fn us_list() -> &'static AllergenList {
    static LIST: LazyLock<AllergenList> = LazyLock::new(|| read_list("us"));
    &LIST
}

/// Gives the list of the European Union: fourteen groups, cereals with gluten and nuts named by kind.
#[must_use]
pub fn eu_list() -> &'static AllergenList {
    static LIST: LazyLock<AllergenList> = LazyLock::new(|| read_list("eu"));
    &LIST
}

fn read_list(list: &str) -> AllergenList {
    let rows: Vec<table::Record> = table::rows(table::ALLERGENS)
        .filter(|row| row.leading().0 == list)
        .map(table::Row::read)
        .collect();
    let heading = |column| {
        rows.first()
            .map(|row| row.cell(column).to_owned())
            .unwrap_or_default()
    };
    AllergenList {
        dated: heading("dated"),
        basis: heading("basis"),
        entries: rows
            .iter()
            .filter_map(|row| {
                Some((
                    Allergen::from_id(row.cell("allergen"))?,
                    row.cell("group").to_owned(),
                ))
            })
            .collect(),
    }
}
