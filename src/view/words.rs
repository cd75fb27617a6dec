//! The words that a card prints, by language. Owns the catalogue files beside it and the choice of one by a
//! language tag; knows nothing of numbers or of where a word stands on the card.
//!
//! The files are read while the program is compiled: a word that is missing, misspelt or out of order stops
//! the build and says which one was looked for.

use serde::ser::{Serialize, SerializeMap, Serializer};

use super::word_list::{COUNT, KEYS, Word};

/// The words of one language.
#[derive(Debug)]
pub struct Words {
    /// The language of the words, a BCP 47 tag.
    pub language: &'static str,
    texts: [&'static str; COUNT],
}

static ENGLISH: Words = Words {
    language: "en",
    texts: read(include_str!("words/en.txt"), None),
};

static AMERICAN: Words = Words {
    language: "en-US",
    texts: read(include_str!("words/en-us.txt"), Some(&ENGLISH.texts)),
};

/// Every catalogue that ships, the one for all other languages first.
pub static ALL: [&Words; 2] = [&ENGLISH, &AMERICAN];

impl Words {
    /// Finds the catalogue that suits a language tag best: the same tag, else the same language, else English.
    #[must_use]
    pub fn for_language(tag: &str) -> &'static Self {
        let language = |tag: &str| tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
        let same_tag = ALL.iter().find(|words| words.language.eq_ignore_ascii_case(tag));
        let same_language = || ALL.iter().find(|words| words.language == language(tag));
        same_tag.or_else(same_language).copied().unwrap_or(&ENGLISH)
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

    /// Gives a word.
    #[must_use]
    pub fn get(&self, word: Word) -> &'static str {
        self.texts.get(word as usize).copied().unwrap_or_default()
    }

    /// Gives a sentence with the gaps in braces filled in.
    #[must_use]
    pub fn fill(&self, word: Word, gaps: &[(&str, &str)]) -> String {
        let mut rest = self.get(word);
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

/// Reads a catalogue file; one that stands on another may leave words out, but not change their order.
#[expect(
    clippy::panic,
    clippy::indexing_slicing,
    reason = "it runs while the program is compiled, where a panic is an error of the build"
)]
const fn read(file: &'static str, base: Option<&[&'static str; COUNT]>) -> [&'static str; COUNT] {
    let mut texts = [""; COUNT];
    let mut at = skip_remarks(file.as_bytes(), 0);
    let mut next = 0;
    while next < COUNT {
        let key = KEYS[next].as_bytes();
        if starts_with(file.as_bytes(), at, key) {
            let start = at + key.len() + 3;
            let end = line_end(file.as_bytes(), start);
            texts[next] = file.split_at(end).0.split_at(start).1;
            at = skip_remarks(file.as_bytes(), end);
        } else if let Some(base) = base {
            texts[next] = base[next];
        } else {
            panic!("{}", KEYS[next]);
        }
        next += 1;
    }
    assert!(at >= file.len(), "a word that no list knows, or one out of order");
    texts
}

/// Says whether a line starts with a key and the sign behind it.
#[expect(clippy::indexing_slicing, reason = "the length is looked at first")]
const fn starts_with(bytes: &[u8], at: usize, key: &[u8]) -> bool {
    if at + key.len() + 3 > bytes.len() {
        return false;
    }
    let mut place = 0;
    while place < key.len() {
        if bytes[at + place] != key[place] {
            return false;
        }
        place += 1;
    }
    let sign = at + key.len();
    bytes[sign] == b' ' && bytes[sign + 1] == b'=' && bytes[sign + 2] == b' '
}

/// Finds the end of the line that a place lies in.
#[expect(clippy::indexing_slicing, reason = "the length is looked at first")]
const fn line_end(bytes: &[u8], mut at: usize) -> usize {
    while at < bytes.len() && bytes[at] != b'\n' {
        at += 1;
    }
    at
}

/// Passes over line ends, empty lines and remarks.
#[expect(clippy::indexing_slicing, reason = "the length is looked at first")]
const fn skip_remarks(bytes: &[u8], mut at: usize) -> usize {
    while at < bytes.len() && (bytes[at] == b'\n' || bytes[at] == b'#') {
        at = if bytes[at] == b'#' {
            line_end(bytes, at)
        } else {
            at + 1
        };
    }
    at
}
