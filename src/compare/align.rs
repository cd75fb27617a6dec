//! Two sequences brought together: what stands in both, in the same order or moved.
//!
//! The outcome is the same whichever of the two comes first, so that a comparison told backwards is the same
//! comparison.

/// A thing of a sequence.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Item {
    /// What makes it the same thing.
    pub(super) identity: String,
    /// Everything that is said of it.
    pub(super) whole: String,
}

/// Two places that belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Match {
    pub(super) old: usize,
    pub(super) new: usize,
    /// Whether it does not stand in the order of the others.
    pub(super) is_moved: bool,
}

/// What a match of the same thing is worth; one that is said alike is worth a little more.
const SAME: u32 = 1_000;

/// Finds what belongs together.
pub(super) fn align(old: &[Item], new: &[Item]) -> Vec<Match> {
    if old <= new {
        return matches(old, new);
    }
    let turned = matches(new, old).into_iter().map(|found| Match {
        old: found.new,
        new: found.old,
        ..found
    });
    let mut turned: Vec<Match> = turned.collect();
    turned.sort_unstable();
    turned
}

fn matches(left: &[Item], right: &[Item]) -> Vec<Match> {
    let head = left
        .iter()
        .zip(right)
        .take_while(|(left, right)| left == right)
        .count();
    let (inner_left, inner_right) = (
        left.get(head..).unwrap_or_default(),
        right.get(head..).unwrap_or_default(),
    );
    let backwards = inner_left.iter().rev().zip(inner_right.iter().rev());
    let tail = backwards.take_while(|(left, right)| left == right).count();
    let inner_left = inner_left.get(..inner_left.len() - tail).unwrap_or_default();
    let inner_right = inner_right.get(..inner_right.len() - tail).unwrap_or_default();
    let placed = |old, new| Match {
        old,
        new,
        is_moved: false,
    };
    let mut found: Vec<Match> = (0..head).map(|at| placed(at, at)).collect();
    found.extend(
        in_order(inner_left, inner_right)
            .into_iter()
            .map(|(old, new)| placed(head + old, head + new)),
    );
    found.extend((0..tail).map(|at| placed(head + inner_left.len() + at, head + inner_right.len() + at)));
    add_moved(left, right, &mut found);
    found.sort_unstable();
    found
}

/// Finds the heaviest run of pairs that stand in the same order in both.
fn in_order(left: &[Item], right: &[Item]) -> Vec<(usize, usize)> {
    let worth = |at: usize, on: usize| match (left.get(at), right.get(on)) {
        (Some(left), Some(right)) if left == right => SAME + 1,
        (Some(left), Some(right)) if left.identity == right.identity => SAME,
        _ => 0,
    };
    let width = right.len() + 1;
    // What the rests from two places on are worth together.
    let mut best = vec![0_u32; (left.len() + 1) * width];
    let at =
        |best: &[u32], row: usize, column: usize| best.get(row * width + column).copied().unwrap_or_default();
    for row in (0..left.len()).rev() {
        for column in (0..right.len()).rev() {
            let skip = at(&best, row + 1, column).max(at(&best, row, column + 1));
            let own = worth(row, column);
            let pair = if own > 0 {
                own + at(&best, row + 1, column + 1)
            } else {
                0
            };
            if let Some(slot) = best.get_mut(row * width + column) {
                *slot = skip.max(pair);
            }
        }
    }
    let (mut row, mut column, mut found) = (0, 0, Vec::new());
    while row < left.len() && column < right.len() {
        let own = worth(row, column);
        let here = at(&best, row, column);
        if own > 0 && here == own + at(&best, row + 1, column + 1) {
            found.push((row, column));
            row += 1;
            column += 1;
        } else if here == at(&best, row + 1, column) {
            row += 1;
        } else {
            column += 1;
        }
    }
    found
}

