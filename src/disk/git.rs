//! The versions that git keeps of a recipe: the only place that starts git, and only four of its commands.
//!
//! A repository may be a stranger's. `version`, `rev-parse`, `ls-tree` and `cat-file` run nothing that its settings
//! name, and no other command is ever called; what a transport could run is switched off, and the environment says
//! nothing to git but what stands here. Every call has ten seconds and a limit on what it may answer.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the one door to git; it looks for the program and waits for it"
)]

use std::env;
use std::ffi::{OsStr, OsString};
use std::fmt;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, Receiver};
use std::thread;
use std::time::{Duration, Instant};

use super::name::shown;

/// How long one call may take.
const PATIENCE: Duration = Duration::from_secs(10);

/// The most bytes of a listing of files.
const MOST_LISTED: usize = 64 * 1024 * 1024;

/// The most bytes of a commit, and of anything else that is a line or two.
const MOST_SAID: usize = 1024 * 1024;

/// The oldest git that knows every switch that keeps a stranger's repository from running anything.
const OLDEST: (u32, u32) = (2, 38);

/// Switches that come before every command.
const CAREFUL: &[&str] = &[
    "--no-optional-locks",
    "--no-pager",
    "-c",
    "core.fsmonitor=false",
    "-c",
    "core.hooksPath=/dev/null",
    "-c",
    "safe.bareRepository=explicit",
    "-c",
    "protocol.allow=never",
];

/// Why git gave no answer, in words for the person who asked.
#[derive(Debug)]
pub struct GitError(String);

impl fmt::Display for GitError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

impl std::error::Error for GitError {}

type Result<T> = std::result::Result<T, GitError>;

/// The name of an object: digits that git gave.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ObjectId(String);

impl ObjectId {
    fn of(text: &str) -> Option<Self> {
        let is_hex = |byte: u8| byte.is_ascii_hexdigit();
        (matches!(text.len(), 40 | 64) && text.bytes().all(is_hex)).then(|| Self(text.to_owned()))
    }

    /// Gives as many digits as people write.
    #[must_use]
    pub fn short(&self) -> &str {
        self.0.get(..8).unwrap_or(&self.0)
    }
}

/// A file as a commit has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TreeFile {
    /// Its content.
    pub id: ObjectId,
    /// Its path from the top of the repository.
    pub path: PathBuf,
    /// Whether it is an ordinary file, no link and no other repository.
    pub is_ordinary: bool,
}

/// What a commit says of itself.
#[derive(Clone, Debug)]
pub struct Commit {
    /// The commits before it.
    pub parents: Vec<ObjectId>,
    /// The day that its author wrote it, where the author was: `2026-03-14`.
    pub day: String,
    /// When it was committed, in seconds; only for putting commits in order.
    pub time: i64,
    /// The first line of what it says.
    pub subject: String,
}

/// A repository with a work tree.
#[derive(Debug)]
pub struct Repository {
    program: PathBuf,
    /// The top of the work tree, without links.
    pub top: PathBuf,
}

impl Repository {
    /// Finds the repository that a folder lies in.
    pub fn around(folder: &Path) -> Result<Self> {
        let program = program()?;
        check_version(&program)?;
        let mut repository = Self {
            program,
            top: folder.to_owned(),
        };
        let said = repository.ask(&["rev-parse", "--show-toplevel"], MOST_SAID)?;
        let top = path_of(said.strip_suffix(b"\n").unwrap_or(&said));
        repository.top = fs::canonicalize(&top)
            .map_err(|error| GitError(format!("{}: the repository cannot be read: {error}", shown(&top))))?;
        Ok(repository)
    }

