//! What formatting may never do: change the meaning, lose or move a line, or change its mind.
//!
//! Held over every recipe that ships, every case, every example of the language reference and ten thousand
//! random pages.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use loafwright::diag::{Code, Severity};
use loafwright::format::format;
use loafwright::model::place::Place;
use loafwright::pipeline;
use loafwright::render::json::render_sheet;
use loafwright::sheet::Request;
use loafwright::source::{Source, SourceId};
use loafwright::syntax::tree::{Item, Tree};
use loafwright::syntax::{dump, parse};
use loafwright::view::document::view_document;
use proptest::strategy::Strategy as _;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::writer::{Tape, bakehouse, recipe};

/// Everything that a text means.
#[derive(PartialEq)]
struct Meaning {
    words: String,
    sheet: String,
    faults: Vec<String>,
}

/// Reads a text to its end; a faulty one has no meaning that a formatter must keep, because it is left alone.
fn meaning(name: &str, text: &str, place: &Arc<Place>, has_tabs: bool) -> Option<Meaning> {
    let source = Source::new(SourceId(0), name, text);
    let (words, sheet, faults) = if name.ends_with("bakehouse.loaf") {
        let house = pipeline::bakehouse(vec![source.clone()]);
        let tree = parse(&source).0;
        (
            dump(&source, &tree),
            shown_house(&house.place, &tree),
            house.report,
        )
    } else {
        let compiled = pipeline::compile(&source, place, &Request::default());
        let sheet = compiled.plain.as_ref().map(|(recipe, sheet)| {
            let document = view_document(name, (recipe, sheet), &compiled.variations, &compiled.records);
            render_sheet(&document)
        });
        (
            dump(&source, &compiled.tree),
            sheet.unwrap_or_default(),
            compiled.report,
        )
    };
    // A crooked indent is what a formatter is for.
    let crooked = [Code::TabIndent, Code::UnevenIndent, Code::MixedLineEnds];
    let told = faults
        .iter()
        .filter(|fault| !crooked.contains(&fault.code))
        .map(|fault| format!("{} {}", fault.code.slug(), fault.message));
    (!faults.has(Severity::Error)).then(|| Meaning {
        words: words
            .lines()
            .filter_map(|line| without_spelling(line, has_tabs))
            .collect(),
        sheet: sheet
            .lines()
            .filter(|line| !is_as_written(line))
            .map(|line| {
                if has_tabs {
                    without_indents(line)
                } else {
                    line.to_owned()
                }
            })
            .collect(),
        faults: told.collect(),
    })
}

/// Takes out of a line of the tree what is only spelling: blank lines, and amounts as they were typed.
fn without_spelling(line: &str, has_tabs: bool) -> Option<String> {
    let bare = line.trim();
    let is_indent = |c: char| has_tabs && c == ' ' || c == '\t';
    if bare == "blank" {
        return None;
    }
    if let Some((key, _)) = bare.split_once(" = ").filter(|_| bare.starts_with("key ")) {
        // What the values mean stands in the sheet.
        return Some(format!("{key}\n"));
    }
    if let Some(prose) = bare.strip_prefix("| ") {
        return Some(format!("{}\n", prose.trim_start_matches(is_indent)));
    }
    if bare.starts_with("contains ") {
        return Some(format!("{}\n", bare.to_lowercase()));
    }
    let typed = bare.strip_prefix('«').and_then(|rest| rest.split_once('»'));
    Some(format!("{}\n", typed.map_or(line, |(_, rest)| rest)))
}

/// Takes the indents out of prose in a line of JSON.
fn without_indents(line: &str) -> String {
    let (key, value) = line.split_once(": \"").unwrap_or((line, ""));
    let lines = value
        .split("\\n")
        .map(|part| part.replace("\\t", " ").trim_start().to_owned());
    format!("{key}: {}", lines.collect::<Vec<_>>().join("\\n"))
}

/// What a card shows as written may be spelt otherwise; the numbers beside it may not.
fn is_as_written(line: &str) -> bool {
    let is_changes = line.trim_start().starts_with('"') && !line.contains("\": ");
    is_changes
        || ["\"makes\":", "\"tin\":", "\"written\":"]
            .iter()
            .any(|key| line.contains(key))
}

/// Shows everything that a bakehouse file settles, places in the text aside.
fn shown_house(place: &Place, tree: &Tree) -> String {
    let named = tree.items.iter().filter_map(|item| match item {
        Item::Block(block) => Some(block.name.as_ref()?.value.clone()),
        _ => None,
    });
    let ingredients: Vec<_> = named.map(|name| place.catalog.lookup(&name)).collect();
    let keys = (
        (
            &place.name,
            &place.temperatures,
            &place.altitude_m,
            &place.asleep,
            &place.preheat,
        ),
        (
            &place.scales,
            &place.starter,
            &place.old_dough,
            &place.friction,
            &place.currency,
        ),
        (
            &place.units,
            &place.paper,
            &place.author,
            &place.language,
            &place.given,
        ),
        place.bake_loss.as_ref().map(|loss| &loss.value),
    );
    without_spans(&format!("{keys:?}\n{ingredients:?}"))
}

fn without_spans(shown: &str) -> String {
    let mut out = String::new();
    let mut rest = shown;
    while let Some((before, behind)) = rest.split_once("Span {") {
        out.push_str(before);
        rest = behind.split_once('}').map_or("", |(_, rest)| rest);
    }
    out + rest
}

/// Gives the marks of a page in the order in which they stand.
fn marks(text: &str) -> Vec<&str> {
    let is_mark = |word: &&str| {
        let digits = word.strip_prefix('m').unwrap_or_default();
        !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
    };
    text.split(|c: char| c.is_whitespace() || matches!(c, '#' | '!' | ':' | ','))
        .filter(is_mark)
        .collect()
}

