//! `build`: the cards of recipes, and the index of a folder.
#![expect(clippy::disallowed_methods, reason = "this asks whether a folder was named")]

use std::path::PathBuf;

use rayon::iter::{
    IndexedParallelIterator as _, IntoParallelRefIterator as _, ParallelExtend as _, ParallelIterator as _,
};

use super::bench::{Baked, Bench, Prepared};
use super::contents::{Contents, SITEMAP};
use super::design::Design;
use super::pages::{Press, is_card};
use super::shelf::{SiteUrl, beside};
use super::sources::Sources;
use super::tally::{Tally, counted};
use super::ui::Ui;
use super::wishes::{read_starter, read_swaps};
use super::{Exit, Result, Unable, asked};
use crate::disk::{OutFolder, Written, shown};
use crate::quantity::ClockTime;
use crate::render::html::Renderer;
use crate::sheet::{Request, Wishes};
use crate::view::{Link, Paper};

/// Make the cards of recipes
///
/// A card is one HTML file, named after its recipe, that opens from disk and prints. On a second paper it is a second
/// file: `rye.html`, `rye.a5.html`. Beside it stands a page for readers, `rye.read.html`, on which pieces, units and
/// variation are chosen; the pages of a folder get an index. All of it works from disk and on any web server. Only
/// what changed is written. A recipe with an error keeps the pages that it had, and the run ends with exit code 1.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Recipes, or folders with recipes [default: this folder]
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    cards: Cards,
}

/// Where cards go, and what they are like.
#[derive(Debug, clap::Args)]
pub(super) struct Cards {
    /// The folder for the cards
    #[arg(long, value_name = "DIR", default_value = "cards")]
    pub(super) out: PathBuf,
    /// Papers to lay the cards out for, with commas between: `a5,4x6` [default: what the recipe or its bakehouse says]
    #[arg(long, value_name = "PAPER", value_delimiter = ',', value_parser = paper)]
    paper: Vec<Paper>,
    /// When the bake begins, `20:30`: the cards have the times of the clock then, not those from the start
    #[arg(long, value_name = "TIME", value_parser = clock)]
    start: Option<ClockTime>,
    /// Where the folder will stand on the web: pages name their whole address, and a sitemap is written
    #[arg(long, value_name = "URL", value_parser = SiteUrl::typed)]
    pub(super) site_url: Option<SiteUrl>,
    #[command(flatten)]
    size: asked::Size,
    /// Correct the cards for the starter that is at hand, so that the bread stays, and say so on them: `'hydration
    /// 125 %'`; pages for readers keep the recipe as it is
    #[arg(long, value_name = "HYDRATION")]
    starter: Option<String>,
    /// Say on the cards what an ingredient in the place of another changes; may be given again: `'honey instead of
    /// sugar'`
    #[arg(long, value_name = "SWAP")]
    swap: Vec<String>,
    #[command(flatten)]
    pub(super) design: Design,
    #[command(flatten)]
    room: asked::Room,
}

/// What is asked of every recipe.
#[derive(Clone, Debug)]
pub(super) struct Wanted {
    request: Request,
    wishes: Wishes,
}

impl Cards {
    /// Reads what is asked of every recipe.
    pub(super) fn wanted(&self) -> Result<Wanted> {
        Ok(Wanted {
            request: Request {
                room: self.room.celsius()?,
                ..self.size.request()?
            },
            wishes: Wishes {
                starter: read_starter(self.starter.as_deref())?,
                swaps: read_swaps(&self.swap)?,
                ..Wishes::default()
            },
        })
    }

    /// Gives what pages are made with.
    pub(super) fn press<'run>(&'run self, renderer: &'run Renderer, wanted: &'run Wanted) -> Press<'run> {
        Press {
            request: &wanted.request,
            renderer,
            papers: &self.paper,
            start: self.start,
            site: self.site_url.as_ref(),
            wishes: &wanted.wishes,
        }
    }
}

/// Reads a time of day as a recipe's bakehouse has it.
fn clock(text: &str) -> std::result::Result<ClockTime, String> {
    let time = text
        .split_once(':')
        .and_then(|(hour, minute)| ClockTime::new(hour.trim().parse().ok()?, minute.trim().parse().ok()?));
    time.ok_or_else(|| "write hours and minutes, as in 20:30".to_owned())
}

/// Reads the name of a paper.
fn paper(text: &str) -> std::result::Result<Paper, String> {
    Paper::typed(text).ok_or_else(|| {
        let slugs = Paper::NAMED.map(|(_, paper)| paper.slug());
        format!("there are cards for {}", slugs.join(", "))
    })
}

/// Recipes that are worked on before their faults are shown and the next ones are begun. Enough to keep all cores
/// busy, and few enough to be held in memory.
pub(super) const AT_ONCE: usize = 64;

/// The page that lists the cards.
pub(super) const INDEX: &str = "index.html";

