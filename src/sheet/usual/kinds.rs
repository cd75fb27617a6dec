//! The kinds of bread with what is usual for each: the bands, and the rows of the published values that they rest on.
//!
//! Rows R8 to R14 are from texts, from memory and not looked up; R1 to R3 and R7 were found in print, R4 in a training
//! handout, R5 at second hand. The leeways are ours: common practice, no source.

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
    /// The rows of the published values that it rests on, and how sure they are.
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

const SALT: Band = band(15, 25, 3, "R5, quoted at second hand");
const SALT_SWEET: Band = band(12, 25, 3, "R13, R14, from memory");
const YEAST: Band = band(1, 50, 10, "R7");
const YEAST_SWEET: Band = band(30, 80, 20, "R13, from memory");

/// Published value R16 ends at half of the flour; sponge doughs of the trade go to two thirds.
pub(super) const PREFERMENTED: Band = band(100, 500, 150, "R16");

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

pub(super) const RYE: Sort = Sort {
    salt: band(15, 20, 8, "R11, from memory"),
    yeast: band(1, 20, 20, "R11, from memory"),
    sugar: Some(band(0, 0, 80, "R11, from memory")),
    fat: Some(band(0, 0, 80, "R11, from memory")),
    ..lean("a rye bread", band(700, 950, 50, "R11, from memory"))
};
pub(super) const BRIOCHE: Sort = Sort {
    name: "a brioche",
    water: None,
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(50, 200, 50, "R14, from memory")),
    fat: Some(band(200, 1000, 100, "R14, from memory")),
    egg: Some(band(300, 600, 150, "R14, from memory")),
};
pub(super) const SWEET: Sort = Sort {
    name: "a sweet dough",
    water: Some(band(350, 600, 120, "R13, from memory")),
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(80, 250, 50, "R13, from memory")),
    fat: Some(band(50, 250, 100, "R13, from memory")),
    egg: Some(band(100, 300, 100, "R13, from memory")),
};
pub(super) const ENRICHED: Sort = Sort {
    name: "an enriched dough",
    water: Some(band(350, 660, 60, "R12, R13, from memory")),
    salt: SALT_SWEET,
    yeast: YEAST_SWEET,
    sugar: Some(band(0, 80, 20, "R12, from memory")),
    fat: Some(band(10, 250, 100, "R12, R13, from memory")),
    egg: Some(band(0, 300, 100, "R13, from memory")),
};
pub(super) const WHOLEMEAL: Sort = Sort {
    sugar: Some(band(0, 60, 30, "R10, from memory")),
    fat: Some(band(0, 60, 60, "R10, from memory")),
    ..lean("a wholemeal bread", band(680, 850, 50, "R10, from memory"))
};
const BAGEL: Sort = lean("bagels and pretzels", band(500, 570, 50, "R2"));
const BAGUETTE: Sort = Sort {
    sugar: Some(band(0, 0, 30, "R8, from memory")),
    fat: Some(band(0, 0, 30, "R8, from memory")),
    ..lean("a baguette", band(630, 750, 50, "R8, from memory"))
};
const FOCACCIA: Sort = Sort {
    sugar: Some(band(0, 0, 40, "R9, from memory")),
    fat: Some(band(0, 80, 80, "R9, from memory")),
    ..lean("focaccia and ciabatta", band(720, 900, 50, "R9, from memory"))
};
const FLAT: Sort = lean("a flat bread", band(500, 800, 80, "common practice, no source"));
pub(super) const LEAN: Sort = lean("a lean bread", band(500, 900, 50, "R2, R3, R8, R9"));
pub(super) const PLAIN: Sort = lean("a bread", band(500, 900, 50, "R2, R3, R8, R9"));

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