/// Gives the remarks of a page with the line that each stands in or above, spelling aside.
fn formatted(name: &str, text: &str) -> String {
    let source = Source::new(SourceId(0), name, text);
    format(&source, &parse(&source).0)
}

/// Holds the laws over one text; says whether it is one that is formatted at all.
fn hold(name: &str, text: &str, place: &Arc<Place>) -> Result<bool, String> {
    // How deep a tab is, is a matter of its neighbours; how lines without tabs stand to each other is kept.
    let has_tabs = text.contains('\t');
    let Some(before) = meaning(name, text, place, has_tabs) else {
        return Ok(false);
    };
    let once = formatted(name, text);
    let told = |law: &str| Err(format!("{law}\n--- {name}\n{text}\n--- formatted\n{once}"));
    let Some(after) = meaning(name, &once, place, has_tabs) else {
        return told("an error came in");
    };
    if formatted(name, &once) != once {
        return told(&format!("a second run changes it\n{}", formatted(name, &once)));
    }
    if before.words != after.words {
        return told(&format!(
            "the words differ\n{}\n---\n{}",
            before.words, after.words
        ));
    }
    if before.sheet != after.sheet {
        return told(&format!(
            "the sheet differs: {}",
            first_difference(&before.sheet, &after.sheet)
        ));
    }
    if before.faults != after.faults {
        return told(&format!(
            "the faults differ\n{:#?}\n{:#?}",
            before.faults, after.faults
        ));
    }
    if marks(text) != marks(&once) {
        return told("a line was lost or moved");
    }
    if text.starts_with('\u{feff}') != once.starts_with('\u{feff}') {
        return told("the byte order mark did not stay");
    }
    if text.contains("\r\n") && once.replace("\r\n", "").contains('\n') {
        return told("the line ends did not stay");
    }
    Ok(true)
}

fn first_difference(before: &str, after: &str) -> String {
    let at = before
        .bytes()
        .zip(after.bytes())
        .position(|(left, right)| left != right)
        .unwrap_or_default();
    let around = |text: &str| {
        String::from_utf8_lossy(&text.as_bytes()[at.saturating_sub(60)..(at + 60).min(text.len())])
            .into_owned()
    };
    format!("{}\n{}", around(before), around(after))
}

/// Holds the laws over random pages and gives the number of those that are formatted at all.
fn hold_over_random(name: &str, (seed, pages): (u8, u32), write: fn(Tape<'_>) -> String) -> u32 {
    let place = Arc::new(Place::without_bakehouse());
    let config = Config {
        cases: pages,
        failure_persistence: None,
        ..Config::default()
    };
    let random = TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]);
    let mut runner = TestRunner::new_with_rng(config, random);
    let valid = std::cell::Cell::new(0);
    let choices =
        proptest::collection::vec(proptest::num::u8::ANY, 30..180).prop_map(|bytes| write(Tape::new(&bytes)));
    let outcome = runner.run(&choices, |text| {
        match hold(name, &text, &place) {
            Ok(was_valid) => valid.set(valid.get() + u32::from(was_valid)),
            Err(told) => return Err(proptest::test_runner::TestCaseError::fail(told)),
        }
        Ok(())
    });
    if let Err(error) = outcome {
        panic!("{error}");
    }
    valid.get()
}

/// Ten thousand in two halves, which run beside each other.
fn hold_over_half(seed: u8) {
    let valid = hold_over_random("random.loaf", (seed, 5_600), recipe);
    assert!(valid >= 5_000, "only {valid} of the random recipes are valid");
}

#[test]
fn the_first_five_thousand_random_recipes_keep_their_meaning() {
    hold_over_half(7);
}

#[test]
fn the_other_five_thousand_random_recipes_keep_their_meaning() {
    hold_over_half(8);
}

#[test]
fn random_bakehouse_files_keep_their_meaning() {
    let valid = hold_over_random("bakehouse.loaf", (9, 1_500), bakehouse);
    assert!(valid >= 1_000, "only {valid} of the random files are valid");
}

fn loaf_files(below: &str) -> Vec<PathBuf> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(below)];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "loaf") {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

#[test]
fn every_recipe_and_every_case_keeps_its_meaning() {
    let place = Arc::new(Place::without_bakehouse());
    let mut held = 0;
    for path in ["recipes", "tests/cases"].into_iter().flat_map(loaf_files) {
        let Ok(text) = fs::read_to_string(&path) else {
            continue;
        };
        let was_valid = hold(path.to_str().unwrap(), &text, &place).unwrap_or_else(|told| panic!("{told}"));
        held += usize::from(was_valid);
    }
    assert!(held >= 60, "{held} files");
}

#[test]
fn every_example_of_the_language_reference_keeps_its_meaning() {
    let place = Arc::new(Place::without_bakehouse());
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut held = 0;
    for page in ["grammar/README.md", "grammar/FORMAT.md", "README.md"] {
        let text = fs::read_to_string(root.join(page)).expect("the page is there");
        for example in examples(&text) {
            let name = if example.starts_with("bakehouse") {
                "bakehouse.loaf"
            } else {
                page
            };
            held += usize::from(hold(name, &example, &place).unwrap_or_else(|told| panic!("{told}")));
        }
    }
    assert!(held >= 5, "{held} examples");
}

/// Cuts the examples out of a page of Markdown.
fn examples(page: &str) -> Vec<String> {
    let blocks = page.split("\n```").skip(1).step_by(2);
    blocks
        .filter_map(|block| block.split_once('\n'))
        .filter(|(language, _)| matches!(language.trim(), "" | "loaf"))
        .map(|(_, text)| format!("{text}\n"))
        .collect()
}
