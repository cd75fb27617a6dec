//! The view of a reader's page: the recipe and its variations for the screen, with the exact amounts that a reader
//! may ask for at another size. Owns which parts stand on it and what its script is given to work with; the parts
//! are those of the card, with their numbers marked.

use schemars::JsonSchema;
use serde::Serialize;

use super::card::{CardOptions, direction, language, units};
use super::cautions::{Cautions, view_cautions};
use super::facts::{Fact, Foot, view_facts, view_foot, view_head};
use super::formula::{List, view_kept, view_lists, view_unweighed};
use super::markdown::{Headings, html, words_of};
use super::pieces::{Names, counted_pieces, piece_name};
use super::setting::Setting;
use super::steps::{Method, view_method};
use super::structured::{Address, StructuredRecipe, structured};
use super::timeline::{TimeLine, view_time_line};
use super::titles::window_title;
use super::variations::{Records, VariationView, view_records, view_variation};
use super::weights::is_avoirdupois;
use super::word_list::Word;
use super::words::Words;
use crate::model::recipe::{Recipe, Record, Variation};
use crate::quantity::WeightUnit;
use crate::sheet::{Sheet, SheetBlock, SheetLine, Source};

/// How wide a time line is drawn for a screen, in millimetres: a phone shows it without shrinking its letters.
const TIME_LINE_MM: u32 = 95;

/// The longest description of a page, in letters.
const MOST_DESCRIPTION: usize = 300;

/// A recipe to be put on a reader's page.
#[derive(Clone, Copy, Debug)]
pub struct Readable<'a> {
    /// The recipe.
    pub recipe: &'a Recipe,
    /// Its sheet.
    pub sheet: &'a Sheet,
    /// Its variations with their sheets.
    pub variations: &'a [(Variation, Sheet)],
    /// Its bench records.
    pub records: &'a [Record],
}

/// Where a page stands in its book; addresses are relative to the page unless they are said to be whole.
#[derive(Clone, Debug, Default, JsonSchema, Serialize)]
pub struct Around {
    /// The index; nothing where there is none.
    pub index: Option<String>,
    /// The page before this one.
    pub previous: Option<Link>,
    /// The page after this one.
    pub next: Option<Link>,
    /// The cards to print, each with the name of its paper, which may be empty.
    pub prints: Vec<Link>,
    /// The picture; nothing where there is none.
    pub picture: Option<Link>,
    /// The whole address of the page; nothing where the site has none.
    pub address: Option<String>,
    /// The whole address of the picture.
    pub picture_address: Option<String>,
    /// The name of the book.
    pub book: Option<String>,
}

/// An address with its words.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
pub struct Link {
    /// The address.
    pub href: String,
    /// The words.
    pub text: String,
}

/// A reader's page: everything that its template prints.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Reader {
    /// The language of the recipe, a BCP 47 tag.
    pub language: String,
    /// The language of the words that the program adds.
    pub words_language: &'static str,
    /// The direction of writing, `ltr` or `rtl`.
    pub direction: &'static str,
    /// The title.
    pub title: String,
    /// Title and book for the name of a window: long ones cut short.
    pub window_title: String,
    /// What it makes, in short: pieces and the dough of each, in the recipe's first unit.
    pub makes: String,
    /// What the recipe is, in a sentence or two for those who list it; never empty.
    pub description: String,
    /// Tags as written.
    pub tags: Vec<String>,
    /// Prose at the head, as HTML that is settled and harmless; often empty.
    pub about: String,
    /// The recipe as written, then its variations.
    pub versions: Vec<Version>,
    /// What a reader may choose.
    pub choices: Choices,
    /// Bench records; nothing where there are none.
    pub records: Option<Records>,
    /// Prose at the foot, as HTML that is settled and harmless; often empty.
    pub notes: String,
    /// The foot.
    pub foot: Foot,
    /// Where the page stands in its book.
    pub around: Around,
    /// The exact amounts, for the script of the page; not among the values of the template, which gets them as text.
    #[serde(skip)]
    pub amounts: Amounts,
    /// The recipe for machines that read pages; the same is true of it.
    #[serde(skip)]
    pub structured: StructuredRecipe,
}

