//! An ingredient in the place of another: how much of it, and what is balanced so that the bread stays.

use std::sync::Arc;

use super::balance::{Balanced, balance};
use super::draft::{Draft, Place};
use super::rule::{self, NoRule, SwapRule};
use super::{Change, Shift, Swap};
use crate::diag::{Code, Diagnostic, Report, nearest_name};
use crate::model::catalog::{Allergen, BareWord, Ingredient, Kind, fold_name};
use crate::model::recipe::Recipe;
use crate::quantity::Ratio;
use crate::sheet::allergens::allergens;
use crate::sheet::{figures, forms, solve};
use crate::source::Spanned;

/// What a swap changes.
#[derive(Clone, Debug)]
pub struct SwapAnswer {
    /// What went in.
    pub new: String,
    /// What it took the place of.
    pub old: String,
    /// What was kept.
    pub rule: SwapRule,
    /// Grams of the new for a gram of the old.
    pub factor: Ratio,
    /// The lines that change, those of the ingredient itself first.
    pub changes: Vec<Change>,
    /// The figures that change.
    pub shifts: Vec<Shift>,
    /// What else there is to say.
    pub notes: Vec<SwapNote>,
    /// Allergens that the recipe did not contain before.
    pub allergens_new: Vec<Allergen>,
    /// Allergens that no recognised ingredient contains any more.
    pub allergens_gone: Vec<Allergen>,
}

/// Something to say beside the numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SwapNote {
    /// The weight was made up with water; yeast counts as dry, so that the hydration reads otherwise.
    YeastMadeUp,
    /// Sweetness is from a table that is from memory.
    SweetnessFromMemory,
    /// The table does not know how much sugar the one of that name holds, and the figure leaves it out.
    SugarsNotKnown(String),
    /// Honey and syrups brown sooner than table sugar.
    BrownsSooner,
    /// The salt of salted goods differs by maker.
    SaltByMaker,
    /// Yolk for whole egg, or the other way: what binds changes with the protein.
    EggBinds,
    /// No bakehouse says how much water either flour takes up.
    ThirstNotSaid,
    /// A filling or topping holds the old ingredient too, and is left as it is.
    LeftOutside(String),
}

/// Carries a swap out.
pub(super) fn change(draft: &mut Draft<'_>, wish: &Swap, report: &mut Report) -> Option<SwapAnswer> {
    match try_change(draft, wish) {
        Ok(answer) => Some(answer),
        Err(fault) => {
            report.push(*fault);
            None
        }
    }
}

type Fault = Box<Diagnostic>;

fn try_change(draft: &mut Draft<'_>, wish: &Swap) -> Result<SwapAnswer, Fault> {
    let new = expect_new(draft.recipe, &wish.new)?;
    let places = expect_old(draft, &wish.old)?;
    let first = places.first().and_then(|place| draft.ingredient(*place));
    let Some(old) = first.map(Arc::clone) else {
        return Err(not_there(draft, &wish.old));
    };
    if old.name == new.name {
        return Err(refused(
            &wish.new,
            format!("the recipe has {} already", new.name),
            "",
        ));
    }
    let no_rule = |why: NoRule| no_rule(wish, &old, &new, &why);
    let rule = rule::of(&old, &new).map_err(no_rule)?;
    let factor = rule.factor(&old, &new).map_err(no_rule)?;
    let contained = allergens(draft.recipe).contains;
    let notes = notes(draft.recipe, &rule, &old, &new);
    put_in(draft, &places, &wish.new.value, (&old, &new), &rule, &factor)
        .map_err(|missing| too_wet(wish, &missing))?;
    let contains = allergens(draft.recipe).contains;
    let only_in = |left: &[Allergen], right: &[Allergen]| -> Vec<Allergen> {
        let alone = left.iter().filter(|allergen| !right.contains(allergen));
        alone.copied().collect()
    };
    Ok(SwapAnswer {
        new: wish.new.value.clone(),
        old: wish.old.value.clone(),
        allergens_new: only_in(&contains, &contained),
        allergens_gone: only_in(&contained, &contains),
        changes: Vec::new(),
        shifts: Vec::new(),
        rule,
        factor,
        notes,
    })
}

