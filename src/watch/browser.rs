//! The browser of the user, opened when asked for.

use std::io;

/// Opens an address in the browser and does not wait for it.
///
/// # Errors
///
/// Gives an error where the system knows no browser.
pub fn open_browser(address: &str) -> io::Result<()> {
    open::that_detached(address)
}
