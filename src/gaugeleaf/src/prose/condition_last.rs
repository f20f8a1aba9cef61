//! A condition comes before its action: who reads from left to right has acted by
//! the time the condition comes.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;

/// Words that take `if` for themselves: "ask if", "even if".
const ASKING: [&str; 20] = [
    "ask", "asks", "check", "see", "say", "says", "tell", "tells", "know", "find", "out", "even",
    "as", "or", "and", "but", "only", "not", "decide", "than",
];
const OPENERS: [&str; 6] = ["if", "when", "before", "after", "once", "until"];

/// Finds steps whose condition follows the action.
pub fn condition_last(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    for (_, step) in page_text.steps() {
        for sentence in &step.sentences {
            let words = step.words_of(sentence);
            if words
                .first()
                .is_none_or(|word| OPENERS.contains(&word.text.as_ref()))
            {
                continue;
            }
            let late = words.windows(2).position(|pair| {
                ["if", "unless"].contains(&pair[1].text.as_ref())
                    && !ASKING.contains(&pair[0].text.as_ref())
            });
            let Some(word) = late.map(|at| &words[at + 1]) else {
                continue;
            };
            let at = word.range.start..sentence.range.end;
            findings.push(
                page_text
                    .warning(
                        Code::ConditionLast,
                        &step.passage,
                        at,
                        "this condition comes after its action",
                    )
                    .help("begin with the condition: If the gauge moves, let the grip go"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::condition_last::condition_last;
    use crate::prose::testing::found;

    #[test]
    fn a_condition_after_its_action_is_found() {
        assert_eq!(
            found(condition_last, "1. Let the grip go if the gauge moves.\n"),
            [("condition-last", "if the gauge moves.")]
        );
    }

    #[test]
    fn a_condition_in_front_or_a_question_is_right() {
        assert_eq!(
            found(
                condition_last,
                "1. If it moves, stop. Ask if it is clear. Let go, even if it is dry.\n"
            ),
            []
        );
    }
}
