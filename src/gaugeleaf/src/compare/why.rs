//! Why a value changed: followed against the stream, from result to inputs and what supplies them, to
//! the ratings, measurements, formulas and tables that changed by themselves.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use crate::compare::card::both_units;
use crate::compare::cause::{Cause, CauseKind};
use crate::compare::change::{CardChange, CardState, Change, ChangeKind};
use crate::compare::draft::Draft;
use crate::compare::read::{CalculatorRead, EditionLedger, ValueRead};
use crate::compare::values::ChangedValue;

/// So many calculators deep a value is followed.
const DEEP: usize = 50;

/// A changed value, and the page that prints it.
type TurnedValue<'l> = (&'l str, &'l ValueRead, &'l ValueRead);

/// All that changed, by name.
pub struct Why<'l> {
    calculators: BTreeMap<&'l str, &'l CalculatorRead>,
    by_title: HashMap<&'l str, &'l str>,
    values: HashMap<&'l str, Vec<TurnedValue<'l>>>,
    /// By the calculator's name: what its page says of each formula, then and now.
    formulas: HashMap<&'l str, Vec<[String; 2]>>,
    /// Titles of the tables whose rows changed, by name.
    tables: HashMap<&'l str, &'l str>,
    /// Whether a name is that of a rating or of a measurement.
    kinds: HashMap<&'l str, &'l str>,
    causes: Vec<Cause>,
    ids: HashMap<(CauseKind, String, String, String), usize>,
    known: HashMap<[*const ValueRead; 2], Vec<usize>>,
    beneath: HashMap<&'l str, BTreeSet<&'l str>>,
}

/// The name of a page that the generator makes in such a folder.
fn made<'p>(page: &'p str, folder: &str) -> Option<&'p str> {
    page.strip_prefix(folder)?.strip_suffix(".html")
}

/// A verdict's case is no formula that a value comes from.
fn is_case(text: &str) -> bool {
    let words = ["go ", "caution ", "open ", "stop "];
    words.iter().any(|word| text.starts_with(word))
}

fn plain(text: &str) -> String {
    text.replace(['\u{a0}', ' '], "")
}

