//! `watch`: the cards beside the editor. Builds, serves, and builds again what a change on the disk has to do with.
//!
//! Owns the loop and what it says. What a change is and when it is worth a look is the business of
//! [`crate::watch`], what depends on what that of `book`.
#![expect(
    clippy::disallowed_methods,
    reason = "waiting for changes wants a clock, and a look at what was named"
)]

mod book;
mod edition;
mod making;
mod words;

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use self::book::{Book, MustRead, Turn};
use self::edition::{Edition, Meaning, is_litter, path_of, print_of};
use super::bench::Bench;
use super::build::{Cards, INDEX, Wanted};
use super::design::Design;
use super::houses::House;
use super::sources::Sources;
use super::ui::Ui;
use super::{Exit, Result, Unable};
use crate::disk::{OutFolder, stamp};
use crate::render::html::Renderer;
use crate::watch::{Blind, Call, Eyes, GAP, Live, PAUSE, Patience, Server, Sight, Stop, open_browser};

/// Make the cards of recipes and keep them up to date while you write
///
/// Shows the cards to the browser of this machine, at the address that it prints. When a recipe is saved, its card is
/// made anew and an open page changes in place; a fault is shown over the last good card. Ctrl-C ends it.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A recipe, or a folder with recipes [default: this folder]
    #[arg(value_name = "PATH")]
    path: Option<PathBuf>,
    #[command(flatten)]
    cards: Cards,
    /// Open the cards in the browser
    #[arg(long)]
    open: bool,
    /// The port to serve the cards on; 0 for any that is free
    #[arg(long, value_name = "N", default_value_t = 8484)]
    port: u16,
    /// Look for changes twice a second, where the system tells of none: on a disk of another machine, in a container
    #[arg(long)]
    poll: bool,
}

/// How often it is looked for changes where the system tells of none, at the most.
const POLL: Duration = Duration::from_millis(500);

/// How often it is looked whether a file that was missed is there again.
const GLANCE: Duration = Duration::from_millis(10);

/// How often a recipe that lies there must be passed over until it counts as left out.
const LOOKS: u8 = 3;

/// How often it is looked whether the watched folder is still the one that it was.
const HEARTBEAT: Duration = Duration::from_millis(500);

pub(super) fn run(arguments: &Arguments, ui: &mut Ui) -> Result<Exit> {
    let paths: Vec<PathBuf> = arguments.path.iter().cloned().collect();
    let wanted = arguments.cards.wanted()?;
    let sources = Sources::find(&paths, None)?;
    sources.expect_some()?;
    if sources.recipes.is_empty() {
        sources.tell_unread(ui);
        return Err(Unable::new("there is no recipe here to make a card of"));
    }
    drop(sources);
    let server = Server::bind(arguments.port)?;
    let out = Arc::new(OutFolder::open(&arguments.cards.out, &paths)?);
    let renderer = Arc::new(arguments.cards.design.renderer(ui)?);
    let look = look_of(&arguments.cards.design);
    let (sender, calls) = channel();
    let live = Arc::<Live>::default();
    let address = server.address();
    server.start(Arc::clone(&out), Arc::clone(&live), sender.clone())?;
    let mut watch = Watch {
        ui,
        paths,
        cards: &arguments.cards,
        wanted,
        renderer,
        look,
        bad_look: None,
        out,
        live,
        calls,
        eyes: None,
        patience: Patience::default(),
        book: Book::default(),
        said: String::new(),
        stop: None,
        is_away: false,
        looked: now(),
        pace: POLL,
    };
    if !arguments.poll {
        match Eyes::open(sender) {
            Ok(eyes) => watch.eyes = Some(eyes),
            Err(why) => watch.go_blind(&why),
        }
    }
    watch.keep_up(&address, arguments.open)
}

