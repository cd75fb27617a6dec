//! Variations and bench records: what they change, what they leave, and what a faulty one costs.

use loafwright::model::recipe::{Amount, Entry, Recipe};
use loafwright::quantity::Ratio;

use super::{block, checked, lines, ratio, steps};

/// A recipe with variations that change it in every way that the language knows.
const VARIED: &str = "title: Test
makes: 2 loaves of 600 g
levain:
  100 % bread flour
  100 % water
  40 % starter
  10 h ripen at 18 C
scald:
  1 part bread flour
  1 part water at 100 C
dough:
  90 % bread flour
  10 % whole wheat flour
  46 % whole milk at fridge
  20 % scald
  25 % levain
  8 % honey
  2 % salt
  10 min mix
  12 % unsalted butter, soft
  6 min knead
    Until it is smooth.
  4 h bulk
  40 min bake at 220 C
  20 min bake at 200 C
  2 h cool
";

/// Makes the one variation with these lines; the entries of the dough come back in short.
fn varied(changes: &str) -> (Recipe, Vec<String>) {
    let (checked, faults) = checked(&format!("{VARIED}variation v:\n{changes}"));
    assert_eq!(faults, [""; 0], "{changes}");
    let recipe = checked.variations.into_iter().next().expect(changes).recipe;
    let entries = block(&recipe, "dough").entries.iter().map(|entry| match entry {
        Entry::Line(line) => match &line.amount.value {
            Amount::Percent(share) => {
                format!("{} {}", (share * &Ratio::HUNDRED).to_trimmed(1), line.name.value)
            }
            other => format!("{other:?} {}", line.name.value),
        },
        Entry::Step(step) => format!("{} min {}", step.takes.middle().as_minutes(), step.words),
        Entry::Note(note) => note.value.clone(),
    });
    let entries = entries.collect();
    (recipe, entries)
}

fn has(entries: &[String], wanted: &str) -> bool {
    entries.iter().any(|entry| entry == wanted)
}

fn place_of(entries: &[String], wanted: &str) -> usize {
    entries.iter().position(|entry| entry == wanted).expect(wanted)
}

#[test]
fn variations_leave_out() {
    let (_, dough) = varied("  without honey\n  without knead\n");
    assert!(!has(&dough, "8 honey") && !has(&dough, "6 min knead"));
    assert_eq!(dough.len(), 12);
    // The one yeast or flour of a dough answers to the bare word, and a stage goes with its line.
    let (recipe, dough) = varied("  without scald\n");
    assert!(!has(&dough, "20 scald"));
    assert!(recipe.blocks.iter().all(|block| block.title != "scald"));
}

#[test]
fn variations_set_replace_and_add() {
    let (recipe, dough) = varied("  50 % milk\n  9 % butter\n");
    assert!(has(&dough, "50 whole milk") && has(&dough, "9 unsalted butter"));
    let milk = lines(block(&recipe, "dough"))[2];
    assert!(milk.at.is_some(), "what is not said of the milk stays");
    let (recipe, dough) =
        varied("  6 % malt syrup instead of honey\n  1 % instant yeast instead of levain\n");
    assert_eq!(place_of(&dough, "6 malt syrup"), 5);
    assert!(
        recipe.blocks.iter().all(|block| block.title != "levain"),
        "nothing else needs the levain"
    );
    let (_, dough) = varied("  5 % poppy seeds\n  4 % raisins after knead\n  3 % walnuts after knead\n");
    assert_eq!(
        place_of(&dough, "5 poppy seeds") + 1,
        place_of(&dough, "10 min mix")
    );
    let knead = place_of(&dough, "6 min knead");
    assert_eq!(dough[knead + 1..knead + 3], ["4 raisins", "3 walnuts"]);
    let (_, dough) = varied("  8 % honey after bulk\n");
    assert_eq!(place_of(&dough, "8 honey"), place_of(&dough, "240 min bulk") + 1);
    assert_eq!(dough.iter().filter(|entry| entry.contains("honey")).count(), 1);
}