/// The recipe as written, or a variation of it.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Version {
    /// What a variation is called; empty for the recipe as written.
    pub name: String,
    /// What it changes.
    pub changes: Vec<String>,
    /// Its prose, as HTML that is settled and harmless.
    pub prose: Vec<String>,
    /// What it makes.
    pub makes: String,
    /// Slices and how long it keeps; often empty.
    pub keeping: String,
    /// What describes the bread.
    pub facts: Vec<Fact>,
    /// What goes in, block by block.
    pub lists: Vec<List>,
    /// What goes in unweighed, named and joined; often empty.
    pub unweighed: String,
    /// What is left over or kept of a stage, a sentence each.
    pub kept: Vec<String>,
    /// What is done.
    pub method: Method,
    /// The steps in time; nothing where no step takes any.
    pub time_line: Option<TimeLine>,
    /// Allergens and cautions.
    pub cautions: Cautions,
}

/// What a reader may choose.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Choices {
    /// The weight units, the recipe's first one first; one of each system.
    pub units: [&'static str; 2],
    /// Whether degrees Celsius stand first.
    pub celsius: bool,
    /// The number of pieces, as it is typed.
    pub count: String,
    /// What that number of pieces is called, or that it is counted in recipes.
    pub piece: String,
}

/// The exact amounts that the script of a page works with.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Amounts {
    /// The decimal mark.
    mark: &'static str,
    /// Whether all below two takes the form for one, and not one alone.
    one_below_two: bool,
    /// The weight units, the first one as the page shows it.
    units: [&'static str; 2],
    /// The steps of the bakehouse's scales in grams, each with the weight below which it is used; the main scale
    /// first, which has no such weight.
    scales: Vec<[String; 2]>,
    /// The versions, in the order of the page.
    versions: Vec<VersionAmounts>,
}

/// The exact amounts of a version.
#[derive(Debug, JsonSchema, Serialize)]
struct VersionAmounts {
    /// The number of pieces that the amounts are for.
    count: String,
    /// What one piece is called, and any other number of them.
    names: [String; 2],
    /// A number of pieces that is called otherwise, and how.
    written: Option<[String; 2]>,
    /// Every block's lines in grams; nothing for one that is not weighed.
    blocks: Vec<Vec<Option<String>>>,
    /// The place of the block that each line pours; nothing for one that pours none.
    pours: Vec<Vec<Option<usize>>>,
    /// Whether all of a block is poured, so that what it makes is what the lines show that pour it.
    whole: Vec<bool>,
}

impl Reader {
    /// Names what goes in, each name once.
    pub(super) fn names(&self) -> Vec<&str> {
        let lists = self.versions.first().map(|version| &version.lists);
        let mut names: Vec<&str> = Vec::new();
        for line in lists.into_iter().flatten().flat_map(|list| &list.lines) {
            if !names.contains(&line.name.as_str()) {
                names.push(&line.name);
            }
        }
        names
    }
}

/// Makes the reader's page of a recipe.
#[must_use]
pub fn reader(of: Readable<'_>, around: Around) -> Reader {
    let Readable { recipe, sheet, .. } = of;
    let options = CardOptions::default();
    let language = language(recipe);
    let words = Words::for_language(&language);
    let units = both_systems(&units(recipe, &options));
    let setting = Setting::new(recipe, sheet, words, units.to_vec()).live();
    let plain = Setting::new(recipe, sheet, words, units.to_vec());
    let description = description(&plain);
    let address = Address {
        page: around.address.as_deref(),
        picture: around.picture_address.as_deref(),
    };
    let prose = |prose: &Option<_>| prose.as_ref().map(|prose| html(prose, Headings::BelowSection));
    let varied = of.variations.iter().map(|(variation, sheet)| {
        let setting = Setting::new(&variation.recipe, sheet, words, units.to_vec()).live();
        let VariationView { name, changes, prose } = view_variation(&setting, variation);
        Version {
            name,
            changes,
            prose,
            ..version(&setting)
        }
    });
    Reader {
        direction: direction(&language),
        words_language: words.language,
        title: recipe.title.value.clone(),
        window_title: window_title(&recipe.title.value, around.book.as_deref()),
        makes: makes_in_short(&plain),
        tags: recipe.details.tags.clone(),
        about: prose(&recipe.about).unwrap_or_default(),
        versions: std::iter::once(version(&setting)).chain(varied).collect(),
        choices: choices(&setting, units),
        records: view_records(&setting, of.records),
        notes: prose(&recipe.notes).unwrap_or_default(),
        foot: view_foot(&setting),
        amounts: amounts(of, words, units),
        structured: structured(&plain, &language, &description, address),
        description,
        around,
        language,
    }
}

