//! Lengths and shapes of the time line, in hundredths of a millimetre. Owns how a bar, a run of numbers and a
//! cut name are measured; what is drawn where is the drawing's business.

/// The measures of the drawing.
pub(super) mod size {
    pub(in crate::view) const LABELS: u64 = 2600;
    /// Half of the first hour's word.
    pub(in crate::view) const MARGIN: u64 = 120;
    pub(in crate::view) const NARROW: u64 = 12_000;
    pub(in crate::view) const LANE: u64 = 815;
    pub(in crate::view) const LABEL_ABOVE: u64 = 360;
    pub(in crate::view) const BAR_FOOT: u64 = 510;
    pub(in crate::view) const TALL: u64 = 460;
    pub(in crate::view) const LOW: u64 = 370;
    pub(in crate::view) const LEAST: u64 = 70;
    pub(in crate::view) const LETTER: u64 = 150;
    /// Less than a letter in a bar: the words of the legend are known, and none is in capitals.
    pub(in crate::view) const LEGEND_LETTER: u64 = 138;
    /// A letter of a lane's name, which is larger.
    pub(in crate::view) const LANE_LETTER: u64 = 165;
    pub(in crate::view) const DIGIT: u64 = 165;
    pub(in crate::view) const TICK: u64 = 1050;
    pub(in crate::view) const AXIS: u64 = 400;
    pub(in crate::view) const LEGEND: u64 = 400;
}

/// A run of steps under one label.
pub(super) struct Numbered {
    first: usize,
    last: usize,
    from: u64,
    to: u64,
}

impl Numbered {
    pub(super) const fn new(number: usize, from: u64, to: u64) -> Self {
        Self {
            first: number,
            last: number,
            from,
            to,
        }
    }

    pub(super) const fn joined(&self, next: &Self) -> Self {
        Self {
            first: self.first,
            last: next.last,
            from: self.from,
            to: next.to,
        }
    }

    pub(super) fn text(&self) -> String {
        if self.first == self.last {
            self.first.to_string()
        } else {
            format!("{}–{}", self.first, self.last)
        }
    }

    pub(super) const fn middle(&self) -> u64 {
        u64::midpoint(self.from, self.to)
    }

    fn half(&self) -> u64 {
        self.text().chars().count() as u64 * size::DIGIT / 2
    }

    pub(super) fn left(&self) -> u64 {
        self.middle().saturating_sub(self.half())
    }

    pub(super) fn right(&self) -> u64 {
        self.middle() + self.half()
    }
}

pub(super) fn bar(x: u64, y: u64, wide: u64, tall: u64) -> String {
    let wide = hundredths(wide);
    [
        "M",
        &hundredths(x),
        " ",
        &hundredths(y),
        "h",
        &wide,
        "v",
        &hundredths(tall),
        "h-",
        &wide,
        "z",
    ]
    .concat()
}

/// Cuts a name to the letters there is room for.
pub(super) fn cut(name: &str, letters: usize) -> String {
    if name.chars().count() <= letters {
        return name.to_owned();
    }
    let head: String = name.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", head.trim_end())
}

/// Writes hundredths of a millimetre as millimetres.
pub(super) fn hundredths(length: u64) -> String {
    let (whole, part) = (length / 100, length % 100);
    let mut text = whole.to_string();
    text.push_str(if part < 10 { ".0" } else { "." });
    text.push_str(&part.to_string());
    text
}
