//! Food cautions: each rule with one recipe that calls for it and one near miss that must not.

use loafwright::diag::{Code, Severity};
use loafwright::quantity::Elapsed;
use loafwright::sheet::{CAUTION_RULES, Caution};

use crate::computed::{Computed, compute, compute_in};

/// A plain dough with some more lines ahead of its steps, and its steps.
fn recipe(head: &str, lines: &str, steps: &str, tail: &str) -> String {
    format!(
        "title: Test\nmakes: 1 loaf\n{head}\ndough:\n  500 g  bread flour\n  300 g  water\n  10 g   salt\n  5 g  instant yeast\n{lines}{steps}\n{tail}"
    )
}

const STEPS: &str = "  10 min  mix\n  90 min  proof at 24 C\n  40 min  bake at 220 C until core 94 C\n";

fn with_lines(lines: &str) -> Computed {
    compute(&recipe("", lines, STEPS, ""))
}

fn with_steps(steps: &str) -> Computed {
    compute(&recipe("", "", steps, ""))
}

fn with_head(head: &str) -> Computed {
    compute(&recipe(head, "", STEPS, ""))
}

fn with_tail(steps: &str, tail: &str) -> Computed {
    compute(&recipe("", "", steps, tail))
}

fn caution<'a>(computed: &'a Computed, id: &str) -> Option<&'a Caution> {
    computed.sheet().cautions.iter().find(|caution| caution.id == id)
}

#[track_caller]
fn speaks(computed: &Computed, id: &str) -> Caution {
    let found = caution(computed, id);
    found
        .unwrap_or_else(|| panic!("{id} is silent: {:?}", computed.caution_ids()))
        .clone()
}

#[track_caller]
fn silent(computed: &Computed, id: &str) {
    let found = caution(computed, id);
    assert!(found.is_none(), "{found:?}");
}

#[test]
fn every_rule_says_when_why_and_since_when() {
    for rule in CAUTION_RULES {
        assert!(rule.id.starts_with('C') && rule.id.len() == 3);
        assert!(!rule.trigger.is_empty() && !rule.source.is_empty());
        assert_eq!(rule.reviewed.len(), 10);
    }
}

#[test]
fn a_plain_bread_has_only_what_every_card_has() {
    let plain = with_lines("");
    assert_eq!(plain.caution_ids(), ["C01", "C05", "C23"]);
    assert!(plain.faults(Code::FoodCaution).is_empty());
}

#[test]
fn c02_a_claim_is_held_against_the_ingredients() {
    let found = speaks(&with_head("tags: gluten-free\n"), "C02");
    assert_eq!(found.about, ["gluten-free", "bread flour"]);
    for head in ["about:\n  A loaf that is\n  gluten free.\n", "tags: GF\n"] {
        speaks(&with_head(head), "C02");
    }
    silent(&with_head("about:\n  This is not\n  gluten-free.\n"), "C02");
    silent(&with_head("tags: dairy-free, vegan\n"), "C02");
    silent(
        &with_head("about:\n  GF is the baker who wrote this down.\n"),
        "C02",
    );
    let honey = compute(&recipe("tags: vegan\n", "  20 g  honey\n", STEPS, ""));
    assert_eq!(speaks(&honey, "C02").about, ["vegan", "honey"]);
    let fault = honey.faults(Code::ClaimContradicted);
    assert_eq!(fault[0].severity, Severity::Caution);
}

#[test]
fn c03_egg_and_milk_are_counted_from_the_line_to_the_oven() {
    let steps = "  10 min  mix\n  3 h  bulk at 24 C\n  8 h  retard at 4 C\n  1 h  proof at 24 C\n  30 min  bake at 190 C\n";
    let egg = compute(&recipe("", "  50 g  egg\n", steps, ""));
    let found = speaks(&egg, "C03");
    assert_eq!((found.time, found.graver), (Some(Elapsed::minutes(250)), true));
    assert_eq!(found.about, ["egg"]);
    let milk = compute(&recipe(
        "",
        "  50 g  whole milk\n",
        "  10 min  mix\n  2 h  bulk at 24 C\n  30 min  bake at 190 C\n",
        "",
    ));
    let found = speaks(&milk, "C03");
    assert_eq!((found.time, found.graver), (Some(Elapsed::minutes(130)), false));
    // Ninety minutes and the mixing, not two hours; dried milk, butter and hard cheese are none of it.
    silent(&with_lines("  50 g  egg\n"), "C03");
    let dry = compute(&recipe("", "  50 g  butter\n  20 g  dried milk\n", steps, ""));
    silent(&dry, "C03");
}

