//! What every part of a card's view looks at: the recipe, its sheet, the words, and what each line weighs in
//! the units of the card. Owns the weights as they are shown; the sheet owns them as they are.

use super::live::{Key, marked};
use super::numbers::Numbers;
use super::weights::{BlockWeights, ONE, Shown, blocks_of, is_avoirdupois, settle_alone, whole_bread};
use super::word_list::Word;
use super::words::Words;
use crate::model::recipe::{Block, BlockId, BlockKind, Recipe, TemperatureSpec};
use crate::quantity::{ClockTime, Elapsed, Grams, WeightUnit};
use crate::sheet::{Role, Sheet, SheetBlock};

/// What every part of a card's view looks at.
pub(super) struct Setting<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) sheet: &'a Sheet,
    pub(super) words: &'static Words,
    pub(super) numbers: Numbers,
    /// The units of the card, the first one largest; never empty.
    pub(super) units: Vec<WeightUnit>,
    /// When the bake begins; nothing where times count from the start.
    pub(super) start: Option<ClockTime>,
    /// What the lines of each block weigh, beside the sheet's blocks.
    weights: Vec<BlockWeights>,
    /// Whether numbers that a reader may ask for otherwise are marked.
    is_live: bool,
}

/// A weight in the words of a card.
#[derive(Clone, Debug, Default)]
pub(super) struct Weighed {
    /// In the first unit.
    pub(super) main: String,
    /// In the others, joined; empty where the card has one unit.
    pub(super) other: String,
}

impl Weighed {
    /// Gives all units in one text: `340 g · 12 oz`.
    pub(super) fn joined(self) -> String {
        if self.other.is_empty() {
            return self.main;
        }
        [self.main, self.other].join(" · ")
    }
}

impl<'a> Setting<'a> {
    /// Settles what every line weighs in every unit.
    pub(super) fn new(
        recipe: &'a Recipe,
        sheet: &'a Sheet,
        words: &'static Words,
        units: Vec<WeightUnit>,
    ) -> Self {
        let weights = blocks_of(sheet, &units);
        let first = units.first().copied().unwrap_or(WeightUnit::Gram);
        let numbers = Numbers::new(words).beside(first);
        Self {
            recipe,
            sheet,
            words,
            numbers,
            units,
            start: None,
            weights,
            is_live: false,
        }
    }

    /// Marks the numbers that a reader may ask for at another size, in another unit or on another scale.
    pub(super) fn live(mut self) -> Self {
        self.is_live = true;
        self.numbers = self.numbers.live();
        self
    }

    /// Gives a shown number with its mark, on a page that has them.
    pub(super) fn mark(&self, key: Key<'_>, shown: String) -> String {
        if self.is_live { marked(key, &shown) } else { shown }
    }

    /// Gives the unit that stands first.
    pub(super) fn first_unit(&self) -> WeightUnit {
        self.units.first().copied().unwrap_or(WeightUnit::Gram)
    }

