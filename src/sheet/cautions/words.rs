//! Words in the text of a recipe, found whole and whatever their case or hyphens. Judges nothing.

use crate::model::recipe::{Cue, Line, Prose, Recipe, Step};
use crate::sheet::walk::{lines_of, steps_of};
use crate::source::Span;

/// Words that take back what follows them: there is no honey where somebody writes `no honey`.
const DENIALS: &[&str] = &[
    "no", "not", "without", "never", "t", "nor", "instead", "than", "omit", "skip", "free", "kein", "keine",
    "keinen", "keinem", "ohne", "nicht", "nie", "statt", "anstatt", "sans", "pas", "jamais", "ni", "lieu",
];
/// Words that may stand between a denial and what it takes back.
const BETWEEN: &[&str] = &[
    "a", "an", "any", "the", "more", "of", "for", "from", "need", "use", "using", "baking", "add", "added",
    "adding", "with", "mit", "den", "das", "dem", "de", "d", "du", "la", "le", "l",
];

/// Marks that end a thought: what stands before one takes nothing back behind it.
const STOPS: [char; 6] = ['.', ',', ';', ':', '!', '?'];
/// The word that they become in a text.
const STOP: &str = "|";

/// A stretch of text that can be searched for phrases in lower case with single spaces.
pub(super) struct Text {
    /// The words in lower case, single spaces between them and one at each end; a stop is a word.
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
            words.reserve(text.len() + 1);
            for letter in text.chars() {
                if letter.is_ascii_alphanumeric() {
                    words.push(letter.to_ascii_lowercase());
                } else if letter.is_alphanumeric() {
                    words.extend(letter.to_lowercase());
                } else {
                    if !words.ends_with(' ') {
                        words.push(' ');
                    }
                    if STOPS.contains(&letter) {
                        words.push_str(STOP);
                        words.push(' ');
                    }
                }
            }
            if !words.ends_with(' ') {
                words.push(' ');
            }
        }
        Self {
            words,
            lines,
            is_prose,
        }
    }

    /// Gives the places at which a phrase is said.
    fn places<'text>(&'text self, phrase: &'text str) -> impl Iterator<Item = usize> + 'text {
        self.words.match_indices(phrase).filter_map(|(at, _)| {
            let framed =
                self.words.get(..at)?.ends_with(' ') && self.words.get(at + phrase.len()..)?.starts_with(' ');
            framed.then_some(at)
        })
    }

    /// Says whether any of the phrases stands in the text.
    pub(super) fn says_any(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.places(phrase).next().is_some())
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
                let words = before.split_whitespace().rev();
                let mut words = words.filter(|word| *word != STOP).take(last);
                words.all(|word| !unwanted.contains(&word))
            })?;
            Some((*phrase, self.span_at(place)?))
        })
    }

    /// Finds the first of the phrases that is said and not taken back by the words right before it.
    pub(super) fn find_meant<'phrase>(&self, phrases: &[&'phrase str]) -> Option<(&'phrase str, Span)> {
        phrases.iter().find_map(|phrase| {
            let place = self.places(phrase).find(|place| !self.is_denied(*place))?;
            Some((*phrase, self.span_at(place)?))
        })
    }

    /// Says whether any of the phrases is said and not taken back by the words right before it.
    pub(super) fn means_any(&self, phrases: &[&str]) -> bool {
        self.find_meant(phrases).is_some()
    }

    /// Gives every word in its order, with whether the words right before it take it back.
    pub(super) fn each_word(&self) -> impl Iterator<Item = (&str, bool)> {
        let mut denied = false;
        self.words.split_whitespace().map(move |word| {
            let said = (word, denied);
            denied = DENIALS.contains(&word) || denied && BETWEEN.contains(&word);
            said
        })
    }

    /// Says whether the words right before a place take back what is said there.
    fn is_denied(&self, place: usize) -> bool {
        let before = self.words.get(..place).unwrap_or_default();
        let mut words = before.split_whitespace().rev();
        let nearest = words.find(|word| !BETWEEN.contains(word));
        nearest.is_some_and(|word| DENIALS.contains(&word))
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
    /// The name and the preparation of each line.
    pub(super) lines: Vec<(&'a Line, Text)>,
    /// The prose below each line that has some.
    pub(super) remarks: Vec<(&'a Line, Text)>,
    marks: Marks,
}

impl<'a> Texts<'a> {
    pub(super) fn of(recipe: &'a Recipe) -> Self {
        let title = Text::short(&recipe.title.value, recipe.title.span);
        let tags = recipe.details.tags.iter();
        let tags = tags.map(|tag| Text::short(tag, recipe.title.span));
        let prose = recipe.about.iter().chain(&recipe.notes);
        let prose = prose.map(|prose| Text::of_lines(spans_of(prose), true));
        let steps = recipe.blocks.iter().flat_map(steps_of);
        let lines = || recipe.blocks.iter().flat_map(lines_of);
        let mut texts = Self {
            own: [title].into_iter().chain(tags).chain(prose).collect(),
            steps: steps.map(|step| (step, of_step(step))).collect(),
            lines: lines().map(|(line, _)| (line, of_line(line))).collect(),
            remarks: lines()
                .filter_map(|(line, _)| Some((line, line.prose.as_ref()?)))
                .map(|(line, prose)| (line, Text::of_lines(spans_of(prose), true)))
                .collect(),
            marks: Marks::default(),
        };
        let mut marks = Marks::default();
        let named = texts.lines.iter().map(|(_, text)| text);
        for text in texts.all().chain(named) {
            text.words.split(' ').for_each(|word| marks.note(word));
        }
        texts.marks = marks;
        texts
    }

    /// Gives every text but the names of the lines.
    pub(super) fn all(&self) -> impl Iterator<Item = &Text> {
        self.own.iter().chain(self.bench())
    }

    /// Gives the texts of what is done: of the steps, and the prose below the lines.
    pub(super) fn bench(&self) -> impl Iterator<Item = &Text> {
        let steps = self.steps.iter().map(|(_, text)| text);
        steps.chain(self.remarks.iter().map(|(_, text)| text))
    }

    /// Gives those of some phrases whose words all stand somewhere in the recipe; mostly none, so that
    /// hardly any text has to be searched.
    pub(super) fn likely<'phrase>(&self, phrases: &[&'phrase str]) -> Vec<&'phrase str> {
        let is_likely = |phrase: &&str| phrase.split(' ').all(|word| self.marks.may_have(word));
        phrases.iter().copied().filter(is_likely).collect()
    }
}

