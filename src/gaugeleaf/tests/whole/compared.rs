//! Whatever is edited: no changed card without a word on what changed, and none on any other.

use std::path::Path;
use std::sync::LazyLock;

use gaugeleaf::compare::change::{CardState, ChangeKind};
use gaugeleaf::compare::compare;
use gaugeleaf::compare::read::{EditionLedger, PageRead, ValueRead};
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::session::build;
use gaugeleaf::values::act::{Act, ActKind, fingerprint};
use gaugeleaf::values::ledger::{Use, UsedValue};
use proptest::prelude::*;
use proptest::sample::Index;

/// The demonstration's ledger.
static DEMONSTRATION: LazyLock<EditionLedger> = LazyLock::new(|| {
    let root = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    let built = build(root, &FolderEdition);
    EditionLedger::read(&built.site["ledger.json"]).expect("a sound ledger")
});

/// The fingerprint of a page, made anew of what the ledger tells of it.
fn made_anew(page: &PageRead, values: &[ValueRead]) -> String {
    let uses: Vec<Use> = values
        .iter()
        .filter(|value| value.page == page.page)
        .map(|value| {
            let used = UsedValue {
                name: value.name.clone(),
                given: value.given.clone().unwrap_or_default(),
                text: value.text.clone(),
                ..UsedValue::default()
            };
            Use::at(0, used)
        })
        .collect();
    fingerprint(&page.page, &uses, &page.acts)
}

#[test]
fn a_ledger_tells_all_that_a_fingerprint_counts() {
    let ledger = &*DEMONSTRATION;
    let pages = ledger.pages.as_ref().expect("pages");
    assert!(pages.len() > 100);
    for page in pages {
        assert_eq!(
            made_anew(page, &ledger.values),
            page.fingerprint,
            "{}",
            page.page
        );
    }
}

/// One edit somewhere in a ledger.
#[derive(Debug, Clone)]
enum LedgerEdit {
    ValueText(Index),
    ValueGiven(Index),
    ValueGone(Index),
    ValueTwice(Index),
    ValuesSwapped(Index),
    ActText(Index, Index),
    ActKindOf(Index, Index),
    ActGone(Index, Index),
    ActNew(Index, Index),
    ActMoved(Index, Index, Index),
    ActTwice(Index, Index),
    /// What no fingerprint counts.
    Uncounted(Index),
}

fn ledger_edit() -> impl Strategy<Value = LedgerEdit> {
    use LedgerEdit::*;
    let at = any::<Index>;
    prop_oneof![
        at().prop_map(ValueText),
        at().prop_map(ValueGiven),
        at().prop_map(ValueGone),
        at().prop_map(ValueTwice),
        at().prop_map(ValuesSwapped),
        (at(), at()).prop_map(|(page, act)| ActText(page, act)),
        (at(), at()).prop_map(|(page, act)| ActKindOf(page, act)),
        (at(), at()).prop_map(|(page, act)| ActGone(page, act)),
        (at(), at()).prop_map(|(page, act)| ActNew(page, act)),
        (at(), at(), at()).prop_map(|(page, from, to)| ActMoved(page, from, to)),
        (at(), at()).prop_map(|(page, act)| ActTwice(page, act)),
        at().prop_map(Uncounted),
    ]
}

fn apply(ledger: &mut EditionLedger, edit: &LedgerEdit) {
    use LedgerEdit::*;
    let values = &mut ledger.values;
    let pages = ledger.pages.as_mut().expect("pages");
    let acts = |pages: &mut Vec<PageRead>, page: &Index, act: &Index| {
        let page = page.index(pages.len());
        let count = pages[page].acts.len();
        (count > 0).then(|| (page, act.index(count)))
    };
    match edit {
        ValueText(at) => at.get_mut(values).text.push('1'),
        ValueGiven(at) => at.get_mut(values).given = Some("Depth 1 in".to_string()),
        ValueGone(at) => drop(values.remove(at.index(values.len()))),
        ValueTwice(at) => values.push(at.get(values).clone()),
        ValuesSwapped(at) => {
            let at = at.index(values.len() - 1);
            values.swap(at, at + 1);
        }
        ActText(page, act) => {
            if let Some((page, act)) = acts(pages, page, act) {
                pages[page].acts[act].text.push_str(" Twice.");
            }
        }
        ActKindOf(page, act) => {
            if let Some((page, act)) = acts(pages, page, act) {
                pages[page].acts[act].kind = ActKind::Item;
            }
        }
        ActGone(page, act) => {
            if let Some((page, act)) = acts(pages, page, act) {
                pages[page].acts.remove(act);
            }
        }
        ActNew(page, act) => {
            if let Some((page, act)) = acts(pages, page, act) {
                let step = Act::new(ActKind::Step, "1. Stop, and look.");
                pages[page].acts.insert(act, step);
            }
        }
        ActMoved(page, from, to) => {
            if let Some((page, from)) = acts(pages, page, from) {
                let act = pages[page].acts.remove(from);
                let to = to.index(pages[page].acts.len() + 1);
                pages[page].acts.insert(to, act);
            }
        }
        ActTwice(page, act) => {
            if let Some((page, act)) = acts(pages, page, act) {
                let act = pages[page].acts[act].clone();
                pages[page].acts.push(act);
            }
        }
        Uncounted(at) => {
            let value = at.get_mut(values);
            value.source.push('x');
            value.label.push('x');
            value.si = None;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// No changed card without a word on what changed, and none on a card that is as it was.
    #[test]
    fn every_changed_card_says_what_changed_and_no_other_card_is_named(
        edits in prop::collection::vec(ledger_edit(), 1..12)
    ) {
        let old = &*DEMONSTRATION;
        let mut new = old.clone();
        for edit in &edits {
            apply(&mut new, edit);
        }
        let values = new.values.clone();
        for page in new.pages.iter_mut().flatten() {
            page.fingerprint = made_anew(page, &values);
        }
        let both = old.pages.iter().flatten().zip(new.pages.iter().flatten());
        let mut differ: Vec<&str> = both
            .filter(|(old, new)| old.fingerprint != new.fingerprint)
            .map(|(old, _)| old.page.as_str())
            .collect();
        let found = compare(old, &new);
        let mut named: Vec<&str> = found.cards.iter().map(|card| card.page.as_str()).collect();
        differ.sort_unstable();
        named.sort_unstable();
        prop_assert_eq!(named, differ);
        for card in &found.cards {
            prop_assert_eq!(card.state, CardState::Changed);
            prop_assert!(!card.changes.is_empty(), "{}", card.page);
            // the ledger tells all that the fingerprint counts: nothing stays unexplained
            prop_assert!(card.changes.iter().all(|one| one.kind != ChangeKind::Page), "{}: {:?}", card.page, edits);
        }
        // and the way back names the same cards
        prop_assert_eq!(compare(&new, old).cards.len(), found.cards.len());
    }
}
