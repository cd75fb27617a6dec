//! The pages of `grammar/ARITHMETIC.md` cannot rot: every worked example is run, and says what the page says.
//!
//! Owns how an example is tried. `loaf` is the recipe until the next one, `loaf-bakehouse` the file beside it
//! until the end of the chapter; `console` is a command behind a dollar sign, and lines of what it prints, in
//! their order; `example` is tried in `worked.rs`. A line of three dots stands for lines that are left out.

use std::fs;
use std::path::Path;

use super::kitchen::Kitchen;

/// A fenced block of the page.
struct Fence {
    line: usize,
    mark: String,
    text: String,
}

/// A chapter: its heading, and its blocks.
struct Chapter {
    title: String,
    fences: Vec<Fence>,
}

fn chapters() -> Vec<Chapter> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/ARITHMETIC.md");
    let page = fs::read_to_string(path).unwrap();
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut open: Option<Fence> = None;
    for (at, line) in page.lines().enumerate() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(_), Some(_)) => {
                let fence = open.take().unwrap();
                chapters.last_mut().expect("a heading").fences.push(fence);
            }
            (Some(mark), None) => {
                let (line, mark, text) = (at + 1, mark.to_owned(), String::new());
                open = Some(Fence { line, mark, text });
            }
            (None, Some(fence)) => fence.text += &format!("{line}\n"),
            (None, None) => {
                if let Some(title) = line.strip_prefix("## ") {
                    let (title, fences) = (title.to_owned(), Vec::new());
                    chapters.push(Chapter { title, fences });
                }
            }
        }
    }
    assert!(open.is_none(), "a fence of the page is never closed");
    chapters
}

/// Takes a command apart as a shell does: words, and words between single quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (at, part) in command.split('\'').enumerate() {
        if at % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

/// Gives the words of a line with one blank between them: how a table is spaced is told nowhere on the page.
fn squeezed(line: &str) -> String {
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn try_example(kitchen: &Kitchen, fence: &Fence) {
    let (command, wanted) = fence.text.split_once('\n').unwrap();
    let words = words(command.strip_prefix("$ loafwright ").expect("a command"));
    let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
    let served = kitchen.run(&arguments);
    let said = served.out.clone() + &served.err;
    let lines: Vec<String> = said.lines().map(squeezed).collect();
    let mut from = 0;
    let mut may_skip = true;
    for line in wanted.lines().map(squeezed) {
        if line == "..." {
            may_skip = true;
            continue;
        }
        let rest = &lines[from..];
        let found = rest.iter().position(|said| *said == line);
        let met = found.filter(|at| may_skip || *at == 0);
        let at = met.unwrap_or_else(|| panic!("ARITHMETIC.md:{}: `{line}` is not said\n{said}", fence.line));
        from += at + 1;
        may_skip = false;
    }
}

#[test]
fn every_worked_example_comes_out_as_the_page_says() {
    let mut tried = 0;
    let mut recipe = None;
    let all = chapters();
    for chapter in &all {
        let mut house = None;
        let mut here = 0;
        for fence in &chapter.fences {
            match fence.mark.as_str() {
                "loaf" => recipe = Some(&fence.text),
                "loaf-bakehouse" => house = Some(&fence.text),
                "console" => {
                    let mut kitchen = Kitchen::new();
                    if let Some(text) = recipe {
                        kitchen = kitchen.file("bread.loaf", text);
                    }
                    if let Some(text) = house {
                        kitchen = kitchen.file("bakehouse.loaf", text);
                    }
                    try_example(&kitchen, fence);
                    here += 1;
                }
                "text" => {}
                // Read off the document, in `worked.rs`.
                "example" => here += 1,
                mark => panic!("ARITHMETIC.md:{}: what is `{mark}`?", fence.line),
            }
        }
        assert!(here > 0, "the chapter `{}` has no worked example", chapter.title);
        tried += here;
    }
    assert!(tried > 0, "the page has no example at all");
}
