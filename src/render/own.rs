//! Templates of one's own in the place of built-in ones. Owns which names there are, what a template may not do
//! silently, and how a fault in one is told, with its file and line; reads nothing from the disk.

use std::collections::{BTreeMap, BTreeSet};

use minijinja::value::ValueKind;
use minijinja::{Environment, Error, ErrorKind, Output, State, Value, filters, tests as conditions};

use super::html::{RenderError, TEMPLATES, fingerprint, styles};
use super::tags::{Tag, tags};
use crate::diag::nearest;

/// The style sheet that is added behind the built-in one on every page.
pub const OWN_STYLE: &str = "own.css";

/// What the names of templates begin with that only other own ones include.
const OWN: &str = "own-";

/// What stands before the name of a built-in template that has one's own in its place.
pub(super) const BUILT_IN: &str = "built-in/";

/// What the first line of a printed template begins with, behind the sign of a remark.
const MARK: &str = "of loafwright's built-in ";

/// The most words and signs of one tag: the engine goes through them one inside the other.
const MOST_PIECES: usize = 200;

/// The most `elif` of a template, for the same reason.
const MOST_CHOICES: usize = 200;

/// A template or style sheet of one's own.
#[derive(Clone, Debug)]
pub struct OwnFile {
    /// Its path, as it is shown.
    pub path: String,
    /// Its text.
    pub text: String,
}

/// Templates and style sheets of one's own by name; those that are not there are the built-in ones.
#[derive(Clone, Debug, Default)]
pub struct OwnTemplates {
    files: BTreeMap<String, OwnFile>,
}

impl OwnTemplates {
    /// Takes files by name.
    ///
    /// # Errors
    ///
    /// Gives an error for a name that no page has, and for a text that would print words as markup.
    pub fn new(files: impl IntoIterator<Item = (String, OwnFile)>) -> Result<Self, RenderError> {
        let files: BTreeMap<String, OwnFile> = files.into_iter().collect();
        for (name, file) in &files {
            check_name(name, file)?;
            if is_style(name) {
                check_style(file)?;
            } else {
                check_template(file)?;
            }
        }
        Ok(Self { files })
    }

    /// Says whether every template is the built-in one.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.files.is_empty()
    }

    /// Gives the text of a style sheet: one's own or the built-in one, and what is added to it.
    pub(super) fn style(&self, name: &str, built_in: &str) -> String {
        self.files
            .get(name)
            .map_or(built_in, |file| &file.text)
            .to_owned()
    }

    /// Gives what is added to every style sheet.
    pub(super) fn added_style(&self) -> &str {
        self.files.get(OWN_STYLE).map_or("", |file| file.text.trim())
    }

    /// Lists every template by name: one's own, the built-in ones that have none in their place, and those that
    /// have one under a name by which that can include or extend them.
    pub(super) fn templates(&self) -> Vec<(String, String)> {
        let own = self.files.iter().filter(|(name, _)| !is_style(name));
        let mut all: Vec<(String, String)> = own
            .map(|(name, file)| (name.clone(), file.text.clone()))
            .collect();
        for (name, text) in TEMPLATES {
            let name = if self.files.contains_key(name) {
                format!("{BUILT_IN}{name}")
            } else {
                name.to_owned()
            };
            all.push((name, text.to_owned()));
        }
        all
    }

    /// Names the files that were printed from a built-in template which has changed since.
    #[must_use]
    pub fn outdated(&self) -> Vec<&str> {
        let built_in: BTreeMap<&str, &str> = built_in().collect();
        let is_old = |(name, file): &(&String, &OwnFile)| {
            let first = file.text.lines().next().unwrap_or_default();
            let made_of = first.split_once(MARK).map(|(_, rest)| rest);
            let now = built_in.get(name.as_str());
            made_of.is_some_and(|made_of| now.is_none_or(|now| !made_of.contains(&mark_of(now))))
        };
        let old = self.files.iter().filter(is_old);
        old.map(|(_, file)| file.path.as_str()).collect()
    }

    /// Tells of what went wrong in a template while a page was made: file, line, what it is, and the line itself.
    pub(super) fn told(&self, error: &Error, page: &str) -> RenderError {
        let error = innermost(error);
        let name = error.name().unwrap_or("a template");
        let own = self.files.get(name);
        let path = match own {
            Some(file) => file.path.clone(),
            None => format!(
                "built-in template {}",
                name.strip_prefix(BUILT_IN).unwrap_or(name)
            ),
        };
        let source = own.map(|file| file.text.as_str()).or(error.template_source());
        let place = source
            .zip(error.range())
            .and_then(|(text, range)| expression(text, range.start, range.end));
        let what = reason(error, place, page);
        let line = error.line().unwrap_or(1);
        let shown = source.and_then(|text| text.lines().nth(line.saturating_sub(1)));
        RenderError::Template(told_at(&path, line, &what, shown))
    }
}

