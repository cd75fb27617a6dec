//! The usual ranges by kind of bread. The kind is read off the formula, and off tags and title where the
//! formula leaves it open.

use super::{Judged, per_mille, percent, written};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{Ingredient, Kind};
use crate::model::recipe::{BlockKind, Recipe};
use crate::quantity::Ratio;

/// A kind of bread with its usual ranges.
struct Sort {
    /// How it is named in a sentence.
    name: &'static str,
    water: Option<Band>,
    salt: Band,
    /// Counted as fresh; only too much is spoken of, since time makes up for too little.
    yeast: Band,
}

/// A usual range on all flour, in thousandths.
struct Band {
    low: i64,
    high: i64,
    /// How far outside is still not worth a word.
    leeway: i64,
    /// The rows of the published values that it rests on, and how sure they are.
    source: &'static str,
}

const fn band(low: i64, high: i64, leeway: i64, source: &'static str) -> Band {
    Band {
        low,
        high,
        leeway,
        source,
    }
}

/// Rows R10 to R14 and R8, R9 are from texts, from memory and not looked up; R1 to R3 and R7 were found in
/// print, R5 at second hand. The leeways are ours: common practice, no source.
const SALT: Band = band(15, 25, 3, "R5, quoted at second hand");
const SALT_SWEET: Band = band(12, 25, 3, "R13, R14, from memory");
const YEAST: Band = band(1, 50, 10, "R7");
const YEAST_SWEET: Band = band(30, 80, 20, "R13, from memory");

const RYE: Sort = Sort {
    name: "a rye bread",
    water: Some(band(700, 950, 50, "R11, from memory")),
    salt: SALT,
    yeast: YEAST,
};
const BRIOCHE: Sort = Sort {
    name: "a brioche",
    water: None,
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
};
const SWEET: Sort = Sort {
    name: "an enriched dough",
    water: Some(band(350, 660, 60, "R12, R13, from memory")),
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
};
const WHOLEMEAL: Sort = Sort {
    name: "a wholemeal bread",
    water: Some(band(680, 850, 50, "R10, from memory")),
    salt: SALT,
    yeast: YEAST,
};
const BAGEL: Sort = Sort {
    name: "bagels and pretzels",
    water: Some(band(500, 570, 50, "R2")),
    salt: SALT,
    yeast: YEAST,
};
const BAGUETTE: Sort = Sort {
    name: "a baguette",
    water: Some(band(630, 750, 50, "R8, from memory")),
    salt: SALT,
    yeast: YEAST,
};
const FOCACCIA: Sort = Sort {
    name: "focaccia and ciabatta",
    water: Some(band(720, 900, 50, "R9, from memory")),
    salt: SALT,
    yeast: YEAST,
};
const PLAIN: Sort = Sort {
    name: "a bread",
    water: Some(band(500, 900, 50, "R2, R3, R8, R9")),
    salt: SALT,
    yeast: YEAST,
};

/// Words of tag and title that name a kind, in lower case and in the singular.
const NAMED: &[(&str, &Sort)] = &[
    ("bagel", &BAGEL),
    ("pretzel", &BAGEL),
    ("baguette", &BAGUETTE),
    ("focaccia", &FOCACCIA),
    ("ciabatta", &FOCACCIA),
];

/// Hints at what lies well outside the usual range of its kind.
pub(super) fn check(baked: &Judged, report: &mut Report) {
    let figures = baked.figures;
    let yeast = baked.fresh_yeast();
    let raised = yeast.is_positive() || figures.prefermented.as_ref().is_some_and(Ratio::is_positive);
    // Scones, crackers and pastry are no breads, and nobody has gathered what is usual for them.
    if !raised || baked.is_blurred() {
        return;
    }
    let sort = sort_of(baked);
    if let Some(salt) = &figures.salt
        && !sort.salt.holds(salt)
    {
        let place = baked.place_of(|part| part.kind == Kind::Salt);
        report.push(sort.hint("salt", salt, &sort.salt, place));
    }
    if yeast > sort.yeast.highest() {
        let place = baked.place_of(|part| part.kind == Kind::Yeast);
        report.push(sort.hint("yeast, counted as fresh,", &yeast, &sort.yeast, place));
    }
    if let (Some(water), Some(band)) = (&figures.hydration, &sort.water) {
        let dry = *water < band.lowest();
        let wet = *water > &band.highest() + &scald_allowance(baked) && !is_thirsty(baked);
        if dry || wet {
            let place = baked.place_of(|part: &Ingredient| part.is_wet);
            report.push(sort.hint("water", water, band, place));
        }
    }
    check_prefermented(baked, report);
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
}

impl Sort {
    fn hint(&self, what: &str, share: &Ratio, band: &Band, place: crate::source::Span) -> Diagnostic {
        Diagnostic::new(
            Code::UnusualFigure,
            place,
            format!(
                "{what} is {} of all flour, unusual for {}",
                written(share),
                self.name
            ),
        )
        .help(format!(
            "usual is {} to {} ({})",
            (&per_mille(band.low) * &Ratio::HUNDRED).to_trimmed(1),
            written(&per_mille(band.high)),
            band.source
        ))
    }
}

/// Decides what kind of bread it is, by what is in it first and by its name second.
fn sort_of(baked: &Judged) -> &'static Sort {
    let figures = baked.figures;
    let over =
        |share: &Option<Ratio>, hundredths| share.as_ref().is_some_and(|share| *share >= percent(hundredths));
    // Dried fruit is sweet too, but a lean dough with raisins behaves as a lean dough.
    let sweetened = baked.share_of(&[Kind::Sugar, Kind::Syrup, Kind::Honey]);
    if over(&figures.rye, 50) {
        &RYE
    } else if over(&figures.fat, 20) && over(&figures.egg, 20) {
        &BRIOCHE
    } else if sweetened >= percent(8) || over(&figures.egg, 8) || over(&figures.fat, 12) {
        &SWEET
    } else if over(&figures.wholegrain, 75) {
        &WHOLEMEAL
    } else {
        named(baked.recipe).unwrap_or(&PLAIN)
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
    let found = NAMED
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

/// Published value R16 ends at half of the flour; sponge doughs of the trade go to two thirds.
fn check_prefermented(baked: &Judged, report: &mut Report) {
    let band = band(100, 500, 150, "R16");
    let Some(share) = &baked.figures.prefermented else {
        return;
    };
    if *share > band.highest() {
        let stages = baked
            .blocks
            .iter()
            .filter(|block| block.role == super::Role::Stage);
        let largest = stages.max_by(|left, right| left.all_flour.cmp(&right.all_flour));
        let block = largest.and_then(|stage| super::block_of(baked.recipe, stage.id));
        let place = block.map_or(baked.recipe.title.span, |block| block.span);
        report.push(PLAIN.hint("prefermented flour", share, &band, place));
    }
}
