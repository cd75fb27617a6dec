//! The bakehouse: what its files make together, and what is wrong in each of them.
//!
//! The faults stand in `tests/cases/check`, a folder each with its bakehouse files and what they are told.

use std::fs;
use std::path::{Path, PathBuf};

use loafwright::diag::{Code, Report};
use loafwright::model::catalog::{Allergen, Ingredient, Provenance, Tag};
use loafwright::model::place::{Place, settle};
use loafwright::quantity::{Celsius, ClockTime, Elapsed, Grams, Ratio, WeightUnit};
use loafwright::render::problems::{Look, render_problems};
use loafwright::source::{Source, SourceId};
use loafwright::syntax::parse;
use loafwright::syntax::tree::Tree;

/// Parses and settles bakehouse files, nearest first.
fn settled(sources: &[Source]) -> (Place, Report) {
    let mut report = Report::new();
    let trees: Vec<Tree> = sources
        .iter()
        .map(|source| {
            let (tree, faults) = parse(source);
            report.merge(faults);
            tree
        })
        .collect();
    let files: Vec<(&Source, &Tree)> = sources.iter().zip(&trees).collect();
    let (place, faults) = settle(&files);
    report.merge(faults);
    (place, report.settled())
}

/// Settles texts, nearest first.
fn texts(texts: &[&str]) -> (Place, Report) {
    let source = |(number, text): (usize, &&str)| {
        let id = SourceId(u32::try_from(number).unwrap());
        Source::new(id, format!("{number}/bakehouse.loaf"), *text)
    };
    let sources: Vec<Source> = texts.iter().enumerate().map(source).collect();
    settled(&sources)
}

/// Settles texts that have no fault.
fn sound(given: &[&str]) -> Place {
    let (place, report) = texts(given);
    assert!(report.is_empty(), "{report:?}");
    place
}

fn ingredient<'place>(place: &'place Place, name: &str) -> &'place Ingredient {
    place
        .catalog
        .lookup(name)
        .unwrap_or_else(|| panic!("{name} is not known"))
}

fn number(digits: &str) -> Ratio {
    Ratio::parse_decimal(digits).unwrap()
}

/// The folders of cases that hold a bakehouse.
fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/check");
    let mut cases: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("bakehouse.loaf").is_file())
        .collect();
    cases.sort();
    cases
}

#[test]
fn faults_of_the_cases() {
    for case in cases() {
        let sources: Vec<Source> = ["near/bakehouse.loaf", "bakehouse.loaf"]
            .iter()
            .filter(|name| case.join(name).is_file())
            .zip(0..)
            .map(|(name, id)| Source::new(SourceId(id), *name, fs::read_to_string(case.join(name)).unwrap()))
            .collect();
        let (_, report) = settled(&sources);
        let name = case.file_name().unwrap().to_str().unwrap();
        let slug = name.split("--").next().unwrap();
        let is_shown = report.iter().any(|fault| fault.code.slug() == slug);
        assert!(is_shown, "{name} does not show {slug}: {report:?}");
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path(&case);
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        settings.bind(|| {
            insta::assert_snapshot!(
                "faults",
                render_problems(&sources, &report.into_faults(), Look::PLAIN)
            );
        });
    }
}

/// The language's own example says what it means.
#[test]
fn the_example_of_the_language() {
    let text = include_str!("../cases/syntax/bakehouse.loaf");
    let place = sound(&[text]);
    assert_eq!(place.name.as_deref(), Some("Oxlip Row"));
    for (name, degrees) in [("room", 20), ("fridge", 4), ("proofer", 27), ("tap", 12)] {
        assert_eq!(place.temperatures[name], Celsius::whole(degrees), "{name}");
    }
    assert_eq!(place.altitude_m, Ratio::whole(250));
    assert_eq!(place.asleep, ClockTime::new(22, 30).zip(ClockTime::new(6, 0)));
    assert_eq!(place.preheat, Elapsed::minutes(45));
    assert_eq!(place.scales.step_for(&Grams::whole(50)), &Ratio::ONE);
    assert_eq!(place.scales.step_for(&Grams::whole(49)), &number("0.1"));
    assert_eq!(place.starter.hydration, Ratio::ONE);
    assert_eq!(place.old_dough.hydration, number("0.65"));
    assert_eq!(place.old_dough.salt, number("0.02"));
    let friction: Vec<(&str, String)> = place
        .friction
        .iter()
        .map(|(way, warmth)| (way.as_str(), warmth.0.to_trimmed(2)))
        .collect();
    assert_eq!(friction, [("hand", "4".to_owned()), ("spiral", "12".to_owned())]);
    let stone = ingredient(&place, "Miller's white");
    assert_eq!(stone.name, "stone-ground bread flour");
    assert!(stone.is_flour && stone.contains.contains(&Allergen::Wheat));
    assert_eq!(stone.composition.protein, Some(number("13.1")));
    assert_eq!(
        stone.composition.water,
        ingredient(&place, "bread flour").composition.water
    );
    assert_eq!(stone.source, Provenance::Bakehouse);
    let cost = stone.cost.as_ref().unwrap();
    assert_eq!((&cost.per_kg, cost.currency.as_str()), (&number("1.85"), "EUR"));
    assert!(ingredient(&place, "oat bran flour").is_flour && !ingredient(&place, "oat bran").is_flour);
    let egg = ingredient(&place, "large egg");
    assert_eq!(egg.each_g, Some(Ratio::whole(58)));
    assert!(
        matches!(egg.source, Provenance::Usda(_)),
        "its figures are still the table's"
    );
}

