//! The ledger: every value that a handbook prints, where, and what it came from.

use serde::Serialize;
use serde_json::{Value, json};

use crate::report::place::LineIndex;
use crate::values::hash::hash;

/// One value on one page.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Use {
    /// Byte offset in the page's file.
    #[serde(skip)]
    pub start: usize,
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
    /// It answers a question: not to be read beside it.
    #[serde(skip)]
    pub asked: bool,
}

/// A page's values, with where the page is.
#[derive(Debug, Clone, Default)]
pub struct PageUses {
    pub file: String,
    pub title: String,
    pub url: String,
    pub uses: Vec<Use>,
}

/// A short hash of the values that a page prints: two cards with the same one agree.
pub fn fingerprint(uses: &[Use]) -> String {
    let mut lines: Vec<String> = uses
        .iter()
        .map(|one| format!("{}\t{}\t{}\n", one.name, one.given, one.text))
        .collect();
    lines.sort();
    lines.dedup();
    let hash = hash(lines.concat().as_bytes());
    format!("{}-{}", &hash[..4], &hash[4..8]).to_uppercase()
}

/// A page's values for its foot: each once, in order of appearance, without the answers to its questions.
pub fn once(uses: &[Use]) -> Vec<&Use> {
    let mut seen = std::collections::BTreeSet::new();
    uses.iter()
        .filter(|one| !one.asked)
        .filter(|one| seen.insert((&one.name, &one.given, &one.text)))
        .collect()
}

/// The whole ledger for machines, in reading order.
pub fn json(pages: &[PageUses], text_of: impl Fn(&str) -> String) -> Vec<u8> {
    let mut entries = Vec::new();
    for page in pages {
        let text = text_of(&page.file);
        let index = LineIndex::new(&text);
        for one in &page.uses {
            let (line, column) = index.line_column(one.start);
            let inputs: serde_json::Map<String, Value> = one
                .inputs
                .iter()
                .map(|(name, text)| (name.clone(), Value::from(text.as_str())))
                .collect();
            entries.push(json!({
                "file": page.file, "line": line, "column": column,
                "page": page.url, "name": one.name, "label": one.label,
                "text": one.text, "also": one.also, "si": one.si,
                "formula": one.formula, "inputs": inputs, "source": one.source,
                "ground": one.ground, "of": one.of,
            }));
        }
    }
    let mut bytes = serde_json::to_vec_pretty(&json!({ "values": entries })).unwrap_or_default();
    bytes.push(b'\n');
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(text: &str) -> Use {
        Use {
            name: "a.b".to_string(),
            text: text.to_string(),
            ..Use::default()
        }
    }

    #[test]
    fn the_fingerprint_tells_other_values_and_nothing_else() {
        let print =
            |texts: &[&str]| fingerprint(&texts.iter().map(|text| one(text)).collect::<Vec<_>>());
        assert_eq!(print(&["1 in", "2 in"]), print(&["2 in", "1 in", "1 in"]));
        assert_ne!(print(&["1 in"]), print(&["2 in"]));
        assert_eq!(print(&[]).len(), 9);
    }

    #[test]
    fn each_entry_names_its_place_in_the_file() {
        let uses = vec![Use {
            start: 4,
            ..one("1 in")
        }];
        let page = PageUses {
            file: "content/a.md".to_string(),
            uses,
            ..PageUses::default()
        };
        let text = String::from_utf8(json(&[page], |_| "ab\ncd".to_string())).unwrap_or_default();
        assert!(text.contains("\"line\": 2,\n      \"column\": 2"), "{text}");
    }
}
