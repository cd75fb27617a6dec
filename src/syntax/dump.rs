//! A tree as compact text, for tests and for whoever wants to see what the parser saw.

use std::fmt::Write as _;

use super::tree::{
    BodyItem, Cue, Entry, EntryKind, FormulaLine, Item, KeyLine, Measurement, Property, Prose, Qualifier,
    Quantity, Reading, StepLine, StepTime, TemperatureWord, Tree,
};
use crate::quantity::{CelsiusRange, Elapsed, ElapsedRange, Grams, Ratio};
use crate::source::{Source, Span, Spanned};

/// Writes a tree, one line an item; what is shown in guillemets is cut out of the source by its span.
#[must_use]
pub fn dump(source: &Source, tree: &Tree) -> String {
    let mut out = String::new();
    for item in &tree.items {
        match item {
            Item::Blank(_) => out.push_str("blank\n"),
            Item::Comment(span) => line(&mut out, "comment", source, *span),
            Item::Junk(span) => line(&mut out, "junk", source, *span),
            Item::Key(key) => {
                let _ = writeln!(out, "{}{}", key_line(key), comment(source, key.comment));
            }
            Item::Block(block) => {
                let _ = write!(out, "block {:?}", block.kind.value);
                if let Some(name) = &block.name {
                    let _ = write!(out, " «{}»", source.slice(name.span));
                }
                for qualifier in &block.qualifiers {
                    let _ = write!(out, ", {}", qualified(&qualifier.value));
                }
                let _ = writeln!(out, "{}", comment(source, block.comment));
                for item in &block.body {
                    body_item(&mut out, source, item);
                }
            }
        }
    }
    out
}

fn line(out: &mut String, what: &str, source: &Source, span: Span) {
    let _ = writeln!(out, "{what} «{}»", source.slice(span));
}

fn comment(source: &Source, span: Option<Span>) -> String {
    span.map_or_else(String::new, |span| format!("  «{}»", source.slice(span)))
}

fn key_line(key: &KeyLine) -> String {
    format!("key {} = {:?}", key.key.value, key.value.value)
}

fn qualified(qualifier: &Qualifier) -> String {
    match qualifier {
        Qualifier::ShareOfFlour(share) => format!("{} of the flour", percent(share)),
        Qualifier::Size(weight) => grams(weight),
        Qualifier::Each(weight) => format!("{} each", grams(weight)),
        Qualifier::Keep(weight) => format!("{} to keep", grams(weight)),
        Qualifier::Junk => "junk".to_owned(),
    }
}

fn body_item(out: &mut String, source: &Source, item: &BodyItem) {
    out.push_str("  ");
    match item {
        BodyItem::Blank(_) => out.push_str("blank\n"),
        BodyItem::Comment(span) => line(out, "comment", source, *span),
        BodyItem::Junk(span) => line(out, "junk", source, *span),
        BodyItem::Prose(prose) => {
            out.push_str("prose\n");
            prose_lines(out, prose);
        }
        BodyItem::Entry(Entry {
            kind,
            comment: remark,
            prose,
            ..
        }) => {
            let _ = writeln!(out, "{}{}", entry(source, kind), comment(source, *remark));
            if let Some(prose) = prose {
                prose_lines(out, prose);
            }
        }
    }
}

fn prose_lines(out: &mut String, prose: &Prose) {
    for line in &prose.lines {
        let _ = writeln!(out, "    | {}", line.value);
    }
}

fn entry(source: &Source, kind: &EntryKind) -> String {
    match kind {
        EntryKind::Formula(line) => formula(source, line),
        EntryKind::Step(line) => step(source, line),
        EntryKind::Note(text) => format!("note {:?}", text.value),
        EntryKind::Without(text) => format!("without {:?}", text.value),
        EntryKind::Scope(text) => format!("in {:?}", text.value),
        EntryKind::Key(key) => key_line(key),
        EntryKind::Property(property) => property_line(property),
        EntryKind::Measurement(Measurement { reading, of }) => {
            format!("measured {} of {:?}", reading_words(&reading.value), of.value)
        }
    }
}

fn formula(source: &Source, line: &FormulaLine) -> String {
    let mut out = format!(
        "«{}» {} {:?}",
        source.slice(line.quantity.span),
        quantity(&line.quantity.value),
        line.name.value
    );
    if let Some(share) = &line.hydration {
        let _ = write!(out, " hydration {}", percent(&share.value));
    }
    clause(&mut out, "at", line.at.as_ref().map(|at| temperature(&at.value)));
    clause(&mut out, "as", words(line.as_known.as_ref()));
    clause(&mut out, "prepared", words(line.preparation.as_ref()));
    clause(&mut out, "instead of", words(line.instead_of.as_ref()));
    clause(&mut out, "after", words(line.after.as_ref()));
    out
}

