//! The folder of somebody's own templates, for every verb that makes pages. Owns the option and what is told of
//! the folder; what a template may do is the renderer's.

use std::path::{Path, PathBuf};

use super::Result;
use super::ui::Ui;
use crate::disk::template_files;
use crate::render::html::Renderer;
use crate::render::own::{OwnFile, OwnTemplates};

/// What pages look like.
#[derive(Debug, Default, clap::Args)]
pub(super) struct Design {
    /// A folder with templates and style sheets of your own; `loafwright templates` prints the built-in ones
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

impl Design {
    /// Gives the folder of templates, where one is named.
    pub(super) fn folder(&self) -> Option<&Path> {
        self.templates.as_deref()
    }

    /// Gives all that stands in the folder, as one text that changes with it, be it only by what is wrong there.
    pub(super) fn content(&self) -> Option<Vec<u8>> {
        let files = template_files(self.folder()?);
        Some(format!("{files:?}").into_bytes())
    }

    /// Makes a renderer with the templates of the folder; tells of those that were made of older ones.
    pub(super) fn renderer(&self, ui: &mut Ui) -> Result<Renderer> {
        let files = match self.folder() {
            Some(folder) => template_files(folder)?,
            None => Vec::new(),
        };
        let files = files.into_iter().map(|file| {
            let (path, text) = (file.path, file.text);
            (file.name, OwnFile { path, text })
        });
        let own = OwnTemplates::new(files)?;
        for path in own.outdated() {
            ui.talk(&format!(
                "note: {path} was printed from a built-in template that has changed since; compare the two\n"
            ));
        }
        Ok(Renderer::with(own)?)
    }
}
