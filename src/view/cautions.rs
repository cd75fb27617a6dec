//! Allergens and cautions in words. Owns which word says which caution, its short source, and how many stand
//! in the flow of the card; what triggers one is decided in the sheet.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::setting::{Setting, capitalised};
use super::word_list::Word;
use crate::model::catalog::{Allergen, AllergenList, eu_list, us_list};
use crate::model::recipe::Variation;
use crate::sheet::{Allergens, CAUTION_RULES, Caution, MUCH_CASSIA, Sheet};

/// More than this stands in a block of its own, so that a card is read and not passed over.
const MOST_IN_FLOW: usize = 3;

/// Cautions that come before all others, because they speak of people who were not there when it was baked.
const FIRST: [&str; 4] = ["C02", "C10", "C09", "C07"];

/// Cautions that stand elsewhere on the card: allergens have a block, figures a foot.
const ELSEWHERE: [&str; 2] = ["C01", "C23"];

/// The allergens and cautions of a card.
#[derive(Debug, JsonSchema, Serialize)]
pub struct Cautions {
    /// What is known of allergens.
    pub allergens: AllergenNote,
    /// At most three cautions for the flow of the card, the gravest first.
    pub flow: Vec<CautionNote>,
    /// The other cautions.
    pub more: Vec<CautionNote>,
}

/// What is known of allergens.
#[derive(Debug, JsonSchema, Serialize)]
pub struct AllergenNote {
    /// The allergens of the ingredients that are recognised, joined; empty where there are none.
    pub contains: String,
    /// Whole sentences: what could not be checked, what else to read, and which law names what.
    pub sentences: Vec<String>,
    /// What the variations on the card contain besides; empty where they stand elsewhere, or add nothing.
    pub variations: Vec<MoreAllergens>,
}

/// What a variation contains that the recipe as written does not.
#[derive(Debug, JsonSchema, Serialize)]
pub struct MoreAllergens {
    /// The names of the variations of which this is true, joined.
    pub name: String,
    /// The allergens, joined; empty where there are none more.
    pub contains: String,
    /// Whole sentences: what else could not be checked, and which law names what.
    pub sentences: Vec<String>,
}

/// A caution.
#[derive(Debug, JsonSchema, Serialize)]
pub struct CautionNote {
    /// Its number, `C03`.
    pub id: &'static str,
    /// What it says; one that only a variation calls for begins with its name.
    pub text: String,
    /// Whose advice it is, in short.
    pub source: &'static str,
}

/// Puts allergens and cautions into words, those of the variations that stand on the same card besides, each under
/// its name.
pub(super) fn view_cautions(setting: &Setting<'_>, variations: &[(Variation, Sheet)]) -> Cautions {
    let mut cautions: Vec<(Vec<String>, &Caution)> = setting
        .sheet
        .cautions
        .iter()
        .map(|caution| (Vec::new(), caution))
        .collect();
    for (variation, sheet) in variations {
        let name = capitalised(&variation.name.value);
        for caution in sheet.cautions_beyond(setting.sheet) {
            let alike = cautions.iter_mut().find(|(names, other)| {
                !names.is_empty() && caution.is_said_by(other) && other.is_said_by(caution)
            });
            match alike {
                Some((names, _)) => names.push(name.clone()),
                None => cautions.push((vec![name.clone()], caution)),
            }
        }
    }
    cautions.retain(|(_, caution)| !ELSEWHERE.contains(&caution.id));
    cautions.sort_by_key(|(_, caution)| rank(caution));
    let mut flow: Vec<CautionNote> = cautions
        .iter()
        .filter_map(|(names, caution)| {
            let note = note(setting, caution, names.is_empty())?;
            Some(CautionNote {
                text: under_name(setting, names, note.text),
                ..note
            })
        })
        .collect();
    let more = flow.split_off(flow.len().min(MOST_IN_FLOW));
    Cautions {
        allergens: view_allergens(setting, variations),
        flow,
        more,
    }
}

/// Gives the place of a caution on the card: those for people who were not there, then the graver ones, then by rule.
fn rank(caution: &Caution) -> (usize, bool, usize) {
    let first = FIRST.iter().position(|id| *id == caution.id);
    let rule = CAUTION_RULES.iter().position(|rule| rule.id == caution.id);
    (
        first.unwrap_or(FIRST.len()),
        !caution.graver,
        rule.unwrap_or(CAUTION_RULES.len()),
    )
}

/// Puts a sentence under the names of the variations that call for it, if it is not the plain recipe's.
fn under_name(setting: &Setting<'_>, names: &[String], text: String) -> String {
    if names.is_empty() {
        return text;
    }
    let words = setting.words;
    [&words.list(names), words.get(Word::Colon), " ", &text].concat()
}

