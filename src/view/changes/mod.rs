//! A comparison in words: what differs in the bread, as sentences and as rows with both versions side by side.
//!
//! Owns every word of it; comparisons are told in English. One form serves all: the terminal and Markdown print
//! the sentences, the page prints both sides, and JSON has everything. Which lines differ is settled before.

mod figures;
mod headline;
mod history;
mod lines;
mod say;
mod sections;
mod steps;
mod types;

use super::document::Decimal;
use crate::compare::{Comparison, In, Part, PartChange, ProseChange, Run, Side, compare};
use crate::model::catalog::eu_list;
use crate::quantity::WeightUnit;
use figures::view_figures;
pub use history::{COLUMNS, VersionRow};
use say::Say;
use sections::view_sections;
pub use types::{
    Amount, COMPARISON_VERSION, ComparisonDocument, FigureRow, FileComparison, Kind, PartView, Row, RunView,
    Section, Verdict,
};

/// A version as a comparison sees it.
#[derive(Clone, Copy, Debug)]
pub struct Version<'a> {
    /// What it is called in front of people.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
    /// What came of it; nothing where an error stands in its way.
    pub side: Option<&'a Side<'a>>,
}

/// Compares two versions; one of them may not be there, and either may not compute.
#[must_use]
pub fn view_comparison(old: Option<Version<'_>>, new: Option<Version<'_>>) -> FileComparison {
    let sides = (
        old.and_then(|version| version.side),
        new.and_then(|version| version.side),
    );
    let comparison = match (old, new, sides) {
        (Some(_), Some(_), (Some(old), Some(new))) => Some(compare(old, new)),
        _ => None,
    };
    let is_computed = |side: Option<&Side<'_>>| side.is_some_and(|side| side.sheet.is_some());
    let is_whole = comparison.is_some() && is_computed(sides.0) && is_computed(sides.1);
    // A version that stands alone is shown beside itself: everything is as it is.
    let able = [sides.1, sides.0].into_iter().flatten();
    let alone = able
        .max_by_key(|side| side.sheet.is_some())
        .filter(|_| !is_whole)
        .map(|side| compare(side, side));
    let shown = comparison.as_ref().or(alone.as_ref());
    let say = Say::new(units(sides.0, sides.1));
    let texts_differ = old.map(|version| version.text) != new.map(|version| version.text);
    let verdict = match (old.is_some(), new.is_some(), &comparison) {
        (false, _, _) => Verdict::Added,
        (_, false, _) => Verdict::Gone,
        _ if !texts_differ && comparison.as_ref().is_none_or(Comparison::is_empty) => Verdict::Same,
        _ if !is_whole => Verdict::Unknown,
        (_, _, None) => Verdict::Unknown,
        (_, _, Some(comparison)) => verdict(comparison),
    };
    let mut view = FileComparison {
        old: old.map(|version| version.name.to_owned()),
        new: new.map(|version| version.name.to_owned()),
        title: title(sides),
        verdict,
        headline: String::new(),
        scaled: comparison
            .as_ref()
            .and_then(|comparison| comparison.scaled.as_ref())
            .map(Decimal::of),
        figures: alone
            .as_ref()
            .or(comparison.as_ref())
            .map_or_else(Vec::new, |shown| view_figures(shown, say)),
        sections: shown.map_or_else(Vec::new, |shown| view_sections(shown, say)),
        rest: comparison.as_ref().map_or_else(Vec::new, view_rest),
        parts: comparison
            .as_ref()
            .map_or_else(Vec::new, |comparison| view_parts(comparison, say)),
        obstacles: obstacles(old, new),
        difference: None,
    };
    if let Some(side) = alone.as_ref().and(standing(sides)) {
        view.leave_out(side, comparison.is_none());
    }
    view.headline = headline::headline(&view, shown, say);
    view
}

/// Says which version stands alone where one of them has no figures.
fn standing((old, new): (Option<&Side<'_>>, Option<&Side<'_>>)) -> Option<In> {
    let is_computed = |side: Option<&Side<'_>>| side.is_some_and(|side| side.sheet.is_some());
    match (old, new) {
        (None, None) => None,
        (Some(_), None) => Some(In::Old),
        (None, Some(_)) => Some(In::New),
        (old, new) if is_computed(old) && !is_computed(new) => Some(In::Old),
        _ => Some(In::New),
    }
}

fn verdict(comparison: &Comparison) -> Verdict {
    if comparison.is_empty() {
        Verdict::Writing
    } else if comparison.scaled.is_some() && headline::is_only_scaled(comparison) {
        Verdict::Scaled
    } else {
        Verdict::Changed
    }
}