fn makes_in_short(setting: &Setting<'_>) -> String {
    let pieces = &setting.sheet.pieces;
    let dough = setting.numbers.weight_about(setting.first_unit(), &pieces.dough);
    if !pieces.said {
        return setting.words.fill(Word::MakesWhole, &[("weight", &dough)]);
    }
    setting.words.fill(
        Word::MakesEach,
        &[("pieces", &counted_pieces(setting)), ("dough", &dough)],
    )
}

fn version(setting: &Setting<'_>) -> Version {
    let head = view_head(setting);
    Version {
        name: String::new(),
        changes: Vec::new(),
        prose: Vec::new(),
        makes: head.makes,
        keeping: head.keeping,
        facts: view_facts(setting),
        lists: view_lists(setting),
        unweighed: view_unweighed(setting),
        kept: view_kept(setting),
        method: view_method(setting),
        time_line: view_time_line(setting, TIME_LINE_MM),
        cautions: view_cautions(setting, &[]),
    }
}

/// Gives one unit of each system, the recipe's first one first.
fn both_systems(units: &[WeightUnit]) -> [WeightUnit; 2] {
    let find = |wanted: bool| units.iter().copied().find(|unit| is_avoirdupois(*unit) == wanted);
    let metric = find(false).unwrap_or(WeightUnit::Gram);
    let other = find(true).unwrap_or(WeightUnit::Ounce);
    match units.first() {
        Some(first) if is_avoirdupois(*first) => [other, metric],
        _ => [metric, other],
    }
}

fn choices(setting: &Setting<'_>, units: [WeightUnit; 2]) -> Choices {
    let pieces = &setting.sheet.pieces;
    let [first, _] = units;
    Choices {
        units: units.map(WeightUnit::symbol),
        celsius: !is_avoirdupois(first),
        count: pieces.count.to_trimmed(2),
        piece: if pieces.piece.is_empty() && !pieces.said {
            setting.words.get(Word::ReadBatches).to_owned()
        } else {
            piece_name(setting)
        },
    }
}

fn amounts(of: Readable<'_>, words: &Words, units: [WeightUnit; 2]) -> Amounts {
    let scales = &of.recipe.place.scales;
    let finer = scales.finer.iter();
    let sheets = std::iter::once(of.sheet).chain(of.variations.iter().map(|(_, sheet)| sheet));
    Amounts {
        mark: words.get(Word::DecimalMark),
        one_below_two: words.is_one_below_two(),
        units: units.map(WeightUnit::symbol),
        scales: std::iter::once([scales.step.to_string(), String::new()])
            .chain(finer.map(|(step, under)| [step.to_string(), under.0.to_string()]))
            .collect(),
        versions: sheets.map(|sheet| version_amounts(sheet, words)).collect(),
    }
}

fn version_amounts(sheet: &Sheet, words: &Words) -> VersionAmounts {
    let blocks = sheet.blocks.iter().map(|block| {
        let lines = block.lines.iter();
        lines
            .map(|line| Some(line.weight.as_ref()?.0.to_string()))
            .collect()
    });
    let names = Names::of(words, sheet);
    VersionAmounts {
        count: sheet.pieces.count.to_string(),
        names: [names.one, names.many],
        written: names.written.map(|(count, name)| [count.to_string(), name]),
        blocks: blocks.collect(),
        pours: sheet.blocks.iter().map(|block| pours(sheet, block)).collect(),
        whole: sheet.blocks.iter().map(|block| block.is_poured_whole).collect(),
    }
}

fn pours(sheet: &Sheet, block: &SheetBlock) -> Vec<Option<usize>> {
    let place = |line: &SheetLine| match line.source {
        Source::Stage(id) => sheet.blocks.iter().position(|other| other.id == id),
        Source::Ingredient { .. } | Source::Mixture => None,
    };
    block.lines.iter().map(place).collect()
}

/// Describes a recipe in a sentence or two: its own first words, else what it makes.
fn description(setting: &Setting<'_>) -> String {
    let own = setting.recipe.about.as_ref().map(words_of).unwrap_or_default();
    if own.is_empty() {
        let head = view_head(setting);
        return [setting.recipe.title.value.as_str(), &head.makes].join(": ");
    }
    if own.chars().count() <= MOST_DESCRIPTION {
        return own;
    }
    let mut short: String = own.chars().take(MOST_DESCRIPTION).collect();
    if let Some(end) = short.rfind(' ') {
        short.truncate(end);
    }
    short.push('…');
    short
}
