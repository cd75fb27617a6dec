//! The sentences about sizes: what is open, what contradicts, and the line that would settle it.

use std::collections::BTreeSet;

use crate::diag::{Code, Diagnostic, Severity};
use crate::model::recipe::{Block, BlockId, BlockKind, FlourMeant, Line, Makes, Recipe};
use crate::quantity::Ratio;
use crate::source::Span;

/// The line that an equation stands for.
#[derive(Clone, Debug)]
pub(super) struct Origin {
    span: Span,
    says: String,
}

impl Origin {
    pub(super) fn new(span: Span, says: impl Into<String>) -> Self {
        Self {
            span,
            says: says.into(),
        }
    }
}

/// Up to this share of what is stated, a difference is rounding.
pub(super) fn rounding() -> Ratio {
    Ratio::fraction(5, 1000).unwrap_or_default()
}

/// Up to this share of what is stated, a difference is only warned of.
pub(super) fn leeway() -> Ratio {
    Ratio::fraction(5, 100).unwrap_or_default()
}

/// Gives a difference as a share of what is stated.
pub(super) fn relative(by: &Ratio, stated: &Ratio) -> Ratio {
    by.abs().checked_div(&stated.abs()).unwrap_or_else(|| by.abs())
}

/// Writes a weight for a sentence.
pub(super) fn grams(weight: &Ratio) -> String {
    let decimals = if weight.abs() < Ratio::whole(10) { 2 } else { 1 };
    format!("{} g", weight.to_trimmed(decimals))
}

/// Writes a share for a sentence.
fn percent(share: &Ratio) -> String {
    format!("{} %", (share * &Ratio::HUNDRED).to_trimmed(2))
}

pub(super) fn no_flour(block: &Block) -> Diagnostic {
    Diagnostic::new(
        Code::NoFlour,
        block.span,
        format!(
            "the {} counts in percent, but has no flour of its own",
            block.title
        ),
    )
    .label("100 % of what?")
    .help("a percentage counts against the flour on the block's own lines: add the flour, or give weights")
}

/// A name near to that of a flour, without which the percentages of its block count against nothing whole.
/// The same fault as the warning that its line has had, but no card can be trusted.
pub(super) fn flour_misspelt(meant: &FlourMeant) -> Diagnostic {
    let FlourMeant { written, near } = meant;
    let mut fault = Diagnostic::new(
        Code::UnknownIngredient,
        written.span,
        format!("`{}` is not in the ingredient table", written.value),
    )
    .label("the percentages count only if this is flour")
    .help(format!("did you mean `{near}`?"))
    .fix(format!("write `{near}`"), written.span, near.clone());
    fault.severity = Severity::Error;
    fault
}

/// A dough that holds no flour at all: figures in percent of flour say nothing of it.
pub(super) fn dough_without_flour(block: &Block, unknown: &[&Line]) -> Diagnostic {
    let mut fault = Diagnostic::new(
        Code::NoFlour,
        block.span,
        format!("there is no flour in the {}", block.title),
    );
    fault.severity = Severity::Warning;
    let fault = match unknown {
        [] => fault.help(
            "add the flour; what is flour in your bakehouse can be said in bakehouse.loaf, `counts as flour`",
        ),
        _ => fault.help("a name that is not in the ingredient table counts as no flour: say what it is like, `as bread flour`"),
    };
    unknown.iter().fold(fault, |fault, line| {
        fault.other(line.name.span, "not known as flour")
    })
}

/// Flour that is only a placeholder, and shares of it.
pub(super) fn flour_weighs_nothing(block: &Block, flours: &[&Line]) -> Diagnostic {
    let place = flours.first().map_or(block.span, |line| line.span);
    Diagnostic::new(
        Code::NoFlour,
        place,
        format!(
            "the {} counts in percent, but its flour weighs nothing",
            block.title
        ),
    )
    .label("100 % of what?")
    .help("give the flour its weight")
}