fn view_allergens(setting: &Setting<'_>, variations: &[(Variation, Sheet)]) -> AllergenNote {
    let words = setting.words;
    let known = &setting.sheet.allergens;
    let mut sentences = Vec::new();
    if known.contains.is_empty() {
        sentences.push(words.get(Word::ContainsNone).to_owned());
    }
    sentences.extend(not_checked(setting, known));
    sentences.push(words.get(Word::ReadPackets).to_owned());
    sentences.extend(by_laws(setting, known));
    AllergenNote {
        contains: named(setting, known),
        sentences,
        variations: view_more_allergens(setting, variations),
    }
}

/// Says what variations contain besides, those together that add the same.
fn view_more_allergens(setting: &Setting<'_>, variations: &[(Variation, Sheet)]) -> Vec<MoreAllergens> {
    let mut added: Vec<(Vec<String>, Allergens)> = Vec::new();
    for (variation, sheet) in variations {
        let name = capitalised(&variation.name.value);
        let more = sheet.allergens.beyond(&setting.sheet.allergens);
        match added.iter_mut().find(|(_, other)| *other == more) {
            Some((names, _)) => names.push(name),
            None => added.push((vec![name], more)),
        }
    }
    let says_something = |more: &Allergens| !more.contains.is_empty() || !more.not_checked.is_empty();
    let told = added.into_iter().filter(|(_, more)| says_something(more));
    told.map(|(names, more)| MoreAllergens {
        name: setting.words.list(&names),
        contains: named(setting, &more),
        sentences: not_checked(setting, &more)
            .into_iter()
            .chain(by_laws(setting, &more))
            .collect(),
    })
    .collect()
}

fn named(setting: &Setting<'_>, known: &Allergens) -> String {
    let words = setting.words;
    let named = known.contains.iter();
    let named: Vec<String> = named
        .map(|one| words.get(allergen_word(*one)).to_owned())
        .collect();
    words.list(&named)
}

fn not_checked(setting: &Setting<'_>, known: &Allergens) -> Option<String> {
    let words = setting.words;
    let list = words.list(&known.not_checked);
    (!list.is_empty()).then(|| words.fill(Word::NotChecked, &[("list", &list)]))
}

/// Says of each law what it names of some allergens, where that is not all of them.
fn by_laws(setting: &Setting<'_>, known: &Allergens) -> Vec<String> {
    let contained: BTreeSet<Allergen> = known.contains.iter().copied().collect();
    [
        (us_list(), Word::UsList, Word::UsListNone),
        (eu_list(), Word::EuList, Word::EuListNone),
    ]
    .into_iter()
    .filter_map(|(law, some, none)| by_law(setting, law, &contained, some, none))
    .collect()
}

/// Says what a law names of it, where that is not all of it.
fn by_law(
    setting: &Setting<'_>,
    law: &AllergenList,
    contained: &BTreeSet<Allergen>,
    some: Word,
    none: Word,
) -> Option<String> {
    let listed: BTreeSet<Allergen> = law.entries().map(|(allergen, _)| allergen).collect();
    let named: Vec<String> = contained
        .iter()
        .filter(|allergen| listed.contains(allergen))
        .map(|allergen| setting.words.get(allergen_word(*allergen)).to_owned())
        .collect();
    if named.len() == contained.len() {
        return None;
    }
    if named.is_empty() {
        return Some(setting.words.get(none).to_owned());
    }
    Some(setting.words.fill(some, &[("list", &setting.words.list(&named))]))
}

/// Words a caution of the plain recipe or of a variation, whose longest one is short where the plain recipe has just
/// said the same.
fn note(setting: &Setting<'_>, caution: &Caution, is_plain: bool) -> Option<CautionNote> {
    let (plain, graver, source) = caution_words(caution.id)?;
    let words = setting.words;
    let time = caution
        .time
        .map(|time| setting.numbers.length(time))
        .unwrap_or_default();
    // A claim stands ahead of what speaks against it, and a word ahead of cassia, which shares its number.
    let (leading, about) = match (caution.id, caution.about.split_first()) {
        ("C02", Some((claim, rest))) => (claim.as_str(), rest),
        ("C16", Some((matter, rest))) if matter == MUCH_CASSIA => (matter.as_str(), rest),
        _ => ("", caution.about.as_slice()),
    };
    let is_cassia = leading == MUCH_CASSIA;
    let source = if is_cassia { Word::SourceCassia } else { source };
    let mut told = setting.sheet.cautions.iter();
    let again = |told: &Caution| told.id == "C03" && told.graver >= caution.graver;
    let word = match caution.id {
        "C03" if !is_plain && told.any(again) => Word::C03Again,
        _ if is_cassia => Word::C16Cassia,
        _ if caution.graver => graver,
        _ => plain,
    };
    let claim = claim_word(leading).map_or(leading, |word| words.get(word));
    let gaps = [("claim", claim), ("about", &words.list(about)), ("time", &time)];
    Some(CautionNote {
        id: caution.id,
        text: text_by_parts(setting, caution).unwrap_or_else(|| capitalised(&words.fill(word, &gaps))),
        source: words.get(source),
    })
}

