//! The making of the pages of one recipe: worked out, rendered, written. Works on its own for each recipe, so that
//! many can be made side by side.
#![expect(clippy::disallowed_methods, reason = "this asks whether the page is there")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::Exit;
use super::pages::{Made, Press, reader_page, unmet};
use super::shelf::Beside;
use super::sources::{Recipe, Sources, Worked};
use super::tally::Tally;
use crate::diag::Diagnostic;
use crate::disk::{OutFolder, Written, slug};
use crate::sheet::Request;
use crate::syntax::tree::Item;
use crate::view::{IndexRow, Link};

/// What every recipe of a run is made with.
pub(super) struct Bench<'run> {
    sources: &'run Sources,
    folders: Vec<&'run Path>,
    out_path: &'run Path,
    press: &'run Press<'run>,
    out: &'run OutFolder,
    /// The recipes of each page; more than one are in each other's way.
    pages: BTreeMap<String, Vec<&'run str>>,
}

/// A recipe that is worked out and has no pages yet.
pub(super) struct Prepared<'recipe> {
    recipe: &'recipe Recipe,
    /// The name of its first card.
    first: String,
    worked: Result<Asked, Unmade>,
    /// Its page in the book; nothing where there will be none.
    pub(super) page: Option<Link>,
}

/// A recipe worked out as it was asked for, or as it is where that cannot be had.
struct Asked {
    worked: Worked,
    request: Request,
    /// Why it is not of the size that was asked for; often empty.
    unmet: String,
}

/// Why a recipe could not be worked out.
struct Unmade {
    why: String,
    /// Whether its file may be about to be replaced.
    may_pass: bool,
}

/// What came of one recipe.
pub(super) struct Baked {
    /// What there is to say of it.
    pub(super) told: String,
    /// Its faults.
    pub(super) tally: Tally,
    /// Whether the tool could do its work on it.
    pub(super) exit: Exit,
    /// The pages that were written, with what writing did; none where no card was made.
    pub(super) written: Vec<(String, Written)>,
    /// Its row in the index, also for an old card that was kept.
    pub(super) row: Option<IndexRow>,
    /// The language of the card's own words.
    pub(super) language: Option<&'static str>,
    /// The name of its bakehouse.
    pub(super) house: Option<String>,
    /// The picture that it names, whether or not there is one.
    pub(super) picture: Option<PathBuf>,
}

impl Prepared<'_> {
    /// Says whether the file could not be read, and may be about to be replaced.
    pub(super) fn may_be_back(&self) -> bool {
        self.worked.as_ref().is_err_and(|unmade| unmade.may_pass)
    }
}

impl<'run> Bench<'run> {
    /// Puts together what every recipe of a run is made with.
    pub(super) fn new(
        sources: &'run Sources,
        paths: &'run [PathBuf],
        out_path: &'run Path,
        press: &'run Press<'run>,
        out: &'run OutFolder,
    ) -> Self {
        let folders = if paths.is_empty() {
            vec![Path::new(".")]
        } else {
            paths.iter().map(PathBuf::as_path).collect()
        };
        let mut bench = Self {
            sources,
            folders,
            out_path,
            press,
            out,
            pages: BTreeMap::new(),
        };
        for recipe in &sources.recipes {
            let page = bench.page_of(recipe);
            bench.pages.entry(page).or_default().push(&recipe.name);
        }
        bench
    }

