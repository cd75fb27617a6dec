//! Bench records: what was measured on a day.
//!
//! Owns the date and the words for what can be measured. Compares nothing with the recipe; a record is
//! shown as it was written.

use super::names::{Wanted, expect_name};
use super::page::{Page, is_damaged};
use super::readings::check_reading;
use super::words::holds_words;
use super::{Findings, Scene, blocks};
use crate::diag::{Code, Diagnostic, nearest};
use crate::model::catalog::fold_name;
use crate::model::recipe::{Prose, Reading, Recipe, Record};
use crate::model::verbs::Verb;
use crate::source::Spanned;
use crate::syntax::tree::{Block, BlockKind, BodyItem, EntryKind, Measurement};

/// The years that a record can be of.
const YEARS: std::ops::RangeInclusive<u16> = 1970..=2199;

/// A record needs the day that it is of.
const DATE: Wanted = Wanted {
    block: "bench record",
    what: "date",
    below: "write what was measured below it, indented",
    code: Code::BadRecord,
    help: "write the day behind the word: `bake 2026-03-14:`",
};

/// What a thermometer is put into, in folded form.
const WARM: &[&str] = &[
    "air", "core", "crumb", "dough", "flour", "fridge", "kitchen", "milk", "oven", "proofer", "room",
    "starter", "stone", "tap", "water",
];

/// What is put on the scales, in folded form.
const HEAVY: &[&str] = &[
    "batch",
    "bread",
    "crumb",
    "dough",
    "filling",
    "flour",
    "left over",
    "loaf",
    "piece",
    "roll",
    "starter",
    "tin",
    "topping",
    "total",
    "water",
];

/// What takes time besides steps, in folded form.
const LONG: &[&str] = &["all", "start to finish", "total", "whole"];

/// What is counted or judged, in folded form.
const COUNTED: &[&str] = &[
    "bread",
    "crumb",
    "crust",
    "flavour",
    "fold",
    "loaf",
    "mark",
    "of 10",
    "of ten",
    "out of 10",
    "out of ten",
    "piece",
    "roll",
    "slice",
    "taste",
    "volume",
];

/// What is a share, in folded form.
const SHARED: &[&str] = &[
    "bake loss",
    "growth",
    "handling loss",
    "humidity",
    "hydration",
    "loss",
    "rise",
];

/// Lowers the bench records of a page; a faulty one is left out.
pub(in crate::model) fn lower_records(
    page: &Page<'_>,
    scene: &Scene<'_>,
    recipe: &Recipe,
    findings: &mut Findings,
) -> Vec<Record> {
    page.records
        .iter()
        .filter_map(|block| lower_record(block, scene, recipe, findings))
        .collect()
}

fn lower_record(
    block: &Block,
    scene: &Scene<'_>,
    recipe: &Recipe,
    findings: &mut Findings,
) -> Option<Record> {
    let mut faults = Findings::default();
    let date = expect_date(block, &mut faults);
    let mut readings = Vec::new();
    let mut prose = Vec::new();
    for item in &block.body {
        match item {
            BodyItem::Entry(entry) => {
                match &entry.kind {
                    EntryKind::Measurement(measured) => {
                        check_words(measured, scene, recipe, &mut faults);
                        check_reading(measured, &mut faults);
                        readings.push((measured.reading.clone(), measured.of.value.clone()));
                    }
                    EntryKind::Note(text) => prose.push(Prose {
                        span: text.span,
                        lines: vec![text.clone()],
                    }),
                    other => faults
                        .report
                        .extend(blocks::not_allowed(entry, other, BlockKind::Bake)),
                }
                prose.extend(entry.prose.clone());
            }
            BodyItem::Prose(text) => prose.push(text.clone()),
            BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Junk(_) => {}
        }
    }
    if readings.is_empty() && prose.is_empty() && !is_damaged(block) {
        faults.push(
            Diagnostic::new(Code::EmptyBlock, block.header, "nothing was measured on this day")
                .help("write it below, indented: `24 C dough`, `788 g loaf`"),
        );
    }
    let is_sound = !faults.report.has_errors() && !is_damaged(block);
    findings.report.merge(faults.report);
    date.filter(|_| is_sound).map(|date| Record {
        date,
        readings,
        prose,
    })
}

