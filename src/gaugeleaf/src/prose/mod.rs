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
mod hazard_parts;
mod hazard_place;
mod head;
mod left_open;
mod length;
mod no_hazard_before;
mod number_style;
mod page_text;
mod parts;
mod passage;
mod quantities;
mod sentences;
mod step_verb;
#[cfg(test)]
mod testing;
mod two_actions;
mod typed_quantity;
mod vocabulary;

use std::sync::Arc;

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

const RULES: [WritingRule; 14] = [
    abbreviation::abbreviation,
    left_open::left_open,
    typed_quantity::typed_quantity,
    number_style::number_style,
    no_hazard_before::no_hazard_before,
    hazard_parts::hazard_parts,
    hazard_place::hazard_place,
    action_in_hazard::action_in_hazard,
    length::length,
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

/// Reads every page of a handbook by the rules.
pub fn inspect(
    handbook: &Handbook,
    files: &HandbookFiles,
    shapes: &BlockShapes,
    findings: &mut Vec<Finding>,
) {
    inspect_with(handbook, files, shapes, |_| None, findings);
}

/// The same; a page that is known isn't read again.
pub fn inspect_with(
    handbook: &Handbook,
    files: &HandbookFiles,
    shapes: &BlockShapes,
    known: impl Fn(&Page) -> Option<Arc<InspectedPage>> + Sync,
    findings: &mut Vec<Finding>,
) -> Vec<Arc<InspectedPage>> {
    let vocabulary = Vocabulary::load(files, &handbook.words, findings);
    let inspected: Vec<Arc<InspectedPage>> = handbook
        .pages
        .par_iter()
        .map(|page| {
            known(page).unwrap_or_else(|| {
                let text = files.texts.get(&page.path).map_or("", String::as_str);
                let page_text = page_text(page, text, shapes, &vocabulary);
                let mut found = Vec::new();
                for rule in RULES {
                    rule(&page_text, &mut found);
                }
                head::head(&page_text, &mut found);
                Arc::new(InspectedPage {
                    findings: found,
                    hazards: danger_share::counted(&page_text),
                })
            })
        })
        .collect();
    findings.extend(inspected.iter().flat_map(|page| page.findings.clone()));
    let hazards = inspected.iter().map(|page| &page.hazards);
    findings.extend(danger_share::danger_share(hazards));
    inspected
}

fn page_text<'s>(
    page: &'s Page,
    text: &'s str,
    shapes: &BlockShapes,
    vocabulary: &'s Vocabulary,
) -> PageText<'s> {
    PageText {
        file: &page.path,
        text,
        page,
        parts: parts::parts(text, &page.tree.nodes, shapes),
        procedure: page.phase.is_some(),
        vocabulary,
    }
}
