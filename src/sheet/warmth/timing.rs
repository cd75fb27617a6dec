//! Times in another room than the formula was written for: each rising step that hangs on the room takes as
//! long as its leaven needs to come as far as it came in the time that is written.
//!
//! Owns the way of a dough's temperature through the steps of its block, as written and now; the curves and
//! the integration have files of their own. Only rising is timed anew: resting, shaping and what has a
//! temperature of its own stay as they are.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::drift::{Drift, LONGEST, SURFACE, time_constant};
use super::growth::{Amount, Rate};
use super::parts::Bench;
use super::types::{Leaven, NoEstimate, TimeEstimate, TimedStep, Timing};
use super::water;
use crate::model::catalog::Kind;
use crate::model::recipe::{Block, BlockId, Entry, Line, Recipe, Step, StepTime, TemperatureSpec, Thing};
use crate::model::verbs::Purpose;
use crate::quantity::{Celsius, CelsiusRange, Elapsed, ElapsedRange};
use crate::sheet::SheetBlock;
use crate::sheet::types::Pieces;
use crate::sheet::walk::{ingredients_of, is_for, lines_of, steps_of};

/// Gives a recipe in another room: what stands at `room` is as warm as that.
pub(crate) fn in_room(recipe: &Recipe, room: &Celsius) -> Recipe {
    let mut moved = recipe.clone();
    let mut place = (*moved.place).clone();
    place.temperatures.insert("room".to_owned(), room.clone());
    place.given.insert("room".to_owned());
    moved.place = Arc::new(place);
    let warm = |spec: &mut Option<TemperatureSpec>| {
        if let Some(spec) = spec.as_mut().filter(|spec| is_room(spec)) {
            spec.range = CelsiusRange::single(room.clone());
        }
    };
    for entry in moved.blocks.iter_mut().flat_map(|block| &mut block.entries) {
        match entry {
            Entry::Line(line) => warm(&mut line.at),
            Entry::Step(step) => {
                warm(&mut step.at);
                warm(&mut step.to);
            }
            Entry::Note(_) => {}
        }
    }
    moved
}

fn is_room(spec: &TemperatureSpec) -> bool {
    spec.place.as_deref() == Some("room")
}

/// Works out how long the rising steps of a recipe take in another room, with a share of the leaven that is
/// written in the dough.
pub(crate) fn times(
    (written, moved): (&Recipe, &Recipe),
    blocks: &[SheetBlock],
    pieces: &Pieces,
    leaven: f64,
) -> Timing {
    let of = |recipe| Bench::new(recipe, blocks);
    let (then, now) = (of(written), of(moved));
    let courses = written.blocks.iter().filter_map(|block| {
        let share = if block.id == written.main { leaven } else { 1.0 };
        Course::start(&then, &now, block, pieces, share)
    });
    Timing {
        room: now.room(),
        written_for: then.room(),
        written_for_assumed: written.place.is_default("room"),
        leaven,
        steps: courses.flat_map(Course::run).collect(),
    }
}

/// Gives the steps of a recipe the times that were worked out.
pub(crate) fn retime(recipe: &mut Recipe, timing: &Timing) {
    for timed in &timing.steps {
        let block = recipe.blocks.get_mut(timed.block.0);
        let entries = block.into_iter().flat_map(|block| &mut block.entries);
        let mut steps = entries.filter_map(|entry| match entry {
            Entry::Step(step) => Some(step),
            Entry::Line(_) | Entry::Note(_) => None,
        });
        if let (Some(step), Ok(estimate)) = (steps.nth(timed.step), &timed.estimate) {
            step.takes = estimate.takes;
            step.time = StepTime::Takes(estimate.takes);
        }
    }
}

/// A block on its way through its steps, as written and now.
struct Course<'a> {
    block: &'a Block,
    leaven: Leaven,
    /// The temperatures of the rooms, as written and now.
    rooms: (f64, f64),
    /// The dough's temperature where it stands, as written and now.
    dough: (f64, f64),
    /// Time constants in hours of the whole dough and of a piece, each for the usual surface, a covered one
    /// and one in a draught.
    whole: [f64; 3],
    piece: [f64; 3],
    /// How much of the written leaven there is, and whether a rise has made up for it.
    share: f64,
    made_up: bool,
}

