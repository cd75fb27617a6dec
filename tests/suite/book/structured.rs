//! The recipe for machines that read pages, against the sheet that it is of. Published values S1 to S5 (Google
//! Search, recipe structured data).

use loafwright::model::verbs::Purpose;
use loafwright::view::Around;
use serde_json::Value;

use super::reader_of;
use crate::cards::shipped;

fn structured(around: &Around) -> Vec<(loafwright::pipeline::Compiled, Value)> {
    let all = shipped().into_iter();
    all.map(|(_, compiled)| {
        let page = reader_of(&compiled, around.clone()).unwrap();
        let value = serde_json::to_value(&page.structured).unwrap();
        (compiled, value)
    })
    .collect()
}

/// Gives the steps with their sections taken apart.
fn steps(value: &Value) -> Vec<&Value> {
    let list = value["recipeInstructions"].as_array().unwrap();
    list.iter()
        .flat_map(|one| match one["itemListElement"].as_array() {
            Some(steps) => steps.iter().collect::<Vec<_>>(),
            None => vec![one],
        })
        .collect()
}

/// S1, S2: the properties that are required and recommended, as far as a recipe knows them.
#[test]
fn s1_s2_required_and_recommended() {
    let picture = Around {
        address: Some("https://example.org/a.html".to_owned()),
        picture_address: Some("https://example.org/a.jpg".to_owned()),
        ..Around::default()
    };
    for (compiled, value) in structured(&picture) {
        let (recipe, _) = compiled.plain.as_ref().unwrap();
        assert_eq!(value["@context"], "https://schema.org");
        assert_eq!(value["@type"], "Recipe");
        assert_eq!(value["name"], recipe.title.value);
        assert_eq!(value["image"], "https://example.org/a.jpg");
        assert_eq!(value["url"], "https://example.org/a.html");
        for name in ["description", "recipeYield", "totalTime"] {
            assert!(
                value[name].as_str().is_some_and(|text| !text.is_empty()),
                "{name}"
            );
        }
        assert!(!value["recipeIngredient"].as_array().unwrap().is_empty());
        assert_eq!(value.get("keywords").is_some(), !recipe.details.tags.is_empty());
        let author = recipe.details.author.as_ref().or(recipe.place.author.as_ref());
        assert_eq!(value["author"]["name"].as_str(), author.map(String::as_str));
        // What is not known is not said.
        assert_eq!(value.get("datePublished"), None);
        assert_eq!(value.get("nutrition"), None);
    }
    for (_, value) in structured(&Around::default()) {
        assert_eq!(
            (value.get("image"), value.get("url"), value.get("@id")),
            (None, None, None)
        );
    }
}

/// A step says when it is folded, as its card does.
#[test]
fn folds_are_said() {
    let mut said = 0;
    for (compiled, value) in structured(&Around::default()) {
        let (_, sheet) = compiled.plain.as_ref().unwrap();
        let placed = sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps);
        for (placed, step) in placed.zip(steps(&value)) {
            let text = step["text"].as_str().unwrap();
            assert_eq!(text.contains("Fold after"), placed.step.folds.is_some(), "{text}");
            said += usize::from(placed.step.folds.is_some());
        }
    }
    assert!(said > 5, "{said}");
}

/// S3: a list of `HowToStep` with text; one for every step of the sheet.
#[test]
fn s3_a_step_for_every_step() {
    for (compiled, value) in structured(&Around::default()) {
        let (_, sheet) = compiled.plain.as_ref().unwrap();
        let steps = steps(&value);
        let placed: Vec<_> = sheet.schedule.lanes.iter().flat_map(|lane| &lane.steps).collect();
        assert_eq!(steps.len(), placed.len());
        for (step, placed) in steps.iter().zip(placed) {
            assert_eq!(step["@type"], "HowToStep");
            let text = step["text"].as_str().unwrap();
            let words: Vec<&str> = placed.step.words.split_whitespace().collect();
            assert!(
                text.to_lowercase().contains(&words.join(" ").to_lowercase()),
                "{text}"
            );
            assert!(!text.contains(|letter: char| letter.is_control()), "{text:?}");
        }
    }
}

/// Reads a length of time in the form that S4 names.
fn minutes(value: &Value) -> u32 {
    let text = value.as_str().unwrap();
    let mut rest = text.strip_prefix("PT").unwrap();
    let mut sum = 0;
    for (unit, of) in [('H', 60), ('M', 1)] {
        if let Some((count, behind)) = rest.split_once(unit) {
            sum += count.parse::<u32>().unwrap() * of;
            rest = behind;
        }
    }
    assert!(rest.is_empty(), "{text}");
    sum
}

/// S4, S5: single lengths; the time before the oven and the time in it go together, and add up to the whole.
#[test]
fn s4_s5_times() {
    for (compiled, value) in structured(&Around::default()) {
        let (_, sheet) = compiled.plain.as_ref().unwrap();
        let whole = minutes(&value["totalTime"]);
        assert_eq!(whole, sheet.schedule.middle.as_minutes());
        let is_baked = sheet
            .schedule
            .lanes
            .iter()
            .flat_map(|lane| &lane.steps)
            .any(|placed| placed.purpose == Some(Purpose::Bake));
        assert_eq!(value.get("cookTime").is_some(), is_baked);
        assert_eq!(value.get("prepTime").is_some(), is_baked);
        if is_baked {
            assert_eq!(minutes(&value["prepTime"]) + minutes(&value["cookTime"]), whole);
        }
    }
}

/// Every line that goes in is named with its weight, and none that pours what others make.
#[test]
fn an_ingredient_for_every_line() {
    for (compiled, value) in structured(&Around::default()) {
        let (_, sheet) = compiled.plain.as_ref().unwrap();
        let lines = sheet.blocks.iter().flat_map(|block| &block.lines);
        let wanted = lines.filter(|line| !matches!(line.source, loafwright::sheet::Source::Stage(_)));
        let wanted: Vec<_> = wanted.collect();
        let named = value["recipeIngredient"].as_array().unwrap();
        assert_eq!(named.len(), wanted.len());
        for (text, line) in named.iter().zip(wanted) {
            let text = text.as_str().unwrap();
            assert!(text.contains(&line.name), "{text}");
            assert_eq!(
                text.starts_with(|first: char| first.is_ascii_digit()),
                line.weight.is_some(),
                "{text}"
            );
        }
    }
}
