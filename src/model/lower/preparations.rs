//! The closed list of words that may stand before an ingredient and say how it is prepared.
//!
//! `soft butter` is butter, soft. Words that make another thing of it are not here: `dried yeast`, `salted
//! butter` and `cooked rice` are ingredients of their own.

/// Every word, in the order of the alphabet, so that it can be found by halving.
pub(in crate::model) const PREPARATIONS: &[&str] = &[
    "active",
    "beaten",
    "blanched",
    "boiling",
    "browned",
    "bubbly",
    "chilled",
    "chopped",
    "coarsely",
    "cold",
    "cool",
    "crumbled",
    "crushed",
    "cubed",
    "diced",
    "drained",
    "fed",
    "finely",
    "freshly",
    "frozen",
    "grated",
    "ground",
    "halved",
    "hot",
    "ice-cold",
    "iced",
    "lightly",
    "lukewarm",
    "mashed",
    "mature",
    "melted",
    "minced",
    "organic",
    "peeled",
    "pitted",
    "rinsed",
    "ripe",
    "roasted",
    "room-temperature",
    "roughly",
    "shelled",
    "shredded",
    "sieved",
    "sifted",
    "sliced",
    "slivered",
    "soft",
    "softened",
    "stoned",
    "tepid",
    "thawed",
    "thinly",
    "toasted",
    "warm",
    "warmed",
    "whisked",
];

/// Says whether a word is one of preparation, whatever its case.
#[must_use]
pub(super) fn is_preparation(word: &str) -> bool {
    let lower = word.to_ascii_lowercase();
    PREPARATIONS.binary_search(&lower.as_str()).is_ok()
}
