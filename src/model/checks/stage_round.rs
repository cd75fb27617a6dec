//! `stage-round`: stages that pour one another in a round.
//!
//! A levain that needs the soaker that needs the levain can never be started, and no size could be worked
//! out for either. The round is shown in the order in which a baker would meet it, from the stage that
//! stands first on the page.

use std::collections::BTreeSet;

use super::Subject;
use crate::diag::{Code, Diagnostic, Report};
use crate::model::recipe::{Block, Entry, Thing};
use crate::source::Span;

/// A stage and where it pours another.
#[derive(Clone, Copy, Debug)]
struct Pour {
    from: usize,
    to: usize,
    span: Span,
}

pub(super) fn check(subject: &Subject<'_>, report: &mut Report) {
    let pours: Vec<Vec<Pour>> = subject.recipe.blocks.iter().map(pours_of).collect();
    for round in rounds(&pours) {
        report.push(fault(subject, &round));
    }
}

fn pours_of(block: &Block) -> Vec<Pour> {
    let lines = block.entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => Some(line),
        Entry::Step(_) | Entry::Note(_) => None,
    });
    lines
        .filter_map(|line| match line.thing {
            Thing::Stage(to) => Some(Pour {
                from: block.id.0,
                to: to.0,
                span: line.span,
            }),
            Thing::Ingredient(_) | Thing::Unlisted { .. } | Thing::Mixture(_) => None,
        })
        .collect()
}

/// Walks every path of pours with a stack of its own, since a chain may be as long as there are stages.
///
/// Of rounds that share a stage only the first one is given: mending it often mends the others.
fn rounds(pours: &[Vec<Pour>]) -> Vec<Vec<Pour>> {
    let mut walk = Walk {
        done: vec![false; pours.len()],
        told: BTreeSet::new(),
        found: Vec::new(),
    };
    for start in 0..pours.len() {
        if walk.done.get(start) == Some(&false) {
            walk.from(start, pours);
        }
    }
    walk.found
}

/// What a walk along the pours has seen.
struct Walk {
    done: Vec<bool>,
    told: BTreeSet<usize>,
    found: Vec<Vec<Pour>>,
}

impl Walk {
    fn from(&mut self, start: usize, pours: &[Vec<Pour>]) {
        let mut path: Vec<Pour> = Vec::new();
        let mut ahead = vec![pours_from(pours, start)];
        while let Some(open) = ahead.last_mut() {
            let Some(pour) = open.pop() else {
                ahead.pop();
                let left = path.pop().map_or(start, |pour| pour.to);
                if let Some(done) = self.done.get_mut(left) {
                    *done = true;
                }
                continue;
            };
            let begins = path.iter().position(|earlier| earlier.from == pour.to);
            if begins.is_some() || pour.to == pour.from {
                let behind = path.get(begins.unwrap_or(path.len())..).unwrap_or_default();
                self.tell(behind.iter().copied().chain([pour]).collect());
            } else if self.done.get(pour.to) == Some(&false) {
                path.push(pour);
                ahead.push(pours_from(pours, pour.to));
            }
        }
    }

    /// Keeps a round, begun with the stage that stands first on the page.
    fn tell(&mut self, mut round: Vec<Pour>) {
        if round.iter().any(|pour| self.told.contains(&pour.from)) {
            return;
        }
        self.told.extend(round.iter().map(|pour| pour.from));
        let first = (0..round.len()).min_by_key(|place| round.get(*place).map(|pour| pour.from));
        round.rotate_left(first.unwrap_or(0));
        self.found.push(round);
    }
}

/// Gives the pours of a stage with the first one last, to be taken from the end.
fn pours_from(pours: &[Vec<Pour>], from: usize) -> Vec<Pour> {
    pours.get(from).into_iter().flatten().rev().copied().collect()
}

fn fault(subject: &Subject<'_>, round: &[Pour]) -> Diagnostic {
    let title = |block: usize| {
        let block = subject.recipe.blocks.get(block);
        block.map_or("the stage", |block| block.title.as_str())
    };
    let waits = |pour: &Pour| format!("{} waits for {}", title(pour.from), title(pour.to));
    let names: Vec<&str> = round.iter().map(|pour| title(pour.from)).collect();
    let Some((first, others)) = round.split_first() else {
        return Diagnostic::new(
            Code::StageRound,
            subject.recipe.title.span,
            "stages pour one another",
        );
    };
    let name = title(first.from);
    if others.is_empty() {
        return Diagnostic::new(Code::StageRound, first.span, format!("{name} pours itself"))
            .label(format!("{name} would have to be ready before it is begun"))
            .help("what seeds it is `starter`, or another stage");
    }
    let message = format!("stages pour one another in a round: {}, {name}", names.join(", "));
    let fault = Diagnostic::new(Code::StageRound, first.span, message)
        .label(waits(first))
        .help("begin one of them with flour and water, or with `starter`");
    others
        .iter()
        .fold(fault, |fault, pour| fault.other(pour.span, waits(pour)))
}
