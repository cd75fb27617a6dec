//! Views as HTML pages. Owns the template engine: the built-in templates, how they are escaped and bounded,
//! and the policy that forbids a page to load anything. Templates of one's own stand beside it.
//!
//! Templates only loop, branch on what is there, and print; words and numbers arrive as text in the view.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Enumerator, Object, ObjectRepr, Serde};
use minijinja::{AutoEscape, Environment, UndefinedBehavior, Value, context};
use schemars::JsonSchema;
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::book::{self, BOOK_STYLE, INDEX_SCRIPT, READER_SCRIPT};
use super::own::{self, OwnTemplates};
use super::versions::Compared;
use crate::view::changes::ComparisonDocument;
use crate::view::{Card, Index, IndexRow, LANGUAGES, Reader, Words, direction, shortened};

/// Every built-in template by name; the style sheet is not one, but is printed with them.
pub const TEMPLATES: [(&str, &str); 13] = [
    ("card.html", include_str!("../../templates/card.html")),
    ("compare.html", include_str!("../../templates/compare.html")),
    ("cautions.html", include_str!("../../templates/cautions.html")),
    ("foot.html", include_str!("../../templates/foot.html")),
    ("formula.html", include_str!("../../templates/formula.html")),
    ("hints.html", include_str!("../../templates/hints.html")),
    ("index.html", include_str!("../../templates/index.html")),
    ("inputs.html", include_str!("../../templates/inputs.html")),
    ("notes.html", include_str!("../../templates/notes.html")),
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

/// Every built-in style sheet by name.
const STYLES: [(&str, &str); 6] = [
    ("card.css", STYLE),
    ("large.css", LAYOUT_STYLES[0].1),
    ("medium.css", LAYOUT_STYLES[1].1),
    ("small.css", LAYOUT_STYLES[2].1),
    ("book.css", BOOK_STYLE),
    ("compare.css", COMPARE_STYLE),
];

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
    own: OwnTemplates,
    has_failed: AtomicBool,
    engine: Environment<'static>,
    words: BTreeMap<&'static str, Value>,
    style: Style,
    /// The whole style sheet of a card, by its layout.
    layouts: BTreeMap<&'static str, Style>,
    reader: Bound,
    index: Bound,
}

/// The rows of an index. Each becomes what a template reads when its turn comes: all of a large book at once would
/// take more room than everything else.
#[derive(Debug)]
struct Rows(Vec<IndexRow>);

impl Object for Rows {
    fn repr(self: &Arc<Self>) -> ObjectRepr {
        ObjectRepr::Seq
    }

    fn get_value(self: &Arc<Self>, place: &Value) -> Option<Value> {
        self.0.get(place.as_usize()?).map(|row| Value::from(Serde(row)))
    }

    fn enumerate(self: &Arc<Self>) -> Enumerator {
        Enumerator::Seq(self.0.len())
    }
}

/// The look and the script of a page of the book, with the policy that allows them and nothing else.
#[derive(Debug)]
struct Bound {
    policy: String,
    style: String,
    script: String,
}

impl Bound {
    fn new(own: &OwnTemplates, script: &str) -> Self {
        let style = whole_style(own, &[("book.css", BOOK_STYLE)]);
        let script = book::bare_script(script);
        let policy = format!(
            "default-src 'none'; style-src 'sha256-{}'; script-src 'sha256-{}'; img-src 'self' data:; base-uri 'none'; \
             form-action 'none'",
            fingerprint(&style),
            fingerprint(&script)
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
            tongue: String::new(),
            turn: "",
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
    fn new(text: String) -> Self {
        Self {
            hash: fingerprint(&text),
            text,
        }
    }
}

/// What a page is besides its view.
#[derive(JsonSchema, Serialize)]
pub(super) struct Page<'a> {
    /// The policy of the page: nothing is loaded, and only its own styles count.
    policy: String,
    /// The style sheet.
    style: &'a str,
    /// The paper and the title that every page repeats, as a style sheet.
    paper_style: &'a str,
    /// The script; often empty.
    script: &'a str,
    /// Attributes, ready to stand in a tag, for what is in the words of the program on a page in a language that the
    /// program has no words of; mostly empty.
    tongue: String,
    /// The same for numbers with their units, where the page is written from the right; mostly empty.
    turn: &'static str,
}

impl Page<'_> {
    /// Sets words and numbers of the program apart on a page in another language.
    fn beside(self, language: &str, words: &str) -> Self {
        let turn = if direction(language) == direction(words) {
            ""
        } else if direction(words) == "rtl" {
            " dir=\"rtl\""
        } else {
            " dir=\"ltr\""
        };
        let tongue = if Words::are_known_in(language) {
            String::new()
        } else {
            format!(" lang=\"{words}\"{turn}")
        };
        Self { tongue, turn, ..self }
    }
}

