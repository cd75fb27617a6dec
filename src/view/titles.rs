//! Titles cut to the room that there is: in the name of a window, in the head of further pages. Owns where a title is
//! cut; the whole of it stands on the page itself.

/// The longest name of a window or tab; what is longer is cut there anyway, in the middle of a word.
const WINDOW: usize = 70;

/// The most of it that the name of the book takes.
const BOOK: usize = 34;

/// Names the window of a page: its title, and the book that it stands in.
pub(super) fn window_title(title: &str, book: Option<&str>) -> String {
    let Some(book) = book else {
        return shortened(title, WINDOW);
    };
    let book = shortened(book, BOOK);
    let room = WINDOW - 3 - book.chars().count();
    [&shortened(title, room), " · ", &book].concat()
}

/// Cuts a title to the room of so many letters, at the end of a word where one ends late enough. Letters of scripts
/// that are written in squares take the room of two.
#[must_use]
pub fn shortened(title: &str, room: usize) -> String {
    let width =
        |letter: char| 1 + usize::from(letter >= '\u{1100}' && !('\u{2000}'..='\u{206f}').contains(&letter));
    if title.chars().map(width).sum::<usize>() <= room {
        return title.to_owned();
    }
    let mut left = room.saturating_sub(1);
    let fits = title.char_indices().take_while(|(_, letter)| {
        let own = width(*letter);
        let has_room = own <= left;
        left = left.saturating_sub(own);
        has_room
    });
    let end = fits.last().map_or(0, |(place, letter)| place + letter.len_utf8());
    let head = title.get(..end).unwrap_or_default();
    let is_whole = title
        .get(end..)
        .is_some_and(|rest| rest.starts_with(char::is_whitespace));
    let at_word = head
        .rfind(char::is_whitespace)
        .filter(|place| *place > end / 2 && !is_whole);
    let head = at_word.and_then(|place| head.get(..place)).unwrap_or(head);
    format!(
        "{}…",
        head.trim_end_matches(|letter: char| letter.is_whitespace() || letter == ',')
    )
}

#[cfg(test)]
mod tests {
    use super::{shortened, window_title};

    #[test]
    fn titles_are_cut_at_the_end_of_a_word_and_never_longer_than_their_room() {
        for (title, room, cut) in [
            ("Brioche", 7, "Brioche"),
            ("Brioche, soft", 12, "Brioche…"),
            ("Brioche soft and warm", 13, "Brioche soft…"),
            ("Donaudampfschiff", 9, "Donaudam…"),
            ("a Donaudampfschiff", 9, "a Donaud…"),
            ("面包面包", 8, "面包面包"),
            ("面包面包面", 8, "面包面…"),
        ] {
            assert_eq!(shortened(title, room), cut);
        }
    }

    #[test]
    fn a_window_names_title_and_book_in_seventy_letters() {
        let long = "word ".repeat(40);
        assert_eq!(window_title("Rye", Some("Oxlip Row")), "Rye · Oxlip Row");
        for book in [None, Some("Oxlip Row"), Some(long.as_str())] {
            let title = window_title(&long, book);
            assert!(title.chars().count() <= 70, "{title}");
        }
    }
}
