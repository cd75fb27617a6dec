//! The whole way from texts to sheets in one call, for every edge alike.
//!
//! Pure: the texts come in as they were read, and what comes out is data. A bakehouse is settled once for
//! all recipes that it holds for.

use std::sync::Arc;

use crate::compare::Side;
use crate::diag::{Code, Diagnostic, Report, Severity};
use crate::model::place::Place;
use crate::model::recipe::{Checked, Entry, Faulty, Picture, Recipe, Record, Variation};
use crate::sheet::{self, Request, Sheet};
use crate::source::{Source, SourceId, Spanned};
use crate::syntax::tree::{BlockKind, Item, Prose, Tree};
use crate::view::{Words, is_language_tag, refusals};
use crate::{model, syntax};

/// A bakehouse with its files and what is wrong in them.
#[derive(Clone, Debug)]
pub struct Bakehouse {
    /// What is true of the place.
    pub place: Arc<Place>,
    /// The files, nearest first.
    pub sources: Vec<Source>,
    /// What is wrong in them.
    pub report: Report,
}

/// Settles a bakehouse of its files, nearest first; without any, of the defaults.
#[must_use]
pub fn bakehouse(sources: Vec<Source>) -> Bakehouse {
    let mut report = Report::new();
    let trees: Vec<Tree> = sources
        .iter()
        .map(|source| {
            let (tree, faults) = syntax::parse(source);
            report.merge(faults);
            check_language(&tree, &mut report);
            tree
        })
        .collect();
    let files: Vec<(&Source, &Tree)> = sources.iter().zip(&trees).collect();
    let (place, faults) = model::place::settle(&files);
    report.merge(faults);
    Bakehouse {
        place: Arc::new(place),
        report: report.settled(),
        sources,
    }
}

/// A recipe worked out as far as it can be.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// Everything that was written.
    pub tree: Tree,
    /// The recipe with its sheet; nothing where an error stands in its way.
    pub plain: Option<(Recipe, Sheet)>,
    /// The recipe where it could be checked but its sizes are not settled.
    pub unsized_recipe: Option<Recipe>,
    /// The variations that could be made.
    pub variations: Vec<(Variation, Sheet)>,
    /// The bench records.
    pub records: Vec<Record>,
    /// The picture that the recipe names, as far as it could be read.
    pub picture: Option<Spanned<Picture>>,
    /// Every fault, in the order of the page.
    pub report: Report,
}

/// Compiles the bytes of a recipe's file. Where they are no text that could be read to its end, that is
/// told of and nothing else, since all else would only follow from it.
#[must_use]
pub fn compile_bytes(
    id: SourceId,
    name: &str,
    bytes: &[u8],
    place: &Arc<Place>,
    request: &Request,
) -> (Source, Compiled) {
    let (source, mut report) = syntax::decode(id, name, bytes);
    let is_unread = [Code::FileTooLarge, Code::NotUtf8, Code::EmptyFile]
        .into_iter()
        .any(|code| report.has_code(code));
    if is_unread {
        let compiled = Compiled {
            tree: syntax::parse(&source).0,
            plain: None,
            unsized_recipe: None,
            variations: Vec::new(),
            records: Vec::new(),
            picture: None,
            report: report.settled(),
        };
        return (source, compiled);
    }
    let mut compiled = compile(&source, place, request);
    if report.has_errors() {
        compiled.distrust();
    }
    report.merge(compiled.report);
    compiled.report = report.settled();
    (source, compiled)
}

/// Compiles a recipe: parses, checks and computes it with all its variations.
#[must_use]
pub fn compile(source: &Source, place: &Arc<Place>, request: &Request) -> Compiled {
    let (tree, mut report) = read(source);
    let is_read = report.iter().all(|fault| !is_error_in_plain(fault, &tree));
    let Checked {
        recipe,
        variations,
        records,
        faulty,
        report: faults,
    } = model::check(&tree, source, place);
    report.merge(faults);
    let at_fault = faulty.iter().find(|faulty| faulty.variation.is_none());
    let readable = recipe.as_ref().or(at_fault.map(|faulty| &faulty.recipe));
    if let Some(readable) = readable {
        check_links(readable, &variations, &records, &mut report);
    }
    let picture = readable.and_then(|recipe| recipe.details.picture.clone());
    let sheet = recipe.as_ref().and_then(|recipe| {
        let (sheet, faults) = sheet::compute(recipe, request);
        report.merge(faults);
        sheet
    });
    if let Some(sheet) = sheet.as_ref().filter(|_| request.size.is_none()) {
        report.merge(sheet::check_records(&records, &sheet.pieces));
    }
    let mut news = further_faults(&faulty, &tree, &mut report);
    let variations: Vec<(Variation, Sheet)> = variations
        .into_iter()
        .filter_map(|variation| {
            let (sheet, faults) = sheet::compute(&variation.recipe, request);
            let new = faults.iter();
            news.extend(new.filter_map(|fault| news_of(fault, &variation.name, &tree, &report)));
            let mut sheet = sheet?;
            sheet.hear_claims(&variation);
            Some((variation, sheet))
        })
        .collect();
    report.merge(news);
    if let Some(plain) = &sheet {
        report.merge(sheet::report_variations(plain, &variations));
    }
    let (plain, unsized_recipe) = match (recipe, sheet) {
        (Some(recipe), Some(sheet)) => (Some((recipe, sheet)), None),
        (recipe, _) => (None, recipe),
    };
    let mut compiled = Compiled {
        tree,
        plain,
        unsized_recipe,
        variations,
        records,
        picture,
        report: report.settled(),
    };
    if !is_read {
        compiled.distrust();
    }
    compiled
}

