//! A comparison as one page for paper and screen, complete by itself: no script, no other file.

use crate::compare::change::{CardChange, CardState, ChangeKind, Comparison};
use crate::compare::terminal::{edited, numbers, upstream};
use crate::compare::told::{EDITED, Wording, capital, cards};
use crate::markdown::escape::escape;
use crate::values::hash::policy_hash;

/// By it a page of ours is known again before another is written over it.
pub const MARK: &str = "<meta name=\"generator\" content=\"gaugeleaf compare\">";

const STYLE: &str = include_str!("paper.css");

/// Words beside the caution of invented equipment, as the handbook's own pages have them.
const TRAINING: &str = "TRAINING, INVENTED EQUIPMENT";

/// All of it.
pub fn page(comparison: &Comparison) -> String {
    let wording = Wording {
        of: comparison,
        arrow: "→",
    };
    let (old, new) = (&comparison.old, &comparison.new);
    let name = if new.title.is_empty() {
        "Handbook"
    } else {
        &new.title
    };
    let title = format!(
        "What changed: {name}, revision {} → {}",
        old.revision, new.revision
    );
    let mut html = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '{}'; base-uri 'none'; form-action 'none'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n{MARK}\n\
         <title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n",
        policy_hash(STYLE.as_bytes()),
        escape(&title)
    );
    html.push_str(&format!(
        "<header><p class=\"imprint\"><b>{}</b> <span>revision {} → {}</span></p>\n<h1>What changed, what to print</h1>\n<p class=\"count\">{}</p>\n",
        escape(name),
        escape(&old.revision),
        escape(&new.revision),
        escape(&wording.count())
    ));
    for warning in wording.warnings() {
        html.push_str(&format!("<p class=\"note\">{}</p>\n", escape(&warning)));
    }
    html.push_str("</header>\n<main>\n");
    list(&mut html, comparison);
    why(&mut html, &wording);
    details(&mut html, &wording);
    html.push_str("</main>\n<footer>\n");
    if new.demonstration {
        html.push_str(&format!("<p class=\"training\">{TRAINING}</p>\n"));
    }
    if !new.caution.is_empty() {
        html.push_str(&format!(
            "<p class=\"caution\">{}</p>\n",
            escape(&new.caution)
        ));
    }
    html.push_str(&format!(
        "<p>{}</p>\n</footer>\n</body>\n</html>\n",
        escape(&title)
    ));
    html
}

/// The cards by number, each with boxes to tick at the rack, and by what a card in hand is known.
fn list(html: &mut String, comparison: &Comparison) {
    if comparison.cards.is_empty() {
        return;
    }
    html.push_str("<h2>Cards</h2>\n<table>\n<thead><tr><th>No.</th><th>Card</th><th>Take out</th><th>Put in</th><th>Changed</th></tr></thead>\n<tbody>\n");
    for (number, card) in (1..).zip(&comparison.cards) {
        let side = |fingerprint: &str, there: bool| match there {
            true => format!(
                "<span class=\"box\"></span> <code>{}</code>",
                escape(fingerprint)
            ),
            false => "–".to_string(),
        };
        html.push_str(&format!(
            "<tr><td>{number}</td><td><b>{}</b><br><span class=\"path\">{}</span></td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
            escape(title(card)),
            escape(&card.page),
            side(&card.old_fingerprint, card.state != CardState::New),
            side(&card.new_fingerprint, card.state != CardState::Gone),
            escape(&summary(card)),
        ));
    }
    html.push_str("</tbody>\n</table>\n");
}

fn title(card: &CardChange) -> &str {
    if card.title.is_empty() {
        &card.page
    } else {
        &card.title
    }
}

/// `1 hazard, 3 steps, 12 values`.
fn summary(card: &CardChange) -> String {
    match card.state {
        CardState::New => return "new card".to_string(),
        CardState::Gone => return "no such card any more".to_string(),
        CardState::Changed => {}
    }
    let words = [
        (ChangeKind::Hazard, "hazard", "hazards"),
        (ChangeKind::Step, "step", "steps"),
        (ChangeKind::Value, "value", "values"),
        (ChangeKind::Row, "row", "rows"),
        (ChangeKind::Line, "line", "lines"),
        (ChangeKind::Item, "list item", "list items"),
        (ChangeKind::Text, "sentence", "sentences"),
        (ChangeKind::Head, "head", "heads"),
        (ChangeKind::Formula, "formula", "formulas"),
        (ChangeKind::Approver, "approver", "approvers"),
        (ChangeKind::Picture, "picture", "pictures"),
        (ChangeKind::Block, "block", "blocks"),
        (ChangeKind::Page, "not told", "not told"),
    ];
    let told = words.into_iter().filter_map(|(kind, one, many)| {
        let of = card.changes.iter().filter(|change| change.kind == kind);
        match of.count() {
            0 => None,
            1 => Some(format!("1 {one}")),
            count => Some(format!("{count} {many}")),
        }
    });
    told.collect::<Vec<_>>().join(", ")
}

fn why(html: &mut String, wording: &Wording) {
    let (causes, edited) = (upstream(wording.of), edited(wording.of));
    if causes.is_empty() && edited.is_empty() {
        return;
    }
    html.push_str("<h2>Why</h2>\n<ul class=\"why\">\n");
    for (cause, of) in causes {
        html.push_str(&format!(
            "<li><b>{}</b>",
            escape(&capital(&wording.cause(cause)))
        ));
        lines(html, &wording.details(cause));
        html.push_str(&format!(
            "<br>changes {}: no. {}</li>\n",
            cards(of.len()),
            numbers(&of)
        ));
    }
    if !edited.is_empty() {
        let of = cards(edited.len());
        html.push_str(&format!(
            "<li><b>{}</b><br>on {of}: no. {}</li>\n",
            escape(&capital(EDITED)),
            numbers(&edited)
        ));
    }
    html.push_str("</ul>\n");
}

fn details(html: &mut String, wording: &Wording) {
    let numbered = (1..).zip(&wording.of.cards);
    let mut changed = numbered
        .filter(|(_, card)| card.state == CardState::Changed)
        .peekable();
    if changed.peek().is_none() {
        return;
    }
    html.push_str("<h2>Card by card</h2>\n");
    for (number, card) in changed {
        html.push_str(&format!(
            "<section><h3>{number}. {}</h3>\n<p class=\"path\">{} <code>{} → {}</code></p>\n<ul>\n",
            escape(title(card)),
            escape(&card.page),
            escape(&card.old_fingerprint),
            escape(&card.new_fingerprint)
        ));
        for told in wording.card(card) {
            let grave = if told.grave { " class=\"hazard\"" } else { "" };
            html.push_str(&format!("<li{grave}>{}", escape(&told.head)));
            lines(html, &told.lines);
            html.push_str("</li>\n");
        }
        html.push_str("</ul></section>\n");
    }
}

fn lines(html: &mut String, lines: &[(&'static str, String)]) {
    for (word, text) in lines {
        match *word {
            "" => html.push_str(&format!("<br>{}", escape(text))),
            word => html.push_str(&format!("<br><i>{word}</i> {}", escape(text))),
        }
    }
}