impl<'a> Course<'a> {
    fn start(
        then: &Bench<'a>,
        now: &Bench<'_>,
        block: &'a Block,
        pieces: &Pieces,
        share: f64,
    ) -> Option<Self> {
        let hangs = steps_of(block).any(|step| is_timed(step, share));
        let sheet = then.blocks.iter().find(|sheet| sheet.id == block.id);
        let sheet = sheet.filter(|_| hangs)?;
        let stuff = then.block_stuff(block.id, 0).0;
        let is_main = block.id == then.recipe.main;
        let constants = |kilograms: f64| SURFACE.map(|surface| time_constant(&stuff, kilograms, surface));
        let whole = sheet.total.0.to_f64() / 1000.0;
        let piece = if is_main {
            pieces.dough.0.to_f64() / 1000.0
        } else {
            whole
        };
        let wanted = then.recipe.details.dough_temperature.as_ref().filter(|_| is_main);
        let start = |bench: &Bench<'_>| {
            wanted
                .map(|wanted| wanted.value.middle().0.to_f64())
                .or_else(|| water::as_stated(bench, block))
                .unwrap_or_else(|| bench.room())
        };
        Some(Self {
            block,
            leaven: leaven_of(then.recipe, block.id, &mut BTreeSet::new()),
            rooms: (then.room(), now.room()),
            dough: (start(then), start(now)),
            whole: constants(whole),
            piece: constants(piece),
            share,
            made_up: false,
        })
    }

    fn run(mut self) -> Vec<TimedStep> {
        let mut timed = Vec::new();
        let mut hours = self.whole;
        // The temperature that the dough begins with is the one after mixing.
        let mixed = water::end_of_mixing(self.block);
        for (at, step) in steps_of(self.block).enumerate() {
            if is_for(step, Purpose::Bake) {
                break;
            }
            if step.verb.is_some_and(|verb| verb.word == "divide") {
                hours = self.piece;
            }
            let mut takes = (step.takes.middle().as_hours(), step.takes.middle().as_hours());
            if is_timed(step, self.share) {
                let estimate = self.estimate(step, hours);
                self.made_up = true;
                if let Ok(estimate) = &estimate {
                    takes.1 = estimate.middle_minutes / 60.0;
                }
                timed.push(TimedStep {
                    block: self.block.id,
                    step: at,
                    words: step.words.clone(),
                    written: step.takes,
                    leaven: self.leaven,
                    estimate,
                });
            }
            if mixed.is_none_or(|mixed| at > mixed) {
                self.pass(step, takes, hours[0]);
            }
        }
        timed
    }

    /// Moves the dough on to the end of a step.
    fn pass(&mut self, step: &Step, takes: (f64, f64), hours: f64) {
        if let Some(to) = &step.to {
            let to = to.middle().0.to_f64();
            self.dough = (to, to);
            return;
        }
        let (then, now) = self.drifts(step, hours);
        self.dough = (then.after(takes.0), now.after(takes.1));
    }

    /// Gives the drift of the dough in a step, as written and now.
    fn drifts(&self, step: &Step, hours: f64) -> (Drift, Drift) {
        let around = match &step.at {
            Some(at) if !is_room(at) => {
                let at = at.middle().0.to_f64();
                (at, at)
            }
            _ => self.rooms,
        };
        let drift = |start, around| Drift { start, around, hours };
        (drift(self.dough.0, around.0), drift(self.dough.1, around.1))
    }

    fn estimate(&self, step: &Step, hours: [f64; 3]) -> Result<TimeEstimate, NoEstimate> {
        if self.leaven == Leaven::Nothing {
            return Err(NoEstimate::NoLeaven);
        }
        let (then, now) = self.drifts(step, hours[0]);
        let (low, high) = self.leaven.covered();
        let met = [then.around, now.around, then.start, now.start];
        if [then.around, now.around]
            .iter()
            .any(|celsius| !(low..=high).contains(celsius))
        {
            return Err(NoEstimate::OutsideSource(low, high));
        }
        if step.takes.most.as_hours() > LONGEST {
            return Err(NoEstimate::TooLong);
        }
        let sources = self.sources(&met);
        let first = *sources.first().ok_or(NoEstimate::NoLeaven)?;
        let written = step.takes.middle();
        let middle = self
            .by(step, first, hours[0], written)
            .ok_or(NoEstimate::TooLong)??;
        let mut ends = (middle, middle);
        for source in sources {
            for hours in hours {
                let of = |length| self.by(step, source, hours, length).ok_or(NoEstimate::TooLong);
                // A source that has nothing to say here does not widen the range.
                if let (Ok(least), Ok(most)) = (of(step.takes.least)?, of(step.takes.most)?) {
                    ends = (ends.0.min(least), ends.1.max(most));
                }
            }
        }
        Ok(TimeEstimate {
            takes: ElapsedRange {
                least: rounded(ends.0),
                most: rounded(ends.1),
            },
            middle_minutes: middle * 60.0,
            begins: self.dough,
            ends: (then.after(written.as_hours()), now.after(middle)),
            around: (then.around, now.around),
            drift_minutes: hours[0] * 60.0,
            growth: then.growth(first.0, written.as_hours()),
        })
    }

    /// Lists what speaks of this leaven, each with what its amount means.
    fn sources(&self, met: &[f64]) -> Vec<(Rate, Amount)> {
        if is_all(self.share) {
            let rates = self.leaven.rates(met).into_iter();
            return rates.map(|rate| (rate, Amount::Works)).collect();
        }
        self.leaven.amounts()
    }

    /// Gives the hours of a step by one source and one time constant; nothing past a week.
    fn by(
        &self,
        step: &Step,
        (rate, amount): (Rate, Amount),
        hours: f64,
        written: Elapsed,
    ) -> Option<Result<f64, NoEstimate>> {
        let (then, now) = self.drifts(step, hours);
        let growth = then.growth(rate, written.as_hours());
        let growth = amount.growth(growth, self.share, !self.made_up);
        if growth <= 0.0 {
            return Some(Err(NoEstimate::AtOnce));
        }
        now.hours_for(rate, growth).map(Ok)
    }
}

