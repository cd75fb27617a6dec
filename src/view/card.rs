//! The view of a card: its parts put together, and what may be asked of it besides what its recipe says. Owns the
//! choice of units, paper, language and picture; what stands in a part has a file of its own.

use schemars::JsonSchema;
use serde::Serialize;

use super::answers::{Answer, view_hints};
use super::cautions::{Cautions, view_cautions};
use super::facts::{Fact, Foot, Head, view_facts, view_foot, view_head};
use super::formula::{Formula, view_formula};
use super::markdown::{Headings, html};
use super::paper::{Layout, Paper};
use super::setting::Setting;
use super::steps::{Method, view_method};
use super::timeline::{TimeLine, view_time_line};
use super::titles::{shortened, window_title};
use super::variations::{Records, Variations, view_records, view_variations};
use super::word_list::Word;
use super::words::Words;
use crate::model::recipe::{Recipe, Record, Variation};
use crate::quantity::{ClockTime, WeightUnit};
use crate::sheet::{Sheet, SwapAnswer};

/// What is asked of a card besides what its recipe says.
#[derive(Clone, Debug, Default)]
pub struct CardOptions {
    /// Weights to show, the first one largest; the recipe's own where none are given.
    pub units: Vec<WeightUnit>,
    /// The paper; the recipe's own where none is given, and else whatever the printer holds.
    pub paper: Option<Paper>,
    /// The recipe's picture as the address of an image; nothing where there is none, or it cannot be shown.
    pub picture: Option<String>,
    /// What ingredients in the place of others would change; the card keeps the recipe as it is.
    pub hints: Vec<SwapAnswer>,
    /// When the bake begins; times count from the start where none is given.
    pub start: Option<ClockTime>,
}

/// A card: everything that its templates print.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Card {
    /// The language of the recipe, a BCP 47 tag.
    pub language: String,
    /// The language of the words that the program adds.
    pub words_language: &'static str,
    /// The direction of writing, `ltr` or `rtl`.
    pub direction: &'static str,
    /// The title for the name of a window: long ones cut short.
    pub window_title: String,
    /// The title for the head of further pages: cut where the paper has no room for the whole.
    pub running_title: String,
    /// Size and margins of the paper as declarations of a style sheet; empty for whatever the printer holds.
    pub paper: &'static str,
    /// How it is laid out: `large`, `medium` or `small`.
    pub layout: &'static str,
    /// The word between the number of a page and the number of pages.
    pub page_of: &'static str,
    /// The parts that a small card falls into, each with its name; none where all stands together.
    pub parts: Vec<(&'static str, &'static str)>,
    /// The picture; nothing where there is none, or the paper has no room for it.
    pub picture: Option<Picture>,
    /// Title, what it makes, and the rest of the head.
    pub head: Head,
    /// What describes the bread, in the order of the card.
    pub facts: Vec<Fact>,
    /// Prose at the head, as HTML that is settled and harmless; often empty.
    pub about: String,
    /// What goes in.
    pub formula: Formula,
    /// What is done.
    pub method: Method,
    /// The steps in time; nothing where no step takes any.
    pub time_line: Option<TimeLine>,
    /// Allergens and cautions.
    pub cautions: Cautions,
    /// What was asked to stand on the card besides.
    pub hints: Vec<Answer>,
    /// Variations; nothing where there are none.
    pub variations: Option<Variations>,
    /// Bench records; nothing where there are none.
    pub records: Option<Records>,
    /// Prose at the foot, as HTML that is settled and harmless; often empty.
    pub notes: String,
    /// The foot.
    pub foot: Foot,
}

/// A picture of the bread.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Picture {
    /// The address of the image; it holds no letter that an attribute minds.
    pub source: String,
    /// What it shows, for those who do not see it.
    pub description: String,
}

