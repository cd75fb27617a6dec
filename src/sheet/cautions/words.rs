//! Words in the text of a recipe, found whole and whatever their case or hyphens. Judges nothing.

use crate::model::recipe::{Cue, Prose, Recipe, Step};
use crate::sheet::walk::steps_of;
use crate::source::Span;

/// A stretch of text that can be searched for phrases.
pub(super) struct Text {
    /// The words in lower case, single spaces between them and one at each end.
    words: String,
    /// Where the lines that it is made of begin in it, and where they stand in the file.
    lines: Vec<(usize, Span)>,
    /// Whether it is running prose, in which a word may be said without being claimed.
    pub(super) is_prose: bool,
}

impl Text {
    /// Makes a text of a few words that stand at one place.
    pub(super) fn short(text: &str, span: Span) -> Self {
        Self::of_lines([(text, span)].into_iter(), false)
    }

    fn of_lines<'line>(parts: impl Iterator<Item = (&'line str, Span)>, is_prose: bool) -> Self {
        let mut words = String::from(" ");
        let mut lines = Vec::new();
        for (text, span) in parts {
            lines.push((words.len(), span));
            let split = text.split(|c: char| !c.is_alphanumeric());
            for word in split.filter(|word| !word.is_empty()) {
                words.extend(word.chars().flat_map(char::to_lowercase));
                words.push(' ');
            }
        }
        Self {
            words,
            lines,
            is_prose,
        }
    }

    /// Gives the places at which a phrase in lower case with single spaces is said.
    fn places<'text>(&'text self, phrase: &'text str) -> impl Iterator<Item = usize> + 'text {
        self.words.match_indices(phrase).filter_map(|(at, _)| {
            let framed =
                self.words.get(..at)?.ends_with(' ') && self.words.get(at + phrase.len()..)?.starts_with(' ');
            framed.then_some(at)
        })
    }

    /// Says whether the phrase stands in the text.
    pub(super) fn says(&self, phrase: &str) -> bool {
        self.places(phrase).next().is_some()
    }

    /// Says whether any of the phrases stands in the text.
    pub(super) fn says_any(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.says(phrase))
    }

    /// Finds the first of the phrases that is said, and its line.
    pub(super) fn find<'phrase>(&self, phrases: &[&'phrase str]) -> Option<(&'phrase str, Span)> {
        self.find_unless(phrases, 0, &[])
    }

    /// Finds the first of the phrases that is said with none of some words among the last few before it.
    pub(super) fn find_unless<'phrase>(
        &self,
        phrases: &[&'phrase str],
        last: usize,
        unwanted: &[&str],
    ) -> Option<(&'phrase str, Span)> {
        phrases.iter().find_map(|phrase| {
            let place = self.places(phrase).find(|place| {
                let before = self.words.get(..*place).unwrap_or_default();
                let mut words = before.split_whitespace().rev().take(last);
                words.all(|word| !unwanted.contains(&word))
            })?;
            Some((*phrase, self.span_at(place)?))
        })
    }

    fn span_at(&self, place: usize) -> Option<Span> {
        let line = self.lines.iter().rev().find(|(start, _)| *start <= place);
        line.map(|(_, span)| *span)
    }
}

/// The texts of a recipe, read once for all rules.
pub(super) struct Texts<'a> {
    /// What the recipe says of itself: title, tags, what stands at its head and at its foot.
    pub(super) own: Vec<Text>,
    /// The words of each step, with the prose below it and the cue.
    pub(super) steps: Vec<(&'a Step, Text)>,
}

impl<'a> Texts<'a> {
    pub(super) fn of(recipe: &'a Recipe) -> Self {
        let title = Text::short(&recipe.title.value, recipe.title.span);
        let tags = recipe.details.tags.iter();
        let tags = tags.map(|tag| Text::short(tag, recipe.title.span));
        let prose = recipe.about.iter().chain(&recipe.notes);
        let prose = prose.map(|prose| Text::of_lines(lines_of(prose), true));
        let steps = recipe.blocks.iter().flat_map(steps_of);
        Self {
            own: [title].into_iter().chain(tags).chain(prose).collect(),
            steps: steps.map(|step| (step, of_step(step))).collect(),
        }
    }

    /// Gives every text.
    pub(super) fn all(&self) -> impl Iterator<Item = &Text> {
        self.own.iter().chain(self.steps.iter().map(|(_, text)| text))
    }
}

fn lines_of(prose: &Prose) -> impl Iterator<Item = (&str, Span)> {
    prose.lines.iter().map(|line| (line.value.as_str(), line.span))
}

fn of_step(step: &Step) -> Text {
    let cue = step.until.iter().filter_map(|until| match &until.value {
        Cue::Words(words) => Some((words.as_str(), until.span)),
        Cue::Core(_) | Cue::Dough(_) | Cue::Grown(_) => None,
    });
    let prose = step.prose.iter().flat_map(lines_of);
    Text::of_lines(
        [(step.words.as_str(), step.span)]
            .into_iter()
            .chain(cue)
            .chain(prose),
        true,
    )
}
