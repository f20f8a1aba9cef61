//! One page as the rules see it.

use std::ops::{Deref, Range};

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::page::Page;
use crate::prose::parts::{Part, PartKind};
use crate::prose::passage::Passage;
use crate::prose::quantities::{QuantityMention, numbers};
use crate::prose::sentences::{Sentence, Word, read};
use crate::prose::vocabulary::Vocabulary;

/// One page before the rules.
pub struct PageText<'s> {
    pub file: &'s str,
    pub text: &'s str,
    pub page: &'s Page,
    pub parts: Vec<ReadPart<'s>>,
    /// Whether the page lies in a phase of the work, where the stricter rules hold.
    pub procedure: bool,
    pub vocabulary: &'s Vocabulary,
}

/// A part with its words: each rule goes by them, so they are told apart once.
pub struct ReadPart<'s> {
    part: &'s Part,
    pub sentences: Vec<Sentence>,
    pub words: Vec<Word<'s>>,
    pub numbers: Vec<QuantityMention>,
}

impl<'s> ReadPart<'s> {
    fn new(part: &'s Part) -> ReadPart<'s> {
        let (sentences, words) = read(&part.passage.text);
        ReadPart {
            part,
            sentences,
            words,
            numbers: numbers(&part.passage.text),
        }
    }

    pub fn words_of(&self, sentence: &Sentence) -> &[Word<'s>] {
        &self.words[sentence.words.clone()]
    }
}

impl Deref for ReadPart<'_> {
    type Target = Part;

    fn deref(&self) -> &Part {
        self.part
    }
}

impl<'s> PageText<'s> {
    pub fn new(
        page: &'s Page,
        text: &'s str,
        parts: &'s [Part],
        vocabulary: &'s Vocabulary,
    ) -> PageText<'s> {
        PageText {
            file: &page.path,
            text,
            page,
            parts: parts.iter().map(ReadPart::new).collect(),
            procedure: page.phase.is_some(),
            vocabulary,
        }
    }

    /// The page's steps, by index among its parts.
    pub fn steps(&self) -> impl Iterator<Item = (usize, &ReadPart<'s>)> {
        let parts = self.parts.iter().enumerate();
        parts.filter(|(_, part)| part.kind == PartKind::Step)
    }

    pub fn error(
        &self,
        code: Code,
        passage: &Passage,
        at: Range<usize>,
        message: impl Into<String>,
    ) -> Finding {
        Finding::error(code, self.file, passage.locate(at), message)
    }

    pub fn warning(
        &self,
        code: Code,
        passage: &Passage,
        at: Range<usize>,
        message: impl Into<String>,
    ) -> Finding {
        Finding::warning(code, self.file, passage.locate(at), message)
    }
}
