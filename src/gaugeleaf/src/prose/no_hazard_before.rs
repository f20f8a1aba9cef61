//! A step that puts pressure on, lets air in or moves a load has a hazard statement
//! before it in its section.

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::HeadingLevel;

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;

/// Finds grave steps that no hazard statement stands before.
pub fn no_hazard_before(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    // a hazard holds for its section and for the smaller ones inside it
    let mut level = HeadingLevel::H1;
    let mut holds: Vec<HeadingLevel> = Vec::new();
    for part in &page_text.parts {
        match &part.kind {
            PartKind::Heading(next) => {
                holds.retain(|held| held < next);
                level = *next;
            }
            PartKind::Hazard(word) if *word != "NOTICE" => holds.push(level),
            PartKind::Step if holds.is_empty() => {
                let text = &part.passage.text;
                let grave = part.sentences.iter().find_map(|sentence| {
                    let words = part.words_of(sentence);
                    // what to do if something fails is no part of the plan
                    if words
                        .first()
                        .is_some_and(|word| ["if", "otherwise"].contains(&word.text.as_ref()))
                    {
                        return None;
                    }
                    let (what, act) = page_text.vocabulary.grave(words)?;
                    Some((what, act.first()?.range.start..act.last()?.range.end))
                });
                if let Some((what, at)) = grave {
                    let act = &text[at.clone()];
                    let message = format!(
                        "`{act}` {what}, and no hazard statement stands before this step in its section"
                    );
                    findings.push(page_text.error(Code::NoHazardBefore, &part.passage, at.clone(), message).help(
                        "write a block quote before the step: > **WARNING** what can happen, what it does, how to stay clear",
                    ));
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::no_hazard_before::no_hazard_before;
    use crate::prose::testing::found;

    #[test]
    fn a_grave_step_without_a_hazard_in_its_section_is_found_at_the_act() {
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **WARNING** Hot.\n\n1. Open the fill valve.\n\n## B\n\n1. Hold.\n2. Raise the pressure.\n"
            ),
            [("no-hazard-before", "Raise the pressure")]
        );
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **NOTICE** Dirt.\n\n1. Open the fill valve.\n"
            ),
            [("no-hazard-before", "Open the fill valve")]
        );
    }

    #[test]
    fn what_a_check_asks_for_if_it_fails_is_no_grave_step() {
        assert_eq!(
            found(
                no_hazard_before,
                "1. Check the gauge. If it is low, start the pump.\n"
            ),
            []
        );
    }

    #[test]
    fn a_hazard_of_the_section_around_serves_the_sections_inside() {
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **DANGER** Hot.\n\n### B\n\n1. Start the pump.\n"
            ),
            []
        );
    }
}
