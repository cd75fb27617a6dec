//! The model: what a recipe's words come to mean, and that every fault is said once and where it stands.

mod variations;

use std::sync::Arc;

use loafwright::model::check;
use loafwright::model::place::Place;
use loafwright::model::recipe::{Amount, Block, BlockId, Checked, Entry, Line, Recipe, Step, Thing};
use loafwright::model::verbs::{VERBS, Verb};
use loafwright::quantity::{Elapsed, Ratio, WeightUnit};
use loafwright::source::{Source, SourceId};
use loafwright::syntax::parse;

/// Checks a text without a bakehouse; the faults come back as slug and the words that they point at.
fn checked(text: &str) -> (Checked, Vec<String>) {
    let source = Source::new(SourceId(0), "test.loaf", text);
    let (tree, report) = parse(&source);
    assert!(report.is_empty(), "the parser finds fault: {report:?}");
    let checked = check(&tree, &source, &Arc::new(Place::without_bakehouse()));
    let faults = checked.report.clone().settled();
    let faults = faults
        .iter()
        .map(|fault| format!("{} «{}»", fault.code.slug(), source.slice(fault.primary.span)))
        .collect();
    (checked, faults)
}

/// Checks a text that has no fault.
fn sound(text: &str) -> Recipe {
    let (checked, faults) = checked(text);
    assert_eq!(faults, [""; 0]);
    checked.recipe.expect("a recipe without a fault comes back")
}

/// Puts a dough below a title.
fn dough(lines: &str) -> String {
    format!("title: Test\ndough:\n  500 g bread flour\n{lines}")
}

fn block<'r>(recipe: &'r Recipe, title: &str) -> &'r Block {
    recipe
        .blocks
        .iter()
        .find(|block| block.title == title)
        .expect(title)
}

fn lines(block: &Block) -> Vec<&Line> {
    let line = |entry| match entry {
        &Entry::Line(ref line) => Some(line),
        &(Entry::Step(_) | Entry::Note(_)) => None,
    };
    block.entries.iter().filter_map(line).collect()
}

fn steps(block: &Block) -> Vec<&Step> {
    let step = |entry| match entry {
        &Entry::Step(ref step) => Some(step),
        &(Entry::Line(_) | Entry::Note(_)) => None,
    };
    block.entries.iter().filter_map(step).collect()
}

fn last_line(recipe: &Recipe) -> Line {
    let block = recipe.blocks.last().expect("there is a block");
    (*lines(block).last().expect("there is a line")).clone()
}

fn ratio(text: &str) -> Ratio {
    Ratio::parse_decimal(text).expect(text)
}

/// Gives the name of the table entry that a line of a dough is taken as.
fn taken_as(line: &str) -> String {
    let recipe = sound(&dough(&format!("  10 g {line}\n")));
    match last_line(&recipe).thing {
        Thing::Ingredient(known) => known.name.clone(),
        Thing::Mixture(mixture) if mixture.is_starter => "starter".to_owned(),
        Thing::Mixture(_) => "old dough".to_owned(),
        Thing::Stage(BlockId(id)) => format!("block {id}"),
        Thing::Unlisted { like } => format!("unlisted {:?}", like.map(|like| like.name.clone())),
    }
}

#[test]
fn words_of_bakers_find_their_ingredient() {
    for (written, name) in [
        ("milk", "whole milk"),
        ("Butter", "unsalted butter"),
        ("sugar", "granulated sugar"),
        ("salt", "fine salt"),
        ("soft butter", "unsalted butter"),
        ("warm water", "water"),
        ("ice-cold water", "water"),
        ("toasted walnuts", "walnuts"),
        ("roughly chopped walnuts", "walnuts"),
        ("finely grated lemon zest", "lemon zest"),
        ("EGGS", "egg"),
        ("ripe starter", "starter"),
        ("old dough", "old dough"),
        ("my mother as starter", "starter"),
        ("mill white as bread flour", "unlisted Some(\"bread flour\")"),
        ("strong white flour as bread flour", "bread flour"),
    ] {
        assert_eq!(taken_as(written), name, "{written}");
    }
}

#[test]
fn preparation_stands_before_the_name_or_behind_a_comma() {
    let recipe = sound(&dough("  10 g toasted walnuts, roughly chopped\n"));
    let line = last_line(&recipe);
    assert_eq!(line.name.value, "walnuts");
    assert_eq!(line.preparation.as_deref(), Some("toasted, roughly chopped"));
}

