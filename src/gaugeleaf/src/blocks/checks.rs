//! `checks`: a tick list. Each item says what to do, what it must be, and what to do otherwise.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::Event;
use serde::Serialize;

use crate::handbook::kind::Shape;
use crate::markdown::event::{Piece, html};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::place::fence_kind;
use crate::page::desk::Desk;
use crate::page::inline;
use crate::page::keys::Keys;
use crate::page::kind::{Fence, Kind};
use crate::settings::{self, Field, Placed, Takes};

const FIELDS: &[Field] = &[
    Field::new(
        "title",
        Takes::Text,
        "What the list proves; `Tick list` otherwise.",
    ),
    Field::new(
        "items",
        Takes::Tables(ITEM),
        "What must be so: one to nine items.",
    )
    .needed_and_told(),
    Field::new("done", Takes::Text, "The call that ends the list."),
];

const ITEM: &[Field] = &[
    Field::new("do", Takes::Text, "What is looked at.").needed_and_told(),
    Field::new(
        "want",
        Takes::Text,
        "The value or the state that is wanted.",
    )
    .needed_and_told(),
    Field::new("else", Takes::Text, "What to do if it isn't so."),
];

/// `checks`: a list to tick off.
pub struct ChecksBlock;

impl Shape for ChecksBlock {
    fn name(&self) -> &'static str {
        "checks"
    }

    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }

    fn holds_prose(&self) -> bool {
        true
    }
}

impl Kind for ChecksBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["ticks"]
    }

    fn ticks_steps(&self) -> bool {
        true
    }

    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let id = fence.alone(self.name(), desk);
        checks(&id, &fence.body, &fence.range, desk)
    }
}

/// More than this many items are not read one by one any more.
const MOST: usize = 9;

/// Answers that don't say what was seen.
const EMPTY_ANSWERS: [&str; 8] = [
    "checked", "check", "set", "done", "ok", "okay", "yes", "complete",
];

/// Around the number of a text that takes its place in the template once the stages that
/// follow have filled it in.
const SLOT: (char, char) = ('\u{E000}', '\u{E001}');

/// What the block says.
#[derive(Default)]
struct Wanted {
    title: Option<Placed<String>>,
    items: Vec<Item>,
    done: Option<Placed<String>>,
}

struct Item {
    act: Option<Placed<String>>,
    want: Option<Placed<String>>,
    otherwise: Option<Placed<String>>,
    span: Range<usize>,
}

/// What `blocks/checks.html` is given as `c`.
#[derive(Serialize)]
struct Checks<'c> {
    id: &'c str,
    title: String,
    items: Vec<Shown>,
    done: String,
}

#[derive(Serialize)]
struct Shown {
    /// Tells this item's tick from the others', and from one whose words have changed.
    key: String,
    act: String,
    want: String,
    otherwise: String,
}

/// The pieces of a tick list: its texts stay events, so that values, links and the search see them.
pub fn checks(
    id: &str,
    body: &Excerpt,
    range: &Range<usize>,
    desk: &mut Desk,
) -> Vec<Piece<'static>> {
    let Some(wanted) = read(body, desk) else {
        return Vec::new();
    };
    fitting(&wanted, range, desk);
    let mut slots = Vec::new();
    let mut slot = |text: &Option<Placed<String>>| {
        text.as_ref().map_or_else(String::new, |text| {
            slots.push(text.clone());
            format!("{}{}{}", SLOT.0, slots.len() - 1, SLOT.1)
        })
    };
    let mut keys = Keys::default();
    let mut items = Vec::new();
    for item in &wanted.items {
        items.push(Shown {
            key: keys.give(&said(item, desk)),
            act: slot(&item.act),
            want: slot(&item.want),
            otherwise: slot(&item.otherwise),
        });
    }
    let checks = Checks {
        id,
        title: wanted
            .title
            .map_or_else(|| "Tick list".to_string(), |title| title.value),
        items,
        done: slot(&wanted.done),
    };
    match desk.part("blocks/checks.html", "c", &checks) {
        Some(text) => filled(&text, &slots, range, desk),
        None => Vec::new(),
    }
}

/// What an item says, its values filled in: a tick for an older value is no tick for this one.
fn said(item: &Item, desk: &mut Desk) -> String {
    let before = (desk.findings.len(), desk.uses.len());
    let parts = [&item.act, &item.want].map(|text| {
        let text = text.as_ref();
        text.map(|text| inline::line(text, desk).words)
            .unwrap_or_default()
    });
    // the stages that follow tell and count them once more
    desk.findings.truncate(before.0);
    desk.uses.truncate(before.1);
    parts.join("\t")
}

fn read(body: &Excerpt, desk: &mut Desk) -> Option<Wanted> {
    settings::read(desk.file, body, FIELDS, &mut desk.findings, |settings| {
        Some(Wanted {
            title: settings.text("title"),
            items: settings.tables("items", |item, span| Item {
                act: item.text("do"),
                want: item.text("want"),
                otherwise: item.text("else"),
                span,
            }),
            done: settings.text("done"),
        })
    })
}