/// Puts the new in on every line of the old and balances water and salt; fails with the water that is not there to
/// be taken out.
fn put_in(
    draft: &mut Draft<'_>,
    places: &[Place],
    name: &str,
    (old, new): (&Ingredient, &Arc<Ingredient>),
    rule: &SwapRule,
    factor: &Ratio,
) -> Result<(), Ratio> {
    let mut owed = Vec::new();
    // From the last line to the first: a line that is put in moves those behind it.
    for place in places.iter().rev() {
        let before = draft.weight(*place);
        let after = &before * factor;
        draft.replace(*place, new, name, &after);
        // What the old brought and the new does not, of something that they hold so many grams of in 100 g.
        let lost = |holds: fn(&Ingredient) -> Ratio| {
            let lost = &(&before * &holds(old)) - &(&after * &holds(new));
            &lost / &Ratio::HUNDRED
        };
        let water = match rule {
            SwapRule::Strength { .. } => &before - &after,
            SwapRule::Weight { absorption } => {
                let hundredth = absorption.clone().unwrap_or_default();
                &(&before * &hundredth) / &Ratio::HUNDRED
            }
            _ => lost(figures::wet_water),
        };
        let salt = match rule {
            SwapRule::Weight { .. } | SwapRule::Strength { .. } => Ratio::ZERO,
            _ => lost(figures::salt),
        };
        owed.push((*place, water, salt));
    }
    for (place, water, salt) in owed {
        let missing = balance(draft, place, Balanced::Water, &water);
        if missing.is_positive() {
            return Err(missing);
        }
        // What salted butter brings beyond all salt of the dough stays in, and is told of as a figure that changes.
        let _ = balance(draft, place, Balanced::Salt, &salt);
    }
    Ok(())
}

fn notes(recipe: &Recipe, rule: &SwapRule, old: &Ingredient, new: &Ingredient) -> Vec<SwapNote> {
    let mut notes = Vec::new();
    match rule {
        SwapRule::Strength { .. } => notes.push(SwapNote::YeastMadeUp),
        SwapRule::Sweetness { .. } => {
            notes.push(SwapNote::SweetnessFromMemory);
            let unknown = [old, new]
                .into_iter()
                .filter(|one| one.composition.sugars.is_none());
            notes.extend(unknown.map(|one| SwapNote::SugarsNotKnown(one.name.clone())));
            if old.kind == Kind::Sugar && new.kind != Kind::Sugar {
                notes.push(SwapNote::BrownsSooner);
            }
        }
        SwapRule::Weight { absorption: None } if new.is_flour => notes.push(SwapNote::ThirstNotSaid),
        SwapRule::Fat if matches!(new.kind, Kind::Egg | Kind::DriedEgg) => notes.push(SwapNote::EggBinds),
        _ => {}
    }
    if figures::salt(old) != figures::salt(new) && old.kind != Kind::Salt {
        notes.push(SwapNote::SaltByMaker);
    }
    let outside = recipe.blocks.iter().filter(|block| solve::is_extra(block.kind));
    let holds = outside.filter(|block| {
        forms::lines(block).any(|(_, line)| {
            matches!(&line.thing, crate::model::recipe::Thing::Ingredient(found) if found.name == old.name)
        })
    });
    notes.extend(holds.map(|block| SwapNote::LeftOutside(block.title.clone())));
    notes
}

