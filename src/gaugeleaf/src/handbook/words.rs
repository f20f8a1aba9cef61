//! `content/words.toml`: the trade's terms, what they mean, and what people say instead.
//!
//! The glossary prints them, pages link to them, and the search knows their other names.

use std::collections::BTreeMap;
use std::ops::Range;

use gaugeleaf_calc::finding::settings::{self, Placed, Settings};
use gaugeleaf_calc::finding::{Code, Excerpt, Finding};

use crate::handbook::file_kinds;
use crate::handbook::files::HandbookFiles;
use crate::handbook::places::WORDS_FILE;
use crate::markdown::ids::slug;

/// A term of the trade.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct GlossaryTerm {
    pub name: String,
    /// Its address on the glossary's page.
    pub id: String,
    /// Inline Markdown.
    pub means: Placed<String>,
    /// What people say for it.
    pub also: Vec<String>,
    /// The page, and the place on it, that tells more: `fit/hoses-and-stop.md#set-the-stop`.
    pub see: Option<Placed<String>>,
}

/// Reads the terms, in the order of the alphabet.
pub fn words(files: &HandbookFiles) -> (Vec<GlossaryTerm>, Vec<Finding>) {
    let Some(text) = files.texts.get(WORDS_FILE) else {
        return (Vec::new(), Vec::new());
    };
    let body = Excerpt::whole(text);
    let mut findings = Vec::new();
    let terms = settings::read(
        WORDS_FILE,
        &body,
        file_kinds::WORDS,
        &mut findings,
        |settings| {
            // a name or another name, in small letters, and the term that has it
            let mut taken: BTreeMap<String, String> = BTreeMap::new();
            settings.tables("term", |term, _| {
                let (name, also) = (term.text("name")?, term.texts("also"));
                for said in std::iter::once(&name).chain(&also) {
                    claim(said, &name.value, &mut taken, term);
                }
                Some(GlossaryTerm {
                    id: format!("term-{}", slug(&name.value)),
                    name: name.value,
                    means: term.text("means")?,
                    also: also.into_iter().map(|said| said.value).collect(),
                    see: term.text("see"),
                })
            })
        },
    );
    let mut terms: Vec<GlossaryTerm> = terms.into_iter().flatten().collect();
    terms.sort_by_key(|term| term.name.to_lowercase());
    (terms, findings)
}

/// Every name and other name leads to one term alone.
fn claim(
    said: &Placed<String>,
    name: &str,
    taken: &mut BTreeMap<String, String>,
    settings: &mut Settings,
) {
    if !said.value.contains(char::is_alphanumeric) {
        let fault = settings.error(Code::BadWord, &said.span, "this is no word");
        fault.help = Some("write the word as people say it".into());
        return;
    }
    if let Some(other) = taken.insert(said.value.to_lowercase(), name.to_string()) {
        let message = format!("`{}` stands for {other} already", said.value);
        let fault = settings.error(Code::BadWord, &said.span, message);
        fault.help = Some("let each word stand for one term".into());
    }
}

/// What people say, and what the handbook says for it.
pub fn synonyms(terms: &[GlossaryTerm]) -> Vec<(String, Vec<String>)> {
    let pairs = terms.iter().flat_map(|term| {
        term.also
            .iter()
            .map(|said| (said.clone(), vec![term.name.clone()]))
    });
    let mut pairs: Vec<(String, Vec<String>)> = pairs.collect();
    pairs.sort();
    pairs
}

/// Where a name stands in a text by itself, in capitals or not, in the singular or with an s.
pub fn mention(text: &str, name: &str) -> Option<Range<usize>> {
    // small letters of ASCII alone: every offset stays the text's own
    let (small, name) = (text.to_ascii_lowercase(), name.to_ascii_lowercase());
    let mut from = 0;
    while let Some(at) = small.get(from..)?.find(&name).map(|at| from + at) {
        let mut end = at + name.len();
        if small[end..].starts_with('s') {
            end += 1;
        }
        let inside = |c: char| c.is_alphanumeric() || c == '-';
        let apart = !small[..at].ends_with(inside) && !small[end..].starts_with(inside);
        if apart {
            return Some(at..end);
        }
        from = end;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Vec<GlossaryTerm>, Vec<(&'static str, String)>) {
        let mut files = HandbookFiles::default();
        files.texts.insert(WORDS_FILE.to_string(), text.to_string());
        let (terms, findings) = words(&files);
        let findings = findings
            .into_iter()
            .map(|f| (f.code.name(), text[f.span].to_string()));
        (terms, findings.collect())
    }

    #[test]
    fn terms_come_in_the_order_of_the_alphabet_with_their_addresses() {
        let (terms, findings) = read(
            "[[term]]\nname = \"tube sheet\"\nmeans = \"a\"\n[[term]]\nname = \"Dump\"\nmeans = \"b\"\nalso = [\"blow-down\"]\n",
        );
        assert_eq!(findings, []);
        let ids: Vec<&str> = terms.iter().map(|term| term.id.as_str()).collect();
        assert_eq!(ids, ["term-dump", "term-tube-sheet"]);
        assert_eq!(
            synonyms(&terms),
            [("blow-down".to_string(), vec!["Dump".to_string()])]
        );
    }

    #[test]
    fn a_word_that_two_terms_claim_is_a_finding_at_the_second() {
        let (_, findings) = read(
            "[[term]]\nname = \"dump\"\nmeans = \"a\"\nalso = [\"drop\"]\n[[term]]\nname = \"Drop\"\nmeans = \"b\"\n",
        );
        assert_eq!(findings, [("bad-word", "\"Drop\"".to_string())]);
    }

    #[test]
    fn a_term_without_a_meaning_and_an_unknown_key_are_findings() {
        let (terms, findings) = read("[[term]]\nname = \"dump\"\nmean = \"a\"\n");
        assert!(terms.is_empty());
        assert_eq!(findings, [("unknown-setting", "mean".to_string())]);
        let (_, findings) = read("[[term]]\nname = \"dump\"\n");
        assert_eq!(findings[0].0, "missing-setting");
    }

    #[test]
    fn a_name_is_found_whole_in_any_case_and_number() {
        assert_eq!(mention("Set the Dumps.", "dump"), Some(8..13));
        assert_eq!(
            mention("A dumping ground, a dump-valve, dump.", "dump"),
            Some(32..36)
        );
        assert_eq!(mention("Überdump", "dump"), None);
    }
}
