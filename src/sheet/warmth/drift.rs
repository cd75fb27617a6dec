//! A dough that drifts towards the warmth around it, and how far its leaven comes meanwhile.
//!
//! Newton's law: dT/dt = (around − T) / τ, and dG/dt = rate(T), integrated together by the classical
//! Runge-Kutta rule of fourth order. Owns the time constant and the integration; knows no recipe.

use super::growth::Rate;
use super::heat::Stuff;

/// Heat that still air and its surroundings take off a surface, W/(m² K): from 5 for a dough that is well
/// covered to 15 in a draught, 10 in between. Usual figures for still air with radiation, from memory.
pub(crate) const SURFACE: [f64; 3] = [10.0, 5.0, 15.0];

/// The step of the integration in hours.
const STEP: f64 = 0.05;

/// The longest time that is looked at, in hours: a week.
pub(crate) const LONGEST: f64 = 168.0;

/// A dough at a temperature, with what is around it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drift {
    /// Its temperature at the start.
    pub(crate) start: f64,
    /// What it drifts towards.
    pub(crate) around: f64,
    /// The time constant in hours.
    pub(crate) hours: f64,
}

/// Gives the time constant of a dough in hours, taken as a ball without gas: what its surface lets through,
/// ρ c V / (h A), and what comes from its inside, R² / (π² α) with α = k / (ρ c), the slowest part of the
/// cooling of a ball.
pub(crate) fn time_constant(dough: &Stuff, kilograms: f64, surface: f64) -> f64 {
    // The properties change little between a cool room and a proofer.
    let celsius = 25.0;
    let density = dough.density(celsius);
    let heat = 1000.0 * dough.specific_heat(celsius);
    if density <= 0.0 || kilograms <= 0.0 {
        return STEP;
    }
    let radius = (3.0 * kilograms / density / (4.0 * std::f64::consts::PI)).cbrt();
    let outside = density * heat * radius / (3.0 * surface);
    let diffusivity = dough.conductivity(celsius) / (density * heat);
    let inside = radius * radius / (std::f64::consts::PI.powi(2) * diffusivity);
    ((outside + inside) / 3600.0).max(STEP)
}

impl Drift {
    /// Gives the temperature after some hours.
    pub(crate) fn after(&self, hours: f64) -> f64 {
        self.around + (self.start - self.around) * (-hours / self.hours).exp()
    }

    /// Gives how far the leaven comes in some hours.
    pub(crate) fn growth(&self, rate: Rate, hours: f64) -> f64 {
        let (mut state, mut passed) = ((self.start, 0.0), 0.0);
        while passed < hours {
            let step = STEP.min(hours - passed);
            state = self.step(rate, state, step);
            passed += step;
        }
        state.1
    }

    /// Gives the hours until the leaven has come so far; nothing where a week is not enough.
    pub(crate) fn hours_for(&self, rate: Rate, growth: f64) -> Option<f64> {
        let (mut state, mut passed) = ((self.start, 0.0), 0.0);
        while passed < LONGEST {
            let next = self.step(rate, state, STEP);
            if next.1 >= growth {
                let gained = next.1 - state.1;
                let part = if gained > 0.0 {
                    (growth - state.1) / gained
                } else {
                    0.0
                };
                return Some(passed + STEP * part.max(0.0));
            }
            state = next;
            passed += STEP;
        }
        None
    }

    /// Goes one step on from a temperature and a growth.
    fn step(&self, rate: Rate, (celsius, growth): (f64, f64), step: f64) -> (f64, f64) {
        let slope = |celsius: f64| ((self.around - celsius) / self.hours, rate(celsius));
        let first = slope(celsius);
        let second = slope(celsius + step / 2.0 * first.0);
        let third = slope(celsius + step / 2.0 * second.0);
        let fourth = slope(celsius + step * third.0);
        let mean = |pick: fn((f64, f64)) -> f64| {
            (pick(first) + 2.0 * pick(second) + 2.0 * pick(third) + pick(fourth)) / 6.0
        };
        (
            celsius + step * mean(|slope| slope.0),
            growth + step * mean(|slope| slope.1),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::Drift;
    use crate::sheet::warmth::growth::sourdough_yeast;

    /// The integration against Newton's law solved by hand, with a rate that is the temperature itself.
    #[test]
    fn the_integration_agrees_with_the_solution() {
        let drift = Drift {
            start: 28.0,
            around: 18.0,
            hours: 3.0,
        };
        let area = 18.0 * 5.0 + 10.0 * 3.0 * (1.0 - (-5.0_f64 / 3.0).exp());
        assert!((drift.growth(|celsius| celsius, 5.0) - area).abs() < 1e-6);
    }

    /// F7: at a growth of 0.7 an hour a generation takes 0.99 h. A list of questions on sourdough.
    #[test]
    fn f7_generation_time() {
        let drift = Drift {
            start: 30.0,
            around: 30.0,
            hours: 1.0,
        };
        let hours = drift.hours_for(|_| 0.7, std::f64::consts::LN_2);
        assert!(
            hours.is_some_and(|hours| (hours - 0.99).abs() < 0.01),
            "{hours:?}"
        );
    }

    /// The time for a growth is the time that the growth took.
    #[test]
    fn time_and_growth_are_each_others_way_back() {
        let drift = Drift {
            start: 25.0,
            around: 17.0,
            hours: 2.5,
        };
        let growth = drift.growth(sourdough_yeast, 6.3);
        let hours = drift.hours_for(sourdough_yeast, growth);
        assert!(
            hours.is_some_and(|hours| (hours - 6.3).abs() < 0.001),
            "{hours:?}"
        );
        assert_eq!(drift.hours_for(|_| 0.0, 1.0), None);
    }
}
