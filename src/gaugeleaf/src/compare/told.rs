//! A change, a cause and what a comparison comes to, in words; a terminal and a page on paper lay out
//! the same ones.

use std::collections::HashMap;

use crate::compare::cause::{Cause, CauseKind};
use crate::compare::change::{CardChange, CardState, Change, ChangeKind, ChangeWay, Comparison};

/// A change in words: a line, and what stands under it by a word of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldChange {
    /// It is a hazard.
    pub grave: bool,
    pub head: String,
    pub lines: Vec<(&'static str, String)>,
}

/// What has no cause upstream.
pub const EDITED: &str = "edited, or nothing upstream is known";

/// So many causes are told beside a change; all stand in the list of them.
const CAUSES: usize = 3;

/// How words say that one thing became the other.
#[derive(Debug, Clone, Copy)]
pub struct Wording<'c> {
    pub of: &'c Comparison,
    pub arrow: &'static str,
}

impl Wording<'_> {
    /// All that changed on a card. Values that changed for one reason stand together.
    pub fn card(&self, card: &CardChange) -> Vec<ToldChange> {
        let mut told = Vec::new();
        let mut values: Vec<&Change> = Vec::new();
        for change in &card.changes {
            let turned = change.kind == ChangeKind::Value && change.is == ChangeWay::Changed;
            if turned {
                values.push(change);
            } else {
                told.append(&mut self.values(&std::mem::take(&mut values)));
                told.push(self.change(change));
            }
        }
        told.append(&mut self.values(&values));
        told
    }

    fn change(&self, change: &Change) -> ToldChange {
        let mut lines = Vec::new();
        let only = !change.reads.is_empty();
        let of = [("was", &change.from), ("now", &change.to)];
        for (word, text) in of {
            // a step is known by its number
            let wanted = match change.kind {
                ChangeKind::Value => false,
                ChangeKind::Step => !only,
                _ => !only || word == "now",
            };
            if wanted && !text.is_empty() {
                lines.push((word, text.clone()));
            }
        }
        if change.is == ChangeWay::Moved {
            lines.truncate(1);
            lines.iter_mut().for_each(|line| line.0 = "says");
        }
        if !only && !change.because.is_empty() {
            lines.push(("because", self.causes(&change.because)));
        }
        ToldChange {
            grave: change.kind == ChangeKind::Hazard,
            head: self.head(change),
            lines,
        }
    }

    /// Changed values, by what changed them.
    fn values(&self, values: &[&Change]) -> Vec<ToldChange> {
        let mut groups: Vec<(&[usize], Vec<&Change>)> = Vec::new();
        for change in values {
            let because = change.because.as_slice();
            match groups.iter_mut().find(|(of, _)| *of == because) {
                Some((_, group)) => group.push(change),
                None => groups.push((because, vec![change])),
            }
        }
        let told = groups.into_iter().map(|(because, group)| {
            let (same, turned): (Vec<&Change>, Vec<&Change>) =
                group.into_iter().partition(|one| one.from == one.to);
            let what = match (turned.len(), same.len()) {
                (0, 1) => "Value as before, from other inputs",
                (0, _) => "Values as before, from other inputs",
                (1, _) => "Value changed",
                _ => "Values changed",
            };
            let mut lines = self.by_name(&turned);
            if turned.is_empty() {
                lines.push(("", names(&same)));
            } else if !same.is_empty() {
                let words = format!("as before, from other inputs: {}", names(&same));
                lines.push(("", words));
            }
            let head = match because {
                [] => what.to_string(),
                _ => format!("{what}, because of {}", self.causes(because)),
            };
            ToldChange {
                grave: false,
                head,
                lines,
            }
        });
        told.collect()
    }

    /// The first value of each name in both units, and those of a table or chart in one line.
    fn by_name(&self, group: &[&Change]) -> Vec<(&'static str, String)> {
        let mut lines = Vec::new();
        for of in alike(group) {
            let Some((first, rest)) = of.split_first() else {
                continue;
            };
            let (from, to) = (bound(&first.from), bound(&first.to));
            lines.push(("", format!("{}: {from} {} {to}", first.what, self.arrow)));
            let short = |change: &&Change| {
                let number = |text: &str| bound(text.split(" (").next().unwrap_or_default());
                let (from, to) = (number(&change.from), number(&change.to));
                format!("{from} {} {to}", self.arrow)
            };
            let rest: Vec<String> = rest.iter().map(short).collect();
            if !rest.is_empty() {
                let words = format!("{} more of it: {}", rest.len(), rest.join(", "));
                lines.push(("", words));
            }
        }
        lines
    }

    /// Some causes by name; the list of them has their numbers.
    fn causes(&self, because: &[usize]) -> String {
        let causes = because.iter().filter_map(|at| self.of.causes.get(*at));
        let short = |cause: &Cause| match cause.kind {
            CauseKind::Rating => format!("rating {}", cause.label),
            CauseKind::Measurement => format!("measurement {}", cause.label),
            _ => self.cause(cause),
        };
        let mut told: Vec<String> = causes.take(CAUSES).map(short).collect();
        if because.len() > CAUSES {
            told.push(format!("{} more", because.len() - CAUSES));
        }
        told.join("; ")
    }

    fn head(&self, change: &Change) -> String {
        let step = |number: Option<usize>| {
            number.map_or_else(|| "Step".to_string(), |n| format!("Step {n}"))
        };
        let is = change.is;
        match (change.kind, is) {
            (ChangeKind::Page, _) => {
                "Its fingerprint differs, and the ledgers don't tell by what: print it anew"
                    .to_string()
            }
            (_, ChangeWay::Renumbered) => renumbered(change),
            (ChangeKind::Value, ChangeWay::Added) => {
                format!("New value, {}: {}", change.what, change.to)
            }
            (ChangeKind::Value, ChangeWay::Gone) => {
                format!("Value gone, {}: {}", change.what, change.from)
            }
            (ChangeKind::Step, ChangeWay::Added) => {
                format!("New {}", step(change.new_step).to_lowercase())
            }
            (ChangeKind::Step, ChangeWay::Gone) => format!("{} gone", step(change.old_step)),
            (_, ChangeWay::Moved) => moved(change),
            (ChangeKind::Step, _) => {
                let mut head = step(change.new_step);
                if let Some(old) = change.old_step.filter(|old| Some(*old) != change.new_step) {
                    head.push_str(&format!(" (was {old})"));
                }
                head + &self.changed(change)
            }
            (_, ChangeWay::Added) => format!("New {}", thing(change)),
            (_, ChangeWay::Gone) => format!("{} gone", capital(&thing(change))),
            (ChangeKind::Picture, _) => format!("{} is drawn anew", capital(&thing(change))),
            (ChangeKind::Block, _) => format!("{} shows something else", capital(&thing(change))),
            _ => capital(&thing(change)) + &self.changed(change),
        }
    }

    /// Whether it says something else, or the same with other values.
    fn changed(&self, change: &Change) -> String {
        let read = change.reads.iter();
        let read = read.map(|one| {
            let (from, to) = (bound(&one.from), bound(&one.to));
            format!("{} {from} {} {to}", one.what, self.arrow)
        });
        match read.collect::<Vec<_>>().join(", ") {
            none if none.is_empty() => " changed".to_string(),
            values => format!(": only {values}"),
        }
    }

    /// What changed by itself.
    pub fn cause(&self, cause: &Cause) -> String {
        let label = &cause.label;
        let both = format!("{} {} {}", bound(&cause.from), self.arrow, bound(&cause.to));
        match cause.kind {
            CauseKind::Rating => format!("rating {label}, {both}"),
            CauseKind::Measurement => format!("measurement {label}, {both}"),
            CauseKind::Input => format!("input {label}, {both}"),
            CauseKind::Formula => format!("a formula of {label}"),
            CauseKind::Table => format!("table {label}"),
            CauseKind::Source => format!("its source, {both}"),
            CauseKind::Printing => format!("how it is printed, {both}"),
        }
    }

    /// What else a list of causes says of one.
    pub fn details(&self, cause: &Cause) -> Vec<(&'static str, String)> {
        let mut lines = Vec::new();
        if cause.kind == CauseKind::Formula {
            lines.push(("was", cause.from.clone()));
            lines.push(("now", cause.to.clone()));
        }
        match (cause.old_source.as_str(), cause.new_source.as_str()) {
            (_, "") => {}
            ("", source) => lines.push(("source", source.to_string())),
            (old, new) => lines.push(("source", format!("{old} {} {new}", self.arrow))),
        }
        lines.retain(|(_, text)| !text.is_empty());
        lines
    }

    /// `12 of 155 cards to print anew`.
    pub fn count(&self) -> String {
        let all = self.of.new.cards;
        if self.of.cards.is_empty() {
            let of = if self.of.by_values {
                "No value"
            } else {
                "Nothing that a reader acts on"
            };
            return format!("{of} changed: {all} cards are as they were.");
        }
        let (new, gone) = (
            self.of.count(CardState::New),
            self.of.count(CardState::Gone),
        );
        let mut words = format!("{} of {} to print anew", self.of.to_print(), cards(all));
        if new > 0 {
            words.push_str(&format!(", {new} of them new"));
        }
        if gone > 0 {
            words.push_str(&format!("; {} to take out of use", cards(gone)));
        }
        words.push('.');
        words
    }

    /// What has to be known before anything is believed.
    pub fn warnings(&self) -> Vec<String> {
        let (old, new) = (&self.of.old, &self.of.new);
        let mut words = Vec::new();
        if self.of.same_revision() {
            words.push(format!(
                "Both call themselves revision {}: nobody can tell them apart by it. Give the new one a revision of its own, in handbook.toml, and publish it again.",
                new.revision
            ));
        }
        if !old.title.is_empty() && !new.title.is_empty() && old.title != new.title {
            words.push(format!(
                "They have different titles, {} and {}: are they one handbook?",
                old.title, new.title
            ));
        }
        if self.of.by_values {
            words.push("One of the ledgers is older than the list of pages in it. Values alone are compared: steps, hazards, tables and pictures may differ without a word here, and no fingerprint is known.".to_string());
        }
        words
    }
}

