//! Lanes of hand-made recipes: who waits for whom, and where that puts everything.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::place;
use crate::diag::Code;
use crate::model::catalog::{Catalog, builtin};
use crate::model::place::{OldDoughSpec, Place, Scales, StarterSpec};
use crate::model::recipe::{
    Block, BlockId, BlockKind, Cue, Details, Entry, FoldPlan, Recipe, Step, StepTime,
};
use crate::model::verbs::{Purpose, Verb};
use crate::quantity::{Celsius, CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio};
use crate::sheet::{Role, SheetBlock, SheetLine, Source};
use crate::source::{SourceId, Span, Spanned};

const SPAN: Span = Span::new(SourceId(0), 0, 0);

fn bakehouse() -> Place {
    let flour = builtin().lookup("bread flour").expect("in the table").clone();
    Place {
        name: None,
        temperatures: BTreeMap::new(),
        altitude_m: Ratio::ZERO,
        asleep: None,
        preheat: Elapsed::minutes(45),
        scales: Scales {
            step: Ratio::ONE,
            finer: Vec::new(),
        },
        starter: StarterSpec {
            hydration: Ratio::ONE,
            flour: flour.clone(),
        },
        old_dough: OldDoughSpec {
            hydration: Ratio::ONE,
            salt: Ratio::ZERO,
            flour,
        },
        friction: Vec::new(),
        currency: None,
        units: Vec::new(),
        paper: Vec::new(),
        bake_loss: None,
        author: None,
        language: None,
        catalog: Arc::<Catalog>::clone(builtin()),
        given: BTreeSet::new(),
        files: Vec::new(),
    }
}

fn step(word: &'static str, least: u32, most: u32, purpose: Purpose) -> Step {
    let takes = ElapsedRange {
        least: Elapsed::minutes(least),
        most: Elapsed::minutes(most),
    };
    Step {
        span: SPAN,
        time: StepTime::Takes(takes),
        takes,
        words: word.to_owned(),
        verb: Some(Verb {
            word,
            hands_on: matches!(purpose, Purpose::Mix | Purpose::Handle),
            purpose,
        }),
        hands_on: matches!(purpose, Purpose::Mix | Purpose::Handle),
        at: None,
        to: None,
        folds: None,
        until: None,
        uses: Vec::new(),
        prose: None,
    }
}

/// Makes a recipe of blocks with steps; the last one is the dough.
fn recipe(blocks: Vec<(&str, Vec<Step>)>) -> Recipe {
    let main = BlockId(blocks.len() - 1);
    Recipe {
        title: Spanned::new("test".to_owned(), SPAN),
        makes: None,
        flour: None,
        tin: None,
        details: Details::default(),
        about: None,
        notes: None,
        blocks: blocks
            .into_iter()
            .enumerate()
            .map(|(at, (title, steps))| Block {
                id: BlockId(at),
                kind: if BlockId(at) == main {
                    BlockKind::Dough
                } else {
                    BlockKind::Levain
                },
                name: None,
                title: title.to_owned(),
                span: SPAN,
                size: None,
                keep: None,
                entries: steps.into_iter().map(Entry::Step).collect(),
            })
            .collect(),
        main,
        place: Arc::new(bakehouse()),
    }
}

/// Makes the sheet blocks, with lines that pour a stage into a block before a step.
fn sheets(recipe: &Recipe, pours: &[(usize, Option<usize>, usize)]) -> Vec<SheetBlock> {
    let line = |step, stage| SheetLine {
        span: SPAN,
        name: "stage".to_owned(),
        preparation: None,
        measure: None,
        at: None,
        prose: None,
        source: Source::Stage(BlockId(stage)),
        weight: Some(Grams::whole(100)),
        shown: None,
        of_block_flour: None,
        of_all_flour: None,
        step,
    };
    recipe
        .blocks
        .iter()
        .map(|block| SheetBlock {
            id: block.id,
            kind: block.kind,
            title: block.title.clone(),
            role: if block.id == recipe.main {
                Role::Dough
            } else {
                Role::Stage
            },
            lines: pours
                .iter()
                .filter(|(consumer, ..)| *consumer == block.id.0)
                .map(|(_, step, stage)| line(*step, *stage))
                .collect(),
            total: Grams::ZERO,
            poured: Grams::ZERO,
            kept: Grams::ZERO,
            flour_base: None,
            all_flour: Grams::ZERO,
        })
        .collect()
}

fn minutes(recipe: &Recipe, sheets: &[SheetBlock]) -> Vec<(String, Vec<(u32, u32)>)> {
    let (schedule, _) = place(recipe, sheets);
    schedule
        .lanes
        .iter()
        .map(|lane| {
            let steps = lane.steps.iter();
            (
                lane.title.clone(),
                steps
                    .map(|step| (step.start.as_minutes(), step.end.as_minutes()))
                    .collect(),
            )
        })
        .collect()
}

