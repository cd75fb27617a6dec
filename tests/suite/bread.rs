//! A recipe as text, computed by the library, with the questions that tests ask of its numbers.
//!
//! Owns the way from text to sheet and how a line is named in a test; every number comes from the program.

use std::fs;
use std::path::Path;
use std::sync::{Arc, LazyLock};

use loafwright::diag::{Code, Report, Severity};
use loafwright::model::place::{self, Place};
use loafwright::model::{self};
use loafwright::pipeline::{self, Compiled};
use loafwright::quantity::Ratio;
use loafwright::render::html::Renderer;
use loafwright::sheet::{Request, Sheet, SheetBlock, SizeRequest};
use loafwright::source::{Source, SourceId, Span};
use loafwright::syntax;
use loafwright::view::{self, CardOptions};

/// No bakehouse at all, settled once.
static NOWHERE: LazyLock<Arc<Place>> = LazyLock::new(|| Arc::new(place_of(None).0));

/// The templates, compiled once.
static RENDERER: LazyLock<Renderer> = LazyLock::new(|| Renderer::new().expect("the built-in templates"));

/// A computed recipe and all that was said on the way.
pub(crate) struct Bread {
    /// The recipe with its sheet, its variations and its records.
    pub(crate) compiled: Compiled,
    /// Every fault, those of the bakehouse first.
    pub(crate) report: Report,
}

/// Computes a recipe in a bakehouse, if one is given, in another size, if one is asked for.
pub(crate) fn bake(text: &str, bakehouse: Option<&str>, size: Option<SizeRequest>) -> Bread {
    let (place, mut report) = match bakehouse {
        Some(_) => {
            let (place, report) = place_of(bakehouse);
            (Arc::new(place), report)
        }
        None => (Arc::clone(&NOWHERE), Report::new()),
    };
    let source = Source::new(SourceId(0), "bread.loaf", text);
    let request = Request {
        size,
        ..Request::default()
    };
    let mut compiled = pipeline::compile(&source, &place, &request);
    report.merge(std::mem::take(&mut compiled.report));
    Bread { compiled, report }
}

/// Settles a bakehouse given as text.
pub(crate) fn place_of(bakehouse: Option<&str>) -> (Place, Report) {
    let Some(text) = bakehouse else {
        return place::settle(&[]);
    };
    let source = Source::new(SourceId(1), "bakehouse.loaf", text);
    let (tree, mut report) = syntax::parse(&source);
    let (place, found) = place::settle(&[(&source, &tree)]);
    report.merge(found);
    (place, report)
}

/// Reads `3 loaves of 900 g` as a size.
pub(crate) fn makes(text: &str) -> SizeRequest {
    let mut report = Report::new();
    let span = Span::new(SourceId(2), 0, text.len());
    let spec = syntax::parse_makes(text, span, &mut report).expect("a size");
    SizeRequest::Makes(model::makes_of(spec, text))
}

/// Reads a weight of flour as a size.
pub(crate) fn flour(text: &str) -> SizeRequest {
    let mut report = Report::new();
    let span = Span::new(SourceId(2), 0, text.len());
    let (grams, _) = syntax::read_weight(text, span, &mut report).expect("a weight");
    SizeRequest::Flour(grams)
}

/// Reads tins that a recipe is to be sized for.
pub(crate) fn tins(texts: &[&str]) -> SizeRequest {
    let tin = |text: &&str| {
        let mut report = Report::new();
        let span = Span::new(SourceId(2), 0, text.len());
        let spec = syntax::parse_tin(text, span, &mut report).expect("a tin");
        model::tin_of(spec, text)
    };
    SizeRequest::Fit(texts.iter().map(tin).collect())
}

/// Reads a file below `tests/cases/published`.
pub(crate) fn published_text(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/published");
    fs::read_to_string(folder.join(format!("{name}.loaf"))).unwrap()
}

/// Computes one of the published cases in their bakehouse.
pub(crate) fn published(name: &str) -> Bread {
    published_sized(name, None)
}

/// Computes one of the published cases in another size.
pub(crate) fn published_sized(name: &str, size: Option<SizeRequest>) -> Bread {
    bake(&published_text(name), Some(&published_text("bakehouse")), size)
}

