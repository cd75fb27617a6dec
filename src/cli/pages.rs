//! The pages that one recipe becomes: a card for each of its papers. Works from what was worked out to bytes, and
//! writes nothing, so that whoever asks may keep the pages, serve them or put them in a folder.

use super::sources::Worked;
use crate::quantity::ClockTime;
use crate::render::html::Renderer;
use crate::view::{CardOptions, IndexRow, Paper, card, papers};

/// How the end of every page is called.
const END: &str = ".html";

/// What pages are made with.
pub(super) struct Press<'run> {
    /// The templates.
    pub(super) renderer: &'run Renderer,
    /// The papers that were asked for; each recipe's own where there are none.
    pub(super) papers: &'run [Paper],
    /// When the bakes begin, where times are to be those of the clock.
    pub(super) start: Option<ClockTime>,
}

/// A page of a recipe.
pub(super) struct Page {
    /// Its name in the folder of cards.
    pub(super) name: String,
    /// The whole page.
    pub(super) bytes: Vec<u8>,
}

/// The pages of a recipe, and what the pages of the folder tell of it.
pub(super) struct Made {
    /// The card on the first of its papers, then those on the others.
    pub(super) pages: Vec<Page>,
    /// Its row in the index.
    pub(super) row: IndexRow,
    /// The language of the cards' own words.
    pub(super) language: &'static str,
}

impl Press<'_> {
    /// Makes the pages of a recipe, the first one of a name; nothing where an error stands in the way of a card.
    pub(super) fn pages(&self, first: &str, worked: &Worked) -> Result<Option<Made>, String> {
        let compiled = &worked.compiled;
        let Some((recipe, sheet)) = compiled.plain.as_ref().filter(|_| !worked.house_is_faulty) else {
            return Ok(None);
        };
        let mut made: Option<Made> = None;
        for paper in papers(recipe, self.papers) {
            let options = CardOptions {
                paper,
                start: self.start,
                picture: worked.picture_address(),
                ..CardOptions::default()
            };
            let view = card(recipe, sheet, &compiled.variations, &compiled.records, &options);
            let html = self.renderer.card(&view);
            let bytes = html
                .map_err(|error| format!("{}: {error}", worked.name()))?
                .into_bytes();
            match &mut made {
                Some(made) => made.pages.push(Page {
                    name: on_paper(first, paper),
                    bytes,
                }),
                None => {
                    made = Some(Made {
                        pages: vec![Page {
                            name: first.to_owned(),
                            bytes,
                        }],
                        row: IndexRow::of(&view, first.to_owned()),
                        language: view.words_language,
                    });
                }
            }
        }
        Ok(made)
    }
}

/// Names the card on a further paper: `rye.html` becomes `rye.a5.html`.
fn on_paper(first: &str, paper: Option<Paper>) -> String {
    let stem = first.strip_suffix(END).unwrap_or(first);
    paper.map_or_else(
        || first.to_owned(),
        |paper| format!("{stem}.{}{END}", paper.slug()),
    )
}
