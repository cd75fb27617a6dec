//! One recipe's way through memory, stage by stage, without a file.

use std::hint::black_box;
use std::time::Instant;

use loafwright::pipeline::{bakehouse, compile};
use loafwright::render::html::Renderer;
use loafwright::sheet::Request;
use loafwright::source::{Source, SourceId};
use loafwright::syntax;
use loafwright::view::{CardOptions, card};

use super::recipes::recipe;

/// Recipes in a round, and rounds; the best round counts, since a busy machine only adds to it.
const RECIPES: u32 = 200;
const ROUNDS: u32 = 7;

/// Prints what each stage takes of a recipe.
pub(crate) fn run() {
    let sources: Vec<Source> = (0..RECIPES)
        .map(|number| Source::new(SourceId(0), "bread.loaf", recipe(number as usize)))
        .collect();
    let house = bakehouse(Vec::new());
    let request = Request::default();
    let options = CardOptions::default();
    let renderer = Renderer::new().expect("the built-in templates compile");
    let compiled: Vec<_> = sources
        .iter()
        .map(|source| compile(source, &house.place, &request))
        .collect();
    assert!(
        compiled.iter().all(|one| one.plain.is_some()),
        "a recipe of the bench is faulty"
    );
    let cards: Vec<_> = compiled
        .iter()
        .filter_map(|one| {
            let (recipe, sheet) = one.plain.as_ref()?;
            Some(card(recipe, sheet, &one.variations, &one.records, &options))
        })
        .collect();
    told("parse", || {
        for source in &sources {
            black_box(syntax::parse(source));
        }
    });
    told("parse, check, solve", || {
        for source in &sources {
            black_box(compile(source, &house.place, &request));
        }
    });
    told("lay out the card", || {
        for one in &compiled {
            if let Some((recipe, sheet)) = &one.plain {
                black_box(card(recipe, sheet, &one.variations, &one.records, &options));
            }
        }
    });
    told("render the card", || {
        for card in &cards {
            black_box(renderer.card(card).expect("a card renders"));
        }
    });
}

fn told(stage: &str, mut run: impl FnMut()) {
    let best = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed() / RECIPES
        })
        .min()
        .unwrap_or_default();
    println!("  {stage:<24} {:>9.1} µs", best.as_secs_f64() * 1e6);
}