    /// Finds a block of the sheet.
    pub(super) fn block(&self, id: BlockId) -> Option<&'a SheetBlock> {
        self.sheet.blocks.iter().find(|block| block.id == id)
    }

    /// Finds a block of the recipe.
    pub(super) fn written(&self, id: BlockId) -> Option<&'a Block> {
        self.recipe.blocks.get(id.0)
    }

    /// Gives what a line weighs, unit by unit; nothing for a line that is not weighed.
    pub(super) fn line_weight(&self, id: BlockId, line: usize) -> Option<&[Shown]> {
        self.block_weights(id)?.line(line)
    }

    /// Gives what all lines of a block weigh together, unit by unit: the sum of what is shown, with as many
    /// digits as its size has use for.
    pub(super) fn total_about(&self, id: BlockId) -> Vec<Shown> {
        let total = self
            .block_weights(id)
            .map(BlockWeights::total)
            .unwrap_or_default();
        let about = |(unit, weight): (&WeightUnit, Shown)| settle_alone(*unit, weight);
        self.units.iter().zip(total).map(about).collect()
    }

    fn block_weights(&self, id: BlockId) -> Option<&BlockWeights> {
        self.weights.get(self.place(id)?)
    }

    /// Gives the place of a block in the sheet.
    pub(super) fn place(&self, id: BlockId) -> Option<usize> {
        self.sheet.blocks.iter().position(|block| block.id == id)
    }

    /// Writes a weight in every unit of the card.
    pub(super) fn weigh(&self, weight: &[Shown]) -> Weighed {
        let mut each = self
            .units
            .iter()
            .zip(weight)
            .map(|(unit, shown)| self.numbers.weight(*unit, *shown));
        let main = each.next().unwrap_or_default();
        // Half a kilogram is grams, and is not told twice where grams are the other unit.
        let others = each.filter(|other| *other != main);
        let other = others.reduce(|left, right| format!("{left} · {right}"));
        Weighed {
            main,
            other: other.unwrap_or_default(),
        }
    }

    /// Writes a weight in the first unit.
    pub(super) fn weigh_first(&self, weight: &[Shown]) -> String {
        let shown = weight.first().copied().unwrap_or_default();
        self.numbers.weight(self.first_unit(), shown)
    }

    /// Gives what each line of the total formula weighs, which is not weighed out: in the first unit only.
    pub(super) fn whole_bread(&self) -> Vec<Shown> {
        whole_bread(self.sheet, &self.weights, &self.units)
    }

    /// Gives the same of another version of the bread.
    pub(super) fn whole_bread_of(&self, sheet: &Sheet) -> Vec<Shown> {
        whole_bread(sheet, &blocks_of(sheet, &self.units), &self.units)
    }

    /// Writes a weight of the whole bread, as it is shown or a sum of such.
    pub(super) fn whole_weight(&self, shown: Shown) -> String {
        let unit = self.first_unit();
        // A trace that is written more finely than ounces are makes its sum no finer.
        let shown = if is_avoirdupois(unit) || shown >= 100 * ONE {
            settle_alone(unit, shown)
        } else {
            shown
        };
        self.numbers.weight(unit, shown)
    }

    /// Writes a weight that no scale has to show in every unit of the card, joined: `340 g · 12 oz`. It grows with
    /// the number of pieces.
    pub(super) fn weigh_about(&self, weight: &Grams) -> String {
        self.mark(Key::Growing(&weight.0), self.in_every_unit(weight))
    }

    /// Writes such a weight that is the same for any number of pieces.
    pub(super) fn weigh_fixed(&self, weight: &Grams) -> String {
        self.mark(Key::Fixed(&weight.0), self.in_every_unit(weight))
    }

    fn in_every_unit(&self, weight: &Grams) -> String {
        let units = self.units.iter();
        let mut each: Vec<String> = units
            .map(|unit| self.numbers.weight_about(*unit, weight))
            .collect();
        each.dedup();
        each.join(" · ")
    }

    /// Gives what a block is called on the card: the catalogue's word for its kind, and its own name.
    pub(super) fn title(&self, block: &SheetBlock) -> String {
        if block.role == Role::Dough {
            let has_stages = self.sheet.blocks.iter().any(|other| other.role == Role::Stage);
            let word = if has_stages { Word::FinalDough } else { Word::Dough };
            return self.words.get(word).to_owned();
        }
        let name = block.title.strip_prefix(block.kind.word()).unwrap_or_default();
        if matches!(block.role, Role::Filling | Role::Topping) && !name.is_empty() {
            return capitalised(name.trim_start());
        }
        match kind_word(block.kind) {
            Some(word) => format!("{}{name}", self.words.get(word)),
            None => capitalised(&block.title),
        }
    }

    /// Writes a moment: the time since the start, or on the clock where that is known, then with its day from the
    /// second on.
    pub(super) fn moment(&self, since_start: Elapsed) -> String {
        let Some(start) = self.start else {
            return self.numbers.moment(since_start);
        };
        let minutes = u32::from(start.minutes_after_midnight()) + since_start.as_minutes();
        let clock = self.numbers.clock(minutes);
        match minutes / 1440 {
            0 => clock,
            days => {
                let day = self.words.fill(Word::Day, &[("day", &(days + 1).to_string())]);
                format!("{day}, {clock}")
            }
        }
    }

    /// Writes the temperature at which something happens: `at 24 °C · 75 °F`, `in the fridge, 4 °C · 39 °F`.
    pub(super) fn at(&self, at: &TemperatureSpec) -> String {
        let word = match at.place.as_deref() {
            None => Word::AtDegrees,
            Some("room") => Word::AtRoom,
            Some("fridge") => Word::AtFridge,
            Some("proofer") => Word::AtProofer,
            Some("tap") => Word::AtTap,
            Some(_) => Word::AtPlace,
        };
        self.with_degrees(word, at)
    }

    /// Writes the temperature at which a thing goes in: `at 30 °C · 86 °F`, `from the fridge, 4 °C · 39 °F`.
    pub(super) fn comes_at(&self, at: &TemperatureSpec) -> String {
        match at.place.as_deref() {
            Some("fridge") => self.with_degrees(Word::FromFridge, at),
            _ => self.at(at),
        }
    }

    /// Writes the temperature that something comes to: `to 35 °C · 95 °F`.
    pub(super) fn to(&self, to: &TemperatureSpec) -> String {
        let word = match to.place.as_deref() {
            None => Word::ToDegrees,
            Some("room") => Word::ToRoom,
            Some("fridge") => Word::ToFridge,
            Some(_) => Word::ToPlace,
        };
        self.with_degrees(word, to)
    }

    fn with_degrees(&self, word: Word, spec: &TemperatureSpec) -> String {
        let degrees = self.numbers.temperature(&spec.range);
        let place = spec.place.as_deref().unwrap_or_default();
        let place = place_word(place).map_or(place, |word| self.words.get(word));
        self.words.fill(word, &[("degrees", &degrees), ("place", place)])
    }
}

/// Writes the first letter large.
pub(super) fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Gives the word for a named place of the bakehouse.
fn place_word(place: &str) -> Option<Word> {
    Some(match place {
        "room" => Word::Room,
        "fridge" => Word::Fridge,
        "proofer" => Word::Proofer,
        "tap" => Word::Tap,
        _ => return None,
    })
}

const fn kind_word(kind: BlockKind) -> Option<Word> {
    Some(match kind {
        BlockKind::Levain => Word::Levain,
        BlockKind::Poolish => Word::Poolish,
        BlockKind::Biga => Word::Biga,
        BlockKind::Sponge => Word::Sponge,
        BlockKind::OldDough => Word::OldDough,
        BlockKind::Soaker => Word::Soaker,
        BlockKind::Scald => Word::Scald,
        BlockKind::Dough | BlockKind::Formula => Word::Dough,
        BlockKind::Filling => Word::Filling,
        BlockKind::Topping => Word::Topping,
        BlockKind::Variation
        | BlockKind::Bake
        | BlockKind::About
        | BlockKind::Notes
        | BlockKind::Ingredient
        | BlockKind::Unknown => return None,
    })
}
