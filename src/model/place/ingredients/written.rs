//! The lines of one ingredient entry, read one by one: what each may say, and within which bounds.
//!
//! Owns the faults of a single line. What lines of several files make together is settled elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use super::nutrient::Nutrient;
use super::{bad, nearest};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{Allergen, fold_name};
use crate::quantity::{Grams, Ratio, VolumeUnit};
use crate::source::{Span, Spanned};
use crate::syntax::limits;
use crate::syntax::tree::{Block, BodyItem, EntryKind, Property};

/// The lines of an entry, or of several files' entries for one ingredient.
#[derive(Debug, Default)]
pub(super) struct Lines {
    pub(super) like: Option<Spanned<String>>,
    /// Shares as fractions of one.
    pub(super) shares: BTreeMap<Nutrient, Spanned<Ratio>>,
    /// Kilocalories per 100 g.
    pub(super) energy: Option<Spanned<Ratio>>,
    pub(super) contains: Option<Contains>,
    pub(super) price: Option<Price>,
    pub(super) counts_as_flour: Option<bool>,
    pub(super) wet: Option<bool>,
    pub(super) each: Option<Grams>,
    pub(super) volumes: BTreeMap<VolumeUnit, Grams>,
    /// As a fraction of one.
    pub(super) absorption: Option<Ratio>,
    pub(super) note: Option<String>,
}

/// What the `contains` lines of one entry say together.
#[derive(Clone, Debug)]
pub(super) struct Contains {
    pub(super) allergens: BTreeSet<Allergen>,
    /// Whether `contains nothing` stands among them: nothing but what the other lines name.
    pub(super) nothing_else: bool,
    pub(super) span: Span,
}

/// What a price line says.
#[derive(Clone, Debug)]
pub(super) struct Price {
    pub(super) per_kg: Ratio,
    pub(super) currency: Spanned<String>,
}

impl Lines {
    /// Reads the body of an entry; gives its lines and the other names that it wants to answer to.
    pub(super) fn read(block: &Block, report: &mut Report) -> (Self, Vec<Spanned<String>>) {
        let mut lines = Self::default();
        let mut also = Vec::new();
        let mut seen: BTreeMap<String, Span> = BTreeMap::new();
        for item in &block.body {
            let BodyItem::Entry(entry) = item else { continue };
            // Nobody reads more faults, and each costs time.
            if report.len() >= limits::FAULTS {
                break;
            }
            let property = match &entry.kind {
                EntryKind::Property(property) => property,
                EntryKind::Note(text) => {
                    lines.add_note(&text.value);
                    continue;
                }
                _ => {
                    report.push(misplaced(entry.span));
                    continue;
                }
            };
            if let Some(first) = slot(property).and_then(|slot| seen.insert(slot, entry.span)) {
                let help = "keep one of the two";
                report.push(bad(entry.span, "this is said twice", help).other(first, "here the first time"));
            }
            if let Property::Also(name) = property {
                also.push(name.clone());
            } else if let Property::Contains(words) = property {
                lines.add_allergens(words, entry.span, report);
            } else if let Err(fault) = lines.take(property) {
                report.push(*fault);
            }
        }
        lines.check_sum(report);
        (lines, also)
    }

    /// Fills what is still open from the entry of a farther file.
    pub(super) fn fill_from(&mut self, farther: Self) {
        self.like = self.like.take().or(farther.like);
        self.energy = self.energy.take().or(farther.energy);
        self.contains = self.contains.take().or(farther.contains);
        self.price = self.price.take().or(farther.price);
        self.counts_as_flour = self.counts_as_flour.or(farther.counts_as_flour);
        self.wet = self.wet.or(farther.wet);
        self.each = self.each.take().or(farther.each);
        self.absorption = self.absorption.take().or(farther.absorption);
        self.note = self.note.take().or(farther.note);
        for (nutrient, share) in farther.shares {
            self.shares.entry(nutrient).or_insert(share);
        }
        for (unit, grams) in farther.volumes {
            self.volumes.entry(unit).or_insert(grams);
        }
    }

    fn add_note(&mut self, text: &str) {
        self.note = Some(match self.note.take() {
            Some(before) => format!("{before}; {text}"),
            None => text.to_owned(),
        });
    }