#[test]
fn an_autolyse_runs_beside_the_levain() {
    let recipe = recipe(vec![
        (
            "levain",
            vec![
                step("mix", 5, 5, Purpose::Mix),
                step("ripen", 480, 720, Purpose::Ferment),
            ],
        ),
        (
            "dough",
            vec![
                step("autolyse", 60, 60, Purpose::Rest),
                step("mix", 10, 10, Purpose::Mix),
                step("bulk", 240, 240, Purpose::Ferment),
                step("bake", 45, 45, Purpose::Bake),
            ],
        ),
    ]);
    let sheets = sheets(&recipe, &[(1, Some(1), 0)]);
    let (schedule, report) = place(&recipe, &sheets);
    assert!(report.is_empty(), "{report:?}");
    assert_eq!(
        minutes(&recipe, &sheets),
        [
            ("levain".to_owned(), vec![(0, 5), (5, 605)]),
            (
                "dough".to_owned(),
                vec![(545, 605), (605, 615), (615, 855), (855, 900)]
            ),
        ]
    );
    let whole = schedule.whole;
    assert_eq!((whole.least.as_minutes(), whole.most.as_minutes()), (780, 1020));
    assert_eq!(schedule.hands_on.least.as_minutes(), 15);
    assert_eq!(schedule.preheats, [(Elapsed::minutes(810), Elapsed::minutes(45))]);
}

#[test]
fn the_earliest_use_of_a_stage_counts_and_chains_are_followed() {
    let ripen = || vec![step("ripen", 60, 60, Purpose::Ferment)];
    // The third stage is fed from the second, the second from the first; the dough takes the first as well.
    let recipe = recipe(vec![
        ("first", ripen()),
        ("second", ripen()),
        ("third", ripen()),
        (
            "dough",
            vec![
                step("mix", 10, 10, Purpose::Mix),
                step("bake", 30, 30, Purpose::Bake),
            ],
        ),
    ]);
    let sheets = sheets(
        &recipe,
        &[(1, Some(0), 0), (2, Some(0), 1), (3, Some(0), 2), (3, Some(1), 0)],
    );
    let starts: Vec<u32> = minutes(&recipe, &sheets)
        .into_iter()
        .filter_map(|(_, steps)| Some(steps.first()?.0))
        .collect();
    assert_eq!(starts, [0, 60, 120, 180]);
}

#[test]
fn a_preheat_line_takes_no_time_and_stands_where_the_oven_is_lit() {
    let recipe = recipe(vec![(
        "dough",
        vec![
            step("proof", 60, 60, Purpose::Proof),
            step("preheat", 90, 90, Purpose::Preheat),
            step("bake", 30, 30, Purpose::Bake),
        ],
    )]);
    let sheets = sheets(&recipe, &[]);
    let (schedule, _) = place(&recipe, &sheets);
    assert_eq!(schedule.middle, Elapsed::minutes(90));
    assert_eq!(schedule.preheats, [(Elapsed::ZERO, Elapsed::minutes(90))]);
    assert_eq!(
        minutes(&recipe, &sheets),
        [("dough".to_owned(), vec![(0, 60), (0, 60), (60, 90)])]
    );
}

#[test]
fn folds_are_moments_inside_their_step() {
    let mut bulk = step("bulk", 240, 240, Purpose::Ferment);
    bulk.folds = Some(FoldPlan {
        count: 3,
        every: Elapsed::minutes(45),
    });
    let recipe = recipe(vec![("dough", vec![step("mix", 15, 15, Purpose::Mix), bulk])]);
    let (schedule, _) = place(&recipe, &sheets(&recipe, &[]));
    let folds: Vec<u32> = schedule.lanes[0].steps[1]
        .folds
        .iter()
        .map(|fold| fold.as_minutes())
        .collect();
    assert_eq!(folds, [60, 105, 150]);
    assert_eq!(schedule.middle, Elapsed::minutes(255));
}

/// Published value D6, from H30: at 2286 m water boils at 92.4 °C.
#[test]
fn d6_a_core_above_the_local_boiling_point_is_out_of_reach() {
    let core = |degrees| {
        let mut bake = step("bake", 45, 45, Purpose::Bake);
        bake.until = Some(Spanned::new(
            Cue::Core(CelsiusRange::single(Celsius::whole(degrees))),
            SPAN,
        ));
        let mut recipe = recipe(vec![("dough", vec![bake])]);
        Arc::make_mut(&mut recipe.place).altitude_m = Ratio::whole(2286);
        place(&recipe, &sheets(&recipe, &[])).1
    };
    let report = core(96);
    let fault = report.iter().next().expect("a fault");
    assert_eq!(fault.code, Code::OutOfReach);
    assert_eq!(fault.primary.text, "water boils at 92.4 °C at 2286 m");
    assert!(core(92).is_empty());
}

#[test]
fn a_proof_after_the_bake_is_a_slip() {
    let recipe = recipe(vec![(
        "dough",
        vec![
            step("bake", 45, 45, Purpose::Bake),
            step("proof", 60, 60, Purpose::Proof),
        ],
    )]);
    let (_, report) = place(&recipe, &sheets(&recipe, &[]));
    assert!(report.has_code(Code::StepOrder));
}

#[test]
fn a_round_of_stages_does_not_hang() {
    let recipe = recipe(vec![
        ("a", vec![step("ripen", 60, 60, Purpose::Ferment)]),
        ("b", vec![step("ripen", 60, 60, Purpose::Ferment)]),
        ("dough", vec![step("mix", 10, 10, Purpose::Mix)]),
    ]);
    let (schedule, _) = place(
        &recipe,
        &sheets(&recipe, &[(0, Some(0), 1), (1, Some(0), 0), (2, Some(0), 0)]),
    );
    assert_eq!(schedule.lanes.len(), 3);
}
