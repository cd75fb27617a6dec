//! How warm a stage is where it is poured: what its lines come to together, heated by what cooks it, and led
//! towards what it waits in after that. Owns that way through its steps; what its lines bring is `parts`' own.

use super::drift::{Drift, SURFACE, time_constant};
use super::heat::Stuff;
use super::parts::{Bench, Part, together};
use super::types::WarmFrom;
use crate::model::recipe::{Block, BlockId, Cue, Step, TemperatureSpec};
use crate::model::verbs::Purpose;
use crate::sheet::reach::is_preferment;
use crate::sheet::walk::steps_of;

/// A stage on its way through its steps.
struct Way {
    /// What is in it by now.
    stuff: Stuff,
    /// How warm that is; nothing while it is as the room by all that is known.
    celsius: Option<f64>,
    room: f64,
    boiling: f64,
}

impl Way {
    /// Puts things in; together they are no hotter than water boils.
    fn take_in(&mut self, parts: &[Part]) {
        let before = self.stuff.heat(self.now());
        let knows_more = parts.iter().any(|part| part.from != WarmFrom::Room);
        let heat = before + parts.iter().map(Part::heat).sum::<f64>();
        self.stuff = parts.iter().fold(self.stuff, |sum, part| sum.plus(&part.stuff));
        if !parts.is_empty() && (knows_more || self.celsius.is_some()) {
            self.celsius = Some(self.stuff.temperature(heat).min(self.boiling));
        }
    }

    fn now(&self) -> f64 {
        self.celsius.unwrap_or(self.room)
    }
}

impl Bench<'_> {
    /// Gives the temperature that the lines of a block come to together: no hotter than water boils here.
    pub(super) fn mixed(&self, id: BlockId) -> f64 {
        self.at_most_boiling(together(&self.parts(id)))
    }

    /// Gives the temperature that a stage has where it is poured.
    pub(super) fn stage_warmth(&self, block: &Block) -> (f64, WarmFrom) {
        let mut parts = self.parts(block.id);
        if is_preferment(block.kind) {
            // It ripens before it is poured, and is as warm as the room by then where nothing else is said.
            for part in &mut parts {
                (part.celsius, part.from) = (self.room(), WarmFrom::Room);
            }
        }
        let mut way = Way {
            stuff: Stuff::default(),
            celsius: None,
            room: self.room(),
            boiling: self.boiling(),
        };
        for (index, step) in steps_of(block).enumerate() {
            let (now, later): (Vec<Part>, _) = parts.into_iter().partition(|part| part.step == Some(index));
            parts = later;
            way.take_in(&now);
            way.celsius = self.after(step, &way).or(way.celsius);
        }
        way.take_in(&parts);
        match way.celsius {
            Some(celsius) => (celsius, WarmFrom::Stage),
            None => (way.room, WarmFrom::Room),
        }
    }

    /// Gives the temperature of a stage after a step; nothing where the step leaves it as it is.
    fn after(&self, step: &Step, way: &Way) -> Option<f64> {
        let celsius = way.now();
        if let Some(heated) = heats_to(step, way.boiling) {
            let heated = self.at_most_boiling(heated);
            return Some(heated.max(celsius));
        }
        let to = step.to.as_ref().map(|spec| self.degrees(spec));
        if let Some(reached) = cue_of(step).or(to) {
            return Some(reached);
        }
        let at = step.at.as_ref().map(|spec| self.degrees(spec));
        let Some(verb) = step.verb else {
            return at;
        };
        let around = match verb.purpose {
            Purpose::Rest | Purpose::Cool | Purpose::Warm => at.unwrap_or(way.room),
            Purpose::Chill => at.unwrap_or_else(|| self.place("fridge", 4.0)),
            // What ferments at some temperature is held at it: the warmth that the recipe means is the dough's.
            Purpose::Ferment | Purpose::Proof if at.is_none() => way.room,
            _ => return at,
        };
        if way.celsius.is_none() && at.is_none() && verb.purpose != Purpose::Chill {
            return None;
        }
        let drift = Drift {
            start: celsius,
            around,
            hours: time_constant(&way.stuff, way.stuff.grams() / 1000.0, SURFACE[0]),
        };
        Some(drift.after(step.takes.middle().as_hours()))
    }
}

/// Gives what a step that cooks heats a stage to: as stated, else boiling; nothing for any other step.
pub(super) fn heats_to(step: &Step, boiling: f64) -> Option<f64> {
    if !matches!(step.verb?.word, "cook" | "boil") {
        return None;
    }
    let spec = step.to.as_ref().or(step.at.as_ref());
    let stated = spec.map(|spec| TemperatureSpec::middle(spec).0.to_f64());
    Some(
        cue_of(step)
            .or(stated)
            .map_or(boiling, |celsius| celsius.min(boiling)),
    )
}

/// Gives the temperature inside that ends a step.
fn cue_of(step: &Step) -> Option<f64> {
    match &step.until.as_ref()?.value {
        Cue::Core(range) | Cue::Dough(range) => Some(range.middle().0.to_f64()),
        Cue::Grown(_) | Cue::Words(_) => None,
    }
}
