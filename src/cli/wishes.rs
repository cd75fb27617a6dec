//! What is asked of one recipe besides its size: another starter, other ingredients, where a figure comes from.
//!
//! Owns the words of the options. What a wish comes to is the sheet's business; a wish that cannot be had is shown at
//! its words, as a slip in a recipe is.

use super::asked::{option_source, refusal};
use super::{Result, Unable};
use crate::diag::{Code, Diagnostic, Report, Severity, nearest};
use crate::quantity::Ratio;
use crate::sheet::{Swap, WhyFigure, Wishes};
use crate::source::{Source, Span, Spanned};
use crate::syntax::read_percent;

/// What is asked of a recipe besides its size.
#[derive(Debug, clap::Args)]
pub(super) struct Asked {
    /// Correct the dough for the starter that is at hand, so that the bread stays: `'hydration 125 %'`
    #[arg(long, value_name = "HYDRATION")]
    starter: Option<String>,
    /// Put an ingredient in the place of another, so that the bread stays; may be given again: `'honey instead of
    /// sugar'`
    #[arg(long, value_name = "SWAP")]
    swap: Vec<String>,
    /// Say line by line where a figure comes from: hydration, salt, sugar, fat, or prefermented flour
    #[arg(long, value_name = "FIGURE")]
    why: Option<String>,
}

/// The wishes, and the texts of the options that they were read from.
pub(super) struct Read {
    pub(super) wishes: Wishes,
    sources: Vec<Source>,
}

impl Asked {
    /// Reads what is asked for.
    pub(super) fn read(&self) -> Result<Read> {
        let mut sources = Vec::new();
        let starter = self.starter.as_deref().map(|value| {
            read_option("--starter", value, &mut sources, |text, span, report| {
                read_hydration(text, span, report).map(|share| Spanned::new(share, span))
            })
        });
        let swaps = read_all_swaps(&self.swap, &mut sources)?;
        let why = self.why.as_deref();
        let why = why.map(|value| read_option("--why", value, &mut sources, read_figure));
        Ok(Read {
            wishes: Wishes {
                starter: starter.transpose()?,
                swaps,
                why: why.transpose()?,
            },
            sources,
        })
    }
}

impl Read {
    /// Says that a wish cannot be had, with a mark under its words.
    pub(super) fn refused(&self, report: Report) -> Unable {
        let mut faults = report.settled().into_faults();
        faults.retain(|fault| fault.severity == Severity::Error);
        let named = |source: &&Source| faults.iter().any(|fault| fault.primary.span.source == source.id);
        let option = self.sources.iter().find(named);
        let what = option.map_or_else(
            || "the recipe cannot be worked out".to_owned(),
            |option| format!("`{}` cannot be had for this recipe", option.name),
        );
        refusal(&what, &self.sources, &faults)
    }
}

fn read_option<T>(
    option: &str,
    value: &str,
    sources: &mut Vec<Source>,
    reader: impl Fn(&str, Span, &mut Report) -> Option<T>,
) -> Result<T> {
    let source = option_source(option, value, sources.len());
    let mut report = Report::new();
    let found = reader(&source.text, source.whole(), &mut report);
    let is_sound = !report.has_errors();
    sources.push(source.clone());
    found.filter(|_| is_sound).ok_or_else(|| {
        let faults = report.settled().into_faults();
        refusal(&format!("`{option}` cannot be read"), &[source], &faults)
    })
}

/// Reads `hydration 125 %`, `125 % hydration` or `125 %`, above nought and up to five times the flour.
fn read_hydration(text: &str, span: Span, report: &mut Report) -> Option<Ratio> {
    const WORD: &str = "hydration";
    let lower = text.to_ascii_lowercase();
    let (from, to) = match (lower.strip_prefix(WORD), lower.strip_suffix(WORD)) {
        (Some(_), _) => (WORD.len(), text.len()),
        (None, Some(front)) => (0, front.len()),
        (None, None) => (0, text.len()),
    };
    let share = text.get(from..to).unwrap_or_default();
    let from = from + (share.len() - share.trim_start().len());
    let share = share.trim();
    let place = Span::new(span.source, span.start + from, span.start + from + share.len());
    let share = read_percent(share, place, report)?;
    if share.is_positive() && share <= Ratio::whole(5) {
        return Some(share);
    }
    let help = "hydration lies above 0 and up to 500 %, as in `hydration 125 %`";
    report.push(Diagnostic::new(Code::BadValue, place, "no starter holds that much water").help(help));
    None
}

/// Reads swaps that are asked of every recipe.
pub(super) fn read_swaps(values: &[String]) -> Result<Vec<Swap>> {
    read_all_swaps(values, &mut Vec::new())
}

fn read_all_swaps(values: &[String], sources: &mut Vec<Source>) -> Result<Vec<Swap>> {
    let read = |value: &String| read_option("--swap", value, sources, read_swap);
    values.iter().map(read).collect()
}

/// Reads `NEW instead of OLD`.
fn read_swap(text: &str, span: Span, report: &mut Report) -> Option<Swap> {
    const BETWEEN: &str = " instead of ";
    let bare = BETWEEN.trim();
    let lower = text.to_ascii_lowercase();
    let part = |from: usize, to: usize| -> Option<Spanned<String>> {
        let whole = text.get(from..to)?;
        let start = from + (whole.len() - whole.trim_start().len());
        let name = whole.trim();
        let place = Span::new(span.source, span.start + start, span.start + start + name.len());
        (!name.is_empty()).then(|| Spanned::new(name.to_owned(), place))
    };
    let swap = lower.find(BETWEEN).and_then(|at| {
        Some(Swap {
            new: part(0, at)?,
            old: part(at + BETWEEN.len(), text.len())?,
        })
    });
    if swap.is_none() {
        let words = |from: usize| Span::new(span.source, span.start + from, span.start + from + bare.len());
        let (place, message) = if lower.starts_with(bare) {
            (words(0), "it is not said what goes in")
        } else if lower.ends_with(bare) {
            (
                words(lower.len() - bare.len()),
                "it is not said what it takes the place of",
            )
        } else {
            (span, "it is not said what takes the place of what")
        };
        report.push(Diagnostic::new(Code::BadValue, place, message).help("write `honey instead of sugar`"));
    }
    swap
}

/// Reads the name of a figure.
fn read_figure(text: &str, span: Span, report: &mut Report) -> Option<WhyFigure> {
    let wanted = text.to_ascii_lowercase();
    let found = WhyFigure::ALL.iter().find(|(_, name)| *name == wanted);
    if let Some((figure, _)) = found {
        return Some(*figure);
    }
    let names: Vec<&str> = WhyFigure::ALL.iter().map(|(_, name)| *name).collect();
    let help = match nearest(&wanted, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("it may be {}", names.join(", ")),
    };
    let message = format!("`{text}` is no figure whose lines are told apart");
    report.push(Diagnostic::new(Code::BadValue, span, message).help(help));
    None
}
