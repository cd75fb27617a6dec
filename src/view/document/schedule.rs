//! The steps in time in the document.

use schemars::JsonSchema;
use serde::Serialize;

use super::block::{place_of, title_of};
use super::decimal::{Celsius, Decimal, Minutes};
use super::markdown;
use crate::model::recipe::Cue;
use crate::model::verbs::Purpose;
use crate::sheet::{Lane, PlacedStep, Schedule, Sheet};

/// The steps of all blocks in time, counted from the start of the whole bake.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ScheduleDocument {
    /// Time from start to finish.
    whole_minutes: Minutes,
    /// Time that needs somebody; folds are not counted.
    hands_on_minutes: Minutes,
    /// When the oven has to be lit.
    preheats: Vec<PreheatDocument>,
    /// A lane for each block that has steps, by the time of its start; the dough comes last.
    lanes: Vec<LaneDocument>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PreheatDocument {
    /// When it is lit, from the start.
    start_minutes: Decimal,
    /// How long it heats.
    time_minutes: Decimal,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LaneDocument {
    /// Title of the block.
    block: String,
    /// Its steps, one after the other.
    steps: Vec<StepDocument>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct StepDocument {
    /// Its number among the steps of its block, counted from 0.
    step: usize,
    /// What is done, in the baker's words.
    words: String,
    /// The verb of the trade; absent where none is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    verb: Option<&'static str>,
    /// What it is for; absent where no verb is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    purpose: Option<&'static str>,
    /// Whether it needs somebody from start to end.
    hands_on: bool,
    /// How long it takes.
    time_minutes: Minutes,
    /// When it begins, by the middles of ranges.
    start_minutes: Decimal,
    /// When it ends.
    end_minutes: Decimal,
    /// The temperature that it is done at.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_c: Option<Celsius>,
    /// The place of the bakehouse that it is done in: `fridge`.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<String>,
    /// The temperature that it comes to.
    #[serde(skip_serializing_if = "Option::is_none")]
    to_c: Option<Celsius>,
    /// When it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<CueDocument>,
    /// When its folds fall.
    folds_minutes: Vec<Decimal>,
    /// The lines of its block that go in at it, counted from 0.
    lines: Vec<usize>,
    /// Titles of the fillings and toppings that it puts on.
    uses: Vec<String>,
    /// How it is done, Markdown.
    #[serde(skip_serializing_if = "Option::is_none")]
    instruction: Option<String>,
}

/// When a step is over: one of the fields is there.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
struct CueDocument {
    /// The temperature in the middle of the loaf.
    #[serde(skip_serializing_if = "Option::is_none")]
    core_c: Option<Celsius>,
    /// The temperature of the dough.
    #[serde(skip_serializing_if = "Option::is_none")]
    dough_c: Option<Celsius>,
    /// Its volume, as times the one at the start.
    #[serde(skip_serializing_if = "Option::is_none")]
    grown_times: Option<Decimal>,
    /// Anything else, as written.
    #[serde(skip_serializing_if = "Option::is_none")]
    words: Option<String>,
}

pub(super) fn view_schedule(schedule: &Schedule, sheet: &Sheet) -> ScheduleDocument {
    ScheduleDocument {
        whole_minutes: Minutes::with_middle(schedule.whole, schedule.middle),
        hands_on_minutes: Minutes::of(schedule.hands_on),
        preheats: schedule
            .preheats
            .iter()
            .map(|&(start, length)| PreheatDocument {
                start_minutes: Decimal::minutes(start),
                time_minutes: Decimal::minutes(length),
            })
            .collect(),
        lanes: schedule.lanes.iter().map(|lane| view_lane(lane, sheet)).collect(),
    }
}

fn view_lane(lane: &Lane, sheet: &Sheet) -> LaneDocument {
    LaneDocument {
        block: lane.title.clone(),
        steps: lane.steps.iter().map(|step| view_step(step, sheet)).collect(),
    }
}

fn view_step(placed: &PlacedStep, sheet: &Sheet) -> StepDocument {
    let step = &placed.step;
    StepDocument {
        step: placed.index,
        words: step.words.clone(),
        verb: step.verb.map(|verb| verb.word),
        purpose: placed.purpose.map(purpose_word),
        hands_on: step.hands_on,
        time_minutes: Minutes::of(step.takes),
        start_minutes: Decimal::minutes(placed.start),
        end_minutes: Decimal::minutes(placed.end),
        at_c: step.at.as_ref().map(|at| Celsius::of(&at.range)),
        place: step.at.as_ref().and_then(place_of),
        to_c: step.to.as_ref().map(|to| Celsius::of(&to.range)),
        until: step.until.as_ref().map(|until| view_cue(&until.value)),
        folds_minutes: placed.folds.iter().copied().map(Decimal::minutes).collect(),
        lines: placed.lines.clone(),
        uses: step.uses.iter().map(|id| title_of(sheet, *id)).collect(),
        instruction: step.prose.as_ref().map(markdown),
    }
}

fn view_cue(cue: &Cue) -> CueDocument {
    let none = CueDocument::default();
    match cue {
        Cue::Core(range) => CueDocument {
            core_c: Some(Celsius::of(range)),
            ..none
        },
        Cue::Dough(range) => CueDocument {
            dough_c: Some(Celsius::of(range)),
            ..none
        },
        Cue::Grown(times) => CueDocument {
            grown_times: Some(Decimal::of(times)),
            ..none
        },
        Cue::Words(words) => CueDocument {
            words: Some(words.clone()),
            ..none
        },
    }
}

const fn purpose_word(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Mix => "mix",
        Purpose::Handle => "handle",
        Purpose::Cook => "cook",
        Purpose::Rest => "rest",
        Purpose::Ferment => "ferment",
        Purpose::Proof => "proof",
        Purpose::Chill => "chill",
        Purpose::Warm => "warm",
        Purpose::Preheat => "preheat",
        Purpose::Bake => "bake",
        Purpose::Steam => "steam",
        Purpose::Cool => "cool",
        Purpose::Keep => "keep",
    }
}