    /// Finds the commit that a revision names.
    pub fn commit_id(&self, revision: &str) -> Result<ObjectId> {
        check_revision(revision)?;
        let wanted = format!("{revision}^{{commit}}");
        let unknown = || {
            GitError(format!(
                "`{}` names no commit of this repository",
                shown(Path::new(revision))
            ))
        };
        let said = self.ask(
            &["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted],
            MOST_SAID,
        );
        let said = said.map_err(|error| if error.0.is_empty() { unknown() } else { error })?;
        String::from_utf8(said)
            .ok()
            .and_then(|text| ObjectId::of(text.trim_end()))
            .ok_or_else(unknown)
    }

    /// Lists all files of a commit.
    pub fn files(&self, commit: &ObjectId) -> Result<Vec<TreeFile>> {
        let said = self.ask(&["ls-tree", "-r", "-z", "--full-tree", &commit.0], MOST_LISTED);
        let said = said.map_err(|error| missing(&format!("what {} holds", commit.short()), &error))?;
        Ok(said.split(|byte| *byte == 0).filter_map(tree_file).collect())
    }

    /// Finds one file of a commit by its path from the top.
    pub fn file(&self, commit: &ObjectId, path: &Path) -> Result<Option<TreeFile>> {
        let arguments = ["ls-tree", "-z", "--full-tree", &commit.0, "--"].map(OsStr::new);
        let said = self.run(arguments.into_iter().chain([path.as_os_str()]), MOST_SAID);
        let said = said.map_err(|error| missing(&format!("what {} holds", commit.short()), &error))?;
        let mut files = said.split(|byte| *byte == 0).filter_map(tree_file);
        Ok(files.find(|file| file.path == path))
    }

    /// Reads a file; its size is asked for before its content. Gives nothing where it is past the limit.
    pub fn read(&self, file: &TreeFile, limit: u64) -> Result<Option<Vec<u8>>> {
        let missing = |error| missing(&shown(&file.path), &error);
        let said = self
            .ask(&["cat-file", "-s", &file.id.0], MOST_SAID)
            .map_err(missing)?;
        let size: u64 = String::from_utf8_lossy(&said).trim().parse().unwrap_or(u64::MAX);
        if size > limit {
            return Ok(None);
        }
        let most = usize::try_from(limit).unwrap_or(usize::MAX);
        self.ask(&["cat-file", "blob", &file.id.0], most)
            .map(Some)
            .map_err(missing)
    }

    /// Reads what a commit says of itself.
    pub fn commit(&self, id: &ObjectId) -> Result<Commit> {
        let said = self.ask(&["cat-file", "commit", &id.0], MOST_SAID);
        let said = said.map_err(|error| missing(id.short(), &error))?;
        Ok(commit(&String::from_utf8_lossy(&said)))
    }

    fn ask(&self, arguments: &[&str], most: usize) -> Result<Vec<u8>> {
        self.run(arguments.iter().map(OsStr::new), most)
    }

    fn run<'a>(&self, arguments: impl Iterator<Item = &'a OsStr>, most: usize) -> Result<Vec<u8>> {
        let mut command = careful(&self.program);
        command.current_dir(&self.top).args(CAREFUL).args(arguments);
        answer(command, most)
    }
}

/// Says what git could not give: a clone need not hold everything, and what it lacks is not fetched.
fn missing(what: &str, error: &GitError) -> GitError {
    GitError(format!("{what} is not in this clone: {error}"))
}

/// Refuses what may be more than the name of a commit before git sees it.
fn check_revision(revision: &str) -> Result<()> {
    let is_odd = revision.is_empty()
        || revision.len() > 250
        || revision.starts_with('-')
        || revision.contains(':')
        || revision.contains("..")
        || revision.contains("@{")
        || revision.chars().any(char::is_control);
    if is_odd {
        let shown = shown(Path::new(revision));
        return Err(GitError(format!(
            "`{shown}` is no name of a commit; write one such as `HEAD`, `main` or `4f2a91c`"
        )));
    }
    Ok(())
}

/// Finds git by the folders of the search path. A folder that is named from where the program was started
/// may be a stranger's, and is passed over, by whatever name or link the search path has it.
fn program() -> Result<PathBuf> {
    let name = if cfg!(windows) { "git.exe" } else { "git" };
    let folders = env::var_os("PATH").unwrap_or_default();
    let here = env::current_dir().and_then(fs::canonicalize).ok();
    env::split_paths(&folders)
        .filter(|folder| folder.is_absolute() && fs::canonicalize(folder).ok() != here)
        .map(|folder| folder.join(name))
        .find(|program| fs::metadata(program).is_ok_and(|found| found.is_file()))
        .ok_or_else(|| GitError("git was not found; install it, or compare two files instead".to_owned()))
}

