//! When something that was seen is worth a look. Pure: time comes in as a value.
//!
//! A save is one to a dozen events, and what stands in a file between them is nobody's recipe. So a file that its
//! writer has closed, or that was moved into place, is looked at once; one that is being written waits for its end;
//! one that is gone waits for the editor to put its new self there.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::Sight;

/// How long a file that is being written must be left alone. Where the system tells of the end of writing, that
/// comes first; where it does not, editors write a recipe in one go within a few milliseconds.
pub const PAUSE: Duration = Duration::from_millis(60);

/// How long a file must be missing to be gone. Editors that move the old one away, or delete it, have the new one
/// there within a few milliseconds, also on a busy machine.
pub const GAP: Duration = Duration::from_millis(150);

/// How long a file may be written to without a pause before it is looked at all the same.
const LONGEST: Duration = Duration::from_millis(300);

/// The least time between two builds, so that a flood of saves makes ten a second and no more.
const BREATH: Duration = Duration::from_millis(100);

/// How long something uncertain, such as a new folder, waits for more of its kind.
const UNCERTAIN: Duration = Duration::from_millis(50);

/// How long nothing must happen before what can wait is done: the index, the list of files.
const QUIET: Duration = Duration::from_millis(250);

/// How long it is put off at most when it is never quiet.
const LATEST: Duration = Duration::from_millis(1500);

/// What waits for its time.
#[derive(Debug, Default)]
pub struct Patience {
    waiting: BTreeMap<PathBuf, Waiting>,
    /// When everything must be looked at.
    everything: Option<Instant>,
    /// Whether everything must be looked at when it is quiet.
    is_doubtful: bool,
    /// When the last build ended.
    built: Option<Instant>,
    /// When something happened first and last since what can wait was done.
    stirred: Option<(Instant, Instant)>,
}

#[derive(Debug)]
struct Waiting {
    /// When this save began.
    since: Instant,
    due: Instant,
    /// Whether its writer has closed the file, or moved it into place.
    is_whole: bool,
}

impl Patience {
    /// Notes a sight.
    pub fn note(&mut self, sight: Sight, now: Instant) {
        self.stir(now);
        let (path, wait, is_whole) = match sight {
            Sight::Whole(path) => (path, Duration::ZERO, true),
            Sight::Touched(path) => (path, PAUSE, false),
            Sight::Gone(path) => (path, GAP, false),
            Sight::Folder(_) | Sight::Missed => {
                self.look_at_everything(now);
                return;
            }
        };
        let new = Waiting {
            since: now,
            due: now,
            is_whole,
        };
        let waiting = self.waiting.entry(path).or_insert(new);
        if waiting.is_whole {
            // Another save begins before anybody has looked at the last one.
            waiting.since = now;
        }
        waiting.is_whole = is_whole;
        waiting.due = (now + wait).min(waiting.since + LONGEST);
    }

    /// Asks for a look at everything soon.
    pub fn look_at_everything(&mut self, now: Instant) {
        self.stir(now);
        self.everything.get_or_insert(now + UNCERTAIN);
    }

    /// Asks for a look at everything once it is quiet.
    pub fn doubt(&mut self, now: Instant) {
        self.stir(now);
        self.is_doubtful = true;
    }

    /// Says whether a path is known to be in the middle of a change.
    #[must_use]
    pub fn waits_for(&self, path: &Path, now: Instant) -> bool {
        self.waiting.get(path).is_some_and(|waiting| now < waiting.due)
    }

    /// Takes the paths that are due, in their order.
    pub fn due(&mut self, now: Instant) -> Vec<PathBuf> {
        if self.built.is_some_and(|built| now < built + BREATH) {
            return Vec::new();
        }
        let is_due = |_: &PathBuf, waiting: &mut Waiting| waiting.due <= now;
        self.waiting
            .extract_if(.., is_due)
            .map(|(path, _)| path)
            .collect()
    }

    /// Says that something was built.
    pub fn built(&mut self, now: Instant) {
        self.built = Some(now);
        self.stir(now);
    }

    /// Says whether it is time to look at everything.
    #[must_use]
    pub fn is_time_for_everything(&self, now: Instant) -> bool {
        self.everything.is_some_and(|due| due <= now) || self.is_doubtful && self.is_quiet(now)
    }

    /// Says that everything is about to be looked at; what waits may wait on.
    pub fn everything_is_looked_at(&mut self) {
        self.everything = None;
        self.is_doubtful = false;
    }

    /// Says whether it is quiet enough for what can wait.
    #[must_use]
    pub fn is_quiet(&self, now: Instant) -> bool {
        self.quiet_at().is_some_and(|at| at <= now)
    }

    /// Says that what can wait was done.
    pub fn settled(&mut self) {
        self.stirred = None;
    }

