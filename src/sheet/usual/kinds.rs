//! The kinds of bread with what is usual for each: the bands, and what each rests on, in words that a baker reads.
//!
//! The published values that the tests hold this to: R2 and R3 were found in print, R5 and R7 in a forum that quotes and
//! counts, R16 as three printed formulas; R8 to R14 are from texts, from memory and not looked up. The leeways are ours:
//! common practice, no source.

/// A kind of bread with its usual ranges, on all flour.
pub(super) struct Sort {
    /// How it is named in a sentence.
    pub(super) name: &'static str,
    pub(super) water: Option<Band>,
    pub(super) salt: Band,
    /// Counted as fresh; only too much is spoken of, since time makes up for too little.
    pub(super) yeast: Band,
    /// Sugar, syrup and honey as weighed; only too much is spoken of.
    pub(super) sugar: Option<Band>,
    /// Only too much is spoken of.
    pub(super) fat: Option<Band>,
    /// As weighed; only too much is spoken of.
    pub(super) egg: Option<Band>,
}

/// A usual range on all flour, in thousandths.
#[derive(Clone, Copy)]
pub(super) struct Band {
    pub(super) low: i64,
    pub(super) high: i64,
    /// How far outside is still not worth a word.
    pub(super) leeway: i64,
    /// What it rests on and how sure that is, in words.
    pub(super) source: &'static str,
}

const fn band(low: i64, high: i64, leeway: i64, source: &'static str) -> Band {
    Band {
        low,
        high,
        leeway,
        source,
    }
}

/// What was not looked up: values R8 to R14.
pub(super) const MEMORY: &str = "from memory";
/// Value R2.
const STIFF_SOURCE: &str = "Wikipedia, Baker percentage";
/// Values R2 and R3 end at 65 % of water; beyond stand R8 and R9.
pub(super) const WATER_SOURCE: &str = "Wikipedia, Baker percentage, to 65 %; more from memory";
/// Value R5.
pub(super) const SALT_SOURCE: &str = "Reinhart 2001, at second hand";
/// Value R7.
pub(super) const YEAST_SOURCE: &str = "The Fresh Loaf forum, over 350 recipes";

const SALT: Band = band(15, 25, 3, SALT_SOURCE);
/// Values R13 and R14.
const SALT_SWEET: Band = band(12, 25, 3, MEMORY);
const YEAST: Band = band(1, 50, 10, YEAST_SOURCE);
/// Value R13.
const YEAST_SWEET: Band = band(30, 80, 20, MEMORY);

/// Value R16 ends at half of the flour, and was found as formulas with 25, 34 and 50 %; sponge doughs of the trade go to
/// two thirds.
pub(super) const PREFERMENTED: Band = band(
    100,
    500,
    150,
    "formulas of Wild Yeast and two other bakers from 25 %; less from memory",
);

const fn lean(name: &'static str, water: Band) -> Sort {
    Sort {
        name,
        water: Some(water),
        salt: SALT,
        yeast: YEAST,
        sugar: None,
        fat: None,
        egg: None,
    }
}

/// Value R11.
pub(super) const RYE: Sort = Sort {
    salt: band(15, 20, 8, MEMORY),
    yeast: band(1, 20, 20, MEMORY),
    sugar: Some(band(0, 0, 80, MEMORY)),
    fat: Some(band(0, 0, 80, MEMORY)),
    ..lean("a rye bread", band(700, 950, 50, MEMORY))
};
/// Value R14; its salt and yeast with the sweet doughs.
pub(super) const BRIOCHE: Sort = Sort {
    name: "a brioche",
    water: None,
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(50, 200, 50, MEMORY)),
    fat: Some(band(200, 1000, 100, MEMORY)),
    egg: Some(band(300, 600, 150, MEMORY)),
};
/// Value R13.
pub(super) const SWEET: Sort = Sort {
    name: "a sweet dough",
    water: Some(band(350, 600, 120, MEMORY)),
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(80, 250, 50, MEMORY)),
    fat: Some(band(50, 250, 100, MEMORY)),
    egg: Some(band(100, 300, 100, MEMORY)),
};
/// Values R12 and R13.
pub(super) const ENRICHED: Sort = Sort {
    name: "an enriched dough",
    water: Some(band(350, 660, 60, MEMORY)),
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(0, 80, 20, MEMORY)),
    fat: Some(band(10, 250, 100, MEMORY)),
    egg: Some(band(0, 300, 100, MEMORY)),
};
/// Value R10.
pub(super) const WHOLEMEAL: Sort = Sort {
    sugar: Some(band(0, 60, 30, MEMORY)),
    fat: Some(band(0, 60, 60, MEMORY)),
    ..lean("a wholemeal bread", band(680, 850, 50, MEMORY))
};
const BAGEL: Sort = lean("bagels and pretzels", band(500, 570, 50, STIFF_SOURCE));
/// Value R8.
const BAGUETTE: Sort = Sort {
    sugar: Some(band(0, 0, 30, MEMORY)),
    fat: Some(band(0, 0, 30, MEMORY)),
    ..lean("a baguette", band(630, 750, 50, MEMORY))
};
/// Value R9.
const FOCACCIA: Sort = Sort {
    sugar: Some(band(0, 0, 40, MEMORY)),
    fat: Some(band(0, 80, 80, MEMORY)),
    ..lean("focaccia and ciabatta", band(720, 900, 50, MEMORY))
};
const FLAT: Sort = lean("a flat bread", band(500, 800, 80, "common practice, no source"));
pub(super) const LEAN: Sort = lean("a lean bread", band(500, 900, 50, WATER_SOURCE));
pub(super) const PLAIN: Sort = lean("a bread", band(500, 900, 50, WATER_SOURCE));

/// Words of tag and title that name a kind, in lower case and in the singular; the first that is found holds.
pub(super) const NAMED: &[(&str, &Sort)] = &[
    ("bagel", &BAGEL),
    ("pretzel", &BAGEL),
    ("baguette", &BAGUETTE),
    ("focaccia", &FOCACCIA),
    ("ciabatta", &FOCACCIA),
    ("flat", &FLAT),
    ("flatbread", &FLAT),
    ("pizza", &FLAT),
    ("pita", &FLAT),
    ("naan", &FLAT),
    ("lavash", &FLAT),
];
