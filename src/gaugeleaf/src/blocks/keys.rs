//! `keys`: what may stand in a kind of file or block, from the table that its reader goes by.

use gaugeleaf_calc::finding::settings::{Need, OTHERS, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use pulldown_cmark::Event;
use serde::Serialize;

use crate::handbook::file_kinds::FILE_KINDS;
use crate::handbook::kind::BlockShape;
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, BlockKinds, Fence, names};
use crate::page::node::{Block, Line, Node};

/// `keys NAME`: the keys of one kind of file or block.
pub struct KeysBlock;

impl BlockShape for KeysBlock {
    fn name(&self) -> &'static str {
        "keys"
    }

    fn help(&self) -> &'static str {
        "The keys of one kind of file or block; `keys blocks` shows every block."
    }
}

impl BlockKind for KeysBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let mut lines = Vec::new();
        let name = fence.names.first().map(|name| name.value.as_str());
        let views: Vec<KindView> = if name == Some(BLOCKS) {
            let kinds = context.kinds.iter();
            kinds
                .map(|kind| KindView {
                    name: kind.name(),
                    help: Line::of(&mut lines, coded(kind.help())),
                    tables: tables(kind.fields(), &mut lines),
                })
                .collect()
        } else {
            let Some(fields) = name.and_then(|name| fields_of(name, context.kinds)) else {
                return Composed::fault(unknown(fence, context));
            };
            vec![KindView {
                name: "",
                help: Line::of(&mut lines, Vec::new()),
                tables: tables(fields, &mut lines),
            }]
        };
        let block = Block::new("blocks/keys.html", "kinds", &views).lines(lines);
        Composed::of(Some(block))
    }
}

/// Stands for every kind of block.
const BLOCKS: &str = "blocks";

fn tables(fields: &'static [SettingField], lines: &mut Vec<Vec<Node>>) -> Vec<KeyTableView> {
    let mut tables = Vec::new();
    if !fields.is_empty() {
        table(String::new(), fields, &mut tables);
    }
    let tables = tables.iter();
    tables.map(|table| KeyTableView::of(table, lines)).collect()
}

fn fields_of(name: &str, kinds: &BlockKinds) -> Option<&'static [SettingField]> {
    let file = FILE_KINDS.iter().find(|file| file.name == name);
    let kind = kinds.iter().find(|kind| kind.name() == name);
    file.map(|file| file.fields)
        .or_else(|| kind.map(|kind| kind.fields()))
}

fn unknown(fence: &Fence, context: &Context) -> Finding {
    let known = FILE_KINDS.iter().map(|file| file.name);
    let known: Vec<&str> = known.chain(names(context.kinds)).chain([BLOCKS]).collect();
    let (said, span) = match fence.names.first() {
        Some(name) => (name.value.as_str(), name.span.clone()),
        None => ("", fence.kind.clone()),
    };
    let message = format!("`{said}` is no kind of file or block");
    let help = match nearest(said, known.iter().copied()) {
        Some(near) => format!("write {near}"),
        None => format!("write one of {}", known.join(", ")),
    };
    context.error(Code::UnknownKeys, span, message).help(help)
}

/// A table of fields, and the keys that it stands under: more than one where several take the same.
struct KeyTable {
    under: Vec<String>,
    fields: &'static [SettingField],
}

