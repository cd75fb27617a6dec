//! Two folders without a name in common: which recipe of the one was which of the other.

use crate::kitchen::Kitchen;

/// A recipe of a title, with so many lines of its own among seven.
fn recipe(title: &str, own: usize) -> String {
    let steps: String = (0..5)
        .map(|at| {
            let word = if at < own { title } else { "as ever" };
            format!("  {} min rest {word} {at}\n", 10 + at)
        })
        .collect();
    format!("title: {title}\n\ndough:\n  500 g bread flour\n  340 g water\n  10 g salt\n{steps}")
}

/// The pairs that a comparison tells, older and newer, in its order.
fn pairs(kitchen: &Kitchen) -> Vec<(String, String)> {
    let served = kitchen.run(&["compare", "old", "new", "--json"]).ends_with(1);
    let document: serde_json::Value = serde_json::from_str(&served.out).unwrap();
    let name = |side: &serde_json::Value| side.as_str().unwrap_or("-").to_owned();
    document["comparisons"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (name(&one["old"]), name(&one["new"])))
        .collect()
}

#[test]
fn first_what_holds_the_same_then_the_same_title_then_what_is_much_the_same() {
    let kitchen = Kitchen::new()
        // The same text twice, and once more with another title.
        .file("old/a.loaf", recipe("Rye", 2))
        .file("old/b.loaf", recipe("Rye", 2))
        .file("old/c.loaf", recipe("Oat", 5))
        .file("old/d.loaf", recipe("Spelt", 1))
        .file("old/e.loaf", recipe("Wheat", 5))
        .file("old/f.loaf", recipe("Emmer", 4))
        .file("new/m.loaf", recipe("Dinkel", 1))
        .file("new/n.loaf", recipe("Rye", 2))
        .file("new/o.loaf", recipe("Oat", 0))
        .file("new/p.loaf", recipe("Rye", 3))
        .file("new/q.loaf", recipe("Millet", 5));
    let wanted = [
        ("old/d.loaf", "new/m.loaf"),
        ("old/a.loaf", "new/n.loaf"),
        ("old/c.loaf", "new/o.loaf"),
        ("old/b.loaf", "new/p.loaf"),
        ("-", "new/q.loaf"),
        ("old/e.loaf", "-"),
        ("old/f.loaf", "-"),
    ];
    let wanted = wanted.map(|(old, new)| (old.to_owned(), new.to_owned()));
    assert_eq!(pairs(&kitchen), wanted);
}