fn clause(out: &mut String, word: &str, text: Option<String>) {
    if let Some(text) = text {
        let _ = write!(out, " {word} {text}");
    }
}

fn words(text: Option<&Spanned<String>>) -> Option<String> {
    text.map(|text| format!("{:?}", text.value))
}

fn quantity(quantity: &Quantity) -> String {
    match quantity {
        Quantity::Weight { grams: weight, unit } => format!("{} in {}", grams(weight), unit.symbol()),
        Quantity::Percent(share) => percent(share),
        Quantity::Parts(count) => format!("{count} parts"),
        Quantity::Volume { count, unit } => format!("{count} {}", unit.symbol()),
        Quantity::Count(count) => format!("{count} pieces"),
        Quantity::All => "all".to_owned(),
        Quantity::Some => "some".to_owned(),
    }
}

fn step(source: &Source, line: &StepLine) -> String {
    let mut out = format!(
        "«{}» {} {:?}",
        source.slice(line.time.span),
        step_time(&line.time.value),
        line.words
    );
    clause(&mut out, "at", line.at.as_ref().map(|at| temperature(&at.value)));
    clause(&mut out, "to", line.to.as_ref().map(|to| temperature(&to.value)));
    if let Some(folds) = &line.folds {
        let every = folds.value.every.map(elapsed);
        let _ = write!(out, " folds {} every {every:?}", folds.value.count);
    }
    clause(
        &mut out,
        "hands",
        line.hands.as_ref().map(|hands| format!("{:?}", hands.value)),
    );
    clause(
        &mut out,
        "until",
        line.until.as_ref().map(|until| cue(&until.value)),
    );
    clause(&mut out, "after", words(line.after.as_ref()));
    out
}

fn step_time(time: &StepTime) -> String {
    match time {
        StepTime::Takes(range) => elapsed_range(*range),
        StepTime::Overnight => "overnight".to_owned(),
        StepTime::Then => "then".to_owned(),
    }
}

fn cue(cue: &Cue) -> String {
    match cue {
        Cue::Core(range) => format!("core {}", celsius(range)),
        Cue::Dough(range) => format!("dough {}", celsius(range)),
        Cue::Grown(times) => format!("grown {times}"),
        Cue::Words(words) => format!("{words:?}"),
    }
}

fn property_line(property: &Property) -> String {
    match property {
        Property::Like(name) => format!("like {:?}", name.value),
        Property::Share { share, nutrient } => format!("{} of {:?}", percent(&share.value), nutrient.value),
        Property::Energy(energy) => format!("energy {}", energy.value),
        Property::Contains(list) => {
            format!(
                "contains {:?}",
                list.iter().map(|word| &word.value).collect::<Vec<_>>()
            )
        }
        Property::Also(name) => format!("also {:?}", name.value),
        Property::Price {
            amount,
            currency,
            per,
        } => {
            format!("price {} {:?} per {}", amount.value, currency.value, grams(per))
        }
        Property::CountsAsFlour(counts) => format!("counts as flour: {counts}"),
        Property::Wet(wet) => format!("wet: {wet}"),
        Property::Each(weight) => format!("each {}", grams(&weight.value)),
        Property::PerVolume { grams: weight, unit } => {
            format!("{} per {}", grams(&weight.value), unit.symbol())
        }
        Property::Absorption(share) => format!("absorption {}", percent(&share.value)),
    }
}

fn reading_words(reading: &Reading) -> String {
    match reading {
        Reading::Temperature(range) => celsius(range),
        Reading::Weight(weight) => grams(weight),
        Reading::Time(range) => elapsed_range(*range),
        Reading::Count(count) => count.to_string(),
        Reading::Share(share) => percent(share),
    }
}

fn temperature(word: &TemperatureWord) -> String {
    match word {
        TemperatureWord::Degrees(range) => celsius(range),
        TemperatureWord::Place(place) => place.clone(),
    }
}

fn grams(weight: &Grams) -> String {
    format!("{} g", weight.0)
}

fn percent(share: &Ratio) -> String {
    format!("{} %", share * &Ratio::HUNDRED)
}

fn celsius(range: &CelsiusRange) -> String {
    if range.low == range.high {
        format!("{} C", range.low.0)
    } else {
        format!("{} to {} C", range.low.0, range.high.0)
    }
}

fn elapsed_range(range: ElapsedRange) -> String {
    if range.is_range() {
        format!("{} to {}", elapsed(range.least), elapsed(range.most))
    } else {
        elapsed(range.least)
    }
}

fn elapsed(length: Elapsed) -> String {
    format!("{} s", length.seconds)
}
