//! `checks`: a tick list. Each item says what to do, what it must be, and what to do otherwise.

use std::ops::Range;

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::hashes::ContentHashes;
use crate::page::inline;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Line, Node, words};

const FIELDS: &[SettingField] = &[
    SettingField::new(
        "title",
        SettingType::Text,
        "What the list proves; `Tick list` otherwise.",
    ),
    SettingField::new(
        "items",
        SettingType::Tables(ITEM),
        "What must be so: one to nine items.",
    )
    .needed_and_told(),
    SettingField::new("done", SettingType::Text, "The call that ends the list."),
];

const ITEM: &[SettingField] = &[
    SettingField::new("do", SettingType::Text, "What is looked at.").needed_and_told(),
    SettingField::new(
        "want",
        SettingType::Text,
        "The value or the state that is wanted.",
    )
    .needed_and_told(),
    SettingField::new("else", SettingType::Text, "What to do if it isn't so."),
];

/// `checks`: a list to tick off.
pub struct ChecksBlock;

impl BlockShape for ChecksBlock {
    fn name(&self) -> &'static str {
        "checks"
    }

    fn help(&self) -> &'static str {
        "A list to tick off, for proof."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }

    fn holds_prose(&self) -> bool {
        true
    }
}

impl BlockKind for ChecksBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["ticks"]
    }

    fn ticks_steps(&self) -> bool {
        true
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let block = read(fence, context).then(|wanted| {
            let mut block = checks(&wanted, context);
            block.findings.extend(fitting(&wanted, fence, context));
            block.map(Some)
        });
        fence.standing(self.name(), context, block)
    }
}

/// More than this many items are not read one by one any more.
const MOST: usize = 9;

/// Answers that don't say what was seen.
const EMPTY_ANSWERS: [&str; 8] = [
    "checked", "check", "set", "done", "ok", "okay", "yes", "complete",
];

/// What the block says.
#[derive(Default)]
struct ChecksSettings {
    title: Option<Placed<String>>,
    items: Vec<CheckItem>,
    done: Option<Placed<String>>,
}

struct CheckItem {
    act: Option<Placed<String>>,
    want: Option<Placed<String>>,
    otherwise: Option<Placed<String>>,
    span: Range<usize>,
}

/// What `blocks/checks.html` is given as `c`.
#[derive(Serialize)]
struct Checks {
    title: String,
    items: Vec<ItemView>,
    done: Option<Line>,
}

#[derive(Serialize)]
struct ItemView {
    /// Tells this item's tick from the others', and from one whose words have changed: a tick for
    /// an older value is no tick for this one.
    key: String,
    act: Option<Line>,
    want: Option<Line>,
    otherwise: Option<Line>,
}

/// The tick list; its texts are the page's own, so that terms and the search see them.
fn checks(wanted: &ChecksSettings, context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let mut lines = Vec::new();
    let mut keys = ContentHashes::default();
    let mut line = |text: &Option<Placed<String>>| -> Option<(Line, String)> {
        let nodes: Vec<Node> = all.take(inline::line(text.as_ref()?, context));
        let said = words(&nodes);
        Some((Line::of(&mut lines, nodes), said))
    };
    let items: Vec<ItemView> = wanted
        .items
        .iter()
        .map(|item| {
            let (act, want) = (line(&item.act), line(&item.want));
            let said = [&act, &want].map(|one| one.as_ref().map_or("", |(_, said)| said.as_str()));
            ItemView {
                key: keys.give(&said.join("\t")),
                act: act.map(|(line, _)| line),
                want: want.map(|(line, _)| line),
                otherwise: line(&item.otherwise).map(|(line, _)| line),
            }
        })
        .collect();
    let done = line(&wanted.done).map(|(line, _)| line);
    let title = wanted.title.as_ref();
    let ticks = items.iter().map(|item| item.key.clone()).collect();
    let view = Checks {
        title: title.map_or_else(tell::tick_list, |title| title.value.clone()),
        items,
        done,
    };
    all.with(Block {
        prose: true,
        ticks,
        ..Block::new("blocks/checks.html", "c", &view).lines(lines)
    })
}

fn read(fence: &Fence, context: &Context) -> Composed<Option<ChecksSettings>> {
    fence.settings(context, |settings| {
        Some(ChecksSettings {
            title: settings.text("title"),
            items: settings.tables("items", |item, span| CheckItem {
                act: item.text("do"),
                want: item.text("want"),
                otherwise: item.text("else"),
                span,
            }),
            done: settings.text("done"),
        })
    })
}

/// What makes a list hard to work through.
fn fitting(wanted: &ChecksSettings, fence: &Fence, context: &Context) -> Vec<Finding> {
    let word = &fence.kind;
    let says = |text: &Option<Placed<String>>| {
        text.as_ref()
            .is_some_and(|text| !text.value.trim().is_empty())
    };
    let mut findings = Vec::new();
    if wanted.items.is_empty() {
        let message = "this tick list has no items";
        findings.push(
            context
                .error(Code::ChecksSize, word.clone(), message)
                .help("add items = [ { do = \"…\", want = \"…\" } ]"),
        );
    }
    if let Some(item) = wanted.items.get(MOST) {
        let message = format!(
            "a tick list has at most {MOST} items, and this one {}",
            wanted.items.len()
        );
        findings.push(
            context
                .error(Code::ChecksSize, item.span.clone(), message)
                .help("make two lists of it, by place or by phase"),
        );
    }
    for item in &wanted.items {
        for (key, text, help) in [
            ("do", &item.act, "add do = \"…\": what to look at or to do"),
            ("want", &item.want, "add want = \"…\": what it must be"),
        ] {
            if !says(text) {
                let message = format!("this item doesn't say its `{key}`");
                let span = item.span.clone();
                findings.push(
                    context
                        .error(Code::MissingSetting, span, message)
                        .help(help),
                );
            }
        }
        findings.extend(
            item.want
                .as_ref()
                .and_then(|want| empty_answer(want, context)),
        );
    }
    if !says(&wanted.done) {
        let message = "this tick list doesn't say what to call when it is complete";
        findings.push(
            context
                .warning(Code::NoCompletion, word.clone(), message)
                .help("add done = \"…\": the last call, and to whom"),
        );
    }
    findings
}

fn empty_answer(want: &Placed<String>, context: &Context) -> Option<Finding> {
    let bare = want
        .value
        .trim()
        .trim_end_matches(['.', '!'])
        .to_lowercase();
    if !EMPTY_ANSWERS.contains(&bare.as_str()) {
        return None;
    }
    let message = format!("`{}` doesn't say what was seen", want.value.trim());
    let finding = context.error(Code::EmptyAnswer, want.span.clone(), message);
    Some(finding.help("write the value or the state that it must have"))
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    fn listed(body: &str) -> (String, Vec<(&'static str, String)>) {
        let text = format!("```checks\n{body}\n```\n");
        let (html, findings) = printed(&text);
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
