//! `card.html`: every page with what tells its edition, and whether the card in somebody's hand is current.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Map, Value, json};

use crate::handbook::history::{Issue, IssuedPage};
use crate::language::tell;
use crate::render::context::PageContext;
use crate::render::renderer::{MoreView, Renderer};
use crate::site::age::changes::{AgedLine, changes};
use crate::site::age::{PageNow, pages};
use crate::site::input::SiteInput;
use crate::site::navigation::home;

pub const URL: &str = "card.html";

/// One page in the register.
#[derive(Serialize)]
struct RegisterRow<'r> {
    title: &'r str,
    url: &'r str,
    fingerprint: &'r str,
    /// Of the issue since which it says what it says; none where it was never issued so.
    revision: Option<&'r str>,
    issued: Option<&'r str>,
    review: Option<&'r str>,
    owner: Option<&'r str>,
    /// Of what was issued: nobody has approved what wasn't.
    approver: Option<&'r str>,
}

/// Prints the register.
pub fn page(renderer: &mut Renderer, input: &SiteInput) {
    let handbook = input.handbook;
    let history = &handbook.history;
    let rows: Vec<RegisterRow> = pages(input)
        .map(|page| {
            let issue = history.issued(page.url, page.fingerprint);
            RegisterRow {
                title: page.title,
                url: page.url,
                fingerprint: page.fingerprint,
                revision: issue.map(|one| one.revision.as_str()),
                issued: issue.map(|one| one.issued.as_str()),
                review: page.review,
                owner: page.owner.or(handbook.owner.as_deref()),
                approver: issue.and(page.approver.or(handbook.approver.as_deref())),
            }
        })
        .collect();
    let page = PageContext {
        description: tell::about_cards(),
        ..PageContext::made("cards", &tell::cards(), URL, vec![home(input.handbook)])
    };
    renderer.page("cards.html", &page, Some(MoreView::new("cards", &rows)));
}

/// The script that answers for a card: every page as it is, and each that was issued otherwise with
/// what has changed since.
pub fn script(input: &SiteInput) -> String {
    let history = &input.handbook.history;
    let now: BTreeMap<&str, PageNow> = pages(input).map(|page| (page.url, page)).collect();
    let mut cards = Map::new();
    for page in now.values() {
        let issue = history.issued(page.url, page.fingerprint);
        let card = json!({
            "title": page.title,
            "url": page.url,
            "review": page.review,
            "revision": issue.map(|one| &one.revision),
            "issued": issue.map(|one| &one.issued),
        });
        cards.insert(page.fingerprint.to_string(), card);
    }
    for issue in &history.issues {
        for (url, issued) in &issue.pages {
            let page = now.get(url.as_str());
            if page.is_none_or(|page| page.fingerprint != issued.fingerprint) {
                cards.insert(issued.fingerprint.clone(), old(issue, url, issued, page));
            }
        }
    }
    format!("globalThis.gaugeleafCards = {};\n", Value::Object(cards))
}

/// A card that is out of date.
fn old(issue: &Issue, url: &str, issued: &IssuedPage, page: Option<&PageNow>) -> Value {
    let changed = page.map(|page| {
        let lines = changes(&issued.said, &page.said()).into_iter();
        let lines = lines.map(|one: AgedLine| json!([word(&one.kind), one.from, one.to]));
        lines.collect::<Vec<_>>()
    });
    json!({
        "title": issued.title,
        "url": page.map(|_| url),
        "revision": issue.revision,
        "issued": issue.issued,
        "changed": changed,
    })
}

/// What people call a sort of thing.
fn word(kind: &str) -> String {
    match kind {
        "hazard" => tell::kind_hazard(),
        "step" => tell::kind_step(),
        "value" => tell::kind_value(),
        "line" => tell::kind_line(),
        "row" => tell::kind_row(),
        "item" => tell::kind_item(),
        "picture" => tell::kind_picture(),
        "formula" => tell::kind_formula(),
        "head" => tell::kind_head(),
        "text" => tell::kind_text(),
        "approver" => tell::kind_approver(),
        "order" => tell::kind_order(),
        _ => tell::kind_block(),
    }
}
