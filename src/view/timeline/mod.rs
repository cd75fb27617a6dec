//! The time line of a card: every step as a bar on its lane, to scale. Owns the geometry, in hundredths of a
//! millimetre until it is written with two decimals; the template only prints it.
//!
//! Hands-on work is a tall solid bar, waiting a lower patterned one, so that neither colour nor a printed
//! background is needed to tell them apart.

mod geometry;
mod hours;
mod legend;

use schemars::JsonSchema;
use serde::Serialize;

use self::geometry::{Numbered, bar, cut, hundredths, size};

use super::setting::{Setting, capitalised};
use super::steps::takes;
use super::verbs::verb_or_words;
use super::word_list::Word;
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, Elapsed};
use crate::sheet::{Lane as SheetLane, PlacedStep};

/// A drawing of the steps in time; lengths are millimetres with two decimals.
#[derive(Debug, JsonSchema, Serialize)]
pub struct TimeLine {
    /// Width of the drawing.
    pub width: String,
    /// Height of the drawing.
    pub height: String,
    /// What it is called, for those who hear it.
    pub title: String,
    /// What it shows, for those who hear it.
    pub text: String,
    /// The lanes, each with its name and where that stands.
    pub lanes: Vec<Lane>,
    /// Lines at the hours.
    pub hours: String,
    /// Bars of steps that need hands.
    pub hands: String,
    /// Bars of waiting.
    pub waiting: String,
    /// Bars of waiting in the cold.
    pub cold: String,
    /// Bars in the oven, and wherever else it is cooked without hands.
    pub oven: String,
    /// Lines while the oven heats.
    pub heating: String,
    /// Marks of folds.
    pub folds: String,
    /// Lines along the nights.
    pub nights: String,
    /// Brackets from the earliest to the latest end of a step.
    pub ends: String,
    /// Numbers of steps, words inside bars, hours.
    pub labels: Vec<Label>,
    /// What each pattern that is used means.
    pub legend: Vec<Legend>,
}

/// A lane of the drawing.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Lane {
    /// The block's name, cut where the lane has no room.
    pub name: String,
    /// The base line of the name.
    pub y: String,
}

/// A text in the drawing.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Label {
    /// A class: `n` the number of a step, `w` words in a bar, `h` an hour.
    pub class: &'static str,
    /// Its place; numbers and hours stand around it, words begin there.
    pub x: String,
    /// Its base line.
    pub y: String,
    /// The text.
    pub text: String,
}

/// An entry of the legend.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Legend {
    /// The class of its sample: `hands`, `waiting`, `cold`, `oven`, `heating`, `folds`, `ends`, `nights`.
    pub class: &'static str,
    /// A sample of the pattern.
    pub path: String,
    /// Where its words begin.
    pub x: String,
    /// Their base line.
    pub y: String,
    /// What it means.
    pub text: &'static str,
}

/// Draws the time line; nothing where no step takes any time.
pub(super) fn view_time_line(setting: &Setting<'_>, width_mm: u32) -> Option<TimeLine> {
    let schedule = &setting.sheet.schedule;
    let steps = schedule.lanes.iter().flat_map(|lane| &lane.steps);
    let span = steps
        .map(|step| latest_end(step).seconds)
        .max()
        .filter(|span| *span > 0)?;
    let mut drawing = Drawing::new(setting, u64::from(width_mm) * 100, u64::from(span));
    drawing.axis();
    let mut number = 0;
    for lane in &schedule.lanes {
        drawing.lane(lane, &mut number);
    }
    for (from, length) in &schedule.preheats {
        drawing.heating(*from, *length);
    }
    let height = drawing.y + size::AXIS;
    let height = drawing.legend(height);
    let words = setting.words;
    let mut line = drawing.line;
    line.width = hundredths(drawing.width);
    line.height = hundredths(height);
    line.title = words.fill(Word::TimeLineTitle, &[("title", &setting.recipe.title.value)]);
    let lengths = (
        setting.numbers.lengths(schedule.whole),
        setting.numbers.lengths(schedule.hands_on),
    );
    line.text = words.fill(
        Word::TimeLineText,
        &[("length", &lengths.0), ("hands", &lengths.1)],
    );
    Some(line)
}