/// Makes the card of a recipe from its sheet, its variations with theirs, and its bench records.
#[must_use]
pub fn card(
    recipe: &Recipe,
    sheet: &Sheet,
    variations: &[(Variation, Sheet)],
    records: &[Record],
    options: &CardOptions,
) -> Card {
    let language = language(recipe);
    let words = Words::for_language(&language);
    let paper = options
        .paper
        .or_else(|| papers(recipe, &[]).first().copied().flatten());
    let layout = paper.map_or(Layout::Large, Paper::layout);
    let mut setting = Setting::new(recipe, sheet, words, units(recipe, options));
    setting.start = options.start;
    let prose = |prose: &Option<_>| prose.as_ref().map(|prose| html(prose, Headings::BelowSection));
    Card {
        direction: direction(&language),
        words_language: words.language,
        window_title: window_title(&recipe.title.value, None),
        running_title: shortened(&recipe.title.value, paper.unwrap_or(Paper::A4).head_letters()),
        paper: paper.map_or("", Paper::page),
        layout: layout.name(),
        page_of: words.get(Word::Of),
        parts: parts(words, layout),
        picture: picture(recipe, options).filter(|_| layout != Layout::Small),
        head: view_head(&setting),
        facts: view_facts(&setting),
        about: prose(&recipe.about).unwrap_or_default(),
        formula: view_formula(&setting, layout),
        method: view_method(&setting),
        time_line: view_time_line(&setting, paper.unwrap_or(Paper::A4).text_width_mm()),
        cautions: view_cautions(&setting, variations),
        hints: view_hints(&setting, &options.hints),
        variations: view_variations(&setting, variations),
        records: view_records(&setting, records),
        notes: prose(&recipe.notes).unwrap_or_default(),
        foot: view_foot(&setting),
        language,
    }
}

/// Chooses the units: those asked for, the recipe's, the bakehouse's, else grams; each once.
pub(super) fn units(recipe: &Recipe, options: &CardOptions) -> Vec<WeightUnit> {
    let wishes = [&options.units, &recipe.details.units, &recipe.place.units];
    let wish = wishes.into_iter().find(|wish| !wish.is_empty());
    let mut units: Vec<WeightUnit> = Vec::new();
    for unit in wish.into_iter().flatten() {
        if !units.contains(unit) {
            units.push(*unit);
        }
    }
    if units.is_empty() {
        units.push(WeightUnit::Gram);
    }
    units
}

/// Names the parts of a small card.
fn parts(words: &Words, layout: Layout) -> Vec<(&'static str, &'static str)> {
    let parts = [
        ("formula", Word::Ingredients),
        ("steps", Word::Steps),
        ("after", Word::Notes),
    ];
    match layout {
        Layout::Large | Layout::Medium => Vec::new(),
        Layout::Small => parts
            .iter()
            .map(|(page, word)| (*page, words.get(*word)))
            .collect(),
    }
}

/// Gives the picture with what it shows: as the recipe says, else the title.
#[must_use]
pub fn picture(recipe: &Recipe, options: &CardOptions) -> Option<Picture> {
    let written = recipe.details.picture.as_ref()?;
    let said = written.value.description.trim();
    Some(Picture {
        source: options.picture.clone()?,
        description: if said.is_empty() {
            &recipe.title.value
        } else {
            said
        }
        .to_owned(),
    })
}

/// Chooses the papers, each once: those asked for, the recipe's, the bakehouse's, else whatever the printer holds,
/// which is nothing here. A card for each is made; the list is never empty.
#[must_use]
pub fn papers(recipe: &Recipe, asked: &[Paper]) -> Vec<Option<Paper>> {
    let wishes = [&recipe.details.paper, &recipe.place.paper];
    let named = wishes.into_iter().find(|wish| !wish.is_empty());
    let named = named.into_iter().flatten().filter_map(|name| Paper::named(name));
    let wish: Vec<Paper> = if asked.is_empty() {
        named.collect()
    } else {
        asked.to_vec()
    };
    let mut papers: Vec<Option<Paper>> = Vec::new();
    for paper in wish {
        if !papers.contains(&Some(paper)) {
            papers.push(Some(paper));
        }
    }
    if papers.is_empty() {
        papers.push(None);
    }
    papers
}

/// Gives the language of a recipe, or that of the program; the recipe has it from its bakehouse where it says
/// nothing itself, and no more than the form of a tag in it.
pub(super) fn language(recipe: &Recipe) -> String {
    let written = &recipe.details.language;
    written.clone().unwrap_or_else(|| "en".to_owned())
}

/// Says whether a text has the form of a BCP 47 tag: subtags of letters and digits, a language first.
#[must_use]
pub fn is_language_tag(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let is_language =
        |part: &str| matches!(part.len(), 2..=8) && part.bytes().all(|byte| byte.is_ascii_alphabetic());
    let is_subtag =
        |part: &str| matches!(part.len(), 1..=8) && part.bytes().all(|byte| byte.is_ascii_alphanumeric());
    tag.len() <= 35 && parts.next().is_some_and(is_language) && parts.all(is_subtag)
}

/// Gives the direction in which a language is written, `ltr` or `rtl`.
#[must_use]
pub fn direction(tag: &str) -> &'static str {
    const FROM_THE_RIGHT: [&str; 9] = ["ar", "ckb", "dv", "fa", "he", "ps", "sd", "ur", "yi"];
    let language = tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
    if FROM_THE_RIGHT.contains(&language.as_str()) {
        "rtl"
    } else {
        "ltr"
    }
}
