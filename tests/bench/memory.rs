//! One recipe's way through memory, stage by stage, and many faults of one, without a file.

use std::hint::black_box;
use std::time::Instant;

use loafwright::diag::{Code, Diagnostic};
use loafwright::pipeline::{bakehouse, compile};
use loafwright::render::html::Renderer;
use loafwright::render::json::{FileFaults, render_faults};
use loafwright::render::problems::{Look, render_problems};
use loafwright::sheet::Request;
use loafwright::source::{Source, SourceId, Span};
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

/// Prints what telling of many faults takes, each of them; twice as many in a text twice as long take no more each.
pub(crate) fn faults() {
    for count in [450, 900] {
        let line = format!("# {}\n", "x".repeat(1000));
        let text = format!("{line}10 g flower\n").repeat(count as usize);
        let source = Source::new(SourceId(0), "bread.loaf", text.clone());
        let places = text
            .match_indices("flower")
            .map(|(at, word)| (at, at + word.len()));
        let faults: Vec<Diagnostic> = places
            .map(|(start, end)| {
                let span = Span::new(source.id, start, end);
                Diagnostic::new(Code::UnknownIngredient, span, "`flower` is not known")
            })
            .collect();
        let sources = [source];
        each(&format!("{count} faults as JSON"), count, || {
            black_box(render_faults(vec![FileFaults::of(
                "bread.loaf",
                &sources,
                &faults,
            )]));
        });
        each(&format!("{count} faults, excerpts"), count, || {
            black_box(render_problems(&sources, &faults, Look::PLAIN));
        });
    }
}

fn told(stage: &str, run: impl FnMut()) {
    each(stage, RECIPES, run);
}

fn each(stage: &str, count: u32, mut run: impl FnMut()) {
    let best = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed() / count
        })
        .min()
        .unwrap_or_default();
    println!("  {stage:<24} {:>9.1} µs", best.as_secs_f64() * 1e6);
}