/// Makes an engine that knows the few filters and conditions that a card has a use for: those that make lists
/// out of lists are bounded by nothing but the machine.
pub(super) fn engine() -> Environment<'static> {
    let mut engine = Environment::empty();
    engine.add_filter("safe", filters::safe);
    engine.add_filter("escape", filters::escape);
    engine.add_filter("lower", filters::lower);
    engine.add_filter("upper", filters::upper);
    engine.add_filter("title", filters::title);
    engine.add_filter("capitalize", filters::capitalize);
    engine.add_filter("trim", filters::trim);
    engine.add_filter("replace", filters::replace);
    engine.add_filter("default", filters::default);
    engine.add_filter("length", filters::length);
    engine.add_filter("first", filters::first);
    engine.add_filter("last", filters::last);
    engine.add_filter("join", filters::join);
    engine.add_test("none", conditions::is_none);
    engine.add_test("defined", conditions::is_defined);
    engine.add_test("odd", conditions::is_odd);
    engine.add_test("even", conditions::is_even);
    engine
}

/// Prints a value, escaped. A list or a group of values is refused: lists within lists grow beyond all bounds in
/// few steps, and no card has a use for how a program writes one.
pub(super) fn print(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    match value.kind() {
        ValueKind::Seq | ValueKind::Map | ValueKind::Iterable | ValueKind::Plain => {
            let what = "this is a list or a group of values; print one of them, or loop over them";
            Err(Error::new(ErrorKind::BadEscape, what))
        }
        _ => super::book::print(out, state, value),
    }
}

/// Lists every built-in template and style sheet by name.
pub fn built_in() -> impl Iterator<Item = (&'static str, &'static str)> {
    TEMPLATES.into_iter().chain(styles())
}

/// Gives a built-in template or style sheet as it is printed: with a first line that says what it was made of, so
/// that a later version can tell when that has changed.
#[must_use]
pub fn printed(name: &str, text: &str) -> String {
    let (open, close) = if is_style(name) {
        ("/*", "*/")
    } else {
        ("{#", "#}")
    };
    format!("{open} {MARK}{name}, {} {close}\n{text}", mark_of(text))
}

