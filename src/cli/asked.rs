//! What is asked of a recipe on the command line: another size, another room, another amount of leaven, other units.
//!
//! The values are read as the lines of a recipe are, so that they may be written in the same words and a
//! slip in one is shown in the same way.

use super::{Result, Unable};
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::Tin;
use crate::model::{makes_of, tin_of};
use crate::pipeline::Compiled;
use crate::quantity::{Celsius, Grams, Ratio, WeightUnit};
use crate::render::problems::{Look, render_problems};
use crate::sheet::{Request, SizeRequest};
use crate::source::{Source, SourceId, Span};
use crate::syntax::tree::TemperatureWord;
use crate::syntax::{parse_makes, parse_tin, read_percent, read_temperature, read_weight};

/// A size in place of the recipe's own.
#[derive(Debug, clap::Args)]
#[group(multiple = false)]
pub(super) struct Size {
    /// Scale the recipe to so many pieces: `'3 loaves of 900 g'`, `'4 dozen rolls'`
    #[arg(long, value_name = "WHAT")]
    makes: Option<String>,
    /// Scale the recipe to so much flour: `'5 kg'`; the pieces keep their weight
    #[arg(long, value_name = "WEIGHT")]
    flour: Option<String>,
    /// Scale each piece to a tin; their number stays: `'lidded 20 x 10 x 10 cm, 1.9 ml per g'`
    #[arg(long, value_name = "TIN")]
    tin: Option<String>,
    /// Size the recipe for this tin, a piece in each; their number becomes that of the tins, so give it again for
    /// more: `'lidded 20 x 10 x 10 cm'`
    #[arg(long, value_name = "TIN")]
    fit: Vec<String>,
}

impl Size {
    /// Gives the number of pieces that is asked for without a word for them.
    pub(super) fn bare_count(&self) -> Option<&str> {
        let makes = self.makes.as_deref().map(str::trim)?;
        (!makes.is_empty() && makes.bytes().all(|byte| byte.is_ascii_digit())).then_some(makes)
    }

    /// Reads the size that is asked for.
    pub(super) fn request(&self) -> Result<Request> {
        let makes = read("--makes", self.makes.as_deref(), |text, span, report| {
            parse_makes(text, span, report).map(|spec| SizeRequest::Makes(makes_of(spec, text)))
        })?;
        let flour = read("--flour", self.flour.as_deref(), |text, span, report| {
            let (weight, _) = read_weight(text, span, report)?;
            if weight < Grams::whole(1) {
                let fault = Diagnostic::new(
                    Code::BadValue,
                    span,
                    "of less than a gram of flour nothing can be weighed",
                );
                report.push(fault.help("write how much flour is to be baked, as in `5 kg`"));
            }
            Some(SizeRequest::Flour(weight))
        })?;
        let tin = read("--tin", self.tin.as_deref(), |text, span, report| {
            parse_tin(text, span, report).map(|spec| SizeRequest::Tin(tin_of(spec, text)))
        })?;
        let tins = self.fit.iter().map(|value| {
            read("--fit", Some(value), |text, span, report| {
                parse_tin(text, span, report).map(|spec| tin_of(spec, text))
            })
        });
        let tins: Vec<Tin> = tins.collect::<Result<Vec<_>>>()?.into_iter().flatten().collect();
        let fit = (!tins.is_empty()).then_some(SizeRequest::Fit(tins));
        Ok(Request {
            size: makes.or(flour).or(tin).or(fit),
            ..Request::default()
        })
    }
}

/// Refuses a bare number of pieces with the word that the recipe has for them.
pub(super) fn lacks_piece(count: &str, piece: &str) -> Unable {
    let source = option_source("--makes", count, 0);
    let message = format!("`{count}` does not say what the pieces are");
    let fault = Diagnostic::new(Code::BadValue, source.whole(), message);
    let fault = fault.help(format!(
        "write a word for them behind the number; the recipe says `{piece}`"
    ));
    refusal("`--makes` cannot be read", &[source], &[fault])
}

