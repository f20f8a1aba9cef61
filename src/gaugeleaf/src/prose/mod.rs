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
mod manuscript;
mod no_hazard_before;
mod number_style;
mod passage;
mod quantities;
mod sentences;
mod sheet;
mod step_verb;
#[cfg(test)]
mod testing;
mod two_actions;
mod typed_quantity;
mod vocabulary;

use gaugeleaf_calc::finding::Finding;

use crate::handbook::book::Book;
use crate::handbook::files::Handbook;
use crate::handbook::kind::Shapes;
use crate::handbook::page::Page;
use crate::prose::sheet::Sheet;
use vocabulary::Vocabulary;

type Rule = fn(&Sheet, &mut Vec<Finding>);

const RULES: [Rule; 14] = [
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

/// Reads every page of a handbook by the rules.
pub fn inspect(book: &Book, handbook: &Handbook, shapes: &Shapes, findings: &mut Vec<Finding>) {
    let vocabulary = Vocabulary::load(handbook, &book.words, findings);
    let sheets: Vec<Sheet> = book
        .pages
        .iter()
        .map(|page| {
            sheet(
                page,
                handbook.texts.get(&page.path).map_or("", String::as_str),
                shapes,
                &vocabulary,
            )
        })
        .collect();
    for sheet in &sheets {
        for rule in RULES {
            rule(sheet, findings);
        }
        head::head(sheet, findings);
    }
    danger_share::danger_share(&sheets, findings);
}

fn sheet<'s>(
    page: &'s Page,
    text: &'s str,
    shapes: &Shapes,
    vocabulary: &'s Vocabulary,
) -> Sheet<'s> {
    Sheet {
        file: &page.path,
        text,
        page,
        parts: manuscript::parts(text, &page.tree.nodes, shapes),
        procedure: page.phase.is_some(),
        vocabulary,
    }
}
