//! Claims to be free from something, held against the ingredients. Says nothing where they do not disagree:
//! that a bread is free from anything is never ours to confirm.

use super::Facts;
use super::things::names_honey;
use super::words::Text;
use crate::model::catalog::{Allergen, Tag};
use crate::model::recipe::Line;
use crate::sheet::Caution;
use crate::sheet::walk::ingredients_of;
use crate::source::Span;

/// A claim and what disagrees with it.
struct Claim {
    /// How it is named back to the reader.
    name: &'static str,
    /// How it may be written, in lower case without hyphens.
    phrases: &'static [&'static str],
    allergens: &'static [Allergen],
    tags: &'static [Tag],
}

const GLUTEN: &[Allergen] = &[
    Allergen::Wheat,
    Allergen::Spelt,
    Allergen::Khorasan,
    Allergen::Rye,
    Allergen::Barley,
    Allergen::Oats,
];
const WHEAT: &[Allergen] = &[Allergen::Wheat, Allergen::Spelt, Allergen::Khorasan];
const NUTS: &[Allergen] = &[
    Allergen::Almond,
    Allergen::Hazelnut,
    Allergen::Walnut,
    Allergen::Cashew,
    Allergen::Pecan,
    Allergen::BrazilNut,
    Allergen::Pistachio,
    Allergen::Macadamia,
    Allergen::PineNut,
    Allergen::Peanut,
];
const SEA: &[Allergen] = &[Allergen::Fish, Allergen::Crustacean, Allergen::Mollusc];
const OF_ANIMALS: &[Allergen] = &[
    Allergen::Milk,
    Allergen::Egg,
    Allergen::Fish,
    Allergen::Crustacean,
    Allergen::Mollusc,
];

const CLAIMS: &[Claim] = &[
    Claim {
        name: "gluten-free",
        phrases: &[
            "gluten free",
            "glutenfree",
            "no gluten",
            "without gluten",
            "free from gluten",
            "free of gluten",
            "for coeliacs",
            "suitable for coeliac",
            "suitable for celiac",
            "für zöliakie",
            "bei zöliakie",
            "pour cœliaques",
            "pour coeliaques",
            "for celiacs",
            "coeliac friendly",
            "celiac friendly",
            "glutenfrei",
            "glutenfreie",
            "glutenfreiem",
            "glutenfreien",
            "glutenfreier",
            "glutenfreies",
            "ohne gluten",
            "sans gluten",
        ],
        allergens: GLUTEN,
        tags: &[],
    },
    Claim {
        name: "wheat-free",
        phrases: &[
            "wheat free",
            "no wheat",
            "free from wheat",
            "weizenfrei",
            "weizenfreie",
            "weizenfreiem",
            "weizenfreien",
            "weizenfreier",
            "weizenfreies",
            "ohne weizen",
            "sans blé",
        ],
        allergens: WHEAT,
        tags: &[],
    },
    Claim {
        name: "dairy-free",
        phrases: &[
            "dairy free",
            "milk free",
            "no dairy",
            "non dairy",
            "free from dairy",
            "free from milk",
            "milchfrei",
            "milchfreie",
            "milchfreiem",
            "milchfreien",
            "milchfreier",
            "milchfreies",
            "ohne milch",
            "sans lait",
            "sans produits laitiers",
        ],
        allergens: &[Allergen::Milk],
        tags: &[Tag::FluidMilk, Tag::SoftCheese],
    },
    Claim {
        name: "egg-free",
        phrases: &[
            "egg free",
            "eggless",
            "no egg",
            "no eggs",
            "without eggs",
            "free from egg",
            "eifrei",
            "eifreie",
            "eifreiem",
            "eifreien",
            "eifreier",
            "eifreies",
            "ohne ei",
            "ohne eier",
            "sans œuf",
            "sans œufs",
            "sans oeuf",
            "sans oeufs",
        ],
        allergens: &[Allergen::Egg],
        tags: &[Tag::RawEgg],
    },
    Claim {
        name: "nut-free",
        phrases: &[
            "nut free",
            "no nuts",
            "free from nuts",
            "nussfrei",
            "nussfreie",
            "nussfreiem",
            "nussfreien",
            "nussfreier",
            "nussfreies",
            "ohne nüsse",
            "sans noix",
            "sans fruits à coque",
        ],
        allergens: NUTS,
        tags: &[Tag::BitterKernel],
    },
    Claim {
        name: "peanut-free",
        phrases: &[
            "peanut free",
            "no peanuts",
            "erdnussfrei",
            "erdnussfreie",
            "erdnussfreiem",
            "erdnussfreien",
            "erdnussfreier",
            "erdnussfreies",
            "ohne erdnüsse",
            "sans arachide",
            "sans arachides",
        ],
        allergens: &[Allergen::Peanut],
        tags: &[],
    },
    Claim {
        name: "soy-free",
        phrases: &[
            "soy free",
            "soya free",
            "no soy",
            "no soya",
            "sojafrei",
            "sojafreie",
            "sojafreiem",
            "sojafreien",
            "sojafreier",
            "sojafreies",
            "ohne soja",
            "sans soja",
        ],
        allergens: &[Allergen::Soy],
        tags: &[],
    },
    Claim {
        name: "sesame-free",
        phrases: &[
            "sesame free",
            "no sesame",
            "sesamfrei",
            "sesamfreie",
            "sesamfreiem",
            "sesamfreien",
            "sesamfreier",
            "sesamfreies",
            "ohne sesam",
            "sans sésame",
        ],
        allergens: &[Allergen::Sesame],
        tags: &[],
    },
    Claim {
        name: "vegan",
        phrases: &[
            "vegan",
            "vegans",
            "plant based",
            "vegane",
            "veganem",
            "veganen",
            "veganer",
            "veganes",
            "rein pflanzlich",
            "végan",
            "végane",
            "végétalien",
            "végétalienne",
        ],
        allergens: OF_ANIMALS,
        tags: &[
            Tag::RawEgg,
            Tag::FluidMilk,
            Tag::SoftCheese,
            Tag::Honey,
            Tag::AnimalProduct,
            Tag::Meat,
            Tag::Fish,
        ],
    },
    Claim {
        name: "vegetarian",
        phrases: &[
            "vegetarian",
            "vegetarians",
            "meat free",
            "vegetarisch",
            "vegetarische",
            "vegetarischem",
            "vegetarischen",
            "vegetarischer",
            "vegetarisches",
            "ohne fleisch",
            "végétarien",
            "végétarienne",
            "sans viande",
        ],
        allergens: SEA,
        tags: &[Tag::AnimalProduct, Tag::Meat, Tag::Fish],
    },
];