/// The latest end of a step, where its length is a range whose middle it is placed by.
fn latest_end(placed: &PlacedStep) -> Elapsed {
    placed
        .end
        .plus(placed.step.takes.most.less(placed.step.takes.middle()))
}

/// Which pattern a step has.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pattern {
    Hands,
    Waiting,
    Cold,
    Oven,
}

impl Pattern {
    fn of(placed: &PlacedStep) -> Self {
        let is_cold = placed
            .step
            .at
            .as_ref()
            .is_some_and(|at| at.middle() <= Celsius::whole(8));
        match placed.purpose {
            _ if placed.step.hands_on => Self::Hands,
            Some(Purpose::Bake | Purpose::Steam | Purpose::Cook) => Self::Oven,
            Some(Purpose::Chill) => Self::Cold,
            _ if is_cold => Self::Cold,
            _ => Self::Waiting,
        }
    }
}

/// Names a lane as its block is named elsewhere on the card.
fn title(setting: &Setting<'_>, lane: &SheetLane) -> String {
    let block = setting.block(lane.block);
    block.map_or_else(|| capitalised(&lane.title), |block| setting.title(block))
}

/// Gives the room of the names beside the lanes: as much as the longest wants, but no more than a quarter.
fn names(setting: &Setting<'_>, width: u64) -> u64 {
    let lanes = setting.sheet.schedule.lanes.iter();
    let longest = lanes
        .map(|lane| title(setting, lane).chars().count() as u64)
        .max();
    let wanted = (longest.unwrap_or(0) + 1) * size::LANE_LETTER;
    wanted.clamp(size::LABELS, (width / 4).max(size::LABELS))
}

struct Drawing<'s, 'a> {
    setting: &'s Setting<'a>,
    line: TimeLine,
    width: u64,
    /// Where the hours begin.
    left: u64,
    /// Seconds across the drawing.
    span: u64,
    is_narrow: bool,
    /// The top of the next lane.
    y: u64,
    /// Whether anything is cooked elsewhere than in the oven.
    is_cooked: bool,
    /// Where each bake begins, with the foot of its lane's bars.
    bakes: Vec<(Elapsed, u64)>,
}

impl<'s, 'a> Drawing<'s, 'a> {
    fn new(setting: &'s Setting<'a>, width: u64, span: u64) -> Self {
        let is_narrow = width < size::NARROW;
        let line = TimeLine {
            width: String::new(),
            height: String::new(),
            title: String::new(),
            text: String::new(),
            lanes: Vec::new(),
            hours: String::new(),
            hands: String::new(),
            waiting: String::new(),
            cold: String::new(),
            oven: String::new(),
            heating: String::new(),
            folds: String::new(),
            nights: String::new(),
            ends: String::new(),
            labels: Vec::new(),
            legend: Vec::new(),
        };
        Self {
            setting,
            line,
            width,
            left: if is_narrow {
                size::MARGIN
            } else {
                names(setting, width)
            },
            span,
            is_narrow,
            y: 0,
            is_cooked: false,
            bakes: Vec::new(),
        }
    }

    fn x(&self, moment: Elapsed) -> u64 {
        // The last label needs room to stand around its line.
        self.left + u64::from(moment.seconds) * (self.width - self.left - 400) / self.span
    }

    fn pitch(&self) -> u64 {
        size::LANE + if self.is_narrow { size::LABEL_ABOVE } else { 0 }
    }

    fn label(&mut self, class: &'static str, x: u64, y: u64, text: String) {
        self.line.labels.push(Label {
            class,
            x: hundredths(x),
            y: hundredths(y),
            text,
        });
    }

    /// Draws the steps of a block and goes on to the next lane.
    fn lane(&mut self, lane: &SheetLane, number: &mut usize) {
        let top = self.y + if self.is_narrow { size::LABEL_ABOVE } else { 0 };
        let title = title(self.setting, lane);
        let room = if self.is_narrow {
            40
        } else {
            (self.left / size::LANE_LETTER) as usize
        };
        let base = if self.is_narrow { top - 60 } else { top + 430 };
        self.line.lanes.push(Lane {
            name: cut(&title, room),
            y: hundredths(base),
        });
        let first = *number + 1;
        for placed in &lane.steps {
            *number += 1;
            self.step(placed, top);
        }
        self.step_numbers(lane, first, top);
        self.y += self.pitch();
    }

