//! The steps of a card: what is done when, with the weights that go in at the point of use. Owns the order
//! and the words; the times come from the schedule of the sheet.

use schemars::JsonSchema;
use serde::Serialize;

use super::formula::{line_name, line_note};
use super::live::Key;
use super::markdown::{Headings, html};
use super::setting::{Setting, capitalised};
use super::verbs::verb_or_words;
use super::warmth::{estimate, scald_remark};
use super::word_list::Word;
use crate::model::recipe::{BlockId, Cue, Entry, FoldPlan, Step, StepTime};
use crate::quantity::{Elapsed, Ratio};
use crate::sheet::{Lane, PlacedStep, SheetBlock, SheetLine};

/// The method of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Method {
    /// The steps by blocks, in the order in which the blocks begin.
    pub groups: Vec<Group>,
    /// Whether any step has a time to show.
    pub timed: bool,
    /// What the times stand over: `from the start`; empty where they are those of a clock.
    pub times_head: &'static str,
    /// What the times count from, a sentence; empty where there are none.
    pub times_note: String,
}

/// The steps of a block.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Group {
    /// What the block is called.
    pub title: String,
    /// Remarks on the block.
    pub remarks: Vec<String>,
    /// Its steps in order.
    pub steps: Vec<StepView>,
    /// What its lines bring that no step takes in.
    pub rest: Vec<Input>,
}

/// A step.
#[derive(Debug, JsonSchema, Serialize)]
pub struct StepView {
    /// Its number on the card, from one.
    pub number: usize,
    /// When it begins, as the time since the start, `+12:05`, or on the clock, `day 2, 8:35`.
    pub begins: String,
    /// What goes in, with its weights.
    pub inputs: Vec<Input>,
    /// What is done, in the baker's words.
    pub words: String,
    /// How long it takes, a range as a range; empty for a step without a time of its own.
    pub takes: String,
    /// That it is an estimate, and what is written; mostly empty.
    pub estimate: String,
    /// At what temperature, and to what it comes; in both scales; often empty.
    pub temperature: String,
    /// When it is over, `doubled`; often empty.
    pub cue: String,
    /// The moments of its folds, as the time since the step began; a box to tick each.
    pub folds: Vec<String>,
    /// How it is done, as HTML that is settled and harmless; often empty.
    pub prose: String,
}

/// A thing that goes in at a step.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Input {
    /// Its weight in the first unit; the formula has it in the others.
    pub weight: String,
    /// Its name.
    pub name: String,
    /// Preparation, measure and temperature, to stand behind the name; often empty.
    pub note: String,
    /// What the prose below its line says, as HTML that is settled and harmless; often empty.
    pub prose: String,
}

/// Lays out the method.
pub(super) fn view_method(setting: &Setting<'_>) -> Method {
    let mut number = 0;
    let lanes = &setting.sheet.schedule.lanes;
    let mut groups: Vec<Group> = lanes
        .iter()
        .filter_map(|lane| Some(view_group(setting, lane, setting.block(lane.block)?, &mut number)))
        .collect();
    // A block without steps is shown where a step uses it, or else here, so that no weight is lost.
    let used = used_blocks(setting);
    for block in &setting.sheet.blocks {
        let has_lane = lanes.iter().any(|lane| lane.block == block.id);
        if !has_lane && !used.contains(&block.id) && !block.lines.is_empty() {
            groups.push(Group {
                title: setting.title(block),
                remarks: remarks(setting, block.id),
                steps: Vec::new(),
                rest: inputs(setting, block, 0..block.lines.len()),
            });
        }
    }
    Method {
        groups,
        timed: number > 0,
        times_head: match setting.start {
            _ if number == 0 => "",
            None => setting.words.get(Word::FromStart),
            Some(_) => "",
        },
        times_note: match setting.start {
            _ if number == 0 => String::new(),
            None => setting.words.get(Word::TimesNote).to_owned(),
            Some(_) => setting
                .words
                .fill(Word::ClockNote, &[("start", &setting.moment(Elapsed::ZERO))]),
        },
    }
}

/// Lists the fillings and toppings that steps put on without a line that pours them.
fn used_blocks(setting: &Setting<'_>) -> Vec<BlockId> {
    let steps = setting.sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps);
    steps
        .flat_map(|placed| placed.step.uses.iter().copied())
        .collect()
}

fn view_group(setting: &Setting<'_>, lane: &Lane, block: &SheetBlock, number: &mut usize) -> Group {
    let steps = lane.steps.iter().map(|placed| {
        *number += 1;
        view_step(setting, block, placed, *number)
    });
    let steps = steps.collect();
    let left = block
        .lines
        .iter()
        .enumerate()
        .filter(|(_, line)| line.step.is_none());
    Group {
        title: setting.title(block),
        remarks: remarks(setting, block.id),
        steps,
        rest: inputs(setting, block, left.map(|(place, _)| place)),
    }
}

fn remarks(setting: &Setting<'_>, id: BlockId) -> Vec<String> {
    let entries = setting.written(id).map(|block| block.entries.iter());
    let notes = entries.into_iter().flatten().filter_map(|entry| match entry {
        Entry::Note(note) => Some(note.value.clone()),
        Entry::Line(_) | Entry::Step(_) => None,
    });
    notes.chain(scald_remark(setting, id)).collect()
}