fn check_version(program: &Path) -> Result<()> {
    let mut command = careful(program);
    command.arg("version");
    let said = answer(command, MOST_SAID)?;
    let said = String::from_utf8_lossy(&said).into_owned();
    let numbers = said.split_whitespace().nth(2).unwrap_or_default();
    let mut parts = numbers
        .split('.')
        .map(|part| part.parse::<u32>().unwrap_or_default());
    let version = (parts.next().unwrap_or_default(), parts.next().unwrap_or_default());
    if version < OLDEST {
        let (major, minor) = OLDEST;
        let numbers = shown(Path::new(numbers));
        return Err(GitError(format!(
            "this git is too old ({numbers}); version {major}.{minor} or newer is needed"
        )));
    }
    Ok(())
}

/// Makes a command that hears nothing but what is said here.
fn careful(program: &Path) -> Command {
    let mut command = Command::new(program);
    let is_gits = |name: &OsString| name.to_string_lossy().to_ascii_uppercase().starts_with("GIT_");
    for (name, _) in env::vars_os().filter(|(name, _)| is_gits(name)) {
        command.env_remove(name);
    }
    command
        .env("GIT_NO_LAZY_FETCH", "1")
        // An older git does not know that variable. This one goes over what a repository allows for itself.
        .env("GIT_ALLOW_PROTOCOL", "none")
        .env("GIT_TERMINAL_PROMPT", "0")
        .env("GIT_NO_REPLACE_OBJECTS", "1")
        .env("GIT_LITERAL_PATHSPECS", "1")
        .env("LC_ALL", "C")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// Waits for an answer, with a limit on its time and its size.
fn answer(mut command: Command, most: usize) -> Result<Vec<u8>> {
    let start = Instant::now();
    let mut child = command
        .spawn()
        .map_err(|error| GitError(format!("git could not be started: {error}")))?;
    let out = collected(child.stdout.take(), most);
    let err = collected(child.stderr.take(), 16 * 1024);
    let left = || PATIENCE.saturating_sub(start.elapsed());
    let Ok(said) = out.recv_timeout(left()) else {
        return Err(ended(&mut child, "git did not answer within 10 s"));
    };
    if said.len() > most {
        return Err(ended(
            &mut child,
            "git answered with more than a recipe book can hold",
        ));
    }
    let complaint = err.recv_timeout(left()).unwrap_or_default();
    loop {
        match child.try_wait() {
            Ok(Some(status)) if status.success() => return Ok(said),
            Ok(Some(_)) => return Err(GitError(told(&complaint))),
            Ok(None) if !left().is_zero() => thread::sleep(Duration::from_millis(1)),
            Ok(None) | Err(_) => return Err(ended(&mut child, "git did not end within 10 s")),
        }
    }
}

/// Ends a git that will not end by itself.
fn ended(child: &mut Child, why: &str) -> GitError {
    // It may have ended this very moment, and then there is nothing to end.
    let _ = child.kill();
    let _ = child.wait();
    GitError(why.to_owned())
}

/// Reads a stream to its end, or to one byte more than a limit, beside the other one.
fn collected(stream: Option<impl Read + Send + 'static>, most: usize) -> Receiver<Vec<u8>> {
    let (send, receive) = mpsc::channel();
    if let Some(stream) = stream {
        thread::spawn(move || {
            let mut bytes = Vec::new();
            let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
            // What could not be read is missing, and the exit code tells of it.
            let _ = stream.take(limit).read_to_end(&mut bytes);
            // Nobody listens any more where the time was up.
            let _ = send.send(bytes);
        });
    }
    receive
}

/// Passes on what git complains of, its advice included.
fn told(complaint: &[u8]) -> String {
    let text = String::from_utf8_lossy(complaint);
    let lines = text.lines().filter(|line| !line.starts_with("warning: "));
    let bare = lines.map(|line| {
        let bare = line.strip_prefix("fatal: ").or(line.strip_prefix("error: "));
        tame(bare.unwrap_or(line))
    });
    bare.collect::<Vec<_>>().join("\n").trim().to_owned()
}

/// Takes out of a line what acts on a terminal.
fn tame(line: &str) -> String {
    line.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}

/// Reads a line of a listing: `MODE TYPE ID<tab>PATH`.
fn tree_file(line: &[u8]) -> Option<TreeFile> {
    let tab = line.iter().position(|byte| *byte == b'\t')?;
    let head = std::str::from_utf8(line.get(..tab)?).ok()?;
    let mut words = head.split(' ');
    let (mode, kind, id) = (words.next()?, words.next()?, words.next()?);
    Some(TreeFile {
        id: ObjectId::of(id)?,
        path: path_of(line.get(tab + 1..)?),
        is_ordinary: kind == "blob" && matches!(mode, "100644" | "100755"),
    })
}

#[cfg(unix)]
fn path_of(bytes: &[u8]) -> PathBuf {
    use std::os::unix::ffi::OsStrExt as _;
    PathBuf::from(OsStr::from_bytes(bytes))
}

#[cfg(not(unix))]
fn path_of(bytes: &[u8]) -> PathBuf {
    PathBuf::from(String::from_utf8_lossy(bytes).into_owned())
}

/// Reads a commit: headers, an empty line, what it says.
fn commit(text: &str) -> Commit {
    let (head, says) = text.split_once("\n\n").unwrap_or((text, ""));
    let header = |name: &str| {
        let lines = head.lines().filter_map(move |line| line.split_once(' '));
        lines
            .filter(move |(key, _)| *key == name)
            .map(|(_, value)| value.to_owned())
            .collect::<Vec<_>>()
    };
    let stamp = |name: &str| header(name).first().map_or((0, 0), |line| stamp(line));
    let (written, zone) = stamp("author");
    Commit {
        parents: header("parent")
            .iter()
            .filter_map(|id| ObjectId::of(id))
            .collect(),
        day: day(written.saturating_add(zone)),
        time: stamp("committer").0,
        subject: tame(says.lines().next().unwrap_or_default()).trim().to_owned(),
    }
}

/// Reads the end of `Name <mail> SECONDS +HHMM`: the seconds, and what the zone adds to them.
fn stamp(line: &str) -> (i64, i64) {
    let mut words = line.rsplit(' ');
    let zone: i64 = words
        .next()
        .and_then(|zone| zone.parse().ok())
        .unwrap_or_default();
    let seconds = words
        .next()
        .and_then(|seconds| seconds.parse().ok())
        .unwrap_or_default();
    (seconds, (zone / 100 * 60 + zone % 100) * 60)
}

/// Gives the day of a count of seconds since 1970, by the calendar of today.
fn day(seconds: i64) -> String {
    let days = seconds.div_euclid(86_400) + 719_468;
    let era = days.div_euclid(146_097);
    let of_era = days.rem_euclid(146_097);
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 {
        month_from_march + 3
    } else {
        month_from_march - 9
    };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

#[cfg(test)]
mod tests {
    use super::{check_revision, commit, day};

    #[test]
    fn days_of_the_calendar() {
        for (seconds, text) in [
            (0, "1970-01-01"),
            (-1, "1969-12-31"),
            (951_782_400, "2000-02-29"),
            (1_773_446_400, "2026-03-14"),
            (1_735_689_599, "2024-12-31"),
        ] {
            assert_eq!(day(seconds), text);
        }
    }

    #[test]
    fn a_commit_tells_its_day_where_its_author_was() {
        let text = "tree 1\nparent 0123456789012345678901234567890123456789\nauthor A B <a@b> 1773446399 +0100\n\
                    committer C D <c@d> 1773446500 -0500\n\nWetter\n\nMore of it.\n";
        let commit = commit(text);
        assert_eq!(
            (commit.day.as_str(), commit.time, commit.subject.as_str()),
            ("2026-03-14", 1_773_446_500, "Wetter")
        );
        assert_eq!(commit.parents.len(), 1);
    }

    #[test]
    fn only_plain_names_of_commits_are_handed_on() {
        for name in [
            "HEAD",
            "main",
            "v1.2",
            "HEAD~3",
            "4f2a91c",
            "origin/main",
            "HEAD^",
        ] {
            assert!(check_revision(name).is_ok(), "{name}");
        }
        for name in [
            "",
            "-x",
            "--output=f",
            "a:b",
            "a\nb",
            "a..b",
            "@{u}",
            "HEAD@{1}",
            "\u{1b}[2J",
        ] {
            assert!(check_revision(name).is_err(), "{name}");
        }
    }
}
