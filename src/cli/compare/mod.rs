//! `compare`: what differs in the bread between two versions of a recipe or of a whole book.
//!
//! Owns which versions are compared with which, and in which form the outcome is shown.

mod alike;
mod book;
mod driver;
mod history;
mod location;
mod pairs;
mod tree;

use std::ffi::OsString;
use std::path::PathBuf;

use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};

use super::design::Design;
use super::tally::counted;
use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::format::difference;
use crate::render::changes_markdown::render_markdown;
use crate::render::changes_text::render_comparison;
use crate::render::json::{comparison_schema, render_comparisons};
use crate::view::changes::{ComparisonDocument, FileComparison, Verdict, VersionRow, view_comparison};
use book::{Book, Loaded};

/// Say what differs in the bread between two versions
///
/// First the figures that matter, then the lines: what came, went and was re-weighed, steps that take longer, words
/// that read otherwise. The same formula in another size is told as that, and what only looks otherwise is no
/// change. OLD and NEW are recipes, folders with recipes, or versions in git, written REV:PATH.
///
/// Exit codes: 0 the same bread, 1 another bread, 2 something could not be compared.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The older and the newer version; with --since, what to look at [default: this folder]
    #[arg(value_name = "VERSION")]
    versions: Vec<OsString>,
    /// Compare with the version of this commit
    #[arg(long, value_name = "REV")]
    since: Option<String>,
    /// Show how a recipe became what it is, commit by commit
    #[arg(long, value_name = "FILE", conflicts_with_all = ["since", "versions"])]
    history: Option<PathBuf>,
    #[command(flatten)]
    form: Form,
    #[command(flatten)]
    design: Design,
    /// Show the difference of the texts too
    #[arg(long)]
    text: bool,
    /// Print the JSON Schema of the document and nothing else
    #[arg(long)]
    schema: bool,
    /// Print what makes git show differences of recipes this way
    #[arg(long)]
    git_setup: bool,
    /// Print a recipe as lines of figures, for git to compare
    #[arg(long, value_name = "FILE", conflicts_with_all = ["since", "versions", "history"])]
    textconv: Option<PathBuf>,
}

/// In which form the outcome is shown; without any as text.
#[derive(Debug, clap::Args)]
#[group(multiple = false)]
struct Form {
    /// Print a JSON document; `grammar/compare.schema.json` describes it
    #[arg(long)]
    json: bool,
    /// Print Markdown, for a pull request
    #[arg(long)]
    markdown: bool,
    /// Print a page with old and new side by side, with --templates as you like it
    #[arg(long)]
    html: bool,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    if arguments.schema {
        ui.result(&comparison_schema());
        return Ok(Exit::Fine);
    }
    if arguments.git_setup {
        ui.result(driver::SETUP);
        return Ok(Exit::Fine);
    }
    if arguments.design.folder().is_some() && !arguments.form.html {
        return Err(Unable::new(
            "--templates goes with --html: the page is what they make",
        ));
    }
    if let Some(file) = &arguments.textconv {
        return driver::convert(file, ui);
    }
    if let Some(file) = &arguments.history {
        return history::run(arguments, file, ui);
    }
    if arguments.since.is_none() && driver::is_called_by_git(&arguments.versions) {
        return driver::run(arguments, &arguments.versions, ui);
    }
    let (old, new) = arguments.books()?;
    for unread in old.unread.iter().chain(&new.unread) {
        ui.talk(&format!("error: {unread}\n"));
    }
    let failed = !old.unread.is_empty() || !new.unread.is_empty();
    let pairs = pairs::pairs(&old, &new)?;
    let compared: Vec<std::result::Result<Compared, Unable>> = pairs
        .par_iter()
        .map(|(left, right)| {
            let load = |book: &Book, at: &Option<usize>| at.map(|at| book.load(at)).transpose();
            let compared = arguments.compared(load(&old, left)?.as_ref(), load(&new, right)?.as_ref());
            let path = |book: &Book, at: &Option<usize>| Some(book.entries.get((*at)?)?.path.clone());
            let is_renamed = path(&old, left) != path(&new, right);
            Ok(Compared {
                is_renamed,
                ..compared
            })
        })
        .collect();
    let mut outcome = Outcome {
        exit: if failed { Exit::Unable } else { Exit::Fine },
        views: Vec::with_capacity(compared.len()),
    };
    for one in compared {
        match one {
            Ok(compared) => outcome.take(compared, ui),
            Err(Unable(why)) => {
                ui.talk(&format!("error: {why}\n"));
                outcome.exit = Exit::Unable;
            }
        }
    }
    let is_book = old.is_folder || new.is_folder || arguments.since.is_some();
    arguments.show(outcome, is_book, ui)
}

/// A comparison with the errors of its versions.
struct Compared {
    view: FileComparison,
    faults: String,
    /// Whether the recipe lies elsewhere in its book now.
    is_renamed: bool,
}

/// Everything that a run has found.
struct Outcome {
    /// The comparisons, each with whether the recipe lies elsewhere in its book now.
    views: Vec<(FileComparison, bool)>,
    exit: Exit,
}

impl Outcome {
    fn take(&mut self, compared: Compared, ui: &mut Ui) {
        ui.talk(&compared.faults);
        self.exit = self.exit.max(exit(compared.view.verdict));
        self.views.push((compared.view, compared.is_renamed));
    }
}