fn view_step(setting: &Setting<'_>, block: &SheetBlock, placed: &PlacedStep, number: usize) -> StepView {
    let step = &placed.step;
    let mut taken = inputs(setting, block, placed.lines.iter().copied());
    for used in &step.uses {
        taken.extend(put_on(setting, *used));
    }
    StepView {
        number,
        begins: setting.moment(placed.start),
        inputs: taken,
        words: capitalised(verb_or_words(setting.words, &step.words)),
        takes: takes(setting, step),
        estimate: estimate(setting, block.id, placed),
        temperature: temperature(setting, step),
        cue: step
            .until
            .as_ref()
            .map(|cue| cue_words(setting, &cue.value))
            .unwrap_or_default(),
        folds: step
            .folds
            .map(|folds| fold_moments(setting, folds))
            .unwrap_or_default(),
        prose: step
            .prose
            .as_ref()
            .map(|prose| html(prose, Headings::AsText))
            .unwrap_or_default(),
    }
}

/// Lists lines of a block as things that go in.
fn inputs(setting: &Setting<'_>, block: &SheetBlock, places: impl IntoIterator<Item = usize>) -> Vec<Input> {
    let lines = places
        .into_iter()
        .filter_map(|place| Some((place, block.lines.get(place)?)));
    lines
        .map(|(place, line)| input(setting, block.id, place, line))
        .collect()
}

fn input(setting: &Setting<'_>, id: BlockId, place: usize, line: &SheetLine) -> Input {
    let weight = setting.line_weight(id, place).zip(setting.place(id));
    let weight = weight.map(|(weight, block)| {
        let shown = setting.weigh_first(weight);
        setting.mark(Key::Line(block, place), shown)
    });
    let weight = weight.unwrap_or_default();
    let mut note = line_note(setting, line);
    if let Some(at) = &line.at {
        note.push_str(", ");
        note.push_str(&setting.comes_at(at));
    }
    Input {
        weight,
        name: line_name(setting, line),
        note,
        prose: line
            .prose
            .as_ref()
            .map(|prose| html(prose, Headings::AsText))
            .unwrap_or_default(),
    }
}

/// Lists what a filling or topping brings to the step that puts it on: its lines where it has no steps of
/// its own, else the whole of it.
fn put_on(setting: &Setting<'_>, id: BlockId) -> Vec<Input> {
    let Some(block) = setting.block(id) else {
        return Vec::new();
    };
    let has_steps = setting.sheet.schedule.lanes.iter().any(|lane| lane.block == id);
    if !has_steps {
        return inputs(setting, block, 0..block.lines.len());
    }
    let weight = setting.weigh_first(&setting.total_about(id));
    vec![Input {
        weight: setting.mark(Key::Total(setting.place(id).unwrap_or_default()), weight),
        name: setting.title(block),
        note: String::new(),
        prose: String::new(),
    }]
}

/// Says how long a step takes.
pub(super) fn takes(setting: &Setting<'_>, step: &Step) -> String {
    match step.time {
        StepTime::Takes(range) => setting.numbers.lengths(range),
        StepTime::Overnight => {
            let range = setting.numbers.lengths(step.takes);
            format!("{}, {range}", setting.words.get(Word::Overnight))
        }
        StepTime::Then => String::new(),
    }
}

fn temperature(setting: &Setting<'_>, step: &Step) -> String {
    let at = step.at.as_ref().map(|at| setting.at(at));
    let to = step.to.as_ref().map(|to| setting.to(to));
    at.into_iter().chain(to).collect::<Vec<_>>().join(" ")
}

/// Says in one line what is done, how long, at what temperature, with what folds and until when.
pub(super) fn step_words(setting: &Setting<'_>, step: &Step) -> String {
    let words = setting.words;
    let mut parts = vec![capitalised(verb_or_words(words, &step.words))];
    parts.extend([takes(setting, step), temperature(setting, step)]);
    if let Some(cue) = &step.until {
        parts.extend([words.get(Word::Until).to_owned(), cue_words(setting, &cue.value)]);
    }
    let mut text = parts
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" ");
    if let Some(plan) = step.folds {
        let moments = fold_moments(setting, plan).join(", ");
        text = format!("{text}. {} {moments}", words.get(Word::FoldAt));
    }
    text
}

/// Says when a step is over, in both scales where it is a temperature.
fn cue_words(setting: &Setting<'_>, cue: &Cue) -> String {
    let words = setting.words;
    let of_degrees = |word, range| words.fill(word, &[("temperature", &setting.numbers.temperature(range))]);
    match cue {
        Cue::Core(range) => of_degrees(Word::CueCore, range),
        Cue::Dough(range) => of_degrees(Word::CueDough, range),
        Cue::Grown(times) if *times == Ratio::whole(2) => words.get(Word::CueDoubled).to_owned(),
        Cue::Grown(times) => {
            let times = setting.numbers.decimal(times, 2);
            words.fill(Word::CueGrown, &[("times", &times)])
        }
        Cue::Words(text) => text.clone(),
    }
}

fn fold_moments(setting: &Setting<'_>, plan: FoldPlan) -> Vec<String> {
    let mut moment = Elapsed::ZERO;
    let moments = (0..plan.count).map(|_| {
        moment = moment.plus(plan.every);
        setting.numbers.length(moment)
    });
    moments.collect()
}
