//! Whole ingredients, made of what each starts from and of its lines.
//!
//! Owns the rule that keeps allergens: one that the table knows of stays, unless the bakehouse says in so
//! many words that it contains nothing else. What the cautions look for stays in any case.

use std::collections::{BTreeMap, BTreeSet};

use super::gather::Entry;
use super::nutrient::Nutrient;
use super::written::Contains;
use super::{Entries, bad};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::catalog::{self, Allergen, Cost, Ingredient, Kind, Provenance, Tag, fold_name};
use crate::quantity::{Ratio, VolumeUnit};
use crate::source::Span;

/// Makes the ingredients of all entries, those of farther files first.
pub(super) fn ingredients(entries: &Entries, currency: Option<&str>, report: &mut Report) -> Vec<Ingredient> {
    let mut kitchen = Kitchen {
        entries,
        currency,
        made: BTreeMap::new(),
        report,
    };
    for subject in entries.by_subject.keys() {
        kitchen.make(subject);
    }
    let mut made: Vec<(usize, Ingredient)> = kitchen
        .made
        .into_iter()
        .map(|(subject, ingredient)| (entries.get(subject).map_or(0, |entry| entry.nearness), ingredient))
        .collect();
    // The catalogue lets the later of two win, and the nearer one shall win.
    made.sort_by_key(|(nearness, _)| std::cmp::Reverse(*nearness));
    made.into_iter().map(|(_, ingredient)| ingredient).collect()
}

struct Kitchen<'run> {
    entries: &'run Entries,
    currency: Option<&'run str>,
    made: BTreeMap<&'run str, Ingredient>,
    report: &'run mut Report,
}

impl<'run> Kitchen<'run> {
    /// Makes one ingredient; what it starts from is made before, at most sixteen deep.
    fn make(&mut self, subject: &'run str) -> Option<Ingredient> {
        if let Some(made) = self.made.get(subject) {
            return Some(made.clone());
        }
        let entry = self.entries.get(subject)?;
        let own = catalog::builtin()
            .lookup(subject)
            .filter(|found| fold_name(&found.name) == subject);
        let start = match &entry.lines.like {
            Some(name) => match self.entries.subject_of(&name.value) {
                Some(target) => self.make(target),
                None => catalog::builtin()
                    .lookup(&name.value)
                    .map(|found| (**found).clone()),
            },
            None => own.map(|found| (**found).clone()),
        };
        let mut ingredient = self.dressed(start, entry);
        let hidden = hidden_by(entry);
        self.keep_allergens(&mut ingredient, entry, &hidden);
        if let Some(found) = own {
            ingredient.name.clone_from(&found.name);
            ingredient.aliases.clone_from(&found.aliases);
        } else {
            ingredient.name.clone_from(&entry.name.value);
            ingredient.aliases.clear();
            if entry.lines.contains.is_none() {
                // Nobody has looked at its packet: what it resembles says little of what is in it.
                ingredient.tags.insert(Tag::ReadPacket);
            }
        }
        ingredient
            .aliases
            .extend(entry.also.iter().map(|name| name.value.clone()));
        self.made.insert(subject, ingredient.clone());
        Some(ingredient)
    }

    /// Lays the lines of an entry over what it starts from. Price and remark are never another's.
    fn dressed(&mut self, start: Option<Ingredient>, entry: &Entry) -> Ingredient {
        let lines = &entry.lines;
        let new = start.is_none();
        let mut ingredient = start.unwrap_or_else(|| Ingredient::unknown(&entry.name.value));
        for (nutrient, share) in &lines.shares {
            *nutrient.slot(&mut ingredient.composition) = Some(&share.value * &Ratio::HUNDRED);
        }
        if let Some(energy) = &lines.energy {
            ingredient.composition.energy_kcal = Some(energy.value.clone());
        }
        if new || !lines.shares.is_empty() || lines.energy.is_some() {
            ingredient.source = Provenance::Bakehouse;
        }
        if let Some(flour) = lines.counts_as_flour {
            ingredient.is_flour = flour;
        }
        if new && ingredient.is_flour {
            ingredient.kind = Kind::Flour;
        }
        ingredient.is_wet = lines.wet.unwrap_or(ingredient.is_wet);
        ingredient.note = lines.note.clone().unwrap_or_default();
        if let Some(each) = &lines.each {
            ingredient.each_g = Some(each.0.clone());
        }
        if let Some(change) = &lines.absorption {
            ingredient.absorption = Some(change * &Ratio::HUNDRED);
        }
        measure(&mut ingredient, entry);
        ingredient.cost = self.cost(entry);
        self.check_whole(&mut ingredient, entry);
        ingredient
    }