impl<'l> Why<'l> {
    pub fn new(old: &'l EditionLedger, new: &'l EditionLedger, drafts: &[Draft<'l>]) -> Why<'l> {
        let all = old.calculators.iter().chain(&new.calculators);
        let mut why = Why {
            calculators: all.clone().map(|one| (one.name.as_str(), one)).collect(),
            by_title: all
                .map(|one| (one.title.as_str(), one.name.as_str()))
                .collect(),
            values: HashMap::new(),
            formulas: HashMap::new(),
            tables: HashMap::new(),
            kinds: HashMap::new(),
            causes: Vec::new(),
            ids: HashMap::new(),
            known: HashMap::new(),
            beneath: HashMap::new(),
        };
        let was: HashMap<&str, &ValueRead> = old
            .named
            .iter()
            .map(|one| (one.name.as_str(), one))
            .collect();
        for is in &new.named {
            if let Some(was) = was.get(is.name.as_str())
                && (&was.text, &was.also) != (&is.text, &is.also)
            {
                why.values.entry(&is.name).or_default().push(("", was, is));
            }
            why.kinds.insert(&is.name, &is.is);
        }
        for draft in drafts.iter().filter(|one| one.state == CardState::Changed) {
            why.note(draft);
        }
        why
    }

    fn note(&mut self, draft: &Draft<'l>) {
        let page = draft.page.page.as_str();
        for value in &draft.values {
            if let (Some(old), Some(new)) = (value.old, value.new) {
                let there = self.values.entry(&new.name).or_default();
                there.push((page, old, new));
            }
        }
        if let Some(name) = made(page, "tables/") {
            self.tables.insert(name, &draft.page.title);
        }
        if let Some(name) = made(page, "calculators/") {
            let formulas = draft.texts.iter().map(|text| &text.change);
            let formulas = formulas.filter(|one| one.kind == ChangeKind::Formula);
            let formulas = formulas.filter(|one| !is_case(&one.from) && !is_case(&one.to));
            let both: Vec<[String; 2]> = formulas
                .map(|one| [one.from.clone(), one.to.clone()])
                .collect();
            if !both.is_empty() {
                self.formulas.insert(name, both);
            }
        }
    }

    fn cause(&mut self, kind: CauseKind, name: &str, label: &str, both: [&str; 2]) -> usize {
        let [from, to] = both.map(str::to_string);
        let key = (kind, name.to_string(), from.clone(), to.clone());
        let causes = &mut self.causes;
        *self.ids.entry(key).or_insert_with(|| {
            causes.push(Cause {
                kind,
                name: name.to_string(),
                label: if label.is_empty() { name } else { label }.to_string(),
                from,
                to,
                old_source: String::new(),
                new_source: String::new(),
                cards: Vec::new(),
            });
            causes.len() - 1
        })
    }

    /// What changed a value of a page.
    pub fn of_value(&mut self, page: &str, value: &ChangedValue<'l>) -> Vec<usize> {
        let (Some(old), Some(new)) = (value.old, value.new) else {
            return Vec::new();
        };
        let mut found = self.follow(page, old, new, &mut Vec::new());
        found.sort_unstable();
        found.dedup();
        found
    }

    fn follow(
        &mut self,
        page: &str,
        old: &'l ValueRead,
        new: &'l ValueRead,
        path: &mut Vec<&'l str>,
    ) -> Vec<usize> {
        let Some((of, _)) = new.name.split_once('.') else {
            return vec![self.named(old, new)];
        };
        let key: [*const ValueRead; 2] = [old, new];
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        // a ledger that somebody bent may lead in a circle, or without end
        if path.len() > DEEP || path.contains(&new.name.as_str()) {
            return Vec::new();
        }
        path.push(&new.name);
        let mut found = Vec::new();
        let both = ChangedValue {
            old: Some(old),
            new: Some(new),
        };
        for [input, from, to] in both.inputs() {
            found.extend(self.input(page, of, input, [from, to], path));
        }
        found.extend(self.formula(of, old, new));
        if let Some(title) = self.tables.get(of).copied() {
            found.push(self.cause(CauseKind::Table, of, title, ["", ""]));
        }
        if found.is_empty() {
            found.extend(self.nothing_given(old, new));
        }
        path.pop();
        self.known.insert(key, found.clone());
        found
    }

    /// A rating or a measurement changed by itself.
    fn named(&mut self, old: &ValueRead, new: &ValueRead) -> usize {
        let kind = match (self.kinds.get(new.name.as_str()), new.ground.as_str()) {
            (Some(&"rating"), _) | (None, "rated") => CauseKind::Rating,
            _ => CauseKind::Measurement,
        };
        let texts = [both_units(old), both_units(new)];
        let at = self.cause(kind, &new.name, &new.label, [&texts[0], &texts[1]]);
        if old.source != new.source {
            self.causes[at].old_source.clone_from(&old.source);
        }
        self.causes[at].new_source.clone_from(&new.source);
        at
    }

    /// An input differs: what supplies it does, or its page gives it otherwise.
    fn input(
        &mut self,
        page: &str,
        of: &str,
        input: &'l str,
        both: [&'l str; 2],
        path: &mut Vec<&'l str>,
    ) -> Vec<usize> {
        let known = self
            .calculators
            .get(of)
            .and_then(|one| one.inputs.get(input));
        let (from, label) = match known {
            Some(known) => (known.from.as_str(), known.label.as_str()),
            // an older ledger doesn't say what supplies it: mostly what bears its name
            None => (input, ""),
        };
        let mut found = Vec::new();
        if let Some((old, new)) = self.printed(page, from, both) {
            found = self.follow(page, old, new, path);
        }
        if found.is_empty()
            && let Some((supplier, _)) = from.split_once('.')
        {
            found = self.changed_beneath(supplier, page);
        }
        if found.is_empty() {
            found.push(self.cause(CauseKind::Input, input, label, both));
        }
        found
    }

    /// Where a value of that name is printed that changed from this to that: on the same page at best.
    fn printed(
        &self,
        page: &str,
        name: &str,
        both: [&str; 2],
    ) -> Option<(&'l ValueRead, &'l ValueRead)> {
        let says = |value: &ValueRead, text: &str| {
            [&value.text, &value.also]
                .iter()
                .any(|one| plain(one) == plain(text))
        };
        let likeness = |(at, old, new): &&TurnedValue<'l>| {
            let same = usize::from(says(old, both[0])) + usize::from(says(new, both[1]));
            2 * same + usize::from(*at == page)
        };
        let there = self.values.get(name)?;
        // of those alike the first
        let best = there.iter().rev().max_by_key(likeness)?;
        // what its page gives to one link changes apart from the rating of that name
        let fits = name.contains('.') || likeness(&best) >= 2;
        fits.then_some((best.1, best.2))
    }

    /// The formula is another.
    fn formula(&mut self, of: &str, old: &ValueRead, new: &ValueRead) -> Vec<usize> {
        let told = self.formulas.get(of).cloned().unwrap_or_default();
        let own = format!("{} = ", new.label);
        let its = told
            .iter()
            .filter(|both| both.iter().any(|text| text.starts_with(&own)));
        let its: Vec<[String; 2]> = its.cloned().collect();
        // a term on the way to it may have changed
        let told = if its.is_empty() { told } else { its };
        if told.is_empty() && old.formula != new.formula {
            let both = [old.formula.as_str(), new.formula.as_str()];
            return vec![self.cause(CauseKind::Formula, &new.name, &new.label, both)];
        }
        self.formulas_of(of, told)
    }

    fn formulas_of(&mut self, of: &str, told: Vec<[String; 2]>) -> Vec<usize> {
        let title = self
            .calculators
            .get(of)
            .map_or("", |one| one.title.as_str());
        let told = told.into_iter();
        told.map(|[from, to]| self.cause(CauseKind::Formula, of, title, [&from, &to]))
            .collect()
    }

    /// The inputs print alike and the formula is the same: a table, a source, a rounding.
    fn nothing_given(&mut self, old: &ValueRead, new: &ValueRead) -> Option<usize> {
        let looked_up = |name: &&str| new.formula.contains(&format!("lookup(\"{name}\""));
        let names: BTreeSet<&str> = self.tables.keys().copied().collect();
        if let Some(name) = names.into_iter().find(looked_up) {
            let title = self.tables[name];
            return Some(self.cause(CauseKind::Table, name, title, ["", ""]));
        }
        if old.text != new.text && old.si.is_some() && old.si == new.si {
            let both = [old.text.as_str(), new.text.as_str()];
            return Some(self.cause(CauseKind::Printing, &new.name, &new.label, both));
        }
        if old.source != new.source {
            let both = [old.source.as_str(), new.source.as_str()];
            return Some(self.cause(CauseKind::Source, &new.name, &new.label, both));
        }
        None
    }

    /// All ratings, measurements and calculators that a calculator hangs on, with itself.
    fn beneath(&mut self, of: &str) -> BTreeSet<&'l str> {
        if let Some(known) = self.beneath.get(of) {
            return known.clone();
        }
        let mut met: BTreeSet<&'l str> = BTreeSet::new();
        let own = self.calculators.get(of).map(|one| one.name.as_str());
        let mut open: Vec<&'l str> = own.into_iter().collect();
        while let Some(name) = open.pop() {
            if !met.insert(name) {
                continue;
            }
            if let Some(calculator) = self.calculators.get(name) {
                let from = calculator.inputs.values().map(|one| one.from.as_str());
                let from = from.filter(|from| !from.is_empty());
                open.extend(from.map(|from| from.split_once('.').map_or(from, |(name, _)| name)));
            }
        }
        if let Some(calculator) = self.calculators.get(of) {
            self.beneath.insert(&calculator.name, met.clone());
        }
        met
    }

    /// What of it changed, for whoever shows a calculator on a page.
    fn changed_beneath(&mut self, of: &str, page: &str) -> Vec<usize> {
        let mut found = Vec::new();
        for name in self.beneath(of) {
            if let Some(told) = self.formulas.get(name).cloned() {
                found.extend(self.formulas_of(name, told));
            }
            found.extend(self.changed_named(name, page));
        }
        found
    }

    /// A rating or measurement that changed: on this page, else for the handbook as a whole, and not
    /// for a job of its own.
    fn changed_named(&mut self, name: &str, page: &str) -> Vec<usize> {
        let there = self.values.get(name).cloned().unwrap_or_default();
        let here: Vec<_> = there.iter().filter(|(at, ..)| *at == page).collect();
        let chosen = match here.is_empty() {
            true => there
                .iter()
                .filter(|one| one.2.ground != "measured")
                .collect(),
            false => here,
        };
        let mut found: Vec<usize> = chosen.iter().map(|one| self.named(one.1, one.2)).collect();
        found.dedup();
        found
    }

    /// What changed something that isn't a value: a calculator's page, or a block that shows one.
    pub fn of_text(&mut self, page: &str, change: &Change) -> Vec<usize> {
        if change.kind == ChangeKind::Block {
            let Some(of) = self.by_title.get(change.what.as_str()).copied() else {
                return Vec::new();
            };
            return self.changed_beneath(of, page);
        }
        let Some(of) = made(page, "calculators/").filter(|_| change.kind == ChangeKind::Row) else {
            return Vec::new();
        };
        let head = change.to.split(": ").next().unwrap_or_default();
        let inputs = self.calculators.get(of).map(|one| one.inputs.values());
        let input = inputs.into_iter().flatten().find(|one| one.label == head);
        match input.map(|input| input.from.as_str()) {
            Some(from) => match from.split_once('.') {
                Some((supplier, _)) => self.changed_beneath(supplier, page),
                None => self.changed_named(from, page),
            },
            None => self.changed_beneath(of, page),
        }
    }

    /// All causes, with the cards that each put out of date.
    pub fn causes(self, cards: &[CardChange]) -> Vec<Cause> {
        let mut causes = self.causes;
        for card in cards {
            let of: BTreeSet<usize> = card
                .changes
                .iter()
                .flat_map(|one| one.because.iter().copied())
                .collect();
            for at in of {
                causes[at].cards.push(card.page.clone());
            }
        }
        causes
    }
}