    /// Works a recipe out as far as it can be, so that its page is known to those beside it.
    pub(super) fn prepare<'recipe>(&self, recipe: &'recipe Recipe) -> Prepared<'recipe> {
        let first = self.page_of(recipe);
        let worked = self.work_out(recipe, &first);
        let asked = worked.as_ref().ok();
        let page = asked.and_then(|asked| self.link(&first, &asked.worked));
        Prepared {
            recipe,
            first,
            worked,
            page,
        }
    }

    /// Says whether a page could not be made because of its template.
    pub(super) fn has_failed_template(&self) -> bool {
        self.press.renderer.has_failed()
    }

    /// Makes the pages of a recipe and writes them; where that cannot be, the old ones are kept.
    pub(super) fn bake(&self, prepared: &Prepared<'_>, beside: &Beside) -> Baked {
        let source = prepared
            .recipe
            .file
            .as_ref()
            .map(crate::disk::FoundRecipe::plain_path);
        let mut baked = Baked {
            told: String::new(),
            tally: Tally::default(),
            exit: Exit::Fine,
            written: Vec::new(),
            row: None,
            language: None,
            house: None,
            picture: None,
        };
        let done = self
            .make(prepared, beside, &mut baked)
            .and_then(|made| made.map_or(Ok(()), |made| self.write(made, source.as_deref(), &mut baked)));
        if let Err(why) = done {
            baked.told.push_str(&format!("error: {why}\n"));
            baked.exit = Exit::Unable;
            baked.written.clear();
        }
        if let Some(source) = source.filter(|_| baked.written.is_empty()) {
            self.out.keep(&source);
        }
        baked
    }

    /// Makes the pages of a recipe, and writes none of them; nothing where an error stands in the way of a card.
    pub(super) fn make(
        &self,
        prepared: &Prepared<'_>,
        beside: &Beside,
        baked: &mut Baked,
    ) -> Result<Option<Made>, String> {
        let asked = prepared.worked.as_ref().map_err(|unmade| unmade.why.clone())?;
        let worked = &asked.worked;
        baked.told = worked.grave_faults() + &asked.unmet;
        baked.tally = Tally::of_report(&worked.compiled.report);
        baked.house.clone_from(&worked.place.name);
        baked.picture = worked.picture_path();
        let made = self
            .press
            .pages(&prepared.first, (worked, &asked.request), beside)?;
        match &made {
            Some(made) => {
                baked.language = Some(made.language);
                baked.told.push_str(&made.unmet);
                baked.row = Some(made.row.clone());
            }
            None => {
                baked.row = prepared.page.as_ref().map(|page| {
                    let cards = self.has(&prepared.first).then(|| Link {
                        href: prepared.first.clone(),
                        text: String::new(),
                    });
                    IndexRow::bare(page.text.clone(), page.href.clone(), cards.into_iter().collect())
                });
            }
        }
        Ok(made)
    }

    /// Names another recipe whose card has the same name; none of the two is made.
    pub(super) fn rival(&self, recipe: &Recipe) -> Option<&'run str> {
        let others = self.pages.get(&self.page_of(recipe)).into_iter().flatten();
        others.copied().find(|other| *other != recipe.name)
    }

    /// Works a recipe out at the size that is asked for; where it cannot have it, at its own.
    fn work_out(&self, recipe: &Recipe, page: &str) -> Result<Asked, Unmade> {
        if let Some(other) = self.rival(recipe) {
            let why = format!(
                "{}: {other} makes a card of the same name, {page}; give one of the two another name",
                recipe.name
            );
            return Err(Unmade { why, may_pass: false });
        }
        let by = |request: Request| {
            let worked = self.sources.work_out(recipe, &request);
            let asked = |worked| Asked {
                worked,
                request,
                unmet: String::new(),
            };
            worked.map(asked).map_err(|error| Unmade {
                may_pass: error.may_pass(),
                why: error.to_string(),
            })
        };
        let asked = by(self.press.request.clone())?;
        if asked.request.size.is_none() || asked.worked.compiled.plain.is_some() {
            return Ok(asked);
        }
        let mut own = by(Request {
            size: None,
            ..asked.request.clone()
        })?;
        if own.worked.compiled.plain.is_none() {
            return Ok(asked);
        }
        let told = &own.worked.compiled.report;
        let is_new = |fault: &&Diagnostic| told.iter().all(|other| other.message != fault.message);
        let why = asked.worked.compiled.report.iter().filter(is_new);
        own.unmet = unmet(&recipe.name, "not of the size that is asked for", why);
        if own.unmet.is_empty() {
            own.unmet = format!("{}: it cannot be scaled to what is asked for\n", recipe.name);
        }
        Ok(own)
    }

    fn write(&self, made: Made, source: Option<&Path>, baked: &mut Baked) -> Result<(), String> {
        for page in made.pages {
            let written = self.out.write(&page.name, source, &page.bytes);
            let written = written.map_err(|error| error.to_string())?;
            baked.written.push((page.name, written));
        }
        Ok(())
    }

    /// Gives the page of a recipe in the book: the one that will be made, or an old one that is kept, with as much
    /// as the recipe lets read of itself.
    fn link(&self, first: &str, worked: &Worked) -> Option<Link> {
        let href = reader_page(first);
        let plain = worked.compiled.plain.as_ref().filter(|_| !worked.house_is_faulty);
        if let Some((recipe, _)) = plain {
            let text = recipe.title.value.clone();
            return Some(Link { href, text });
        }
        let title = worked.compiled.tree.items.iter().find_map(|item| match item {
            Item::Key(line) if line.key.value == "title" => Some(line.value.value.clone()),
            _ => None,
        });
        self.has(&href).then(|| Link {
            href,
            text: title.unwrap_or_else(|| worked.name().to_owned()),
        })
    }

    /// Says whether a page stands in the folder of cards.
    fn has(&self, page: &str) -> bool {
        self.out_path.join(page).is_file()
    }

    /// Names the page of a recipe: its path below the folder that was asked for, in letters that work everywhere.
    pub(super) fn page_of(&self, recipe: &Recipe) -> String {
        let path = recipe
            .file
            .as_ref()
            .map_or(Path::new("recipe"), |found| found.file.path.as_path());
        let below = self
            .folders
            .iter()
            .filter_map(|folder| path.strip_prefix(folder).ok())
            .find(|below| !below.as_os_str().is_empty())
            .unwrap_or_else(|| Path::new(path.file_name().unwrap_or_default()));
        let folders = below.parent().into_iter().flat_map(Path::components);
        let mut name: String = folders
            .map(|folder| slug(&folder.as_os_str().to_string_lossy()) + "/")
            .collect();
        name.push_str(&slug(&below.file_stem().unwrap_or_default().to_string_lossy()));
        name + ".html"
    }
}