pub(super) fn parts_beside_others(block: &Block, flours: &[&Line]) -> Diagnostic {
    let place = flours.first().map_or(block.span, |line| line.span);
    Diagnostic::new(
        Code::FlourShares,
        place,
        format!("the flours of the {} are partly in parts and partly not", block.title),
    )
    .label("flour in another measure")
    .help("all the flour parts of a block together are its 100 %: write every flour of the block in parts, or none")
}

pub(super) fn flours_past_whole(block: &Block, flours: &[&Line], sum: &Ratio) -> Diagnostic {
    flours_fault(
        block,
        flours,
        format!(
            "the flours of the {} in percent already come to {}, and more flour is weighed",
            block.title,
            percent(sum)
        ),
    )
    .help("weigh all the flours, or lower the percentages so that the weighed flour has room in the 100 %")
}

pub(super) fn flour_shares(block: &Block, flours: &[&Line], sum: &Ratio) -> Diagnostic {
    let missing = &Ratio::ONE - sum;
    let fault = flours_fault(
        block,
        flours,
        format!(
            "the flours of the {} add up to {}, not to 100 %",
            block.title,
            percent(sum)
        ),
    );
    if missing.is_positive() {
        fault.help(format!("{} of flour is missing", percent(&missing)))
    } else {
        fault.help(format!("take {} of flour away", percent(&missing.abs())))
    }
}

fn flours_fault(block: &Block, flours: &[&Line], message: String) -> Diagnostic {
    let mut spans = flours.iter().map(|line| line.span);
    let fault =
        Diagnostic::new(Code::FlourShares, spans.next().unwrap_or(block.span), message).label("flour");
    spans.fold(fault, |fault, span| fault.other(span, "flour"))
}

pub(super) fn whole_twice(recipe: &Recipe, stage: BlockId, first: Span, second: Span) -> Diagnostic {
    let title = title_of(recipe, stage);
    Diagnostic::new(
        Code::StageShort,
        second,
        format!("the whole {title} is poured twice"),
    )
    .label("nothing is left for this line")
    .other(first, "poured here")
    .help("give one of the two a weight or a share")
}

pub(super) fn too_awkward(recipe: &Recipe) -> Diagnostic {
    let place = recipe
        .blocks
        .get(recipe.main.0)
        .map_or(recipe.title.span, |block| block.span);
    Diagnostic::new(
        Code::SumsTooAwkward,
        place,
        "the shares of these stages make fractions too long to work with",
    )
    .help("use rounder shares, or give some of the stages in weights")
}

/// Two lines that cannot both hold.
pub(super) fn disagree(
    origins: &[Origin],
    number: usize,
    beside: &BTreeSet<usize>,
    by: &Ratio,
    fits: Option<&str>,
) -> Diagnostic {
    let apart = grams(&by.abs());
    conflict(Code::SizesDisagree, origins, number, beside).help(match fits {
        Some(fits) => format!("they are {apart} apart: write `{fits}`, or change the other lines"),
        None => format!("they are {apart} apart: change one of them, or leave one out"),
    })
}

/// Two lines that differ by little more than rounding; the weights win.
pub(super) fn differ(
    origins: &[Origin],
    number: usize,
    beside: &BTreeSet<usize>,
    (by, miss): (&Ratio, &Ratio),
    fits: Option<&str>,
) -> Diagnostic {
    let fits = fits.map_or_else(String::new, |fits| format!(", which make `{fits}`"));
    conflict(Code::SizesDiffer, origins, number, beside).help(format!(
        "they are {} apart ({}); the other lines are followed{fits}",
        grams(&by.abs()),
        percent(miss)
    ))
}

/// Writes a size that would fit as the baker would: `makes: 2 loaves of 680 g`.
pub(super) fn makes_of(makes: &Makes, each: &Ratio) -> String {
    let baked = if makes.baked { " baked" } else { "" };
    format!(
        "makes: {} {} of {}{baked}",
        makes.count.to_trimmed(0),
        makes.piece,
        weighed(each)
    )
}

/// Writes a size of the flour that would fit.
pub(super) fn flour_of(flour: &Ratio) -> String {
    format!("flour: {}", weighed(flour))
}

