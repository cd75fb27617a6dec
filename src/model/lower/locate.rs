//! Where on a page a variation finds what it changes: an ingredient by what it is, a step by its verb.
//!
//! Owns the order of the search: the block that `in STAGE` names; without one the dough or formula, then the
//! stages and parts, then fillings and toppings. The page is indexed once, since a file may hold hundreds of
//! variations with hundreds of entries each.

use std::collections::BTreeMap;

use super::Scene;
use super::names::kind_of;
use super::page::{Draft, entries};
use super::resolve::{Meaning, Resolved, resolve};
use crate::model::catalog::{BareWord, Kind, fold_name};
use crate::model::recipe::BlockId;
use crate::model::verbs::Verb;
use crate::source::Span;
use crate::syntax::tree::{BlockKind, BodyItem, Entry, EntryKind};

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

/// An entry by its block and its line, which stay the same whatever goes in around it.
type Home = (BlockId, Span);

/// What an entry is about, so that two spellings of one thing are one.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Identity {
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
    /// Any flour.
    AnyFlour,
    /// Any yeast.
    AnyYeast,
    /// A step, by its verb.
    Step(&'static str),
}

impl Identity {
    /// Gives what a name on a variation's line is about.
    pub(super) fn of_name(scene: &Scene<'_>, name: &str) -> Self {
        of_resolved(&resolve(scene, None, name))
    }

    /// Gives what else a name may stand for: `flour` for the only flour, `yeast` for the only yeast.
    pub(super) fn family_of(scene: &Scene<'_>, name: &str) -> Option<Self> {
        match resolve(scene, None, name).meaning {
            Meaning::Bare(BareWord::Flour) => Some(Self::AnyFlour),
            Meaning::Bare(BareWord::Yeast) => Some(Self::AnyYeast),
            _ => None,
        }
    }

    /// Gives everything that an entry answers to.
    fn all_of(scene: &Scene<'_>, block: BlockId, entry: &Entry) -> Vec<Self> {
        match &entry.kind {
            EntryKind::Step(step) => Verb::first_in(&step.words)
                .map(|verb| Self::Step(verb.word))
                .into_iter()
                .collect(),
            EntryKind::Formula(line) => {
                let resolved = resolve(scene, Some(block), &line.name.value);
                if line.as_known.is_some() {
                    // Such a thing is its own and not the one that it is like.
                    return vec![Self::Word(fold_name(resolved.name))];
                }
                let mut all = vec![of_resolved(&resolved)];
                match &resolved.meaning {
                    Meaning::Ingredient(known) if known.is_flour => all.push(Self::AnyFlour),
                    Meaning::Ingredient(known) if known.kind == Kind::Yeast => all.push(Self::AnyYeast),
                    Meaning::Bare(BareWord::Flour) => all.push(Self::AnyFlour),
                    Meaning::Bare(BareWord::Yeast) => all.push(Self::AnyYeast),
                    _ => {}
                }
                all
            }
            _ => Vec::new(),
        }
    }
}

fn of_resolved(resolved: &Resolved<'_>) -> Identity {
    match &resolved.meaning {
        Meaning::Ingredient(known) => Identity::Ingredient(known.name.clone()),
        Meaning::Stage(id) => Identity::Stage(*id),
        Meaning::Starter => Identity::Starter,
        Meaning::OldDough => Identity::OldDough,
        Meaning::Bare(BareWord::Flour) => {
            let plain = BareWord::Flour.choices().first().copied();
            Identity::Ingredient(plain.unwrap_or_default().to_owned())
        }
        Meaning::Bare(BareWord::Yeast) | Meaning::Ambiguous(_) | Meaning::Nothing => {
            Identity::Word(fold_name(resolved.name))
        }
    }
}

/// What stands where.
#[derive(Clone, Debug, Default)]
pub(super) struct Index {
    homes: BTreeMap<Identity, Vec<Home>>,
}

impl Index {
    /// Indexes a draft.
    pub(super) fn of(draft: &Draft<'_>, scene: &Scene<'_>) -> Self {
        let mut index = Self::default();
        for (place, block) in draft.blocks.iter().enumerate() {
            for entry in entries(block) {
                index.add(BlockId(place), entry, scene);
            }
        }
        index
    }

    /// Adds an entry.
    pub(super) fn add(&mut self, block: BlockId, entry: &Entry, scene: &Scene<'_>) {
        for identity in Identity::all_of(scene, block, entry) {
            self.homes.entry(identity).or_default().push((block, entry.span));
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
    /// The blocks, tier by tier.
    pub(super) tiers: &'a [Vec<BlockId>],
    /// The lines of the plain recipe.
    pub(super) plain: &'a Index,
    /// The variation's own lines, which are found only where the recipe has no such line: its entries are
    /// changes against the recipe and not against each other.
    pub(super) own: &'a Index,
}

impl Search<'_, '_> {
    /// Finds the entries that answer to an identity and have not been taken out.
    pub(super) fn find(&self, wanted: &Identity) -> Vec<Spot> {
        [self.plain, self.own]
            .into_iter()
            .filter_map(|index| index.homes.get(wanted))
            .flat_map(|homes| self.tiers.iter().map(move |tier| self.spots(homes, tier)))
            .find(|spots| !spots.is_empty())
            .unwrap_or_default()
    }

    fn spots(&self, homes: &[Home], tier: &[BlockId]) -> Vec<Spot> {
        homes
            .iter()
            .filter(|(block, _)| tier.contains(block))
            .filter_map(|home| self.spot(*home))
            .collect()
    }

    fn spot(&self, (block, span): Home) -> Option<Spot> {
        let body = &self.draft.blocks.get(block.0)?.body;
        let item = body
            .iter()
            .position(|item| matches!(item, BodyItem::Entry(entry) if entry.span == span))?;
        Some(Spot { block, item, span })
    }

    /// Gives the names and verbs that can be found, for a nearest one.
    pub(super) fn names(&self, scene: &Scene<'_>) -> Vec<&str> {
        self.entries()
            .filter_map(|(id, entry)| match &entry.kind {
                EntryKind::Formula(line) => Some(resolve(scene, Some(id), &line.name.value).name),
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
            .flat_map(|(id, block)| entries(block).map(move |entry| (id, entry)))
    }
}