    /// Says how long there is nothing to do; nothing where that is until something is seen.
    #[must_use]
    pub fn rest(&self, now: Instant) -> Option<Duration> {
        let breath = self.built.map_or(now, |built| built + BREATH);
        let paths = self.waiting.values().map(|waiting| waiting.due.max(breath)).min();
        let next = [paths, self.everything, self.quiet_at()]
            .into_iter()
            .flatten()
            .min()?;
        Some(next.saturating_duration_since(now))
    }

    fn stir(&mut self, now: Instant) {
        let first = self.stirred.map_or(now, |(first, _)| first);
        self.stirred = Some((first, now));
    }

    /// Gives the time when it is quiet if nothing happens until then.
    fn quiet_at(&self) -> Option<Instant> {
        self.stirred
            .map(|(first, last)| (last + QUIET).min(first + LATEST))
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;
    use std::time::{Duration, Instant};

    use super::{BREATH, GAP, LONGEST, PAUSE, Patience, QUIET};
    use crate::watch::Sight;

    fn rye() -> PathBuf {
        PathBuf::from("rye.loaf")
    }

    /// Gives a patience and a time to count from.
    #[expect(clippy::disallowed_methods, reason = "a time to count from, whatever it is")]
    fn begin() -> (Patience, Instant) {
        (Patience::default(), Instant::now())
    }

    const MILLISECOND: Duration = Duration::from_millis(1);

    #[test]
    fn a_finished_file_is_looked_at_at_once_and_then_there_is_a_breath() {
        let (mut patience, start) = begin();
        patience.note(Sight::Touched(rye()), start);
        patience.note(Sight::Whole(rye()), start + MILLISECOND);
        assert_eq!(patience.rest(start + MILLISECOND), Some(Duration::ZERO));
        assert_eq!(patience.due(start + MILLISECOND), [rye()]);
        patience.built(start + MILLISECOND * 5);
        patience.note(Sight::Whole(rye()), start + MILLISECOND * 6);
        assert!(patience.due(start + MILLISECOND * 7).is_empty());
        assert_eq!(patience.due(start + MILLISECOND * 5 + BREATH), [rye()]);
    }

    #[test]
    fn an_unfinished_file_waits_for_a_pause_but_not_for_ever() {
        let (mut patience, start) = begin();
        for step in 0..4 {
            patience.note(Sight::Touched(rye()), start + PAUSE / 2 * step);
            assert!(patience.due(start + PAUSE / 2 * step).is_empty());
        }
        assert_eq!(patience.due(start + PAUSE / 2 * 5), [rye()]);
        for step in 0..100 {
            patience.note(Sight::Touched(rye()), start + PAUSE * 3 + PAUSE / 10 * step);
        }
        assert_eq!(patience.due(start + PAUSE * 3 + LONGEST), [rye()]);
    }

    #[test]
    fn the_next_save_has_its_own_time_though_the_last_one_waits_for_a_breath() {
        let (mut patience, start) = begin();
        patience.note(Sight::Touched(rye()), start);
        patience.note(Sight::Whole(rye()), start + MILLISECOND);
        let next = start + LONGEST;
        patience.note(Sight::Touched(rye()), next);
        assert!(patience.waits_for(&rye(), next + PAUSE / 2));
        assert!(patience.due(next + PAUSE / 2).is_empty());
        assert_eq!(patience.due(next + PAUSE), [rye()]);
    }

    #[test]
    fn a_file_that_is_missing_for_a_moment_is_not_gone() {
        let (mut patience, start) = begin();
        patience.note(Sight::Gone(rye()), start);
        assert!(patience.due(start + GAP / 2).is_empty());
        patience.note(Sight::Whole(rye()), start + MILLISECOND * 3);
        assert_eq!(patience.due(start + MILLISECOND * 3), [rye()]);
        assert!(patience.due(start + GAP * 2).is_empty());
    }

    #[test]
    fn what_can_wait_waits_until_it_is_quiet_or_has_waited_long() {
        let (mut patience, start) = begin();
        assert_eq!(patience.rest(start), None);
        patience.built(start);
        assert!(!patience.is_quiet(start + QUIET / 2) && patience.is_quiet(start + QUIET));
        let end = (1..40).fold(start, |_, step| {
            patience.note(Sight::Whole(rye()), start + QUIET / 2 * step);
            start + QUIET / 2 * step
        });
        assert!(patience.is_quiet(end));
        patience.settled();
        assert!(!patience.is_quiet(end + QUIET * 10));
    }

    #[test]
    fn what_was_missed_leads_to_a_look_at_everything_and_a_doubt_only_when_it_is_quiet() {
        let (mut patience, start) = begin();
        patience.doubt(start);
        assert!(!patience.is_time_for_everything(start + QUIET / 2));
        assert!(patience.is_time_for_everything(start + QUIET));
        patience.note(Sight::Missed, start);
        assert!(patience.is_time_for_everything(start + QUIET / 2));
        patience.everything_is_looked_at();
        assert!(!patience.is_time_for_everything(start + QUIET * 4));
    }
}
