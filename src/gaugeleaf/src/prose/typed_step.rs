//! No step is named by a number that somebody typed: a step that is added before it takes its number.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;

/// Finds steps that are named by typed numbers.
pub fn typed_step(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        let named = part.words.windows(2).filter(|pair| {
            ["step", "steps"].contains(&pair[0].text.as_ref())
                && pair[1]
                    .text
                    .bytes()
                    .all(|byte| byte.is_ascii_digit() || byte == b'-')
        });
        findings.extend(named.map(|pair| {
            let at = pair[0].range.start..pair[1].range.end;
            let message = format!(
                "`{}` names a step by a typed number, and the page counts its steps itself",
                &part.passage.text[at.clone()]
            );
            page_text
                .error(Code::TypedStep, &part.passage, at, message)
                .help("write step [](<step:WORDS OF THE STEP>), which prints its number")
        }));
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::testing::{found, found_beside_the_work};
    use crate::prose::typed_step::typed_step;

    #[test]
    fn a_typed_number_is_found_in_steps_and_elsewhere_and_a_link_is_none() {
        let text = "Leave steps 12 to 16 out.\n\n1. Repeat from step 4.\n2. Raise it in steps of two.\n3. Go on with step [](<step:Repeat>), or [step 2](<step:Raise>).\n";
        let wanted = ["steps 12", "step 4", "step 2"].map(|at| ("typed-step", at));
        assert_eq!(found(typed_step, text), wanted);
        assert_eq!(found_beside_the_work(typed_step, text), wanted);
    }
}