/// Changes of values by their names, in the order of the first.
fn alike<'c>(group: &[&'c Change]) -> Vec<Vec<&'c Change>> {
    let mut names: Vec<Vec<&Change>> = Vec::new();
    let mut known: HashMap<&str, usize> = HashMap::new();
    for change in group {
        let at = *known.entry(&change.name).or_insert(names.len());
        if at == names.len() {
            names.push(Vec::new());
        }
        names[at].push(change);
    }
    names
}

/// What values are called, each once.
fn names(group: &[&Change]) -> String {
    let told = alike(group).into_iter().map(|of| match of.len() {
        1 => of[0].what.clone(),
        count => format!("{} ({count} times)", of[0].what),
    });
    told.collect::<Vec<_>>().join("; ")
}

/// As long as this, a value stays on one line.
const BOUND: usize = 28;

/// A value that isn't broken between its number and its unit.
fn bound(value: &str) -> String {
    match value.chars().count() {
        0..=BOUND => value.replace(' ', "\u{a0}"),
        _ => value.to_string(),
    }
}

fn renumbered(change: &Change) -> String {
    let (old, new) = (change.old_step.unwrap_or(0), change.new_step.unwrap_or(0));
    match change.count.unwrap_or(1) {
        1 => format!("Step {old} is now step {new}"),
        count => {
            let (old_end, new_end) = (old + count - 1, new + count - 1);
            let to = if count == 2 { "and" } else { "to" };
            format!("Steps {old} {to} {old_end} are now steps {new} {to} {new_end}")
        }
    }
}