impl Bread {
    /// Gives the sheet, and shows what was said where there is none.
    pub(crate) fn sheet(&self) -> &Sheet {
        let Some((_, sheet)) = &self.compiled.plain else {
            let faults = self.report.iter();
            let said = faults.map(|fault| format!("\n{}: {}", fault.code.slug(), fault.message));
            panic!("no sheet{}", said.collect::<Vec<_>>().concat());
        };
        sheet
    }

    /// Makes the page of its card.
    pub(crate) fn page(&self) -> String {
        let (recipe, sheet) = self.compiled.plain.as_ref().expect("a sheet");
        let Compiled {
            variations, records, ..
        } = &self.compiled;
        let card = view::card(recipe, sheet, variations, records, &CardOptions::default());
        RENDERER.card(&card).expect("a page")
    }

    /// Says whether a fault of a kind was found.
    pub(crate) fn says(&self, code: Code) -> bool {
        self.report.has_code(code)
    }

    /// Gives the slugs of the faults of a severity.
    pub(crate) fn slugs(&self, severity: Severity) -> Vec<&'static str> {
        let faults = self.report.iter().filter(|fault| fault.severity == severity);
        faults.map(|fault| fault.code.slug()).collect()
    }

    /// Gives a block by its title.
    pub(crate) fn block(&self, title: &str) -> &SheetBlock {
        let blocks = &self.sheet().blocks;
        let titles: Vec<_> = blocks.iter().map(|block| &block.title).collect();
        let found = blocks.iter().find(|block| block.title == title);
        found.unwrap_or_else(|| panic!("no block `{title}` among {titles:?}"))
    }

    /// Gives the grams of all lines of a block that have a name; nought where there is none.
    pub(crate) fn grams(&self, block: &str, name: &str) -> Ratio {
        let lines = self.block(block).lines.iter().filter(|line| line.name == name);
        lines
            .filter_map(|line| line.weight.as_ref())
            .fold(Ratio::ZERO, |sum, weight| &sum + &weight.0)
    }

    /// Gives the percentage of a line against its block's flour.
    pub(crate) fn percent(&self, block: &str, name: &str) -> f64 {
        let lines = &self.block(block).lines;
        let line = lines.iter().find(|line| line.name == name).expect("the line");
        line.of_block_flour.as_ref().expect("a share").to_f64() * 100.0
    }

    /// Gives the grams of an ingredient that reach the dough.
    pub(crate) fn total(&self, name: &str) -> Ratio {
        let line = self.sheet().total.iter().find(|line| line.name == name);
        line.map_or(Ratio::ZERO, |line| line.weight.0.clone())
    }

    /// Gives the percentage of an ingredient against all flour.
    pub(crate) fn total_percent(&self, name: &str) -> f64 {
        let line = self.sheet().total.iter().find(|line| line.name == name);
        let share = line.and_then(|line| line.of_all_flour.as_ref());
        share.expect("a share of all flour").to_f64() * 100.0
    }

    /// Gives the grams of the dough as mixed.
    pub(crate) fn dough(&self) -> Ratio {
        self.sheet().figures.dough.0.clone()
    }

    /// Gives the grams of all flour.
    pub(crate) fn flour(&self) -> Ratio {
        self.sheet().figures.flour.0.clone()
    }
}

/// Gives a share as a percentage.
pub(crate) fn in_percent(share: Option<&Ratio>) -> f64 {
    share.expect("a share").to_f64() * 100.0
}

/// Gives grams as pounds.
pub(crate) fn pounds(grams: &Ratio) -> f64 {
    (grams / &Ratio::parse_decimal("453.59237").unwrap()).to_f64()
}

/// Gives grams as ounces.
pub(crate) fn ounces(grams: &Ratio) -> f64 {
    pounds(grams) * 16.0
}

/// Says that a number is what was published, within the row's tolerance.
#[track_caller]
pub(crate) fn near(found: f64, wanted: f64, tolerance: f64) {
    // Halves at the very edge of a tolerance count as within it.
    assert!(
        (found - wanted).abs() <= tolerance + 1e-9,
        "{found} is not {wanted} within {tolerance}"
    );
}

/// Reads a decimal number exactly.
pub(crate) fn exactly(text: &str) -> Ratio {
    Ratio::parse_decimal(text).unwrap()
}