/// Refuses a tin that is asked for and does not say how much dough goes in, where the recipe does not either.
pub(super) fn expect_size(request: &Request, compiled: &Compiled) -> Result<()> {
    let Some(SizeRequest::Tin(tin)) = &request.size else {
        return Ok(());
    };
    let own = compiled
        .unsized_recipe
        .as_ref()
        .and_then(|recipe| recipe.tin.as_ref());
    let is_of_option = |fault: &&Diagnostic| {
        fault.code == Code::TinDoesNotSize && own.is_none_or(|own| own.span != fault.primary.span)
    };
    let Some(fault) = compiled.report.iter().find(is_of_option) else {
        return Ok(());
    };
    let source = option_source("--tin", &tin.written, 0);
    let mut fault = Diagnostic::new(fault.code, source.whole(), fault.message.clone());
    fault.help = Some("add the millilitres of tin for a gram of dough, `, 2.8 ml per g`".to_owned());
    Err(refusal("`--tin` does not size this recipe", &[source], &[fault]))
}

/// Another room than the one that the formula was written for.
#[derive(Debug, clap::Args)]
pub(super) struct Room {
    /// Time rising anew for a room of this temperature, `'17 C'`: an estimate, and said to be one
    #[arg(long, value_name = "TEMPERATURE")]
    room: Option<String>,
}

impl Room {
    /// Reads the room that is asked for.
    pub(super) fn celsius(&self) -> Result<Option<Celsius>> {
        let word = read("--room", self.room.as_deref(), read_temperature)?;
        match word {
            None => Ok(None),
            Some(TemperatureWord::Degrees(range)) => Ok(Some(range.middle())),
            Some(TemperatureWord::Place(_)) => Err(Unable::new(
                "`--room` wants degrees: write a number and `C` or `F`",
            )),
        }
    }
}

/// Another amount of leaven than the one that is written.
#[derive(Debug, clap::Args)]
pub(super) struct Leaven {
    /// Say how long it rises with so much of its leaven, which is its starter (levain) or yeast: `'50 %'`; an estimate
    #[arg(long, value_name = "SHARE")]
    leaven: Option<String>,
}

impl Leaven {
    /// Reads the share that is asked for; past a quarter and four times nothing is known.
    pub(super) fn share(&self) -> Result<Option<Ratio>> {
        let share = read("--leaven", self.leaven.as_deref(), read_percent)?;
        let hundred = Ratio::HUNDRED;
        let is_near = |share: &Ratio| {
            let percent = share * &hundred;
            percent >= Ratio::whole(25) && percent <= Ratio::whole(400)
        };
        if share.as_ref().is_none_or(is_near) {
            return Ok(share);
        }
        Err(Unable::new(
            "`--leaven` has no estimate for that; write a share from 25 % to 400 %",
        ))
    }
}

/// Reads the value of an option with the reader of a recipe's value.
fn read<T>(
    option: &str,
    value: Option<&str>,
    reader: impl Fn(&str, Span, &mut Report) -> Option<T>,
) -> Result<Option<T>> {
    let Some(value) = value else { return Ok(None) };
    let source = option_source(option, value, 0);
    let mut report = Report::new();
    let found = reader(&source.text, source.whole(), &mut report);
    if found.is_some() && !report.has_errors() {
        return Ok(found);
    }
    let faults = report.settled().into_faults();
    Err(refusal(&format!("`{option}` cannot be read"), &[source], &faults))
}

/// Takes the value of an option for a source, so that a mark can stand below it.
pub(super) fn option_source(option: &str, value: &str, number: usize) -> Source {
    let number = u32::try_from(number).unwrap_or(0);
    Source::new(SourceId(u32::MAX - number), option, value.trim())
}

/// Says what is wrong with an option, with the faults that were found in it.
pub(super) fn refusal(what: &str, sources: &[Source], faults: &[Diagnostic]) -> Unable {
    let text = render_problems(sources, faults, Look::COLOURED);
    Unable::new(format!("{what}\n\n{}", text.trim_end()))
}

/// Reads the units that weights are shown in.
pub(super) fn units(value: Option<&str>) -> Result<Vec<WeightUnit>> {
    let words = value.into_iter().flat_map(|value| value.split(','));
    words
        .map(|word| {
            let word = word.trim();
            WeightUnit::of_symbol(word).ok_or_else(|| {
                Unable::new(format!(
                    "`--units` knows no `{}`; write some of g, kg, mg, oz, lb, with commas between",
                    word.escape_debug()
                ))
            })
        })
        .collect()
}
