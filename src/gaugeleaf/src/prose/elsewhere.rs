//! A step holds what it needs: "see above" sends the reader away with the work in hand.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;

const SENDERS: [&str; 8] = [
    "see",
    "as",
    "described",
    "shown",
    "mentioned",
    "said",
    "step",
    "steps",
];

/// Finds steps that point up or down the page.
pub fn elsewhere(page_text: &PageText, findings: &mut Vec<Finding>) {
    for (_, step) in page_text.steps() {
        let text = &step.passage.text;
        let sent = step.words.windows(2).find(|pair| {
            ["above", "below"].contains(&pair[1].text.as_ref())
                && SENDERS.contains(&pair[0].text.as_ref())
        });
        if let Some(pair) = sent {
            let at = pair[0].range.start..pair[1].range.end;
            let message = format!(
                "`{}` sends the reader away in the middle of a step",
                &text[at.clone()]
            );
            findings.push(
                page_text
                    .warning(Code::RefersElsewhere, &step.passage, at, message)
                    .help("say it here, or link to the heading it stands under"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::elsewhere::elsewhere;
    use crate::prose::testing::found;

    #[test]
    fn a_step_that_points_up_the_page_is_found_and_a_place_above_is_not() {
        assert_eq!(
            found(
                elsewhere,
                "1. Set it as above.\n2. Slide it above the clamp.\n"
            ),
            [("refers-elsewhere", "as above")]
        );
    }
}
