//! What pieces are called for a number of them: `1 loaf`, `2 loaves`. Owns how a name that is written in one form
//! gets the other; the names themselves stand in the word files.
//!
//! A recipe says one form only. Where the language tells the other one, it is taken; a name that no word file knows
//! stands for the number that it was written for, and any other number has the language's word for a piece. No ending
//! is guessed at.

use super::live::Key;
use super::setting::Setting;
use super::word_list::Word;
use super::words::{Naming, Words};
use crate::quantity::Ratio;
use crate::sheet::Sheet;

/// What parts the names of the word files, and the two forms of each.
const BETWEEN_NAMES: &str = ", ";
const BETWEEN_FORMS: char = '/';

/// What may follow a French name that keeps its form: `pains de campagne`, `boules au levain`.
const FRENCH_LINKS: [&str; 8] = [" de ", " du ", " des ", " d’", " d'", " à ", " au ", " aux "];

/// What pieces are called.
#[derive(Debug)]
pub(super) struct Names {
    /// For one.
    pub(super) one: String,
    /// For any other number.
    pub(super) many: String,
    /// A name that has no known other form, and the number that it was written for.
    pub(super) written: Option<(Ratio, String)>,
}

impl Names {
    /// Finds what the pieces of a sheet are called.
    pub(super) fn of(words: &Words, sheet: &Sheet) -> Self {
        let of_word = |word, written| {
            let (one, many) = words.forms(word);
            Self {
                one: one.to_owned(),
                many: many.to_owned(),
                written,
            }
        };
        if sheet.fit.is_some() {
            return of_word(Word::Tins, None);
        }
        let pieces = &sheet.pieces;
        if let Some((one, many)) = both_forms(words, &pieces.piece) {
            return Self {
                one,
                many,
                written: None,
            };
        }
        let written = Some((pieces.named_for.clone(), pieces.piece.clone()));
        of_word(Word::Piece, written.filter(|(_, name)| !name.is_empty()))
    }

    fn name(&self, words: &Words, count: &Ratio) -> &str {
        match &self.written {
            Some((written_for, name)) if written_for == count => name,
            _ if is_shown_as_one(words, count) => &self.one,
            _ => &self.many,
        }
    }
}

/// Names the pieces of a sheet.
pub(super) fn piece_name(setting: &Setting<'_>) -> String {
    let (words, sheet) = (setting.words, setting.sheet);
    let name = Names::of(words, sheet)
        .name(words, &sheet.pieces.count)
        .to_owned();
    setting.mark(Key::PieceName, name)
}

/// Writes number and name of the pieces of a sheet.
pub(super) fn counted_pieces(setting: &Setting<'_>) -> String {
    let count = &setting.sheet.pieces.count;
    let shown = setting.numbers.decimal(count, 2);
    format!(
        "{} {}",
        setting.mark(Key::Pieces(count), shown),
        piece_name(setting)
    )
}

/// Says whether a number takes the form for one as it is shown, with two decimals.
fn is_shown_as_one(words: &Words, count: &Ratio) -> bool {
    let shown = Ratio::parse_decimal(&count.to_fixed(2));
    shown.is_some_and(|shown| words.is_one(&shown))
}

/// Gives both forms of a name in one of them; nothing for one that no word file knows.
fn both_forms(words: &Words, name: &str) -> Option<(String, String)> {
    let names = words.get(Word::PieceNames).split(BETWEEN_NAMES);
    let pairs = names.filter_map(|pair| pair.split_once(BETWEEN_FORMS));
    let found = pairs.flat_map(|(one, many)| {
        [one, many].map(|form| Some((place(words.naming, name, form)?, form.len(), one, many)))
    });
    // The longest form that fits: a word may end as another one does.
    let (start, length, one, many) = found.flatten().max_by_key(|(_, length, ..)| *length)?;
    let (before, rest) = name.split_at_checked(start)?;
    let (own, behind) = rest.split_at_checked(length)?;
    let whole = |form: &str| [before, &cased(form, own), behind].concat();
    Some((whole(one), whole(many)))
}

/// Finds where in a name a form stands that alone changes with the number.
fn place(naming: Naming, name: &str, form: &str) -> Option<usize> {
    let end = || name.len().checked_sub(form.len());
    let start = match naming {
        Naming::LastWord => end().filter(|at| *at == 0 || name.get(..*at).is_some_and(ends_a_word))?,
        Naming::LastPart => end().filter(|_| !name.contains(' '))?,
        Naming::FirstWords => {
            let behind = name.get(form.len()..)?;
            let is_linked = FRENCH_LINKS.iter().any(|link| behind.starts_with(link));
            (behind.is_empty() || is_linked).then_some(0)?
        }
    };
    let own = name.get(start..)?.get(..form.len())?;
    (own.to_lowercase() == form.to_lowercase()).then_some(start)
}

fn ends_a_word(text: &str) -> bool {
    text.ends_with([' ', '-'])
}

/// Writes a form with a capital or without, as the baker's own begins.
fn cased(form: &str, own: &str) -> String {
    let mut letters = form.chars();
    let Some(first) = letters.next() else {
        return String::new();
    };
    let first: String = if own.starts_with(char::is_uppercase) {
        first.to_uppercase().collect()
    } else {
        first.to_lowercase().collect()
    };
    first + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::super::words::Words;
    use super::both_forms;

    /// Names as a baker may write them, in one form or the other, with what one and two of them are called; worked
    /// out by hand.
    #[test]
    fn a_known_name_has_both_forms_and_no_other_is_guessed_at() {
        for (language, name, forms) in [
            ("en", "loaves", Some(("loaf", "loaves"))),
            ("en", "loaf", Some(("loaf", "loaves"))),
            ("en-US", "Small Rolls", Some(("Small Roll", "Small Rolls"))),
            ("en", "batches", Some(("batch", "batches"))),
            ("en", "brioches", Some(("brioche", "brioches"))),
            (
                "en",
                "inch-long sticks",
                Some(("inch-long stick", "inch-long sticks")),
            ),
            ("en", "marrolls", None),
            ("en", "gas", None),
            ("de", "Brote", Some(("Brot", "Brote"))),
            ("de", "Roggenbrote", Some(("Roggenbrot", "Roggenbrote"))),
            ("de", "Weizenbrötchen", Some(("Weizenbrötchen", "Weizenbrötchen"))),
            ("de", "Zöpfe", Some(("Zopf", "Zöpfe"))),
            ("de", "kleine Brote", None),
            ("de", "loaves", None),
            ("fr", "pains", Some(("pain", "pains"))),
            ("fr", "petits pains", Some(("petit pain", "petits pains"))),
            (
                "fr",
                "pains de campagne",
                Some(("pain de campagne", "pains de campagne")),
            ),
            ("fr", "pains ronds", None),
            ("en", "", None),
        ] {
            let found = both_forms(Words::for_language(language), name);
            let found = found.as_ref().map(|(one, many)| (one.as_str(), many.as_str()));
            assert_eq!(found, forms, "{language}: {name}");
        }
    }
}
