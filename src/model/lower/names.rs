//! The names of the blocks of a recipe, and which block a name on a line answers to.
//!
//! A stage `levain night` answers to `night`, `night levain` and `levain night`, and to `levain` where it is
//! the only levain. Owns declarations and their search; what else a word may mean is the business of
//! `resolve`.

use std::borrow::Cow;

use super::Findings;
use crate::diag::{Code, Diagnostic, nearest};
use crate::model::catalog::fold_name;
use crate::model::recipe::BlockId;
use crate::source::{Source, Span, Spanned};
use crate::syntax::tree::{Block, BlockKind};

/// What stands behind the word of a block that is no part of the dough, and what to say where it does not.
pub(super) struct Wanted {
    /// The block and what is wanted: `variation` and `name`.
    pub(super) block: &'static str,
    pub(super) what: &'static str,
    /// What to do about a part behind it.
    pub(super) below: &'static str,
    /// The code of the fault that nothing stands there, and what to do about it.
    pub(super) code: Code,
    pub(super) help: &'static str,
}

/// Gives what stands behind the word of a block, alone; reports a part behind it, and that there is nothing.
pub(super) fn expect_name<'b>(
    block: &'b Block,
    wanted: &Wanted,
    findings: &mut Findings,
) -> Option<&'b Spanned<String>> {
    let (kind, what) = (wanted.block, wanted.what);
    if let Some(qualifier) = block.qualifiers.first() {
        let message = format!("a {kind} has nothing behind its {what}");
        findings.push(Diagnostic::new(Code::BadQualifier, qualifier.span, message).help(wanted.below));
    }
    if block.name.is_none() {
        let message = format!("this {kind} has no {what}");
        findings.push(Diagnostic::new(wanted.code, block.header, message).help(wanted.help));
    }
    block.name.as_ref()
}

/// The names of all blocks of a draft.
#[derive(Debug, Default)]
pub(in crate::model) struct Names {
    known: Vec<Known>,
}

#[derive(Debug)]
struct Known {
    id: BlockId,
    kind: BlockKind,
    header: Span,
    /// What the block is called on the card and in messages.
    title: String,
    /// The folded kind, name, and the two together in both orders; the last three empty without a name.
    kind_word: String,
    name: String,
    kind_first: String,
    name_first: String,
}

/// The blocks that a name answers to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::model) enum Found {
    /// None.
    Nothing,
    /// The one.
    One(BlockId),
    /// More than one, so that the name says too little.
    Several(Vec<BlockId>),
}

/// Which blocks a search looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::model) enum Among {
    /// What a line can pour: stages and parts by all their names, fillings and toppings by kind and name
    /// together, so that `filling almond` does not take the word from the almonds.
    Pourable,
    /// Fillings and toppings by their bare names, for a word that means nothing else.
    BareOnTop,
    /// Every block by every name, as `in STAGE` of a variation wants it.
    All,
}

