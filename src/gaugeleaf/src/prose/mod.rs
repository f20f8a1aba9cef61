//! Rules for the writing: what a page's prose, steps and hazards must keep to.
//!
//! A rule is a function over one page's parts, in a file of its own. It sees the text
//! before value links are replaced, so a number that the engine prints is known as such.

mod abbreviation;
mod action_in_hazard;
mod checks_without_else;
mod condition_last;
mod danger_share;
mod elsewhere;
mod energies;
mod hazard_parts;
mod hazard_place;
mod head;
mod left_open;
mod length;
mod no_hazard_before;
mod not_read;
mod number_style;
mod page_text;
mod parts;
mod passage;
mod quantities;
mod reading_ease;
mod sentences;
mod step_verb;
mod syllables;
#[cfg(test)]
mod testing;
mod two_actions;
mod typed_quantity;
mod typed_step;
mod vocabulary;

use gaugeleaf_calc::finding::Finding;
use rayon::prelude::*;

use crate::handbook::files::HandbookFiles;
use crate::handbook::kind::BlockShapes;
use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::prose::danger_share::HazardCount;
use crate::prose::page_text::PageText;
use vocabulary::Vocabulary;

type WritingRule = fn(&PageText, &mut Vec<Finding>);

const RULES: &[WritingRule] = &[
    abbreviation::abbreviation,
    left_open::left_open,
    typed_quantity::typed_quantity,
    typed_step::typed_step,
    number_style::number_style,
    no_hazard_before::no_hazard_before,
    not_read::not_read,
    hazard_parts::hazard_parts,
    hazard_place::hazard_place,
    action_in_hazard::action_in_hazard,
    length::length,
    reading_ease::reading_ease,
    step_verb::step_verb,
    two_actions::two_actions,
    checks_without_else::checks_without_else,
    condition_last::condition_last,
    elsewhere::elsewhere,
];

/// A page read by the rules: what breaks them, and its hazards.
pub struct InspectedPage {
    findings: Vec<Finding>,
    hazards: HazardCount,
}

/// What pages are read by.
pub struct Inspector<'h> {
    files: &'h HandbookFiles,
    shapes: &'h BlockShapes<'h>,
    vocabulary: Vocabulary,
}

impl<'h> Inspector<'h> {
    pub fn new(
        handbook: &Handbook,
        files: &'h HandbookFiles,
        shapes: &'h BlockShapes<'h>,
        findings: &mut Vec<Finding>,
    ) -> Inspector<'h> {
        Inspector {
            files,
            shapes,
            vocabulary: Vocabulary::load(files, &handbook.words, findings),
        }
    }

    /// Reads a page by the rules.
    pub fn page(&self, page: &Page) -> InspectedPage {
        let text = self.files.texts.get(&page.path).map_or("", String::as_str);
        let parts = parts::parts(text, &page.tree.nodes, self.shapes);
        let page_text = PageText::new(page, text, &parts, &self.vocabulary);
        let mut findings = Vec::new();
        for rule in RULES {
            rule(&page_text, &mut findings);
        }
        head::head(&page_text, &mut findings);
        InspectedPage {
            findings,
            hazards: danger_share::counted(&page_text),
        }
    }
}

/// Reads every page of a handbook by the rules.
pub fn inspect(
    handbook: &Handbook,
    files: &HandbookFiles,
    shapes: &BlockShapes,
    findings: &mut Vec<Finding>,
) {
    let inspector = Inspector::new(handbook, files, shapes, findings);
    let pages = handbook.pages.par_iter();
    let inspected: Vec<InspectedPage> = pages.map(|page| inspector.page(page)).collect();
    told(inspected.iter(), findings);
}

/// What the rules find on all pages, and in all of them together.
pub fn told<'p>(
    pages: impl Iterator<Item = &'p InspectedPage> + Clone,
    findings: &mut Vec<Finding>,
) {
    findings.extend(pages.clone().flat_map(|page| page.findings.iter().cloned()));
    findings.extend(danger_share::danger_share(pages.map(|page| &page.hazards)));
}
