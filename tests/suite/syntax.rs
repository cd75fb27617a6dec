//! The parser: trees of whole files, the faults of broken ones, and that no input makes it fall over.

use std::path::{Path, PathBuf};

use loafwright::source::{Source, SourceId};
use loafwright::syntax::{dump, parse};

/// Reads a case as the parser is given it.
fn source_of(path: &Path) -> Source {
    let text = std::fs::read_to_string(path).expect("a case that is listed can be read");
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    Source::new(SourceId(0), name.unwrap_or_default(), text)
}

#[test]
fn trees_of_the_cases() {
    insta::glob!("../cases/syntax", "*.loaf", |path| {
        let source = source_of(path);
        let (tree, report) = parse(&source);
        let faults: Vec<String> = report
            .settled()
            .iter()
            .map(|fault| {
                format!(
                    "{}: {} «{}»",
                    fault.code.slug(),
                    fault.message,
                    source.slice(fault.primary.span)
                )
            })
            .collect();
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path("../cases/syntax");
        settings.set_prepend_module_to_snapshot(false);
        settings.bind(|| {
            insta::assert_snapshot!("tree", format!("{}{}", dump(&source, &tree), faults.join("\n")))
        });
    });
}
