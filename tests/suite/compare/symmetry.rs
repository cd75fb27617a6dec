//! A comparison told backwards is the same comparison: what came is gone, and nothing else differs.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use loafwright::compare::{
    BlockPair, Comparison, FigurePair, LineChange, LinePair, PartChange, StepChange, StepPair, compare,
};
use loafwright::model::place::Place;
use loafwright::pipeline::{self, Compiled};
use loafwright::sheet::Request;
use loafwright::source::{Source, SourceId};

use super::cases::cases;
use crate::format::writer::{Tape, recipe};

fn compiled(text: &str) -> Compiled {
    let source = Source::new(SourceId(0), "a.loaf", text);
    pipeline::compile(
        &source,
        &Arc::new(Place::without_bakehouse()),
        &Request::default(),
    )
}

/// The side that a shape is seen from.
#[derive(Clone, Copy)]
enum From {
    Old,
    New,
}

/// Puts two things in the order of the side that they are seen from.
fn seen<T: std::fmt::Debug>(from: From, old: T, new: T) -> String {
    match from {
        From::Old => format!("{old:?} / {new:?}"),
        From::New => format!("{new:?} / {old:?}"),
    }
}

/// Gives everything that a comparison tells, in no order, as seen from a side.
fn shape(comparison: &Comparison, from: From) -> BTreeSet<String> {
    let mut shape = BTreeSet::new();
    shape.insert(format!("total {}", comparison.is_told_by_total));
    shape.insert(format!("scaled {}", comparison.scaled.is_some()));
    shape.extend(
        comparison
            .figures
            .iter()
            .filter(|pair| pair.is_changed)
            .map(|pair| figure(pair, from)),
    );
    shape.extend(
        comparison
            .total
            .iter()
            .filter(|line| line.is_changed())
            .map(|pair| format!("total {}", line(pair, from))),
    );
    for pair in comparison.blocks.iter().filter(|block| block.is_changed()) {
        block(pair, from, &mut shape);
    }
    for change in &comparison.keys {
        shape.insert(format!("{} {}", change.key, seen(from, &change.old, &change.new)));
    }
    shape.insert(format!(
        "allergens {}",
        seen(from, &comparison.allergens_gone, &comparison.allergens_new)
    ));
    shape.extend(comparison.prose.iter().map(|change| change.of.to_owned()));
    for part in comparison.variations.iter().chain(&comparison.records) {
        let told = match &part.change {
            PartChange::Added(_) => seen(from, "-", "+"),
            PartChange::Gone(_) => seen(from, "+", "-"),
            PartChange::Reads(_) => "reads".to_owned(),
            PartChange::Changed(inner) => format!("{:?}", self::shape(inner, from)),
        };
        shape.insert(format!("part {} {told}", part.name));
    }
    shape
}

fn figure(pair: &FigurePair, from: From) -> String {
    format!("{:?} {}", pair.figure, seen(from, &pair.old, &pair.new))
}

fn line(pair: &LinePair, from: From) -> String {
    let told = |line: &Option<loafwright::compare::Line>| {
        line.as_ref()
            .map(|line| (line.name.clone(), line.weight.clone(), line.share.clone()))
    };
    let changes: Vec<String> = pair
        .changes
        .iter()
        .map(|change| match change {
            LineChange::Prose(_) => "Prose".to_owned(),
            plain => format!("{plain:?}"),
        })
        .collect();
    format!("{} {changes:?}", seen(from, told(&pair.old), told(&pair.new)))
}

fn step(pair: &StepPair, from: From) -> String {
    let told = |step: &Option<loafwright::model::recipe::Step>| {
        step.as_ref()
            .map(|step| (step.words.clone(), step.takes, step.span.start))
    };
    let changes: Vec<String> = pair
        .changes
        .iter()
        .map(|change| match change {
            StepChange::Prose(_) => "Prose".to_owned(),
            StepChange::Moved(_) => "Moved".to_owned(),
            plain => format!("{plain:?}"),
        })
        .collect();
    format!("{} {changes:?}", seen(from, told(&pair.old), told(&pair.new)))
}

fn block(pair: &BlockPair, from: From, shape: &mut BTreeSet<String>) {
    let title = seen(from, &pair.old, &pair.new);
    shape.insert(format!("block {title} {}", pair.amounts_are_told));
    shape.extend(
        pair.lines
            .iter()
            .filter(|line| pair.tells(line))
            .map(|pair| format!("{title} {}", line(pair, from))),
    );
    shape.extend(
        pair.steps
            .iter()
            .filter(|step| step.is_changed())
            .map(|pair| format!("{title} {}", step(pair, from))),
    );
    let swapped = |pair: &Option<_>| pair.as_ref().map(|(old, new)| seen(from, old, new));
    shape.insert(format!(
        "{title} {:?} {:?}",
        swapped(&pair.kept),
        swapped(&pair.on_a_piece)
    ));
}

/// Compares two versions both ways, and says whether they could be compared.
fn hold(left: &Compiled, right: &Compiled, told: &str) -> bool {
    let (Some(left), Some(right)) = (left.side(), right.side()) else {
        return false;
    };
    let (forwards, backwards) = (compare(&left, &right), compare(&right, &left));
    let (forwards_told, backwards_told) = (shape(&forwards, From::Old), shape(&backwards, From::New));
    let apart: Vec<&String> = forwards_told.symmetric_difference(&backwards_told).collect();
    assert!(
        apart.is_empty(),
        "{told}
{apart:#?}"
    );
    assert!(compare(&left, &left).is_empty(), "{told}");
    if let (Some(there), Some(back)) = (&forwards.scaled, &backwards.scaled) {
        assert_eq!(there * back, loafwright::quantity::Ratio::ONE, "{told}");
    }
    true
}

#[test]
fn the_pairs_worked_by_hand_are_the_same_backwards() {
    let mut held = 0;
    for case in cases() {
        let read = |name: &str| compiled(&fs::read_to_string(case.join(name)).unwrap());
        held += usize::from(hold(
            &read("a.loaf"),
            &read("b.loaf"),
            &case.display().to_string(),
        ));
    }
    assert!(held >= 19, "{held}");
}

#[test]
fn any_two_recipes_that_ship_are_the_same_backwards() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let recipes: Vec<(String, Compiled)> = files
        .filter(|path| path.is_file())
        .map(|path| {
            (
                path.display().to_string(),
                compiled(&fs::read_to_string(path).unwrap()),
            )
        })
        .collect();
    let mut held = 0;
    for (at, (name, left)) in recipes.iter().enumerate() {
        for (other, right) in &recipes[at + 1..] {
            held += usize::from(hold(left, right, &format!("{name} {other}")));
        }
    }
    assert!(held >= 60, "{held}");
}

#[test]
fn random_recipes_with_a_word_changed_are_the_same_backwards() {
    let mut seed = 7_u64;
    let mut random = || {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        u8::try_from(seed >> 56).unwrap()
    };
    let mut held = 0;
    for _ in 0..300 {
        let mut bytes: Vec<u8> = (0..120).map(|_| random()).collect();
        let left = recipe(Tape::new(&bytes));
        for _ in 0..3 {
            let at = usize::from(random()) % bytes.len();
            bytes[at] = random();
        }
        let right = recipe(Tape::new(&bytes));
        held += usize::from(hold(
            &compiled(&left),
            &compiled(&right),
            &format!("{left}\n---\n{right}"),
        ));
    }
    assert!(held >= 250, "{held}");
}
