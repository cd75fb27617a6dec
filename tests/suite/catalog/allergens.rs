//! Allergens: that each row has those that its kind and its name speak of, and that the two legal lists are
//! whole and name a loaf as their law does.

use std::collections::BTreeSet;

use loafwright::model::catalog::{
    Allergen, AllergenList, Ingredient, Kind, Tag, builtin, eu_list, fold_name, us_list,
};

use super::found;

const LISTS: &str = include_str!("../../../src/model/allergens.csv");

#[test]
fn allergens_agree_with_the_kind() {
    for ingredient in builtin().ingredients() {
        let Ingredient {
            name,
            contains,
            tags,
            kind,
            ..
        } = &**ingredient;
        let wants: &[Allergen] = match kind {
            Kind::Milk
            | Kind::Cream
            | Kind::Cultured
            | Kind::DriedMilk
            | Kind::FreshCheese
            | Kind::HardCheese => &[Allergen::Milk],
            Kind::Egg | Kind::DriedEgg => &[Allergen::Egg],
            Kind::Fish => &[Allergen::Fish, Allergen::Crustacean, Allergen::Mollusc],
            _ => continue,
        };
        assert!(wants.iter().any(|allergen| contains.contains(allergen)), "{name}");
        assert!(*kind != Kind::Fish || tags.contains(&Tag::Fish), "{name}");
        assert!(*kind != Kind::Egg || tags.contains(&Tag::RawEgg), "{name}");
    }
}

#[test]
fn allergens_agree_with_the_name() {
    // A word in a name, what it must stand for, and the names in which it means something else.
    let words: [(&str, Allergen, &[&str]); 20] = [
        ("rye", Allergen::Rye, &[]),
        ("spelt", Allergen::Spelt, &[]),
        ("khorasan", Allergen::Khorasan, &[]),
        ("barley", Allergen::Barley, &[]),
        ("oat", Allergen::Oats, &[]),
        ("semolina", Allergen::Wheat, &[]),
        ("soy", Allergen::Soy, &[]),
        ("sesame", Allergen::Sesame, &[]),
        ("almond", Allergen::Almond, &[]),
        ("hazelnut", Allergen::Hazelnut, &[]),
        ("walnut", Allergen::Walnut, &[]),
        ("pecan", Allergen::Pecan, &[]),
        ("pistachio", Allergen::Pistachio, &[]),
        ("peanut", Allergen::Peanut, &[]),
        ("coconut", Allergen::Coconut, &["sugar"]),
        ("lupin", Allergen::Lupin, &[]),
        ("celery", Allergen::Celery, &[]),
        ("mustard", Allergen::Mustard, &[]),
        ("wheat", Allergen::Wheat, &["buckwheat", "khorasan"]),
        (
            "milk",
            Allergen::Milk,
            &["coconut", "soy", "oat", "almond", "rice"],
        ),
    ];
    for ingredient in builtin().ingredients() {
        for (word, allergen, unless) in words {
            let name = fold_name(&ingredient.name);
            let stands =
                name.split(' ').any(|part| part == word) && !unless.iter().any(|other| name.contains(other));
            assert!(!stands || ingredient.contains.contains(&allergen), "{name}");
        }
    }
}

fn of(names: &[&str]) -> BTreeSet<Allergen> {
    names
        .iter()
        .flat_map(|name| found(name).contains.clone())
        .collect()
}

#[test]
fn two_laws_name_the_same_loaf() {
    // published-values L14 and L15, 21 USC 343(w) and FDA guidance (L15 from memory, not looked up).
    assert_eq!(
        us_list().named(&of(&["plain flour", "butter", "egg"])),
        ["wheat", "milk", "egg"]
    );
    assert_eq!(us_list().named(&of(&["spelt flour", "wheat bran"])), ["wheat"]);
    assert!(us_list().named(&of(&["rye flour"])).is_empty());
    // L39: the EU names all three, the United States none.
    let loaf = of(&["rye flour", "barley malt flour", "lupin flour"]);
    assert!(us_list().named(&loaf).is_empty());
    assert_eq!(
        eu_list().named(&loaf),
        ["rye (gluten cereal)", "barley (gluten cereal)", "lupin"]
    );
    // L16, FDA guidance of January 2025 (from memory, not looked up).
    let coconut = of(&["desiccated coconut"]);
    assert!(us_list().named(&coconut).is_empty() && eu_list().named(&coconut).is_empty());
}

#[test]
fn the_lists_are_dated_and_whole() {
    // published-values L13, FASTER; and L38, Annex II as seen under EU-II.
    let on = |list: &AllergenList| -> BTreeSet<Allergen> {
        list.entries().map(|(allergen, _)| allergen).collect()
    };
    let (us, eu) = (on(us_list()), on(eu_list()));
    let us_lacks = [
        "rye",
        "barley",
        "oats",
        "celery",
        "mustard",
        "sulphites",
        "lupin",
        "mollusc",
        "coconut",
    ];
    let eu_lacks = ["coconut", "pine-nut"];
    let lacking = |list: &BTreeSet<Allergen>| -> BTreeSet<&str> {
        Allergen::ALL
            .iter()
            .filter(|allergen| !list.contains(allergen))
            .map(|allergen| allergen.id())
            .collect()
    };
    assert_eq!(lacking(&us), us_lacks.into());
    assert_eq!(lacking(&eu), eu_lacks.into());
    assert_eq!(us_list().dated, "2025-01-06");
    assert!(eu_list().basis.contains("1169/2011"));
    let rows = csv::Reader::from_reader(LISTS.as_bytes()).into_records().count();
    assert_eq!(us_list().entries().count() + eu_list().entries().count(), rows);
    assert!(Allergen::ALL.iter().all(|allergen| !allergen.label().is_empty()));
}
