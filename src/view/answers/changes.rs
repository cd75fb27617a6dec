//! What another starter or another ingredient changes: the lines, the figures, and what else there is to say.

use super::{Answer, AnswerTable};
use crate::model::catalog::Allergen;
use crate::quantity::{Grams, Ratio};
use crate::sheet::{Change, Excess, Figure, Shift, StarterAnswer, SwapAnswer, SwapNote, SwapRule};
use crate::view::setting::{Setting, capitalised};

/// Tells what the starter at hand changes.
pub(super) fn view_starter(setting: &Setting<'_>, answer: &StarterAnswer) -> Answer {
    let share = |share: &Ratio| setting.numbers.share(share);
    let (formula, at_hand) = (share(&answer.formula), share(&answer.at_hand));
    let mut sentences = Vec::new();
    if answer.only_seeds {
        sentences.push(format!(
            "The formula counts on a starter of {formula} hydration. It only seeds the stages and is taken out again \
             as it went in, so nothing changes."
        ));
    } else {
        sentences.push(format!(
            "The formula counts on a starter of {formula} hydration, this one has {at_hand}. As much of it goes in; \
             what it brings too much of stays out, what it lacks goes in."
        ));
    }
    if let Some((flour, line)) = &answer.other_flour {
        sentences.push(format!("There is no line of {flour}: {line} changes for it."));
    }
    match &answer.excess {
        Some(excess) => sentences.extend(view_excess(setting, excess)),
        None if answer.only_seeds => {}
        None => sentences.push("The dough has the flour and the water that it should have.".to_owned()),
    }
    sentences.extend(view_shifts(setting, &answer.shifts));
    Answer {
        title: format!("With a starter of {at_hand} hydration"),
        table: view_changes(setting, &answer.changes),
        sentences,
    }
}

fn view_excess(setting: &Setting<'_>, excess: &Excess) -> Vec<String> {
    let weight = |grams: &Grams| weight(setting, grams);
    let mut sentences = vec![format!(
        "There is no more water to leave out: {} too much stay in the dough, which becomes softer.",
        weight(&excess.water)
    )];
    if let Some((name, grams)) = &excess.hold_back {
        sentences.push(format!(
            "To keep it as it was, hold back {} of {name}.",
            weight(grams)
        ));
    }
    sentences.push(format!(
        "Or take {} less of the starter and {} more flour; the dough then ferments more slowly.",
        weight(&excess.less_starter),
        weight(&excess.more_flour)
    ));
    sentences
}

/// Tells what a swap changes.
pub(in crate::view) fn view_swap(setting: &Setting<'_>, answer: &SwapAnswer) -> Answer {
    let mut sentences = vec![view_rule(setting, answer)];
    sentences.extend(answer.notes.iter().map(|note| say(answer, note)));
    let shifts = view_shifts(setting, &answer.shifts);
    if shifts.is_empty() {
        sentences.push("Hydration, salt, sugar and fat of the bread stay as they were.".to_owned());
    }
    sentences.extend(shifts);
    let allergens = |found: &[Allergen]| {
        let labels = found.iter().map(|allergen| allergen.label().to_owned());
        labels.collect::<Vec<_>>().join(", ")
    };
    if !answer.allergens_new.is_empty() {
        let list = allergens(&answer.allergens_new);
        sentences.push(format!("Allergens: the bread now contains {list}."));
    }
    if !answer.allergens_gone.is_empty() {
        let list = allergens(&answer.allergens_gone);
        sentences.push(format!("No ingredient that we recognise brings {list} any more."));
    }
    Answer {
        title: capitalised(&format!("{} instead of {}", answer.new, answer.old)),
        table: view_changes(setting, &answer.changes),
        sentences,
    }
}

