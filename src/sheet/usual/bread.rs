//! The usual ranges by kind of bread, as a table and as hints. The kind is read off the formula, and off tags and
//! title where the formula leaves it open.

use super::kinds::{self, Band, Sort};
use super::{Judged, per_mille, percent, written};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::{BlockKind, Recipe};
use crate::quantity::Ratio;
use crate::sheet::walk::salt_is_open;
use crate::source::Span;

/// What is usual for a bread of a kind, beside what it has.
#[derive(Clone, Debug)]
pub struct Usual {
    /// The kind, as it is named in a sentence: `a rye bread`.
    pub kind: &'static str,
    /// The figures that have a usual range.
    pub rows: Vec<UsualRow>,
}

/// A figure with its usual range; shares are fractions of one of all flour.
#[derive(Clone, Debug)]
pub struct UsualRow {
    /// Which figure.
    pub figure: UsualFigure,
    /// What the bread has of it.
    pub share: Ratio,
    /// The lower end.
    pub low: Ratio,
    /// The upper end.
    pub high: Ratio,
    /// What it rests on and how sure that is, in words.
    pub source: &'static str,
    /// Whether it lies so far outside that a hint is given.
    pub is_unusual: bool,
}

/// The figures that have usual ranges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UsualFigure {
    /// Water of what is wet.
    Water,
    /// Salt.
    Salt,
    /// Yeast, counted as fresh.
    Yeast,
    /// Sugar, syrup and honey as weighed.
    Sugar,
    /// Butter, fat and oil as weighed.
    Fat,
    /// Egg as weighed.
    Egg,
    /// Flour in preferments.
    Prefermented,
}

/// Lays what the bread has beside what is usual; nothing for what is no bread, or of which too little is known.
pub(super) fn usual_of(baked: &Judged) -> Option<Usual> {
    let figures = baked.figures;
    let yeast = baked.fresh_yeast();
    let raised = yeast.is_positive() || figures.prefermented.as_ref().is_some_and(Ratio::is_positive);
    // Scones, crackers and pastry are no breads, and nobody has gathered what is usual for them.
    if !raised || baked.is_blurred() {
        return None;
    }
    let sort = sort_of(baked);
    let sweetened = sweetened(baked);
    let of = |share: &Option<Ratio>| share.clone().unwrap_or_default();
    let mut rows = Vec::new();
    if let (Some(water), Some(band)) = (&figures.hydration, &sort.water) {
        let wet = *water > &band.highest() + &scald_allowance(baked) && !is_thirsty(baked);
        let is_unusual = *water < band.lowest() || wet;
        rows.push(band.row(UsualFigure::Water, water, is_unusual));
    }
    if let Some(salt) = &figures.salt {
        let is_open = *salt < sort.salt.lowest() && salt_is_open(baked.recipe, baked.blocks);
        let is_unusual = !sort.salt.holds(salt) && !is_open;
        rows.push(sort.salt.row(UsualFigure::Salt, salt, is_unusual));
    }
    let yeasted = Some(sort.yeast).filter(|_| yeast.is_positive());
    let at_most = [
        (UsualFigure::Yeast, yeast, yeasted),
        (UsualFigure::Sugar, sweetened, sort.sugar),
        (UsualFigure::Fat, baked.share_of(FAT_KINDS), sort.fat),
        (UsualFigure::Egg, of(&figures.egg), sort.egg),
    ];
    for (figure, share, band) in at_most {
        if let Some(band) = band {
            rows.push(band.row(figure, &share, share > band.highest()));
        }
    }
    if let Some(share) = figures.prefermented.as_ref().filter(|share| share.is_positive()) {
        let band = kinds::PREFERMENTED;
        rows.push(band.row(UsualFigure::Prefermented, share, *share > band.highest()));
    }
    Some(Usual {
        kind: sort.name,
        rows,
    })
}

/// Hints at what lies well outside the usual range of its kind.
pub(super) fn check(baked: &Judged, usual: &Usual, report: &mut Report) {
    for row in usual.rows.iter().filter(|row| row.is_unusual) {
        report.push(hint(baked, usual, row));
    }
}

