//! How old pages are: what each says now, beside what it said when it was last issued.

mod changes;
pub mod code;
pub mod register;

use std::collections::BTreeMap;

use crate::handbook::history::{Issue, IssuedPage, Said};
use crate::site::input::SiteInput;
use crate::site::made::made_pages;
use crate::values::act::{Act, ActKind};
use crate::values::ledger::{self, Use};

/// A page that somebody may have printed, as it is now.
struct PageNow<'i> {
    url: &'i str,
    title: &'i str,
    fingerprint: &'i str,
    review: Option<&'i str>,
    owner: Option<&'i str>,
    approver: Option<&'i str>,
    uses: &'i [Use],
    acts: &'i [Act],
}

impl PageNow<'_> {
    /// What a reader acts on: its values, each once, then all else in the page's order.
    fn said(&self) -> Vec<Said> {
        let values = ledger::once(self.uses).into_iter().map(|one| {
            let key = format!("{} {}", one.name, one.given);
            let text = format!("{}: {}", one.label, one.text);
            Said("value".to_string(), key, text)
        });
        values.chain(self.acts.iter().map(said)).collect()
    }

    fn issued(&self) -> IssuedPage {
        IssuedPage {
            title: self.title.to_string(),
            fingerprint: self.fingerprint.to_string(),
            said: self.said(),
        }
    }
}

/// A step's number tells where it stands, which another before it moves.
fn said(act: &Act) -> Said {
    let (key, text) = match (act.kind, act.text.split_once(". ")) {
        (ActKind::Step, Some((number, text))) => (number, text.to_string()),
        // what it is called, and the mark that tells it all
        (ActKind::Block, _) if !act.title.is_empty() => {
            let mark = act.text.rsplit(' ').next().unwrap_or_default();
            ("", format!("{} {mark}", act.title))
        }
        _ => ("", act.text.clone()),
    };
    Said(act.kind.word().to_string(), key.to_string(), text)
}

/// Every page that has a fingerprint, the handbook's own first.
fn pages<'i>(input: &'i SiteInput) -> impl Iterator<Item = PageNow<'i>> {
    let written = input.handbook.pages.iter().zip(input.composed);
    let written = written.map(|(page, composed)| PageNow {
        url: &page.url,
        title: &page.outline.title,
        fingerprint: &composed.value.fingerprint,
        review: page.outline.settings.review.as_deref(),
        owner: page.outline.settings.owner.as_deref(),
        approver: page.outline.settings.approver.as_deref(),
        uses: &composed.uses,
        acts: &composed.value.acts,
    });
    let made = made_pages(input).iter().map(|page| PageNow {
        url: &page.url,
        title: &page.title,
        fingerprint: &page.fingerprint,
        review: None,
        owner: None,
        approver: None,
        uses: &[],
        acts: &page.acts,
    });
    written.chain(made)
}

/// The issue of a day: the pages that say something else than when they were last issued.
pub fn next_issue(input: &SiteInput, day: &str) -> Issue {
    let history = &input.handbook.history;
    let now: BTreeMap<&str, PageNow> = pages(input).map(|page| (page.url, page)).collect();
    let changed = now
        .values()
        .filter(|page| history.issued(page.url, page.fingerprint).is_none());
    let changed = changed
        .map(|page| (page.url.to_string(), page.issued()))
        .collect();
    let gone = history.urls().filter(|url| !now.contains_key(url.as_str()));
    Issue::new(
        input.handbook.revision.trim(),
        day,
        changed,
        gone.cloned().collect(),
    )
}