/// A mark for each word, several words to a mark: an absent mark rules a word out.
#[derive(Default)]
struct Marks([u64; 32]);

impl Marks {
    fn note(&mut self, word: &str) {
        let (at, bit) = Self::mark_of(word);
        if let Some(marks) = self.0.get_mut(at) {
            *marks |= bit;
        }
    }

    fn may_have(&self, word: &str) -> bool {
        let (at, bit) = Self::mark_of(word);
        self.0.get(at).is_some_and(|marks| marks & bit != 0)
    }

    fn mark_of(word: &str) -> (usize, u64) {
        let mixed = word
            .bytes()
            .fold(7_u32, |mixed, byte| mixed.wrapping_mul(33) ^ u32::from(byte));
        let at = mixed >> 6 & 31;
        (usize::try_from(at).unwrap_or_default(), 1 << (mixed & 63))
    }
}

fn of_line(line: &Line) -> Text {
    let parts = [Some(&line.name.value), line.preparation.as_ref()];
    let parts = parts.into_iter().flatten();
    Text::of_lines(parts.map(|part| (part.as_str(), line.span)), false)
}

fn spans_of(prose: &Prose) -> impl Iterator<Item = (&str, Span)> {
    prose.lines.iter().map(|line| (line.value.as_str(), line.span))
}

fn of_step(step: &Step) -> Text {
    let cue = step.until.iter().filter_map(|until| match &until.value {
        Cue::Words(words) => Some((words.as_str(), until.span)),
        Cue::Core(_) | Cue::Dough(_) | Cue::Grown(_) => None,
    });
    let prose = step.prose.iter().flat_map(spans_of);
    Text::of_lines(
        [(step.words.as_str(), step.span)]
            .into_iter()
            .chain(cue)
            .chain(prose),
        true,
    )
}