#[test]
fn variations_change_steps_keys_and_stages() {
    let (recipe, dough) =
        varied("  8 min knead\n  35 min bake at 230 C\n  25 min bake at 190 C\n  10 min rest after knead\n");
    let knead = place_of(&dough, "8 min knead");
    assert_eq!(dough[knead + 1], "10 min rest");
    assert!(has(&dough, "35 min bake") && has(&dough, "25 min bake"));
    let kneading = steps(block(&recipe, "dough"))[1];
    assert!(kneading.prose.is_some(), "how it is done still holds");
    let (recipe, _) = varied("  makes: 1 loaf of 900 g\n");
    assert_eq!(recipe.makes.expect("it says so").value.count, Ratio::ONE);
    let (recipe, dough) = varied("  in levain\n  120 % water\n  12 h ripen at 16 C\n");
    let Amount::Percent(water) = &lines(block(&recipe, "levain"))[1].amount.value else {
        panic!("a share");
    };
    assert_eq!(*water, ratio("1.2"));
    assert!(has(&dough, "46 whole milk"));
    // Without `in` a stage is looked at only where the dough lacks the ingredient.
    let (recipe, _) = varied("  30 % starter\n");
    assert_eq!(
        lines(block(&recipe, "levain"))[2].amount.value,
        Amount::Percent(ratio("0.3"))
    );
}

/// Under a formula a stage joins without a line, so that it is left out whole; a topping likewise.
#[test]
fn variations_leave_out_stages_that_no_line_pours() {
    let text = "title: Test
makes: 2 loaves of 850 g
levain, 15 % of the flour:
  100 % bread flour
  80 % water
  25 % starter
formula:
  100 % bread flour
  74 % water
  2 % salt
  3 min mix
  40 min bake
topping:
  10 g poppy seeds
variation yeasted:
  1 % instant yeast instead of levain
variation bare:
  without topping
";
    let (checked, faults) = checked(text);
    assert_eq!(faults, [""; 0]);
    let titles = |place: usize| -> Vec<String> {
        let blocks = &checked.variations[place].recipe.blocks;
        blocks.iter().map(|block| block.title.clone()).collect()
    };
    assert_eq!(titles(0), ["formula", "topping"]);
    assert_eq!(titles(1), ["levain", "formula"]);
    let formula = &checked.variations[0].recipe.blocks[0];
    assert_eq!(lines(formula)[3].name.value, "instant yeast");
}

#[test]
fn a_variation_changes_the_recipe_and_not_its_own_lines() {
    let (_, dough) = varied("  90 % whole wheat flour instead of bread flour\n  12 % whole wheat flour\n");
    assert_eq!(dough[..2], ["90 whole wheat flour", "12 whole wheat flour"]);
}

#[test]
fn faulty_variations_are_left_out_and_told_once() {
    let text = format!(
        "{VARIED}  3 % salt\n  10 g feathers\nvariation a:\n  without salt\nvariation b:\n  without soap\n  in dog\n  1 % x\n\
         variation c:\n  without honey\nvariation C:\n  without honey\nvariation d:\n  without bread flour\n  without water after\n"
    );
    let (checked, faults) = checked(&text);
    assert_eq!(
        faults,
        [
            "unknown-ingredient «feathers»",
            "variation-unsure «salt»",
            "variation-misses «soap»",
            "variation-misses «dog»",
            "block-twice «variation C:»",
            "variation-misses «water after»",
        ]
    );
    assert!(checked.recipe.is_some());
    let names: Vec<_> = checked
        .variations
        .iter()
        .map(|variation| variation.name.value.as_str())
        .collect();
    assert_eq!(names, ["c"]);
    assert_eq!(checked.variations[0].changes[0].written, "without honey");
}

#[test]
fn bench_records_hold_what_was_measured() {
    let (checked, faults) = checked(&format!(
        "{VARIED}bake 2024-02-29:\n  20.5 C room\n  11 h 40 min bulk\n  788 g loaf\n  3 % loss\n  8 of 10\n  fine crumb\n\
         bake 2100-02-29:\n  20 C room\nbake 1969-01-01:\n  20 C room\n"
    ));
    assert_eq!(faults, ["bad-record «2100-02-29»", "bad-record «1969-01-01»"]);
    let record = &checked.records[0];
    assert_eq!((checked.records.len(), record.date.value), (1, (2024, 2, 29)));
    assert_eq!((record.readings.len(), record.prose.len()), (5, 1));
}

/// Every name of a limit-long list is looked up, and the file is still judged in a moment.
#[test]
fn many_unknown_names_and_changes_take_no_time_to_speak_of() {
    let mut text = format!("title: Test\ndough:\n{}", "");
    for number in 0..900 {
        text += &format!("  1 g gravel and sand number {number}\n");
    }
    for variation in 0..50 {
        text += &format!("variation v{variation}:\n");
        for number in 0..200 {
            text += &format!("  2 g gravel and sand number {number}\n");
        }
    }
    let (checked, faults) = checked(&text);
    // What a variation says of a name that the recipe has said it of is not said again.
    assert_eq!(faults.len(), 900);
    assert_eq!(checked.variations.len(), 50);
}
