//! Step lines: a time, words, and the clauses that the words carry.

use pest::iterators::{Pair, Pairs};

use super::amounts::next_number;
use super::entry::{Home, first_word_of};
use super::formula::inside;
use super::grammar::{self, Rule};
use super::heat::{lower_degrees, lower_temperature};
use super::problems;
use super::reader::{Reader, single_spaced};
use super::times::{lower_length, lower_time};
use super::tree::{Cue, Folds, Hands, StepLine, StepTime, TemperatureWord};
use crate::diag::Code;
use crate::quantity::Ratio;
use crate::source::Spanned;

/// Words that open a clause.
const CLAUSES: &[&str] = &["at", "in", "to", "with", "until", "hands"];
/// The same in a variation.
const CHANGE_CLAUSES: &[&str] = &["at", "in", "to", "with", "until", "hands", "after"];

/// Reads what stands behind the time of a line.
pub(crate) fn parse_step(
    time: Spanned<StepTime>,
    tail: &str,
    home: Home,
    reader: &mut Reader<'_>,
) -> Option<StepLine> {
    let text = single_spaced(tail);
    let mut line = StepLine {
        time,
        text: Spanned::new(text, reader.span(0, tail.len())),
        words: String::new(),
        at: None,
        to: None,
        folds: None,
        hands: None,
        until: None,
        after: None,
    };
    let (rule, openings) = match home {
        Home::Variation => (Rule::change_step, CHANGE_CLAUSES),
        _ => (Rule::step_tail, CLAUSES),
    };
    let Some(first) = first_word_of(tail, openings) else {
        line.words.clone_from(&line.text.value);
        return problems::expect_sound_step(&line, reader).then_some(line);
    };
    let (words, clauses) = tail.split_at(first);
    line.words = single_spaced(words.trim_end());
    let mut reader = reader.from(first);
    match grammar::read(rule, clauses) {
        Ok(pair) => {
            for piece in pair.into_inner() {
                lower_piece(piece, &mut line, &mut reader);
            }
            problems::expect_sound_step(&line, &mut reader).then_some(line)
        }
        Err(misfit) => {
            problems::report_tail(clauses, home, rule, &misfit, &mut reader);
            None
        }
    }
}

/// Reads the time in front of a step.
pub(crate) fn lower_timing(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<StepTime> {
    let pair = inside(pair)?;
    match pair.as_rule() {
        Rule::overnight => Some(StepTime::Overnight),
        Rule::then => Some(StepTime::Then),
        _ => lower_time(pair, reader).map(StepTime::Takes),
    }
}

/// Puts one piece of the line in its place; the second of a kind stays among the words.
fn lower_piece(piece: Pair<'_, Rule>, line: &mut StepLine, reader: &mut Reader<'_>) {
    match piece.as_rule() {
        Rule::step_at if line.at.is_none() => {
            line.at = inside(piece).and_then(|inner| lower_temperature(inner, reader));
        }
        Rule::step_in if line.at.is_none() => {
            let span = inside(piece).map(|inner| reader.span_of(&inner));
            line.at = span.map(|span| Spanned::new(TemperatureWord::Place("fridge".to_owned()), span));
        }
        Rule::step_to if line.to.is_none() => {
            line.to = inside(piece).and_then(|inner| lower_temperature(inner, reader));
        }
        Rule::folds if line.folds.is_none() => line.folds = lower_folds(piece, reader),
        Rule::hands if line.hands.is_none() => {
            let on = piece.as_str().len() == "hands-on".len();
            let hands = if on { Hands::On } else { Hands::Off };
            line.hands = Some(Spanned::new(hands, reader.span_of(&piece)));
        }
        Rule::until => line.until = inside(piece).and_then(|inner| lower_cue(inner, reader)),
        Rule::step_after => line.after = inside(piece).map(|inner| reader.words_of(&inner)),
        _ => push_word(&mut line.words, piece.as_str()),
    }
}

/// Appends a word; a comma left behind by a clause joins the word before it.
fn push_word(words: &mut String, word: &str) {
    if !words.is_empty() && !word.starts_with([',', ';']) {
        words.push(' ');
    }
    words.push_str(&single_spaced(word));
}

fn lower_folds(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Folds>> {
    let span = reader.span_of(&pair);
    let mut pairs = pair.into_inner();
    let count = pairs.next()?;
    let Some(count) = count.as_str().parse().ok().filter(|count| *count <= 100) else {
        let place = reader.span_of(&count);
        let message = format!("{} folds in one step", count.as_str());
        reader.fault(Code::AbsurdAmount, place, message, "look for a digit too many");
        return None;
    };
    let every = match pairs.next() {
        Some(length) => Some(lower_length(length, reader)?),
        None => None,
    };
    Some(Spanned::new(Folds { count, every }, span))
}

fn lower_cue(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Spanned<Cue>> {
    if pair.as_rule() == Rule::rest {
        return Some(reader.words_of(&pair).map(Cue::Words)).filter(|cue| cue.span.start < cue.span.end);
    }
    let whole = reader.words_of(&pair).span;
    let rule = pair.as_rule();
    let mut pairs = pair.into_inner();
    let cue = match rule {
        Rule::core_cue => Cue::Core(lower_degrees(pairs.next()?, reader)?),
        Rule::dough_cue => Cue::Dough(lower_degrees(pairs.next()?, reader)?),
        _ => Cue::Grown(lower_growth(&mut pairs, reader)?),
    };
    Some(Spanned::new(cue, whole))
}

fn lower_growth(pairs: &mut Pairs<'_, Rule>, reader: &mut Reader<'_>) -> Option<Ratio> {
    if pairs.peek()?.as_rule() == Rule::doubled {
        return Some(Ratio::whole(2));
    }
    next_number(pairs, reader)
}