impl Names {
    /// Collects the names of blocks; of two with one name only the first one is known.
    pub(super) fn of(blocks: &[Cow<'_, Block>], source: &Source) -> Self {
        let mut names = Self::default();
        for (place, block) in blocks.iter().enumerate() {
            let known = Known::of(BlockId(place), block, source);
            if names.twin(&known).is_none() {
                names.known.push(known);
            }
        }
        names
    }

    /// Finds the blocks that a folded name answers to.
    pub(in crate::model) fn find(&self, folded: &str, among: Among) -> Found {
        let exact: Vec<BlockId> = self
            .known
            .iter()
            .filter(|known| known.answers(folded, among))
            .map(|known| known.id)
            .collect();
        if !exact.is_empty() || among == Among::BareOnTop {
            return Found::of(exact);
        }
        Found::of(
            self.known
                .iter()
                .filter(|known| known.kind_word == folded && known.is_among(among))
                .map(|known| known.id)
                .collect(),
        )
    }

    /// Gives what a block is called.
    pub(in crate::model) fn title(&self, id: BlockId) -> &str {
        self.known
            .iter()
            .find(|known| known.id == id)
            .map_or("block", |known| &known.title)
    }

    /// Finds the pourable block whose name is nearest to a word.
    pub(super) fn near(&self, name: &str, own: Option<BlockId>) -> Option<(BlockId, &str)> {
        let pourable = || {
            self.known
                .iter()
                .filter(|known| known.is_among(Among::Pourable) && Some(known.id) != own)
        };
        let spellings = pourable().flat_map(Known::spellings);
        let near = nearest(name, spellings.filter(|spelling| !spelling.is_empty()))?;
        pourable()
            .find(|known| known.spellings().contains(&near))
            .map(|known| (known.id, near))
    }

    /// Gives the titles of all blocks.
    pub(super) fn titles(&self) -> impl Iterator<Item = &str> {
        self.known.iter().map(|known| known.title.as_str())
    }

    /// Gives the titles of the blocks that a line can pour.
    pub(super) fn pourable(&self) -> impl Iterator<Item = &str> {
        self.known
            .iter()
            .filter(|known| known.is_among(Among::Pourable))
            .map(|known| known.title.as_str())
    }

    /// Gives the header of a block.
    pub(in crate::model) fn header(&self, id: BlockId) -> Option<Span> {
        self.known
            .iter()
            .find(|known| known.id == id)
            .map(|known| known.header)
    }

    fn twin(&self, new: &Known) -> Option<&Known> {
        self.known
            .iter()
            .find(|known| known.kind == new.kind && known.name == new.name)
    }
}

impl Known {
    fn of(id: BlockId, block: &Block, source: &Source) -> Self {
        let (kind, word) = kind_of(block, source);
        let name = block.name.as_ref().map(|name| name.value.as_str());
        let kind_word = fold_name(&word);
        let folded = name.map(fold_name).unwrap_or_default();
        let (kind_first, name_first) = if folded.is_empty() {
            (kind_word.clone(), String::new())
        } else {
            (format!("{kind_word} {folded}"), format!("{folded} {kind_word}"))
        };
        Self {
            id,
            kind,
            header: block.header,
            title: name.map_or_else(|| word.to_string(), |name| format!("{word} {name}")),
            kind_word,
            name: folded,
            kind_first,
            name_first,
        }
    }

    fn answers(&self, folded: &str, among: Among) -> bool {
        let is_bare = !self.name.is_empty() && self.name == folded;
        if among == Among::BareOnTop {
            return is_bare && self.is_on_top();
        }
        self.is_among(among)
            && (self.kind_first == folded
                || (!self.name.is_empty() && self.name_first == folded)
                || (is_bare && (among == Among::All || !self.is_on_top())))
    }

    fn spellings(&self) -> [&str; 3] {
        [&self.title, &self.name, &self.kind_word]
    }

    fn is_among(&self, among: Among) -> bool {
        match among {
            Among::All => true,
            Among::BareOnTop => self.is_on_top(),
            Among::Pourable => match self.kind {
                BlockKind::Formula => false,
                BlockKind::Dough => !self.name.is_empty(),
                _ => true,
            },
        }
    }

    fn is_on_top(&self) -> bool {
        matches!(self.kind, BlockKind::Filling | BlockKind::Topping)
    }
}

impl Found {
    fn of(mut ids: Vec<BlockId>) -> Self {
        match (ids.pop(), ids.is_empty()) {
            (None, _) => Self::Nothing,
            (Some(id), true) => Self::One(id),
            (Some(id), false) => {
                ids.push(id);
                Self::Several(ids)
            }
        }
    }
}

/// Gives the kind of a block and the word for it: as it is written where it is no kind.
pub(super) fn kind_of<'word>(block: &Block, source: &'word Source) -> (BlockKind, Cow<'word, str>) {
    match block.kind.value {
        BlockKind::Unknown => (BlockKind::Unknown, Cow::Borrowed(source.slice(block.kind.span))),
        kind => (kind, Cow::Borrowed(kind.word())),
    }
}
