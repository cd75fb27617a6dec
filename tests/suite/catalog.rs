//! The ingredient table: names, kinds, tags, volumes, layers. Looks at the table through the public
//! catalogue; allergens and figures have files of their own below.

mod allergens;
mod figures;

use std::collections::BTreeMap;
use std::sync::Arc;

use loafwright::model::catalog::{
    Allergen, BareWord, Catalog, Ingredient, Kind, Provenance, Tag, builtin, eu_list, fold_name, us_list,
};
use loafwright::quantity::{Ratio, VolumeUnit};

const TABLE: &str = include_str!("../../src/model/ingredients.csv");

fn found(name: &str) -> &'static Arc<Ingredient> {
    builtin()
        .lookup(name)
        .unwrap_or_else(|| panic!("{name} is in the table"))
}

#[test]
fn every_row_can_be_read_and_found() {
    let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
    let header = reader.headers().cloned().expect("a header row");
    let rows: Vec<csv::StringRecord> = reader.into_records().map(|row| row.expect("a row")).collect();
    assert!(rows.len() >= 150, "{} rows", rows.len());
    assert_eq!(builtin().ingredients().count(), rows.len());
    // The catalogue finds rows by line ends and names by commas; a full reader must see the same.
    assert_eq!(TABLE.lines().count(), rows.len() + 1);
    let place = |column| header.iter().position(|name| name == column).expect("a column");
    for row in rows {
        let ingredient = found(&row[place("name")]);
        assert_eq!(ingredient.name, row[place("name")]);
        assert_eq!(ingredient.aliases.join("; "), row[place("aliases")]);
        assert_eq!(ingredient.kind.id(), &row[place("kind")]);
        assert_eq!(ingredient.note, row[place("note")]);
    }
}

#[test]
fn no_two_ingredients_answer_to_one_name() {
    let mut taken: BTreeMap<String, &str> = BTreeMap::new();
    for ingredient in builtin().ingredients() {
        for name in std::iter::once(&ingredient.name).chain(&ingredient.aliases) {
            let other = taken.insert(fold_name(name), &ingredient.name);
            assert_eq!(other, None, "{name} of {}", ingredient.name);
        }
    }
    let names = builtin().names();
    assert!(names.is_sorted());
    assert!(
        names
            .iter()
            .all(|name| !name.is_empty() && builtin().lookup(name).is_some())
    );
}

#[test]
fn finds_names_whatever_their_spelling() {
    for (written, name) in [
        ("Bread Flour", "bread flour"),
        ("strong white flour", "bread flour"),
        ("AP flour", "plain flour"),
        ("milk", "whole milk"),
        ("butter", "unsalted butter"),
        ("sugar", "granulated sugar"),
        ("salt", "fine salt"),
        ("eggs", "egg"),
        ("egg  yolks", "egg yolk"),
        ("walnut", "walnuts"),
        ("Raisins", "raisins"),
        ("tomato", "tomatoes"),
        ("rye berry", "rye berries"),
        ("t55 flour", "T55 flour"),
        ("type 550", "T55 flour"),
        ("wholemeal", "whole wheat flour"),
        ("bicarbonate of soda", "baking soda"),
        ("GRUYE\u{300}RE", "gruyère"),
        ("gruyere", "gruyère"),
        ("cornflour", "cornstarch"),
    ] {
        assert_eq!(found(written).name, found(name).name, "{written}");
    }
}

#[test]
fn bare_flour_and_bare_yeast_are_no_ingredients() {
    for word in ["flour", "Flours", "yeast", "dried yeast", "baker's yeast"] {
        assert!(builtin().lookup(word).is_none(), "{word}");
        let bare = BareWord::of(word).expect("a bare word");
        assert!(
            bare.choices()
                .iter()
                .all(|choice| builtin().lookup(choice).is_some())
        );
    }
    assert_eq!(BareWord::of("rye flour"), None);
    // Flour in the U.S., starch in the UK: neither guess would be honest.
    assert!(builtin().lookup("corn flour").is_none());
}

#[test]
fn what_counts_as_flour_and_what_is_wet_follows_from_the_kind() {
    const WET: [Kind; 10] = [
        Kind::Liquid,
        Kind::Milk,
        Kind::Cream,
        Kind::Cultured,
        Kind::FreshCheese,
        Kind::Butter,
        Kind::Egg,
        Kind::Syrup,
        Kind::Honey,
        Kind::Cooked,
    ];
    for ingredient in builtin().ingredients() {
        let Ingredient { name, kind, .. } = &**ingredient;
        assert_eq!(ingredient.is_flour, *kind == Kind::Flour, "{name}");
        assert_eq!(ingredient.is_wet, WET.contains(kind), "{name}");
        // Without its water a wet ingredient would make every hydration it goes into wrong.
        assert!(
            !ingredient.is_wet || ingredient.composition.water.is_some(),
            "{name}"
        );
    }
    for kind in Kind::ALL {
        assert_eq!(Kind::from_id(kind.id()), Some(*kind));
    }
}

