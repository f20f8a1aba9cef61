//! A hazard statement has four parts: the word, what can happen, what it does, and
//! how to stay clear, which is a command.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;
use crate::prose::step_verb::commands;

/// Finds hazard statements that lack a part.
pub fn hazard_parts(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        let PartKind::Hazard(word) = part.kind else {
            continue;
        };
        let all = &part.sentences;
        // one that says nothing at all is another finding
        if all.is_empty() {
            continue;
        }
        let command = all
            .iter()
            .any(|one| commands(part.words_of(one), page_text.vocabulary));
        let (message, help) = if !command {
            (
                format!("this {word} doesn't say how to stay clear of it"),
                "end with a sentence that begins with what to do, such as: Stand behind the barrier",
            )
        } else if all.len() < 2 {
            (
                format!("this {word} doesn't say what can happen and what it does"),
                "say before the command what can happen, and what it does to whom",
            )
        } else {
            continue;
        };
        findings.push(
            Finding::warning(
                Code::HazardParts,
                page_text.file,
                part.range.clone(),
                message,
            )
            .help(help),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::hazard_parts::hazard_parts;
    use crate::prose::testing::findings;

    fn messages(text: &str) -> Vec<String> {
        let found = findings(hazard_parts, text).into_iter();
        found.map(|finding| finding.message).collect()
    }

    #[test]
    fn a_hazard_without_a_command_or_with_nothing_else_lacks_a_part() {
        assert_eq!(
            messages("> **WARNING** Hot water. It scalds.\n\n> **CAUTION** Wear gloves.\n"),
            [
                "this WARNING doesn't say how to stay clear of it",
                "this CAUTION doesn't say what can happen and what it does"
            ]
        );
    }

    #[test]
    fn the_word_the_hazard_its_consequence_and_a_command_are_enough() {
        assert_eq!(
            messages(
                "> **WARNING** Hot water. It scalds. Keep back.\n\n> **DANGER** A jet that kills. Never go near.\n\n> Not a hazard.\n"
            ),
            Vec::<String>::new()
        );
    }
}