fn hint(baked: &Judged, usual: &Usual, row: &UsualRow) -> Diagnostic {
    let (what, place) = match row.figure {
        UsualFigure::Water => ("water", baked.place_of(|part: &Ingredient| part.is_wet)),
        UsualFigure::Salt => ("salt", place_of_kinds(baked, &[Kind::Salt])),
        UsualFigure::Yeast => ("yeast, counted as fresh,", place_of_kinds(baked, &[Kind::Yeast])),
        UsualFigure::Sugar => ("sugar", place_of_kinds(baked, SWEET_KINDS)),
        UsualFigure::Fat => ("fat", place_of_kinds(baked, FAT_KINDS)),
        UsualFigure::Egg => ("egg", place_of_kinds(baked, &[Kind::Egg, Kind::DriedEgg])),
        UsualFigure::Prefermented => ("prefermented flour", place_of_largest_stage(baked)),
    };
    let low = (&row.low * &Ratio::HUNDRED).to_trimmed(1);
    let mut help = if row.high.is_zero() {
        format!("usual is none ({})", row.source)
    } else {
        format!("usual is {low} to {} ({})", written(&row.high), row.source)
    };
    if row.figure == UsualFigure::Salt {
        help += if row.share < row.low {
            "; with less the dough ferments faster and is slacker"
        } else {
            "; with more the dough ferments more slowly and is tighter, and much salt is a matter of health"
        };
    }
    let kind = match row.figure {
        UsualFigure::Prefermented => "a bread",
        _ => usual.kind,
    };
    let message = format!(
        "{what} is {} of all flour, unusual for {kind}",
        written(&row.share)
    );
    Diagnostic::new(Code::UnusualFigure, place, message).help(help)
}

fn place_of_kinds(baked: &Judged, kinds: &[Kind]) -> Span {
    baked.place_of(|part| kinds.contains(&part.kind))
}

fn place_of_largest_stage(baked: &Judged) -> Span {
    let stages = baked
        .blocks
        .iter()
        .filter(|block| block.role == super::Role::Stage);
    let largest = stages.max_by(|left, right| left.all_flour.cmp(&right.all_flour));
    let block = largest.and_then(|stage| super::block_of(baked.recipe, stage.id));
    block.map_or(baked.recipe.title.span, |block| block.span)
}

impl Band {
    fn lowest(&self) -> Ratio {
        per_mille(self.low - self.leeway)
    }

    fn highest(&self) -> Ratio {
        per_mille(self.high + self.leeway)
    }

    fn holds(&self, share: &Ratio) -> bool {
        *share >= self.lowest() && *share <= self.highest()
    }

    fn row(&self, figure: UsualFigure, share: &Ratio, is_unusual: bool) -> UsualRow {
        UsualRow {
            figure,
            share: share.clone(),
            low: per_mille(self.low),
            high: per_mille(self.high),
            source: self.source,
            is_unusual,
        }
    }
}

/// What is sweet by itself. Dried fruit is too, but a lean dough with raisins behaves as a lean dough.
const SWEET_KINDS: &[Kind] = &[Kind::Sugar, Kind::Syrup, Kind::Honey];

/// What is fat by itself; seeds, egg and milk bring some too, and nobody counts it as fat of the formula.
const FAT_KINDS: &[Kind] = &[Kind::Butter, Kind::Fat, Kind::Oil];

fn sweetened(baked: &Judged) -> Ratio {
    baked.share_of(SWEET_KINDS)
}

/// Decides what kind of bread it is, by what is in it first and by its name second.
fn sort_of(baked: &Judged) -> &'static Sort {
    let figures = baked.figures;
    let over =
        |share: &Option<Ratio>, hundredths| share.as_ref().is_some_and(|share| *share >= percent(hundredths));
    let sweetened = sweetened(baked);
    if over(&figures.rye, 50) {
        &kinds::RYE
    } else if over(&figures.fat, 20) && over(&figures.egg, 20) {
        &kinds::BRIOCHE
    } else if sweetened >= percent(8) {
        &kinds::SWEET
    } else if over(&figures.egg, 8) || over(&figures.fat, 12) {
        &kinds::ENRICHED
    } else if over(&figures.wholegrain, 75) {
        &kinds::WHOLEMEAL
    } else if let Some(sort) = named(baked.recipe) {
        sort
    } else if sweetened < percent(3) && !over(&figures.fat, 3) {
        &kinds::LEAN
    } else {
        &kinds::PLAIN
    }
}

fn named(recipe: &Recipe) -> Option<&'static Sort> {
    let tags = recipe.details.tags.iter();
    let texts = tags.chain([&recipe.title.value]).map(|text| text.to_lowercase());
    let words: Vec<String> = texts
        .flat_map(|text| {
            let words = text.split(|c: char| !c.is_alphanumeric());
            words
                .map(|word| word.trim_end_matches('s').to_owned())
                .collect::<Vec<_>>()
        })
        .collect();
    let found = kinds::NAMED
        .iter()
        .find(|(name, _)| words.iter().any(|word| word == name));
    found.map(|(_, sort)| *sort)
}

/// Scalded flour holds several times the water that raw flour does.
fn scald_allowance(baked: &Judged) -> Ratio {
    let scalded = baked.figures.scalded.as_ref().is_some_and(Ratio::is_positive);
    if scalded { percent(10) } else { Ratio::ZERO }
}

/// Says whether something beside flour drinks the water, so that much of it is no sign of a wet dough.
fn is_thirsty(baked: &Judged) -> bool {
    let soaked = baked.blocks.iter().any(|block| block.kind == BlockKind::Soaker);
    soaked
        || baked.share_of(&[Kind::Grain, Kind::Seed, Kind::Starch, Kind::Cooked, Kind::Gluten]) > percent(5)
}
