//! Cautions as faults, so that an editor and a terminal show them too. Short; the card says more.

use super::{Caution, MUCH_CASSIA};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Recipe, Variation};
use crate::quantity::Elapsed;
use crate::sheet::{Allergens, Sheet};
use crate::source::{Span, Spanned};

/// Reports the cautions of a recipe, each as one sentence; none of them ever stops anything.
///
/// What stands on every card, allergens, raw flour and the footer, would only be noise here.
pub(crate) fn report_cautions(cautions: &[Caution], recipe: &Recipe) -> Report {
    let mut report = Report::new();
    for caution in cautions {
        report.extend(fault(caution, recipe.title.span));
    }
    report
}

/// Makes the fault of a caution, at a place of its own or else at the given one; nothing for one that is no news.
fn fault(caution: &Caution, otherwise: Span) -> Option<Diagnostic> {
    let (message, help) = sentence(caution)?;
    let code = if caution.id == "C02" {
        Code::ClaimContradicted
    } else {
        Code::FoodCaution
    };
    let span = caution.span.unwrap_or(otherwise);
    Some(Diagnostic::new(code, span, message).help(help))
}

/// Reports what variations call for that the recipe as written does not, under their names: their allergens, and
/// their cautions, each at the line that brings it in. What several call for alike is told once.
pub(crate) fn report_variations(plain: &Sheet, variations: &[(Variation, Sheet)]) -> Report {
    let mut told: Vec<(Vec<&str>, Diagnostic)> = Vec::new();
    for (variation, sheet) in variations {
        let Spanned { value: name, span } = &variation.name;
        let more = more_allergens(&sheet.allergens.beyond(&plain.allergens), *span);
        let cautions = sheet.cautions_beyond(plain);
        for fault in more.chain(cautions.filter_map(|caution| fault(caution, *span))) {
            let alike = told.iter_mut().find(|(_, other)| other.message == fault.message);
            match alike {
                Some((names, _)) => names.push(name),
                None => told.push((vec![name], fault)),
            }
        }
    }
    let mut report = Report::new();
    report.extend(told.into_iter().map(|(names, fault)| Diagnostic {
        message: format!("{}: {}", of_variations(&names), fault.message),
        ..fault
    }));
    report
}

/// Makes the faults of the allergens that a variation adds.
fn more_allergens(more: &Allergens, span: Span) -> impl Iterator<Item = Diagnostic> + use<> {
    let contains: Vec<&str> = more.contains.iter().map(|allergen| allergen.label()).collect();
    let told = [
        ("it also contains", contains.join(", ")),
        ("its allergens are not checked:", more.not_checked.join(", ")),
    ];
    told.into_iter()
        .filter(|(_, names)| !names.is_empty())
        .map(move |(what, names)| {
            Diagnostic::new(Code::FoodCaution, span, format!("{what} {names}")).help(TELL)
        })
}

/// Names variations, the first few of very many.
fn of_variations(names: &[&str]) -> String {
    const MOST: usize = 4;
    let shown: Vec<String> = names.iter().take(MOST).map(|name| format!("`{name}`")).collect();
    let word = if names.len() == 1 {
        "variation"
    } else {
        "variations"
    };
    match names.len().saturating_sub(MOST) {
        0 => format!("{word} {}", shown.join(", ")),
        more => format!("{word} {} and {more} more", shown.join(", ")),
    }
}

/// What to do about an allergen.
const TELL: &str = "tell it to whoever eats it; the card does";

/// What may be hot, and what to do about it.
const HOT_THINGS: [(&str, &str); 3] = [
    (
        "hot pot or stone",
        "a hot pot or stone looks cold: leave a glove on it",
    ),
    (
        "baking paper",
        "most baking paper is rated to about 220 °C (430 °F): check yours",
    ),
    (
        "open fire",
        "burn wood or charcoal only outdoors or under a flue: carbon monoxide has no smell",
    ),
];

/// Says what is the matter and what to do about it.
fn sentence(caution: &Caution) -> Option<(String, String)> {
    if caution.id == "C12" {
        let is_meant = |(thing, _): &&(&str, &str)| caution.about.iter().any(|about| about == thing);
        let told = HOT_THINGS.iter().filter(is_meant).map(|(_, told)| *told);
        let message = format!("mind the heat: {}", caution.about.join(", "));
        return Some((message, told.collect::<Vec<_>>().join("; ")));
    }
    fixed_sentence(caution).map(|(message, help)| (message, help.to_owned()))
}