/// Weights are shown in the largest unit of the newer version.
fn units(old: Option<&Side<'_>>, new: Option<&Side<'_>>) -> WeightUnit {
    let unit = new
        .or(old)
        .and_then(|side| side.recipe.details.units.first().copied());
    unit.unwrap_or(WeightUnit::Gram)
}

fn title((old, new): (Option<&Side<'_>>, Option<&Side<'_>>)) -> String {
    new.or(old)
        .map_or_else(String::new, |side| side.recipe.title.value.clone())
}

/// Says which version does not compute, and whose figures are shown for want of better ones.
fn obstacles(old: Option<Version<'_>>, new: Option<Version<'_>>) -> Vec<String> {
    let obstacle = |version: Option<Version<'_>>, other: Option<Version<'_>>| {
        let version = version?;
        let has_sheet = |version: &Version<'_>| version.side.is_some_and(|side| side.sheet.is_some());
        if has_sheet(&version) {
            return None;
        }
        let why = match version.side {
            None => "has errors, so that its bread is not known",
            Some(_) => "leaves its sizes open, so that it has no figures",
        };
        let other = other
            .filter(has_sheet)
            .map(|other| format!("; these are the figures of {}", other.name));
        Some(format!("{} {why}{}", version.name, other.unwrap_or_default()))
    };
    [obstacle(old, new), obstacle(new, old)]
        .into_iter()
        .flatten()
        .collect()
}

/// Tells of keys, allergens and prose.
fn view_rest(comparison: &Comparison) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (allergens, kind, told) in [
        (&comparison.allergens_new, Kind::Added, "allergen named now"),
        (&comparison.allergens_gone, Kind::Gone, "allergen no longer named"),
    ] {
        let names = eu_list().named(&allergens.iter().copied().collect());
        if !names.is_empty() {
            rows.push(told_row(
                "allergens",
                kind,
                format!("{told}: {}", names.join(", ")),
            ));
        }
    }
    for change in &comparison.keys {
        let told = match (&change.old, &change.new) {
            (Some(old), Some(new)) => format!("{}: {old} → {new}", change.key),
            (None, Some(new)) => format!("{}: {new}, before not given", change.key),
            (Some(old), None) => format!("{}: no longer given, before {old}", change.key),
            (None, None) => continue,
        };
        let mut row = told_row("key", say::kind(change.old.is_some(), change.new.is_some()), told);
        let said = |value: &Option<String>| value.as_ref().map(|value| format!("{}: {value}", change.key));
        (row.old, row.new) = (said(&change.old), said(&change.new));
        rows.push(row);
    }
    rows.extend(comparison.prose.iter().map(|ProseChange { of, runs }| Row {
        runs: say::runs(runs),
        ..told_row("prose", Kind::Changed, format!("{of} {}", reworded(runs)))
    }));
    rows
}

/// Says what became of prose: `reworded`, `new` or `gone`.
fn reworded(runs: &[Run]) -> &'static str {
    let has_old = runs.iter().any(|run| run.stands != In::New);
    let has_new = runs.iter().any(|run| run.stands != In::Old);
    match (has_old, has_new) {
        (false, _) => "new",
        (_, false) => "gone",
        _ => "reworded",
    }
}

fn told_row(what: &'static str, kind: Kind, told: String) -> Row {
    Row {
        what,
        kind,
        old: None,
        new: None,
        old_amount: None,
        new_amount: None,
        told: Some(told),
        runs: Vec::new(),
    }
}

fn view_parts(comparison: &Comparison, say: Say) -> Vec<PartView> {
    let variations = comparison.variations.iter().map(|part| ("variation", part));
    let records = comparison.records.iter().map(|part| ("bake", part));
    variations
        .chain(records)
        .map(|(what, part)| view_part(what, part, say))
        .collect()
}

fn view_part(what: &str, Part { name, change }: &Part, say: Say) -> PartView {
    let view = |kind, told: String| PartView {
        title: format!("{what} {name}"),
        kind,
        told,
        sections: Vec::new(),
        rest: Vec::new(),
    };
    match change {
        PartChange::Added(says) => view(Kind::Added, says.join(", ")),
        PartChange::Gone(says) => view(Kind::Gone, says.join(", ")),
        PartChange::Reads(runs) => PartView {
            rest: vec![Row {
                runs: say::runs(runs),
                ..told_row("prose", Kind::Changed, "reworded".to_owned())
            }],
            ..view(Kind::Changed, String::new())
        },
        PartChange::Changed(inner) => PartView {
            sections: view_sections(inner, say)
                .into_iter()
                .filter(Section::is_told)
                .collect(),
            rest: view_rest(inner),
            ..view(Kind::Changed, String::new())
        },
    }
}
