//! The words that the rules go by: one table of them is built in, and a handbook
//! adds to it in `content/rules.toml`.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::{Excerpt, Finding, settings};

use crate::handbook::file_kinds;
use crate::handbook::files::HandbookFiles;
use crate::handbook::places::RULES_FILE;
use crate::handbook::words::GlossaryTerm;
use crate::prose::energies::{EnergyWords, KINDS, Phrase, forms};
use crate::prose::sentences::Word;

const BUILT_IN: &str = include_str!("../../../../themes/languages/en/rules.toml");

/// The rules' words.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    verbs: BTreeSet<String>,
    /// Words in capitals that need no more explaining.
    abbreviations: BTreeSet<String>,
    /// Each word of a term and of its other names, in small letters.
    of_terms: BTreeSet<String>,
    /// In the order of `energies::KINDS`.
    energies: [EnergyWords; KINDS.len()],
    /// The words with which grave acts begin: few sentences have any.
    openers: BTreeSet<String>,
    /// Those with which the names of energies begin.
    name_openers: BTreeSet<String>,
}

/// An act that needs a hazard statement before it.
#[derive(Debug)]
pub struct GraveAct<'w> {
    /// Among `energies::KINDS`.
    pub energy: usize,
    /// The words that say it.
    pub words: &'w [Word<'w>],
}

impl Vocabulary {
    /// The built-in words, the handbook's, and the names of its terms.
    pub fn load(
        files: &HandbookFiles,
        terms: &[GlossaryTerm],
        findings: &mut Vec<Finding>,
    ) -> Vocabulary {
        let mut vocabulary = Vocabulary::default();
        vocabulary.add("rules.toml", BUILT_IN, findings);
        if let Some(text) = files.texts.get(RULES_FILE) {
            vocabulary.add(RULES_FILE, text, findings);
        }
        let names = terms
            .iter()
            .flat_map(|term| std::iter::once(&term.name).chain(&term.also));
        let words = names.flat_map(|name| name.split_whitespace().map(str::to_string));
        let words: Vec<String> = words.collect();
        let small = words.iter().flat_map(|word| word.split('-'));
        vocabulary.of_terms.extend(small.map(str::to_lowercase));
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
            for (energy, kind) in self.energies.iter_mut().zip(&KINDS) {
                let phrases = |key| {
                    let texts = settings.texts(key).into_iter();
                    texts.filter_map(|text| Phrase::read(&text.value))
                };
                let acts: Vec<Phrase> = phrases(kind.acts).collect();
                let openers = acts.iter().flat_map(Phrase::openers);
                self.openers.extend(openers.cloned());
                energy.acts.extend(acts);
                let names: Vec<Phrase> = phrases(kind.names).collect();
                let openers = names.iter().flat_map(Phrase::openers);
                self.name_openers.extend(openers.cloned());
                energy.names.extend(names);
            }
        });
    }

    pub fn is_verb(&self, word: &str) -> bool {
        self.verbs.contains(word)
    }

    pub fn is_abbreviation(&self, word: &str) -> bool {
        self.abbreviations.contains(word)
    }

    pub fn is_of_a_term(&self, word: &str) -> bool {
        let word = word.strip_suffix("'s").unwrap_or(word);
        let known = |word: &str| self.of_terms.contains(word);
        known(word) || word.strip_suffix('s').is_some_and(known)
    }

    /// What in a sentence is grave.
    pub fn grave<'w>(&self, words: &'w [Word<'w>]) -> Vec<GraveAct<'w>> {
        let begins = |at: usize| {
            let before = at.checked_sub(1).map(|before| words[before].text.as_ref());
            words[at].after_comma
                || before.is_none_or(|before| {
                    ["and", "then", "or"].contains(&before) || before.ends_with("ly")
                })
        };
        let starts = (0..words.len()).filter(|at| begins(*at) && opens(&words[*at], &self.openers));
        let acts = starts.flat_map(|start| {
            let said = &words[start..];
            let energies = self.energies.iter().enumerate();
            energies.filter_map(move |(energy, known)| {
                let lengths = known.acts.iter().filter_map(|act| act.length(said));
                let words = &said[..lengths.max()?];
                Some(GraveAct { energy, words })
            })
        });
        acts.collect()
    }

    /// The energies that a hazard's words name, by their place among `energies::KINDS`.
    pub fn named(&self, words: &[Word]) -> [bool; KINDS.len()] {
        let starts = (0..words.len()).filter(|at| opens(&words[*at], &self.name_openers));
        let starts: Vec<usize> = starts.collect();
        self.energies.each_ref().map(|energy| {
            let mut starts = starts.iter();
            starts.any(|start| energy.named_at_the_start_of(&words[*start..]))
        })
    }
}

/// Whether a phrase may begin with this word.
fn opens(word: &Word, openers: &BTreeSet<String>) -> bool {
    let mut forms = forms(word).into_iter();
    forms.any(|form| openers.contains(form))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prose::sentences::read;

    fn grave(text: &str) -> Option<String> {
        let vocabulary = Vocabulary::load(&HandbookFiles::default(), &[], &mut Vec::new());
        let (_, words) = read(text);
        let said = vocabulary.grave(&words).into_iter().next()?;
        Some(
            said.words
                .iter()
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
