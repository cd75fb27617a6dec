//! Food cautions: when a card has to speak, and of what. The facts only; the words are the view's.
//!
//! Triggers come from ingredients and from steps, never from what the recipe claims of itself. C14, C15 and
//! C22 belong to figures, labels and imports, and stand with them. What `about`, `time` and `graver` hold:
//!
//! | id | about | graver |
//! | --- | --- | --- |
//! | C02 | the claim, then the ingredients that disagree | the claim is of gluten |
//! | C03 | the ingredients; `time` is how long they are warm | past four hours |
//! | C04, C06 to C10, C16 to C18, C20 | the ingredients or fillings; C16: `much cassia` ahead of cassia | C06: nothing heats it; C10: strong, or strength not given |
//! | C05 | | nothing heats the flour, or the raw dough is tasted |
//! | C11, C21 | the steps or things | |
//! | C12 | of `hot pot or stone`, `baking paper`, `open fire` those that apply | |
//! | C13 | `little salt`, `much salt`, or names and words | |

mod bench;
mod claims;
mod inside;
mod report;
mod scalds;
mod things;
mod warm;
mod words;

pub(crate) use report::{report_cautions, report_variations};

use super::{Caution, Figures, Schedule, Sheet, SheetBlock};
use crate::model::recipe::Recipe;
use crate::source::Span;
use words::Texts;

/// A rule that finds a caution.
#[derive(Debug)]
pub struct CautionRule {
    /// The number of the caution.
    pub id: &'static str,
    /// When it speaks.
    pub trigger: &'static str,
    /// What it rests on.
    pub source: &'static str,
    /// The day on which trigger and source were last looked at, year first.
    pub reviewed: &'static str,
    find: fn(&Facts) -> Vec<Caution>,
}

/// What the rules look at.
#[derive(Clone, Copy)]
struct Facts<'a> {
    recipe: &'a Recipe,
    blocks: &'a [SheetBlock],
    schedule: &'a Schedule,
    figures: &'a Figures,
    texts: &'a Texts<'a>,
}

/// Leads what a caution of cassia is about: it shares its number with that of improvers.
pub const MUCH_CASSIA: &str = "much cassia";
const REVIEWED: &str = "2026-11-25";
const PRACTICE: &str = "general baking practice";

macro_rules! rules {
    ($($id:literal, $find:path, $trigger:literal, $source:expr;)*) => {
        /// Every rule, the one that matters most first.
        pub const CAUTION_RULES: &[CautionRule] = &[$(CautionRule {
            id: $id,
            trigger: $trigger,
            source: $source,
            reviewed: REVIEWED,
            find: $find,
        },)*];
    };
}

