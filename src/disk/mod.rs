//! The edge to the disk: finds and reads recipes, and writes cards whole or not at all.
//!
//! Owns every rule about files: what is read and how much of it, how far up a bakehouse is sought, which
//! folders may hold cards, what may be deleted. Knows nothing of what stands in a file, but for the first
//! bytes of a picture.
//!
//! ```text
//! paths ── find ── recipes and their bakehouses ── read ── bytes
//! bytes ── OutFolder ─┬─ refuse ──── which folder may hold cards
//!                     ├─ lock ────── one run at a time
//!                     ├─ manifest ── which files are ours
//!                     └─ whole ───── each file old or new, complete
//! folder ─ templates ── somebody's own templates
//! bytes ── rewrite ── a recipe's own file in another form
//! git ──── versions of a recipe
//! ```

mod error;
mod find;
mod git;
mod lock;
mod manifest;
mod name;
mod output;
mod picture;
mod read;
mod refuse;
mod rewrite;
mod stamp;
mod templates;
mod whole;

pub use error::{DiskError, Problem};
pub use find::{BAKEHOUSE, Found, FoundRecipe, LoafFile, find, find_as_if};
pub use git::{Commit, GitError, ObjectId, Repository, TreeFile};
pub use manifest::is_plain as is_page_name;
pub use name::{folder_of, shown, slug};
pub use output::{OutFolder, Written};
pub use picture::{Picture, PictureFormat, picture};
pub use read::read;
pub use rewrite::rewrite;
pub use stamp::{Stamp, stamp};
pub use templates::{TemplateFile, template_files};
pub use whole::{write_new, write_new_in, write_over};
