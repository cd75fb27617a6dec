//! The list of the files that are ours in a folder of cards, each with the recipe that it was made of.
//!
//! Owns the form of the list. A line that it cannot have written is passed over, so that a list which
//! somebody has changed by hand never makes a run delete what lies elsewhere.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Component, Path, PathBuf};

/// The first line, for the person who opens the file.
pub(super) const HEAD: &str = "loafwright 1: the files named below are made anew and deleted by loafwright\n";

/// The files by name; the source is a path from the folder of cards, nothing for a page of the folder itself.
pub(super) type Files = BTreeMap<String, Option<PathBuf>>;

/// Reads a list; the later one of two lines for one file counts.
pub(super) fn parse(bytes: &[u8]) -> Files {
    let text = String::from_utf8_lossy(bytes);
    text.lines()
        .filter_map(|line| line.split_once('\t'))
        .filter(|(name, _)| is_plain(name))
        .map(|(name, source)| (name.to_owned(), decoded(source)))
        .collect()
}

/// Writes a list, one line a file.
pub(super) fn print(files: &Files) -> String {
    let mut text = HEAD.to_owned();
    for (name, source) in files {
        text.push_str(&line(name, source.as_deref()));
    }
    text
}

/// Writes the line of one file.
pub(super) fn line(name: &str, source: Option<&Path>) -> String {
    let source = source.map(encoded).unwrap_or_default();
    format!("{name}\t{source}\n")
}

/// Says whether a name stays in its folder and works on every disk: letters, digits, hyphens and dots, with
/// slashes between folders, and no dot in front.
#[must_use]
pub fn is_plain(name: &str) -> bool {
    name.split('/').all(|part| {
        !part.is_empty()
            && !part.starts_with('.')
            && part
                .bytes()
                .all(|byte| byte.is_ascii_alphanumeric() || b"-_.".contains(&byte))
    })
}

/// Gives the way from a folder to a file, both without links.
pub(super) fn way(from: &Path, to: &Path) -> PathBuf {
    let shared = from
        .components()
        .zip(to.components())
        .take_while(|(left, right)| left == right)
        .count();
    let up = from.components().skip(shared).map(|_| Component::ParentDir);
    up.chain(to.components().skip(shared)).collect()
}

/// Writes a path in printable characters: a slash between names, odd bytes by number.
fn encoded(path: &Path) -> String {
    let mut text = String::new();
    for component in path.components() {
        if !text.is_empty() {
            text.push('/');
        }
        for byte in component.as_os_str().as_encoded_bytes() {
            if byte.is_ascii_graphic() && *byte != b'%' || *byte == b' ' {
                text.push(char::from(*byte));
            } else {
                let _ = write!(text, "%{byte:02x}");
            }
        }
    }
    text
}

fn decoded(text: &str) -> Option<PathBuf> {
    if text.is_empty() {
        return None;
    }
    let mut bytes = Vec::new();
    let mut pieces = text.split('%');
    bytes.extend_from_slice(pieces.next()?.as_bytes());
    for piece in pieces {
        bytes.push(u8::from_str_radix(piece.get(..2)?, 16).ok()?);
        bytes.extend_from_slice(piece.get(2..)?.as_bytes());
    }
    path_of_bytes(bytes)
}

#[cfg(unix)]
#[expect(
    clippy::unnecessary_wraps,
    reason = "elsewhere not every run of bytes is a path"
)]
fn path_of_bytes(bytes: Vec<u8>) -> Option<PathBuf> {
    use std::os::unix::ffi::OsStringExt as _;
    Some(std::ffi::OsString::from_vec(bytes).into())
}

#[cfg(not(unix))]
fn path_of_bytes(bytes: Vec<u8>) -> Option<PathBuf> {
    String::from_utf8(bytes).ok().map(PathBuf::from)
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::{Files, is_plain, parse, print, way};

    #[test]
    fn what_is_written_is_read_again() {
        let files: Files = [
            ("index.html".to_owned(), None),
            (
                "rye.html".to_owned(),
                Some(PathBuf::from("../p\u{e2}te 100%/a\nb.loaf")),
            ),
        ]
        .into();
        assert_eq!(parse(print(&files).as_bytes()), files);
        assert_eq!(print(&files).lines().count(), 3);
    }

    #[test]
    fn lines_of_others_are_passed_over() {
        let hostile = b"../../x\t\n/etc/passwd\t\n.git/config\t\na//b\t\nno tab\n\xff\xfe\t\nok.html\t\n";
        assert_eq!(parse(hostile).into_keys().collect::<Vec<_>>(), ["ok.html"]);
        assert!(is_plain("sub/rye-2.html") && !is_plain("a/../b") && !is_plain(""));
    }

    #[test]
    fn the_way_from_a_folder_to_a_file() {
        for (from, to, expected) in [
            ("/a/cards", "/a/recipes/x.loaf", "../recipes/x.loaf"),
            ("/a/b/cards", "/a/x.loaf", "../../x.loaf"),
            ("/a", "/a/x.loaf", "x.loaf"),
        ] {
            assert_eq!(way(Path::new(from), Path::new(to)), Path::new(expected));
        }
    }
}
