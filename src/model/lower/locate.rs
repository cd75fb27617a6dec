//! Where on a page a variation finds what it changes: an ingredient by what it is, a step by its verb.
//!
//! Owns the order of the search: the block that `in STAGE` names; without one the dough or formula, then the
//! stages and parts, then fillings and toppings.

use super::Scene;
use super::names::kind_of;
use super::page::Draft;
use super::resolve::{Meaning, Resolved, resolve};
use crate::model::catalog::{BareWord, Ingredient, Kind, fold_name};
use crate::model::recipe::BlockId;
use crate::model::verbs::Verb;
use crate::source::Span;
use crate::syntax::tree::{Block, BlockKind, BodyItem, Entry, EntryKind};

/// Where an entry stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// The block.
    pub(super) block: BlockId,
    /// The item of its body.
    pub(super) item: usize,
    /// The entry's line.
    pub(super) span: Span,
}

/// What an ingredient line is about, so that two spellings of one thing are one.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Identity {
    /// An entry of the table, by its name.
    Ingredient(String),
    /// A block.
    Stage(BlockId),
    /// The bakehouse's starter.
    Starter,
    /// The bakehouse's old dough.
    OldDough,
    /// A name that is no more than its folded spelling.
    Word(String),
}

/// What a variation looks for.
#[derive(Debug)]
pub(super) struct Wanted {
    identity: Identity,
    /// `flour` or `yeast`, which stand for the one of that family that there is.
    family: Option<BareWord>,
}

impl Wanted {
    /// Finds out what a name on a variation's line is about.
    pub(super) fn of(scene: &Scene<'_>, name: &str) -> Self {
        let resolved = resolve(scene, None, name);
        let family = match resolved.meaning {
            Meaning::Bare(word) => Some(word),
            _ => None,
        };
        Self {
            identity: identity_of(&resolved),
            family,
        }
    }

    /// Gives the block that is looked for, where it is one.
    pub(super) fn stage(&self) -> Option<BlockId> {
        match self.identity {
            Identity::Stage(id) => Some(id),
            _ => None,
        }
    }
}

fn identity_of(resolved: &Resolved<'_>) -> Identity {
    match &resolved.meaning {
        Meaning::Ingredient(known) => Identity::Ingredient(known.name.clone()),
        Meaning::Stage(id) => Identity::Stage(*id),
        Meaning::Starter => Identity::Starter,
        Meaning::OldDough => Identity::OldDough,
        Meaning::Bare(BareWord::Flour) => Identity::Ingredient(
            BareWord::Flour
                .choices()
                .first()
                .copied()
                .unwrap_or_default()
                .to_owned(),
        ),
        Meaning::Bare(BareWord::Yeast) | Meaning::Ambiguous(_) | Meaning::Nothing => {
            Identity::Word(fold_name(resolved.name))
        }
    }
}

/// The blocks that are searched, one tier after another; the first tier with a find decides.
pub(super) fn tiers(
    draft: &Draft<'_>,
    scene: &Scene<'_>,
    main: BlockId,
    scope: Option<BlockId>,
) -> Vec<Vec<BlockId>> {
    if let Some(scope) = scope {
        return vec![vec![scope]];
    }
    let others = (0..draft.blocks.len()).map(BlockId).filter(|id| *id != main);
    let (on_top, stages) = others.partition(|id: &BlockId| {
        draft.blocks.get(id.0).is_some_and(|block| {
            matches!(
                kind_of(block, scene.source).0,
                BlockKind::Filling | BlockKind::Topping
            )
        })
    });
    vec![vec![main], stages, on_top]
}

/// Where a variation searches.
pub(super) struct Search<'a, 'tree> {
    /// The draft as it is by now.
    pub(super) draft: &'a Draft<'tree>,
    /// What names mean.
    pub(super) scene: &'a Scene<'a>,
    /// The blocks, tier by tier; the first tier with a find decides.
    pub(super) tiers: Vec<Vec<BlockId>>,
    /// The variation, whose own lines are found only where the recipe has no such line: its entries are
    /// changes against the recipe and not against each other.
    pub(super) ours: Span,
}

impl Search<'_, '_> {
    /// Finds the lines of a thing.
    pub(super) fn lines(&self, wanted: &Wanted) -> Vec<Spot> {
        let exact = self.find(|id, entry| is_about(self.scene, id, entry, wanted));
        match wanted.family {
            Some(family) if exact.is_empty() => {
                self.find(|id, entry| is_of_family(self.scene, id, entry, family))
            }
            _ => exact,
        }
    }

