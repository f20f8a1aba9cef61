//! What a reader of a page acts on besides its values, and the short hash that tells it all.

use serde::{Deserialize, Serialize};

use crate::values::hash::short_hash;
use crate::values::ledger::Use;

/// What sort of thing a reader acts on.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum ActKind {
    #[default]
    Step,
    Hazard,
    /// Of a list.
    Item,
    /// Of a table.
    Row,
    /// Of a tick list, or of another block that is read as text.
    Line,
    Picture,
    /// What a block draws or asks, such as a chart or a form; told by a mark of all that it shows.
    Block,
    /// How a calculator comes to its results, and what it makes of them.
    Formula,
    /// Who approves what is issued of the page: another has not approved it.
    Approver,
    /// Its title, and the time, people and tools that it asks for.
    Head,
    /// Any other sentence, and where a link leads.
    Text,
}

impl ActKind {
    /// As files say it.
    pub fn word(self) -> &'static str {
        match self {
            ActKind::Step => "step",
            ActKind::Hazard => "hazard",
            ActKind::Item => "item",
            ActKind::Row => "row",
            ActKind::Line => "line",
            ActKind::Picture => "picture",
            ActKind::Block => "block",
            ActKind::Formula => "formula",
            ActKind::Approver => "approver",
            ActKind::Head => "head",
            ActKind::Text => "text",
        }
    }
}

/// One thing that a reader acts on, as the page says it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Act {
    pub kind: ActKind,
    pub text: String,
    /// Which block it is, as its template is called, and of what: a mark tells nobody. Neither counts.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub block: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub title: String,
}

impl Act {
    pub fn new(kind: ActKind, text: impl Into<String>) -> Act {
        Act {
            kind,
            text: text.into(),
            ..Act::default()
        }
    }
}

/// A short hash of a page's address, of the values that it prints, and of what a reader acts on
/// besides: two cards with the same one are the same page and agree.
pub fn fingerprint(url: &str, uses: &[Use], acts: &[Act]) -> String {
    let mut lines: Vec<String> = uses
        .iter()
        .map(|one| [&one.name, "\t", &one.given, "\t", &one.text, "\n"].concat())
        .collect();
    lines.sort();
    lines.dedup();
    let mut all = lines.concat();
    for act in acts {
        all.push(char::from(b'0' + act.kind as u8));
        all.push_str(&act.text);
        all.push('\n');
    }
    all.push_str(url);
    let hash = short_hash(all.as_bytes());
    format!("{}-{}", &hash[..4], &hash[4..]).to_uppercase()
}

/// A page that the generator makes by itself, and what a reader of it acts on.
pub struct MadePage {
    pub url: String,
    pub title: String,
    pub fingerprint: String,
    pub acts: Vec<Act>,
}

impl MadePage {
    pub fn new(url: String, title: &str, acts: Vec<Act>) -> MadePage {
        MadePage {
            title: title.to_string(),
            fingerprint: fingerprint(&url, &[], &acts),
            url,
            acts,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::values::ledger::UsedValue;

    fn printed(texts: &[&str]) -> Vec<Use> {
        let value = |text: &&str| UsedValue {
            name: "a.b".to_string(),
            text: text.to_string(),
            ..UsedValue::default()
        };
        texts.iter().map(|text| Use::at(0, value(text))).collect()
    }

    #[test]
    fn the_fingerprint_tells_other_values_and_nothing_else() {
        let of = |texts: &[&str]| fingerprint("a.html", &printed(texts), &[]);
        assert_eq!(of(&["1 in", "2 in"]), of(&["2 in", "1 in", "1 in"]));
        assert_ne!(of(&["1 in"]), of(&["2 in"]));
        assert_eq!(of(&["1 in"]).len(), 9);
    }

    #[test]
    fn the_fingerprint_tells_order_kind_and_page() {
        let of = |url: &str, acts: &[(ActKind, &str)]| {
            let acts: Vec<Act> = acts
                .iter()
                .map(|(kind, text)| Act::new(*kind, *text))
                .collect();
            fingerprint(url, &[], &acts)
        };
        let (open, shut) = ((ActKind::Step, "open"), (ActKind::Step, "shut"));
        assert_ne!(of("a.html", &[open, shut]), of("a.html", &[shut, open]));
        assert_ne!(
            of("a.html", &[open]),
            of("a.html", &[(ActKind::Item, "open")])
        );
        assert_ne!(of("a.html", &[open]), of("b.html", &[open]));
        assert_ne!(of("a.html", &[]), of("b.html", &[]));
    }
}
