//! The parser: trees of whole files, single values, and what holds for any text at all.

use std::path::Path;

use loafwright::diag::Report;
use loafwright::source::{Source, SourceId};
use loafwright::syntax::{dump, parse};

mod any_text;
mod values;

/// Reads a case as the parser is given it.
fn source_of(path: &Path) -> Source {
    let text = std::fs::read_to_string(path).expect("a case that is listed can be read");
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    Source::new(SourceId(0), name.unwrap_or_default(), text)
}

/// Lists faults with what they point at.
fn told(source: &Source, report: Report) -> String {
    let faults = report.settled().into_faults().into_iter();
    let line = |fault: loafwright::diag::Diagnostic| {
        let place = source.slice(fault.primary.span).to_owned();
        format!("{}: {} «{place}»", fault.code.slug(), fault.message)
    };
    faults.map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn trees_of_the_cases() {
    insta::glob!("../cases/syntax", "*.loaf", |path| {
        let source = source_of(path);
        let (tree, report) = parse(&source);
        let shown = format!("{}{}", dump(&source, &tree), told(&source, report));
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path("../cases/syntax");
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        settings.bind(|| insta::assert_snapshot!("tree", shown));
    });
}