/// A table and all that stand in it, each once.
fn table(under: String, fields: &'static [SettingField], tables: &mut Vec<KeyTable>) {
    if let Some(same) = tables.iter_mut().find(|one| one.fields == fields) {
        same.under.push(under);
        return;
    }
    let before = if under.is_empty() { "" } else { "." };
    let inner = fields.iter().filter_map(|field| match field.takes {
        SettingType::Table(inner) | SettingType::Tables(inner) => {
            Some((format!("{under}{before}{}", field.key), inner))
        }
        SettingType::TablesByName(inner) => {
            Some((format!("{under}{before}{}.NAME", field.key), inner))
        }
        _ => None,
    });
    let inner: Vec<(String, &'static [SettingField])> = inner.collect();
    tables.push(KeyTable {
        under: vec![under],
        fields,
    });
    for (under, fields) in inner {
        table(under, fields, tables);
    }
}

/// What `blocks/keys.html` is given as `kinds`.
#[derive(Serialize)]
struct KindView {
    /// Empty where the page tells of one kind itself.
    name: &'static str,
    help: Line,
    tables: Vec<KeyTableView>,
}

#[derive(Serialize)]
struct KeyTableView {
    under: Vec<String>,
    rows: Vec<KeyRow>,
}

#[derive(Serialize)]
struct KeyRow {
    /// Empty for any other key.
    key: &'static str,
    takes: Line,
    needed: Line,
    help: Line,
}

impl KeyTableView {
    fn of(table: &KeyTable, lines: &mut Vec<Vec<Node>>) -> KeyTableView {
        let under = table.under.iter().filter(|under| !under.is_empty());
        let rows = table.fields.iter().filter(|field| field.stands_here());
        KeyTableView {
            under: under.cloned().collect(),
            rows: rows.map(|field| KeyRow::of(field, lines)).collect(),
        }
    }
}

impl KeyRow {
    fn of(field: &SettingField, lines: &mut Vec<Vec<Node>>) -> KeyRow {
        let takes = match field.only {
            Some(only) => tell::one_of(&only.words.join("`, `")),
            None => field.takes.words().to_string(),
        };
        let needed = match field.need {
            Need::Free | Need::Moved(_) => String::new(),
            Need::Always(_) | Need::Told => tell::needed(),
            Need::Unless(other, _) => tell::needed_unless(other),
        };
        let mut line = |text: &str| Line::of(lines, coded(text));
        KeyRow {
            key: if field.key == OTHERS { "" } else { field.key },
            takes: line(&takes),
            needed: line(&needed),
            help: line(field.help),
        }
    }
}

/// A sentence with what stands between accents as code.
fn coded(text: &str) -> Vec<Node> {
    let code = |part: &str| Node::Leaf(Event::Code(part.to_string().into()));
    let parts = text.split('`').enumerate();
    parts
        .map(|(at, part)| match at % 2 {
            0 => Node::Text(part.to_string()),
            _ => code(part),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::KINDS;
    use crate::page::testing::{findings, printed};

    #[test]
    fn the_keys_of_a_file_are_told_with_what_each_takes() {
        let (html, findings) = printed("```keys phase\n```\n");
        assert_eq!(findings, []);
        for part in ["<code>title</code>", "a whole number", "one line."] {
            assert!(html.contains(part), "{part}: {html}");
        }
    }

    #[test]
    fn every_block_stands_in_one_list_with_what_it_is_for() {
        let (html, findings) = printed("```keys blocks\n```\n");
        assert_eq!(findings, []);
        for kind in KINDS {
            let name = format!("<code>{}</code>", kind.name());
            assert!(html.contains(&name), "{name}");
        }
        assert!(html.contains("It takes no keys."), "{html}");
    }

    #[test]
    fn what_has_no_keys_is_a_finding_at_its_name() {
        let findings = findings("```keys phaes\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-keys", 8..13)
        );
        assert_eq!(findings[0].help.as_deref(), Some("write phase"));
    }

    #[test]
    fn tables_that_are_alike_stand_once_under_all_their_names() {
        let mut tables = Vec::new();
        table(
            String::new(),
            fields_of("calculator-file", &KINDS).unwrap(),
            &mut tables,
        );
        let outputs = tables.iter().find(|one| one.under.contains(&"term".into()));
        assert_eq!(outputs.unwrap().under, ["term", "output"]);
        assert!(tables.iter().any(|one| one.under == ["check.case"]));
    }

    #[test]
    fn what_stands_between_accents_is_code() {
        let nodes = coded("a `<b>` c");
        assert!(matches!(&nodes[1], Node::Leaf(Event::Code(code)) if &**code == "<b>"));
        assert_eq!(nodes.len(), 3);
    }
}