/// Everything that lasts from one edition of the book to the next.
struct Watch<'run, 'ui> {
    ui: &'ui mut Ui,
    paths: Vec<PathBuf>,
    cards: &'run Cards,
    wanted: Wanted,
    renderer: Arc<Renderer>,
    /// A number that changes with the templates that the renderer is made of.
    look: u64,
    /// The number of templates with a fault, and the fault; the ones before are in use.
    bad_look: Option<(u64, String)>,
    out: Arc<OutFolder>,
    live: Arc<Live>,
    calls: Receiver<Call>,
    /// Nothing where the disk is looked at now and then.
    eyes: Option<Eyes>,
    patience: Patience,
    book: Book,
    /// What was last said of bakehouses and of what could not be looked at.
    said: String,
    stop: Option<Stop>,
    /// Whether what is watched is not there at the moment.
    is_away: bool,
    /// When everything was looked at last, and how long until the next time where nobody tells of changes.
    looked: Instant,
    pace: Duration,
}

impl Watch<'_, '_> {
    /// Makes edition after edition until the user ends it.
    fn keep_up(mut self, address: &str, is_to_open: bool) -> Result<Exit> {
        let mut is_first = true;
        while self.stop.is_none() {
            let Some(sources) = self.look()? else {
                self.wait(HEARTBEAT);
                continue;
            };
            let (paths, out) = (self.paths.clone(), Arc::clone(&self.out));
            let is_restyled = self.renew_look();
            let (renderer, wanted, cards) = (Arc::clone(&self.renderer), self.wanted.clone(), self.cards);
            let press = cards.press(&renderer, &wanted);
            let bench = Bench::new(&sources, &paths, &cards.out, &press, &out);
            let templates = self.templates();
            let edition = Edition::new(&sources, &bench, self.look, templates);
            self.book.has_new_rows |= is_restyled;
            let is_folder = self.paths.iter().all(|path| path.is_dir());
            self.book.begin(&edition, is_folder.then_some(INDEX));
            self.catch_up(&edition, is_first);
            if is_restyled || self.bad_look.is_some() {
                self.tell_again(&edition);
            }
            if is_first && self.stop.is_none() {
                self.settle(&edition);
                self.ui.result(&format!("{address}\n"));
                self.ui.talk("watching; Ctrl-C ends it\n");
                if is_to_open && open_browser(address).is_err() {
                    self.ui
                        .talk("no browser could be opened; open the address above yourself\n");
                }
                is_first = false;
            }
            self.follow(&edition);
            // A book that is half made keeps the index that it had.
            if self.stop.is_some() && !is_first {
                self.settle(&edition);
            }
        }
        Ok(match self.stop {
            Some(Stop::Terminate) => Exit::Terminated,
            _ => Exit::Interrupted,
        })
    }

    /// Finds what there is, and watches the folders of it. Nothing where the folder itself is not there.
    fn look(&mut self) -> Result<Option<Sources>> {
        self.patience.everything_is_looked_at();
        self.looked = now();
        let missing = self
            .paths
            .iter()
            .find(|path| std::fs::exists(path).is_ok_and(|is_there| !is_there));
        if let Some(missing) = missing {
            let missing = crate::disk::shown(missing);
            self.say_once(format!(
                "{missing} is gone; its cards stay, and so does this until it is there again\n"
            ));
            let pages: Vec<String> = self.book.pages().cloned().collect();
            for page in &pages {
                self.live.is_gone(page, None);
            }
            self.live.tick();
            self.is_away = true;
            return Ok(None);
        }
        if std::mem::take(&mut self.is_away) {
            self.live.all_are_there();
        }
        // What came between the look and the watch is seen by a second look.
        let mut sources = Sources::find(&self.paths, None)?;
        for _ in 0..4 {
            let wanted = self.wanted(&sources);
            let looked = self.eyes.as_mut().map(|eyes| eyes.look_at(&wanted));
            match looked {
                Some(Ok(true)) => sources = Sources::find(&self.paths, None)?,
                Some(Err(why)) => self.go_blind(&why),
                Some(Ok(false)) | None => break,
            }
        }
        let sources = self.look_twice(sources)?;
        self.pace = POLL.max(self.looked.elapsed() * 5);
        Ok(Some(sources))
    }

