//! Answers in the document: what another starter or ingredient changes, and where a figure comes from.

use schemars::JsonSchema;
use serde::Serialize;

use super::block::title_of;
use super::decimal::Decimal;
use crate::quantity::Ratio;
use crate::sheet::{
    Change, Excess, Figure, Sheet, Shift, StarterAnswer, SwapAnswer, SwapNote, SwapRule, Why, WhyFigure,
    WhyRow,
};

/// Answers to what was asked besides the size; each is absent or empty where nothing was.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct AnswersDocument {
    /// What the starter at hand changes; the sheet has the changes in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    starter: Option<StarterDocument>,
    /// What each swap changes, in the order in which they were asked for; the sheet has the changes in it.
    swaps: Vec<SwapDocument>,
    /// Where a figure comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<WhyDocument>,
}

/// What the starter at hand changes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct StarterDocument {
    /// Water on flour of the starter that the formula counts on.
    formula_hydration_percent: Decimal,
    /// That of the starter at hand.
    hydration_percent: Decimal,
    /// Whether it only seeds stages of a formula and is taken out again, so that nothing changes.
    only_seeds: bool,
    /// The lines that change.
    changes: Vec<ChangeDocument>,
    /// The figures that change by a twentieth of a hundredth of the flour or more.
    figures: Vec<ShiftDocument>,
    /// Water that the dough could not give up.
    #[serde(skip_serializing_if = "Option::is_none")]
    excess: Option<ExcessDocument>,
}

/// Water that the dough could not give up, and what else could be done.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ExcessDocument {
    /// How much too much of it stays in the dough.
    water_g: Decimal,
    /// Another liquid that could be held back.
    #[serde(skip_serializing_if = "Option::is_none")]
    hold_back: Option<String>,
    /// How much of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    hold_back_g: Option<Decimal>,
    /// So much less starter would keep the bread,
    less_starter_g: Decimal,
    /// with so much more flour.
    more_flour_g: Decimal,
}

/// What a swap changes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SwapDocument {
    /// What went in.
    new: String,
    /// What it took the place of.
    old: String,
    /// What was kept: `strength`, `milk_solids`, `sweetness`, `fat`, `egg_solids`, `water` or `weight`.
    #[schemars(extend("enum" = ["strength", "milk_solids", "sweetness", "fat", "egg_solids", "water", "weight"]))]
    keeps: &'static str,
    /// Grams of the new for a gram of the old.
    factor: Decimal,
    /// The same, exact.
    factor_exact: String,
    /// The lines that change.
    changes: Vec<ChangeDocument>,
    /// The figures that change by a twentieth of a hundredth of the flour or more.
    figures: Vec<ShiftDocument>,
    /// What else there is to know: `yeast_made_up`, `sweetness_from_memory`, `sugars_not_known`, `browns_sooner`,
    /// `salt_by_maker`, `egg_binds`, `thirst_not_said`, `left_outside`.
    notes: Vec<&'static str>,
    /// Allergens that the recipe did not contain before.
    allergens_new: Vec<&'static str>,
    /// Allergens that no recognised ingredient contains any more.
    allergens_gone: Vec<&'static str>,
}

/// A line that changes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ChangeDocument {
    /// What its block is called.
    block: String,
    /// Its name before; absent for a line that is new.
    #[serde(skip_serializing_if = "Option::is_none")]
    old: Option<String>,
    /// Its name after.
    new: String,
    /// What it weighed.
    before_g: Decimal,
    /// What it weighs.
    after_g: Decimal,
    /// The same, exact.
    after_g_exact: String,
}

/// A figure that changes, in percent of all flour.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ShiftDocument {
    /// Which one, as in `figures`.
    figure: &'static str,
    /// What it was.
    before_percent: Decimal,
    /// What it is.
    after_percent: Decimal,
}

/// Where a figure comes from.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WhyDocument {
    /// The figure that was asked for: `hydration`, `salt`, `sugar`, `fat` or `prefermented flour`.
    #[schemars(extend("enum" = ["hydration", "salt", "sugar", "fat", "prefermented flour"]))]
    figure: &'static str,
    /// It, of all flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent: Option<Decimal>,
    /// All of what is counted.
    counted_g: Decimal,
    /// What 100 g of bread hold of it, after its losses; only for salt.
    #[serde(skip_serializing_if = "Option::is_none")]
    in_100_g_of_bread_g: Option<Decimal>,
    /// The lines that bring some, the largest first.
    lines: Vec<WhyLineDocument>,
    /// Whether lines are left out because nobody knows what they hold.
    unknown_left_out: bool,
}

/// What a line brings.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WhyLineDocument {
    /// Title of its block.
    block: String,
    /// What it is called.
    name: String,
    /// The part of a starter or of old dough that it is; absent for an ingredient on its own line.
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    /// What of the line reaches the dough.
    line_g: Decimal,
    /// What of that is counted.
    counted_g: Decimal,
    /// The same, exact.
    counted_g_exact: String,
    /// That of all flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    of_all_flour_percent: Option<Decimal>,
    /// Its part of the whole figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    of_figure_percent: Option<Decimal>,
}

