//! The folder of somebody's own templates: which files of it are read and how much of each. Knows nothing of
//! what a template is.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the door through which templates come in"
)]

use std::fs;
use std::path::Path;

use super::error::{DiskError, Problem};
use super::{name, read};

/// The most bytes of a template or style sheet.
const MOST_BYTES: u64 = 256 * 1024;

/// The most files that are looked at.
const MOST_FILES: usize = 200;

/// A template or style sheet as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateFile {
    /// Its name in the folder.
    pub name: String,
    /// Its path, fit to be shown.
    pub path: String,
    /// Its text.
    pub text: String,
}

/// Reads every file of a folder, by name. Hidden files and the backups of editors are passed over; a link is
/// refused, so that nothing outside the folder is ever read.
///
/// # Errors
///
/// Gives an error for a folder that cannot be read, and for anything in it that is no ordinary text of a
/// moderate length.
pub fn template_files(folder: &Path) -> Result<Vec<TemplateFile>, DiskError> {
    let entries = fs::read_dir(folder).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotADirectory => DiskError::new(folder, Problem::NoTemplateFolder),
        _ => DiskError::reading(folder, error),
    })?;
    let mut names: Vec<String> = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|error| DiskError::reading(folder, error))?;
        let path = entry.path();
        let name = entry.file_name();
        let Some(name) = name.to_str() else {
            return Err(DiskError::new(&path, Problem::NotATemplate));
        };
        if !name.starts_with('.') && !name.ends_with('~') {
            names.push(name.to_owned());
        }
        if names.len() > MOST_FILES {
            return Err(DiskError::new(folder, Problem::TooManyTemplates(MOST_FILES)));
        }
    }
    names.sort_unstable();
    names.iter().map(|name| template_file(folder, name)).collect()
}

fn template_file(folder: &Path, name: &str) -> Result<TemplateFile, DiskError> {
    let path = folder.join(name);
    let found = fs::symlink_metadata(&path).map_err(|error| DiskError::reading(&path, error))?;
    if found.is_symlink() {
        return Err(DiskError::new(&path, Problem::LinkedTemplate));
    }
    let root = fs::canonicalize(folder).map_err(|error| DiskError::reading(folder, error))?;
    let bytes = read::read(&path, Some(&root), MOST_BYTES)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(DiskError::new(&path, Problem::TemplateTooLarge(MOST_BYTES)));
    }
    let text = String::from_utf8(bytes).map_err(|_| DiskError::new(&path, Problem::NotATemplate))?;
    Ok(TemplateFile {
        name: name.to_owned(),
        path: name::shown(&path),
        text: text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned),
    })
}
