//! What the pages of a folder tell of its recipes, gathered recipe by recipe.

use super::build::INDEX;
use super::shelf::SiteUrl;
use crate::render::book::sitemap;
use crate::render::html::{RenderError, Renderer};
use crate::view::{Index, IndexRow};

/// The list of a site's pages for machines.
pub(super) const SITEMAP: &str = "sitemap.xml";

/// The rows of an index, and what they have in common.
#[derive(Default)]
pub(super) struct Contents {
    rows: Vec<IndexRow>,
    languages: Vec<&'static str>,
    houses: Vec<Option<String>>,
}

impl Contents {
    /// Takes what a recipe tells of itself.
    pub(super) fn take(
        &mut self,
        row: Option<IndexRow>,
        language: Option<&'static str>,
        house: Option<String>,
    ) {
        self.rows.extend(row);
        if let Some(language) = language
            && !self.languages.contains(&language)
        {
            self.languages.push(language);
        }
        if !self.houses.contains(&house) {
            self.houses.push(house);
        }
    }

    /// Makes the pages of the folder itself: the index, and for a site the list of its pages.
    pub(super) fn pages(
        self,
        renderer: &Renderer,
        site: Option<&SiteUrl>,
    ) -> Result<Vec<(&'static str, String)>, RenderError> {
        let index = self.index(site.map(|site| site.address("")));
        let listed = site.map(|site| {
            let names = std::iter::once("").chain(index.rows.iter().map(|row| row.href.as_str()));
            let addresses: Vec<String> = names.map(|name| site.address(name)).collect();
            (SITEMAP, sitemap(&addresses))
        });
        let page = (INDEX, renderer.index(index)?);
        Ok(std::iter::once(page).chain(listed).collect())
    }

    /// Gathers the index. It bears the name of the bakehouse and its language where all cards share them.
    fn index(self, address: Option<String>) -> Index {
        let house = match self.houses.as_slice() {
            [house] => house.as_deref(),
            _ => None,
        };
        let language = match self.languages.as_slice() {
            [language] => language,
            _ => "en",
        };
        Index::new(house, language, address, self.rows)
    }
}
