//! What became of each thing on a page: aligned by what it says, so that a step put in front changes
//! none of those behind it.

use std::collections::{HashMap, VecDeque};

use similar::{Algorithm, DiffOp, capture_diff_slices};

use crate::values::act::{Act, ActKind};

/// What became of one thing, by its places in the old and the new page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// It says the same, among the same; a step may have another number.
    Kept(usize, usize),
    /// It says the same, elsewhere.
    Moved(usize, usize),
    Changed(usize, usize),
    Gone(usize),
    Added(usize),
}

/// As much as this of what two say has to be the same, where they may be one that changed.
const ALIKE: f64 = 0.4;
/// The same, where nothing else could be meant.
const ALONE: f64 = 0.25;
/// More pairs than this aren't weighed: they are taken in their order.
const PAIRS: usize = 40_000;

/// A step's number, and what it says without it.
pub fn numbered(act: &Act) -> (Option<usize>, &str) {
    if act.kind == ActKind::Step
        && let Some((number, text)) = act.text.split_once(". ")
        // a list as long as this has nobody written
        && let Ok(number) = number.parse::<u32>()
    {
        return (Some(number as usize), text);
    }
    (None, &act.text)
}

/// What became of everything on a page, in the order of the new one; what is gone stands where it was.
pub fn align(old: &[Act], new: &[Act]) -> Vec<Fate> {
    let mut met = Met::new(old, new);
    met.keep();
    met.move_rest();
    met.change();
    met.fates()
}

struct Met<'a> {
    old: &'a [Act],
    new: &'a [Act],
    /// What each says, as a number.
    old_ids: Vec<usize>,
    new_ids: Vec<usize>,
    /// What became of each old one, and what each new one was.
    became: Vec<Option<Fate>>,
    was: Vec<Option<Fate>>,
}

impl<'a> Met<'a> {
    fn new(old: &'a [Act], new: &'a [Act]) -> Met<'a> {
        let mut known = HashMap::new();
        let mut ids = |acts: &'a [Act]| -> Vec<usize> {
            let id = |act: &'a Act| {
                let next = known.len();
                // a number that is no step's own is part of what it says
                let (number, text) = numbered(act);
                *known
                    .entry((act.kind, number.is_some(), text))
                    .or_insert(next)
            };
            acts.iter().map(id).collect()
        };
        Met {
            old_ids: ids(old),
            new_ids: ids(new),
            old,
            new,
            became: vec![None; old.len()],
            was: vec![None; new.len()],
        }
    }

    fn settle(&mut self, fate: Fate) {
        if let Fate::Kept(from, to) | Fate::Moved(from, to) | Fate::Changed(from, to) = fate {
            self.became[from] = Some(fate);
            self.was[to] = Some(fate);
        }
    }

    /// Keeps what stands in the same order on both. What one side alone has can't be among it, and
    /// is left out: it would only cost time.
    fn keep(&mut self) {
        let common = |ids: &[usize], other: &[usize]| -> Vec<usize> {
            let most = ids.iter().chain(other).max().map_or(0, |most| most + 1);
            let mut there = vec![false; most];
            other.iter().for_each(|id| there[*id] = true);
            (0..ids.len()).filter(|at| there[ids[*at]]).collect()
        };
        let old_at = common(&self.old_ids, &self.new_ids);
        let new_at = common(&self.new_ids, &self.old_ids);
        let said = |at: &[usize], ids: &[usize]| at.iter().map(|one| ids[*one]).collect::<Vec<_>>();
        let (old, new) = (said(&old_at, &self.old_ids), said(&new_at, &self.new_ids));
        for op in capture_diff_slices(Algorithm::Myers, &old, &new) {
            if let DiffOp::Equal {
                old_index,
                new_index,
                len,
            } = op
            {
                for at in 0..len {
                    self.settle(Fate::Kept(old_at[old_index + at], new_at[new_index + at]));
                }
            }
        }
    }

    /// What says the same and isn't kept stands elsewhere.
    fn move_rest(&mut self) {
        let mut waiting: HashMap<usize, VecDeque<usize>> = HashMap::new();
        for (at, id) in self.new_ids.iter().enumerate() {
            if self.was[at].is_none() {
                waiting.entry(*id).or_default().push_back(at);
            }
        }
        for from in 0..self.old.len() {
            let free = self.became[from].is_none();
            let to = waiting
                .get_mut(&self.old_ids[from])
                .filter(|_| free)
                .and_then(VecDeque::pop_front);
            if let Some(to) = to {
                self.settle(Fate::Moved(from, to));
            }
        }
    }

    /// Between what is kept, those of one kind that say nearly the same are one that changed.
    fn change(&mut self) {
        let kept = self.became.iter().flatten().filter_map(|fate| match fate {
            Fate::Kept(from, to) => Some((*from, *to)),
            _ => None,
        });
        let ends = [(self.old.len(), self.new.len())];
        let mut begin = (0, 0);
        for end in kept.chain(ends).collect::<Vec<_>>() {
            self.change_between(begin.0..end.0, begin.1..end.1);
            begin = (end.0 + 1, end.1 + 1);
        }
    }

    fn change_between(&mut self, old: std::ops::Range<usize>, new: std::ops::Range<usize>) {
        let mut kinds: HashMap<ActKind, (Vec<usize>, Vec<usize>)> = HashMap::new();
        for at in old.filter(|at| self.became[*at].is_none()) {
            kinds.entry(self.old[at].kind).or_default().0.push(at);
        }
        for at in new.filter(|at| self.was[*at].is_none()) {
            kinds.entry(self.new[at].kind).or_default().1.push(at);
        }
        for (from, to) in kinds.into_values() {
            for (from, to) in pairs(&from, &to, self.old, self.new) {
                self.settle(Fate::Changed(from, to));
            }
        }
    }

    fn fates(&self) -> Vec<Fate> {
        let mut fates = Vec::with_capacity(self.new.len());
        let mut old = 0;
        // an old one that is gone stands before whatever is kept behind it
        let mut gone_up_to = |end: usize, fates: &mut Vec<Fate>| {
            let gone = (old..end).filter(|at| self.became[*at].is_none());
            fates.extend(gone.map(Fate::Gone));
            old = old.max(end);
        };
        for (at, was) in self.was.iter().enumerate() {
            if let Some(Fate::Kept(from, _) | Fate::Changed(from, _)) = was {
                gone_up_to(*from, &mut fates);
            }
            fates.push(was.unwrap_or(Fate::Added(at)));
        }
        gone_up_to(self.old.len(), &mut fates);
        fates
    }
}

