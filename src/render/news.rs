//! What the live script of an open page is told when it asks. Owns the names of the parts, which the script reads.

use serde::Serialize;

/// The news of a page.
#[derive(Debug, Serialize)]
pub struct PageNews<'n> {
    /// One content of the page, told from any other; nothing while there is none.
    pub version: Option<&'n str>,
    /// The same of the pictures beside it.
    pub pictures: Option<&'n str>,
    /// The faults as the terminal shows them, without colour.
    pub faults: &'n str,
    /// Whether they keep a card from being made, so that the page shows the last good one.
    pub kept: bool,
    /// Whether the page is no more.
    pub gone: bool,
    /// The address of the page that took its place.
    pub moved: Option<String>,
}

/// Renders the news of a page as JSON.
#[must_use]
pub fn render_news(news: &PageNews<'_>) -> String {
    serde_json::to_string(news).unwrap_or_default()
}