    fn take(&mut self, property: &Property) -> Result<(), Box<Diagnostic>> {
        match property {
            Property::Like(name) => self.like = Some(name.clone()),
            Property::Share { share, nutrient } => {
                let nutrient = known_nutrient(nutrient)?;
                self.shares.insert(nutrient, whole_share(share, nutrient)?);
            }
            Property::Energy(energy) => self.energy = Some(within(energy, 0, 930, "kcal", "energy")?),
            Property::Price {
                amount,
                currency,
                per,
            } => self.price = Some(price(amount, currency, per)?),
            Property::CountsAsFlour(flour) => self.counts_as_flour = Some(*flour),
            Property::Wet(wet) => self.wet = Some(*wet),
            Property::Each(grams) => self.each = Some(weighed(grams)?),
            Property::PerVolume { grams, unit } => {
                self.volumes.insert(*unit, filled(grams, *unit)?);
            }
            Property::Absorption(change) => {
                let percent = Spanned::new(&change.value * &Ratio::HUNDRED, change.span);
                within(&percent, -50, 50, "%", "absorption")?;
                self.absorption = Some(change.value.clone());
            }
            // Allergens and other names add up, line by line, and are taken where the lines are told apart.
            Property::Contains(_) | Property::Also(_) => {}
        }
        Ok(())
    }

    fn add_allergens(&mut self, words: &[Spanned<String>], span: Span, report: &mut Report) {
        let contains = self.contains.get_or_insert_with(|| Contains {
            allergens: BTreeSet::new(),
            nothing_else: false,
            span,
        });
        contains.nothing_else |= words.is_empty();
        for word in words {
            match allergen(word) {
                Ok(known) => {
                    contains.allergens.insert(known);
                }
                Err(fault) => report.push(*fault),
            }
        }
    }

    /// Faults where the parts that an entry gives are more than the whole.
    fn check_sum(&self, report: &mut Report) {
        let given = Nutrient::WHOLES.iter().filter_map(|whole| self.shares.get(whole));
        let sum: Ratio = given.clone().map(|share| &share.value).sum();
        if let Some(last) = given.max_by_key(|share| share.span).filter(|_| sum > Ratio::ONE) {
            let message = format!("the parts add up to {} %", (&sum * &Ratio::HUNDRED).to_trimmed(2));
            report.push(bad(last.span, message, "100 g of a thing hold 100 g at most"));
        }
        for (part, whole) in Nutrient::INSIDE {
            let (Some(inner), Some(outer)) = (self.shares.get(&part), self.shares.get(&whole)) else {
                continue;
            };
            if inner.value > outer.value {
                let message = format!("`{}` is more than `{}`", part.word(), whole.word());
                let help = format!("`{}` is counted in `{}`", part.word(), whole.word());
                report.push(bad(inner.span, message, help).other(outer.span, "the whole"));
            }
        }
    }
}

/// Names what a line settles, where one line an entry is all that makes sense.
fn slot(property: &Property) -> Option<String> {
    Some(match property {
        Property::Like(_) => "like".to_owned(),
        Property::Share { nutrient, .. } => Nutrient::of_word(&nutrient.value)?.word().to_owned(),
        Property::Energy(_) => "kcal".to_owned(),
        Property::Price { .. } => "price".to_owned(),
        Property::CountsAsFlour(_) => "counts".to_owned(),
        Property::Wet(_) => "wet".to_owned(),
        Property::Each(_) => "each".to_owned(),
        Property::PerVolume { unit, .. } => unit.symbol().to_owned(),
        Property::Absorption(_) => "absorption".to_owned(),
        Property::Contains(_) | Property::Also(_) => return None,
    })
}

fn misplaced(span: Span) -> Diagnostic {
    Diagnostic::new(Code::EntryNotAllowed, span, "this is no line of an ingredient").help(
        "an ingredient has lines such as `13 % protein`, `contains wheat`, `also NAME` or `1.85 EUR per kg`",
    )
}

fn known_nutrient(word: &Spanned<String>) -> Result<Nutrient, Box<Diagnostic>> {
    Nutrient::of_word(&word.value).ok_or_else(|| {
        let message = format!("`{}` is no part of an ingredient that is known", word.value);
        let help = match nearest(&word.value, Nutrient::words()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                "the words are water, protein, fat, saturated fat, carbohydrate, sugars, fibre, salt and ash"
                    .into()
            }
        };
        Box::new(bad(word.span, message, help))
    })
}

fn whole_share(share: &Spanned<Ratio>, nutrient: Nutrient) -> Result<Spanned<Ratio>, Box<Diagnostic>> {
    if share.value.is_negative() || share.value > Ratio::ONE {
        let percent = (&share.value * &Ratio::HUNDRED).to_trimmed(2);
        let message = format!("nothing holds {percent} % of {}", nutrient.word());
        return Err(Box::new(bad(
            share.span,
            message,
            "a share lies between 0 and 100 %",
        )));
    }
    Ok(share.clone())
}