#[test]
fn cautions_find_their_tags() {
    for (name, tag) in [
        ("egg", Tag::RawEgg),
        ("milk", Tag::FluidMilk),
        ("cream cheese", Tag::SoftCheese),
        ("bacon", Tag::Meat),
        ("anchovies", Tag::Fish),
        ("lard", Tag::AnimalProduct),
        ("honey", Tag::Honey),
        ("garlic", Tag::Garlic),
        ("rosemary", Tag::FreshHerb),
        ("olive oil", Tag::Oil),
        ("sodium hydroxide", Tag::Lye),
        ("red kidney bean flour", Tag::BeanFlour),
        ("bitter almonds", Tag::BitterKernel),
        ("bromated flour", Tag::RestrictedImprover),
        ("poppy seeds", Tag::Poppy),
        ("cinnamon", Tag::Cassia),
        ("potassium chloride", Tag::PotassiumSalt),
        ("ham", Tag::Perishable),
        ("margarine", Tag::ReadPacket),
    ] {
        assert!(found(name).tags.contains(&tag), "{name}");
    }
    for name in ["dried skimmed milk", "dried egg", "unsalted butter", "parmesan"] {
        // Neither dried milk and egg nor butter and hard cheese spoil in a warm dough.
        assert!(found(name).tags.is_empty(), "{name}");
    }
    for tag in Tag::ALL {
        assert_eq!(Tag::from_id(tag.id()), Some(*tag));
        assert!(builtin().ingredients().any(|one| one.tags.contains(tag)));
    }
}

#[test]
fn weighs_volumes_by_the_nearest_measure() {
    let grams = |name: &str, unit| {
        found(name)
            .grams_of(unit)
            .map(|grams| grams.to_fixed(2))
            .unwrap_or_default()
    };
    assert_eq!(grams("fine salt", VolumeUnit::Teaspoon), "6.00");
    assert_eq!(grams("fine salt", VolumeUnit::Cup), "292.00");
    // The cup scales to millilitres: 244 g in 236.5882365 ml.
    assert_eq!(grams("whole milk", VolumeUnit::Litre), "1031.33");
    assert_eq!(grams("instant yeast", VolumeUnit::Teaspoon), "4.00");
    // Without a cup the spoon is scaled: 16 tablespoons of 12 g.
    assert_eq!(grams("instant yeast", VolumeUnit::Cup), "192.00");
    assert_eq!(grams("water", VolumeUnit::Litre), "1000.00");
    assert_eq!(grams("T55 flour", VolumeUnit::Cup), "");
}

#[test]
fn a_nearer_ingredient_hides_the_one_below() {
    let mut egg = Ingredient::clone(found("egg"));
    egg.each_g = Some(Ratio::whole(58));
    egg.source = Provenance::Bakehouse;
    let mut own = Ingredient::unknown("stone-ground bread flour");
    own.aliases = vec!["miller's white".to_owned()];
    let near = Arc::new(Catalog::extended(builtin(), vec![egg, own]));
    for word in ["egg", "Large Eggs"] {
        let each = near.lookup(word).and_then(|egg| egg.each_g.clone());
        assert_eq!(each, Some(Ratio::whole(58)), "{word}");
    }
    assert!(near.lookup("millers white").is_some());
    assert_eq!(
        near.lookup("rye flour").map(|rye| &rye.name),
        Some(&found("rye flour").name)
    );
    assert!(near.names().contains(&"miller's white"));
    assert_eq!(near.ingredients().count(), builtin().ingredients().count() + 1);
    let nearer = Catalog::extended(&near, vec![Ingredient::unknown("large egg")]);
    assert_eq!(nearer.lookup("large egg").map(|one| one.kind), Some(Kind::Other));
}

#[test]
fn the_reference_page_knows_every_word_of_the_table() {
    const PAGE: &str = include_str!("../../grammar/INGREDIENTS.md");
    let header = TABLE.lines().next().unwrap_or_default();
    let words = header
        .split(',')
        .chain(Kind::ALL.iter().map(|kind| kind.id()))
        .chain(Allergen::ALL.iter().map(|allergen| allergen.id()))
        .chain(Tag::ALL.iter().map(|tag| tag.id()));
    for word in words {
        assert!(PAGE.contains(&format!("`{word}`")), "{word}");
    }
    assert!(PAGE.contains("Anses. 2020. Ciqual French food composition table."));
    for list in [us_list(), eu_list()] {
        assert!(PAGE.contains(&list.dated));
    }
}