/// Another bread is what a script asks for; what is only written otherwise is the same bread.
const fn exit(verdict: Verdict) -> Exit {
    match verdict {
        Verdict::Same | Verdict::Writing => Exit::Fine,
        Verdict::Scaled | Verdict::Changed | Verdict::Added | Verdict::Gone => Exit::Faults,
        Verdict::Unknown => Exit::Unable,
    }
}

impl Arguments {
    fn books(&self) -> Result<(Book, Book)> {
        if let Some(revision) = &self.since {
            let paths: Vec<PathBuf> = self.versions.iter().map(PathBuf::from).collect();
            return location::since(revision, &paths);
        }
        if let [old, new] = self.versions.as_slice() {
            return Ok((location::book(old)?, location::book(new)?));
        }
        Err(Unable::new(
            "name the older and the newer version, or use `--since REV`",
        ))
    }

    /// Compares two versions of which one may not be there.
    fn compared(&self, old: Option<&Loaded>, new: Option<&Loaded>) -> Compared {
        if new.or(old).is_some_and(|loaded| loaded.is_house) {
            return houses(old, new);
        }
        let (old_side, new_side) = (old.and_then(Loaded::side), new.and_then(Loaded::side));
        let mut view = view_comparison(
            old.map(|loaded| loaded.version(old_side.as_ref())),
            new.map(|loaded| loaded.version(new_side.as_ref())),
        );
        let wants_text = self.text || view.verdict == Verdict::Unknown;
        view.difference = Some(text_difference(old, new)).filter(|text| wants_text && !text.is_empty());
        let faults = [old, new].into_iter().flatten().map(Loaded::errors).collect();
        Compared {
            view,
            faults,
            is_renamed: false,
        }
    }

    fn show(&self, outcome: Outcome, is_book: bool, ui: &mut Ui) -> Result<Exit> {
        let Outcome { views, exit } = outcome;
        if self.form.json {
            let views = views.into_iter().map(|(view, _)| view).collect();
            ui.result(&render_comparisons(&ComparisonDocument::new(views)));
            return Ok(exit);
        }
        let is_one = |wanted: &[Verdict], view: &FileComparison| wanted.contains(&view.verdict);
        let count = |wanted: &[Verdict]| views.iter().filter(|(view, _)| is_one(wanted, view)).count();
        let same = count(&[Verdict::Same]);
        let talk = format!(
            "{} compared, {}\n",
            counted(views.len(), "recipe"),
            summary(&count)
        );
        // In a book, what is the same letter by letter is not worth a line, unless it has another name.
        let told: Vec<FileComparison> = views
            .into_iter()
            .filter(|(view, is_renamed)| !is_book || *is_renamed || view.verdict != Verdict::Same)
            .map(|(view, _)| view)
            .collect();
        let all_same = told.is_empty() && same > 0;
        self.print(told, ui)?;
        if is_book || all_same {
            ui.talk(&talk);
        }
        Ok(exit)
    }

    /// Prints comparisons in the form that was asked for.
    fn print(&self, views: Vec<FileComparison>, ui: &mut Ui) -> Result<()> {
        if self.form.html {
            return self.print_page(&ComparisonDocument::new(views), ui);
        }
        for (at, view) in views.iter().enumerate() {
            if at > 0 {
                ui.result("\n");
            }
            ui.result(&if self.form.markdown {
                render_markdown(view)
            } else {
                render_comparison(view)
            });
        }
        Ok(())
    }

    /// Prints a page with both versions side by side.
    fn print_page(&self, document: &ComparisonDocument, ui: &mut Ui) -> Result<()> {
        let page = self.design.renderer(ui)?.comparison(document)?;
        ui.result(&page);
        Ok(())
    }
}

/// Compares two bakehouse files, line by line.
fn houses(old: Option<&Loaded>, new: Option<&Loaded>) -> Compared {
    let name = |loaded: Option<&Loaded>| loaded.map(|loaded| loaded.name.clone());
    let texts = (old.map(Loaded::text), new.map(Loaded::text));
    Compared {
        view: FileComparison::of_bakehouse((name(old), name(new)), texts, text_difference(old, new)),
        faults: String::new(),
        is_renamed: false,
    }
}

/// Counts what came of the comparisons, in words.
fn summary(count: &impl Fn(&[Verdict]) -> usize) -> String {
    let parts = [
        (count(&[Verdict::Changed]), "changed"),
        (count(&[Verdict::Scaled]), "scaled"),
        (count(&[Verdict::Added]), "new"),
        (count(&[Verdict::Gone]), "gone"),
        (count(&[Verdict::Writing]), "only written otherwise"),
        (count(&[Verdict::Same]), "the same"),
        (count(&[Verdict::Unknown]), "not comparable"),
    ];
    let named: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    if named.is_empty() {
        "none of them changed".to_owned()
    } else {
        named.join(", ")
    }
}

fn text_difference(old: Option<&Loaded>, new: Option<&Loaded>) -> String {
    let text = |loaded: Option<&Loaded>| loaded.map_or("", Loaded::text).to_owned();
    let name = new.or(old).map_or("", |loaded| loaded.name.as_str());
    difference(name, &text(old), &text(new))
}

/// Puts a history in the form of the document.
fn document(views: Vec<FileComparison>, history: Vec<VersionRow>) -> ComparisonDocument {
    ComparisonDocument {
        history: Some(history),
        ..ComparisonDocument::new(views)
    }
}
