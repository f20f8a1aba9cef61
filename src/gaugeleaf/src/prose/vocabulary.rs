//! The words that the rules go by: one table of them is built in, and a handbook
//! adds to it in `content/rules.toml`.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::{Excerpt, Finding, settings};

use crate::handbook::file_kinds;
use crate::handbook::files::HandbookFiles;
use crate::handbook::places::RULES_FILE;
use crate::handbook::words::GlossaryTerm;
use crate::prose::sentences::Word;

const BUILT_IN: &str = include_str!("vocabulary.toml");

/// Words that only point at what follows.
const POINTERS: [&str; 18] = [
    "the", "a", "an", "this", "that", "both", "each", "every", "all", "its", "your", "their",
    "first", "second", "whole", "one", "two", "up",
];

/// The rules' words.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    verbs: BTreeSet<String>,
    /// Words in capitals that need no more explaining.
    abbreviations: BTreeSet<String>,
    /// What makes a step grave, and the acts that do.
    acts: Vec<(&'static str, Vec<Act>)>,
    /// The words with which they begin: few sentences have any.
    openers: BTreeSet<String>,
}

/// An act in words, such as `open fill|water valve`.
#[derive(Debug, Clone)]
struct Act(Vec<Vec<String>>);

impl Vocabulary {
    /// The built-in words, the handbook's, and the names of its terms.
    pub fn load(
        files: &HandbookFiles,
        terms: &[GlossaryTerm],
        findings: &mut Vec<Finding>,
    ) -> Vocabulary {
        let mut vocabulary = Vocabulary::default();
        vocabulary.add("vocabulary.toml", BUILT_IN, findings);
        if let Some(text) = files.texts.get(RULES_FILE) {
            vocabulary.add(RULES_FILE, text, findings);
        }
        let names = terms
            .iter()
            .flat_map(|term| std::iter::once(&term.name).chain(&term.also));
        let words = names.flat_map(|name| name.split_whitespace().map(str::to_string));
        vocabulary.abbreviations.extend(words);
        vocabulary
    }

    fn add(&mut self, file: &str, text: &str, findings: &mut Vec<Finding>) {
        let body = Excerpt::whole(text);
        settings::read(file, &body, file_kinds::RULES, findings, |settings| {
            let verbs = settings.texts("verbs");
            self.verbs
                .extend(verbs.into_iter().map(|verb| verb.value.to_lowercase()));
            let abbreviations = settings.texts("abbreviations").into_iter();
            self.abbreviations
                .extend(abbreviations.map(|word| word.value));
            for (key, what) in [
                ("pressure", "puts pressure on"),
                ("air", "lets air in"),
                ("lifting", "moves a load"),
            ] {
                let acts = settings.texts(key).into_iter();
                let acts: Vec<Act> = acts.filter_map(|act| Act::read(&act.value)).collect();
                let first = acts.iter().flat_map(|act| act.0.first());
                self.openers.extend(first.flatten().cloned());
                self.acts.push((what, acts));
            }
        });
    }

    pub fn is_verb(&self, word: &str) -> bool {
        self.verbs.contains(word)
    }

    pub fn is_abbreviation(&self, word: &str) -> bool {
        self.abbreviations.contains(word)
    }

    /// What makes a sentence grave, and the words that do it.
    pub fn grave<'w>(&self, words: &'w [Word<'w>]) -> Option<(&'static str, &'w [Word<'w>])> {
        let opens = |word: &Word| {
            let mut forms = forms(word).into_iter();
            forms.any(|form| self.openers.contains(form))
        };
        let mut clauses = (0..words.len()).filter(|at| {
            let before = at.checked_sub(1).map(|before| words[before].text.as_ref());
            let begins =
                words[*at].after_comma || matches!(before, None | Some("and" | "then" | "or"));
            begins && opens(&words[*at])
        });
        clauses.find_map(|start| {
            let acts = self
                .acts
                .iter()
                .flat_map(|(what, acts)| acts.iter().map(move |act| (*what, act)));
            let mut done = acts.filter_map(|(what, act)| {
                Some((what, &words[start..start + act.length(&words[start..])?]))
            });
            done.next()
        })
    }
}

/// A word as written, and without the `s` of a plural or of a verb.
fn forms<'w>(word: &'w Word) -> [&'w str; 2] {
    let text: &str = &word.text;
    [text, text.strip_suffix('s').unwrap_or(text)]
}

impl Act {
    fn read(text: &str) -> Option<Act> {
        let alike = |word: &str| word.split('|').map(str::to_lowercase).collect();
        let words: Vec<Vec<String>> = text.split_whitespace().map(alike).collect();
        (!words.is_empty()).then_some(Act(words))
    }

    /// How many words from the start say this act; none where they don't.
    fn length(&self, words: &[Word]) -> Option<usize> {
        let mut at = 0;
        for (nth, alike) in self.0.iter().enumerate() {
            let says = |word: &Word| {
                let forms = forms(word);
                alike.iter().any(|wanted| forms.contains(&wanted.as_str()))
            };
            while nth > 0
                && words
                    .get(at)
                    .is_some_and(|word| POINTERS.contains(&word.text.as_ref()) && !says(word))
            {
                at += 1;
            }
            if !words.get(at).is_some_and(says) {
                return None;
            }
            at += 1;
        }
        Some(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prose::sentences::read;

    fn grave(text: &str) -> Option<String> {
        let vocabulary = Vocabulary::load(&HandbookFiles::default(), &[], &mut Vec::new());
        let (_, words) = read(text);
        let (_, said) = vocabulary.grave(&words)?;
        Some(
            said.iter()
                .map(|word| word.text.as_ref())
                .collect::<Vec<_>>()
                .join(" "),
        )
    }

    #[test]
    fn an_act_is_found_where_a_clause_begins_and_not_where_it_is_only_mentioned() {
        assert_eq!(
            grave("Raise the pressure in steps.").as_deref(),
            Some("raise the pressure")
        );
        assert_eq!(
            grave("Hold the grip, and open the fill valve.").as_deref(),
            Some("open the fill valve")
        );
        assert_eq!(
            grave("Lift both uprights.").as_deref(),
            Some("lift both uprights")
        );
        for text in [
            "Clear the barrier before you raise the pressure.",
            "Open the fill book.",
            "Lift the straightedge off.",
        ] {
            assert_eq!(grave(text), None, "{text}");
        }
    }

    #[test]
    fn a_handbooks_words_are_added_and_a_misspelt_list_is_found() {
        let mut files = HandbookFiles::default();
        let own = "verbs = [\"Rack\"]\nliftin = []\nabbreviations = [\"PTW\"]\n";
        files.texts.insert(RULES_FILE.to_string(), own.to_string());
        let term = GlossaryTerm {
            name: "safety data sheet".to_string(),
            also: vec!["SDS sheet".to_string()],
            ..GlossaryTerm::default()
        };
        let mut findings = Vec::new();
        let vocabulary = Vocabulary::load(&files, &[term], &mut findings);
        assert!(vocabulary.is_verb("rack") && vocabulary.is_verb("open"));
        assert!(["PTW", "SDS", "DANGER"].map(|word| vocabulary.is_abbreviation(word)) == [true; 3]);
        assert_eq!(
            (
                findings[0].code.name(),
                findings[0].span.clone(),
                findings.len()
            ),
            ("unknown-setting", 17..23, 1)
        );
    }
}