/// Parses a recipe, and says so where its card cannot speak its language.
fn read(source: &Source) -> (Tree, Report) {
    let (tree, mut report) = syntax::parse(source);
    check_language(&tree, &mut report);
    (tree, report)
}

/// Tells what else is wrong with a plain recipe that has an error, and gives what else is with its variations.
fn further_faults(faulty: &[Faulty], tree: &Tree, report: &mut Report) -> Report {
    let mut news = Report::new();
    for Faulty {
        recipe,
        variation,
        doubts,
    } in faulty
    {
        let told = sheet::further_faults(recipe, doubts);
        match variation {
            None => report.merge(told),
            Some(name) => news.extend(told.iter().filter_map(|fault| news_of(fault, name, tree, report))),
        }
    }
    news
}

impl Compiled {
    /// Gives the recipe as one side of a comparison; nothing where an error stands in its way.
    #[must_use]
    pub fn side(&self) -> Option<Side<'_>> {
        let (recipe, sheet) = match &self.plain {
            Some((recipe, sheet)) => (recipe, Some(sheet)),
            None => (self.unsized_recipe.as_ref()?, None),
        };
        Some(Side {
            recipe,
            sheet,
            variations: self
                .variations
                .iter()
                .map(|(variation, sheet)| (variation, sheet))
                .collect(),
            records: &self.records,
        })
    }

    /// Takes back what no card may rest on, because an error stands in the text of the plain recipe.
    fn distrust(&mut self) {
        self.plain = None;
        self.unsized_recipe = None;
        self.variations.clear();
        self.records.clear();
    }
}

/// Says whether a fault is an error outside variations and bench records, which are left out where they are
/// faulty without harm to the plain recipe.
fn is_error_in_plain(fault: &Diagnostic, tree: &Tree) -> bool {
    let stands_apart = tree.items.iter().any(|item| match item {
        Item::Block(block) => {
            matches!(block.kind.value, BlockKind::Variation | BlockKind::Bake)
                && (block.span.start..block.span.end).contains(&fault.primary.span.start)
        }
        Item::Blank(_) | Item::Comment(_) | Item::Key(_) | Item::Junk(_) => false,
    });
    fault.severity == Severity::Error && !stands_apart
}

/// Warns of links in prose that no card shows as links.
fn check_links(recipe: &Recipe, variations: &[Variation], records: &[Record], report: &mut Report) {
    let mut prose: Vec<&Prose> = recipe.about.iter().chain(&recipe.notes).collect();
    for entry in recipe.blocks.iter().flat_map(|block| &block.entries) {
        prose.extend(match entry {
            Entry::Line(line) => line.prose.as_ref(),
            Entry::Step(step) => step.prose.as_ref(),
            Entry::Note(_) => None,
        });
    }
    prose.extend(variations.iter().flat_map(|variation| &variation.prose));
    prose.extend(records.iter().flat_map(|record| &record.prose));
    for refusal in prose.into_iter().flat_map(refusals) {
        let message = format!("no card links to `{}`", refusal.address);
        report.push(
            Diagnostic::new(Code::LinkLeftOut, refusal.span, message)
                .label("shown as plain words")
                .help("write an address that begins with `https://`, `http://` or `mailto:`"),
        );
    }
}

/// Tells of a language that cards have no words of; one that is no language at all is told of elsewhere.
fn check_language(tree: &Tree, report: &mut Report) {
    let keys = tree.items.iter().filter_map(|item| match item {
        Item::Key(line) if line.key.value == "language" => Some(&line.value),
        _ => None,
    });
    let unknown = keys.filter(|tag| is_language_tag(&tag.value) && !Words::are_known_in(&tag.value));
    for tag in unknown {
        let message = format!("cards have no words of the language `{}`", tag.value);
        report.push(
            Diagnostic::new(Code::LanguageWithoutWords, tag.span, message)
                .label("their own words are English")
                .help("nothing has to be done; what you wrote stays as you wrote it"),
        );
    }
}

/// Gives a fault of a variation with its name, where it is told.
///
/// One that the plain recipe has too is told once; hints are the plain recipe's alone, and
/// cautions are reported under the name of the variation.
fn news_of(fault: &Diagnostic, name: &Spanned<String>, tree: &Tree, told: &Report) -> Option<Diagnostic> {
    if !matches!(fault.severity, Severity::Error | Severity::Warning) {
        return None;
    }
    let block = tree.items.iter().find_map(|item| match item {
        Item::Block(block) if block.name.as_ref() == Some(name) => Some(block),
        _ => None,
    })?;
    let named = fault.clone().in_variation(&name.value, block.span, block.header);
    // The same thing said of the same line with another number follows from the plain recipe.
    let words = |fault: &Diagnostic| fault.message.replace(|letter: char| letter.is_ascii_digit(), "");
    let is_told = told.iter().any(|other| {
        other.code == fault.code
            && (other.message == fault.message
                || other.primary.span == named.primary.span && words(other) == words(fault))
    });
    (!is_told).then_some(named)
}
