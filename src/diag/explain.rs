//! What each kind of fault means, for those who ask: one section a slug in `explain.md`.

use super::Code;

const PAGES: &str = include_str!("explain.md");

/// Gives the page about a kind of fault: Markdown, without its heading.
#[must_use]
pub fn explanation(code: Code) -> Option<&'static str> {
    sections()
        .find(|(slug, _)| *slug == code.slug())
        .map(|(_, page)| page)
}

/// Gives every page with the slug it is about, in the order of the file.
pub fn sections() -> impl Iterator<Item = (&'static str, &'static str)> {
    let pages = PAGES.split("\n## ").skip(1);
    pages.filter_map(|page| {
        page.split_once('\n')
            .map(|(slug, page)| (slug.trim(), page.trim()))
    })
}
