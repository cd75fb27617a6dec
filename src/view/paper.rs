//! The papers that a card is laid out for: a closed list with what each one is called and has room for. Owns
//! names and sizes; how a size looks in a style sheet is the renderer's.

/// A paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8.5 × 11 in.
    Letter,
    /// 148 × 210 mm.
    A5,
    /// 5.5 × 8.5 in.
    HalfLetter,
    /// 105 × 148 mm.
    A6,
    /// 4 × 6 in.
    FourBySix,
    /// 5 × 8 in.
    FiveByEight,
}

/// How a card is laid out: what fits side by side on which papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// A sheet with all on it side by side.
    Large,
    /// A sheet of half that size: a table whose cells stand on two lines, a picture beside the head.
    Medium,
    /// Numbered cards: ingredients, steps, notes.
    Small,
}

impl Layout {
    /// Gives the name, as templates and style sheets have it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Large => "large",
            Self::Medium => "medium",
            Self::Small => "small",
        }
    }

    /// Gives the most blocks that stand beside each other in one table; more stand as lists below each other.
    pub(super) const fn most_columns(self) -> usize {
        match self {
            Self::Large => 5,
            Self::Medium => 3,
            Self::Small => 0,
        }
    }
}

impl Paper {
    /// Every paper with its name, as the language spells it.
    pub const NAMED: [(&'static str, Self); 7] = [
        ("A4", Self::A4),
        ("Letter", Self::Letter),
        ("A5", Self::A5),
        ("half letter", Self::HalfLetter),
        ("A6", Self::A6),
        ("4 x 6 in", Self::FourBySix),
        ("5 x 8 in", Self::FiveByEight),
    ];

    /// Finds a paper by its name, whatever the case.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let found = Self::NAMED
            .iter()
            .find(|(known, _)| known.eq_ignore_ascii_case(name));
        found.map(|(_, paper)| *paper)
    }

    /// Finds a paper by what is typed on a command line or stands in the name of a page: its name, or the name with
    /// hyphens for the spaces or without them and the unit.
    #[must_use]
    pub fn typed(text: &str) -> Option<Self> {
        let plain = |text: &str| text.to_ascii_lowercase().replace([' ', '-'], "");
        let bare = plain(text.trim());
        let bare = bare.strip_suffix("in").unwrap_or(&bare);
        let found = Self::NAMED.iter().find(|(_, paper)| plain(paper.slug()) == bare);
        found.map(|(_, paper)| *paper)
    }

    /// Gives the name, as the language spells it.
    #[must_use]
    pub fn name(self) -> &'static str {
        let found = Self::NAMED.iter().find(|(_, paper)| *paper == self);
        found.map_or("", |(name, _)| name)
    }

    /// Gives the name as it stands in the name of a page: `half-letter`, `4x6`.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
            Self::A5 => "a5",
            Self::HalfLetter => "half-letter",
            Self::A6 => "a6",
            Self::FourBySix => "4x6",
            Self::FiveByEight => "5x8",
        }
    }

    /// Gives how a card is laid out on it.
    #[must_use]
    pub const fn layout(self) -> Layout {
        match self {
            Self::A4 | Self::Letter => Layout::Large,
            Self::A5 | Self::HalfLetter => Layout::Medium,
            Self::A6 | Self::FourBySix | Self::FiveByEight => Layout::Small,
        }
    }

    /// Gives size and margins as declarations of a style sheet, in lengths: names such as `A6` are not known to
    /// all that read them. Letter is shorter than A4, and holds the same card by narrower margins.
    #[must_use]
    pub const fn page(self) -> &'static str {
        match self {
            Self::A4 => "size:210mm 297mm;margin:11mm 14mm 12mm",
            Self::Letter => "size:8.5in 11in;margin:8.5mm 14mm 9mm",
            Self::A5 => "size:148mm 210mm;margin:10mm 11mm 10mm",
            Self::HalfLetter => "size:5.5in 8.5in;margin:10mm 9mm 11mm",
            Self::A6 => "size:105mm 148mm;margin:9mm 7mm 8mm",
            Self::FourBySix => "size:4in 6in;margin:9mm 6mm 8mm",
            Self::FiveByEight => "size:5in 8in;margin:10mm 8mm 9mm",
        }
    }

    /// Gives how many letters of the running title stand on a line above the text, beside the name of the card's part.
    pub(super) const fn head_letters(self) -> usize {
        match self {
            Self::A4 | Self::Letter => 90,
            Self::A5 | Self::HalfLetter => 60,
            Self::FiveByEight => 48,
            Self::A6 => 38,
            Self::FourBySix => 37,
        }
    }

    /// Gives the millimetres between the margins.
    #[must_use]
    pub const fn text_width_mm(self) -> u32 {
        match self {
            Self::A4 => 182,
            Self::Letter => 188,
            Self::A5 => 126,
            Self::HalfLetter => 121,
            Self::FiveByEight => 111,
            Self::A6 => 91,
            Self::FourBySix => 89,
        }
    }
}
