//! What changed on one page, in the form in which it is told.

use crate::compare::align::{Fate, align, numbered};
use crate::compare::change::{Change, ChangeKind, ChangeWay, ReadTurn};
use crate::compare::read::ValueRead;
use crate::compare::values::ChangedValue;
use crate::values::act::{Act, ActKind};

/// A thing that changed, and which changed values make up for all of it.
#[derive(Debug, Clone)]
pub struct TextChange {
    pub change: Change,
    /// Places among the page's changed values.
    pub reads: Vec<usize>,
}

impl From<ActKind> for ChangeKind {
    fn from(kind: ActKind) -> ChangeKind {
        match kind {
            ActKind::Step => ChangeKind::Step,
            ActKind::Hazard => ChangeKind::Hazard,
            ActKind::Item => ChangeKind::Item,
            ActKind::Row => ChangeKind::Row,
            ActKind::Line => ChangeKind::Line,
            ActKind::Picture => ChangeKind::Picture,
            ActKind::Block => ChangeKind::Block,
            ActKind::Formula => ChangeKind::Formula,
            ActKind::Approver => ChangeKind::Approver,
            ActKind::Head => ChangeKind::Head,
            ActKind::Text => ChangeKind::Text,
        }
    }
}

/// A changed value as it is told.
pub fn value_change(value: &ChangedValue, because: Vec<usize>) -> Change {
    let of = value.either();
    let is = match (value.old, value.new) {
        (None, _) => ChangeWay::Added,
        (_, None) => ChangeWay::Gone,
        _ => ChangeWay::Changed,
    };
    Change {
        kind: ChangeKind::Value,
        is,
        what: of.map_or_else(String::new, |one| one.label.clone()),
        name: of.map_or_else(String::new, |one| one.name.clone()),
        from: value.old.map_or_else(String::new, both_units),
        to: value.new.map_or_else(String::new, both_units),
        because,
        ..Change::default()
    }
}

/// `3/4 in (19.1 mm)`.
pub fn both_units(value: &ValueRead) -> String {
    match value.also.as_str() {
        "" => value.text.clone(),
        also => format!("{} ({also})", value.text),
    }
}

/// What changed of all that a page says, besides its values.
pub fn text_changes(old: &[Act], new: &[Act], values: &[ChangedValue]) -> Vec<TextChange> {
    let mut told = PageTexts {
        old,
        new,
        changes: Vec::new(),
    };
    let fates = align(old, new);
    told.numbers(&fates);
    let mut last = None;
    for fate in fates {
        match fate {
            Fate::Kept(..) => {}
            Fate::Moved(from, to) => told.moved(from, to, last),
            Fate::Changed(from, to) => told.changed(from, to, values),
            Fate::Gone(from) => told.one(ChangeWay::Gone, Some(from), None),
            Fate::Added(to) => told.one(ChangeWay::Added, None, Some(to)),
        }
        last = Some(fate);
    }
    told.changes
}

struct PageTexts<'a> {
    old: &'a [Act],
    new: &'a [Act],
    changes: Vec<TextChange>,
}

