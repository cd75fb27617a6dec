//! The rules of the house, held by machine: layers, doors, budgets, headers, and that nothing is forgotten.
//!
//! Reads the source tree as text. What a rule is for stands in DEVELOPERS.md.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Which modules a module may name; everything else in the crate is out of its sight.
const LAYERS: &[(&str, &[&str])] = &[
    ("source", &[]),
    ("quantity", &[]),
    ("diag", &["source"]),
    ("syntax", &["source", "quantity", "diag"]),
    ("model", &["source", "quantity", "diag", "syntax"]),
    ("sheet", &["source", "quantity", "diag", "syntax", "model"]),
    ("format", &["source", "quantity", "diag", "syntax"]),
    (
        "compare",
        &["source", "quantity", "diag", "syntax", "model", "sheet"],
    ),
    (
        "view",
        &[
            "source", "quantity", "diag", "syntax", "model", "sheet", "compare",
        ],
    ),
    ("render", &["source", "diag", "view"]),
    (
        "pipeline",
        &[
            "source", "quantity", "diag", "syntax", "model", "sheet", "format", "compare", "view", "render",
        ],
    ),
    (
        "disk",
        &[
            "source", "quantity", "diag", "syntax", "model", "sheet", "view", "render", "pipeline",
        ],
    ),
    ("watch", &["render", "disk"]),
    (
        "cli",
        &[
            "source", "quantity", "diag", "syntax", "model", "sheet", "format", "compare", "view", "render",
            "pipeline", "disk", "watch",
        ],
    ),
];

/// What may stand at the top level besides files that begin with a dot.
const TOP_LEVEL: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "grammar",
    "recipes",
    "src",
    "templates",
    "tests",
];

/// What a file and a function stay below.
const LINES_A_FILE: usize = 500;
const LINES_A_FUNCTION: usize = 60;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Lists the files that are not ignored, as sorted paths from the root with forward slashes.
fn listed_files() -> Vec<String> {
    let walk = ignore::WalkBuilder::new(root())
        .hidden(false)
        .require_git(false)
        .filter_entry(|entry| entry.file_name() != ".git")
        .build();
    let mut files: Vec<String> = walk
        .map(|entry| entry.expect("the tree can be read").into_path())
        .filter(|path| path.is_file())
        .map(|path| {
            path.strip_prefix(root())
                .unwrap()
                .to_string_lossy()
                .replace('\\', "/")
        })
        .collect();
    files.sort();
    files
}

fn rust_files(below: &str) -> Vec<(String, String)> {
    let is_rust = |path: &String| path.starts_with(below) && has_extension(path, &["rs"]);
    listed_files()
        .into_iter()
        .filter(is_rust)
        .map(|path| (path.clone(), read(&root().join(&path))))
        .collect()
}

