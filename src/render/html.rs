//! Views as HTML pages. Owns the template engine: the built-in templates, how they are escaped and bounded,
//! and the policy that forbids a page to load anything.
//!
//! Templates only loop, branch on what is there, and print; words and numbers arrive as text in the view.

use std::collections::BTreeMap;
use std::fmt;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{AutoEscape, Environment, UndefinedBehavior, Value, context};
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::book::{self, BOOK_STYLE, INDEX_SCRIPT, READER_SCRIPT};
use crate::view::changes::{COLUMNS, ComparisonDocument, Kind, VersionRow};
use crate::view::{Card, Index, LANGUAGES, Reader};

/// Every built-in template by name; the style sheet is not one, but is printed with them.
pub const TEMPLATES: [(&str, &str); 10] = [
    ("card.html", include_str!("../../templates/card.html")),
    ("compare.html", include_str!("../../templates/compare.html")),
    ("cautions.html", include_str!("../../templates/cautions.html")),
    ("foot.html", include_str!("../../templates/foot.html")),
    ("formula.html", include_str!("../../templates/formula.html")),
    ("index.html", include_str!("../../templates/index.html")),
    ("reader.html", include_str!("../../templates/reader.html")),
    ("steps.html", include_str!("../../templates/steps.html")),
    (
        "timeline.svg.html",
        include_str!("../../templates/timeline.svg.html"),
    ),
    ("variations.html", include_str!("../../templates/variations.html")),
];

/// The style sheet of cards.
pub const STYLE: &str = include_str!("../../templates/card.css");

/// What a card needs beside it, by its layout.
pub const LAYOUT_STYLES: [(&str, &str); 3] = [
    ("large", include_str!("../../templates/large.css")),
    ("medium", include_str!("../../templates/medium.css")),
    ("small", include_str!("../../templates/small.css")),
];

/// What the page of a comparison needs beside it.
pub const COMPARE_STYLE: &str = include_str!("../../templates/compare.css");

/// What a template may spend: steps and bytes; a card needs a fiftieth of it.
const FUEL: u64 = 1_000_000;

/// What the index may spend besides for every recipe in it; the built-in one needs a tenth.
const FUEL_A_ROW: u64 = 1000;

/// How deep templates may include each other.
const DEPTH: usize = 50;

/// The longest page.
const MOST_OUTPUT: usize = 4 * 1024 * 1024;

/// Why a page could not be made.
#[derive(Debug)]
pub enum RenderError {
    /// A template is wrong or asks for too much; the text names the place.
    Template(String),
    /// The page would be longer than any card is.
    TooLong,
}

impl fmt::Display for RenderError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Template(text) => out.write_str(text),
            Self::TooLong => out.write_str("the page would be longer than 4 MiB"),
        }
    }
}

impl std::error::Error for RenderError {}

impl From<minijinja::Error> for RenderError {
    fn from(error: minijinja::Error) -> Self {
        Self::Template(format!("{error:#}"))
    }
}

/// Makes pages of views; templates are compiled once, and one renderer serves all threads.
#[derive(Debug)]
pub struct Renderer {
    engine: Environment<'static>,
    words: BTreeMap<&'static str, Value>,
    style: Style,
    /// The whole style sheet of a card, by its layout.
    layouts: BTreeMap<&'static str, Style>,
    reader: Bound,
    index: Bound,
}

/// The look and the script of a page of the book, with the policy that allows them and nothing else.
#[derive(Debug)]
struct Bound {
    policy: String,
    style: String,
    script: String,
}

impl Bound {
    fn new(script: &str) -> Self {
        let (style, script) = (without_remarks(BOOK_STYLE), book::bare_script(script));
        let policy = format!(
            "default-src 'none'; style-src 'sha256-{}'; script-src 'sha256-{}'; img-src 'self' data:; base-uri 'none'; \
             form-action 'none'",
            hash(&style),
            hash(&script)
        );
        Self {
            policy,
            style,
            script,
        }
    }

    fn page(&self) -> Page<'_> {
        Page {
            policy: self.policy.clone(),
            style: &self.style,
            paper_style: "",
            script: &self.script,
        }
    }
}