/// Brings together what is left over in both, things that are said alike first.
fn add_moved(left: &[Item], right: &[Item], found: &mut Vec<Match>) {
    let tests: [fn(&Item, &Item) -> bool; 2] = [
        |left, right| left == right,
        |left, right| left.identity == right.identity,
    ];
    for is_same in tests {
        for (old, item) in left.iter().enumerate() {
            if found.iter().any(|pair| pair.old == old) {
                continue;
            }
            let is_free = |new: usize| found.iter().all(|pair| pair.new != new);
            let other = right
                .iter()
                .enumerate()
                .find(|(new, other)| is_free(*new) && is_same(item, other));
            if let Some((new, _)) = other {
                found.push(Match {
                    old,
                    new,
                    is_moved: true,
                });
            }
        }
    }
}

/// Puts pairs, and what stands alone, in the order of the newer sequence; what is gone follows what it followed.
pub(super) fn woven(matches: &[Match], old: usize, new: usize) -> Vec<(Option<usize>, Option<usize>)> {
    let new_of = |old: usize| matches.iter().find(|pair| pair.old == old);
    let old_of = |new: usize| matches.iter().find(|pair| pair.new == new);
    let gone_from = |from: usize| (from..old).take_while(|at| new_of(*at).is_none_or(|pair| pair.is_moved));
    let mut rows: Vec<(Option<usize>, Option<usize>)> = Vec::with_capacity(old.max(new));
    let push_gone = |from: usize, rows: &mut Vec<(Option<usize>, Option<usize>)>| {
        rows.extend(
            gone_from(from)
                .filter(|at| new_of(*at).is_none())
                .map(|at| (Some(at), None)),
        );
    };
    push_gone(0, &mut rows);
    for at in 0..new {
        let pair = old_of(at);
        rows.push((pair.map(|pair| pair.old), Some(at)));
        if let Some(pair) = pair.filter(|pair| !pair.is_moved) {
            push_gone(pair.old + 1, &mut rows);
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::{Item, align, woven};

    fn items(words: &str) -> Vec<Item> {
        let item = |word: &str| Item {
            identity: word.chars().take(1).collect(),
            whole: word.to_owned(),
        };
        words.split_whitespace().map(item).collect()
    }

    /// Shows the rows: `=` alike, `~` said otherwise, `-` gone, `+` new, `>` moved.
    fn shown(old: &str, new: &str) -> String {
        let (left, right) = (items(old), items(new));
        let matches = align(&left, &right);
        let rows = woven(&matches, left.len(), right.len())
            .into_iter()
            .map(|row| match row {
                (Some(old), Some(new)) => {
                    let is_moved = matches.iter().any(|pair| pair.old == old && pair.is_moved);
                    let sign = if is_moved {
                        '>'
                    } else if left[old] == right[new] {
                        '='
                    } else {
                        '~'
                    };
                    format!("{sign}{}", right[new].whole)
                }
                (Some(old), None) => format!("-{}", left[old].whole),
                (None, Some(new)) => format!("+{}", right[new].whole),
                (None, None) => String::new(),
            });
        rows.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn sequences_come_together() {
        for (old, new, rows) in [
            ("", "", ""),
            ("a b c", "a b c", "=a =b =c"),
            ("a b c", "a c", "=a -b =c"),
            ("a c", "a b c", "=a +b =c"),
            ("a b c", "a b2 c", "=a ~b2 =c"),
            ("a b c d", "b c d a", "=b =c =d >a"),
            ("m1 k m2 b", "m2 b", "-m1 -k =m2 =b"),
            ("m1 b", "m1 r m3 b", "=m1 +r +m3 =b"),
            ("x y", "p q", "-x -y +p +q"),
        ] {
            assert_eq!(shown(old, new), rows, "{old} | {new}");
        }
    }

    #[test]
    fn the_outcome_does_not_depend_on_which_comes_first() {
        for (old, new) in [
            ("a b", "b a"),
            ("a b c d e", "e c a f"),
            ("a1 a2 b", "b a2 a3"),
            ("a b a", "b a b"),
        ] {
            let (left, right) = (items(old), items(new));
            let mut turned: Vec<_> = align(&right, &left)
                .into_iter()
                .map(|pair| (pair.new, pair.old, pair.is_moved))
                .collect();
            turned.sort_unstable();
            let straight: Vec<_> = align(&left, &right)
                .into_iter()
                .map(|pair| (pair.old, pair.new, pair.is_moved))
                .collect();
            assert_eq!(straight, turned, "{old} | {new}");
        }
    }
}