#[test]
fn starter_is_flour_and_water_of_its_hydration() {
    for (line, flour, water) in [
        ("100 g starter", "0.5", "0.5"),
        ("100 g starter hydration 150 %", "0.4", "0.6"),
        ("100 g stiff friend hydration 60 % as starter", "0.625", "0.375"),
    ] {
        let recipe = sound(&dough(&format!("  {line}\n")));
        let Thing::Mixture(mixture) = last_line(&recipe).thing else {
            panic!("{line} is a mixture");
        };
        let shares: Vec<_> = mixture
            .parts
            .iter()
            .map(|(part, share)| (part.name.as_str(), share))
            .collect();
        assert_eq!(
            shares,
            [("bread flour", &ratio(flour)), ("water", &ratio(water))],
            "{line}"
        );
    }
}

#[test]
fn old_dough_holds_salt_and_its_parts_make_the_whole() {
    let recipe = sound(&dough("  100 g old dough\n"));
    let Thing::Mixture(mixture) = last_line(&recipe).thing else {
        panic!("old dough without a block is a mixture");
    };
    let names: Vec<_> = mixture.parts.iter().map(|(part, _)| part.name.as_str()).collect();
    assert_eq!(names, ["bread flour", "water", "fine salt"]);
    assert_eq!(
        mixture.parts.iter().map(|(_, share)| share).sum::<Ratio>(),
        Ratio::ONE
    );
}

#[test]
fn counts_and_measures_are_weights() {
    for (line, grams) in [("2 eggs", "100"), ("3 egg yolks", "51"), ("1 1/2 eggs", "75")] {
        let recipe = sound(&dough(&format!("  {line}\n")));
        let line = last_line(&recipe);
        let Amount::Weight(weight) = &line.amount.value else {
            panic!("a count is a weight");
        };
        assert_eq!(weight.0, ratio(grams));
        assert!(line.measure.is_some());
    }
    let (_, faults) = checked(&dough("  1 tsp salt\n  1 cup water\n"));
    assert_eq!(faults, ["spoon-for-weight «1 tsp»", "volume-for-weight «1 cup»"]);
}

const TWO_LEVAINS: &str = "title: Test
levain night:
  50 g bread flour
  50 g water
  20 g starter
soaker:
  50 g sunflower seeds
  50 g water
dough:
  500 g bread flour
";

#[test]
fn a_stage_answers_to_its_names() {
    for name in [
        "levain night",
        "night levain",
        "night",
        "levain",
        "Night",
        "ripe levain",
    ] {
        let recipe = sound(&format!("{TWO_LEVAINS}  all {name}\n  all soaker\n"));
        let poured = &lines(block(&recipe, "dough"))[1].thing;
        assert!(matches!(poured, Thing::Stage(BlockId(0))), "{name}: {poured:?}");
    }
}

#[test]
fn stages_stand_in_any_order() {
    let recipe = sound(
        "title: Test\ndough:\n  500 g bread flour\n  all biga\nbiga:\n  100 g bread flour\n  50 g water\n",
    );
    assert_eq!(recipe.main, BlockId(0));
    assert!(matches!(
        lines(&recipe.blocks[0])[1].thing,
        Thing::Stage(BlockId(1))
    ));
}

#[test]
fn inside_its_own_block_a_word_means_the_ingredient() {
    let text = "title: Test\nsoaker oats:\n  50 g rolled oats\n  50 g water\nold dough:\n  100 g bread flour\n  60 g water\n  20 g old dough\ndough:\n  500 g bread flour\n  all oats\n  all old dough\n";
    let recipe = sound(text);
    assert!(matches!(
        lines(block(&recipe, "old dough"))[2].thing,
        Thing::Mixture(_)
    ));
    assert!(matches!(
        lines(block(&recipe, "dough"))[1].thing,
        Thing::Stage(BlockId(0))
    ));
    assert!(matches!(
        lines(block(&recipe, "dough"))[2].thing,
        Thing::Stage(BlockId(1))
    ));
}

#[test]
fn a_filling_does_not_take_the_word_from_the_ingredient() {
    let text = "title: Test\ndough:\n  500 g bread flour\n  20 g almonds\n  5 min fill\nfilling almond, 30 g each:\n  100 g ground almonds\n";
    let recipe = sound(text);
    assert!(matches!(lines(&recipe.blocks[0])[1].thing, Thing::Ingredient(_)));
}

/// A chain as long as a recipe may have stages, and a round through all of them.
#[test]
fn long_chains_and_rounds_are_walked_without_falling_over() {
    let chain = |last: &str| {
        let mut text = "title: Test\n".to_owned();
        for number in 0..60 {
            let next = if number == 59 {
                last.to_owned()
            } else {
                format!("10 g s{}", number + 1)
            };
            text += &format!("soaker s{number}:\n  10 g water\n  10 g rye chops\n  {next}\n");
        }
        text + "dough:\n  500 g bread flour\n  all s0\n"
    };
    sound(&chain("10 g water"));
    let (checked, faults) = checked(&chain("10 g s0"));
    assert_eq!(faults, ["stage-round «10 g s1»"]);
    let round = checked.report.iter().next().expect("there is a fault");
    assert_eq!(round.others.len(), 59);
}