    /// Looks again for recipes that are no longer found: an editor may be about to put one back. One counts as gone
    /// when its file was missing all the time, or when it lies there and is passed over each time.
    fn look_twice(&mut self, mut sources: Sources) -> Result<Sources> {
        let mut doubts = BTreeMap::<PathBuf, u8>::new();
        loop {
            let is_open = |path: &PathBuf| doubts.get(path).is_none_or(|looks| *looks < LOOKS);
            let missing: Vec<PathBuf> = self.book.missing(&sources).into_iter().filter(is_open).collect();
            if missing.is_empty() || self.stop.is_some() {
                return Ok(sources);
            }
            let mut absent = missing.clone();
            let end = now() + GAP;
            loop {
                absent.retain(|path| path.symlink_metadata().is_err());
                if absent.is_empty() || self.stop.is_some() || end <= now() {
                    break;
                }
                self.wait(GLANCE);
            }
            for path in missing {
                let looks = if absent.contains(&path) { LOOKS } else { 1 };
                *doubts.entry(path).or_default() += looks;
            }
            sources = Sources::find(&self.paths, None)?;
        }
    }

    /// Takes the templates as they are now. Says whether they are others than before. Where there is a fault in one,
    /// those before stay in use.
    fn renew_look(&mut self) -> bool {
        let look = look_of(&self.cards.design);
        let was_bad = self.bad_look.is_some();
        if self.bad_look.as_ref().is_some_and(|(bad, _)| *bad == look) {
            return false;
        }
        self.bad_look = None;
        if look == self.look {
            return was_bad;
        }
        match self.cards.design.renderer(self.ui) {
            Ok(renderer) => {
                self.renderer = Arc::new(renderer);
                self.look = look;
            }
            Err(Unable(why)) => self.bad_look = Some((look, format!("error: {why}\n"))),
        }
        true
    }

    /// Gives the folder of templates without links.
    fn templates(&self) -> Option<PathBuf> {
        self.cards.design.folder()?.canonicalize().ok()
    }

    /// Lists the folders to watch: those of the recipes, of what was named, and of pictures.
    fn wanted(&self, sources: &Sources) -> BTreeSet<PathBuf> {
        let mut wanted = sources.folders.clone();
        let named = self.paths.iter().filter(|path| !path.is_dir());
        let beside = named.filter_map(|path| std::path::absolute(path).ok()?.parent()?.canonicalize().ok());
        wanted.extend(beside);
        wanted.extend(self.templates());
        wanted.extend(
            self.book
                .pictures
                .keys()
                .filter_map(|picture| Some(picture.parent()?.to_owned())),
        );
        wanted
    }

    /// Goes on without being told of changes.
    fn go_blind(&mut self, why: &Blind) {
        self.eyes = None;
        let why = match why {
            Blind::Limit => {
                "the system watches no more folders for you; it can be told to, on Linux with `sudo sysctl \
                             fs.inotify.max_user_watches=524288`"
            }
            Blind::Failed(why) => why,
        };
        self.ui
            .talk(&format!("{why}\nlooking for changes twice a second instead\n"));
    }

    /// Compares everything with what was made of it, and makes what is new or depends on something new.
    fn catch_up(&mut self, edition: &Edition, is_first: bool) {
        self.say_of_places(edition);
        let start = now();
        let must_read = if self.eyes.is_some() {
            MustRead::No
        } else {
            MustRead::WhereUnsettled
        };
        let places = 0..edition.sources.recipes.len();
        let mut turns: Vec<Turn> = places
            .filter_map(|place| self.book.turn(edition, place, must_read, start))
            .collect();
        if !is_first && turns.iter().any(|turn| turn.is_edited) {
            // It may be half written; what still changes comes with the next look, or when its writer has closed it.
            self.wait(if self.eyes.is_none() { PAUSE } else { GLANCE });
            turns.retain(|turn| turn.is_still_so(edition) && !self.is_in_hand(edition, turn));
        }
        let new: Vec<PathBuf> = turns
            .iter()
            .filter_map(|turn| path_of(edition.sources.recipes.get(turn.place)?))
            .collect();
        self.bake(edition, turns, start);
        if self.stop.is_none() {
            self.let_go(edition, &new);
        }
    }

    /// Says whether the file of a recipe is being written, as far as the system has told.
    fn is_in_hand(&self, edition: &Edition, turn: &Turn) -> bool {
        let recipe = edition.sources.recipes.get(turn.place);
        let path = recipe.and_then(path_of);
        path.is_some_and(|path| self.patience.waits_for(&path, now()))
    }