impl Renderer {
    /// Compiles the built-in templates.
    pub fn new() -> Result<Self, RenderError> {
        Self::with(OwnTemplates::default())
    }

    /// Compiles templates of one's own, and the built-in ones that have none in their place.
    pub fn with(own: OwnTemplates) -> Result<Self, RenderError> {
        let mut engine = own::engine();
        engine.set_undefined_behavior(UndefinedBehavior::Strict);
        engine.set_auto_escape_callback(|_| AutoEscape::Html);
        engine.set_formatter(own::print);
        engine.set_fuel(Some(FUEL));
        engine.set_recursion_limit(DEPTH);
        engine.set_syntax(
            SyntaxConfig::builder()
                .trim_blocks(true)
                .lstrip_blocks(true)
                .build()?,
        );
        for (name, text) in own.templates() {
            let added = engine.add_template_owned(name.clone(), text);
            added.map_err(|error| own.told(&error, &name))?;
        }
        let words = LANGUAGES
            .iter()
            .map(|words| (words.language, Value::from(Serde(*words))))
            .collect();
        let layouts = LAYOUT_STYLES.iter().map(|(name, text)| {
            let file = [name, ".css"].concat();
            (
                *name,
                Style::new(whole_style(&own, &[("card.css", STYLE), (&file, text)])),
            )
        });
        Ok(Self {
            has_failed: AtomicBool::new(false),
            engine,
            words,
            style: Style::new(whole_style(&own, &[("card.css", STYLE)])),
            layouts: layouts.collect(),
            reader: Bound::new(&own, READER_SCRIPT),
            index: Bound::new(&own, INDEX_SCRIPT),
            own,
        })
    }

    /// Makes the page of a card.
    pub fn card(&self, card: &Card) -> Result<String, RenderError> {
        let paper_style = card_style(card);
        let style = self.layouts.get(card.layout).unwrap_or(&self.style);
        let policy = policy(&[&style.hash, &fingerprint(&paper_style)]);
        let page = Page {
            policy,
            style: &style.text,
            paper_style: &paper_style,
            script: "",
            tongue: String::new(),
            turn: "",
        };
        let page = page.beside(&card.language, card.words_language);
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
        let first = reader.versions.first();
        let times_note = first.map(|version| &version.method.times_note);
        // What the foot of a card prints, for the foot of this page.
        let ending = context! {
            language => &reader.language,
            head => context! { title => &reader.title },
            foot => Serde(&reader.foot),
            method => context! { times_note },
        };
        let page = self.reader.page().beside(&reader.language, reader.words_language);
        self.render(
            "reader.html",
            context! { reader => Serde(reader), ending, amounts, structured, words, page => Serde(page) },
        )
    }

    /// Makes the page of an index.
    pub fn index(&self, mut index: Index) -> Result<String, RenderError> {
        let words = self.words(&index.language);
        let mut engine = self.engine.clone();
        let count = u64::try_from(index.rows.len()).unwrap_or(u64::MAX);
        engine.set_fuel(Some(FUEL.saturating_add(count.saturating_mul(FUEL_A_ROW))));
        let rows = Value::from_object(Rows(std::mem::take(&mut index.rows)));
        let index = context! { rows, ..Value::from(Serde(&index)) };
        let context = context! { index, words, page => Serde(self.index.page()) };
        self.finished("index.html", engine.get_template("index.html")?.render(context))
    }