    /// Finds the steps of a verb.
    pub(super) fn steps(&self, verb: Verb) -> Vec<Spot> {
        self.find(|_, entry| match &entry.kind {
            EntryKind::Step(step) => Verb::first_in(&step.words) == Some(verb),
            _ => false,
        })
    }

    fn find(&self, is_wanted: impl Fn(BlockId, &Entry) -> bool) -> Vec<Spot> {
        let is_ours = |spot: &Spot| self.ours.start <= spot.span.start && spot.span.end <= self.ours.end;
        let found = self.tiers.iter().map(|tier| {
            tier.iter()
                .filter_map(|id| Some((*id, self.draft.blocks.get(id.0)?)))
                .flat_map(|(id, block)| spots(id, block))
                .filter(|(spot, entry)| is_wanted(spot.block, entry))
                .map(|(spot, _)| spot)
                .collect::<Vec<_>>()
        });
        let (mut theirs, mut all) = (Vec::new(), Vec::new());
        for tier in found.filter(|tier| !tier.is_empty()) {
            theirs.extend(tier.iter().filter(|spot| !is_ours(spot)).copied());
            if !theirs.is_empty() {
                return theirs;
            }
            if all.is_empty() {
                all = tier;
            }
        }
        all
    }

    /// Gives the names and verbs that can be found, for a nearest one.
    pub(super) fn names(&self) -> Vec<&str> {
        self.entries()
            .filter_map(|(id, entry)| match &entry.kind {
                EntryKind::Formula(line) => Some(resolve(self.scene, Some(id), &line.name.value).name),
                EntryKind::Step(step) => Verb::first_in(&step.words).map(|verb| verb.word),
                _ => None,
            })
            .collect()
    }

    /// Gives the verbs that can be found, each once, in the order of the page.
    pub(super) fn verbs(&self) -> Vec<&'static str> {
        let mut verbs = Vec::new();
        for (_, entry) in self.entries() {
            if let EntryKind::Step(step) = &entry.kind
                && let Some(verb) = Verb::first_in(&step.words)
                && !verbs.contains(&verb.word)
            {
                verbs.push(verb.word);
            }
        }
        verbs
    }

    fn entries(&self) -> impl Iterator<Item = (BlockId, &Entry)> {
        let ids = self.tiers.iter().flatten();
        ids.filter_map(|id| Some((*id, self.draft.blocks.get(id.0)?)))
            .flat_map(|(id, block)| spots(id, block))
            .map(|(spot, entry)| (spot.block, entry))
    }
}

/// Gives the entries of a block with their places.
fn spots(id: BlockId, block: &Block) -> impl Iterator<Item = (Spot, &Entry)> {
    block
        .body
        .iter()
        .enumerate()
        .filter_map(move |(item, line)| match line {
            BodyItem::Entry(entry) => Some((
                Spot {
                    block: id,
                    item,
                    span: entry.span,
                },
                entry,
            )),
            BodyItem::Blank(_) | BodyItem::Comment(_) | BodyItem::Prose(_) | BodyItem::Junk(_) => None,
        })
}

fn is_about(scene: &Scene<'_>, id: BlockId, entry: &Entry, wanted: &Wanted) -> bool {
    let EntryKind::Formula(line) = &entry.kind else {
        return false;
    };
    let resolved = resolve(scene, Some(id), &line.name.value);
    if line.as_known.is_some() {
        // Such a thing is its own and not the one that it is like.
        return wanted.identity == Identity::Word(fold_name(resolved.name));
    }
    identity_of(&resolved) == wanted.identity
}

fn is_of_family(scene: &Scene<'_>, id: BlockId, entry: &Entry, family: BareWord) -> bool {
    let EntryKind::Formula(line) = &entry.kind else {
        return false;
    };
    let belongs = |known: &Ingredient| match family {
        BareWord::Flour => known.is_flour,
        BareWord::Yeast => known.kind == Kind::Yeast,
    };
    match resolve(scene, Some(id), &line.name.value).meaning {
        Meaning::Ingredient(known) => belongs(&known),
        Meaning::Bare(word) => word == family,
        _ => false,
    }
}
