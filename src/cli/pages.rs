//! The pages that one recipe becomes: a card for each of its papers, a page for readers, and its picture. Works from
//! what was worked out to bytes, and writes nothing, so that whoever asks may keep the pages, serve them or put them
//! in a folder.

use super::shelf::{self, Beside, SiteUrl};
use super::sources::Worked;
use crate::diag::{Diagnostic, Severity};
use crate::model::recipe::{Recipe, Variation};
use crate::quantity::{ClockTime, Ratio};
use crate::render::html::Renderer;
use crate::sheet::{Request, Sheet, SwapAnswer, Wishes, compute_with};
use crate::source::Spanned;
use crate::view::{Around, Card, CardOptions, IndexRow, Link, Paper, Readable, card, papers, reader};

/// How the end of every page is called.
const END: &str = ".html";

/// How the end of a reader's page is called; no name of a recipe has a dot.
const READER_END: &str = ".read.html";

/// What pages are made with.
#[derive(Clone, Copy)]
pub(super) struct Press<'run> {
    /// What is asked of every recipe.
    pub(super) request: &'run Request,
    /// The templates.
    pub(super) renderer: &'run Renderer,
    /// The papers that were asked for; each recipe's own where there are none.
    pub(super) papers: &'run [Paper],
    /// When the bakes begin, where times are to be those of the clock.
    pub(super) start: Option<ClockTime>,
    /// Where the site stands on the web, if it does.
    pub(super) site: Option<&'run SiteUrl>,
    /// The starter that cards are corrected for, and ingredients in the place of others, that they are to say the
    /// changes of.
    pub(super) wishes: &'run Wishes,
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
    /// The card on the first of its papers, those on the others, the reader's page, and the picture, if there is one.
    pub(super) pages: Vec<Page>,
    /// Its row in the index.
    pub(super) row: IndexRow,
    /// The language of the cards' own words.
    pub(super) language: &'static str,
    /// Wishes that cannot be had for this recipe, and why, a line each; often empty.
    pub(super) unmet: String,
}