/// A style sheet with its hash.
#[derive(Debug)]
struct Style {
    text: String,
    hash: String,
}

impl Style {
    fn new(text: &str) -> Self {
        let text = without_remarks(text);
        Self {
            hash: hash(&text),
            text,
        }
    }
}

/// What a page is besides its view.
#[derive(Serialize)]
struct Page<'a> {
    /// The policy of the page: nothing is loaded, and only its own styles count.
    policy: String,
    /// The style sheet.
    style: &'a str,
    /// The paper and the title that every page repeats, as a style sheet.
    paper_style: &'a str,
    /// The script; often empty.
    script: &'a str,
}

impl Renderer {
    /// Compiles the built-in templates.
    pub fn new() -> Result<Self, RenderError> {
        let mut engine = Environment::new();
        engine.set_undefined_behavior(UndefinedBehavior::Strict);
        engine.set_auto_escape_callback(|_| AutoEscape::Html);
        engine.set_formatter(book::print);
        engine.set_fuel(Some(FUEL));
        engine.set_recursion_limit(DEPTH);
        engine.set_syntax(
            SyntaxConfig::builder()
                .trim_blocks(true)
                .lstrip_blocks(true)
                .build()?,
        );
        for (name, text) in TEMPLATES {
            engine.add_template(name, text)?;
        }
        let words = LANGUAGES
            .iter()
            .map(|words| (words.language, Value::from(Serde(*words))))
            .collect();
        let layouts = LAYOUT_STYLES
            .iter()
            .map(|(name, text)| (*name, Style::new(&[STYLE, "\n", text].concat())));
        Ok(Self {
            engine,
            words,
            style: Style::new(STYLE),
            layouts: layouts.collect(),
            reader: Bound::new(READER_SCRIPT),
            index: Bound::new(INDEX_SCRIPT),
        })
    }

    /// Makes the page of a card.
    pub fn card(&self, card: &Card) -> Result<String, RenderError> {
        let paper_style = card_style(card);
        let style = self.layouts.get(card.layout).unwrap_or(&self.style);
        let policy = policy(&[&style.hash, &hash(&paper_style)]);
        let page = Page {
            policy,
            style: &style.text,
            paper_style: &paper_style,
            script: "",
        };
        let words = self.words(card.words_language);
        self.render(
            "card.html",
            context! { card => Serde(card), words, page => Serde(page) },
        )
    }

    /// Makes a reader's page.
    pub fn reader(&self, reader: &Reader) -> Result<String, RenderError> {
        let words = self.words(reader.words_language);
        let (amounts, structured) = (book::data(&reader.amounts)?, book::data(&reader.structured)?);
        self.render(
            "reader.html",
            context! { reader => Serde(reader), amounts, structured, words, page => Serde(self.reader.page()) },
        )
    }

    /// Makes the page of an index.
    pub fn index(&self, index: &Index) -> Result<String, RenderError> {
        let words = self.words(&index.language);
        let mut engine = self.engine.clone();
        let rows = u64::try_from(index.rows.len()).unwrap_or(u64::MAX);
        engine.set_fuel(Some(FUEL.saturating_add(rows.saturating_mul(FUEL_A_ROW))));
        let context = context! { index => Serde(index), words, page => Serde(self.index.page()) };
        Ok(engine.get_template("index.html")?.render(context)?)
    }

