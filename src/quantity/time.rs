//! Lengths of time, ranges of them, and times on the clock.

/// A length of time in whole seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Elapsed {
    /// Seconds; a year fits many times over.
    pub seconds: u32,
}

impl Elapsed {
    /// No time at all.
    pub const ZERO: Self = Self { seconds: 0 };

    /// Makes a length of whole minutes, as long as a machine word holds it.
    #[must_use]
    pub const fn minutes(minutes: u32) -> Self {
        Self {
            seconds: minutes.saturating_mul(60),
        }
    }

    /// Makes a length of whole hours, as long as a machine word holds it.
    #[must_use]
    pub const fn hours(hours: u32) -> Self {
        Self::minutes(hours.saturating_mul(60))
    }

    /// Adds two lengths; a sum past the range stays at its end.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self {
            seconds: self.seconds.saturating_add(other.seconds),
        }
    }

    /// Takes a length away; what would fall below nothing is nothing.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        Self {
            seconds: self.seconds.saturating_sub(other.seconds),
        }
    }

    /// Gives the length in hours, for drawing and physics.
    #[must_use]
    pub fn as_hours(self) -> f64 {
        f64::from(self.seconds) / 3600.0
    }

    /// Gives the length in minutes, rounded to the nearest.
    #[must_use]
    pub const fn as_minutes(self) -> u32 {
        self.seconds.saturating_add(30) / 60
    }
}

/// A length of time or a range of lengths, whose middle counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ElapsedRange {
    /// The shortest.
    pub least: Elapsed,
    /// The longest; the same as the shortest for a single length.
    pub most: Elapsed,
}

impl ElapsedRange {
    /// Nothing at all.
    pub const ZERO: Self = Self::single(Elapsed::ZERO);

    /// Makes a range of a single length.
    #[must_use]
    pub const fn single(length: Elapsed) -> Self {
        Self {
            least: length,
            most: length,
        }
    }

    /// Gives the length that counts.
    #[must_use]
    pub const fn middle(self) -> Elapsed {
        Elapsed {
            seconds: self.least.seconds.midpoint(self.most.seconds),
        }
    }

    /// Says whether shortest and longest differ.
    #[must_use]
    pub const fn is_range(self) -> bool {
        self.least.seconds != self.most.seconds
    }
}

/// A time of day in whole minutes after midnight, below 1440.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ClockTime {
    minutes: u16,
}

impl ClockTime {
    /// Makes a time of day; nothing where the clock does not show it.
    #[must_use]
    pub const fn new(hour: u16, minute: u16) -> Option<Self> {
        if hour < 24 && minute < 60 {
            Some(Self {
                minutes: hour * 60 + minute,
            })
        } else {
            None
        }
    }

    /// Gives the minutes after midnight.
    #[must_use]
    pub const fn minutes_after_midnight(self) -> u16 {
        self.minutes
    }
}