/// The language's own defaults, and which of them a card rests on.
#[test]
fn without_a_bakehouse() {
    let place = Place::without_bakehouse();
    for (name, degrees) in [("room", 21), ("fridge", 4), ("proofer", 27), ("tap", 15)] {
        assert_eq!(place.temperatures[name], Celsius::whole(degrees), "{name}");
        assert!(place.is_default(name));
    }
    assert_eq!(*place.scales.step_for(&Grams::whole(500)), Ratio::ONE);
    assert_eq!(place.starter.flour.name, "bread flour");
    assert_eq!(
        (place.altitude_m, place.preheat),
        (Ratio::ZERO, Elapsed::minutes(45))
    );
    assert!(place.friction.is_empty() && place.files.is_empty());
    assert!(!sound(&["room: 21 C\n"]).is_default("room"));
}

#[test]
fn nearer_files_win_key_by_key_and_line_by_line() {
    let near = "room: 18 C\nstarter: rye flour\n\ningredient egg:\n  60 g each\n";
    let far = "bakehouse: Oxlip Row\nroom: 20 C\ntap: 10 C\nstarter: 60 % hydration, bread flour\ncurrency: EUR\n\n\
        ingredient egg:\n  54 g each\n  5.90 EUR per kg\n  also hen fruit\n";
    let place = sound(&[near, far]);
    assert_eq!(place.temperatures["room"], Celsius::whole(18));
    assert_eq!(place.temperatures["tap"], Celsius::whole(10));
    // A key is won whole: what the nearer one leaves out is the default's and not the farther file's.
    assert_eq!(place.starter.hydration, Ratio::ONE);
    assert_eq!(place.starter.flour.name, ingredient(&place, "rye flour").name);
    assert_eq!(place.files, ["0/bakehouse.loaf", "1/bakehouse.loaf"]);
    let egg = ingredient(&place, "hen fruit");
    assert_eq!(egg.each_g, Some(Ratio::whole(60)));
    assert_eq!(egg.cost.as_ref().unwrap().per_kg, number("5.9"));
}

/// `like` finds ingredients of nearer and farther files alike.
#[test]
fn like_is_resolved_across_files() {
    let near = "ingredient crusty white:\n  like mill white\n  contains wheat\n  absorption +3 %\n";
    let far = "ingredient lane mill white:\n  like bread flour\n  11.4 % protein\n  142 g per cup\n  also mill white\n";
    let place = sound(&[near, far]);
    let crusty = ingredient(&place, "crusty white");
    assert_eq!(crusty.composition.protein, Some(number("11.4")));
    assert_eq!(crusty.cup_g, Some(Ratio::whole(142)));
    assert_eq!(crusty.absorption, Some(Ratio::whole(3)));
    assert!(crusty.is_flour);
}

/// A name or alias of the table means the ingredient of the table, unless another one is started from.
#[test]
fn an_entry_under_another_name_of_the_table() {
    let place = sound(&["ingredient milk:\n  1.20 EUR per kg\n"]);
    assert!(ingredient(&place, "whole milk").cost.is_some());
    let place = sound(&["ingredient strong flour:\n  like bread flour\n  14 % protein\n  contains wheat\n"]);
    assert_eq!(
        ingredient(&place, "strong flour").composition.protein,
        Some(Ratio::whole(14))
    );
    assert_ne!(
        ingredient(&place, "bread flour").composition.protein,
        Some(Ratio::whole(14))
    );
}

/// An override never drops an allergen in silence, nor what the cautions look for.
#[test]
fn an_allergen_stays_unless_the_bakehouse_says_nothing_in_so_many_words() {
    let (place, report) = texts(&["ingredient whole milk:\n  like water\n"]);
    assert!(report.has_code(Code::AllergenDropped) && !report.has_errors());
    let milk = ingredient(&place, "milk");
    assert!(milk.contains.contains(&Allergen::Milk));
    assert!(milk.tags.contains(&Tag::FluidMilk));
    let place = sound(&["ingredient whole milk:\n  like water\n  contains nothing\n"]);
    assert!(ingredient(&place, "milk").contains.is_empty());
    let (place, report) =
        texts(&["ingredient house fat:\n  like water\n  also unsalted butter\n  contains soy\n"]);
    assert!(report.has_code(Code::AllergenDropped));
    let both = [Allergen::Milk, Allergen::Soy];
    assert!(
        both.iter()
            .all(|one| ingredient(&place, "unsalted butter").contains.contains(one))
    );
}

