//! Steps in time: what waits for what, how long it takes, when the oven is lit, and steps out of order.

use loafwright::diag::Code;
use loafwright::quantity::Elapsed;
use loafwright::sheet::{Lane, Schedule};

use crate::computed::{compute, compute_in};

const DOUGH: &str = "title: Test\nmakes: 1 loaf\n\ndough:\n  500 g  bread flour\n  325 g  water\n  10 g   salt\n  5 g  instant yeast\n";

fn dough_with(steps: &str) -> String {
    format!("{DOUGH}{steps}")
}

fn lane<'a>(schedule: &'a Schedule, title: &str) -> &'a Lane {
    let found = schedule.lanes.iter().find(|lane| lane.title == title);
    found.unwrap_or_else(|| panic!("no lane {title}"))
}

/// Start and end of each step of a lane, in minutes from the start.
fn minutes(schedule: &Schedule, title: &str) -> Vec<(u32, u32)> {
    let steps = lane(schedule, title).steps.iter();
    steps
        .map(|step| (step.start.as_minutes(), step.end.as_minutes()))
        .collect()
}

#[test]
fn an_autolyse_runs_beside_the_levain() {
    let computed = compute(
        "title: Test\nmakes: 1 loaf\n
levain:
  50 g    bread flour
  50 g    water
  10 g    starter
  5 min   mix
  8-12 h  ripen at 21 C\n
dough:
  450 g   bread flour
  300 g   water
  1 h     autolyse
  all     levain
  10 g    salt
  10 min  mix
  4 h     bulk at 24 C
  45 min  bake at 230 C\n",
    );
    let schedule = &computed.sheet().schedule;
    assert_eq!(minutes(schedule, "levain"), [(0, 5), (5, 605)]);
    assert_eq!(
        minutes(schedule, "dough"),
        [(545, 605), (605, 615), (615, 855), (855, 900)]
    );
    assert_eq!(schedule.middle, Elapsed::minutes(900));
    assert_eq!(
        (
            schedule.whole.least.as_minutes(),
            schedule.whole.most.as_minutes()
        ),
        (780, 1020)
    );
    assert_eq!(schedule.hands_on.least, Elapsed::minutes(15));
    assert_eq!(schedule.preheats, [(Elapsed::minutes(810), Elapsed::minutes(45))]);
    // Flour and water go in at the autolyse; levain and salt at the mixing.
    let dough = lane(schedule, "dough");
    assert_eq!(dough.steps[0].lines, [0, 1]);
    assert_eq!(dough.steps[1].lines, [2, 3]);
}

#[test]
fn builds_in_a_chain_end_where_the_next_one_begins_and_the_earliest_use_counts() {
    let computed = compute(
        "title: Test\nmakes: 1 loaf\n
levain night:
  100 g   bread flour
  100 g   water
  20 g    starter
  6 h     ripen at 24 C\n
levain morning:
  100 g   bread flour
  100 g   water
  50 g    night
  4 h     ripen at 24 C\n
dough:
  400 g   bread flour
  250 g   water
  100 g   night
  all     morning
  10 g    salt
  10 min  mix
  40 min  bake at 230 C\n",
    );
    let schedule = &computed.sheet().schedule;
    assert_eq!(minutes(schedule, "levain night"), [(0, 360)]);
    assert_eq!(minutes(schedule, "levain morning"), [(360, 600)]);
    assert_eq!(minutes(schedule, "dough"), [(600, 610), (610, 650)]);
    let titles: Vec<&str> = schedule.lanes.iter().map(|lane| lane.title.as_str()).collect();
    assert_eq!(titles, ["levain night", "levain morning", "dough"]);
}

#[test]
fn a_topping_is_ready_at_the_step_that_names_it() {
    let computed = compute(&format!(
        "{}\ntopping egg wash:\n  50 g   egg\n  10 min whisk\n",
        dough_with(
            "  10 min mix\n  2 h proof at 24 C\n  5 min brush with egg wash\n  30 min bake at 200 C\n"
        )
    ));
    let schedule = &computed.sheet().schedule;
    assert_eq!(minutes(schedule, "topping egg wash"), [(120, 130)]);
}

#[test]
fn the_bakehouse_lights_the_oven_and_a_line_of_the_recipe_takes_its_place() {
    let steps = "  10 min  mix\n  2 h  bulk at 24 C\n  30 min  bake at 230 C\n";
    let at = |recipe: &str| {
        let bakehouse = "bakehouse: Test\npreheat: 1 h\n";
        compute_in(bakehouse, recipe).sheet().schedule.clone()
    };
    let plain = at(&dough_with(steps));
    assert_eq!(plain.preheats, [(Elapsed::minutes(70), Elapsed::minutes(60))]);
    let own = at(&dough_with(
        &steps.replace("  30 min", "  20 min  preheat\n  30 min"),
    ));
    assert_eq!(own.preheats, [(Elapsed::minutes(110), Elapsed::minutes(20))]);
    assert_eq!(
        own.middle, plain.middle,
        "preheating runs beside the steps ahead of it"
    );
}