fn fixed_sentence(caution: &Caution) -> Option<(String, &'static str)> {
    let about = caution.about.join(", ");
    Some(match caution.id {
        "C02" => claim(caution)?,
        "C03" => (
            format!(
                "the dough with {about} is above 5 °C for {} before it is baked",
                duration(caution.time.unwrap_or_default())
            ),
            "home advice is to chill such food after 2 h; a rest at 5 °C or below avoids the question",
        ),
        "C04" => (
            format!("with {about}, cold means 5 °C (41 °F) or below"),
            "write the temperature of the cold step",
        ),
        "C05" if caution.graver => (
            "the flour stays raw".to_owned(),
            "raw flour has carried E. coli and Salmonella: heat it through, and do not taste the dough",
        ),
        "C06" if caution.graver => (
            format!("no step heats {about} once it is in or on the bread"),
            "use what is sold pasteurised or ready to eat, or heat it to 74 °C (165 °F) first",
        ),
        "C06" => (
            format!("with {about} in or on the bread, that and the middle have to reach 74 °C (165 °F)"),
            "write `until core 74 C` or more on the bake",
        ),
        "C07" => (
            format!("{about} keeps only in the cold"),
            "keep the bread at 5 °C or below, and no longer than 2 h out of the fridge",
        ),
        "C08" => (
            format!("{about}: garlic or herbs in oil can grow botulism at room temperature"),
            "make it fresh, or keep it cold and use it within days",
        ),
        "C09" => (
            "honey is not for babies under 12 months, baked in or not".to_owned(),
            "say so to whoever eats it; the card does",
        ),
        "C10" => (
            "lye burns skin and eyes".to_owned(),
            "gloves and goggles; lye into cold water, never the other way; write its strength",
        ),
        _ => return practical_sentence(caution, &about),
    })
}

fn practical_sentence(caution: &Caution, about: &str) -> Option<(String, &'static str)> {
    Some(match caution.id {
        "C11" => (
            "hot water and steam scald".to_owned(),
            "pour slowly and away from you, with dry gloves; stand aside before you open the oven",
        ),
        "C13" => (
            salt(caution),
            if caution.about.first().is_some_and(|word| word == "much salt") {
                "look whether a dot has slipped: so much slows the rise and tightens the dough; who watches their salt wants to know"
            } else {
                "less salt makes a faster, slacker dough; who changes salt for their health should ask a doctor"
            },
        ),
        "C16" if caution.about.first().is_some_and(|about| about == MUCH_CASSIA) => (
            "there is much cassia cinnamon: 0.5 % of the bread or more".to_owned(),
            "its coumarin can harm the liver of a child who eats it daily: use less, or Ceylon cinnamon",
        ),
        "C16" => (
            format!("{about} is not allowed everywhere"),
            "look for unbromated flour",
        ),
        "C17" => (
            format!("{about} can do harm raw, bitter or unknown"),
            "cook bean flour through, leave bitter kernels out, use only plants that you know",
        ),
        "C18" => (
            "a culture that is pink, orange or fuzzy has spoiled".to_owned(),
            "throw all of it away and wash the jar",
        ),
        "C19" => (
            "flour dust harms lungs and can catch fire".to_owned(),
            "tip flour low, draw the dust off, no dry sweeping",
        ),
        "C20" => (
            format!("a delayed start leaves {about} out of the cold"),
            "home advice is to chill such food after 2 h",
        ),
        "C21" => (
            "bread sealed in a jar can grow botulism".to_owned(),
            "keep it in a bag or in the freezer",
        ),
        _ => return None,
    })
}

fn claim(caution: &Caution) -> Option<(String, &'static str)> {
    let (claim, against) = caution.about.split_first()?;
    let against = against.join(", ");
    let help = if claim == "gluten-free" {
        "long fermentation does not take gluten out: the usual legal bound is 20 mg/kg"
    } else {
        "take the claim off, or use something else"
    };
    Some((
        format!("this is called {claim}, and there is {against} in it"),
        help,
    ))
}

fn salt(caution: &Caution) -> String {
    match caution.about.first().map(String::as_str) {
        Some("little salt") => "there is little salt: less than 1 % of the flour".to_owned(),
        Some("much salt") => "there is much salt: more than 2.5 % of the flour".to_owned(),
        Some(word) => format!("{word} is a matter of health"),
        None => "salt is a matter of health".to_owned(),
    }
}

fn duration(length: Elapsed) -> String {
    let minutes = length.as_minutes();
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes:02} min"),
    }
}
