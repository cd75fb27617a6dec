//! The axis of the time line: the hours, on the clock where the start is known, and the nights. Owns how close the
//! hours stand and which nights are known; the bars stand elsewhere.

use super::Drawing;
use super::geometry::{hundredths, size};
use crate::model::recipe::StepTime;
use crate::quantity::Elapsed;

/// Minutes of a day.
const DAY: u32 = 1440;

/// Minutes from one mark to the next.
const STEPS: [u32; 12] = [
    15,
    30,
    60,
    120,
    180,
    240,
    360,
    720,
    DAY,
    2 * DAY,
    4 * DAY,
    8 * DAY,
];

impl Drawing<'_, '_> {
    /// Marks the hours, as close as their words leave room, and the nights.
    pub(super) fn axis(&mut self) {
        let room = ((self.width - self.left) / size::TICK).max(1);
        let minutes = u32::try_from(self.span.div_ceil(60)).unwrap_or(u32::MAX);
        let fits = |step: &u32| u64::from(minutes / step) < room;
        let step = STEPS.into_iter().find(fits).unwrap_or(30 * DAY);
        let foot = self.setting.sheet.schedule.lanes.len() as u64 * self.pitch();
        // On the clock, the marks stand at full hours, wherever the bake begins.
        let first = self
            .begins()
            .map_or(0, |begins| begins.next_multiple_of(step) - begins);
        for moment in (first..=minutes).step_by(step as usize) {
            let at = Elapsed::minutes(moment);
            let x = self.x(at);
            let text = match self.begins() {
                Some(begins) => self.setting.numbers.clock(begins + moment),
                None if moment == 0 => "0".to_owned(),
                None if step < 60 => self.setting.numbers.moment(at),
                None => self.setting.numbers.length(at),
            };
            self.line.hours += &format!("M{} .3V{}", hundredths(x), hundredths(foot + 60));
            self.label("h", x, foot + 340, text);
        }
        for (from, to) in self.nights(minutes) {
            let (from, to) = (self.x(Elapsed::minutes(from)), self.x(Elapsed::minutes(to)));
            let y = hundredths(foot + 40);
            self.line.nights += &format!("M{} {y}H{}", hundredths(from), hundredths(to));
        }
    }

    /// Gives the minutes after midnight at which the bake begins, where that is known.
    fn begins(&self) -> Option<u32> {
        let start = self.setting.start?;
        Some(u32::from(start.minutes_after_midnight()))
    }

    /// Lists the nights in minutes from the start: the hours of sleep on the clock, else what the recipe does
    /// overnight.
    fn nights(&self, minutes: u32) -> Vec<(u32, u32)> {
        let Some(begins) = self.begins() else {
            let steps = self
                .setting
                .sheet
                .schedule
                .lanes
                .iter()
                .flat_map(|lane| &lane.steps);
            let nights = steps.filter(|placed| matches!(placed.step.time, StepTime::Overnight));
            return nights
                .map(|placed| (placed.start.as_minutes(), placed.end.as_minutes()))
                .collect();
        };
        let Some((asleep, awake)) = self.setting.recipe.place.asleep else {
            return Vec::new();
        };
        let asleep = u32::from(asleep.minutes_after_midnight());
        let length = (u32::from(awake.minutes_after_midnight()) + DAY - asleep) % DAY;
        // The night before the first day may still last when the bake begins.
        let nights = (0..=begins.saturating_add(minutes) / DAY + 1).filter_map(|day| {
            let from = (day * DAY + asleep).saturating_sub(DAY + begins);
            let to = (day * DAY + asleep + length).saturating_sub(DAY + begins);
            let to = to.min(minutes);
            (from < to).then_some((from, to))
        });
        nights.collect()
    }
}