/// What a run has made so far.
#[derive(Default)]
struct Made {
    tally: Tally,
    exit: Option<Exit>,
    contents: Contents,
    pages: Vec<String>,
    new: usize,
    changed: usize,
    same: usize,
    failed: usize,
}

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let wanted = arguments.cards.wanted()?;
    let sources = Sources::find(&arguments.paths, None)?;
    sources.expect_some()?;
    let mut made = Made::default();
    made.note(sources.tell_unread(ui));
    if sources.recipes.is_empty() && sources.unread.is_empty() {
        return Err(Unable::new(
            "there is no recipe here, only what is true of a bakehouse",
        ));
    }
    if sources.recipes.is_empty() {
        return Ok(Exit::Unable);
    }
    made.tally = sources.houses.tell(ui);
    let cards = &arguments.cards;
    let renderer = cards.design.renderer(ui)?;
    let out = OutFolder::open(&cards.out, &arguments.paths)?;
    let has_folder = arguments.paths.is_empty() || arguments.paths.iter().any(|path| path.is_dir());
    let press = cards.press(&renderer, &wanted);
    let bench = Bench::new(&sources, &arguments.paths, &cards.out, &press, &out);
    bake_all(&sources, &bench, has_folder.then_some(INDEX), &mut made, ui)?;
    if has_folder {
        let pages = std::mem::take(&mut made.contents).pages(&renderer, cards.site_url.as_ref());
        made.pages = vec![INDEX.to_owned()];
        for (name, page) in pages? {
            out.write(name, None, page.as_bytes())?;
        }
    }
    if has_folder && cards.site_url.is_none() {
        out.retire(SITEMAP);
    }
    let gone = out.finish()?;
    for page in &made.pages {
        ui.result(&format!("{}\n", shown(&cards.out.join(page))));
    }
    let gone = gone.iter().filter(|page| is_card(page)).count();
    ui.talk(&made.summary(&shown(&cards.out), gone));
    Ok(made.exit.unwrap_or(Exit::Fine).max(made.tally.exit(false)))
}

/// Makes the pages of all recipes, some at a time; the last of them waits until the one after it is known.
fn bake_all(
    sources: &Sources,
    bench: &Bench<'_>,
    index: Option<&'static str>,
    made: &mut Made,
    ui: &mut Ui,
) -> Result<()> {
    let count = sources.recipes.len();
    let mut waiting: Vec<Prepared<'_>> = Vec::new();
    let mut before: Option<Link> = None;
    for (turn, recipes) in sources.recipes.chunks(AT_ONCE).enumerate() {
        if count > AT_ONCE {
            ui.progress(&format!("{} of {}", turn * AT_ONCE, counted(count, "recipe")));
        }
        waiting.par_extend(recipes.par_iter().map(|recipe| bench.prepare(recipe)));
        let is_last = (turn + 1) * AT_ONCE >= count;
        let ready = match waiting.iter().rposition(|one| one.page.is_some()) {
            Some(last) if !is_last => last,
            _ => waiting.len(),
        };
        let pages: Vec<Option<Link>> = waiting.iter().map(|one| one.page.clone()).collect();
        let pages = if index.is_some() {
            pages
        } else {
            vec![None; pages.len()]
        };
        let places = beside(&pages, before.as_ref(), index);
        let later = waiting.split_off(ready);
        let baked: Vec<Baked> = waiting
            .par_iter()
            .zip(&places)
            .map(|(one, place)| bench.bake(one, place))
            .collect();
        for one in baked {
            ui.talk(&one.told);
            if one.exit == Exit::Unable && bench.has_failed_template() {
                return Err(Unable::new(
                    "no more cards are made with this template; those that stand there stay",
                ));
            }
            made.take(one);
        }
        let last = pages.get(..ready).into_iter().flatten().flatten().next_back();
        before = last.cloned().or(before);
        waiting = later;
    }
    Ok(())
}

impl Made {
    fn note(&mut self, exit: Exit) {
        self.exit = self.exit.max(Some(exit));
    }

    fn take(&mut self, one: Baked) {
        self.tally = self.tally.plus(one.tally);
        self.note(one.exit);
        self.failed += usize::from(one.written.is_empty());
        for (page, written) in one.written {
            if !is_card(&page) {
                self.pages.push(page);
                continue;
            }
            match written {
                Written::New => self.new += 1,
                Written::Changed => self.changed += 1,
                Written::Same => self.same += 1,
            }
            self.pages.push(page);
        }
        self.contents.take(one.row, one.language, one.house);
    }

    /// Says what was made and what was not.
    fn summary(&self, folder: &str, gone: usize) -> String {
        let cards = counted(self.new + self.changed + self.same, "card");
        let mut text = format!(
            "{cards} in {folder}: {} new, {} changed, {} as before",
            self.new, self.changed, self.same
        );
        if gone > 0 {
            text.push_str(&format!(", {gone} gone"));
        }
        if self.failed > 0 {
            let recipes = counted(self.failed, "recipe");
            text.push_str(&format!(
                "; {recipes} made no card and kept the old one, if there was one"
            ));
        }
        if !self.tally.is_clean() {
            text.push_str(&format!(
                "\n{}; `loafwright check` shows all of them",
                self.tally.words()
            ));
        }
        text.push('\n');
        text
    }
}