fn expect_date(block: &Block, findings: &mut Findings) -> Option<Spanned<(u16, u8, u8)>> {
    let name = expect_name(block, &DATE, findings)?;
    match read_date(&name.value) {
        Ok(date) => Some(Spanned::new(date, name.span)),
        Err(message) => {
            findings.push(
                Diagnostic::new(Code::BadRecord, name.span, message)
                    .help("write year, month and day with two dashes: `2026-03-14`"),
            );
            None
        }
    }
}

/// Reads `2026-03-14`; the failure is the sentence for the baker.
fn read_date(text: &str) -> Result<(u16, u8, u8), String> {
    let parts: Vec<&str> = text.split('-').collect();
    let digits =
        |part: &str, length: usize| part.len() == length && part.bytes().all(|byte| byte.is_ascii_digit());
    let numbers = match parts.as_slice() {
        [year, month, day] if digits(year, 4) && digits(month, 2) && digits(day, 2) => {
            (year.parse::<u16>(), month.parse::<u8>(), day.parse::<u8>())
        }
        _ => return Err(format!("`{text}` is no date")),
    };
    let (Ok(year), Ok(month), Ok(day)) = numbers else {
        return Err(format!("`{text}` is no date"));
    };
    if !YEARS.contains(&year) {
        return Err(format!(
            "the year {year} is not between {} and {}",
            YEARS.start(),
            YEARS.end()
        ));
    }
    match days_in(year, month) {
        None => Err(format!("there is no month {month}")),
        Some(days) if day == 0 || day > days => {
            Err(format!("there is no day {day} in month {month} of {year}"))
        }
        Some(_) => Ok((year, month, day)),
    }
}

fn days_in(year: u16, month: u8) -> Option<u8> {
    let is_leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        2 if is_leap => Some(29),
        2 => Some(28),
        4 | 6 | 9 | 11 => Some(30),
        1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
        _ => None,
    }
}

/// Warns of a reading of something that nobody measures; it is shown all the same.
fn check_words(measured: &Measurement, scene: &Scene<'_>, recipe: &Recipe, findings: &mut Findings) {
    let of = fold_name(&measured.of.value);
    let (known, is_time) = match measured.reading.value {
        Reading::Temperature(_) => (WARM, false),
        Reading::Weight(_) => (HEAVY, false),
        Reading::Time(_) => (LONG, true),
        Reading::Count(_) => (COUNTED, false),
        Reading::Share(_) => (SHARED, false),
    };
    let piece = recipe.makes.as_ref().map(|makes| fold_name(&makes.value.piece));
    let titles: Vec<String> = scene.names.titles().map(fold_name).collect();
    let mentions = |word: &str| holds_words(&of, word);
    let is_known = known.iter().any(|word| mentions(word))
        || piece.as_deref().is_some_and(mentions)
        || titles.iter().any(|title| mentions(title))
        || (is_time && Verb::first_in(&measured.of.value).is_some());
    if is_known {
        return;
    }
    let fault = Diagnostic::new(
        Code::UnknownReading,
        measured.of.span,
        format!("`{}` is nothing that is measured like this", measured.of.value),
    )
    .label("shown as it is written");
    findings.push(match nearest(&of, known.iter().copied()) {
        Some(near) => fault.help(format!("did you mean `{near}`?")).fix(
            format!("write `{near}`"),
            measured.of.span,
            near,
        ),
        None if is_time => fault.help("write the verb of the step: `11 h 40 min bulk`"),
        None => fault.help(format!("measured like this are {}", known.join(", "))),
    });
}
