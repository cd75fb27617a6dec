//! The legend of the time line: a sample and a word for every pattern that was used, in as many rows as they need.

use super::Legend;
use super::geometry::{bar, hundredths, size};
use super::{Drawing, TimeLine};
use crate::view::word_list::Word;

/// Every pattern with its word.
const LEGEND: [(&str, Word); 8] = [
    ("hands", Word::LegendHands),
    ("waiting", Word::LegendWait),
    ("cold", Word::LegendCold),
    ("oven", Word::LegendOven),
    ("heating", Word::LegendPreheat),
    ("folds", Word::LegendFold),
    ("ends", Word::LegendRange),
    ("nights", Word::LegendNight),
];

impl Drawing<'_, '_> {
    /// Explains the patterns that are used, in rows below the hours; gives the foot of the last row.
    pub(super) fn legend(&mut self, top: u64) -> u64 {
        let (mut x, mut y) = (0, top + 320);
        for (class, word) in LEGEND {
            if used(&self.line, class).is_empty() {
                continue;
            }
            let word = match word {
                Word::LegendOven if self.is_cooked => Word::LegendHeat,
                other => other,
            };
            let text = self.setting.words.get(word);
            let wide = 900 + (text.chars().count() as u64 + 1) * size::LEGEND_LETTER;
            if x > 0 && x + wide > self.width {
                x = 0;
                y += size::LEGEND;
            }
            self.line.legend.push(Legend {
                class,
                path: sample(class, x, y),
                x: hundredths(x + 700),
                y: hundredths(y),
                text,
            });
            x += wide;
        }
        y + size::LEGEND - 320
    }
}

/// Gives what is drawn in a pattern.
fn used<'l>(line: &'l TimeLine, class: &str) -> &'l str {
    match class {
        "hands" => &line.hands,
        "waiting" => &line.waiting,
        "cold" => &line.cold,
        "oven" => &line.oven,
        "heating" => &line.heating,
        "folds" => &line.folds,
        "nights" => &line.nights,
        _ => &line.ends,
    }
}

/// Draws a sample of a pattern on a line of the legend.
fn sample(class: &str, x: u64, y: u64) -> String {
    match class {
        "hands" => bar(x, y - 270, 550, 300),
        "heating" | "nights" => format!("M{} {}h5.5", hundredths(x), hundredths(y - 90)),
        "folds" => format!("M{} {}h2l-1 2z", hundredths(x + 150), hundredths(y - 210)),
        "ends" => format!("M{} {}v1m0-.5h5m0-.5v1", hundredths(x), hundredths(y - 160)),
        _ => bar(x, y - 230, 550, 260),
    }
}