#[test]
fn an_oven_that_needs_longer_than_the_dough_is_lit_at_the_start() {
    let computed = compute(&dough_with("  10 min  mix\n  30 min  bake at 230 C\n"));
    let schedule = &computed.sheet().schedule;
    assert_eq!(schedule.middle, Elapsed::minutes(40));
    assert_eq!(schedule.preheats, [(Elapsed::ZERO, Elapsed::minutes(45))]);
}

#[test]
fn two_bakes_close_together_share_a_hot_oven() {
    let close = "  10 min  mix\n  2 h  bulk at 24 C\n  20 min  bake at 240 C\n  20 min  bake at 220 C\n";
    assert_eq!(compute(&dough_with(close)).sheet().schedule.preheats.len(), 1);
    let apart = "  10 min  mix\n  2 h  bulk at 24 C\n  10 min  bake at 200 C\n  1 day  freeze at -18 C\n  10 min  bake at 220 C\n";
    assert_eq!(compute(&dough_with(apart)).sheet().schedule.preheats.len(), 2);
}

#[test]
fn folds_are_moments_that_add_no_time() {
    let computed = compute(&dough_with(
        "  15 min  mix\n  4 h  bulk at 24 C with 3 folds every 45 min\n  30 min  bake at 230 C\n",
    ));
    let schedule = &computed.sheet().schedule;
    let folds = &lane(schedule, "dough").steps[1].folds;
    assert_eq!(folds, &[60, 105, 150].map(Elapsed::minutes));
    assert_eq!(schedule.middle, Elapsed::minutes(285));
    assert_eq!(schedule.hands_on.least, Elapsed::minutes(15));
}

/// Published values D6 and H30: at 2286 m water boils at 92.4 °C, ICAO standard atmosphere.
#[test]
fn d6_a_core_above_the_local_boiling_point_is_out_of_reach() {
    let bake = |core: &str, altitude: &str| {
        let bakehouse = format!("bakehouse: Test\naltitude: {altitude}\n");
        let steps =
            format!("  10 min  mix\n  2 h  bulk at 24 C\n  40 min  bake at 230 C until core {core}\n");
        compute_in(&bakehouse, &dough_with(&steps))
    };
    let high = bake("96 C", "2286 m");
    let faults = high.faults(Code::OutOfReach);
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].primary.text, "water boils at 92.4 °C at 2286 m");
    assert!(high.pointed_at(faults[0]).contains("core 96 C"));
    for (core, altitude) in [("92 C", "2286 m"), ("96 C", "0 m"), ("99 C", "0 m")] {
        assert!(bake(core, altitude).faults(Code::OutOfReach).is_empty());
    }
}

#[test]
fn what_cannot_come_after_the_bake_is_a_slip() {
    let late = compute(&dough_with(
        "  10 min  mix\n  30 min  bake at 230 C\n  2 h  proof at 24 C\n",
    ));
    let faults = late.faults(Code::StepOrder);
    assert_eq!(faults.len(), 1);
    assert_eq!(late.pointed_at(faults[0]), "2 h  proof at 24 C");
    let fine = compute(&dough_with(
        "  10 min  mix\n  2 h  proof at 24 C\n  30 min  bake at 230 C\n  1 h  rest\n  5 min  slice\n",
    ));
    assert!(fine.faults(Code::StepOrder).is_empty());
}

/// What a step says besides its words leaves no comma behind on the sheet.
#[test]
fn no_comma_dangles_where_a_temperature_or_hands_stood() {
    let text = "title: Commas\n\ndough:\n  500 g bread flour\n  325 g water\n  10 min mix by hand\n  40 min rest at 24 C, hands-on\n  \
                then load, at 30 C, then look, hands-on\n  5 min stir in 0,5 l of it, or so\n  40 min bake, at 230 C\n";
    let served = crate::kitchen::Kitchen::new()
        .file("a.loaf", text)
        .run(&["sheet", "a.loaf"])
        .ends_with(0);
    let out = served.out.replace('\u{a0}', " ");
    for said in [
        "Rest, 40 min, at 24 °C",
        "Load, then look, at 30 °C",
        "Stir in 0,5 l of it, or so, 5 min",
        "Bake, 40 min, at 230 °C",
    ] {
        assert!(out.contains(said), "{said}: {out}");
    }
    assert!(!out.contains(",,") && out.lines().all(|line| !line.trim_end().ends_with("Load,")));
}
