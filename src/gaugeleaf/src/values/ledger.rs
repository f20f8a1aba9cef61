//! The ledger: every value that a handbook prints, where, and what it came from.

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

use rustc_hash::FxHashMap;
use serde::{Serialize, Serializer};

use crate::report::place::LineIndex;
use crate::values::act::Act;
use crate::values::ledger_head::LedgerHead;

/// One value at one place of a page.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Use {
    /// Byte offset in the page's file.
    pub start: usize,
    /// It isn't listed among the values on its card: it answers a question there, or its block
    /// lists it with its source.
    pub apart: bool,
    pub value: Arc<UsedValue>,
}

impl Use {
    pub fn at(start: usize, value: UsedValue) -> Use {
        Use {
            start,
            apart: false,
            value: value.into(),
        }
    }
}

impl Deref for Use {
    type Target = UsedValue;

    fn deref(&self) -> &UsedValue {
        &self.value
    }
}

impl Serialize for Use {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(serializer)
    }
}

/// A value as it is printed, wherever that is.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct UsedValue {
    /// What is printed, and the same in the other unit system.
    pub text: String,
    pub also: String,
    pub label: String,
    /// `calculator.output`, `table.column`, a rating or a measurement.
    pub name: String,
    #[serde(skip)]
    pub si: Option<f64>,
    pub formula: String,
    pub source: String,
    /// The inputs in words.
    pub given: String,
    /// The inputs by name, as printed.
    #[serde(skip)]
    pub inputs: Vec<(String, String)>,
    /// What it stands on.
    pub ground: &'static str,
    /// The job whose value it is, where it is an example.
    pub of: String,
}

/// What a page prints that somebody acts on, with where the page is.
#[derive(Debug, Clone, Copy)]
pub struct PageUses<'p> {
    pub file: &'p str,
    pub url: &'p str,
    pub title: &'p str,
    pub fingerprint: &'p str,
    pub uses: &'p [Use],
    pub acts: &'p [Act],
}

/// A page's values for its foot: each once, in order of appearance, without the answers to its questions.
pub fn once(uses: &[Use]) -> Vec<&Use> {
    let mut seen = std::collections::BTreeSet::new();
    uses.iter()
        .filter(|one| !one.apart)
        .filter(|one| seen.insert((&one.name, &one.given, &one.text)))
        .collect()
}

/// How the file for machines is laid out: raised when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

/// How many bytes an entry takes, about.
const AN_ENTRY: usize = 576;
/// And an act.
const AN_ACT: usize = 144;

#[derive(Serialize)]
struct LedgerFile<'l, V: Serialize, P: Serialize> {
    version: u32,
    #[serde(flatten)]
    head: &'l LedgerHead<'l>,
    values: V,
    /// What else a reader acts on.
    pages: P,
}

/// One page: what tells it from another edition of it, and what a reader acts on besides its values.
#[derive(Clone, Serialize)]
struct LedgerPage<'l> {
    page: &'l str,
    title: &'l str,
    fingerprint: &'l str,
    acts: &'l [Act],
}

/// Entries that are made one by one as they are written: a large ledger is never held twice.
struct LedgerEntries<I>(I);

impl<I> Serialize for LedgerEntries<I>
where
    I: Iterator<Item: Serialize> + Clone,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.clone())
    }
}

/// One value. What tells it from every other, whatever else is edited on its page: page, name,
/// inputs and nth.
#[derive(Clone, Serialize)]
struct LedgerEntry<'l> {
    page: &'l str,
    name: &'l str,
    inputs: BTreeMap<&'l str, &'l str>,
    /// These in words, as they count in the fingerprint.
    given: &'l str,
    /// Of those alike on the page, in their order, from 1.
    nth: usize,
    file: &'l str,
    line: usize,
    column: usize,
    label: &'l str,
    text: &'l str,
    also: &'l str,
    si: Option<f64>,
    formula: &'l str,
    source: &'l str,
    ground: &'l str,
    of: &'l str,
}