impl PageTexts<'_> {
    fn one(&mut self, is: ChangeWay, from: Option<usize>, to: Option<usize>) {
        let (from, to) = (from.map(|at| &self.old[at]), to.map(|at| &self.new[at]));
        let Some(act) = to.or(from) else {
            return;
        };
        let text = |act: Option<&Act>| act.map_or_else(String::new, said);
        let step = |act: Option<&Act>| act.and_then(|act| numbered(act).0);
        let change = Change {
            kind: act.kind.into(),
            is,
            what: called(act),
            name: act.block.clone(),
            from: text(from),
            to: text(to),
            old_step: step(from),
            new_step: step(to),
            ..Change::default()
        };
        let reads = Vec::new();
        self.changes.push(TextChange { change, reads });
    }

    fn changed(&mut self, from: usize, to: usize, values: &[ChangedValue]) {
        let texts = [&self.old[from], &self.new[to]].map(|act| numbered(act).1);
        let reads = read_values(texts[0], texts[1], values);
        self.one(ChangeWay::Changed, Some(from), Some(to));
        if let Some(last) = self.changes.last_mut() {
            last.change.reads = reads.iter().filter_map(|at| turn(&values[*at])).collect();
            last.reads = reads;
        }
    }

    /// Those that went together are told together.
    fn moved(&mut self, from: usize, to: usize, last: Option<Fate>) {
        let before = from.checked_sub(1).zip(to.checked_sub(1));
        let before = before.map(|(from, to)| Fate::Moved(from, to));
        if let Some(last) = self
            .changes
            .last_mut()
            .filter(|_| before.is_some() && last == before)
            && last.change.kind == ChangeKind::from(self.new[to].kind)
        {
            last.change.count = Some(last.change.count.unwrap_or(1) + 1);
            return;
        }
        self.one(ChangeWay::Moved, Some(from), Some(to));
    }

    /// Steps whose numbers moved, told once for each run of them.
    fn numbers(&mut self, fates: &[Fate]) {
        let stayed = fates.iter().filter_map(|fate| match fate {
            Fate::Kept(from, to) | Fate::Changed(from, to) => Some((*from, *to)),
            _ => None,
        });
        let mut run: Option<(usize, usize, usize)> = None;
        let mut runs = Vec::new();
        for (from, to) in stayed {
            let numbers = (numbered(&self.old[from]).0, numbered(&self.new[to]).0);
            let (Some(from), Some(to)) = numbers else {
                continue;
            };
            match &mut run {
                Some((old, new, count)) if (*old + *count, *new + *count) == (from, to) => {
                    *count += 1;
                }
                _ => {
                    runs.extend(run.take());
                    run = (from != to).then_some((from, to, 1));
                }
            }
        }
        runs.extend(run);
        let told = runs.into_iter().map(|(old, new, count)| TextChange {
            change: Change {
                kind: ChangeKind::Step,
                is: ChangeWay::Renumbered,
                old_step: Some(old),
                new_step: Some(new),
                count: Some(count),
                ..Change::default()
            },
            reads: Vec::new(),
        });
        self.changes.extend(told);
    }
}

fn turn(value: &ChangedValue) -> Option<ReadTurn> {
    let (old, new) = (value.old?, value.new?);
    Some(ReadTurn {
        name: new.name.clone(),
        what: new.label.clone(),
        from: old.text.clone(),
        to: new.text.clone(),
    })
}

/// What it says, without what is told apart: a step's number, a mark.
fn said(act: &Act) -> String {
    match act.kind {
        ActKind::Picture | ActKind::Block => String::new(),
        _ => numbered(act).1.to_string(),
    }
}

/// What a person calls it.
fn called(act: &Act) -> String {
    match act.kind {
        // the mark behind the name tells nobody anything
        ActKind::Picture => act
            .text
            .rsplit_once(' ')
            .map_or(act.text.as_str(), |(name, _)| name)
            .to_string(),
        ActKind::Block => act.title.clone(),
        _ => String::new(),
    }
}

/// How many ways are tried to lay values into a text.
const TRIES: usize = 2_000;

/// The changed values that make one text the other; none where anything else differs.
fn read_values(old: &str, new: &str, values: &[ChangedValue]) -> Vec<usize> {
    let mut turns: Vec<(usize, String, String)> = Vec::new();
    for (at, value) in values.iter().enumerate() {
        if let (Some(from), Some(to)) = (value.old, value.new) {
            for (from, to) in [(&from.text, &to.text), (&from.also, &to.also)] {
                if from != to && !from.is_empty() && !to.is_empty() {
                    turns.push((at, plain(from), plain(to)));
                }
            }
        }
    }
    // the longer text is the likelier one to be meant
    turns.sort_by_key(|(_, from, _)| std::cmp::Reverse(from.len()));
    let (old, new) = (plain(old), plain(new));
    let mut tries = TRIES;
    let mut found = Vec::new();
    if !turned(&old, &new, &turns, &mut found, &mut tries) {
        return Vec::new();
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// A text with ordinary spaces: a page binds numbers to their units.
fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// Whether the rest of one text becomes that of the other by such turns; those taken are noted.
fn turned(
    old: &str,
    new: &str,
    turns: &[(usize, String, String)],
    found: &mut Vec<usize>,
    tries: &mut usize,
) -> bool {
    let (mut old, mut new) = (old, new);
    loop {
        if *tries == 0 {
            return false;
        }
        for (at, from, to) in turns {
            if let (Some(rest), Some(other)) = (
                old.strip_prefix(from.as_str()),
                new.strip_prefix(to.as_str()),
            ) {
                *tries = tries.saturating_sub(1);
                found.push(*at);
                if turned(rest, other, turns, found, tries) {
                    return true;
                }
                found.pop();
            }
        }
        let (mut letters, mut others) = (old.chars(), new.chars());
        match (letters.next(), others.next()) {
            (None, None) => return true,
            (a, b) if a != b => return false,
            _ => {
                old = letters.as_str();
                new = others.as_str();
            }
        }
    }
}