#[test]
fn c03_an_hour_is_the_bound_in_a_hot_place() {
    let proof = |degrees: &str| {
        let steps = format!("  10 min  mix\n  70 min  proof at {degrees}\n  30 min  bake at 190 C\n");
        compute(&recipe("", "  50 g  egg\n", &steps, ""))
    };
    speaks(&proof("35 C"), "C03");
    silent(&proof("30 C"), "C03");
}

#[test]
fn c03_a_stage_with_milk_counts_too() {
    let sponge = |time: &str, place: &str| {
        compute(&format!(
            "title: Test\nmakes: 1 loaf\n
sponge:
  100 g   bread flour
  100 g   whole milk
  2 g     instant yeast
  {time}  ripen {place}\n
dough:
  400 g   bread flour
  200 g   water
  8 g     salt
  all     sponge
{STEPS}"
        ))
    };
    let warm = speaks(&sponge("2 h", "at 24 C"), "C03");
    assert_eq!(warm.time, Some(Elapsed::minutes(220)));
    silent(&sponge("12 h", "in the fridge"), "C03");
}

#[test]
fn c04_cold_has_to_be_cold() {
    let cold = |at: &str| {
        let steps = format!("  10 min  mix\n  8 h  retard {at}\n  30 min  bake at 190 C\n");
        compute(&recipe("", "  50 g  egg\n", &steps, ""))
    };
    speaks(&cold(""), "C04");
    speaks(&cold("at 8 C"), "C04");
    silent(&cold("at 4 C"), "C04");
    silent(
        &with_steps("  10 min  mix\n  8 h  retard\n  30 min  bake at 190 C\n"),
        "C04",
    );
}

#[test]
fn c05_raw_flour_is_louder_where_nothing_heats_it_or_somebody_tastes() {
    assert!(!speaks(&with_lines(""), "C05").graver);
    assert!(speaks(&with_steps("  10 min  mix\n  1 h  chill at 4 C\n"), "C05").graver);
    let tasted = with_steps("  10 min  mix\n    Taste the dough now.\n  30 min  bake at 190 C\n");
    assert!(speaks(&tasted, "C05").graver);
    assert_eq!(tasted.faults(Code::FoodCaution).len(), 1);
    let warned = with_steps("  10 min  mix\n    Do not taste the dough.\n  30 min  bake at 190 C\n");
    assert!(!speaks(&warned, "C05").graver);
}

const FILLED: &str = "  10 min  mix\n  90 min  proof at 24 C\n  5 min  fill\n";

#[test]
fn c06_meat_inside_has_to_be_baked_through() {
    let filling = "filling:\n  200 g  minced meat\n";
    let bake = |cue: &str| with_tail(&format!("{FILLED}  30 min  bake at 190 C{cue}\n"), filling);
    assert_eq!(speaks(&bake(""), "C06").about, ["minced meat"]);
    speaks(&bake(" until core 70 C"), "C06");
    silent(&bake(" until core 76 C"), "C06");
    silent(
        &with_tail(
            &format!("{FILLED}  30 min  bake at 190 C\n"),
            "filling:\n  200 g  jam\n",
        ),
        "C06",
    );
}

#[test]
fn c07_cream_inside_and_cheese_on_top_need_the_fridge() {
    let steps =
        "  10 min  mix\n  90 min  proof at 24 C\n  30 min  bake at 190 C\n  1 h  cool\n  5 min  fill\n";
    speaks(&with_tail(steps, "filling:\n  200 g  whipping cream\n"), "C07");
    silent(&with_tail(steps, "filling:\n  200 g  jam\n"), "C07");
    let washed =
        "  10 min  mix\n  90 min  proof at 24 C\n  5 min  brush with wash\n  30 min  bake at 190 C\n";
    silent(
        &with_tail(washed, "topping wash:\n  50 g  egg\n  20 g  whipping cream\n"),
        "C07",
    );
    silent(&with_lines("  50 g  yoghurt\n"), "C07");
    speaks(&with_lines("  50 g  mozzarella\n"), "C07");
}