/// The whole ledger for machines, in reading order.
pub fn json<'l>(
    head: &LedgerHead<'l>,
    pages: impl Iterator<Item = PageUses<'l>> + Clone,
    text_of: impl Fn(&str) -> &'l str,
) -> Vec<u8> {
    let uses: usize = pages.clone().map(|page| page.uses.len()).sum();
    let acts: usize = pages.clone().map(|page| page.acts.len() + 2).sum();
    let entries = pages
        .clone()
        .flat_map(|page| entries(page, text_of(page.file)));
    let pages = pages.map(|page| LedgerPage {
        page: page.url,
        title: page.title,
        fingerprint: page.fingerprint,
        acts: page.acts,
    });
    let ledger = LedgerFile {
        version: VERSION,
        head,
        values: LedgerEntries(entries),
        pages: LedgerEntries(pages),
    };
    // room for what most take: doubled step by step, a large ledger would be copied as often
    let mut bytes = Vec::with_capacity(uses * AN_ENTRY + acts * AN_ACT);
    // writing into memory doesn't fail
    let _ = serde_json::to_writer_pretty(&mut bytes, &ledger);
    bytes.push(b'\n');
    bytes
}

/// What a page has in the ledger.
fn entries<'l>(page: PageUses<'l>, text: &str) -> Vec<LedgerEntry<'l>> {
    let index = LineIndex::new(text);
    let mut alike = FxHashMap::<_, usize>::default();
    let entry = |one: &'l Use| {
        let (line, column) = index.line_column(one.start);
        let nth = alike.entry((&one.name, &one.inputs)).or_default();
        *nth += 1;
        let inputs = one.inputs.iter();
        LedgerEntry {
            page: page.url,
            name: &one.name,
            inputs: inputs
                .map(|(name, text)| (name.as_str(), text.as_str()))
                .collect(),
            given: &one.given,
            nth: *nth,
            file: page.file,
            line,
            column,
            label: &one.label,
            text: &one.text,
            also: &one.also,
            si: one.si,
            formula: &one.formula,
            source: &one.source,
            ground: one.ground,
            of: &one.of,
        }
    };
    page.uses.iter().map(entry).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::values::act::ActKind;

    fn value(text: &str) -> UsedValue {
        UsedValue {
            name: "a.b".to_string(),
            text: text.to_string(),
            ..UsedValue::default()
        }
    }

    fn one(text: &str) -> Use {
        Use::at(0, value(text))
    }

    fn entries(uses: &[Use]) -> serde_json::Value {
        let page = PageUses {
            file: "content/a.md",
            url: "a.html",
            title: "A",
            fingerprint: "0000-0000",
            uses,
            acts: &[Act::new(ActKind::Step, "Open it.")],
        };
        let head = LedgerHead {
            revision: "7",
            ..LedgerHead::default()
        };
        let bytes = json(&head, [page].into_iter(), |_| "ab\ncd\nef");
        serde_json::from_slice(&bytes).unwrap_or_default()
    }

    #[test]
    fn each_entry_names_its_place_in_the_file() {
        let uses = [Use {
            start: 4,
            ..one("1 in")
        }];
        let ledger = entries(&uses);
        let value = &ledger["values"][0];
        assert_eq!((&value["line"], &value["column"]), (&2.into(), &2.into()));
        assert_eq!(
            (&ledger["version"], &ledger["revision"]),
            (&1.into(), &"7".into())
        );
        let page = &ledger["pages"][0];
        assert_eq!(
            (&page["page"], &page["fingerprint"]),
            (&"a.html".into(), &"0000-0000".into())
        );
        let step = serde_json::json!({ "kind": "step", "text": "Open it." });
        assert_eq!(page["acts"][0], step);
    }

    #[test]
    fn what_tells_a_value_stays_when_another_comes_before_it() {
        let told = |uses: &[Use], at: usize| {
            let value = &entries(uses)["values"][at];
            ["page", "name", "inputs", "nth"].map(|key| value[key].clone())
        };
        let other = UsedValue {
            name: "c.d".to_string(),
            ..value("3 in")
        };
        let other = Use::at(0, other);
        let with = |depth: &str| {
            let inputs = vec![("depth".to_string(), depth.to_string())];
            let value = value("1 in");
            Use::at(0, UsedValue { inputs, ..value })
        };
        let before = [with("1 in"), with("1 in"), with("2 in")];
        let after = [other, with("1 in"), with("1 in"), with("2 in")];
        for at in 0..3 {
            assert_eq!(told(&before, at), told(&after, at + 1));
        }
        assert_ne!(told(&before, 0), told(&before, 1));
        assert_eq!(told(&before, 2)[3], 1);
    }
}