/// Writes a weight as it would stand in a recipe, near enough to be no more than rounding.
fn weighed(weight: &Ratio) -> String {
    let decimals = u32::from(*weight < Ratio::HUNDRED);
    format!("{} g", weight.to_trimmed(decimals))
}

fn conflict(code: Code, origins: &[Origin], number: usize, beside: &BTreeSet<usize>) -> Diagnostic {
    let place = origins.get(number);
    let message = match code {
        Code::SizesDiffer => "this size and the other lines differ a little",
        _ => "this size and the other lines contradict each other",
    };
    let fault = place.map_or_else(
        || {
            Diagnostic::new(
                code,
                origins.first().map_or_else(nowhere, |origin| origin.span),
                message,
            )
        },
        |origin| Diagnostic::new(code, origin.span, message).label(origin.says.clone()),
    );
    beside
        .iter()
        .filter_map(|at| origins.get(*at))
        .fold(fault, |fault, origin| {
            fault.other(origin.span, origin.says.clone())
        })
}

const fn nowhere() -> Span {
    Span::new(crate::source::SourceId(0), 0, 0)
}

pub(super) fn share_unclear(block: &Block, span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::SizeOpen,
        span,
        format!(
            "the flour of the {} cannot be counted before its size is known",
            block.title
        ),
    )
    .label("a share of the flour")
    .help("write its lines in percentages or parts only, or give its size in grams")
}

/// A share of the flour on a stage that holds none.
pub(super) fn share_of_no_flour(block: &Block, span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::NoFlour,
        span,
        format!("there is no flour in the {} to be a share of", block.title),
    )
    .help(format!("give it a size in weight, `{}, 200 g:`", block.title))
}

pub(super) fn dough_open(recipe: &Recipe) -> Diagnostic {
    if let (Some(tin), None) = (
        &recipe.tin,
        recipe
            .makes
            .as_ref()
            .and_then(|makes| makes.value.weight.as_ref()),
    ) {
        return Diagnostic::new(
            Code::TinDoesNotSize,
            tin.span,
            "a tin alone does not say how much dough goes in",
        )
        .label("how full?")
        .help("add the millilitres of tin for a gram of dough, `, 2.8 ml per g`, or a weight to `makes`");
    }
    let block = recipe.blocks.get(recipe.main.0);
    let (place, title) = block.map_or((recipe.title.span, "dough"), |block| {
        (block.span, block.title.as_str())
    });
    let fault = Diagnostic::new(
        Code::SizeOpen,
        place,
        format!("nothing says how big the {title} is"),
    )
    .label("only shares, no size")
    .help("add `makes: 2 loaves of 650 g` or `flour: 1 kg`, or weigh one of the flours");
    match &recipe.makes {
        Some(makes) => fault.other(makes.span, "no weight for a piece"),
        None => fault,
    }
}

pub(super) fn stage_open(block: &Block, in_formula: bool, has_flour: bool) -> Diagnostic {
    let help = match block.kind {
        BlockKind::Filling | BlockKind::Topping => {
            format!(
                "weigh its lines, or say how much goes on a piece: `{}, 35 g each:`",
                block.title
            )
        }
        _ if in_formula && has_flour => format!(
            "say it in its header, as a share or as a weight: `{0}, 15 % of the flour:` or `{0}, 200 g:`",
            block.title
        ),
        _ if in_formula => format!("say it in its header: `{}, 200 g:`", block.title),
        _ => format!(
            "pour a weight or a share of it, `25 % {}`, or weigh one of its lines",
            block.title
        ),
    };
    Diagnostic::new(
        Code::SizeOpen,
        block.span,
        format!("nothing says how much {} to make", block.title),
    )
    .label("only shares, no size")
    .help(help)
}

