//! The edge to what goes on while the program stays: changes on the disk come in, pages go out to the browser.
//!
//! Owns what counts as a change and when it is worth a look, what an open page is told, and which requests are
//! answered. Knows neither recipes nor how a card is made. Whatever waits for many things at once stays in here:
//! the rest of the program sees a channel with one thing after the other.
//!
//! ```text
//! disk ──── eyes ───── sights ── patience ── paths that are due
//! browser ─ server ─┬─ guard ─── who is answered
//!                   ├─ live ──── what a page is told
//!                   └─ page ──── the page as it is served
//! ```

mod browser;
mod eyes;
mod guard;
mod live;
mod page;
mod patience;
mod server;

pub use browser::open_browser;
pub use eyes::{Blind, Eyes};
pub use live::{Live, News};
pub use patience::{GAP, PAUSE, Patience};
pub use server::{Server, ServerError};

use std::path::PathBuf;

/// What happened while the program waited.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Call {
    /// Something was seen on the disk.
    Seen(Sight),
    /// The user wants the program to end.
    Stop(Stop),
}

/// Something that was seen on the disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Sight {
    /// A writer has closed this file, or it was moved to this name: it is complete.
    Whole(PathBuf),
    /// Something is going on with this path, and there may be more to come.
    Touched(PathBuf),
    /// Nothing of this name is there any more, for the moment or for good.
    Gone(PathBuf),
    /// There is a new folder of this name, and what lies in it was not seen.
    Folder(PathBuf),
    /// Something was missed; only a look at everything helps.
    Missed,
}

/// How the user ends the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// By Ctrl-C.
    Interrupt,
    /// By the signal that asks a program to end.
    Terminate,
}