    /// Serves an edition for as long as only what stands in its recipes changes.
    fn follow(&mut self, edition: &Edition) {
        let roots: Vec<_> = self.paths.iter().map(|path| stamp(path).ok()).collect();
        loop {
            self.hear();
            let time = now();
            let due = self.patience.due(time);
            if self.stop.is_some() || !due.is_empty() && self.serve(edition, &due) {
                return;
            }
            let time = now();
            let is_polled = self.eyes.is_none() && self.looked + self.pace <= time;
            if is_polled || self.patience.is_time_for_everything(time) {
                // What can wait is done first, so that it is never put off by one look after the other.
                if self.patience.is_quiet(time) {
                    self.settle(edition);
                }
                return;
            }
            if self.patience.is_quiet(time) {
                self.settle(edition);
                continue;
            }
            if self.has_moved(&roots) || edition.has_templates() != self.templates().is_some() {
                return;
            }
            let poll = self
                .eyes
                .is_none()
                .then(|| (self.looked + self.pace).saturating_duration_since(time));
            let rest = [self.patience.rest(time), poll, Some(HEARTBEAT)];
            self.wait(rest.into_iter().flatten().min().unwrap_or(HEARTBEAT));
        }
    }

    /// Looks at paths to which something has happened. Says whether there may be other recipes now.
    fn serve(&mut self, edition: &Edition, paths: &[PathBuf]) -> bool {
        let start = now();
        let mut has_structure = false;
        let mut places = BTreeSet::new();
        for path in paths {
            match edition.meaning(path, &self.book.pictures) {
                Meaning::Recipes(recipes) => places.extend(recipes),
                Meaning::Structure => has_structure = true,
                Meaning::Doubt => self.patience.doubt(start),
                Meaning::Nothing => {}
            }
        }
        let turn = |place| self.book.turn(edition, place, MustRead::Yes, start);
        let mut turns: Vec<Turn> = places.into_iter().filter_map(turn).collect();
        // Its writer may have begun the next save meanwhile, and what was read be half of that.
        self.hear();
        turns.retain(|turn| !self.is_in_hand(edition, turn));
        self.bake(edition, turns, start);
        has_structure
    }

    /// Says whether one of the named folders is another than it was.
    fn has_moved(&self, roots: &[Option<crate::disk::Stamp>]) -> bool {
        self.paths
            .iter()
            .zip(roots)
            .any(|(path, old)| match (old, stamp(path)) {
                (Some(old), Ok(there)) => path.is_dir() && !old.is_same_thing(&there),
                (None, Err(_)) => false,
                _ => true,
            })
    }

    /// Tells what is wrong with bakehouses and with what could not be looked at, when it is not the same as before.
    pub(super) fn say_of_places(&mut self, edition: &Edition) {
        let houses = edition.sources.houses.files.iter().map(House::grave_faults);
        let unread = edition
            .sources
            .unread
            .iter()
            .map(|error| format!("error: {error}\n"));
        let look = self.bad_look.iter().map(|(_, why)| why.clone());
        self.say_once(houses.chain(unread).chain(look).collect());
    }

    fn say_once(&mut self, text: String) {
        if self.said != text {
            self.ui.talk(&text);
            self.said = text;
        }
    }

    /// Waits for something to happen, and hears all that has.
    fn wait(&mut self, time: Duration) {
        let end = now() + time;
        if let Ok(call) = self.calls.recv_timeout(end.saturating_duration_since(now())) {
            self.note(call);
        }
        self.hear();
    }

    fn hear(&mut self) {
        while let Ok(call) = self.calls.try_recv() {
            self.note(call);
        }
    }

    fn note(&mut self, call: Call) {
        match call {
            Call::Stop(stop) => self.stop = Some(stop),
            Call::Seen(
                Sight::Whole(path) | Sight::Touched(path) | Sight::Gone(path) | Sight::Folder(path),
            ) if is_litter(&path) => {}
            Call::Seen(sight) => self.patience.note(sight, now()),
        }
    }
}

/// Gives a number that changes with the templates of a folder.
fn look_of(design: &Design) -> u64 {
    design.content().map_or(0, |content| print_of(&content))
}

/// Reads the clock, for how long things take and when they are due; nothing of it comes onto a card.
fn now() -> Instant {
    Instant::now()
}