/// Gives the first remark of a template, which says what it is.
#[must_use]
pub fn remark(text: &'static str) -> &'static str {
    let inside = |open: &str, close: &str| {
        let (_, rest) = text.split_once(open)?;
        rest.split_once(close).map(|(remark, _)| remark.trim())
    };
    let first = text.lines().next().unwrap_or_default();
    let found = if first.starts_with("/*") {
        inside("/*", "*/")
    } else if first.starts_with("{#") {
        inside("{#", "#}")
    } else {
        None
    };
    found.unwrap_or_default()
}

fn mark_of(text: &str) -> String {
    fingerprint(text).chars().take(12).collect()
}

fn is_style(name: &str) -> bool {
    name.rsplit_once('.').is_some_and(|(_, ending)| ending == "css")
}

fn check_name(name: &str, file: &OwnFile) -> Result<(), RenderError> {
    let is_known = name == OWN_STYLE || built_in().any(|(known, _)| known == name);
    let is_own = name
        .strip_prefix(OWN)
        .is_some_and(|rest| rest.rsplit_once('.').is_some_and(|(_, ending)| ending == "html"));
    if is_known || is_own {
        return Ok(());
    }
    let known = built_in().map(|(known, _)| known).chain([OWN_STYLE]);
    let hint = match nearest(name, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("`loafwright templates` lists them; one that others include begins with `{OWN}`"),
    };
    Err(RenderError::Template(format!(
        "{}: there is no template of this name; {hint}",
        file.path
    )))
}

/// Refuses a style sheet that would end its element.
fn check_style(file: &OwnFile) -> Result<(), RenderError> {
    let lines = file.text.lines().enumerate();
    for (place, line) in lines {
        if line.to_ascii_lowercase().contains("</style") {
            let what = "`</style` would end the style sheet; leave it out";
            return Err(RenderError::Template(told_at(
                &file.path,
                place + 1,
                what,
                Some(line),
            )));
        }
    }
    Ok(())
}

/// Refuses a template that would print words of a recipe as markup, and one that computes: out of lists within
/// lists and long sums a few lines make more than any machine can hold.
fn check_template(file: &OwnFile) -> Result<(), RenderError> {
    let settled: BTreeSet<String> = TEMPLATES
        .iter()
        .flat_map(|(_, text)| tags(text))
        .filter_map(marked_safe)
        // The same prose as a card's, which the built-in page prints by that name.
        .chain(["reader.notes".to_owned()])
        .collect();
    let mut choices = 0;
    for tag in tags(&file.text) {
        choices += usize::from(tag.word() == "elif");
        let is_loose = marked_safe(tag).is_some_and(|value| !settled.contains(&value));
        let what = if tag.word() == "autoescape" {
            "escaping is never switched off, or a recipe's words could act as markup"
        } else if is_loose {
            "`safe` is for prose alone, or a recipe's words could act as markup; leave it out"
        } else if makes_list(tag) {
            "a template makes no lists of its own; compare with one value at a time"
        } else if choices > MOST_CHOICES || tag.pieces().len() > MOST_PIECES {
            "this is longer than a card has a use for; cut it in parts"
        } else if computes(tag) {
            "a template computes nothing; the view has what a card needs"
        } else {
            continue;
        };
        let line = file.text.get(..tag.at).unwrap_or_default().matches('\n').count();
        let shown = file.text.lines().nth(line);
        return Err(RenderError::Template(told_at(&file.path, line + 1, what, shown)));
    }
    Ok(())
}

/// Gives what stands before the filter `safe` in a tag, all of the tag up to it.
fn marked_safe(tag: Tag<'_>) -> Option<String> {
    let pieces = tag.pieces();
    let place = pieces.windows(2).position(|pair| matches!(pair, ["|", "safe"]))?;
    Some(pieces.get(..place)?.concat())
}

/// Says whether a tag makes a list or a group of values: a bracket that is no index, or a comma that stands in no
/// call.
fn makes_list(tag: Tag<'_>) -> bool {
    let mut before = "";
    let mut open: Vec<bool> = Vec::new();
    let mut is_target = tag.word() == "for";
    for piece in tag.pieces() {
        let follows_value = before
            .ends_with(|letter: char| letter.is_alphanumeric() || "_)]\"'".contains(letter))
            && !matches!(
                before,
                "in" | "and" | "or" | "not" | "if" | "elif" | "else" | "is" | "include" | "extends"
            );
        match piece {
            "{" => return true,
            "[" if !follows_value => return true,
            "(" | "[" => open.push(follows_value && piece == "("),
            ")" | "]" => drop(open.pop()),
            "in" => is_target = false,
            "," if !is_target && !open.last().copied().unwrap_or(tag.word() == "with") => return true,
            _ => {}
        }
        before = piece;
    }
    false
}

/// Says whether a tag computes with numbers or puts lists together.
fn computes(tag: Tag<'_>) -> bool {
    tag.pieces()
        .iter()
        .any(|piece| matches!(*piece, "+" | "*" | "/" | "%"))
}

/// Finds the error that all others follow from.
fn innermost(error: &Error) -> &Error {
    let mut found = error;
    while let Some(cause) = std::error::Error::source(found).and_then(|cause| cause.downcast_ref::<Error>()) {
        found = cause;
    }
    found
}

/// Gives the whole of an expression, of which the engine names the last part alone: `card.head` before `.titel`.
fn expression(text: &str, start: usize, end: usize) -> Option<&str> {
    let before = text.get(..start)?;
    let is_part = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '.' | '[' | ']');
    let from = before.trim_end_matches(is_part).len();
    text.get(from..end).map(str::trim)
}

/// Puts the faults that people meet into words.
fn reason(error: &Error, place: Option<&str>, page: &str) -> String {
    let detail = error.detail().unwrap_or_default();
    match (error.kind(), place) {
        (ErrorKind::UndefinedError, Some(place)) => {
            // One file may stand on several pages, and does not get the same on each.
            let page = match page {
                "reader.html" => "on a page for readers",
                "index.html" => "in the index",
                "compare.html" => "in a comparison",
                _ => "on a card",
            };
            format!(
                "this template gets no `{place}` {page}; `loafwright templates --values` lists what there is"
            )
        }
        (ErrorKind::OutOfFuel, _) => {
            "this does more than a page may: a million steps, or 64 MiB of text".to_owned()
        }
        (ErrorKind::SyntaxError | ErrorKind::TemplateNotFound | ErrorKind::BadEscape, _)
            if !detail.is_empty() =>
        {
            detail.to_owned()
        }
        (kind, _) if detail.is_empty() => kind.to_string(),
        (kind, _) => format!("{kind}: {detail}"),
    }
}

/// Puts a fault together with its place and its line, in which nothing acts on a terminal.
fn told_at(path: &str, line: usize, what: &str, shown: Option<&str>) -> String {
    let plain = |text: &str| -> String {
        let letters = text.chars().take(160);
        letters
            .map(|letter| if letter.is_control() { '\u{fffd}' } else { letter })
            .collect()
    };
    let mut text = format!("{path}:{line}: {}", plain(what));
    if let Some(shown) = shown.map(str::trim).filter(|shown| !shown.is_empty()) {
        text.push_str(&format!("\n  {line} | {}", plain(shown)));
    }
    text
}
