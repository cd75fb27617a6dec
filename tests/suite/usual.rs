//! Hints and warnings on figures: rare, by kind of bread, with the band they rest on.

use loafwright::diag::{Code, Severity};

use crate::computed::{Computed, compute, compute_in};

/// A bakehouse whose scales leave no line in doubt.
const FINE: &str = "bakehouse: Test\nscales: 0.01 g\nbake loss: 12 %\n";

fn dough(head: &str, lines: &str) -> Computed {
    let text = format!(
        "title: Test\nmakes: 1 loaf of 900 g\n{head}\ndough:\n{lines}  10 min  mix\n  3 h  bulk at 24 C\n  40 min  bake at 230 C\n"
    );
    compute_in(FINE, &text)
}

#[track_caller]
fn only(computed: &Computed, code: Code) -> (String, String) {
    let faults = computed.faults(code);
    assert_eq!(faults.len(), 1, "{:#?}", computed.report);
    (
        faults[0].message.clone(),
        faults[0].help.clone().unwrap_or_default(),
    )
}

#[track_caller]
fn quiet(computed: &Computed) {
    computed.sheet();
    let loud: Vec<_> = computed
        .report
        .iter()
        .filter(|fault| fault.severity != Severity::Caution)
        .collect();
    assert!(loud.is_empty(), "{loud:#?}");
}

#[test]
fn ordinary_breads_of_every_kind_are_left_in_peace() {
    for lines in [
        // Lean, wet, stiff, wholemeal, rye, sweet, brioche.
        "  100 %  bread flour\n  68 %  water\n  2 %  salt\n  0.7 %  instant yeast\n",
        "  100 %  bread flour\n  85 %  water\n  2.2 %  salt\n  20 %  starter\n",
        "  100 %  bread flour\n  54 %  water\n  2 %  salt\n  1.5 %  instant yeast\n  2 %  malt syrup\n",
        "  100 %  whole wheat flour\n  78 %  water\n  2 %  salt\n  2 %  fresh yeast\n",
        "  100 %  whole rye flour\n  80 %  water\n  1.8 %  salt\n  30 %  starter\n",
        "  100 %  bread flour\n  50 %  whole milk\n  12 %  egg\n  12 %  sugar\n  15 %  butter\n  1.6 %  salt\n  4 %  fresh yeast\n",
        "  100 %  bread flour\n  50 %  egg\n  10 %  whole milk\n  14 %  sugar\n  55 %  butter\n  2 %  salt\n  4 %  fresh yeast\n",
    ] {
        quiet(&dough("", lines));
    }
}

#[test]
fn a_slip_of_the_decimal_point_is_a_warning_and_no_hint_besides() {
    let salty = dough(
        "",
        "  100 %  bread flour\n  68 %  water\n  20 %  salt\n  0.7 %  instant yeast\n",
    );
    let (message, help) = only(&salty, Code::OddFigure);
    assert_eq!(message, "salt is 20 % of the flour");
    assert!(help.contains("1.5 to 2.5 % (R5)"), "{help}");
    assert!(salty.faults(Code::UnusualFigure).is_empty());
    for (lines, message) in [
        (
            "  100 %  bread flour\n  300 %  water\n  2 %  salt\n  1 %  instant yeast\n",
            "there is 300 % of water on the flour",
        ),
        (
            "  100 %  bread flour\n  65 %  water\n  2 %  salt\n  30 %  fresh yeast\n",
            "yeast is 30 % of the flour, counted as fresh",
        ),
        (
            "  100 %  bread flour\n  6.5 %  water\n  2 %  salt\n  1 %  fresh yeast\n",
            "there is only 6.5 % of water on the flour",
        ),
    ] {
        assert_eq!(only(&dough("", lines), Code::OddFigure).0, message);
    }
}

#[test]
fn bands_go_by_the_formula_first_and_by_the_name_second() {
    let lean = "  100 %  bread flour\n  75 %  water\n  2 %  salt\n  0.7 %  instant yeast\n";
    quiet(&dough("", lean));
    let (message, help) = only(&dough("tags: bagels\n", lean), Code::UnusualFigure);
    assert_eq!(
        message,
        "water is 75 % of all flour, unusual for bagels and pretzels"
    );
    assert_eq!(help, "usual is 50 to 57 % (R2)");
    // Three quarters of water are dry for a rye, whatever the tags say.
    let rye = "  100 %  whole rye flour\n  55 %  water\n  1.8 %  salt\n  1 %  fresh yeast\n";
    let (message, help) = only(&dough("tags: bagels\n", rye), Code::UnusualFigure);
    assert_eq!(message, "water is 55 % of all flour, unusual for a rye bread");
    assert_eq!(help, "usual is 70 to 95 % (R11, from memory)");
    let bland = "  100 %  bread flour\n  65 %  water\n  1.1 %  salt\n  1 %  fresh yeast\n";
    let (message, _) = only(&dough("", bland), Code::UnusualFigure);
    assert_eq!(message, "salt is 1.1 % of all flour, unusual for a bread");
}