    /// Makes the page of comparisons, old and new side by side; a history stands before them as a table.
    pub fn comparison(&self, document: &ComparisonDocument) -> Result<String, RenderError> {
        let title = match document.comparisons.as_slice() {
            [one] => one.title.as_str(),
            [first, ..] if document.history.is_some() => first.title.as_str(),
            _ => "",
        };
        let title = if title.is_empty() { "Two versions" } else { title };
        let paper_style = paper_style("", title, "/");
        let style = [&self.style.text, "\n", &without_remarks(COMPARE_STYLE)].concat();
        let page = Page {
            policy: policy(&[&hash(&style), &hash(&paper_style)]),
            style: &style,
            paper_style: &paper_style,
            script: "",
        };
        let signs: BTreeMap<&str, &str> = Kind::ALL.iter().map(|kind| (kind.word(), kind.sign())).collect();
        let heads = COLUMNS.map(|(_, head)| head);
        let figures = |row: &VersionRow| COLUMNS.map(|(id, _)| row.figure(id).to_owned());
        let history = document.history.iter().flatten().map(|row| {
            context! { row => Serde(row), figures => figures(row) }
        });
        let differences = document.comparisons.iter().map(|one| one.difference.as_deref());
        let differences = differences.map(|text| without_ends(text.unwrap_or_default()));
        self.render(
            "compare.html",
            context! {
                comparisons => Serde(&document.comparisons), history => history.collect::<Vec<_>>(),
                differences => differences.collect::<Vec<_>>(), heads, signs => Serde(&signs), title, page => Serde(page)
            },
        )
    }

    fn words(&self, language: &str) -> Value {
        self.words.get(language).cloned().unwrap_or_default()
    }

    fn render(&self, name: &str, context: Value) -> Result<String, RenderError> {
        let page = self.engine.get_template(name)?.render(context)?;
        if page.len() > MOST_OUTPUT {
            return Err(RenderError::TooLong);
        }
        Ok(page)
    }
}

/// Writes the policy: no script, no load, and only the styles with these hashes.
fn policy(hashes: &[&str]) -> String {
    let styles: Vec<String> = hashes.iter().map(|hash| format!("'sha256-{hash}'")).collect();
    format!(
        "default-src 'none'; style-src {}; img-src data:; base-uri 'none'; form-action 'none'",
        styles.join(" ")
    )
}

/// Gives the hash of a style sheet or script, as a policy names it.
#[must_use]
pub fn hash(text: &str) -> String {
    STANDARD.encode(Sha256::digest(text.as_bytes()))
}

/// Writes an image as an address that holds it whole.
#[must_use]
pub fn image_address(media_type: &str, bytes: &[u8]) -> String {
    let mut address = format!("data:{media_type};base64,");
    STANDARD.encode_string(bytes, &mut address);
    address
}

/// Writes what the paper of a card repeats: title and page number, on small cards also what part of the card it is.
fn card_style(card: &Card) -> String {
    let mut style = paper_style(card.paper, &card.head.title, card.page_of);
    for (page, name) in &card.parts {
        style.push_str("@page ");
        style.push_str(page);
        style.push_str("{@top-right{content:");
        push_quoted(name, &mut style);
        style.push_str("}}");
    }
    style
}

/// Writes paper, running title and page number as a style sheet. The title is the only text of a recipe that ever
/// lands in one.
fn paper_style(paper: &str, title: &str, of: &str) -> String {
    let mut style = String::with_capacity(title.len() * 4 + 240);
    style.push_str("@page{");
    if !paper.is_empty() {
        style.push_str(paper);
        style.push(';');
    }
    style.push_str("@top-left{content:");
    push_quoted(title, &mut style);
    style.push_str("}@bottom-right{content:counter(page) ");
    push_quoted(&[" ", of, " "].concat(), &mut style);
    style.push_str(" counter(pages)}}@page:first{@top-left{content:none}}");
    style
}

/// Writes a text as a string of a style sheet, where every letter that could mean something is its number.
fn push_quoted(text: &str, style: &mut String) {
    style.push('"');
    for letter in text.chars() {
        if letter.is_ascii_alphanumeric() || letter == ' ' {
            style.push(letter);
        } else {
            style.push_str(&format!("\\{:06x}", u32::from(letter)));
        }
    }
    style.push('"');
}

/// Takes the white space off the ends of lines, where it shows nothing on a page.
fn without_ends(text: &str) -> String {
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// Takes remarks and indents off a style sheet.
fn without_remarks(style: &str) -> String {
    let mut bare = String::with_capacity(style.len());
    let mut rest = style;
    while let Some((before, after)) = rest.split_once("/*") {
        bare.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, behind)| behind);
    }
    bare.push_str(rest);
    let lines = bare.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join("\n")
}
