//! Headers of blocks: kind, name and qualifiers.

use pest::iterators::Pair;

use super::amounts::{lower_share, lower_weight};
use super::formula::{expect_name_length, inside};
use super::grammar::{self, Rule};
use super::reader::{Reader, single_spaced};
use super::tree::{BlockKind, Qualifier};
use crate::diag::{Code, Diagnostic};
use crate::source::Spanned;

/// What a header says.
pub(crate) struct Header {
    /// The kind with the place of its word; [`BlockKind::Unknown`] where the word is none.
    pub(crate) kind: Spanned<BlockKind>,
    /// The name behind it.
    pub(crate) name: Option<Spanned<String>>,
    /// What stands between commas.
    pub(crate) qualifiers: Vec<Spanned<Qualifier>>,
}

/// Reads a header, which comes without its colon; one that is a bare kind needs no rule.
pub(crate) fn parse_header(head: &str, reader: &mut Reader<'_>) -> Option<Header> {
    let word = head.trim_end();
    let kind = kind_of(word);
    if kind != BlockKind::Unknown {
        return Some(Header {
            kind: Spanned::new(kind, reader.span(0, word.len())),
            name: None,
            qualifiers: Vec::new(),
        });
    }
    let pair = grammar::read(Rule::header_line, head).ok()?;
    lower_header(pair, reader)
}

/// Reads a `header_line`.
fn lower_header(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Header> {
    let mut pairs = pair.into_inner();
    let word = pairs.next()?;
    let mut header = Header {
        kind: Spanned::new(kind_of(word.as_str()), reader.span_of(&word)),
        name: None,
        qualifiers: Vec::new(),
    };
    for part in pairs {
        if part.as_rule() == Rule::header_name {
            let name = reader.words_of(&part);
            expect_name_length(&name, reader);
            header.name = Some(name).filter(|name| !name.value.is_empty());
        } else {
            header.qualifiers.push(lower_qualifier(part, reader));
        }
    }
    Some(header)
}

/// Finds the kind that a word spells.
pub(crate) fn kind_of(word: &str) -> BlockKind {
    let spaced;
    let word = if word.contains("  ") {
        spaced = single_spaced(word);
        &spaced
    } else {
        word
    };
    BlockKind::SPELT
        .iter()
        .find(|(spelling, _)| spelling.eq_ignore_ascii_case(word))
        .map_or(BlockKind::Unknown, |(_, kind)| *kind)
}

fn lower_qualifier(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Spanned<Qualifier> {
    let span = reader.words_of(&pair).span;
    let rule = pair.as_rule();
    let value = match rule {
        Rule::share_of_flour => inside(pair)
            .and_then(|share| lower_share(share, reader))
            .map(Qualifier::ShareOfFlour),
        Rule::sized => lower_sized(pair, reader),
        _ => {
            let written = pair.as_str().trim();
            reader.report(
                Diagnostic::new(
                    Code::BadQualifier,
                    span,
                    format!("`{written}` says nothing of a block"),
                )
                .help(
                    "behind a comma stands one of `15 % of the flour`, `200 g`, `35 g each`, `50 g to keep`",
                ),
            );
            None
        }
    };
    Spanned::new(value.unwrap_or(Qualifier::Junk), span)
}

fn lower_sized(pair: Pair<'_, Rule>, reader: &mut Reader<'_>) -> Option<Qualifier> {
    let mut pairs = pair.into_inner();
    let (grams, _) = lower_weight(pairs.next()?, reader)?;
    Some(match pairs.next().map(|word| word.as_rule()) {
        Some(Rule::on_each) => Qualifier::Each(grams),
        Some(_) => Qualifier::Keep(grams),
        None => Qualifier::Size(grams),
    })
}
