//! A kitchen to try the program in: a folder of its own, files in it, a verb to run, and what came of it.
//!
//! Owns the environment that the program is started with, so that no setting of the machine gets in.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A folder with files, and the environment of the next run.
#[must_use]
pub(crate) struct Kitchen {
    folder: tempfile::TempDir,
    environment: Vec<(String, String)>,
    stdin: Option<Vec<u8>>,
}

/// What a run left behind.
#[must_use]
pub(crate) struct Served {
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
    /// The exit code; nothing where a signal ended the run.
    pub(crate) code: Option<i32>,
}

impl Kitchen {
    /// Opens an empty folder among the temporary ones. It is not below the build folder: that lies in this
    /// project's own repository, whose top and whose ignored files would get in.
    pub(crate) fn new() -> Self {
        let folder = tempfile::Builder::new().prefix("kitchen-").tempdir().unwrap();
        Self {
            folder,
            environment: Vec::new(),
            stdin: None,
        }
    }

    /// Writes a file, and the folders above it.
    pub(crate) fn file(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
        self
    }

    /// Copies the recipes that ship with the program into the folder `recipes`.
    pub(crate) fn shipped_recipes(mut self) -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let mut folders = vec![root.join("recipes")];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    let name = path.strip_prefix(root).unwrap().to_str().unwrap();
                    self = self.file(name, fs::read(&path).unwrap());
                }
            }
        }
        self
    }

    /// Sets a variable for the next runs.
    pub(crate) fn env(mut self, name: &str, value: &str) -> Self {
        self.environment.push((name.to_owned(), value.to_owned()));
        self
    }

    /// Gives the next runs something to read.
    pub(crate) fn stdin(mut self, text: impl Into<Vec<u8>>) -> Self {
        self.stdin = Some(text.into());
        self
    }

    /// Gives the path of a file in the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Reads a file of the folder.
    pub(crate) fn read(&self, name: &str) -> String {
        let path = self.path(name);
        fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    }

    /// Gives every file below the folder with its bytes, by its path with forward slashes. What a run that still
    /// goes on takes away in between is left out.
    pub(crate) fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let mut files = BTreeMap::new();
        let mut folders = vec![self.folder.path().to_owned()];
        while let Some(folder) = folders.pop() {
            let Some(entries) = still_there(fs::read_dir(folder)) else {
                continue;
            };
            for entry in entries {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else if let Some(bytes) = still_there(fs::read(&path)) {
                    let name = path.strip_prefix(self.folder.path()).unwrap();
                    files.insert(name.to_string_lossy().replace('\\', "/"), bytes);
                }
            }
        }
        files
    }

    /// Gives the command of a run, with a clean environment, to be changed further.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_loafwright"));
        let home = self.folder.path().join(".home");
        fs::create_dir_all(&home).unwrap();
        command
            .args(arguments)
            .current_dir(self.folder.path())
            .env_clear()
            .env("PATH", "/usr/bin:/bin")
            .env("HOME", home)
            .env("LC_ALL", "C")
            .env("TZ", "UTC")
            .env("NO_COLOR", "1")
            .envs(self.environment.iter().map(|(name, value)| (name, value)))
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    /// Runs the program and waits for it.
    pub(crate) fn run(&self, arguments: &[&str]) -> Served {
        let mut command = self.command(arguments);
        if self.stdin.is_some() {
            command.stdin(Stdio::piped());
        }
        let mut child = command.spawn().unwrap();
        if let Some(text) = &self.stdin {
            // The program may end before it has read all of it, and that is its good right.
            let _ = child.stdin.take().unwrap().write_all(text);
        }
        let output = child.wait_with_output().unwrap();
        Served {
            out: String::from_utf8(output.stdout).expect("standard output is UTF-8"),
            err: String::from_utf8(output.stderr).expect("standard error is UTF-8"),
            code: output.status.code(),
        }
    }
}

impl Served {
    /// Says that the run ended with a code, and shows what it said where it did not.
    pub(crate) fn ends_with(self, code: i32) -> Self {
        assert_eq!(
            self.code,
            Some(code),
            "\n--- out\n{}\n--- err\n{}",
            self.out,
            self.err
        );
        self
    }
}

/// Gives what was read, or nothing where the file or folder has gone since it was listed.
fn still_there<T>(read: std::io::Result<T>) -> Option<T> {
    match read {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => None,
        read => Some(read.unwrap()),
    }
}
