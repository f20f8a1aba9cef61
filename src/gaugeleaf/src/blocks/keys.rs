//! `keys`: what may stand in a kind of file or block, from the table that its reader goes by.

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use serde::Serialize;

use crate::blocks::registry::KINDS;
use crate::handbook::forms::FORMS;
use crate::handbook::kind::Shape;
use crate::markdown::escape::escape;
use crate::markdown::event::Piece;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::settings::{Field, Need, OTHERS, Takes};

/// `keys NAME`: the keys of one kind of file or block.
pub struct KeysBlock;

impl Shape for KeysBlock {
    fn name(&self) -> &'static str {
        "keys"
    }
}

impl Kind for KeysBlock {
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let name = fence.names.first();
        let Some(fields) = name.and_then(|name| fields_of(&name.value)) else {
            desk.findings.push(unknown(fence, desk.file));
            return Vec::new();
        };
        let mut tables = Vec::new();
        table(String::new(), fields, &mut tables);
        let views: Vec<View> = tables.iter().map(View::of).collect();
        fence.html(desk.part("blocks/keys.html", "tables", &views))
    }
}

fn fields_of(name: &str) -> Option<&'static [Field]> {
    let form = FORMS.iter().find(|form| form.name == name);
    let kind = KINDS.iter().find(|kind| kind.name() == name);
    form.map(|form| form.fields)
        .or_else(|| kind.map(|kind| kind.fields()))
}

fn unknown(fence: &Fence, file: &str) -> Finding {
    let known = FORMS.iter().map(|form| form.name);
    let known: Vec<&str> = known.chain(KINDS.iter().map(|kind| kind.name())).collect();
    let (said, span) = match fence.names.first() {
        Some(name) => (name.value.as_str(), name.span.clone()),
        None => ("", fence.kind.clone()),
    };
    let message = format!("`{said}` is no kind of file or block");
    let help = match nearest(said, known.iter().copied()) {
        Some(near) => format!("write {near}"),
        None => format!("write one of {}", known.join(", ")),
    };
    Finding::error(Code::UnknownKeys, file, span, message).help(help)
}

/// A table of fields, and the keys that it stands under: more than one where several take the same.
struct Table {
    under: Vec<String>,
    fields: &'static [Field],
}

/// A table and all that stand in it, each once.
fn table(under: String, fields: &'static [Field], tables: &mut Vec<Table>) {
    if let Some(same) = tables.iter_mut().find(|one| one.fields == fields) {
        same.under.push(under);
        return;
    }
    let before = if under.is_empty() { "" } else { "." };
    let inner = fields.iter().filter_map(|field| match field.takes {
        Takes::Table(inner) | Takes::Tables(inner) => {
            Some((format!("{under}{before}{}", field.key), inner))
        }
        _ => None,
    });
    let inner: Vec<(String, &'static [Field])> = inner.collect();
    tables.push(Table {
        under: vec![under],
        fields,
    });
    for (under, fields) in inner {
        table(under, fields, tables);
    }
}

/// What `blocks/keys.html` is given as `tables`.
#[derive(Serialize)]
struct View<'t> {
    under: Vec<&'t str>,
    rows: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    /// Empty for any other key.
    key: &'static str,
    takes: String,
    needed: String,
    help: String,
}

impl<'t> View<'t> {
    fn of(table: &'t Table) -> View<'t> {
        let under = table.under.iter().map(String::as_str);
        View {
            under: under.filter(|under| !under.is_empty()).collect(),
            rows: table.fields.iter().map(Row::of).collect(),
        }
    }
}

impl Row {
    fn of(field: &Field) -> Row {
        let takes = match field.only {
            Some(only) => format!("one of `{}`", only.words.join("`, `")),
            None => field.takes.words().to_string(),
        };
        let needed = match field.need {
            Need::Free => String::new(),
            Need::Always(_) | Need::Told => "yes".to_string(),
            Need::Unless(other, _) => format!("unless `{other}`"),
        };
        Row {
            key: if field.key == OTHERS { "" } else { field.key },
            takes: coded(&takes),
            needed: coded(&needed),
            help: coded(field.help),
        }
    }
}

/// A sentence as HTML, with what stands between accents as code.
fn coded(text: &str) -> String {
    let mut parts = text.split('`');
    let mut out = escape(parts.next().unwrap_or_default());
    let mut is_code = true;
    for part in parts {
        let part = escape(part);
        if is_code {
            out.push_str(&format!("<code>{part}</code>"));
        } else {
            out.push_str(&part);
        }
        is_code = !is_code;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::{blocks, with_desk};

    #[test]
    fn the_keys_of_a_file_are_told_with_what_each_takes() {
        let (html, findings) = with_desk("```keys phase\n```\n", blocks);
        assert_eq!(findings, []);
        for part in ["<code>title</code>", "a whole number", "one line."] {
            assert!(html.contains(part), "{part}: {html}");
        }
    }

    #[test]
    fn what_has_no_keys_is_a_finding_at_its_name() {
        let (_, findings) = with_desk("```keys phaes\n```\n", blocks);
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
            fields_of("calculator-file").unwrap(),
            &mut tables,
        );
        let outputs = tables.iter().find(|one| one.under.contains(&"term".into()));
        assert_eq!(outputs.unwrap().under, ["term", "output"]);
        assert!(tables.iter().any(|one| one.under == ["check.case"]));
    }

    #[test]
    fn what_stands_between_accents_is_code() {
        assert_eq!(coded("a `<b>` c"), "a <code>&lt;b&gt;</code> c");
    }
}