    fn step(&mut self, placed: &PlacedStep, top: u64) {
        // It runs beside the step ahead of it, and is drawn as a line below both.
        if placed.purpose == Some(Purpose::Preheat) {
            return;
        }
        let pattern = Pattern::of(placed);
        self.is_cooked |= pattern == Pattern::Oven && placed.purpose != Some(Purpose::Bake);
        let foot = top + size::BAR_FOOT;
        let (from, to) = (self.x(placed.start), self.x(placed.end));
        let tall = if pattern == Pattern::Hands {
            size::TALL
        } else {
            size::LOW
        };
        let least = if pattern == Pattern::Hands { size::LEAST } else { 0 };
        let wide = (to - from).max(least);
        if wide > 0 {
            let bar = bar(from, foot - tall, wide, tall);
            self.path(pattern).push_str(&bar);
        }
        if placed.purpose == Some(Purpose::Bake) {
            self.bakes.push((placed.start, foot));
        }
        for fold in &placed.folds {
            let x = self.x(*fold);
            self.line.folds += &format!("M{} {}h2l-1 2z", hundredths(x - 100), hundredths(top + 60));
        }
        self.flexible_end(placed, top);
        if pattern != Pattern::Hands {
            self.words_inside(placed, from, wide, foot - 100);
        }
    }

    fn path(&mut self, pattern: Pattern) -> &mut String {
        match pattern {
            Pattern::Hands => &mut self.line.hands,
            Pattern::Waiting => &mut self.line.waiting,
            Pattern::Cold => &mut self.line.cold,
            Pattern::Oven => &mut self.line.oven,
        }
    }

    /// Draws a bracket from the earliest to the latest end.
    fn flexible_end(&mut self, placed: &PlacedStep, top: u64) {
        let range = placed.step.takes;
        if !range.is_range() {
            return;
        }
        let early = placed.end.less(range.middle().less(range.least));
        let (from, to) = (self.x(early), self.x(latest_end(placed)));
        self.line.ends += &format!(
            "M{} {}v1m0-.5H{}m0-.5v1",
            hundredths(from),
            hundredths(top + 80),
            hundredths(to)
        );
    }

    /// Writes into a bar what it is, and how long where there is room for that too.
    fn words_inside(&mut self, placed: &PlacedStep, from: u64, wide: u64, y: u64) {
        let words = verb_or_words(self.setting.words, &placed.step.words);
        let long = format!("{words} {}", takes(self.setting, &placed.step));
        let fits = |text: &str| (text.chars().count() as u64 + 1) * size::LETTER < wide;
        let text = [long.as_str(), words].into_iter().find(|text| fits(text));
        if let Some(text) = text {
            self.label("w", from + 90, y, text.trim_end().to_owned());
        }
    }

    /// Numbers the steps below their bars; neighbours without room share a label, `4–7`.
    fn step_numbers(&mut self, lane: &SheetLane, first: usize, top: u64) {
        let mut groups: Vec<Numbered> = Vec::new();
        for (place, placed) in lane.steps.iter().enumerate() {
            let (from, to) = (self.x(placed.start), self.x(placed.end));
            let mut next = Numbered::new(first + place, from, to);
            while let Some(before) = groups.pop_if(|before| before.right() + 60 > next.left()) {
                next = before.joined(&next);
            }
            groups.push(next);
        }
        for group in groups {
            self.label("n", group.middle(), top + 805, group.text());
        }
    }

    /// Draws the time while the oven heats below the lane of its bake.
    fn heating(&mut self, from: Elapsed, length: Elapsed) {
        let end = from.plus(length);
        let bake = self
            .bakes
            .iter()
            .find(|(start, _)| *start == end)
            .or(self.bakes.last());
        let Some((bake, foot)) = bake.copied() else {
            return;
        };
        // An oven that needs longer than the dough is lit at the very start, and still not over the bake.
        let (from, to) = (self.x(from), self.x(end.min(bake)));
        self.line.heating += &format!(
            "M{} {}H{}",
            hundredths(from),
            hundredths(foot + 30),
            hundredths(to)
        );
    }
}