pub(super) fn view_answers(sheet: &Sheet) -> AnswersDocument {
    let answers = &sheet.answers;
    AnswersDocument {
        starter: answers.starter.as_ref().map(view_starter),
        swaps: answers.swaps.iter().map(view_swap).collect(),
        why: answers.why.as_ref().map(|why| view_why(why, sheet)),
    }
}

fn view_starter(answer: &StarterAnswer) -> StarterDocument {
    StarterDocument {
        formula_hydration_percent: Decimal::percent(&answer.formula),
        hydration_percent: Decimal::percent(&answer.at_hand),
        only_seeds: answer.only_seeds,
        changes: answer.changes.iter().map(view_change).collect(),
        figures: answer.shifts.iter().map(view_shift).collect(),
        excess: answer.excess.as_ref().map(view_excess),
    }
}

fn view_excess(excess: &Excess) -> ExcessDocument {
    let hold_back = excess.hold_back.as_ref();
    ExcessDocument {
        water_g: Decimal::grams(&excess.water),
        hold_back: hold_back.map(|(name, _)| name.clone()),
        hold_back_g: hold_back.map(|(_, grams)| Decimal::grams(grams)),
        less_starter_g: Decimal::grams(&excess.less_starter),
        more_flour_g: Decimal::grams(&excess.more_flour),
    }
}

fn view_swap(answer: &SwapAnswer) -> SwapDocument {
    SwapDocument {
        new: answer.new.clone(),
        old: answer.old.clone(),
        keeps: match answer.rule {
            SwapRule::Strength { .. } => "strength",
            SwapRule::MilkSolids => "milk_solids",
            SwapRule::Sweetness { .. } => "sweetness",
            SwapRule::Fat => "fat",
            SwapRule::EggSolids => "egg_solids",
            SwapRule::Water => "water",
            SwapRule::Weight { .. } => "weight",
        },
        factor: Decimal::of(&answer.factor),
        factor_exact: answer.factor.to_string(),
        changes: answer.changes.iter().map(view_change).collect(),
        figures: answer.shifts.iter().map(view_shift).collect(),
        notes: answer.notes.iter().map(view_note).collect(),
        allergens_new: answer.allergens_new.iter().map(|found| found.label()).collect(),
        allergens_gone: answer.allergens_gone.iter().map(|found| found.label()).collect(),
    }
}

const fn view_note(note: &SwapNote) -> &'static str {
    match note {
        SwapNote::YeastMadeUp => "yeast_made_up",
        SwapNote::SweetnessFromMemory => "sweetness_from_memory",
        SwapNote::SugarsNotKnown(_) => "sugars_not_known",
        SwapNote::BrownsSooner => "browns_sooner",
        SwapNote::SaltByMaker => "salt_by_maker",
        SwapNote::EggBinds => "egg_binds",
        SwapNote::ThirstNotSaid => "thirst_not_said",
        SwapNote::LeftOutside(_) => "left_outside",
    }
}

fn view_change(change: &Change) -> ChangeDocument {
    ChangeDocument {
        block: change.block.clone(),
        old: change.old.clone(),
        new: change.new.clone(),
        before_g: Decimal::grams(&change.before),
        after_g: Decimal::grams(&change.after),
        after_g_exact: change.after.0.to_string(),
    }
}

fn view_shift(shift: &Shift) -> ShiftDocument {
    ShiftDocument {
        figure: match shift.figure {
            Figure::Hydration => "hydration_percent",
            Figure::Salt => "salt_percent",
            Figure::Sugar => "sugar_percent",
            Figure::Fat => "fat_percent",
            Figure::Egg => "egg_percent",
            Figure::MilkSolids => "milk_solids_percent",
            Figure::Prefermented => "prefermented_flour_percent",
            Figure::Wholegrain => "wholegrain_percent",
            Figure::Rye => "rye_percent",
        },
        before_percent: Decimal::percent(&shift.before),
        after_percent: Decimal::percent(&shift.after),
    }
}

fn view_why(why: &Why, sheet: &Sheet) -> WhyDocument {
    let percent = |share: &Option<Ratio>| share.as_ref().map(Decimal::percent);
    let line = |row: &WhyRow| WhyLineDocument {
        block: title_of(sheet, row.block),
        name: row.name.clone(),
        part: row.part.clone(),
        line_g: Decimal::grams(&row.line),
        counted_g: Decimal::grams(&row.counted),
        counted_g_exact: row.counted.0.to_string(),
        of_all_flour_percent: percent(&row.of_all_flour),
        of_figure_percent: percent(&row.of_figure),
    };
    let name = WhyFigure::ALL.iter().find(|(figure, _)| *figure == why.figure);
    WhyDocument {
        figure: name.map_or("", |(_, name)| name),
        percent: percent(&why.share),
        counted_g: Decimal::grams(&why.whole),
        in_100_g_of_bread_g: why.in_100_g_of_bread.as_ref().map(Decimal::grams),
        lines: why.rows.iter().map(line).collect(),
        unknown_left_out: why.is_blurred,
    }
}