/// What makes a list hard to work through is a finding.
fn fitting(wanted: &Wanted, range: &Range<usize>, desk: &mut Desk) {
    let word = fence_kind(desk.text, range.clone());
    let file = desk.file;
    let mut error = |code, span: &Range<usize>, message: String, help: &str| {
        desk.findings
            .push(Finding::error(code, file, span.clone(), message).help(help));
    };
    if wanted.items.is_empty() {
        let help = "add items = [ { do = \"…\", want = \"…\" } ]";
        error(
            Code::ChecksSize,
            &word,
            "this tick list has no items".to_string(),
            help,
        );
    }
    if let Some(item) = wanted.items.get(MOST) {
        let message = format!(
            "a tick list has at most {MOST} items, and this one {}",
            wanted.items.len()
        );
        error(
            Code::ChecksSize,
            &item.span,
            message,
            "make two lists of it, by place or by phase",
        );
    }
    for item in &wanted.items {
        for (key, text) in [("do", &item.act), ("want", &item.want)] {
            if text
                .as_ref()
                .is_none_or(|text| text.value.trim().is_empty())
            {
                let message = format!("this item doesn't say its `{key}`");
                let help = match key {
                    "do" => "add do = \"…\": what to look at or to do",
                    _ => "add want = \"…\": what it must be",
                };
                error(Code::MissingSetting, &item.span, message, help);
            }
        }
        let Some(want) = &item.want else { continue };
        let bare = want
            .value
            .trim()
            .trim_end_matches(['.', '!'])
            .to_lowercase();
        if EMPTY_ANSWERS.contains(&bare.as_str()) {
            let message = format!("`{}` doesn't say what was seen", want.value.trim());
            error(
                Code::EmptyAnswer,
                &want.span,
                message,
                "write the value or the state that it must have",
            );
        }
    }
    if wanted
        .done
        .as_ref()
        .is_none_or(|done| done.value.trim().is_empty())
    {
        desk.findings.push(
            Finding::warning(
                Code::NoCompletion,
                file,
                word,
                "this tick list doesn't say what to call when it is complete",
            )
            .help("add done = \"…\": the last call, and to whom"),
        );
    }
}

/// The template's text, with the pieces of each slot in their place.
fn filled(
    text: &str,
    slots: &[Placed<String>],
    range: &Range<usize>,
    desk: &mut Desk,
) -> Vec<Piece<'static>> {
    let mut out = Vec::new();
    for (at, part) in text.split(SLOT.0).enumerate() {
        let (slot, rest) = match part.split_once(SLOT.1) {
            Some((number, rest)) if at > 0 => (
                number.parse().ok().and_then(|at: usize| slots.get(at)),
                rest,
            ),
            _ => (None, part),
        };
        if let Some(slot) = slot {
            out.extend(inline::pieces(slot, desk));
            out.push((Event::SoftBreak, range.clone()));
        }
        out.push(html(rest.to_string(), range.clone()));
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::page::testing::blocks;
    use crate::page::testing::with_desk;
    use crate::page::value_links::value_links;

    fn listed(body: &str) -> (String, Vec<(&'static str, String)>) {
        let text = format!("```checks\n{body}\n```\n");
        let (html, findings) = with_desk(&text, |pieces, desk| {
            value_links(blocks(pieces, desk), desk)
        });
        let at = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_string();
        (
            html,
            findings
                .into_iter()
                .map(|one| (one.code.name(), at(one.span)))
                .collect(),
        )
    }

    #[test]
    fn an_item_says_what_it_must_be_and_what_to_do_otherwise_with_its_values() {
        let (html, findings) = listed(
            "items = [ { do = \"The *gauge*\", want = \"[](value:clamp_pressure) or more\", else = \"call the lead\" } ]\ndone = \"Proved.\"",
        );
        assert_eq!(findings, []);
        for part in [
            "The <em>gauge</em>",
            "58\u{A0}psi</a> or more",
            "call the lead",
            "Proved.",
        ] {
            assert!(html.contains(part), "{part} in {html}");
        }
    }

    #[test]
    fn too_many_too_few_and_silent_items_are_findings_in_their_place() {
        let ten = "{ do = \"a\", want = \"b\" },".repeat(10);
        assert_eq!(
            listed(&format!("items = [ {ten} ]\ndone = \"x\"")).1,
            [("checks-size", "{ do = \"a\", want = \"b\" }".to_string())]
        );
        assert_eq!(
            listed("done = \"x\"").1,
            [("checks-size", "checks".to_string())]
        );
        assert_eq!(
            listed("items = [ { do = \"a\", want = \"Checked.\" } ]").1,
            [
                ("empty-answer", "\"Checked.\"".to_string()),
                ("no-completion", "checks".to_string())
            ]
        );
        assert_eq!(
            listed("items = [ { do = \"a\" } ]\ndone = \"x\"").1,
            [("missing-setting", "{ do = \"a\" }".to_string())]
        );
    }

    #[test]
    fn a_wrong_value_link_is_found_inside_its_item() {
        let (_, findings) = listed(
            "items = [ { do = \"a\", want = \"[1 psi](value:clamp_pressure)\" } ]\ndone = \"x\"",
        );
        assert_eq!(findings, [("value-differs", "1 psi".to_string())]);
    }

    #[test]
    fn an_item_keeps_its_key_until_its_words_or_its_value_change() {
        let key = |want: &str, otherwise: &str| {
            let item = format!("{{ do = \"Gauge\", want = \"{want}\", else = \"{otherwise}\" }}");
            let (html, _) = listed(&format!("items = [ {item} ]\ndone = \"x\""));
            let after = html.split("data-tick=\"").nth(1).unwrap_or("");
            after.split('"').next().unwrap_or("").to_string()
        };
        let link = "[](value:clamp_pressure)";
        assert_eq!(key(link, "stop"), key(link, "call the lead"));
        assert_eq!(
            key(link, "stop"),
            key(&format!("[58 psi]({})", &link[3..link.len() - 1]), "stop")
        );
        assert_ne!(key(link, "stop"), key("[](value:clamp_tolerance)", "stop"));
    }
}