/// Published values B8 and B9 (WILDYEAST-4): the final dough's column reads 52 % water and 3 % salt, the
/// bread has 68.4 and 1.97 %.
#[test]
fn b9_the_final_dough_is_not_taken_for_the_formula() {
    let computed = compute_in(
        FINE,
        "title: Poolish sticks\nmakes: 6 sticks of 390 g\ntags: baguette\n
poolish:
  468 g   bread flour
  468 g   water
  0.3 g   instant yeast
  12 h    ripen at 20 C\n
dough:
  900 g   bread flour
  468 g   water
  9 g     instant yeast
  27 g    salt
  all     poolish
  10 min  mix
  2 h     bulk at 24 C
  25 min  bake at 240 C\n",
    );
    assert!(computed.faults(Code::UnusualFigure).is_empty());
    assert!(computed.faults(Code::OddFigure).is_empty());
    let figures = &computed.sheet().figures;
    assert_eq!(
        figures.prefermented.clone().map(|share| share.to_fixed(3)),
        Some("0.342".to_owned())
    );
}

#[test]
fn what_drinks_beside_flour_excuses_much_water() {
    let soaked = compute_in(
        FINE,
        "title: Test\nmakes: 1 loaf of 900 g\n
soaker:
  25 %  sunflower seeds
  25 %  flax seeds
  60 %  water
  4 h   soak at 20 C\n
dough:
  100 %  whole rye flour
  80 %   water
  2 %    salt
  1 %    fresh yeast
  50 %   soaker
  10 min  mix
  1 h     proof at 27 C
  60 min  bake at 220 C\n",
    );
    quiet(&soaked);
}

#[test]
fn a_poolish_as_stiff_as_a_biga_is_unusual() {
    let with = |water: &str| {
        compute_in(
            FINE,
            &format!(
                "title: Test\nmakes: 1 loaf\n\npoolish:\n  100 g  bread flour\n  {water}  water\n  0.1 g  instant yeast\n  12 h  ripen at 20 C\n\ndough:\n  400 g  bread flour\n  230 g  water\n  10 g  salt\n  all  poolish\n  10 min  mix\n  1 h  proof at 24 C\n  40 min  bake at 230 C\n"
            ),
        )
    };
    let (message, help) = only(&with("60 g"), Code::UnusualFigure);
    assert_eq!(message, "60 % of water on its flour is unusual for a poolish");
    assert_eq!(help, "usual is 90 to 110 % (R15, from memory)");
    quiet(&with("107 g"));
}

#[test]
fn a_pinch_of_yeast_on_a_coarse_scale_is_one_warning_with_a_way_out() {
    let computed = compute(
        "title: Test\nmakes: 1 loaf\n\ndough:\n  500 g  bread flour\n  340 g  water\n  10 g  salt\n  0.3 g  instant yeast\n  10 min  mix\n  10 h  bulk at 20 C\n  40 min  bake at 230 C\n",
    );
    let (message, help) = only(&computed, Code::TooSmallForScale);
    assert_eq!(
        message,
        "scales that show 1 g cannot weigh 0.3 g of instant yeast closely"
    );
    assert!(
        help.contains("stir 10 g of it into 990 g of water and take 30 g"),
        "{help}"
    );
    let fine = compute_in("bakehouse: Test\nscales: 1 g, 0.1 g under 50 g\n", &computed.text);
    assert!(fine.faults(Code::TooSmallForScale).is_empty());
}

#[test]
fn a_dough_that_does_not_suit_its_tin() {
    let lines = "  100 %  bread flour\n  65 %  water\n  2 %  salt\n  1 %  fresh yeast\n";
    let tin = |size: &str| dough(&format!("tin: {size}\n"), lines);
    // 900 g of dough: 2 l is 2.2 ml a gram, 3.2 l is 3.6, 5 l is 5.6.
    let (message, help) = only(&tin("open 25 x 10 x 8 cm"), Code::TinFit);
    assert_eq!(
        message,
        "there is more dough in this tin than is usual: 2.22 ml for a gram"
    );
    assert!(help.contains("455 to 714 g of dough here"), "{help}");
    quiet(&tin("lidded 32 x 10 x 10 cm"));
    let (message, _) = only(&tin("lidded 50 x 10 x 10 cm"), Code::TinFit);
    assert!(message.starts_with("there is less dough"), "{message}");
}