/// Says what was kept, and how much of the one stands for the other.
fn view_rule(setting: &Setting<'_>, answer: &SwapAnswer) -> String {
    let number = |value: &Ratio, decimals| setting.numbers.decimal(value, decimals);
    let hundred = number(&(&answer.factor * &Ratio::HUNDRED), 1);
    let (new, old) = (&answer.new, &answer.old);
    let stands = format!("{hundred} g of {new} stand for 100 g of {old}");
    match &answer.rule {
        SwapRule::Strength {
            old: left,
            new: right,
        } => format!(
            "{stands}: they raise alike, as {} to {} (fresh, active dry and instant yeast stand as 100 to 40 to 33).",
            number(right, 0),
            number(left, 0)
        ),
        SwapRule::MilkSolids => {
            format!("{stands}: they hold as much of what is neither water nor fat in milk.")
        }
        SwapRule::Sweetness {
            old: left,
            new: right,
        } if left == right => {
            format!("{stands}: they are about as sweet.")
        }
        SwapRule::Sweetness {
            old: left,
            new: right,
        } => format!(
            "{stands}: they are as sweet, since 100 g of {new} sweeten as {} g of sugar and 100 g of {old} as {} g.",
            number(right, 1),
            number(left, 1)
        ),
        SwapRule::Fat => format!("{stands}: they hold as much fat."),
        SwapRule::EggSolids => format!("{stands}: they hold as much egg without its water."),
        SwapRule::Water => format!("{stands}: they hold as much water."),
        SwapRule::Weight {
            absorption: Some(more),
        } => {
            let taken = if more.is_negative() { "less" } else { "more" };
            format!(
                "{stands}; it takes up {} g {taken} water, as the bakehouse says.",
                number(&more.abs(), 1)
            )
        }
        SwapRule::Weight { absorption: None } => format!("{stands}."),
    }
}

fn say(answer: &SwapAnswer, note: &SwapNote) -> String {
    let (new, old) = (&answer.new, &answer.old);
    match note {
        SwapNote::YeastMadeUp => {
            "Water makes up the difference in weight. Yeast counts as dry here, so hydration \
                                  reads otherwise though the dough is the same."
                .to_owned()
        }
        SwapNote::SweetnessFromMemory => {
            "How sweet they are is from memory, and differs by maker: taste before a large batch.".to_owned()
        }
        SwapNote::SugarsNotKnown(name) => {
            format!("How much sugar {name} holds is not in the table, so the figure for sugar leaves it out.")
        }
        SwapNote::BrownsSooner => capitalised(&format!(
            "{new} browns sooner than sugar: bake a little cooler or cover the loaf (common practice, no source)."
        )),
        SwapNote::SaltByMaker => {
            "Salted goods differ in salt by maker: read the packet and put it into the bakehouse.".to_owned()
        }
        SwapNote::EggBinds => format!(
            "The protein of {new} differs from that of {old}: crumb and rise may too (common practice, no source)."
        ),
        SwapNote::ThirstNotSaid => {
            "Nobody has said how much water either flour takes up (`absorption +3 %` in the \
                                    bakehouse), so the water stays: hold some back and look at the dough."
                .to_owned()
        }
        SwapNote::LeftOutside(title) => format!("The {title} holds {old} too, and is left as it is."),
    }
}

/// Lists the figures that change, each with what it was and is.
fn view_shifts(setting: &Setting<'_>, shifts: &[Shift]) -> Vec<String> {
    let one = |shift: &Shift| {
        let name = match shift.figure {
            Figure::Hydration => "hydration",
            Figure::Salt => "salt",
            Figure::Sugar => "sugar",
            Figure::Fat => "fat",
            Figure::Egg => "egg",
            Figure::MilkSolids => "milk solids",
            Figure::Prefermented => "prefermented flour",
            Figure::Wholegrain => "wholegrain flour",
            Figure::Rye => "rye flour",
        };
        let share = |share: &Ratio| {
            let hundredths = share * &Ratio::HUNDRED;
            setting.numbers.decimal(&hundredths, 1)
        };
        format!("{name} {} → {} %", share(&shift.before), share(&shift.after))
    };
    let list: Vec<String> = shifts.iter().map(one).collect();
    if list.is_empty() {
        return Vec::new();
    }
    vec![format!("What changes, of all flour: {}.", list.join(", "))]
}

/// Lists the lines that change; nothing where none does.
fn view_changes(setting: &Setting<'_>, changes: &[Change]) -> Option<AnswerTable> {
    let row = |change: &Change| {
        let name = match &change.old {
            Some(old) if *old != change.new => format!("{} instead of {old}", change.new),
            Some(_) | None => change.new.clone(),
        };
        let before = match &change.old {
            Some(_) => weight(setting, &change.before),
            None => "–".to_owned(),
        };
        vec![
            format!("{}: {name}", change.block),
            before,
            weight(setting, &change.after),
        ]
    };
    (!changes.is_empty()).then(|| AnswerTable {
        head: ["Line", "Was", "Is"].map(str::to_owned).to_vec(),
        rows: changes.iter().map(row).collect(),
    })
}

/// Writes a weight in the first unit, as close as its size has use for.
fn weight(setting: &Setting<'_>, grams: &Grams) -> String {
    setting.numbers.weight_about(setting.first_unit(), grams)
}
