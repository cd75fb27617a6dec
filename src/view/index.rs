//! The index of a folder of cards. Owns what a row says of a recipe; knows no folders, names arrive as text.

use serde::Serialize;

use super::card::Card;
use super::word_list::Word;
use super::words::Words;
use crate::quantity::Ratio;

/// The index of a folder of cards.
#[derive(Debug, Serialize)]
pub struct Index {
    /// The language of the page, a BCP 47 tag.
    pub language: String,
    /// The direction of writing, `ltr` or `rtl`.
    pub direction: &'static str,
    /// What the page is called: the bakehouse, or the word for breads.
    pub title: String,
    /// How many there are, in words.
    pub count: String,
    /// A row a card, by title.
    pub rows: Vec<IndexRow>,
}

/// A card in the index.
#[derive(Clone, Debug, Serialize)]
pub struct IndexRow {
    /// The address of the card, relative to the index.
    pub href: String,
    /// The title.
    pub title: String,
    /// What it makes.
    pub makes: String,
    /// Time from start to finish.
    pub whole_time: String,
    /// Time that needs somebody.
    pub hands_on_time: String,
    /// Its tags, joined.
    pub tags: String,
}

impl IndexRow {
    /// Takes from a card what the index says of it.
    #[must_use]
    pub fn of(card: &Card, href: String) -> Self {
        Self {
            href,
            title: card.head.title.clone(),
            makes: card.head.makes.clone(),
            whole_time: card.head.whole_time.clone(),
            hands_on_time: card.head.hands_on_time.clone(),
            tags: card.head.tags.join(", "),
        }
    }
}

impl Index {
    /// Gathers the rows of a folder under the name of the bakehouse, where it has one.
    #[must_use]
    pub fn new(bakehouse: Option<&str>, language: &str, mut rows: Vec<IndexRow>) -> Self {
        let words = Words::for_language(language);
        rows.sort_by(|left, right| (&left.title, &left.href).cmp(&(&right.title, &right.href)));
        let count = match rows.len() {
            0 => words.get(Word::IndexNone).to_owned(),
            many => {
                let number = Ratio::whole(i64::try_from(many).unwrap_or(i64::MAX));
                words.fill_counted(Word::IndexCount, &number, &[("count", &many.to_string())])
            }
        };
        Self {
            language: words.language.to_owned(),
            direction: "ltr",
            title: bakehouse.unwrap_or(words.get(Word::IndexTitle)).to_owned(),
            count,
            rows,
        }
    }
}