impl Press<'_> {
    /// Makes the pages of a recipe that was worked out as it could be, the first one of a name; nothing where an error
    /// stands in the way of a card.
    pub(super) fn pages(
        &self,
        first: &str,
        (worked, request): (&Worked, &Request),
        beside: &Beside,
    ) -> Result<Option<Made>, String> {
        let compiled = &worked.compiled;
        let Some((recipe, sheet)) = compiled.plain.as_ref().filter(|_| !worked.house_is_faulty) else {
            return Ok(None);
        };
        let failed = |error| format!("{}: {error}", worked.name());
        let mut told = String::new();
        let corrected = self.corrected(worked, request, &mut told);
        let starter = corrected.as_ref().and(self.wishes.starter.as_ref());
        let hints = self.hints((recipe, worked.name()), (request, starter), &mut told);
        let (mut pages, mut cards, mut first_card) = (Vec::new(), Vec::new(), None);
        for (paper, view) in self.cards(worked, corrected.as_ref(), &hints) {
            let name = match &first_card {
                Some(_) => on_paper(first, paper),
                None => first.to_owned(),
            };
            cards.push(Link {
                href: name.clone(),
                text: paper.map(|paper| paper.name().to_owned()).unwrap_or_default(),
            });
            let bytes = self.renderer.card(&view).map_err(failed)?.into_bytes();
            pages.push(Page { name, bytes });
            first_card.get_or_insert(view);
        }
        let Some(card) = first_card else { return Ok(None) };
        let name = reader_page(first);
        let of = Readable {
            recipe,
            sheet,
            variations: &compiled.variations,
            records: &compiled.records,
        };
        let picture = Self::picture(first, worked);
        let shown = picture.as_ref().map(|picture| picture.name.as_str());
        let reader = reader(of, self.around(&name, worked, beside, cards.clone(), shown));
        let bytes = self.renderer.reader(&reader).map_err(failed)?.into_bytes();
        pages.push(Page {
            name: name.clone(),
            bytes,
        });
        pages.extend(picture);
        Ok(Some(Made {
            pages,
            row: IndexRow::of(&card, &reader, name, cards),
            language: card.words_language,
            unmet: told,
        }))
    }

    /// Makes the card of a recipe on each of its papers; none where an error stands in its way.
    fn cards(
        &self,
        worked: &Worked,
        corrected: Option<&Corrected>,
        hints: &[SwapAnswer],
    ) -> Vec<(Option<Paper>, Card)> {
        let compiled = &worked.compiled;
        let (recipe, sheet, variations) = match (corrected, &compiled.plain) {
            (Some(corrected), _) => (&corrected.recipe, &corrected.sheet, &corrected.variations),
            (None, Some((recipe, sheet))) => (recipe, sheet, &compiled.variations),
            (None, None) => return Vec::new(),
        };
        let on = |paper| {
            let options = CardOptions {
                paper,
                start: self.start,
                hints: hints.to_owned(),
                picture: worked.picture_address(),
                ..CardOptions::default()
            };
            (
                paper,
                card(recipe, sheet, variations, &compiled.records, &options),
            )
        };
        papers(recipe, self.papers).into_iter().map(on).collect()
    }

    /// Works the recipe and its variations out for the starter that is at hand, where one is; where the recipe has
    /// none, that is told, and its card is made as it is.
    fn corrected(&self, worked: &Worked, request: &Request, told: &mut String) -> Option<Corrected> {
        let wishes = Wishes {
            starter: Some(self.wishes.starter.clone()?),
            ..Wishes::default()
        };
        let compiled = &worked.compiled;
        let (computed, report) = compute_with(&compiled.plain.as_ref()?.0, request, &wishes);
        let Some((recipe, sheet)) = computed else {
            *told += &unmet(worked.name(), "not corrected for the starter", report.iter());
            return None;
        };
        let variations = compiled.variations.iter().map(|(variation, sheet)| {
            let (computed, _) = compute_with(&variation.recipe, request, &wishes);
            // A variation without any starter is as it is.
            let (recipe, sheet) = computed.unwrap_or_else(|| (variation.recipe.clone(), sheet.clone()));
            let variation = Variation {
                recipe,
                ..variation.clone()
            };
            (variation, sheet)
        });
        Some(Corrected {
            variations: variations.collect(),
            recipe,
            sheet,
        })
    }

    /// Works out what each swap would change; those that cannot be had are told of.
    fn hints(
        &self,
        (recipe, name): (&Recipe, &str),
        (request, starter): (&Request, Option<&Spanned<Ratio>>),
        told: &mut String,
    ) -> Vec<SwapAnswer> {
        let mut hints = Vec::new();
        for swap in &self.wishes.swaps {
            let wishes = Wishes {
                starter: starter.cloned(),
                swaps: vec![swap.clone()],
                ..Wishes::default()
            };
            let (computed, report) = compute_with(recipe, request, &wishes);
            hints.extend(computed.into_iter().flat_map(|(_, sheet)| sheet.answers.swaps));
            let (new, old) = (&swap.new.value, &swap.old.value);
            *told += &unmet(name, &format!("no hint on {new} instead of {old}"), report.iter());
        }
        hints
    }

    /// Gives the picture as a file that stands beside the page.
    fn picture(first: &str, worked: &Worked) -> Option<Page> {
        let picture = worked.picture.as_ref()?;
        let stem = first.strip_suffix(END).unwrap_or(first);
        Some(Page {
            name: [stem, picture.format.ending()].concat(),
            bytes: picture.bytes.clone(),
        })
    }

    /// Gives what stands around a reader's page.
    fn around(
        &self,
        name: &str,
        worked: &Worked,
        beside: &Beside,
        cards: Vec<Link>,
        picture: Option<&str>,
    ) -> Around {
        let plain = worked.compiled.plain.as_ref();
        let described = plain.and_then(|(recipe, _)| recipe.details.picture.as_ref());
        let shown = picture.map(|picture| Link {
            // The picture stands in the same folder.
            href: picture.rsplit('/').next().unwrap_or(picture).to_owned(),
            text: described
                .map(|picture| picture.value.description.clone())
                .unwrap_or_default(),
        });
        Around {
            address: self.site.map(|site| site.address(name)),
            picture: shown,
            picture_address: self
                .site
                .zip(picture)
                .map(|(site, picture)| site.address(picture)),
            book: worked.place.name.clone(),
            ..shelf::around(name, beside, cards)
        }
    }
}

/// A recipe for the starter that is at hand.
struct Corrected {
    recipe: Recipe,
    sheet: Sheet,
    variations: Vec<(Variation, Sheet)>,
}

/// Tells why a wish cannot be had for a recipe, a line an error.
pub(super) fn unmet<'report>(
    name: &str,
    what: &str,
    faults: impl IntoIterator<Item = &'report Diagnostic>,
) -> String {
    let errors = faults
        .into_iter()
        .filter(|fault| fault.severity == Severity::Error);
    // The words of an option are shown and never act.
    let line = |fault: &Diagnostic| {
        let line = format!("{name}: {what}: {}", fault.message);
        line.replace(char::is_control, "\u{fffd}") + "\n"
    };
    errors.map(line).collect()
}

/// Names the reader's page of a recipe by its card: `rye.html` becomes `rye.read.html`.
pub(super) fn reader_page(first: &str) -> String {
    [first.strip_suffix(END).unwrap_or(first), READER_END].concat()
}

/// Says whether a page is a card, and not a reader's page or a picture.
pub(super) fn is_card(name: &str) -> bool {
    name.ends_with(END) && !name.ends_with(READER_END)
}

/// Names the card on a further paper: `rye.html` becomes `rye.a5.html`.
fn on_paper(first: &str, paper: Option<Paper>) -> String {
    let stem = first.strip_suffix(END).unwrap_or(first);
    paper.map_or_else(
        || first.to_owned(),
        |paper| format!("{stem}.{}{END}", paper.slug()),
    )
}
