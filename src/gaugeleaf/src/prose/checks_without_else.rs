//! A check says what to do when it is not met.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::{PageText, ReadPart};
use crate::prose::parts::PartKind;

const CHECKS: [&str; 4] = ["check", "verify", "confirm", "ensure"];
const MEASURES: [&str; 3] = ["measure", "read", "count"];
/// Words that make a measurement a check.
const LIMITS: [&str; 5] = [
    "at least",
    "at most",
    "no more than",
    "no less than",
    "within",
];
/// Words that say what happens otherwise.
const OTHERWISE: [&str; 6] = ["if", "otherwise", "else", "until", "unless", "should"];

/// Finds checks without a way out.
pub fn checks_without_else(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    for (index, step) in page_text.steps() {
        let own = &step.words;
        let Some(first) = own.first() else { continue };
        let limited = || {
            let lower = step.passage.text.to_lowercase();
            LIMITS.iter().any(|limit| lower.contains(limit))
        };
        let makes_sure = first.text == "make" && own.get(1).is_some_and(|word| word.text == "sure");
        let checks = CHECKS.contains(&first.text.as_ref())
            || makes_sure
            || (MEASURES.contains(&first.text.as_ref()) && limited());
        // what the step asks to find out is no way out: "check if it turns"
        let says = |part: &ReadPart, from: usize| {
            let mut words = part.words.iter().skip(from);
            words.any(|word| OTHERWISE.contains(&word.text.as_ref()))
        };
        let next = page_text.parts[index + 1..]
            .iter()
            .take_while(|part| !matches!(part.kind, PartKind::Heading(_)))
            .find(|part| part.kind == PartKind::Step);
        if !checks || says(step, 2) || next.is_some_and(|next| says(next, 0)) {
            continue;
        }
        let at = first.range.clone();
        let message = "this check doesn't say what to do when it is not met";
        findings.push(
            page_text
                .warning(Code::CheckWithoutElse, &step.passage, at, message)
                .help("add a sentence, such as: If it does not, stop and tell the lead"),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::checks_without_else::checks_without_else;
    use crate::prose::testing::found;

    #[test]
    fn a_check_without_a_way_out_is_found() {
        assert_eq!(
            found(
                checks_without_else,
                "1. Check that it turns.\n2. Go on.\n3. Check if it holds.\n"
            ),
            [
                ("check-without-else", "Check"),
                ("check-without-else", "Check")
            ]
        );
        assert_eq!(
            found(checks_without_else, "1. Read at least two gauges.\n"),
            [("check-without-else", "Read")]
        );
    }

    #[test]
    fn the_way_out_may_stand_in_the_step_or_in_the_next_one() {
        assert_eq!(
            found(
                checks_without_else,
                "1. Check that it turns. If not, stop.\n2. Verify it.\n3. If it slips, stop.\n4. Read the gauge.\n"
            ),
            []
        );
    }
}