/// What nobody has looked at the packet of is never taken to be clear of allergens.
#[test]
fn an_ingredient_without_contains_is_not_checked() {
    let place = sound(&[
        "ingredient spice of the house:\n  300 kcal\n\ningredient clear spice:\n  contains nothing\n",
    ]);
    assert!(
        ingredient(&place, "spice of the house")
            .tags
            .contains(&Tag::ReadPacket)
    );
    assert!(!ingredient(&place, "clear spice").tags.contains(&Tag::ReadPacket));
    // What it is like is known to be in it; what else the packet names is not.
    let place = sound(&[
        "ingredient lane rye:\n  like whole rye flour\n\ningredient lane white:\n  like bread flour\n  contains wheat\n",
    ]);
    let rye = ingredient(&place, "lane rye");
    assert!(rye.contains.contains(&Allergen::Rye) && rye.tags.contains(&Tag::ReadPacket));
    assert!(!ingredient(&place, "lane white").tags.contains(&Tag::ReadPacket));
}

/// Published value U11, a trap: a friction of 24 °F is 13.33 °C and not -4.44 °C (definition of the interval).
#[test]
fn u11_friction_is_a_difference() {
    let place = sound(&["friction: 24 F in spiral, 5 F by hand\n"]);
    let warmth: Vec<String> = place
        .friction
        .iter()
        .map(|(_, warmth)| warmth.0.to_fixed(2))
        .collect();
    assert_eq!(warmth, ["13.33", "2.78"]);
}

#[test]
fn values_are_read_as_bakers_write_them() {
    let place = sound(&[
        "room: 70°F\nproofer: 24-28 C\naltitude: -2 m\nasleep: 10:30 pm – 6 am\n\
        preheat: 1 h 30 min\nscales: 0,1 g under 50 g, 1g, 0.01 g under 5 g\nunits: ounces, g\n\
        paper: half  letter, a4\nbake loss: 12,5 %\nlanguage: en-GB\nold dough: bread flour\n",
    ]);
    assert_eq!(place.temperatures["room"].0.to_fixed(2), "21.11");
    assert_eq!(place.temperatures["proofer"], Celsius::whole(26));
    assert_eq!(place.altitude_m, Ratio::whole(-2));
    assert_eq!(place.asleep, ClockTime::new(22, 30).zip(ClockTime::new(6, 0)));
    assert_eq!(place.preheat, Elapsed::minutes(90));
    assert_eq!(place.scales.step_for(&Grams::whole(4)), &number("0.01"));
    assert_eq!(place.units, [WeightUnit::Ounce, WeightUnit::Gram]);
    assert_eq!(place.paper, ["half letter", "A4"]);
    assert_eq!(place.bake_loss.unwrap().value, number("0.125"));
    assert_eq!(place.old_dough.salt, number("0.02"));
    assert_eq!(sound(&["altitude: 820 ft\n"]).altitude_m, number("249.936"));
    assert_eq!(sound(&["asleep: never\n"]).asleep, None);
}

/// Limits of files and entries, each with its fault and without long waits.
#[test]
fn limits_of_files_and_entries() {
    let (place, report) = texts(&["room: 20 C\n"; 17]);
    assert!(report.has_code(Code::TooMany));
    assert_eq!(place.files.len(), 16);
    let many: String = (0..5001)
        .map(|entry| format!("ingredient sack {entry}:\n  like nothing {entry}\n"))
        .collect();
    let start = std::time::Instant::now();
    let (_, report) = texts(&[&many]);
    assert!(report.has_code(Code::TooMany));
    assert!(
        start.elapsed() < std::time::Duration::from_secs(10),
        "{:?}",
        start.elapsed()
    );
}

/// The bakehouse that ships has no fault.
#[test]
fn the_shipped_bakehouse_is_sound() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let text = fs::read_to_string(folder.join("bakehouse.loaf")).unwrap();
    let place = sound(&[&text]);
    assert!(
        place
            .catalog
            .lookup("mill white")
            .is_some_and(|flour| flour.is_flour)
    );
}

/// A property that lacks its unit is shown with it, and nothing is said of percentages.
#[test]
fn half_a_property_is_mended() {
    for (line, mend) in [("58 each", "`58 g each`"), ("1.85 EUR", "`1.85 EUR per kg`")] {
        let (_, report) = texts(&[&format!(
            "bakehouse: a\ncurrency: EUR\n\ningredient egg:\n  {line}\n"
        )]);
        let faults: Vec<_> = report.iter().collect();
        let [fault] = faults.as_slice() else {
            panic!("{line}: {faults:#?}")
        };
        let help = fault.help.as_deref().unwrap_or_default();
        assert!(help.contains(mend), "{line}: {help}");
        assert!(fault.primary.text.is_empty(), "{line}: {}", fault.primary.text);
    }
    let (_, report) = texts(&["bakehouse: a\nold dough: salt\n"]);
    assert!(
        report.iter().all(|fault| !fault.message.contains("``")),
        "{report:#?}"
    );
}