rules! {
    "C01", things::allergens, "any card with ingredients",
        "21 U.S.C. 343(w) and FASTER Act 2021; Regulation (EU) No 1169/2011, Annex II";
    "C10", things::lye, "sodium or potassium hydroxide; graver above 4 %, or where no strength is given",
        "poison-control and makers' safety sheets";
    "C02", claims::free_claims, "the text claims to be free from what an ingredient contains, or to be vegan or vegetarian",
        "21 CFR 101.91; Regulation (EU) 828/2014 (from memory, not looked up)";
    "C08", inside::garlic_in_oil, "garlic or fresh herbs with oil in one part, kept past 2 h out of the cold or infused",
        "FDA Food Code 1-201.10";
    "C21", bench::sealed_jars, "bread baked or sealed in jars",
        "extension advice (from memory, not looked up)";
    "C03", warm::kept_warm, "egg, fluid milk, cream, soft cheese, meat or fish in a dough that is above 5 °C for more than 2 h before it is baked, or 1 h where any of it is above 32 °C; graver past 4 h",
        "FDA Food Code 3-501.16 and 3-501.19; USDA FSIS advice, 2 h";
    "C20", warm::delayed_start, "a delayed start with such an ingredient",
        "FDA Food Code 3-501.19; USDA FSIS advice, 2 h";
    "C06", inside::baked_through, "egg in a filling, meat or fish inside or on top, and no core of 74 °C asked for; graver where nothing heats it",
        "FDA Food Code 3-401.11";
    "C07", inside::perishable, "custard, cream, fresh cheese, meat or soft vegetables inside or on top",
        "FDA Food Code 3-501.14 and 3-501.16; USDA FSIS advice, 2 h";
    "C17", things::risky_plants, "raw bean flour, bitter kernels, much poppy seed, gathered plants",
        "food-agency advice (from memory, not looked up)";
    "C09", things::honey, "honey in any amount, by the table, by its name, or in the words of a step",
        "Québec public-health institute, advice on honey";
    "C04", warm::cold_enough, "a cold step of such a dough without a temperature or above 5 °C",
        "FDA Food Code 3-501.16";
    "C16", things::restricted_improvers, "potassium bromate, azodicarbonamide, flour treated with either; cassia above 0.5 % of the bread",
        "national lists of additives (from memory, not looked up); BfR press release 26/2012 on coumarin";
    "C05", inside::raw_flour, "any flour; graver where no step heats it once it is in, or where raw dough is tasted",
        "FDA and CDC advice on raw flour and dough";
    "C11", scalds::steam_and_scalds, "a scald, boiling, steam, water of 60 °C and more, or water or ice into a hot oven",
        "U.S. CPSC notice 5098 on scalds (from memory, not looked up); general baking practice";
    "C12", bench::hot_things, "a pot or stone heated empty, paper above 220 °C, wood, charcoal or gas",
        PRACTICE;
    "C13", things::salt_and_health, "salt below 1 % or above 2.5 % of the flour, potassium salt, words on health",
        "general health advice";
    "C18", things::culture, "a culture that is kept or fed, or that ripens for more than a day",
        "extension advice (from memory, not looked up)";
    "C19", things::much_flour, "more than 25 kg of flour",
        "workplace limits on flour dust (from memory, not looked up)";
    "C23", things::footer, "every card", PRACTICE;
}

/// Finds the cautions of a card: the allergens first, then the graver ones, then in the order of the rules.
pub(crate) fn cautions(
    recipe: &Recipe,
    blocks: &[SheetBlock],
    schedule: &Schedule,
    figures: &Figures,
) -> Vec<Caution> {
    let facts = Facts {
        recipe,
        blocks,
        schedule,
        figures,
        texts: &Texts::of(recipe),
    };
    let mut found: Vec<Caution> = CAUTION_RULES
        .iter()
        .flat_map(|rule| (rule.find)(&facts))
        .collect();
    found.sort_by_key(|caution| (caution.id != "C01", !caution.graver));
    found
}

/// Cautions whose words do not name what they are about: said once, they are said of all.
const NAMELESS: &[&str] = &["C09", "C10", "C11", "C18", "C21"];

impl Caution {
    /// Says whether another caution says all that this one does.
    #[must_use]
    pub fn is_said_by(&self, other: &Self) -> bool {
        let names_it =
            NAMELESS.contains(&self.id) || self.about.iter().all(|about| other.about.contains(about));
        self.id == other.id && names_it && self.time <= other.time && (other.graver || !self.graver)
    }
}

impl Sheet {
    /// Gives the cautions that this sheet calls for and another one does not.
    pub fn cautions_beyond<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = &'a Caution> {
        let is_new = |caution: &&Caution| !other.cautions.iter().any(|told| caution.is_said_by(told));
        self.cautions.iter().filter(is_new)
    }
}

/// A thing that a caution is about, and where it stands.
type Named = (String, Span);

/// Makes the one caution of a rule about all that was found; nothing where nothing was found.
fn about_all(id: &'static str, named: &[Named]) -> Option<Caution> {
    let (_, span) = named.first()?;
    let mut about: Vec<String> = Vec::new();
    for (name, _) in named {
        if !about.contains(name) {
            about.push(name.clone());
        }
    }
    Some(Caution {
        id,
        about,
        time: None,
        graver: false,
        span: Some(*span),
    })
}

/// Makes a caution that is about the card as a whole.
const fn about_card(id: &'static str) -> Caution {
    Caution {
        id,
        about: Vec::new(),
        time: None,
        graver: false,
        span: None,
    }
}