fn within(
    figure: &Spanned<Ratio>,
    low: i64,
    high: i64,
    unit: &str,
    what: &str,
) -> Result<Spanned<Ratio>, Box<Diagnostic>> {
    if figure.value < Ratio::whole(low) || figure.value > Ratio::whole(high) {
        let message = format!("{} {unit} is out of all reason", figure.value.to_trimmed(2));
        let help = format!("{what} lies between {low} and {high} {unit}");
        return Err(Box::new(bad(figure.span, message, help)));
    }
    Ok(figure.clone())
}

fn price(amount: &Spanned<Ratio>, currency: &Spanned<String>, per: &Grams) -> Result<Price, Box<Diagnostic>> {
    let per_gram = amount.value.checked_div(&per.0);
    match per_gram.filter(|price| !price.is_negative()) {
        Some(per_gram) => Ok(Price {
            per_kg: &per_gram * &Ratio::whole(1000),
            currency: currency.clone(),
        }),
        None => Err(Box::new(bad(
            amount.span,
            "that is no price",
            "write it as `1.85 EUR per kg`",
        ))),
    }
}

fn weighed(grams: &Spanned<Grams>) -> Result<Grams, Box<Diagnostic>> {
    if grams.value.0.is_positive() && grams.value <= Grams::whole(10_000) {
        Ok(grams.value.clone())
    } else {
        let message = "no piece of an ingredient weighs that";
        Err(Box::new(bad(
            grams.span,
            message,
            "a piece weighs more than nothing and at most 10 kg",
        )))
    }
}

/// Checks the weight of a measure by what a millilitre would weigh.
fn filled(grams: &Spanned<Grams>, unit: VolumeUnit) -> Result<Grams, Box<Diagnostic>> {
    let per_ml = &grams.value.0 / &unit.millilitres();
    // Puffed grain weighs about 0.05 g a millilitre, strong lye about 1.5 g; common practice, no source.
    let (least, most) = (&Ratio::ONE / &Ratio::whole(50), Ratio::whole(3));
    if per_ml < least || per_ml > most {
        let message = format!("that makes {} g in a millilitre", per_ml.to_trimmed(3));
        let help = format!("weigh one {} of it again", unit.symbol());
        return Err(Box::new(bad(grams.span, message, help)));
    }
    Ok(grams.value.clone())
}

/// Finds the allergen that a word means; a word for several of them is not enough.
fn allergen(word: &Spanned<String>) -> Result<Allergen, Box<Diagnostic>> {
    let folded = fold_name(&word.value);
    let same = |known: &str| fold_name(known) == folded;
    let by_name = Allergen::ALL
        .iter()
        .find(|allergen| same(allergen.id()) || same(allergen.label()));
    let by_other = || {
        OTHER_WORDS
            .iter()
            .find(|(other, _)| same(other))
            .map(|(_, allergen)| allergen)
    };
    by_name.or_else(by_other).copied().ok_or_else(|| {
        let unsure = UNSURE_WORDS.iter().find(|(unsure, _)| same(unsure));
        let known = Allergen::ALL.iter().map(|allergen| allergen.label());
        let help = match (unsure, nearest(&word.value, known.clone())) {
            (Some((_, which)), _) => format!("say which: {which}"),
            (None, Some(near)) => format!("did you mean `{near}`?"),
            (None, None) => format!("the allergens are {}", known.collect::<Vec<_>>().join(", ")),
        };
        let message = if unsure.is_some() {
            format!("`{}` may be one of several allergens", word.value)
        } else {
            format!("`{}` is no allergen of the two legal lists", word.value)
        };
        Box::new(bad(word.span, message, help))
    })
}

/// Other words for an allergen.
const OTHER_WORDS: &[(&str, Allergen)] = &[
    ("dairy", Allergen::Milk),
    ("soya", Allergen::Soy),
    ("soybean", Allergen::Soy),
    ("groundnut", Allergen::Peanut),
    ("sesame seed", Allergen::Sesame),
    ("sulfites", Allergen::Sulphites),
    ("lupine", Allergen::Lupin),
    ("kamut", Allergen::Khorasan),
];

/// Words for several allergens at once, and which they may be.
const UNSURE_WORDS: &[(&str, &str)] = &[
    ("gluten", "wheat, spelt wheat, khorasan wheat, rye, barley, oats"),
    ("cereals", "wheat, spelt wheat, khorasan wheat, rye, barley, oats"),
    (
        "nuts",
        "almond, hazelnut, walnut, cashew, pecan, Brazil nut, pistachio, macadamia, pine nut",
    ),
    (
        "tree nuts",
        "almond, hazelnut, walnut, cashew, pecan, Brazil nut, pistachio, macadamia, pine nut",
    ),
    ("shellfish", "crustaceans, molluscs"),
];
