//! What a block's header says behind its name: a share, a size, what is kept.

use super::Findings;
use crate::diag::{Code, Diagnostic};
use crate::model::recipe::SizeRule;
use crate::quantity::{Grams, Ratio};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Block, BlockKind, Qualifier};

/// The qualifiers of a header, settled.
#[derive(Debug, Default)]
pub(super) struct Qualifiers {
    /// How large the block is.
    pub(super) size: Option<Spanned<SizeRule>>,
    /// What is made beyond what is poured.
    pub(super) keep: Option<Spanned<Grams>>,
}

/// Lowers the qualifiers of a block with a formula; those that have no meaning there are reported.
pub(super) fn lower_qualifiers(block: &Block, kind: BlockKind, findings: &mut Findings) -> Qualifiers {
    let mut settled = Qualifiers::default();
    for Spanned { value, span } in &block.qualifiers {
        let taken = match value {
            Qualifier::Junk => None,
            Qualifier::Keep(grams) => fault_of_keep(kind, *span).or_else(|| {
                let kept = Spanned::new(grams.clone(), *span);
                twice(settled.keep.replace(kept).map(|first| first.span), *span)
            }),
            sized => match size_rule(sized, kind, *span) {
                Ok(rule) => {
                    let size = Spanned::new(rule, *span);
                    twice(settled.size.replace(size).map(|first| first.span), *span)
                }
                Err(fault) => Some(*fault),
            },
        };
        findings.report.extend(taken);
    }
    settled
}

fn size_rule(qualifier: &Qualifier, kind: BlockKind, span: Span) -> Result<SizeRule, Box<Diagnostic>> {
    let is_on_top = matches!(kind, BlockKind::Filling | BlockKind::Topping);
    let is_main = kind == BlockKind::Formula;
    let (rule, is_nought, is_misplaced, help) = match qualifier {
        Qualifier::ShareOfFlour(share) => (
            SizeRule::ShareOfFlour(share.clone()),
            share.is_zero() || *share > Ratio::ONE,
            is_on_top || is_main,
            "a share of the flour, `15 % of the flour`, belongs to a stage",
        ),
        Qualifier::Each(grams) => (
            SizeRule::Each(grams.clone()),
            grams.is_zero(),
            !is_on_top,
            "`35 g each` belongs to a filling or a topping",
        ),
        Qualifier::Size(grams) | Qualifier::Keep(grams) => (
            SizeRule::Total(grams.clone()),
            grams.is_zero(),
            is_on_top || is_main,
            "a size, `200 g`, belongs to a stage; a filling says `35 g each`, a dough `makes:`",
        ),
        Qualifier::Junk => (SizeRule::Total(Grams::ZERO), false, false, ""),
    };
    if is_misplaced {
        return Err(Box::new(misplaced(kind, span).help(help)));
    }
    if is_nought {
        let message = "a stage of this size is no stage";
        let help = "a share lies above 0 and up to 100 %, a size above nought";
        return Err(Box::new(
            Diagnostic::new(Code::BadQualifier, span, message).help(help),
        ));
    }
    Ok(rule)
}

fn fault_of_keep(kind: BlockKind, span: Span) -> Option<Diagnostic> {
    matches!(kind, BlockKind::Filling | BlockKind::Topping | BlockKind::Formula).then(|| {
        misplaced(kind, span).help("`50 g to keep` belongs to a stage, of which that much more is made")
    })
}

fn misplaced(kind: BlockKind, span: Span) -> Diagnostic {
    let word = kind.word();
    Diagnostic::new(
        Code::BadQualifier,
        span,
        format!("this has no meaning on a {word}"),
    )
}

fn twice(first: Option<Span>, second: Span) -> Option<Diagnostic> {
    first.map(|first| {
        Diagnostic::new(Code::BadQualifier, second, "the header says this twice")
            .other(first, "here already")
            .help("keep one of the two")
    })
}
