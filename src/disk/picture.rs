//! The picture of a recipe: found beside it, known by its first bytes, and no larger than a card can carry.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the door through which pictures come in"
)]

use std::fs;
use std::path::{Path, PathBuf};

use super::error::{DiskError, Problem};
use super::read;

/// The most bytes of a picture: a card of at most 4 MiB carries it in text form, which is a third longer.
const MOST_BYTES: u64 = 2 * 1024 * 1024;

/// A picture that a card may carry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// What it is by its content.
    pub format: PictureFormat,
    /// The whole file.
    pub bytes: Vec<u8>,
}

/// The formats that every browser and printer shows and that hold nothing but a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureFormat {
    /// Portable network graphics.
    Png,
    /// JPEG.
    Jpeg,
    /// WebP.
    WebP,
}

impl PictureFormat {
    /// Gives the media type.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Png => "image/png",
            Self::Jpeg => "image/jpeg",
            Self::WebP => "image/webp",
        }
    }

    /// Gives how the name of such a file ends.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Png => ".png",
            Self::Jpeg => ".jpg",
            Self::WebP => ".webp",
        }
    }

    /// Recognises a picture by its first bytes, whatever its name says.
    fn of_bytes(bytes: &[u8]) -> Option<Self> {
        if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            Some(Self::Png)
        } else if bytes.starts_with(b"\xff\xd8\xff") {
            Some(Self::Jpeg)
        } else if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
            Some(Self::WebP)
        } else {
            None
        }
    }
}

/// Reads the picture that a recipe names, from the recipe's folder without links or below it.
///
/// # Errors
///
/// Gives an error for a path that leads elsewhere or over a link, and for what is no such picture.
pub fn picture(folder: &Path, written: &str) -> Result<Picture, DiskError> {
    let below =
        path_below(written).ok_or_else(|| DiskError::new(Path::new(written), Problem::NoPicturePath))?;
    let path = folder.join(&below);
    let named = |error: DiskError| DiskError::new(Path::new(written), error.problem);
    // A link is refused before it is opened, so that nothing outside is touched, and again after it.
    check_no_link(folder, &below).map_err(named)?;
    let (file, found) = read::open(&path).map_err(named)?;
    if read::resolved(&path, &found).map_err(named)? != path {
        return Err(DiskError::new(Path::new(written), Problem::Outside));
    }
    let bytes = read::contents(&path, file, MOST_BYTES).map_err(named)?;
    let problem = match PictureFormat::of_bytes(&bytes) {
        Some(_) if bytes.len() as u64 > MOST_BYTES => Problem::PictureTooLarge(MOST_BYTES),
        Some(format) => return Ok(Picture { format, bytes }),
        None => Problem::NoPicture,
    };
    Err(DiskError::new(Path::new(written), problem))
}

/// Takes a path apart; nothing where it is more than plain names with forward slashes between them.
fn path_below(written: &str) -> Option<PathBuf> {
    let plain = |name: &str| {
        !name.is_empty()
            && name != "."
            && name != ".."
            && !name.contains(['\\', ':', '\0'])
            && !name.starts_with('~')
    };
    written
        .split('/')
        .all(plain)
        .then(|| written.split('/').collect())
}

fn check_no_link(folder: &Path, below: &Path) -> Result<(), DiskError> {
    let mut path = folder.to_owned();
    for name in below {
        path.push(name);
        let found = fs::symlink_metadata(&path).map_err(|error| DiskError::reading(&path, error))?;
        if found.is_symlink() {
            return Err(DiskError::new(&path, Problem::Outside));
        }
    }
    Ok(())
}
