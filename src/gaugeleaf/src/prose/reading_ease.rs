//! Pages are read by tired people, some in their second language: short sentences on every page,
//! and common words on a page of work.
//!
//! The grade is Flesch and Kincaid's: Kincaid, Fishburne, Rogers, Chissom, "Derivation of New
//! Readability Formulas for Navy Enlisted Personnel", 1975.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;
use crate::prose::passage::{CODE, VALUE};
use crate::prose::sentences::count;
use crate::prose::syllables::syllables;
use crate::prose::vocabulary::Vocabulary;

/// A grade of school that everybody on a crew has passed.
const GRADE: f64 = 8.0;
/// Words in a sentence, on the average of a page of work and of another.
const MEAN: [f64; 2] = [14.0, 17.0];
/// A term of the trade is known to whoever works in it, however long it is.
const IN_A_TERM: usize = 2;
/// Fewer sentences than this have no average worth telling.
const ENOUGH: usize = 10;

/// What a text is made of.
#[derive(Debug, Default, Clone, Copy)]
struct Tally {
    sentences: usize,
    words: usize,
    syllables: usize,
}

impl Tally {
    fn mean(self) -> f64 {
        self.words as f64 / self.sentences.max(1) as f64
    }

    fn grade(self) -> f64 {
        0.39 * self.mean() + 11.8 * self.syllables as f64 / self.words.max(1) as f64 - 15.59
    }
}

/// Finds pages that are hard to read.
pub fn reading_ease(page_text: &PageText, findings: &mut Vec<Finding>) {
    let tally = tally(page_text);
    if tally.sentences < ENOUGH {
        return;
    }
    let mut told = |message: String, help: &str| {
        findings.push(Finding::warning(Code::HeavyPage, page_text.file, 0..0, message).help(help));
    };
    let (page, most) = if page_text.procedure {
        ("a page of work", MEAN[0])
    } else {
        ("a page", MEAN[1])
    };
    let mean = tally.mean();
    if mean >= most {
        told(
            format!(
                "the sentences of this page have {mean:.1} words on average, and {page} has fewer than {most}"
            ),
            "cut the longest sentences in two",
        );
    }
    let grade = tally.grade();
    if page_text.procedure && grade >= GRADE {
        told(
            format!(
                "this page reads at grade {grade:.1} of Flesch and Kincaid, and {page} below {GRADE}"
            ),
            "write shorter sentences and shorter words; a word of a glossary term counts as two syllables at most",
        );
    }
}

/// Of all that is read in sentences: cells and ticks are read word by word.
fn tally(page_text: &PageText) -> Tally {
    let mut tally = Tally::default();
    for part in &page_text.parts {
        let read = !matches!(
            part.kind,
            PartKind::Heading(_) | PartKind::Block(_) | PartKind::Cell | PartKind::Tick
        );
        for sentence in part.sentences.iter().filter(|_| read) {
            let words = part.words_of(sentence);
            tally.sentences += 1;
            tally.words += count(words);
            // only a page of work is graded
            let graded = words.iter().filter(|_| page_text.procedure);
            let spoken = graded.map(|word| spoken(&word.text, page_text.vocabulary));
            tally.syllables += spoken.sum::<usize>();
        }
    }
    tally
}

/// The syllables that a word counts for.
fn spoken(word: &str, vocabulary: &Vocabulary) -> usize {
    if word.contains([VALUE, CODE]) {
        return IN_A_TERM;
    }
    let spoken = syllables(word);
    if spoken > IN_A_TERM && vocabulary.is_of_a_term(word) {
        return IN_A_TERM;
    }
    spoken
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prose::sentences::read;
    use crate::prose::testing::{findings, found, found_beside_the_work};

    #[test]
    fn the_grade_is_that_of_a_published_example() {
        // Kincaid's coefficients on the counts of a worked example, from memory: the encyclopedia
        // article on the formula gives 13 words with 24 syllables in one sentence grade 11.3
        let tally = Tally {
            sentences: 1,
            words: 13,
            syllables: 24,
        };
        assert!((tally.grade() - 11.3).abs() < 0.05, "{}", tally.grade());
        let cat = read("The cat sat on the mat.").1;
        let tally = Tally {
            sentences: 1,
            words: cat.len(),
            syllables: cat.iter().map(|word| syllables(&word.text)).sum(),
        };
        assert!((tally.grade() + 1.45).abs() < 0.01, "{}", tally.grade());
    }

    #[test]
    fn a_page_of_work_with_long_sentences_or_long_words_is_told_once() {
        let short = "Shut the valve and go back. ";
        assert_eq!(found(reading_ease, &short.repeat(12)), []);
        let long = format!("Go {}. ", "on ".repeat(14)).repeat(10);
        let told = findings(reading_ease, &long);
        assert_eq!(told.len(), 1);
        assert!(
            told[0].message.contains("15.0 words"),
            "{}",
            told[0].message
        );
        let hard = "Initiate depressurisation of the installation. ".repeat(10);
        let told = findings(reading_ease, &hard);
        assert_eq!(told.len(), 1);
        assert!(told[0].message.contains("grade"), "{}", told[0].message);
        // beside the work the mean may be higher, and no grade is asked
        let sentences = |words: usize| format!("Go {}. ", "on ".repeat(words - 1)).repeat(10);
        assert_eq!(found_beside_the_work(reading_ease, &sentences(16)), []);
        assert_eq!(
            found_beside_the_work(reading_ease, &sentences(17)),
            [("heavy-page", "")]
        );
        assert_eq!(found_beside_the_work(reading_ease, &hard), []);
        // too few to have an average
        assert_eq!(found(reading_ease, "Initiate depressurisation.\n"), []);
    }
}