    /// Makes the page of comparisons, old and new side by side; a history stands before them as a table.
    pub fn comparison(&self, document: &ComparisonDocument) -> Result<String, RenderError> {
        let compared = Compared::of(document);
        let paper_style = paper_style("", &shortened(compared.title, 90), "/", "ltr");
        let style = whole_style(&self.own, &[("card.css", STYLE), ("compare.css", COMPARE_STYLE)]);
        let page = Page {
            policy: policy(&[&fingerprint(&style), &fingerprint(&paper_style)]),
            style: &style,
            paper_style: &paper_style,
            script: "",
            tongue: String::new(),
            turn: "",
        };
        let context = context! { compared => Serde(&compared), page => Serde(page) };
        self.render("compare.html", context)
    }

    /// Says whether a page could not be made because of its template: no other will fare better.
    #[must_use]
    pub fn has_failed(&self) -> bool {
        self.has_failed.load(Ordering::Relaxed)
    }

    fn words(&self, language: &str) -> Value {
        self.words.get(language).cloned().unwrap_or_default()
    }

    fn render(&self, name: &str, context: Value) -> Result<String, RenderError> {
        let page = self.finished(name, self.engine.get_template(name)?.render(context))?;
        if page.len() > MOST_OUTPUT {
            self.has_failed.store(true, Ordering::Relaxed);
            return Err(RenderError::TooLong);
        }
        Ok(page)
    }

    /// Tells of what went wrong in a template, and notes that it did.
    fn finished(&self, name: &str, page: Result<String, minijinja::Error>) -> Result<String, RenderError> {
        page.map_err(|error| {
            self.has_failed.store(true, Ordering::Relaxed);
            self.own.told(&error, name)
        })
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

/// Lists every built-in style sheet by name.
pub(super) fn styles() -> impl Iterator<Item = (&'static str, &'static str)> {
    STYLES.into_iter()
}

/// Puts a page's style sheet together: the parts, each one's own or built-in, and what is added to every page.
fn whole_style(own: &OwnTemplates, parts: &[(&str, &str)]) -> String {
    let parts = parts
        .iter()
        .map(|(name, text)| without_remarks(&own.style(name, text)));
    let added = [own.added_style().to_owned()]
        .into_iter()
        .filter(|added| !added.is_empty());
    parts.chain(added).collect::<Vec<_>>().join("\n")
}

/// Gives the hash of a style sheet or script, as a policy names it.
#[must_use]
pub fn fingerprint(text: &str) -> String {
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
    let of = direction(card.words_language);
    let mut style = paper_style(card.paper, &card.running_title, card.page_of, of);
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
fn paper_style(paper: &str, title: &str, of: &str, direction: &str) -> String {
    let mut style = String::with_capacity(title.len() * 4 + 240);
    style.push_str("@page{");
    if !paper.is_empty() {
        style.push_str(paper);
        style.push(';');
    }
    style.push_str("@top-left{content:");
    push_quoted(title, &mut style);
    style.push_str("}@bottom-right{direction:");
    style.push_str(direction);
    style.push_str(";content:counter(page) ");
    push_quoted(&[" ", of, " "].concat(), &mut style);
    style.push_str(" counter(pages)}}@page:first{@top-left{content:none}}");
    style
}

/// Writes a text as a string of a style sheet, where every letter that could mean something is its number.
fn push_quoted(text: &str, style: &mut String) {
    style.push('"');
    for letter in text.chars() {
        // A space behind such a number would be taken for its end.
        if letter.is_ascii_alphanumeric() {
            style.push(letter);
        } else {
            style.push_str(&format!("\\{:06x}", u32::from(letter)));
        }
    }
    style.push('"');
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