pub(super) fn stage_short(block: &Block, poured: Span, short: &Ratio) -> Diagnostic {
    Diagnostic::new(
        Code::StageShort,
        poured,
        format!("{} of {} are missing", grams(short), block.title),
    )
    .label("poured here")
    .other(block.span, "made here")
    .help(format!(
        "make {} more of it, or pour {}less",
        grams(short),
        if block.keep.is_some() { "or keep " } else { "" }
    ))
}

/// More of a stage is kept than there is, or than is left of it.
pub(super) fn kept_too_much(block: &Block, kept: &Ratio, elsewhere: &Ratio, total: &Ratio) -> Diagnostic {
    let (title, short) = (&block.title, grams(&(&(kept + elsewhere) - total)));
    let poured = if elsewhere.is_zero() {
        String::new()
    } else {
        format!(" and {} are poured elsewhere", grams(elsewhere))
    };
    let keep = block.keep.as_ref().map(|keep| keep.span);
    let message = format!(
        "{} of {title} are kept{poured}, and only {} are made",
        grams(kept),
        grams(total)
    );
    Diagnostic::new(Code::StageShort, keep.unwrap_or(block.span), message)
        .label("more than there is")
        .help(format!("make at least {short} more of it, or keep or pour less"))
}

/// All of a stage is kept, so that nothing of it is in the dough.
pub(super) fn all_kept(block: &Block, total: &Ratio) -> Diagnostic {
    let message = format!(
        "all {} of {} are kept, and nothing of it goes into the dough",
        grams(total),
        block.title
    );
    let keep = block.keep.as_ref().map(|keep| keep.span);
    Diagnostic::new(Code::StageUnused, keep.unwrap_or(block.span), message)
        .help("make more of it than is kept, or take the block out")
}

pub(super) fn left_over(block: &Block, rest: &Ratio) -> Diagnostic {
    let advice = match block.kind {
        BlockKind::Levain => "keep it for the next feed",
        BlockKind::OldDough => "keep it for the next dough",
        _ => "make less of it, or use it elsewhere",
    };
    Diagnostic::new(
        Code::StageLeftOver,
        block.span,
        format!("{} of {} are left over", grams(rest), block.title),
    )
    .help(advice)
}

pub(super) fn below_nothing(block: &Block, fixed: Option<Span>) -> Diagnostic {
    let fault = Diagnostic::new(
        Code::SizesDisagree,
        block.span,
        format!(
            "the weights fixed in the {} leave less than nothing for its other lines",
            block.title
        ),
    )
    .help("lower the fixed weights, or make the whole larger");
    match fixed {
        Some(span) => fault.other(span, "fixed here"),
        None => fault,
    }
}

pub(super) fn kept_below_seed(block: &Block, span: Span, seed: &Ratio) -> Diagnostic {
    Diagnostic::new(
        Code::KeptBelowSeed,
        span,
        format!(
            "the {} keeps back less than the {} that seed it",
            block.title,
            grams(seed)
        ),
    )
    .label("kept back")
    .help(format!(
        "a formula takes the seed out again: keep at least {}",
        grams(seed)
    ))
}

/// A stage takes what the formula lacks.
pub(super) fn takes_too_much(
    block: &Block,
    line: Span,
    name: &str,
    formula: Option<Span>,
    missing: &Ratio,
) -> Diagnostic {
    match formula {
        Some(span) => Diagnostic::new(
            Code::StageTakesTooMuch,
            line,
            format!(
                "the {} takes {} more {name} than the formula has",
                block.title,
                grams(missing)
            ),
        )
        .label("more than there is")
        .other(span, "all there is")
        .help(format!(
            "make the {} smaller or drier, or raise the {name} of the formula",
            block.title
        )),
        None => Diagnostic::new(
            Code::StageTakesTooMuch,
            line,
            format!(
                "the {} takes {name}, which the formula does not have",
                block.title
            ),
        )
        .label("not in the formula")
        .help(format!(
            "add {name} to the formula: it is the whole bread, its stages included"
        )),
    }
}

fn title_of(recipe: &Recipe, id: BlockId) -> &str {
    recipe
        .blocks
        .get(id.0)
        .map_or("stage", |block| block.title.as_str())
}
