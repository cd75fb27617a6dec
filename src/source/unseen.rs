//! Characters that nobody sees: the one table of them, by what they do. Owns no judgement; whether one does honest
//! work where it stands is the business of those who read.

/// What a character does that has no form of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unseen {
    /// Steers a machine: tabs and line ends are among these.
    Control,
    /// Ends a line for some programs and for others not.
    LineEnd,
    /// Turns the reading direction about.
    Turn,
    /// Says in which direction what stands beside it is read.
    Direction,
    /// Joins or parts what stands beside it: parts of an emoji, letters of some scripts.
    Joiner,
    /// Picks the form of the sign before it.
    Form,
    /// Marks the start of a file.
    ByteOrderMark,
    /// Takes no room, or says something that no reader is shown.
    Empty,
}

impl Unseen {
    /// Gives what a character does that nobody sees; nothing for one that is shown, spaces among them.
    #[must_use]
    pub fn of(letter: char) -> Option<Self> {
        Some(match letter {
            ' '..='~' => return None,
            '\u{2028}' | '\u{2029}' => Self::LineEnd,
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => Self::Turn,
            '\u{61c}' | '\u{200e}' | '\u{200f}' => Self::Direction,
            '\u{200c}' | '\u{200d}' => Self::Joiner,
            '\u{fe00}'..='\u{fe0f}' => Self::Form,
            '\u{feff}' => Self::ByteOrderMark,
            '\u{ad}'
            | '\u{34f}'
            | '\u{180e}'
            | '\u{200b}'
            | '\u{2060}'..='\u{2065}'
            | '\u{206a}'..='\u{206f}'
            | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e0fff}' => Self::Empty,
            other if other.is_control() => Self::Control,
            _ => return None,
        })
    }

    /// Says whether it has to be replaced where a text is shown, so that nothing acts and nothing is kept from the
    /// reader. Joiners and picked forms stay: they are a part of what is seen.
    #[must_use]
    pub const fn hides(self) -> bool {
        !matches!(self, Self::Joiner | Self::Form)
    }
}

/// Says whether a character would be unseen, or would act, instead of being shown.
#[must_use]
pub fn is_hidden(letter: char) -> bool {
    Unseen::of(letter).is_some_and(Unseen::hides)
}