/// Finds what goes in.
fn expect_new(recipe: &Recipe, name: &Spanned<String>) -> Result<Arc<Ingredient>, Fault> {
    let catalog = &recipe.place.catalog;
    if let Some(found) = catalog.lookup(&name.value) {
        return Ok(Arc::clone(found));
    }
    let help = match (
        BareWord::of(&name.value),
        nearest_name(&name.value, &catalog.offers()),
    ) {
        (Some(bare), _) => format!("say which: {}", bare.choices().join(", ")),
        (None, Some(near)) => format!("did you mean `{near}`?"),
        (None, None) => "name an ingredient of the table or of the bakehouse".to_owned(),
    };
    let message = format!("`{}` is not in the ingredient table", name.value);
    Err(refused(name, message, &help))
}

/// Finds the lines of what is taken out: of the ingredient of that name, else of the one ingredient of its kind.
fn expect_old(draft: &Draft<'_>, name: &Spanned<String>) -> Result<Vec<Place>, Fault> {
    let folded = fold_name(&name.value);
    let meant = draft.recipe.place.catalog.lookup(&name.value);
    let all = draft.places();
    let pick = |is: &dyn Fn(&Ingredient, &str) -> bool| -> Vec<Place> {
        let picked = all.iter().filter(|place| {
            let written = draft.line(**place).map(|line| fold_name(&line.name.value));
            let found = draft.ingredient(**place);
            found.is_some_and(|found| is(found, &written.unwrap_or_default()))
        });
        picked.copied().collect()
    };
    let exact =
        pick(&|found, written| meant.is_some_and(|meant| meant.name == found.name) || written == folded);
    if !exact.is_empty() {
        return Ok(exact);
    }
    let kind = match (BareWord::of(&name.value), meant) {
        (Some(BareWord::Yeast), _) => Some(Kind::Yeast),
        (Some(BareWord::Flour), _) => Some(Kind::Flour),
        (None, meant) => meant.map(|meant| meant.kind),
    };
    let alike = pick(&|found, _| kind == Some(found.kind));
    let mut names: Vec<&str> = alike
        .iter()
        .filter_map(|place| draft.ingredient(*place))
        .map(|found| found.name.as_str())
        .collect();
    names.sort_unstable();
    names.dedup();
    match names.as_slice() {
        [] => Err(not_there(draft, name)),
        [_] => Ok(alike),
        several => {
            let message = format!("the recipe has no {} but {}", name.value, several.join(", "));
            Err(refused(name, message, "name the one that is meant"))
        }
    }
}

fn not_there(draft: &Draft<'_>, name: &Spanned<String>) -> Fault {
    let mut names: Vec<&str> = Vec::new();
    for place in draft.places() {
        if let Some(line) = draft.line(place)
            && draft.ingredient(place).is_some()
            && !names.contains(&line.name.value.as_str())
        {
            names.push(&line.name.value);
        }
    }
    let message = format!("the dough has no {}", name.value);
    refused(name, message, &format!("it has {}", names.join(", ")))
}

fn no_rule(wish: &Swap, old: &Ingredient, new: &Ingredient, why: &NoRule) -> Fault {
    match why {
        NoRule::DifferentWork => refused(
            &wish.new,
            format!("{} does not do the work of {} in a dough", new.name, old.name),
            "yeasts, milks, sweeteners, fats, eggs, salts, liquids and flours stand in for their own kind",
        ),
        NoRule::NotKnown(name) => refused(
            &wish.new,
            format!("the ingredient table does not know enough of {name} to weigh the one by the other"),
            "say in the bakehouse what 100 g of it hold, in an `ingredient` block",
        ),
    }
}

fn too_wet(wish: &Swap, missing: &Ratio) -> Fault {
    refused(
        &wish.new,
        format!(
            "it brings {} g more water than the dough has to give up",
            missing.to_trimmed(1)
        ),
        "swap a part of it by a line of its own in a variation",
    )
}

fn refused(at: &Spanned<String>, message: String, help: &str) -> Fault {
    let fault = Diagnostic::new(Code::WishRefused, at.span, message);
    Box::new(if help.is_empty() { fault } else { fault.help(help) })
}