fn has_extension(path: &str, wanted: &[&str]) -> bool {
    Path::new(path)
        .extension()
        .is_some_and(|extension| wanted.iter().any(|one| extension == *one))
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Takes the comments off Rust source, so that prose about a module is not taken for a use of it.
fn code_only(text: &str) -> String {
    let bare = |line: &str| line.split("//").next().unwrap_or_default().to_owned();
    text.lines().map(bare).collect::<Vec<_>>().join("\n")
}

/// Gives the names behind `crate::`, the groups of `use crate::{…}` included.
fn crate_modules(code: &str) -> BTreeSet<String> {
    let name = |text: &str| -> String {
        let letters = text.trim_start().chars();
        letters.take_while(|c| c.is_alphanumeric() || *c == '_').collect()
    };
    let mut found = BTreeSet::new();
    for rest in code.split("crate::").skip(1) {
        match rest.strip_prefix('{') {
            Some(group) => {
                let mut depth = 0;
                let inner: String = group
                    .chars()
                    .take_while(|c| {
                        depth += i32::from(*c == '{') - i32::from(*c == '}');
                        depth >= 0
                    })
                    .collect();
                found.extend(inner.split(',').map(name));
            }
            None => {
                found.insert(name(rest));
            }
        }
    }
    found.remove("");
    found
}

#[test]
fn arrows_only_point_down() {
    let mut faults = Vec::new();
    for (path, text) in rust_files("src/") {
        let inner = path.trim_start_matches("src/");
        let module = inner.split(['/', '.']).next().unwrap_or_default();
        if module == "lib" || module == "main" {
            continue;
        }
        let Some((_, allowed)) = LAYERS.iter().find(|(name, _)| *name == module) else {
            faults.push(format!("{path}: the layer table does not know `{module}`"));
            continue;
        };
        for used in crate_modules(&code_only(&text)) {
            let is_module = LAYERS.iter().any(|(name, _)| *name == used);
            if is_module && used != module && !allowed.contains(&used.as_str()) {
                faults.push(format!("{path}: `{module}` may not use `{used}`"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_table_of_layers_has_no_arrow_up() {
    for (at, (name, allowed)) in LAYERS.iter().enumerate() {
        for used in *allowed {
            let below = LAYERS[..at].iter().any(|(lower, _)| lower == used);
            assert!(below, "`{name}` would use `{used}` above it");
        }
    }
}

#[test]
fn the_edges_alone_lift_what_the_core_may_not_do() {
    let edges = ["src/disk", "src/watch", "src/cli", "src/main"];
    for (path, text) in rust_files("src/") {
        let lifts = code_only(&text).contains("disallowed_methods");
        let is_edge = edges.iter().any(|edge| is_behind(&path, edge));
        assert!(is_edge || !lifts, "{path} is no edge");
    }
}

/// A library by its name in Cargo.toml, with its doors: files, or folders and modules with all below them.
type Doors = (String, Vec<String>);

/// Reads the table of doors from the guide.
fn doors() -> Vec<Doors> {
    let guide = read(&root().join("DEVELOPERS.md"));
    let section = guide.split("## Dependencies and their doors").nth(1).unwrap();
    let section = section.split("\n## ").next().unwrap();
    let quoted = |cell: &str| -> Vec<String> {
        let parts = cell.split('`').skip(1).step_by(2);
        parts.map(ToOwned::to_owned).collect()
    };
    let rows = section.lines().filter(|line| line.starts_with("| `"));
    rows.map(|row| {
        let cells: Vec<&str> = row.split('|').collect();
        (quoted(cells[1]).concat(), quoted(cells[2]))
    })
    .collect()
}

/// Says whether a file is a door or stands behind it.
fn is_behind(path: &str, door: &str) -> bool {
    path.strip_prefix(door)
        .is_some_and(|rest| rest.is_empty() || rest == ".rs" || rest.starts_with('/'))
}

/// Gives the files whose code names a library.
fn users_of(library: &str) -> Vec<String> {
    let start = format!("{}::", library.replace('-', "_"));
    let uses = |code: &str| {
        code.match_indices(&start)
            .any(|(at, _)| !code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':'))
    };
    rust_files("src/")
        .into_iter()
        .filter(|(_, text)| uses(&code_only(text)))
        .map(|(path, _)| path)
        .collect()
}

#[test]
fn each_dependency_stays_behind_its_doors() {
    let mut faults = Vec::new();
    for (library, doors) in doors() {
        let users = users_of(&library);
        let outside = |path: &&String| !doors.iter().any(|door| is_behind(path, door));
        let told = users.iter().filter(outside);
        faults.extend(told.map(|path| format!("{path}: `{library}` stays behind {}", doors.join(", "))));
        for door in &doors {
            let behind: Vec<&String> = users.iter().filter(|path| is_behind(path, door)).collect();
            match behind.as_slice() {
                [] => faults.push(format!("`{library}` does not use its door {door}")),
                [one] if *one != door => {
                    faults.push(format!("`{library}`: {one} is door enough, not {door}"));
                }
                _ => {}
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn each_dependency_has_a_line_for_developers() {
    let manifest = read(&root().join("Cargo.toml"));
    let section = manifest.split("[dependencies]").nth(1).unwrap();
    let section = section.split("\n[").next().unwrap();
    let lines = section.lines().filter(|line| !line.trim_start().starts_with('#'));
    let wanted: BTreeSet<String> = lines
        .filter_map(|line| Some(line.split_once('=')?.0.trim().to_owned()))
        .collect();
    let rows = doors();
    let told: BTreeSet<String> = rows.iter().map(|(library, _)| library.clone()).collect();
    assert_eq!((told.len(), told), (rows.len(), wanted));
}

#[test]
fn files_and_functions_keep_their_budgets() {
    let mut faults = Vec::new();
    for path in listed_files() {
        if !has_extension(&path, &["rs", "py", "mjs"]) {
            continue;
        }
        let text = read(&root().join(&path));
        let lines: Vec<&str> = text.lines().collect();
        if lines.len() >= LINES_A_FILE {
            faults.push(format!("{path}: {} lines", lines.len()));
        }
        if has_extension(&path, &["rs"]) {
            faults.extend(long_functions(&path, &lines));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Finds functions past the budget. The formatter puts the closing brace below the first letter of the
/// function's first line, so that no parser is needed.
fn long_functions(path: &str, lines: &[&str]) -> Vec<String> {
    let mut faults = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let bare = line.trim_start();
        if !begins_function(bare) || bare.ends_with('}') || bare.ends_with(';') {
            continue;
        }
        let end = format!("{}}}", &line[..line.len() - bare.len()]);
        let length = lines[at..]
            .iter()
            .position(|line| **line == *end)
            .map_or(0, |end| end + 1);
        if length >= LINES_A_FUNCTION {
            faults.push(format!("{path}:{}: a function of {length} lines", at + 1));
        }
    }
    faults
}

/// Recognises the first line of a function, whoever may see it and whatever kind it is of.
fn begins_function(line: &str) -> bool {
    let Some((before, _)) = line.split_once("fn ") else {
        return false;
    };
    let seen = match before.strip_prefix("pub(") {
        Some(rest) => rest.split_once(')').map_or(rest, |(_, rest)| rest),
        None => before,
    };
    seen.split_whitespace()
        .all(|word| matches!(word, "pub" | "const" | "async" | "unsafe" | "extern" | "\"C\""))
}

#[test]
fn long_functions_of_every_kind_are_found() {
    for head in [
        "fn",
        "pub fn",
        "async fn",
        "pub(super) async fn",
        "pub(in crate::model) const fn",
        "pub const fn",
    ] {
        let mut lines = vec![format!("    {head} bake() {{")];
        lines.extend(vec!["        rise();".to_owned(); LINES_A_FUNCTION - 3]);
        lines.push("    }".to_owned());
        let faults = |lines: &[String]| {
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            long_functions("x.rs", &lines).len()
        };
        assert_eq!(faults(&lines), 0, "{head}");
        lines.insert(1, "        fold();".to_owned());
        assert_eq!(faults(&lines), 1, "{head}");
    }
    assert!(!begins_function("let of = |fn | 1") && !begins_function("// a fn "));
}

#[test]
fn every_file_says_what_it_owns() {
    let files: Vec<_> = rust_files("src/")
        .into_iter()
        .chain(rust_files("tests/"))
        .collect();
    for (path, text) in files {
        assert!(text.starts_with("//! "), "{path} does not open with a `//!` line");
    }
}

#[test]
fn the_top_level_is_as_agreed() {
    let found: BTreeSet<String> = listed_files()
        .iter()
        .filter_map(|path| path.split('/').next().map(ToOwned::to_owned))
        .filter(|name| !name.starts_with('.'))
        .collect();
    let wanted: BTreeSet<String> = TOP_LEVEL.iter().map(|name| (*name).to_owned()).collect();
    assert_eq!(found, wanted);
}

#[test]
fn nothing_is_left_to_do_and_no_machine_is_named() {
    // The words are put together here, so that this file does not name them.
    let marks = [["TO", "DO"], ["FIX", "ME"], ["XX", "X:"]].map(|parts| parts.concat());
    let machine = [
        ["/", "work/"],
        ["/", "tmp/"],
        ["sha", "red/"],
        [".lib", "rary/"],
        ["/", "root/"],
    ]
    .map(|parts| parts.concat());
    let texts = [
        "rs", "md", "toml", "pest", "py", "mjs", "js", "html", "css", "loaf", "json", "csv", "txt", "sh",
        "snap",
    ];
    let mut faults = Vec::new();
    for path in listed_files() {
        let is_script = path.ends_with("/run");
        if !(has_extension(&path, &texts) || is_script) {
            continue;
        }
        let text = String::from_utf8_lossy(&fs::read(root().join(&path)).unwrap()).into_owned();
        // A case may hold any word that a baker writes.
        let marks = if path.starts_with("tests/cases/") {
            &[][..]
        } else {
            &marks
        };
        for word in marks.iter().chain(&machine) {
            let hit = text.lines().position(|line| line.contains(word.as_str()));
            faults.extend(hit.map(|line| format!("{path}:{}: {word}", line + 1)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn paths_that_the_guide_names_exist() {
    let guide = read(&root().join("DEVELOPERS.md"));
    let is_path = |text: &&str| {
        let known = [
            "src/",
            "tests/",
            "grammar/",
            "templates/",
            "recipes/",
            ".ci/",
            ".cargo/",
        ];
        known.iter().any(|start| text.starts_with(start)) && !text.contains(['*', '<', ' ', '{'])
    };
    let named: Vec<&str> = guide.split('`').skip(1).step_by(2).filter(is_path).collect();
    assert!(named.len() > 10, "the guide names {} paths", named.len());
    for path in named {
        assert!(
            root().join(path).exists(),
            "DEVELOPERS.md names `{path}`, which is not there"
        );
    }
}

/// Faults whose case a test makes: too big a file to ship (`tests/suite/check.rs`), or a wish beside a recipe, which
/// no file can hold (`tests/suite/wishes.rs`).
const MADE_BY_A_TEST: &[&str] = &["file-too-large", "wish-refused"];

#[test]
fn every_code_has_a_case() {
    let folder = root().join("tests/cases/check");
    let entries = fs::read_dir(&folder).expect("the cases are there");
    let names: BTreeSet<String> = entries
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    let has_case = |slug: &str| {
        let named = |name: &String| {
            let stem = name.split('.').next().unwrap_or_default();
            stem == slug || stem.strip_prefix(slug).is_some_and(|rest| rest.starts_with("--"))
        };
        names.iter().any(named)
    };
    let missing: Vec<_> = loafwright::diag::Code::ALL
        .iter()
        .map(|code| code.slug())
        .filter(|slug| !has_case(slug) && !MADE_BY_A_TEST.contains(slug))
        .collect();
    assert!(
        missing.is_empty(),
        "no case in tests/cases/check for {}",
        missing.join(", ")
    );
}

#[test]
fn no_snapshot_is_left_over() {
    let orphan = |path: &PathBuf| {
        let text = path.to_string_lossy();
        text.ends_with(".snap.new") || text.ends_with(".pending-snap")
    };
    let mut folders = vec![root().join("tests"), root().join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            assert!(!orphan(&path), "{} waits to be looked at", path.display());
            if path.is_dir() && !path.ends_with("node_modules") {
                folders.push(path);
            }
        }
    }
}
