//! What the pages of the book need beside a card: marked numbers as elements that a script finds, data that no page
//! takes for markup, and the scripts that ship. Owns the escaping of both.

use std::fmt::Write as _;

use minijinja::{Error, ErrorKind, Output, State, Value};
use serde::Serialize;

use crate::view::{Run, is_live, runs};

/// The style sheet of the reader's pages and the index.
pub const BOOK_STYLE: &str = include_str!("../../templates/book.css");

/// The script of a reader's page.
pub const READER_SCRIPT: &str = include_str!("../../templates/reader.js");

/// The script of the index.
pub const INDEX_SCRIPT: &str = include_str!("../../templates/index.js");

/// Prints a value in a template: text escaped, and a marked number as an element that says how it comes about.
pub(super) fn print(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    match value.as_str().filter(|text| !value.is_safe() && is_live(text)) {
        Some(text) => Ok(out.write_str(&with_elements(text))?),
        None => minijinja::escape_formatter(out, state, value),
    }
}

fn with_elements(text: &str) -> String {
    let mut html = String::with_capacity(text.len() + 32);
    for run in runs(text) {
        match run {
            Run::Plain(text) => escape(text, &mut html),
            // The key is of letters, digits, dots, strokes and signs alone.
            Run::Live(key, shown) => {
                html.push_str("<span data-n=\"");
                html.push_str(key);
                html.push_str("\">");
                escape(shown, &mut html);
                html.push_str("</span>");
            }
        }
    }
    html
}

fn escape(text: &str, html: &mut String) {
    let mut rest = text;
    while let Some(place) = rest.find(['&', '<', '>', '"', '\'']) {
        let (plain, special) = rest.split_at(place);
        html.push_str(plain);
        html.push_str(match special.as_bytes().first() {
            Some(b'&') => "&amp;",
            Some(b'<') => "&lt;",
            Some(b'>') => "&gt;",
            Some(b'"') => "&quot;",
            _ => "&#39;",
        });
        rest = special.get(1..).unwrap_or_default();
    }
    html.push_str(rest);
}

/// Writes data for a `script` element: JSON in which nothing can end the element or a line of a script.
pub(super) fn data(value: &impl Serialize) -> Result<String, Error> {
    let json = serde_json::to_string(value)
        .map_err(|error| Error::new(ErrorKind::BadSerialization, error.to_string()))?;
    let mut safe = String::with_capacity(json.len() + json.len() / 16);
    let mut rest = json.as_str();
    let is_special = |letter: char| {
        matches!(
            letter,
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' | '\u{7f}'..='\u{9f}'
        )
    };
    while let Some((place, letter)) = rest.char_indices().find(|(_, letter)| is_special(*letter)) {
        safe.push_str(rest.get(..place).unwrap_or_default());
        // Writing into a string does not fail.
        let _ = write!(safe, "\\u{:04x}", u32::from(letter));
        rest = rest.get(place + letter.len_utf8()..).unwrap_or_default();
    }
    safe.push_str(rest);
    Ok(safe)
}

/// Writes the list of a site's pages for machines, by the form of sitemaps.org.
#[must_use]
pub fn sitemap(addresses: &[String]) -> String {
    let mut xml = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<urlset xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\">\n",
    );
    for address in addresses {
        xml.push_str("<url><loc>");
        escape(address, &mut xml);
        xml.push_str("</loc></url>\n");
    }
    xml.push_str("</urlset>\n");
    xml
}

/// Takes remarks and indents off a script; a remark stands on lines of its own.
pub(super) fn bare_script(script: &str) -> String {
    let lines = script.lines().map(str::trim);
    let code = lines.filter(|line| !line.is_empty() && !line.starts_with("//"));
    code.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::{data, with_elements};

    #[test]
    fn data_ends_no_script() {
        let text = "</script><!-- & \u{2028}\u{2029}\u{85} \\ \" é";
        let json = data(&text).unwrap_or_default();
        assert!(
            !json.contains(['<', '>', '&', '\u{2028}', '\u{2029}', '\u{85}']),
            "{json}"
        );
        let back: String = serde_json::from_str(&json).unwrap_or_default();
        assert_eq!(back, text);
    }

    #[test]
    fn marked_numbers_are_elements_and_words_stay_words() {
        assert_eq!(
            with_elements("<b> \u{1}g5/3\u{2}1.7 <g>\u{3}"),
            "&lt;b&gt; <span data-n=\"g5/3\">1.7 &lt;g&gt;</span>"
        );
        assert_eq!(with_elements("\u{1}\"x\u{2}5\u{3}"), "&quot;x\u{2}5\u{3}");
    }
}