fn moved(change: &Change) -> String {
    let numbers = change.old_step.zip(change.new_step);
    match (numbers, change.count) {
        (Some((old, new)), None) => format!("Step {old} stands elsewhere, as step {new}"),
        (_, None) => format!("{} stands elsewhere", capital(&thing(change))),
        (Some((old, new)), Some(count)) => {
            let ends = (old + count - 1, new + count - 1);
            format!(
                "Steps {old} to {} stand elsewhere, as {new} to {}; the first",
                ends.0, ends.1
            )
        }
        (None, Some(count)) => format!(
            "{count} together stand elsewhere; the first: {}",
            thing(change)
        ),
    }
}

/// `picture clamp.svg`, `calculator "Clamp jaw"`.
fn thing(change: &Change) -> String {
    let word = match change.kind {
        ChangeKind::Hazard => "hazard",
        ChangeKind::Step => "step",
        ChangeKind::Value => "value",
        ChangeKind::Row => "table row",
        ChangeKind::Line => "line of a list",
        ChangeKind::Item => "list item",
        ChangeKind::Text => "text",
        ChangeKind::Head => "title, time, people or tools",
        ChangeKind::Formula => "formula or verdict",
        ChangeKind::Approver => "approver",
        ChangeKind::Picture => "picture",
        ChangeKind::Page => "page",
        ChangeKind::Block => match change.name.as_str() {
            "" => "block",
            "widget" => "calculator",
            name => &name.replace('-', " "),
        },
    };
    match (change.kind, change.what.as_str()) {
        (_, "") => word.to_string(),
        (ChangeKind::Picture, name) => format!("{word} {name}"),
        (_, title) => format!("{word} \"{title}\""),
    }
}

/// With a large first letter.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// `1 card`, `12 cards`.
pub fn cards(count: usize) -> String {
    match count {
        1 => "1 card".to_string(),
        count => format!("{count} cards"),
    }
}
