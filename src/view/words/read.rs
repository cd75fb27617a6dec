//! How a catalogue file is read while the program is compiled. Owns its form, `key = text` a line in the order
//! of the list, and what a faulty one is told; knows no language.

use super::super::word_list::{COUNT, KEYS};

/// Reads a catalogue file; one that stands on another may leave words out, but not change their order.
///
/// A word that is missing, misspelt or out of order is an error of the build, which names the file, the word
/// that was looked for and the line that stood there.
#[expect(
    clippy::panic,
    clippy::indexing_slicing,
    reason = "it runs while the program is compiled, where a panic is an error of the build"
)]
pub(super) const fn read(
    name: &str,
    file: &'static str,
    base: Option<&[&'static str; COUNT]>,
) -> [&'static str; COUNT] {
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
            let found = line_at(file, at);
            panic!(
                "{}",
                Message::new()
                    .with(name)
                    .with(": the word `")
                    .with(KEYS[next])
                    .with("` is missing, misspelt or out of order; where it belongs stands: ")
                    .with(found)
                    .text()
            );
        }
        next += 1;
    }
    let extra = Message::new()
        .with(name)
        .with(": no list knows this word, or not at this place: ")
        .with(line_at(file, at));
    assert!(at >= file.len(), "{}", extra.text());
    texts
}

/// A message put together while the program is compiled; what goes past its end is left out.
struct Message {
    bytes: [u8; 240],
    length: usize,
}

impl Message {
    const fn new() -> Self {
        Self {
            bytes: [0; 240],
            length: 0,
        }
    }

    #[expect(clippy::indexing_slicing, reason = "the lengths are looked at first")]
    const fn with(mut self, text: &str) -> Self {
        let text = text.as_bytes();
        let mut place = 0;
        while place < text.len() && self.length < self.bytes.len() {
            // A letter that is not ASCII may be cut in two at the end, and no message may be lost by that.
            self.bytes[self.length] = if text[place].is_ascii() { text[place] } else { b'?' };
            self.length += 1;
            place += 1;
        }
        self
    }

    const fn text(&self) -> &str {
        match std::str::from_utf8(self.bytes.split_at(self.length).0) {
            Ok(text) => text,
            Err(_) => "a catalogue file is faulty",
        }
    }
}

/// Gives the line that begins at a place.
const fn line_at(file: &str, at: usize) -> &str {
    let at = if at < file.len() { at } else { file.len() };
    file.split_at(line_end(file.as_bytes(), at)).0.split_at(at).1
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

#[cfg(test)]
mod tests {
    use super::read;

    const GERMAN: &str = include_str!("de.txt");

    fn read_changed(change: impl Fn(&str) -> String) {
        read("words/de.txt", Box::leak(change(GERMAN).into_boxed_str()), None);
    }

    #[test]
    fn a_whole_file_is_read() {
        read_changed(str::to_owned);
    }

    #[test]
    #[should_panic(
        expected = "words/de.txt: the word `hydration` is missing, misspelt or out of order; \
                               where it belongs stands: poured_water = "
    )]
    fn a_missing_word_stops_the_build() {
        read_changed(|file| file.replace("\nhydration = Hydration\n", "\n"));
    }

    #[test]
    #[should_panic(
        expected = "words/de.txt: the word `hydration` is missing, misspelt or out of order; \
                               where it belongs stands: hidration = Hydration"
    )]
    fn a_misspelt_word_stops_the_build() {
        read_changed(|file| file.replace("\nhydration = ", "\nhidration = "));
    }

    #[test]
    #[should_panic(
        expected = "words/de.txt: the word `formula` is missing, misspelt or out of order; \
                               where it belongs stands: ingredient = Zutat"
    )]
    fn two_words_in_each_others_place_stop_the_build() {
        read_changed(|file| {
            file.replace(
                "formula = Rezeptur\ningredient = Zutat\n",
                "ingredient = Zutat\nformula = Rezeptur\n",
            )
        });
    }

    #[test]
    #[should_panic(
        expected = "words/de.txt: no list knows this word, or not at this place: something = more"
    )]
    fn a_word_too_many_stops_the_build() {
        read_changed(|file| format!("{file}something = more\n"));
    }
}
