//! A hazard statement stands before what it belongs to.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::{PageText, ReadPart};
use crate::prose::parts::PartKind;

/// Finds hazard statements that nothing follows in their section.
pub fn hazard_place(page_text: &PageText, findings: &mut Vec<Finding>) {
    // a page without steps may state hazards alone
    if !page_text.procedure || page_text.steps().next().is_none() {
        return;
    }
    for (index, part) in page_text.parts.iter().enumerate() {
        let PartKind::Hazard(word) = part.kind else {
            continue;
        };
        let parts = page_text.parts.as_slice();
        let heading = |part: &&ReadPart| matches!(part.kind, PartKind::Heading(_));
        let over = parts[..index].iter().rfind(heading).map(|part| &part.kind);
        // a hazard under the title is the whole page's; under a heading, its section's
        let ends = |part: &&ReadPart| match (&part.kind, over) {
            (PartKind::Heading(next), Some(PartKind::Heading(own))) => next <= own,
            _ => false,
        };
        let followed = parts[index + 1..]
            .iter()
            .take_while(|part| !ends(part))
            .any(serves);
        if followed {
            continue;
        }
        let before = parts[..index]
            .iter()
            .rev()
            .take_while(|part| !heading(part));
        let (code, message) = if before.into_iter().any(|part| part.kind == PartKind::Step) {
            (
                Code::HazardAfter,
                format!("this {word} stands after the steps that it belongs to"),
            )
        } else {
            (
                Code::HazardAdrift,
                format!("no step follows this {word} in its section"),
            )
        };
        findings.push(
            Finding::warning(code, page_text.file, part.range.clone(), message).help(
                "move it to directly before its step: a hazard is read before the work, not after",
            ),
        );
    }
}

/// What a hazard may belong to: steps, lists, tables and live blocks.
fn serves(part: &ReadPart) -> bool {
    matches!(
        part.kind,
        PartKind::Step | PartKind::Item { .. } | PartKind::Cell | PartKind::Block(_)
    ) && !part.in_note
}

#[cfg(test)]
mod tests {
    use crate::prose::hazard_place::hazard_place;
    use crate::prose::testing::found;

    #[test]
    fn a_hazard_after_its_steps_or_away_from_any_is_found() {
        assert_eq!(
            found(
                hazard_place,
                "# T\n\n## A\n\n1. Go.\n\n> **CAUTION** Hot.\n\n## B\n\n> **NOTICE** Dry.\n\nText.\n\n## C\n\n1. Go.\n"
            ),
            [
                ("hazard-after", "> **CAUTION** Hot."),
                ("hazard-adrift", "> **NOTICE** Dry.")
            ]
        );
    }

    #[test]
    fn a_hazard_before_a_step_of_its_section_or_page_stands_right() {
        assert_eq!(
            found(
                hazard_place,
                "# T\n\n> **DANGER** All.\n\n## A\n\n> **WARNING** Hot.\n\n### Inner\n\nText.\n\n1. Go.\n"
            ),
            []
        );
    }
}