#[test]
fn verbs_are_found_in_all_their_forms() {
    assert!(VERBS.is_sorted_by_key(|verb| verb.word));
    for (text, word) in [
        ("Proofing", "proof"),
        ("prove in the basket", "proof"),
        ("final proof", "proof"),
        ("bench rest", "rest"),
        ("cold retarding", "retard"),
        ("baking", "bake"),
        ("wrapped", "wrap"),
        ("mixes", "mix"),
        ("then knocking back gently", "knock back"),
        ("turn out", "turn out"),
        ("risen", "rise"),
        ("autolyze", "autolyse"),
        ("pre-shape", "preshape"),
        ("dusted, then scored", "dust"),
        ("Bulk ferment", "bulk"),
    ] {
        assert_eq!(Verb::first_in(text).map(|verb| verb.word), Some(word), "{text}");
    }
    for verb in VERBS {
        assert_eq!(Verb::of(verb.word), Some(*verb));
    }
    for text in ["turn the tray", "the loaf", "dusty", "", "back out"] {
        assert_eq!(Verb::first_in(text), None, "{text}");
    }
    assert_eq!(Verb::near("kneed the dough"), Some("knead"));
    assert_eq!(Verb::near("look after it"), None);
}

/// The language reference lists which verbs need hands.
#[test]
fn hands_follow_the_verb_the_length_or_the_word() {
    let hands_on = "mix stir whisk knead fold divide preshape shape laminate fill glaze brush cook score load \
                    boil grease dust seal slice wrap feed melt toast";
    for word in hands_on.split_whitespace().chain(["knock back", "turn out"]) {
        assert!(Verb::of(word).expect(word).hands_on, "{word}");
    }
    let hands_off = "autolyse soak ripen bulk ferment rise rest leave relax wait stand bloom temper warm drain \
                     retard proof chill refrigerate freeze thaw preheat bake steam cool";
    for word in hands_off.split_whitespace() {
        assert!(!Verb::of(word).expect(word).hands_on, "{word}");
    }
    assert_eq!(
        VERBS.len(),
        hands_on.split_whitespace().count() + 2 + hands_off.split_whitespace().count()
    );
    let (checked, faults) = checked(&dough(
        "  20 min pat\n  40 min admire\n  5 min rest hands-on\n  2 h mix hands-off\n",
    ));
    assert_eq!(faults, ["unknown-verb «pat»", "unknown-verb «admire»"]);
    let recipe = checked.recipe.expect("hints stop nothing");
    let hands: Vec<_> = steps(&recipe.blocks[0])
        .iter()
        .map(|step| step.hands_on)
        .collect();
    assert_eq!(hands, [true, false, true, false]);
}

#[test]
fn times_folds_and_places_are_settled() {
    let recipe = sound(&dough(
        "  overnight retard in the fridge\n  2 h bulk with 3 folds\n  2 h bulk with 2 folds every 45 min\n  then turn out\n",
    ));
    let steps = steps(&recipe.blocks[0]);
    assert_eq!(
        (steps[0].takes.least, steps[0].takes.most),
        (Elapsed::hours(8), Elapsed::hours(12))
    );
    let at = steps[0].at.as_ref().expect("a fridge has a temperature");
    assert_eq!(
        (at.middle().0, at.place.as_deref()),
        (Ratio::whole(4), Some("fridge"))
    );
    assert_eq!(steps[1].folds.map(|plan| plan.every), Some(Elapsed::minutes(30)));
    assert_eq!(steps[2].folds.map(|plan| plan.every), Some(Elapsed::minutes(45)));
    assert_eq!(steps[3].takes.most, Elapsed::ZERO);
}

#[test]
fn fillings_and_toppings_find_their_step() {
    let text = |steps: &str| {
        format!(
            "title: Test\ndough:\n  500 g bread flour\n{steps}filling:\n  90 g jam\ntopping egg wash:\n  1 egg\ntopping:\n  20 g poppy seeds\n"
        )
    };
    let uses = |steps_text: &str, told: &[&str]| -> Vec<Vec<usize>> {
        let (checked, faults) = checked(&text(steps_text));
        assert_eq!(faults, told);
        steps(&checked.recipe.expect("there is no error").blocks[0])
            .iter()
            .map(|step| step.uses.iter().map(|id| id.0).collect())
            .collect()
    };
    // Named, by the usual verb, and where nothing else is left by the bake; a filling is then asked about.
    assert_eq!(
        uses(
            "  5 min fill\n  2 min glaze\n  2 min brush with egg wash\n  20 min bake\n",
            &[]
        ),
        [vec![1], vec![3], vec![2], vec![]]
    );
    assert_eq!(
        uses("  5 min shape around the filling\n  20 min bake\n", &[]),
        [vec![1], vec![2, 3]]
    );
    let untold = ["stage-unused «filling:»"];
    assert_eq!(
        uses("  20 min bake\n  then brush\n", &untold),
        [vec![1], vec![2, 3]]
    );
    assert_eq!(
        uses("  2 h proof\n  20 min bake\n", &untold),
        [vec![], vec![1, 2, 3]]
    );
}

