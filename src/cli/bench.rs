//! The making of one card: worked out, rendered, written. Works on its own for each recipe, so that many can be
//! made side by side.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::Exit;
use super::sources::{Recipe, Sources, Worked};
use super::tally::Tally;
use crate::disk::{OutFolder, Written, slug};
use crate::render::html::Renderer;
use crate::sheet::Request;
use crate::syntax::tree::{Item, Tree};
use crate::view::{CardOptions, IndexRow, card};

/// What every recipe of a run is made with.
pub(super) struct Bench<'run> {
    sources: &'run Sources,
    folders: Vec<&'run Path>,
    out_path: &'run Path,
    renderer: &'run Renderer,
    out: &'run OutFolder,
    /// The recipes of each page; more than one are in each other's way.
    pages: BTreeMap<String, Vec<&'run str>>,
}

/// What came of one recipe.
pub(super) struct Baked {
    /// What there is to say of it.
    pub(super) told: String,
    /// Its faults.
    pub(super) tally: Tally,
    /// Whether the tool could do its work on it.
    pub(super) exit: Exit,
    /// What writing did; nothing where no card was made.
    pub(super) written: Option<Written>,
    /// The card's page in the folder of cards.
    pub(super) page: Option<String>,
    /// Its row in the index, also for an old card that was kept.
    pub(super) row: Option<IndexRow>,
    /// The language of the card's own words.
    pub(super) language: Option<&'static str>,
    /// The name of its bakehouse.
    pub(super) house: Option<String>,
}

impl<'run> Bench<'run> {
    /// Puts together what every recipe of a run is made with.
    pub(super) fn new(
        sources: &'run Sources,
        paths: &'run [PathBuf],
        out_path: &'run Path,
        renderer: &'run Renderer,
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
            renderer,
            out,
            pages: BTreeMap::new(),
        };
        for recipe in &sources.recipes {
            let page = bench.page_of(recipe);
            bench.pages.entry(page).or_default().push(&recipe.name);
        }
        bench
    }

    /// Makes the card of a recipe; where that cannot be, the old one is kept.
    pub(super) fn bake(&self, recipe: &Recipe) -> Baked {
        let page = self.page_of(recipe);
        let source = recipe.file.as_ref().map(crate::disk::FoundRecipe::plain_path);
        let mut baked = Baked {
            told: String::new(),
            tally: Tally::default(),
            exit: Exit::Fine,
            written: None,
            page: None,
            row: None,
            language: None,
            house: None,
        };
        let written = match self.work_out(recipe, &page) {
            Ok(worked) => {
                baked.told = worked.grave_faults();
                baked.tally = Tally::of_report(&worked.compiled.report);
                baked.house.clone_from(&worked.place.name);
                self.write(&page, source.as_deref(), &worked, &mut baked)
            }
            Err(why) => Err(why),
        };
        if let Err(why) = written {
            baked.told.push_str(&format!("error: {why}\n"));
            baked.exit = Exit::Unable;
        }
        if baked.written.is_some() {
            baked.page = Some(page);
        } else if let Some(source) = &source {
            self.out.keep(source);
        }
        baked
    }

    fn work_out(&self, recipe: &Recipe, page: &str) -> Result<Worked, String> {
        let others = self.pages.get(page).into_iter().flatten();
        if let Some(other) = others.copied().find(|other| *other != recipe.name) {
            return Err(format!(
                "{}: {other} makes a card of the same name, {page}; give one of the two another name",
                recipe.name
            ));
        }
        let worked = self.sources.work_out(recipe, &Request::default());
        worked.map_err(|error| error.to_string())
    }

    fn write(
        &self,
        page: &str,
        source: Option<&Path>,
        worked: &Worked,
        baked: &mut Baked,
    ) -> Result<(), String> {
        let compiled = &worked.compiled;
        let Some((recipe, sheet)) = compiled.plain.as_ref().filter(|_| !worked.house_is_faulty) else {
            baked.row = self.row_of_kept(page, &compiled.tree, worked);
            return Ok(());
        };
        let options = CardOptions::default();
        let view = card(recipe, sheet, &compiled.variations, &compiled.records, &options);
        let html = self
            .renderer
            .card(&view)
            .map_err(|error| format!("{}: {error}", worked.name()))?;
        let written = self.out.write(page, source, html.as_bytes());
        baked.written = Some(written.map_err(|error| error.to_string())?);
        baked.language = Some(view.words_language);
        baked.row = Some(IndexRow::of(&view, page.to_owned()));
        Ok(())
    }

    /// Gives the row of an old card, with as much as the recipe lets read of itself.
    fn row_of_kept(&self, page: &str, tree: &Tree, worked: &Worked) -> Option<IndexRow> {
        let title = tree.items.iter().find_map(|item| match item {
            Item::Key(line) if line.key.value == "title" => Some(line.value.value.clone()),
            _ => None,
        });
        self.out_path.join(page).is_file().then(|| IndexRow {
            href: page.to_owned(),
            title: title.unwrap_or_else(|| worked.name().to_owned()),
            makes: String::new(),
            whole_time: String::new(),
            hands_on_time: String::new(),
            tags: String::new(),
        })
    }

    /// Names the page of a recipe: its path below the folder that was asked for, in letters that work everywhere.
    fn page_of(&self, recipe: &Recipe) -> String {
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