/// Which of these are one that changed: in the same order, and as much alike in all as can be.
fn pairs(from: &[usize], to: &[usize], old: &[Act], new: &[Act]) -> Vec<(usize, usize)> {
    if from.is_empty() || to.is_empty() {
        return Vec::new();
    }
    let least = if (from.len(), to.len()) == (1, 1) {
        ALONE
    } else {
        ALIKE
    };
    let weight = |a: usize, b: usize| {
        let alike = likeness(&old[from[a]], &new[to[b]]);
        if alike >= least { alike } else { 0.0 }
    };
    if from.len() * to.len() > PAIRS {
        let both = 0..from.len().min(to.len());
        let both = both.filter(|at| weight(*at, *at) > 0.0);
        return both.map(|at| (from[at], to[at])).collect();
    }
    // the most likeness that the rest can come to, from each place on
    let width = to.len() + 1;
    let mut most = vec![0.0; (from.len() + 1) * width];
    let mut weights = vec![0.0; from.len() * to.len()];
    for a in (0..from.len()).rev() {
        for b in (0..to.len()).rev() {
            let weight = weight(a, b);
            weights[a * to.len() + b] = weight;
            let both = weight + most[(a + 1) * width + b + 1];
            most[a * width + b] =
                f64::max(both, most[(a + 1) * width + b].max(most[a * width + b + 1]));
        }
    }
    let (mut a, mut b, mut found) = (0, 0, Vec::new());
    while a < from.len() && b < to.len() {
        let here = most[a * width + b];
        let weight = weights[a * to.len() + b];
        if weight > 0.0 && here <= weight + most[(a + 1) * width + b + 1] {
            found.push((from[a], to[b]));
            (a, b) = (a + 1, b + 1);
        } else if here <= most[(a + 1) * width + b] {
            a += 1;
        } else {
            b += 1;
        }
    }
    found
}

/// How much two of one kind are alike, from 0 to 1.
fn likeness(old: &Act, new: &Act) -> f64 {
    let name = |act: &Act| act.text.split(' ').next().unwrap_or_default().to_string();
    match old.kind {
        ActKind::Picture => f64::from(u8::from(name(old) == name(new))),
        ActKind::Block if name(old) != name(new) => 0.0,
        ActKind::Block if old.title == new.title => 1.0,
        // an older ledger doesn't say of what a block is
        ActKind::Block if old.title.is_empty() || new.title.is_empty() => ALIKE,
        ActKind::Block => words_in_common(&old.title, &new.title),
        ActKind::Row if head(&old.text) == head(&new.text) => 1.0,
        _ => words_in_common(numbered(old).1, numbered(new).1),
    }
}

/// What names a row: its first cell, or what stands before its colon.
fn head(row: &str) -> &str {
    let cell = row.split(" | ").next().unwrap_or_default();
    cell.split(": ").next().unwrap_or_default()
}

/// Twice the words that both have, over all words.
fn words_in_common(old: &str, new: &str) -> f64 {
    let mut counts: HashMap<&str, usize> = HashMap::new();
    let (mut all, mut both) = (0.0, 0.0);
    for word in old.split_whitespace() {
        *counts.entry(word).or_default() += 1;
        all += 1.0;
    }
    for word in new.split_whitespace() {
        all += 1.0;
        if let Some(left) = counts.get_mut(word).filter(|left| **left > 0) {
            *left -= 1;
            both += 2.0;
        }
    }
    if all == 0.0 { 1.0 } else { both / all }
}

#[cfg(test)]
mod tests;
