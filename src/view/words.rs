//! The words that a card prints, by language. Owns the catalogue files beside it and the choice of one by a
//! language tag; knows nothing of numbers or of where a word stands on the card.
//!
//! The files are read while the program is compiled: a word that is missing, misspelt or out of order stops
//! the build and says which one was looked for.

mod read;

use serde::ser::{Serialize, SerializeMap, Serializer};

use self::read::read;
use super::word_list::{COUNT, KEYS, Word};
use crate::quantity::Ratio;

/// The words of one language.
#[derive(Debug)]
pub struct Words {
    /// The language of the words, a BCP 47 tag.
    pub language: &'static str,
    texts: [&'static str; COUNT],
    singular: Singular,
    /// How a name of pieces gets another number.
    pub(super) naming: Naming,
}

/// What of a name changes with the number.
#[derive(Clone, Copy, Debug)]
pub(super) enum Naming {
    /// The last word, as in English: `small rolls`.
    LastWord,
    /// The last part of a single word, as in German: `Roggenbrote`. A word before it would change too.
    LastPart,
    /// The first words, as in French: `pains de campagne`. An adjective behind them would change too.
    FirstWords,
}

/// Which numbers take the form for one.
#[derive(Clone, Copy, Debug)]
enum Singular {
    /// One alone, as in English and German.
    One,
    /// Everything below two, as in French: 0, 1 and 1,5.
    BelowTwo,
}

static ENGLISH: Words = Words {
    language: "en",
    texts: read("words/en.txt", include_str!("words/en.txt"), None),
    singular: Singular::One,
    naming: Naming::LastWord,
};

static AMERICAN: Words = Words {
    language: "en-US",
    texts: read(
        "words/en-us.txt",
        include_str!("words/en-us.txt"),
        Some(&ENGLISH.texts),
    ),
    singular: Singular::One,
    naming: Naming::LastWord,
};

static GERMAN: Words = Words {
    language: "de",
    texts: read("words/de.txt", include_str!("words/de.txt"), None),
    singular: Singular::One,
    naming: Naming::LastPart,
};

static FRENCH: Words = Words {
    language: "fr",
    texts: read("words/fr.txt", include_str!("words/fr.txt"), None),
    singular: Singular::BelowTwo,
    naming: Naming::FirstWords,
};

/// Every catalogue that ships, the one for all other languages first.
pub static ALL: [&Words; 4] = [&ENGLISH, &AMERICAN, &GERMAN, &FRENCH];

/// What stands between the text for one and the text for any other number.
const FORMS: &str = " | ";

impl Words {
    /// Finds the catalogue that suits a language tag best: the same tag, else the same language, else English.
    #[must_use]
    pub fn for_language(tag: &str) -> &'static Self {
        let language = |tag: &str| tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
        let same_tag = ALL.iter().find(|words| words.language.eq_ignore_ascii_case(tag));
        let same_language = || ALL.iter().find(|words| words.language == language(tag));
        same_tag.or_else(same_language).copied().unwrap_or(&ENGLISH)
    }

    /// Says whether there is a catalogue for the language of a tag, whatever its region.
    #[must_use]
    pub fn are_known_in(tag: &str) -> bool {
        let language = |tag: &str| tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
        language(Self::for_language(tag).language) == language(tag)
    }

    /// Gives the keys of all words, in the order of the catalogue files.
    #[must_use]
    pub const fn keys() -> &'static [&'static str] {
        &KEYS
    }

    /// Gives all words, in the order of their keys.
    #[must_use]
    pub const fn texts(&self) -> &[&'static str] {
        &self.texts
    }

    /// Says whether these are the words of the language that recipes are written in.
    #[must_use]
    pub fn are_english(&self) -> bool {
        self.language.starts_with("en")
    }

    /// Gives a word.
    #[must_use]
    pub fn get(&self, word: Word) -> &'static str {
        self.texts.get(word as usize).copied().unwrap_or_default()
    }

    /// Gives a sentence with the gaps in braces filled in.
    #[must_use]
    pub fn fill(&self, word: Word, gaps: &[(&str, &str)]) -> String {
        filled(self.get(word), gaps)
    }

    /// Gives a sentence in its form for a number of things, with the gaps in braces filled in.
    #[must_use]
    pub fn fill_counted(&self, word: Word, count: &Ratio, gaps: &[(&str, &str)]) -> String {
        let (one, many) = self.forms(word);
        filled(if self.is_one(count) { one } else { many }, gaps)
    }

    /// Says whether a number takes the form for one.
    pub(super) fn is_one(&self, count: &Ratio) -> bool {
        match self.singular {
            Singular::One => *count == Ratio::whole(1),
            Singular::BelowTwo => *count < Ratio::whole(2),
        }
    }

    /// Says whether one and a half takes the form for one, and nought too.
    pub(super) const fn is_one_below_two(&self) -> bool {
        matches!(self.singular, Singular::BelowTwo)
    }

    /// Gives a word for one thing and for any other number of them.
    pub(super) fn forms(&self, word: Word) -> (&'static str, &'static str) {
        let text = self.get(word);
        text.split_once(FORMS).unwrap_or((text, text))
    }

    /// Gives what stands between things of which some have commas within.
    #[must_use]
    pub fn semicolon(&self) -> String {
        format!("{} ", self.get(Word::Semicolon))
    }

    /// Joins things with commas and a last `and`.
    #[must_use]
    pub fn list(&self, things: &[String]) -> String {
        match things {
            [] => String::new(),
            [only] => only.clone(),
            [head @ .., last] => format!("{} {} {last}", head.join(", "), self.get(Word::And)),
        }
    }
}

/// Fills in the gaps in braces.
fn filled(mut rest: &str, gaps: &[(&str, &str)]) -> String {
    let mut filled = String::with_capacity(rest.len() + 32);
    while let Some((before, after)) = rest.split_once('{') {
        filled.push_str(before);
        let Some((name, behind)) = after.split_once('}') else {
            break;
        };
        let value = gaps.iter().find(|(gap, _)| *gap == name);
        filled.push_str(value.map_or("", |(_, value)| value));
        rest = behind;
    }
    filled.push_str(rest);
    filled
}

impl Serialize for Words {
    /// Writes every word under its key, for templates.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(COUNT))?;
        for (key, text) in KEYS.iter().zip(self.texts) {
            map.serialize_entry(key, text)?;
        }
        map.end()
    }
}
