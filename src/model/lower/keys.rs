//! Key lines: which keys a recipe may give, each once, and where their values go.
//!
//! Owns the keys; how a value is read is the business of `values`.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::page::Page;
use super::tins::lower_tin;
use super::{Findings, Scene, doubts, values};
use crate::diag::{Code, Diagnostic, nearest};
use crate::model::recipe::{Details, Makes, Tin};
use crate::quantity::{Grams, Ratio};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{BAKEHOUSE_KEYS, KeyLine, RECIPE_KEYS};

/// The keys of a recipe, settled.
pub(super) struct Keys {
    /// The title; empty where none could be read, which has been reported.
    pub(super) title: Spanned<String>,
    /// What it makes.
    pub(super) makes: Option<Spanned<Makes>>,
    /// What 100 % stands for.
    pub(super) flour: Option<Spanned<Grams>>,
    /// The tin.
    pub(super) tin: Option<Spanned<Tin>>,
    /// The other keys, with what the bakehouse says where the recipe does not.
    pub(super) details: Details,
}

/// Lowers the keys of a draft.
pub(super) fn lower_keys(
    lines: &[Cow<'_, KeyLine>],
    page: &Page<'_>,
    scene: &Scene<'_>,
    findings: &mut Findings,
) -> Keys {
    let mut keys = Keys {
        title: Spanned::new(String::new(), page.head),
        makes: None,
        flour: None,
        tin: None,
        details: Details::default(),
    };
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for line in lines {
        let key = line.key.value.as_str();
        if let Some(first) = seen.get(key) {
            findings.push(
                Diagnostic::new(Code::KeyTwice, line.key.span, format!("`{key}` is given twice"))
                    .other(*first, "the first time")
                    .help("keep one of the two"),
            );
            doubts::of_key(key, &mut findings.doubts);
        } else if RECIPE_KEYS.contains(&key) {
            seen.insert(key, line.key.span);
            let mut found = Findings::default();
            lower_key(&mut keys, line, scene, &mut found);
            if found.report.has_errors() {
                doubts::of_key(key, &mut findings.doubts);
            }
            findings.report.extend(
                found
                    .report
                    .into_faults()
                    .into_iter()
                    .map(|fault| with_example(fault, key)),
            );
        } else {
            findings.push(unknown_key(line));
            doubts::of_unknown_key(key, &mut findings.doubts);
        }
    }
    let unknown = || page.unknown_keys.iter().map(|line| line.key.value.as_str());
    for key in unknown() {
        doubts::of_unknown_key(key, &mut findings.doubts);
    }
    let is_title = |key| nearest(key, RECIPE_KEYS.iter().copied()) == Some("title");
    if !seen.contains_key("title") && !unknown().any(is_title) {
        findings.push(missing_title(page.head));
    }
    fill_from_place(&mut keys.details, scene);
    check_losses(&mut keys.details, findings);
    keys
}

/// Both losses count against the dough as mixed and add up, so that together they may not be all of it.
fn check_losses(details: &mut Details, findings: &mut Findings) {
    let (Some(bake), Some(handling)) = (&details.bake_loss, &details.handling_loss) else {
        return;
    };
    if &bake.value + &handling.value < Ratio::ONE {
        return;
    }
    findings.push(
        Diagnostic::new(
            Code::BadValue,
            handling.span,
            "the two losses together leave nothing of the dough",
        )
        .other(bake.span, "added to this one")
        .help("both are shares of the dough as mixed, and add up: 2 % and 11 % are 13 %"),
    );
    details.handling_loss = None;
    doubts::of_key("handling loss", &mut findings.doubts);
}

/// A fault of a value that does not say what to write shows it by an example.
fn with_example(fault: Diagnostic, key: &str) -> Diagnostic {
    if fault.help.is_some() {
        return fault;
    }
    let mut fault = fault.help(format!("write it as `{}`", example(key)));
    if fault.code == Code::BadValue {
        // The reader of the value does not know which key it reads for.
        fault.message = format!("this is no value of `{key}`");
    }
    fault
}

fn lower_key(keys: &mut Keys, line: &KeyLine, scene: &Scene<'_>, findings: &mut Findings) {
    let key = line.key.value.as_str();
    let span = line.value.span;
    if line.value.value.is_empty() {
        findings.push(if key == "title" {
            missing_title(line.key.span)
        } else {
            Diagnostic::new(Code::BadValue, line.key.span, format!("`{key}` says nothing"))
                .help(format!("write it as `{}`, or take the line out", example(key)))
        });
        return;
    }
    match key {
        "title" => keys.title = line.value.clone(),
        "makes" => keys.makes = values::makes(line, findings).map(|makes| Spanned::new(makes, span)),
        "flour" => keys.flour = values::weight(line, findings).map(|grams| Spanned::new(grams, span)),
        "tin" => keys.tin = lower_tin(line, findings).map(|tin| Spanned::new(tin, span)),
        _ => lower_detail(&mut keys.details, line, scene, findings),
    }
}

fn lower_detail(details: &mut Details, line: &KeyLine, scene: &Scene<'_>, findings: &mut Findings) {
    let span = line.value.span;
    let text = || Some(line.value.value.clone());
    match line.key.value.as_str() {
        "units" => details.units = values::units(line, findings),
        "dough temperature" => {
            details.dough_temperature =
                values::temperature(scene, line, findings).map(|range| Spanned::new(range, span));
        }
        "bake loss" => {
            details.bake_loss = values::loss(line, findings).map(|share| Spanned::new(share, span));
        }
        "handling loss" => {
            details.handling_loss = values::loss(line, findings).map(|share| Spanned::new(share, span));
        }
        "picture" => {
            details.picture = values::picture(line, findings).map(|picture| Spanned::new(picture, span));
        }
        "paper" => details.paper = values::papers(line, findings),
        "slices" => details.slices = values::slices(line, findings),
        "keeps" => details.keeps = values::time(line, findings),
        "tags" => details.tags = values::list(line),
        "author" => details.author = text(),
        "source" => details.source = text(),
        "revision" => details.revision = text(),
        _ => details.language = values::language(line, findings),
    }
}

fn missing_title(span: Span) -> Diagnostic {
    Diagnostic::new(Code::MissingTitle, span, "the recipe has no title")
        .help("write it in the first line: `title: Oxlip Row milk tin`")
}

fn unknown_key(line: &KeyLine) -> Diagnostic {
    let key = line.key.value.as_str();
    let fault = Diagnostic::new(
        Code::UnknownKey,
        line.key.span,
        format!("no key is called `{key}`"),
    );
    if BAKEHOUSE_KEYS.contains(&key) {
        return fault.help("it is true of the whole bakehouse; write it in `bakehouse.loaf`");
    }
    match nearest(key, RECIPE_KEYS.iter().copied()) {
        Some(near) => {
            fault
                .help(format!("did you mean `{near}`?"))
                .fix(format!("write `{near}`"), line.key.span, near)
        }
        None => fault.help(format!("the keys are {}", RECIPE_KEYS.join(", "))),
    }
}

/// Gives a line that shows how a key is written.
pub(super) fn example(key: &str) -> &'static str {
    match key {
        "title" => "title: Oxlip Row milk tin",
        "makes" => "makes: 2 loaves of 650 g",
        "flour" => "flour: 1 kg",
        "tin" => "tin: lidded 20 x 10 x 10 cm",
        "units" => "units: g, oz",
        "dough temperature" => "dough temperature: 24 C",
        "bake loss" => "bake loss: 12 %",
        "handling loss" => "handling loss: 1 %",
        "picture" => "picture: crumb.jpg, a slice held to the light",
        "paper" => "paper: A4",
        "slices" => "slices: 14",
        "keeps" => "keeps: 4 days",
        "tags" => "tags: enriched, tin bread",
        "author" => "author: the night shift",
        "source" => "source: our own, after the spring fair",
        "revision" => "revision: 3",
        _ => "language: en-GB",
    }
}

/// What the bakehouse says counts where the recipe is silent.
fn fill_from_place(details: &mut Details, scene: &Scene<'_>) {
    let place = scene.place;
    if details.units.is_empty() {
        details.units.clone_from(&place.units);
    }
    if details.paper.is_empty() {
        details.paper.clone_from(&place.paper);
    }
    if details.bake_loss.is_none() {
        details.bake_loss.clone_from(&place.bake_loss);
    }
    if details.author.is_none() {
        details.author.clone_from(&place.author);
    }
    if details.language.is_none() {
        details.language.clone_from(&place.language);
    }
}
