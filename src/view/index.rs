//! The index of a folder of cards. Owns what a row says of a recipe and what it is found by; knows no folders,
//! names arrive as text.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::card::{Card, direction};
use super::reader::{Link, Reader};
use super::titles::window_title;
use super::word_list::Word;
use super::words::Words;
use crate::quantity::Ratio;

/// The index of a folder of cards.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Index {
    /// The language of the page, a BCP 47 tag.
    pub language: String,
    /// The direction of writing, `ltr` or `rtl`.
    pub direction: &'static str,
    /// What the page is called: the bakehouse, or the word for breads.
    pub title: String,
    /// The same for the name of a window: a long one cut short.
    pub window_title: String,
    /// How many there are, in words.
    pub count: String,
    /// What is said of one that is found.
    pub found_one: String,
    /// What is said of several, with `{count}` where their number stands.
    pub found_many: String,
    /// Every tag, once, in the order of the alphabet.
    pub tags: Vec<String>,
    /// The whole address of the page; nothing where the site has none.
    pub address: Option<String>,
    /// A row a recipe, by title.
    pub rows: Vec<IndexRow>,
}

/// A recipe in the index.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
pub struct IndexRow {
    /// The address of its page, relative to the index.
    pub href: String,
    /// The title.
    pub title: String,
    /// What it makes.
    pub makes: String,
    /// Time from start to finish.
    pub whole_time: String,
    /// Time that needs somebody.
    pub hands_on_time: String,
    /// Its tags as written.
    pub tags: Vec<String>,
    /// Other words that it is found by, joined: what goes in.
    pub found_by: String,
    /// Its cards to print, each with the name of its paper, which may be empty.
    pub cards: Vec<Link>,
}

/// What stands between the words that a row is found by.
const BETWEEN: &str = ", ";

impl IndexRow {
    /// Takes from a card and its reader's page what the index says of them.
    #[must_use]
    pub fn of(card: &Card, reader: &Reader, href: String, cards: Vec<Link>) -> Self {
        Self {
            href,
            title: card.head.title.clone(),
            makes: reader.makes.clone(),
            whole_time: card.head.whole_time.clone(),
            hands_on_time: card.head.hands_on_time.clone(),
            tags: card.head.tags.clone(),
            found_by: reader.names().join(BETWEEN),
            cards,
        }
    }

    /// Makes the row of a page of which no more is known than its title.
    #[must_use]
    pub fn bare(title: String, href: String, cards: Vec<Link>) -> Self {
        Self {
            href,
            title,
            makes: String::new(),
            whole_time: String::new(),
            hands_on_time: String::new(),
            tags: Vec::new(),
            found_by: String::new(),
            cards,
        }
    }
}

impl Index {
    /// Gathers the rows of a folder under the name of the bakehouse, where it has one.
    #[must_use]
    pub fn new(
        bakehouse: Option<&str>,
        language: &str,
        address: Option<String>,
        mut rows: Vec<IndexRow>,
    ) -> Self {
        let words = Words::for_language(language);
        rows.sort_by(|left, right| (&left.title, &left.href).cmp(&(&right.title, &right.href)));
        let counted =
            |number: Ratio, text: &str| words.fill_counted(Word::IndexCount, &number, &[("count", text)]);
        let count = match i64::try_from(rows.len()) {
            Ok(0) => words.get(Word::IndexNone).to_owned(),
            Ok(many) => counted(Ratio::whole(many), &many.to_string()),
            Err(_) => String::new(),
        };
        let tags: BTreeSet<&str> = rows
            .iter()
            .flat_map(|row| &row.tags)
            .map(String::as_str)
            .collect();
        let title = bakehouse.unwrap_or(words.get(Word::IndexTitle));
        Self {
            language: words.language.to_owned(),
            direction: direction(words.language),
            title: title.to_owned(),
            window_title: window_title(title, None),
            count,
            found_one: counted(Ratio::ONE, "1"),
            found_many: counted(Ratio::whole(2), "{count}"),
            tags: tags.into_iter().map(str::to_owned).collect(),
            address,
            rows,
        }
    }
}
