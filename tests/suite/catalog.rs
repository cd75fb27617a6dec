//! The ingredient table and the allergen lists: names, kinds, figures. Looks at the tables through the
//! public catalogue, and at the data sets that they were taken from where those are at hand.

use loafwright::model::catalog::{BareWord, builtin};

#[test]
fn finds_names_whatever_their_spelling() {
    for (written, found) in [
        ("Bread Flour", "bread flour"),
        ("strong white flour", "bread flour"),
        ("milk", "whole milk"),
        ("butter", "unsalted butter"),
        ("sugar", "granulated sugar"),
        ("salt", "fine salt"),
        ("eggs", "egg"),
        ("egg  yolks", "egg yolk"),
        ("t55 flour", "T55 flour"),
        ("wholemeal", "whole wheat flour"),
    ] {
        let name = builtin()
            .lookup(written)
            .map(|ingredient| ingredient.name.as_str());
        assert_eq!(name, Some(found), "{written}");
    }
}

#[test]
fn bare_flour_and_bare_yeast_are_no_ingredients() {
    for word in ["flour", "Flours", "yeast", "dried yeast"] {
        assert!(builtin().lookup(word).is_none(), "{word}");
        let bare = BareWord::of(word).expect("a bare word");
        assert!(
            bare.choices()
                .iter()
                .all(|choice| builtin().lookup(choice).is_some())
        );
    }
    assert_eq!(BareWord::of("rye flour"), None);
}