    /// Faults where the lines and what they start from are far more than the whole. A little more is let
    /// pass: a baker who gives the protein of a flour does not think of its starch.
    fn check_whole(&mut self, ingredient: &mut Ingredient, entry: &Entry) {
        let sum: Ratio = Nutrient::WHOLES
            .iter()
            .filter_map(|whole| whole.slot(&mut ingredient.composition).clone())
            .sum();
        let given = Nutrient::WHOLES
            .iter()
            .filter_map(|whole| entry.lines.shares.get(whole));
        let own: Ratio = given.clone().map(|share| &share.value).sum();
        let (Some(line), true) = (given.min_by_key(|share| share.span), own <= Ratio::ONE) else {
            return;
        };
        if sum > Ratio::whole(110) {
            let message = format!("with what it starts from it adds up to {} %", sum.to_trimmed(1));
            let help = "give the other parts too: water, protein, fat, carbohydrate and ash";
            self.report.push(bad(line.span, message, help));
        }
    }

    /// Gives the price, if it is in the money that the bakehouse counts in.
    fn cost(&mut self, entry: &Entry) -> Option<Cost> {
        let price = entry.lines.price.as_ref()?;
        let written = price.currency.value.to_uppercase();
        let currency = match self.currency {
            Some(ours) if written != ours && !sign_of(&written, ours) => {
                let message = format!("the price is in {written}, and the bakehouse counts in {ours}");
                let help = format!("give the price in {ours}");
                self.report.push(bad(price.currency.span, message, help));
                return None;
            }
            Some(ours) => ours.to_owned(),
            None => written,
        };
        Some(Cost {
            per_kg: price.per_kg.clone(),
            currency,
        })
    }

    fn keep_allergens(&mut self, ingredient: &mut Ingredient, entry: &Entry, hidden: &Hidden) {
        ingredient.tags.extend(&hidden.tags);
        let inherited: BTreeSet<Allergen> = ingredient.contains.union(&hidden.allergens).copied().collect();
        let (said, span) = match &entry.lines.contains {
            Some(Contains {
                allergens,
                nothing_else: true,
                ..
            }) => {
                ingredient.contains.clone_from(allergens);
                return;
            }
            Some(Contains { allergens, span, .. }) => (allergens.clone(), *span),
            None => {
                let span = entry
                    .lines
                    .like
                    .as_ref()
                    .map_or(entry.name.span, |like| like.span);
                (ingredient.contains.clone(), span)
            }
        };
        let dropped: Vec<&str> = inherited
            .difference(&said)
            .map(|allergen| allergen.label())
            .collect();
        if !dropped.is_empty() {
            self.report.push(dropped_fault(&entry.name.value, &dropped, span));
        }
        ingredient.contains = inherited.union(&said).copied().collect();
    }
}

fn dropped_fault(name: &str, dropped: &[&str], span: Span) -> Diagnostic {
    let list = dropped.join(", ");
    let message = format!("this would drop {list} from {name}");
    Diagnostic::new(Code::AllergenDropped, span, message)
        .label("it stays on the card")
        .help(format!("add {list} to `contains`; if the packet is clear of it, write `contains nothing` on a line of its own"))
}

/// Replaces the household measures: those of another thing would not fit beside the ones given.
fn measure(ingredient: &mut Ingredient, entry: &Entry) {
    let volumes = &entry.lines.volumes;
    if volumes.is_empty() {
        return;
    }
    let grams = |unit: VolumeUnit| volumes.get(&unit).map(|grams| grams.0.clone());
    ingredient.cup_g = grams(VolumeUnit::Cup);
    ingredient.tbsp_g = grams(VolumeUnit::Tablespoon);
    ingredient.tsp_g = grams(VolumeUnit::Teaspoon);
    ingredient.density = [VolumeUnit::Millilitre, VolumeUnit::Litre, VolumeUnit::FluidOunce]
        .into_iter()
        .find_map(|unit| Some(&grams(unit)? / &unit.millilitres()));
}

/// What the built-in ingredients hold that an entry's names take the place of.
struct Hidden {
    allergens: BTreeSet<Allergen>,
    tags: BTreeSet<Tag>,
}

fn hidden_by(entry: &Entry) -> Hidden {
    let names = std::iter::once(&entry.name).chain(&entry.also);
    let mut hidden = Hidden {
        allergens: BTreeSet::new(),
        tags: BTreeSet::new(),
    };
    for found in names.filter_map(|name| catalog::builtin().lookup(&name.value)) {
        hidden.allergens.extend(&found.contains);
        hidden.tags.extend(&found.tags);
    }
    hidden
}

/// Says whether a sign is used for a currency: several call theirs a dollar.
fn sign_of(sign: &str, currency: &str) -> bool {
    match sign {
        "€" => currency == "EUR",
        "£" => currency == "GBP",
        "¥" => matches!(currency, "JPY" | "CNY"),
        "$" => currency.ends_with('D'),
        "₹" => currency == "INR",
        _ => false,
    }
}