/// The short form of gluten-free; in running prose two letters may stand for anything.
const SHORT: &str = "gf";

/// Words before a claim in prose that take it back, or speak of another bread.
const TAKEN_BACK: &[&str] = &[
    "not", "no", "never", "nor", "isn", "aren", "neither", "without", "if", "make", "makes", "making",
    "would", "nicht", "kein", "keine", "keinen", "nie", "weder", "wenn", "pas", "jamais", "ni", "non", "si",
];

/// C02: one caution a claim.
pub(super) fn free_claims(facts: &Facts) -> Vec<Caution> {
    CLAIMS
        .iter()
        .filter_map(|claim| {
            let phrases = facts.texts.likely(claim.phrases);
            let short = facts.texts.likely(&[SHORT]);
            let short = if claim.allergens == GLUTEN {
                short
            } else {
                Vec::new()
            };
            let mut own = facts.texts.own.iter();
            let span = own.find_map(|text| said(&phrases, &short, text))?;
            let against = disagreeing(facts, claim);
            (!against.is_empty()).then(|| Caution {
                id: "C02",
                about: [claim.name.to_owned()].into_iter().chain(against).collect(),
                time: None,
                graver: claim.allergens == GLUTEN,
                span: Some(span),
            })
        })
        .collect()
}

/// Finds where a text makes a claim by some phrases, or by a short form that counts outside prose.
fn said(phrases: &[&str], short: &[&str], text: &Text) -> Option<Span> {
    let found = if text.is_prose {
        text.find_unless(phrases, 3, TAKEN_BACK)
    } else {
        text.find(phrases).or_else(|| text.find(short))
    };
    found.map(|(_, span)| span)
}

/// Names the lines whose ingredients disagree, each once, in the order of the page.
fn disagreeing(facts: &Facts, claim: &Claim) -> Vec<String> {
    let disagrees = |line: &Line| {
        ingredients_of(line).iter().any(|ingredient| {
            let contains = claim.allergens.iter();
            let tagged = claim.tags.iter();
            contains
                .clone()
                .any(|allergen| ingredient.contains.contains(allergen))
                || tagged.clone().any(|tag| ingredient.tags.contains(tag))
        })
    };
    let mut names: Vec<String> = Vec::new();
    let about_honey = claim.tags.contains(&Tag::Honey);
    for (line, text) in &facts.texts.lines {
        if (disagrees(line) || about_honey && names_honey(text)) && !names.contains(&line.name.value) {
            names.push(line.name.value.clone());
        }
    }
    names
}