#[test]
fn c08_garlic_does_not_lie_in_warm_oil() {
    let steps =
        "  10 min  mix\n  90 min  proof at 24 C\n  5 min  brush with garlic oil\n  30 min  bake at 230 C\n";
    let topping = |time: &str| format!("topping garlic oil:\n  30 g  olive oil\n  5 g  garlic\n  {time}\n");
    speaks(&with_tail(steps, &topping("3 h  leave at 21 C")), "C08");
    silent(&with_tail(steps, &topping("10 min  leave at 21 C")), "C08");
    silent(&with_tail(steps, &topping("8 h  chill at 4 C")), "C08");
    silent(&with_lines("  30 g  olive oil\n  5 g  garlic\n"), "C08");
}

#[test]
fn c09_honey_in_any_amount() {
    speaks(&with_lines("  5 g  honey\n"), "C09");
    speaks(&with_lines("  some  honey\n"), "C09");
    silent(&with_lines("  5 g  malt syrup\n"), "C09");
}

#[test]
fn c10_lye_is_louder_above_four_in_a_hundred() {
    let steps = "  10 min  mix\n  90 min  proof at 24 C\n  5 min  brush with bath\n  20 min  bake at 220 C\n";
    let bath = |lye: &str| with_tail(steps, &format!("topping bath:\n  1000 g  water\n  {lye}  lye\n"));
    assert!(!speaks(&bath("35 g"), "C10").graver);
    assert!(speaks(&bath("60 g"), "C10").graver);
    let said = "  10 min  mix\n  5 min  brush with lye\n  20 min  bake at 220 C\n";
    assert!(speaks(&with_steps(said), "C10").graver);
    silent(&with_lines("  5 g  bicarbonate of soda\n"), "C10");
}

#[test]
fn c11_hot_water_and_steam() {
    let poured = |degrees: &str| {
        compute(&format!(
            "title: Test\nmakes: 1 loaf\n\ndough:\n  500 g  bread flour\n  300 g  water at {degrees}\n  10 g  salt\n  5 g  instant yeast\n{STEPS}"
        ))
    };
    speaks(&poured("80 C"), "C11");
    silent(&poured("40 C"), "C11");
    speaks(
        &with_steps("  10 min  mix\n  30 min  bake at 230 C with steam\n"),
        "C11",
    );
    speaks(
        &with_steps("  10 min  mix\n  2 min  boil\n  20 min  bake at 230 C\n"),
        "C11",
    );
}

#[test]
fn c12_pots_paper_and_fire() {
    let bake = |steps: &str| with_steps(&format!("  10 min  mix\n  90 min  proof at 24 C\n{steps}"));
    let pot = bake("  45 min  bake at 200 C\n    In the pot, with the lid on.\n");
    assert_eq!(speaks(&pot, "C12").about, ["hot pot or stone"]);
    let paper = bake("  1 min  load\n    On baking paper.\n  30 min  bake at 240 C\n");
    assert_eq!(speaks(&paper, "C12").about, ["baking paper"]);
    silent(
        &bake("  1 min  load\n    On baking paper.\n  30 min  bake at 210 C\n"),
        "C12",
    );
    let fire = compute(&recipe("tags: wood-fired\n", "", STEPS, ""));
    assert_eq!(speaks(&fire, "C12").about, ["open fire"]);
    // Stone-ground flour is no hot stone, and a levain may ripen in a pot.
    silent(
        &bake("  5 min  mix\n    In a large pot.\n  30 min  bake at 210 C\n"),
        "C12",
    );
}

#[test]
fn c13_salt_and_health() {
    let salted = |salt: &str| {
        compute(&format!(
            "title: Test\nmakes: 1 loaf\n\ndough:\n  500 g  bread flour\n  300 g  water\n  {salt}  salt\n  5 g  instant yeast\n{STEPS}"
        ))
    };
    assert_eq!(speaks(&salted("4 g"), "C13").about, ["little salt"]);
    assert_eq!(speaks(&salted("14 g"), "C13").about, ["much salt"]);
    silent(&salted("6 g"), "C13");
    silent(&salted("12 g"), "C13");
    speaks(&with_head("about:\n  A loaf for a low-salt kitchen.\n"), "C13");
    speaks(&with_lines("  1 g  potassium salt\n"), "C13");
}

