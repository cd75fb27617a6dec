//! Names of files: as they are shown to people, and as they are made of any text.
//!
//! Shown names stand on one line, without anything that a terminal would obey. Made names work on every
//! disk and in every address.

use std::fmt::Write as _;
use std::path::Path;

use crate::source::Unseen;

/// Writes a path for people: odd bytes and characters that steer a terminal or the reading direction are
/// shown by their numbers, and a leading `./` is left out.
#[must_use]
pub fn shown(path: &Path) -> String {
    let path = path.strip_prefix("./").unwrap_or(path);
    let mut text = String::new();
    for chunk in path.as_os_str().as_encoded_bytes().utf8_chunks() {
        for letter in chunk.valid().chars() {
            if Unseen::of(letter).is_some_and(|unseen| unseen != Unseen::Form) {
                let _ = write!(text, "{}", letter.escape_unicode());
            } else {
                text.push(letter);
            }
        }
        for byte in chunk.invalid() {
            let _ = write!(text, "\\x{byte:02x}");
        }
    }
    if text.is_empty() { ".".to_owned() } else { text }
}

/// Gives the folder that a path lies in: `.` for a bare name, and the path itself where it has none above it.
#[must_use]
pub fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if folder.as_os_str().is_empty() => Path::new("."),
        Some(folder) => folder,
        None => path,
    }
}

/// The most bytes of a made name.
const MOST_BYTES: usize = 80;

/// Makes a name of small letters, digits and hyphens, at most 80 bytes long, never empty.
///
/// Accents are left out; a letter of another script is written by its number, so that two names stay two.
#[must_use]
pub fn slug(text: &str) -> String {
    let mut slug = String::new();
    for letter in text.chars().flat_map(char::to_lowercase) {
        match letter {
            'a'..='z' | '0'..='9' => slug.push(letter),
            // Accents that stand apart from their letter.
            '\u{300}'..='\u{36f}' => {}
            _ => match plain_letters(letter) {
                Some(plain) => slug.push_str(plain),
                None if letter.is_alphanumeric() => {
                    let _ = write!(slug, "{:x}", u32::from(letter));
                }
                None if slug.is_empty() || slug.ends_with('-') => {}
                None => slug.push('-'),
            },
        }
    }
    // Every character is one byte by now.
    slug.truncate(MOST_BYTES);
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() {
        "recipe".to_owned()
    } else if is_reserved(slug) {
        format!("recipe-{slug}")
    } else {
        slug.to_owned()
    }
}

/// Recognises names that a system keeps for its devices, and the name of the folder's own page.
fn is_reserved(slug: &str) -> bool {
    let device = |name: &str| {
        slug.strip_prefix(name)
            .is_some_and(|rest| rest.len() == 1 && rest.bytes().all(|byte| byte.is_ascii_digit()))
    };
    matches!(slug, "con" | "prn" | "aux" | "nul" | "index") || device("com") || device("lpt")
}

/// Gives a letter of the Latin alphabets without its accent.
fn plain_letters(letter: char) -> Option<&'static str> {
    Some(match letter {
        'à'..='å' | 'ā' | 'ă' | 'ą' => "a",
        'æ' => "ae",
        'ç' | 'ć' | 'č' | 'ĉ' | 'ċ' => "c",
        'ď' | 'đ' | 'ð' => "d",
        'è'..='ë' | 'ē' | 'ė' | 'ę' | 'ě' => "e",
        'ğ' | 'ģ' => "g",
        'ì'..='ï' | 'ī' | 'į' | 'ı' => "i",
        'ķ' => "k",
        'ł' | 'ľ' | 'ļ' => "l",
        'ñ' | 'ń' | 'ň' | 'ņ' => "n",
        'ò'..='ö' | 'ø' | 'ō' | 'ő' => "o",
        'œ' => "oe",
        'ř' | 'ŕ' => "r",
        'ś' | 'š' | 'ş' | 'ș' => "s",
        'ß' => "ss",
        'ť' | 'ţ' | 'ț' => "t",
        'þ' => "th",
        'ù'..='ü' | 'ū' | 'ů' | 'ű' | 'ų' => "u",
        'ý' | 'ÿ' => "y",
        'ź' | 'ż' | 'ž' => "z",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use std::ffi::OsStr;
    use std::path::Path;

    use super::{shown, slug};

    #[test]
    fn what_a_terminal_would_obey_is_shown_by_number() {
        assert_eq!(shown(Path::new("./rye.loaf")), "rye.loaf");
        assert_eq!(shown(Path::new("a\nb\u{1b}[2J.loaf")), "a\\u{a}b\\u{1b}[2J.loaf");
        assert_eq!(
            shown(Path::new("p\u{e2}te \u{202e}.loaf")),
            "p\u{e2}te \\u{202e}.loaf"
        );
        // Characters of Mongolian, of annotations and of tags, which no reader is shown.
        assert_eq!(
            shown(Path::new("a\u{180e}b\u{fffa}c\u{e0041}.loaf")),
            "a\\u{180e}b\\u{fffa}c\\u{e0041}.loaf"
        );
        assert_eq!(shown(Path::new("\u{2764}\u{fe0f}.loaf")), "\u{2764}\u{fe0f}.loaf");
        assert_eq!(shown(Path::new("")), ".");
    }

    #[test]
    fn made_names_work_everywhere() {
        for (text, name) in [
            ("Towpath Levain", "towpath-levain"),
            ("../x", "x"),
            (".", "recipe"),
            ("CON", "recipe-con"),
            ("com1", "recipe-com1"),
            ("a:b", "a-b"),
            ("rye.", "rye"),
            ("!?*", "recipe"),
            ("index", "recipe-index"),
            ("-o", "o"),
            ("\u{202e}evil", "evil"),
            ("Pâte brisée", "pate-brisee"),
            ("Pa\u{302}te", "pate"),
            ("Möhrenbrot Weiß", "mohrenbrot-weiss"),
            ("\u{5dc}\u{5d7}", "5dc5d7"),
        ] {
            assert_eq!(slug(text), name, "{text}");
        }
        let long = slug(&"crumb ".repeat(60));
        assert!(long.len() <= 80 && !long.ends_with('-'), "{long}");
    }

    #[cfg(unix)]
    #[test]
    fn odd_bytes_are_shown_by_number() {
        use std::os::unix::ffi::OsStrExt as _;
        assert_eq!(shown(Path::new(OsStr::from_bytes(b"r\xffye"))), "r\\xffye");
    }
}
