//! When a bread is done: the core by its sort, against the temperature at which water boils here, and how
//! long it should cool. Owns the bands with their rows.

use super::types::{DoneSort, Doneness};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::Kind;
use crate::model::recipe::{Cue, Recipe, Step};
use crate::model::verbs::Purpose;
use crate::quantity::{Elapsed, ElapsedRange, Ratio};
use crate::sheet::physics::boiling_point;
use crate::sheet::types::{Figures, Pieces, TotalLine};
use crate::sheet::walk::{block_of, is_for, steps_of};

/// How far below the band a core is asked for before it is spoken of: the rows are good to 2 °C.
const LEEWAY: f64 = 2.0;

/// How far a core stays behind the boiling point in a bake of usual length; common practice, no source.
const BEHIND: f64 = 1.0;

/// Loaves from here on are told when they are done; a roll has no room for a thermometer. Common practice, no source.
const LOAF_GRAMS: i64 = 250;

/// Works out when a bread is done; nothing for what is not raised or not baked.
pub(super) fn doneness(
    recipe: &Recipe,
    figures: &Figures,
    total: &[TotalLine],
    pieces: &Pieces,
    report: &mut Report,
) -> Option<Doneness> {
    let bakes = || {
        let block = block_of(recipe, recipe.main);
        let steps = block.into_iter().flat_map(steps_of);
        steps.filter(|step| is_for(step, Purpose::Bake))
    };
    bakes().next()?;
    if !is_raised(recipe, figures, total) {
        return None;
    }
    let sort = sort_of(figures);
    let stated = bakes().filter_map(core_of).last();
    let done = Doneness {
        sort,
        usual: usual(sort),
        boiling: boiling_point(recipe.place.altitude_m.to_f64()),
        stated: stated.map(|(celsius, _)| celsius),
        cool: cool(sort, pieces),
    };
    if let Some((celsius, span)) = stated
        && celsius < done.lowest() - LEEWAY
    {
        report.push(
            Diagnostic::new(
                Code::UnusualFigure,
                span,
                format!("a core of {celsius:.0} °C is low for {}", name(sort)),
            )
            .help(format!(
                "usual is {:.0} to {:.0} °C ({})",
                done.usual.0,
                done.usual.1,
                source(sort)
            )),
        );
    }
    Some(done)
}

impl Doneness {
    /// Says whether a card of such pieces tells the core: where the recipe states none, and for loaves.
    #[must_use]
    pub fn is_told(&self, pieces: &Pieces) -> bool {
        self.stated.is_none() && pieces.dough.0 >= Ratio::whole(LOAF_GRAMS)
    }

    /// Gives the lowest core of the band that can be reached here.
    #[must_use]
    pub fn lowest(&self) -> f64 {
        self.usual.0.min(self.boiling - BEHIND)
    }

    /// Gives the highest core of the band that can be reached here.
    #[must_use]
    pub fn highest(&self) -> f64 {
        self.usual.1.min(self.boiling - BEHIND)
    }
}

fn core_of(step: &Step) -> Option<(f64, crate::source::Span)> {
    let cue = step.until.as_ref()?;
    match &cue.value {
        Cue::Core(range) => Some((range.middle().0.to_f64(), cue.span)),
        Cue::Dough(_) | Cue::Grown(_) | Cue::Words(_) => None,
    }
}

fn is_raised(recipe: &Recipe, figures: &Figures, total: &[TotalLine]) -> bool {
    let is_yeast = |line: &TotalLine| {
        let found = recipe.place.catalog.lookup(&line.key);
        found.is_some_and(|ingredient| ingredient.kind == Kind::Yeast)
    };
    figures.prefermented.as_ref().is_some_and(Ratio::is_positive) || total.iter().any(is_yeast)
}

fn sort_of(figures: &Figures) -> DoneSort {
    let over =
        |share: &Option<Ratio>, bound: f64| share.as_ref().is_some_and(|share| share.to_f64() >= bound);
    if over(&figures.rye, 0.5) {
        DoneSort::Rye
    } else if over(&figures.egg, 0.08) || over(&figures.fat, 0.12) || over(&figures.sugar, 0.08) {
        DoneSort::Enriched
    } else {
        DoneSort::Lean
    }
}

/// The core of each sort: soft and enriched 185 to 195 °F (D1), lean and crusty 200 to 208 °F (D2), both of a
/// baker's post on a list, low authority; rye 98 °C (D3, a maker of Latvian rye).
const fn usual(sort: DoneSort) -> (f64, f64) {
    match sort {
        DoneSort::Lean => (93.0, 98.0),
        DoneSort::Enriched => (85.0, 91.0),
        DoneSort::Rye => (97.0, 99.0),
    }
}

const fn name(sort: DoneSort) -> &'static str {
    match sort {
        DoneSort::Lean => "a lean bread",
        DoneSort::Enriched => "an enriched bread",
        DoneSort::Rye => "a rye bread",
    }
}

/// The sources of values D1, D2 and D3.
const fn source(sort: DoneSort) -> &'static str {
    match sort {
        DoneSort::Lean | DoneSort::Enriched => "a post in the Bread-Bakers mailing list, low authority",
        DoneSort::Rye => "a Latvian bakery's table of ready bread",
    }
}

/// How long a bread cools before it is sliced; common practice, no source. Rye waits until the next day.
fn cool(sort: DoneSort, pieces: &Pieces) -> ElapsedRange {
    let is_small = pieces.dough.0 < Ratio::whole(150);
    let (least, most) = match sort {
        DoneSort::Rye if !is_small => (12 * 60, 24 * 60),
        _ if is_small => (20, 40),
        DoneSort::Lean | DoneSort::Enriched | DoneSort::Rye => (60, 120),
    };
    ElapsedRange {
        least: Elapsed::minutes(least),
        most: Elapsed::minutes(most),
    }
}