/// Words a caution of which only some parts apply; nothing for one that is a single text.
fn text_by_parts(setting: &Setting<'_>, caution: &Caution) -> Option<String> {
    let is_about = |what: &str| caution.about.iter().any(|about| about == what);
    let parts = match caution.id {
        "C12" => vec![
            is_about("hot pot or stone").then_some(Word::C12Pot),
            is_about("baking paper").then_some(Word::C12Paper),
            is_about("open fire").then_some(Word::C12Fire),
        ],
        "C13" => vec![
            is_about("little salt").then_some(Word::C13Little),
            Some(Word::C13),
        ],
        _ => return None,
    };
    let texts: Vec<&str> = parts
        .into_iter()
        .flatten()
        .map(|word| setting.words.get(word))
        .collect();
    Some(texts.join(" "))
}

/// Gives the words of a caution, plain and graver, and its source.
fn caution_words(id: &str) -> Option<(Word, Word, Word)> {
    use Word as W;
    let always = |word, source| Some((word, word, source));
    match id {
        "C02" => Some((W::C02, W::C02Graver, W::SourceFree)),
        "C03" => Some((W::C03, W::C03Graver, W::SourceKeeping)),
        "C04" => always(W::C04, W::SourceFoodCode),
        "C05" => Some((W::C05, W::C05Graver, W::SourceRawFlour)),
        "C06" => Some((W::C06, W::C06Graver, W::SourceFoodCode)),
        "C07" => always(W::C07, W::SourceFilled),
        "C08" => always(W::C08, W::SourceFoodCode),
        "C09" => always(W::C09, W::SourceHoney),
        "C10" => Some((W::C10, W::C10Graver, W::SourceLye)),
        "C11" => always(W::C11, W::SourcePractice),
        "C12" => always(W::C12Pot, W::SourcePractice),
        "C13" => always(W::C13, W::SourceHealth),
        "C14" => always(W::C14, W::SourcePractice),
        "C15" => always(W::C15, W::SourceSelling),
        "C16" => always(W::C16, W::SourceBromate),
        "C17" => always(W::C17, W::SourceHealth),
        "C18" => always(W::C18, W::SourceExtension),
        "C19" => always(W::C19, W::SourceWorkplace),
        "C20" => always(W::C20, W::SourceKeeping),
        "C21" => always(W::C21, W::SourceExtension),
        "C22" => always(W::C22, W::SourcePractice),
        _ => None,
    }
}

/// Gives the word for a claim, by the name that the sheet has for it.
fn claim_word(claim: &str) -> Option<Word> {
    Some(match claim {
        "gluten-free" => Word::ClaimGlutenFree,
        "wheat-free" => Word::ClaimWheatFree,
        "dairy-free" => Word::ClaimDairyFree,
        "egg-free" => Word::ClaimEggFree,
        "nut-free" => Word::ClaimNutFree,
        "peanut-free" => Word::ClaimPeanutFree,
        "soy-free" => Word::ClaimSoyFree,
        "sesame-free" => Word::ClaimSesameFree,
        "vegan" => Word::ClaimVegan,
        "vegetarian" => Word::ClaimVegetarian,
        _ => return None,
    })
}

const fn allergen_word(allergen: Allergen) -> Word {
    match allergen {
        Allergen::Wheat => Word::AllergenWheat,
        Allergen::Spelt => Word::AllergenSpelt,
        Allergen::Khorasan => Word::AllergenKhorasan,
        Allergen::Rye => Word::AllergenRye,
        Allergen::Barley => Word::AllergenBarley,
        Allergen::Oats => Word::AllergenOats,
        Allergen::Milk => Word::AllergenMilk,
        Allergen::Egg => Word::AllergenEgg,
        Allergen::Soy => Word::AllergenSoy,
        Allergen::Sesame => Word::AllergenSesame,
        Allergen::Peanut => Word::AllergenPeanut,
        Allergen::Almond => Word::AllergenAlmond,
        Allergen::Hazelnut => Word::AllergenHazelnut,
        Allergen::Walnut => Word::AllergenWalnut,
        Allergen::Cashew => Word::AllergenCashew,
        Allergen::Pecan => Word::AllergenPecan,
        Allergen::BrazilNut => Word::AllergenBrazilNut,
        Allergen::Pistachio => Word::AllergenPistachio,
        Allergen::Macadamia => Word::AllergenMacadamia,
        Allergen::PineNut => Word::AllergenPineNut,
        Allergen::Coconut => Word::AllergenCoconut,
        Allergen::Fish => Word::AllergenFish,
        Allergen::Crustacean => Word::AllergenCrustacean,
        Allergen::Mollusc => Word::AllergenMollusc,
        Allergen::Celery => Word::AllergenCelery,
        Allergen::Mustard => Word::AllergenMustard,
        Allergen::Lupin => Word::AllergenLupin,
        Allergen::Sulphites => Word::AllergenSulphites,
    }
}