#[test]
fn c16_improvers_that_are_not_allowed_everywhere() {
    assert_eq!(
        speaks(&with_lines("  10 g  bromated flour\n"), "C16").about,
        ["bromated flour"]
    );
    silent(&with_lines("  1 g  ascorbic acid\n"), "C16");
}

#[test]
fn c17_risky_plants() {
    speaks(&with_lines("  10 g  kidney bean flour\n"), "C17");
    speaks(&with_lines("  100 g  poppy seeds\n"), "C17");
    silent(&with_lines("  10 g  poppy seeds\n"), "C17");
    silent(&with_lines("  10 g  chickpea flour\n"), "C17");
}

#[test]
fn c18_a_culture_that_is_kept() {
    speaks(&with_lines("  50 g  starter\n"), "C18");
    let poolish = compute(&format!(
        "title: Test\nmakes: 1 loaf\n\npoolish:\n  100 g  bread flour\n  100 g  water\n  0.1 g  instant yeast\n  12 h  ripen at 20 C\n\ndough:\n  400 g  bread flour\n  200 g  water\n  10 g  salt\n  all  poolish\n{STEPS}"
    ));
    silent(&poolish, "C18");
}

#[test]
fn c19_flour_by_the_sack() {
    let batch = |flour: &str| {
        compute(&format!(
            "title: Test\nflour: {flour}\nmakes: 1 batch\n\ndough:\n  100 %  bread flour\n  60 %  water\n  2 %  salt\n  1 %  fresh yeast\n{STEPS}"
        ))
    };
    speaks(&batch("26 kg"), "C19");
    silent(&batch("25 kg"), "C19");
}

#[test]
fn c20_a_delayed_start_with_egg() {
    let steps = "  10 min  mix\n    Set the delay timer for the morning.\n  90 min  proof at 24 C\n  40 min  bake at 190 C\n";
    speaks(&compute(&recipe("", "  50 g  egg\n", steps, "")), "C20");
    silent(&with_steps(steps), "C20");
}

#[test]
fn c21_bread_sealed_in_jars() {
    speaks(
        &with_steps("  10 min  mix\n  40 min  bake in jars at 180 C\n"),
        "C21",
    );
    silent(
        &with_steps("  10 min  mix\n  4 h  bulk in a jar at 24 C\n  40 min  bake at 220 C\n"),
        "C21",
    );
}

#[test]
fn allergens_are_gathered_from_everything_and_what_is_unknown_is_named() {
    let computed = compute_in(
        "bakehouse: Test\nstarter: 100 % hydration, rye flour\n",
        &recipe(
            "",
            "  20 g  starter\n  some  butter, for the tin\n  10 g  corner-shop spice\n  10 g  aunt's flour as spelt flour\n",
            STEPS,
            "topping:\n  10 g  sesame seeds\n",
        ),
    );
    let allergens = &computed.sheet().allergens;
    let found: Vec<&str> = allergens.contains.iter().map(|allergen| allergen.id()).collect();
    assert_eq!(found, ["wheat", "spelt", "rye", "milk", "sesame"]);
    assert_eq!(allergens.not_checked, ["corner-shop spice", "aunt's flour"]);
}

#[test]
fn cautions_stop_nothing_and_the_gravest_come_first() {
    let computed = compute(&recipe(
        "",
        "  50 g  egg\n  20 g  honey\n",
        "  10 min  mix\n  6 h  bulk at 24 C\n  30 min  bake at 190 C\n",
        "",
    ));
    assert!(!computed.report.has_errors() && !computed.report.has(Severity::Warning));
    let ids: Vec<&str> = computed
        .sheet()
        .cautions
        .iter()
        .map(|caution| caution.id)
        .collect();
    assert_eq!(ids, ["C01", "C03", "C09", "C05", "C23"]);
    assert_eq!(computed.faults(Code::FoodCaution).len(), 2);
}
