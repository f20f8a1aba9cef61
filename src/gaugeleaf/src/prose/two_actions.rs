//! One action a step: the second one needs a tick of its own.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;

/// Finds steps that go on to another action.
pub fn two_actions(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    for (_, step) in page_text.steps() {
        let text = &step.passage.text;
        let second = step.words.windows(3).find(|three| {
            let joined = three[0].text == "and"
                || text[three[0].range.end..three[1].range.start].contains(';');
            joined && three[1].text == "then" && page_text.vocabulary.is_verb(&three[2].text)
        });
        if let Some(three) = second {
            let start = if three[0].text == "and" {
                &three[0]
            } else {
                &three[1]
            };
            let at = start.range.start..three[2].range.end;
            let message = format!(
                "this step goes on with `{}`, a second action",
                &text[at.clone()]
            );
            findings.push(
                page_text
                    .warning(Code::TwoActions, &step.passage, at, message)
                    .help("write two steps"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::testing::found;
    use crate::prose::two_actions::two_actions;

    #[test]
    fn a_second_action_is_found_where_it_begins() {
        assert_eq!(
            found(
                two_actions,
                "1. Hold it, and then let go.\n2. Hold it; then wait.\n3. If it moves, then stop.\n4. Wait now and then.\n"
            ),
            [
                ("two-actions", "and then let"),
                ("two-actions", "then wait")
            ]
        );
    }
}