#[test]
fn keys_come_to_their_places_and_the_bakehouse_fills_in() {
    let recipe = sound(
        "title: Milk tin\nmakes: 4 dozen rolls of 60 g\ntin: round 20 x 10 cm, 2.5 ml per g\nunits: g, oz\npaper: half letter\n\
         bake loss: 12 %\nkeeps: 4 days\nslices: 14\ntags: a, b\npicture: crumb.jpg, a slice, held up\nlanguage: en-GB\n\
         dough:\n  500 g bread flour\n",
    );
    let makes = recipe.makes.expect("it says so").value;
    assert_eq!(
        (makes.count, makes.piece.as_str(), makes.baked),
        (Ratio::whole(48), "rolls", false)
    );
    let tin = recipe.tin.expect("it says so").value;
    // Pi times the square of 10 cm times 10 cm.
    assert_eq!(tin.volume.0, ratio("3141.593"));
    assert_eq!(tin.ml_per_g, Some(ratio("2.5")));
    let details = recipe.details;
    assert_eq!(details.units, [WeightUnit::Gram, WeightUnit::Ounce]);
    assert_eq!(details.paper, ["half letter"]);
    assert_eq!(details.slices, Some(14));
    assert_eq!(details.tags, ["a", "b"]);
    assert_eq!(
        details.picture.expect("it says so").value.description,
        "a slice, held up"
    );
}

#[test]
fn a_sloping_tin_holds_a_prismatoid() {
    let recipe = sound("title: T\ntin: 23 x 13 / 20 x 10 x 7 cm\ndough:\n  500 g bread flour\n");
    // A sixth of 7 cm times 299 + 200 + 43 times 23 square centimetres.
    let expected = &(&Ratio::whole(7) * &Ratio::whole(299 + 200 + 43 * 23)) / &Ratio::whole(6);
    assert_eq!(recipe.tin.expect("it says so").value.volume.0, expected);
}

#[test]
fn every_fault_is_told_in_one_run_and_none_follows_from_another() {
    let text = "title: Test
makes: 2 loafs of 600 g
makes: 1 loaf
levain night:
  50 g bread flour
  50 g wather
  20 g starter hydration 0 %
soaker:
  50 g seeds of stars
  1 cup soaker
dough:
  500 g flour
  5 g yeast
  all lavain
  2 h bulk at attic
  1 h bulk with 3 folds every 30 min
  2 h prof
variation odd:
  without hunny
  30 min bake
bake 2026-02-30:
  24 C dough
";
    let (checked, faults) = checked(text);
    assert!(checked.recipe.is_none() && checked.variations.is_empty() && checked.records.is_empty());
    assert_eq!(
        faults,
        [
            "key-twice «makes»",
            "unknown-ingredient «wather»",
            "starter-dry «0 %»",
            "stage-unused «soaker:»",
            "unknown-ingredient «seeds of stars»",
            "no-density «1 cup»",
            "which-flour «flour»",
            "which-yeast «yeast»",
            "all-of-no-stage «all lavain»",
            "unknown-place «attic»",
            "folds-do-not-fit «with 3 folds every 30 min»",
            "unknown-verb «prof»",
            "variation-misses «hunny»",
            "variation-misses «bake»",
            "bad-record «2026-02-30»",
        ]
    );
}

#[test]
fn water_is_water_however_cold_or_hot() {
    for (written, known) in [
        ("ice water", "water"),
        ("Ice Water", "water"),
        ("iced water", "water"),
        ("ice-cold water", "water"),
        ("boiling water", "water"),
        ("hot water", "water"),
        ("lukewarm water", "water"),
        ("ice", "ice"),
        ("crushed ice", "ice"),
        ("ice cubes", "ice"),
    ] {
        let recipe = sound(&dough(&format!("  300 g {written}\n")));
        let all = lines(&recipe.blocks[0]);
        let Thing::Ingredient(found) = &all[1].thing else {
            panic!("{written} is not in the table");
        };
        assert_eq!(found.name, known, "{written}");
    }
}