/// Says whether a step is timed anew: one that rises and hangs on the room, or any that rises where there is
/// another amount of leaven.
fn is_timed(step: &Step, share: f64) -> bool {
    rises(step) && (hangs_on_room(step) || !is_all(share))
}

fn is_all(share: f64) -> bool {
    (share - 1.0).abs() < 1e-9
}

fn rises(step: &Step) -> bool {
    is_for(step, Purpose::Ferment) || is_for(step, Purpose::Proof)
}

fn hangs_on_room(step: &Step) -> bool {
    step.at.as_ref().is_none_or(is_room)
}

/// Rounds hours to five minutes, which is more than an estimate can promise; at least five.
fn rounded(hours: f64) -> Elapsed {
    // A week at most comes in, so that the number fits many times over.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "it is clamped to what fits"
    )]
    let fives = (hours * 12.0).round().clamp(1.0, 10_000.0) as u32;
    Elapsed::minutes(fives.saturating_mul(5))
}

/// Finds what raises a block, the stages that it pours included; each of them is looked at once, however often it
/// is poured.
fn leaven_of(recipe: &Recipe, id: BlockId, seen: &mut BTreeSet<BlockId>) -> Leaven {
    let Some(block) = recipe.blocks.get(id.0).filter(|_| seen.insert(id)) else {
        return Leaven::Nothing;
    };
    let of_line = |line: &Line, seen: &mut BTreeSet<BlockId>| match &line.thing {
        Thing::Stage(stage) => leaven_of(recipe, *stage, seen),
        Thing::Mixture(mixture) if mixture.is_starter => Leaven::Sourdough,
        _ if ingredients_of(line).iter().any(|one| one.kind == Kind::Yeast) => Leaven::Yeast,
        _ => Leaven::Nothing,
    };
    let own = lines_of(block).fold(Leaven::Nothing, |found, (line, _)| {
        found.with(of_line(line, seen))
    });
    joined_stages(recipe, id).fold(own, |found, stage| found.with(leaven_of(recipe, stage, seen)))
}

/// Lists the stages that a formula pours by itself.
fn joined_stages(recipe: &Recipe, id: BlockId) -> impl Iterator<Item = BlockId> + '_ {
    let is_formula = id == recipe.main && crate::sheet::content::has_formula(recipe);
    recipe
        .blocks
        .iter()
        .filter(move |block| is_formula && crate::sheet::reach::is_preferment(block.kind))
        .map(|block| block.id)
}

impl Leaven {
    /// Puts two together.
    fn with(self, other: Self) -> Self {
        match (self, other) {
            (one, Self::Nothing) | (Self::Nothing, one) => one,
            (Self::Yeast, Self::Yeast) => Self::Yeast,
            (Self::Sourdough, Self::Sourdough) => Self::Sourdough,
            _ => Self::Both,
        }
    }
}
