//! Hazards, quotes and footnotes inform; steps stand outside them.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;

/// Finds numbered actions inside hazards and notes.
pub fn action_in_hazard(page_text: &PageText, findings: &mut Vec<Finding>) {
    let mut last = None;
    for (index, part) in page_text.parts.iter().enumerate() {
        if part.kind != (PartKind::Item { ordered: true }) || !part.in_note {
            continue;
        }
        // one finding for one list
        let follows = last.replace(index).is_some_and(|last| last + 1 == index);
        if !follows {
            let message =
                "these numbered actions stand inside a hazard or a note, where they are skipped";
            findings.push(
                Finding::error(
                    Code::ActionInHazard,
                    page_text.file,
                    part.range.clone(),
                    message,
                )
                .help("write them as steps after it"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::action_in_hazard::action_in_hazard;
    use crate::prose::testing::found;

    #[test]
    fn a_numbered_list_in_a_hazard_is_one_finding_and_a_dotted_one_none() {
        assert_eq!(
            found(
                action_in_hazard,
                "> **WARNING** Hot.\n>\n> 1. Go.\n> 2. Stop.\n\n> - a\n\n1. Go.\n"
            ),
            [("action-in-hazard", "1. Go.")]
        );
    }
}
