//! What a terminal shows of a recipe: the whole bread, each block as a list of its own, the steps, the figures.
//! Owns the choice; the parts are those of the card.

use super::answers::{Answer, scaled_pieces, view_answers};
use super::card::{CardOptions, language, units};
use super::cautions::{Cautions, view_cautions};
use super::facts::{Fact, Head, view_facts, view_head};
use super::formula::{List, view_kept, view_lists, view_whole};
use super::setting::Setting;
use super::steps::{Method, view_method};
use super::warmth::view_working;
use super::word_list::Word;
use super::words::Words;
use crate::model::recipe::Recipe;
use crate::sheet::Sheet;

/// What a terminal shows of a recipe.
#[derive(Debug)]
pub struct BenchSheet {
    /// Title and what it makes.
    pub head: Head,
    /// The whole bread.
    pub whole: List,
    /// Every block, stages first, then the dough, fillings and toppings last.
    pub lists: Vec<List>,
    /// What is left over of stages, a sentence each.
    pub kept: Vec<String>,
    /// What is done.
    pub method: Method,
    /// Answers to what was asked besides.
    pub answers: Vec<Answer>,
    /// At which weights pieces are scaled that do not all weigh the same; often empty.
    pub scaled: String,
    /// What describes the bread.
    pub facts: Vec<Fact>,
    /// Warmth and time with their working, a sentence a line; often empty.
    pub warmth: Vec<String>,
    /// Allergens and cautions.
    pub cautions: Cautions,
    /// The words between all that.
    pub labels: Labels,
}

/// The words that stand between the parts, in the language of the card.
#[derive(Clone, Copy, Debug)]
pub struct Labels {
    /// Over the names of ingredients.
    pub ingredient: &'static str,
    /// Over the shares of a block's own flour.
    pub of_own_flour: &'static str,
    /// Over the shares of all flour.
    pub of_all_flour: &'static str,
    /// Before what a list adds up to.
    pub total: &'static str,
    /// Over the steps.
    pub method: &'static str,
    /// Before a cue.
    pub until: &'static str,
    /// Before the moments of folds.
    pub fold_at: &'static str,
    /// Over warmth and time.
    pub warmth: &'static str,
    /// Before the allergens.
    pub contains: &'static str,
    /// Over the cautions.
    pub take_care: &'static str,
}

/// Makes what a terminal shows of a recipe and its sheet.
#[must_use]
pub fn bench_sheet(recipe: &Recipe, sheet: &Sheet, options: &CardOptions) -> BenchSheet {
    let words = Words::for_language(&language(recipe));
    let setting = Setting::new(recipe, sheet, words, units(recipe, options));
    BenchSheet {
        head: view_head(&setting),
        whole: view_whole(&setting),
        lists: view_lists(&setting),
        kept: view_kept(&setting),
        method: view_method(&setting),
        answers: view_answers(&setting),
        scaled: scaled_pieces(&setting).unwrap_or_default(),
        facts: view_facts(&setting),
        warmth: view_working(&setting),
        cautions: view_cautions(&setting, &[]),
        labels: Labels {
            ingredient: words.get(Word::Ingredient),
            of_own_flour: words.get(Word::OfOwnFlour),
            of_all_flour: words.get(Word::OfAllFlour),
            total: words.get(Word::Total),
            method: words.get(Word::Method),
            until: words.get(Word::Until),
            fold_at: words.get(Word::FoldAt),
            warmth: words.get(Word::Warmth),
            contains: words.get(Word::Contains),
            take_care: words.get(Word::TakeCare),
        },
    }
}
