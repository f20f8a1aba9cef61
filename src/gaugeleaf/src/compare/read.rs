//! A ledger as it is read again: what tells one edition from another.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::error::Category;

use crate::values::act::Act;
use crate::values::ledger::VERSION;

/// One edition's ledger. What older programs didn't write is empty, or none.
#[derive(Debug, Clone, Default, Deserialize)]
pub struct EditionLedger {
    pub version: u32,
    pub revision: String,
    #[serde(default)]
    pub title: String,
    #[serde(default)]
    pub caution: String,
    #[serde(default)]
    pub demonstration: bool,
    #[serde(default)]
    pub named: Vec<ValueRead>,
    #[serde(default)]
    pub calculators: Vec<CalculatorRead>,
    pub values: Vec<ValueRead>,
    pub pages: Option<Vec<PageRead>>,
}

#[derive(Debug, Clone, Default, Deserialize)]
pub struct CalculatorRead {
    pub name: String,
    #[serde(default)]
    pub title: String,
    #[serde(default)]
    pub inputs: BTreeMap<String, InputRead>,
}

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
pub struct InputRead {
    pub label: String,
    pub from: String,
}

#[derive(Debug, Clone, Default, Deserialize)]
pub struct ValueRead {
    /// None for a rating or measurement as the handbook has it.
    #[serde(default)]
    pub page: String,
    /// Of such a one: which of the two.
    #[serde(default)]
    pub is: String,
    pub name: String,
    pub text: String,
    #[serde(default)]
    pub inputs: BTreeMap<String, String>,
    #[serde(default)]
    pub given: Option<String>,
    #[serde(default)]
    pub label: String,
    #[serde(default)]
    pub also: String,
    #[serde(default)]
    pub si: Option<f64>,
    #[serde(default)]
    pub formula: String,
    #[serde(default)]
    pub source: String,
    #[serde(default)]
    pub ground: String,
}

#[derive(Debug, Clone, Default, Deserialize)]
pub struct PageRead {
    pub page: String,
    #[serde(default)]
    pub title: String,
    pub fingerprint: String,
    #[serde(default)]
    pub acts: Vec<Act>,
}

/// Why bytes are no ledger that can be compared.
#[derive(Debug, PartialEq, Eq)]
pub enum NotALedger {
    /// No JSON, from there on.
    Broken {
        line: usize,
        column: usize,
        why: String,
    },
    /// JSON of something else.
    Foreign(String),
    /// Laid out in a way that this program doesn't know.
    Version(String),
}

impl EditionLedger {
    pub fn read(bytes: &[u8]) -> Result<EditionLedger, NotALedger> {
        let read: Result<EditionLedger, _> = serde_json::from_slice(bytes);
        match read {
            Ok(ledger) if ledger.version == VERSION => Ok(ledger),
            Ok(ledger) => Err(NotALedger::Version(ledger.version.to_string())),
            Err(fault) => Err(judged(&fault, bytes)),
        }
    }
}

/// What is wrong with bytes that can't be read: broken, of a later program, or of nobody here.
fn judged(fault: &serde_json::Error, bytes: &[u8]) -> NotALedger {
    #[derive(Deserialize)]
    struct Versioned {
        version: serde_json::Value,
        // a file that says its version and holds no values is something else
        #[serde(rename = "values")]
        _values: serde::de::IgnoredAny,
    }
    let (line, column) = (fault.line(), fault.column());
    let place = format!(" at line {line} column {column}");
    let why = fault.to_string();
    let why = why.strip_suffix(&place).unwrap_or(&why).to_string();
    match fault.classify() {
        Category::Syntax | Category::Eof | Category::Io => NotALedger::Broken { line, column, why },
        Category::Data => match serde_json::from_slice::<Versioned>(bytes) {
            Ok(Versioned { version, .. }) if version.is_number() && version != VERSION => {
                NotALedger::Version(version.to_string())
            }
            Err(broken) if !broken.is_data() => judged(&broken, bytes),
            _ => NotALedger::Foreign(format!("{why}, line {line}, column {column}")),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> NotALedger {
        EditionLedger::read(text.as_bytes()).expect_err("no ledger")
    }

    #[test]
    fn bytes_that_are_no_ledger_are_told_apart() {
        assert!(matches!(
            fault("{\n\"version\": 1,,"),
            NotALedger::Broken { line: 2, .. }
        ));
        assert!(matches!(fault(""), NotALedger::Broken { .. }));
        assert!(matches!(fault("\u{feff}{}"), NotALedger::Broken { .. }));
        assert!(matches!(fault("[1]"), NotALedger::Foreign(_)));
        assert!(matches!(
            fault("{\"version\":1,\"files\":{}}"),
            NotALedger::Foreign(_)
        ));
        assert!(matches!(
            fault("{\"version\":9,\"files\":{}}"),
            NotALedger::Foreign(_)
        ));
        let later = "{\"version\":2,\"edition\":{},\"values\":{}}";
        assert_eq!(fault(later), NotALedger::Version("2".to_string()));
        let same = "{\"version\":7,\"revision\":\"1\",\"values\":[]}";
        assert_eq!(fault(same), NotALedger::Version("7".to_string()));
        // a fault of kind before the place where the file breaks off
        assert!(matches!(
            fault("{\"version\":\"x\", \"values\": ["),
            NotALedger::Broken { .. }
        ));
    }

    #[test]
    fn what_an_older_program_left_out_is_none() {
        let text = "{\"version\":1,\"revision\":\"A\",\"values\":[{\"page\":\"a.html\",\"name\":\"b\",\"text\":\"1 in\"}]}";
        let ledger = EditionLedger::read(text.as_bytes()).expect("a ledger");
        assert!(ledger.pages.is_none() && ledger.values[0].given.is_none());
    }
}
