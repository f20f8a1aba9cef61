//! A page that is worked from says when it was to be looked over, who works it and
//! with what.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;

/// Finds procedures whose head lacks something.
pub fn head(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure || page_text.steps().next().is_none() {
        return;
    }
    let settings = &page_text.page.outline.settings;
    let block = settings.block.clone().unwrap_or(0..0);
    let at = block.start..block.end.min(block.start + "```page".len());
    // an empty list says that there are none
    let says = |key: &str| {
        let mut lines = page_text.text.get(block.clone()).unwrap_or("").lines();
        lines.any(|line| line.trim_start().starts_with(key))
    };
    let lacks = [
        (
            settings.review.is_none(),
            Code::NoReview,
            "doesn't say when it is next reviewed",
            "review = 2027-06-01",
        ),
        (
            !says("people"),
            Code::NoPeople,
            "has steps, and doesn't say who works them",
            "people = [\"lead\", \"helper\"]",
        ),
        (
            !says("tools"),
            Code::NoTools,
            "has steps, and doesn't say what tools they need",
            "tools = [\"tape\", \"two wrenches\"], or tools = [] where they need none,",
        ),
    ];
    for (_, code, what, setting) in lacks.into_iter().filter(|lack| lack.0) {
        findings.push(
            Finding::warning(
                code,
                page_text.file,
                at.clone(),
                format!("this page {what}"),
            )
            .help(format!("add {setting} to the page block at its top")),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::head::head;
    use crate::prose::testing::found;

    #[test]
    fn a_page_with_steps_names_its_review_people_and_tools() {
        let codes = |text| {
            found(head, text)
                .into_iter()
                .map(|(code, _)| code)
                .collect::<Vec<_>>()
        };
        assert_eq!(
            codes("# T\n\n1. Go.\n"),
            ["no-review", "no-people", "no-tools"]
        );
        assert_eq!(
            codes("```page\nreview = 2027-01-01\npeople = [\"a\"]\n```\n\n# T\n\n1. Go.\n"),
            ["no-tools"]
        );
        for right in [
            "# T\n\nText.\n",
            "```page\nreview = 2027-01-01\npeople = [\"a\"]\ntools = []\n```\n\n# T\n\n1. Go.\n",
        ] {
            assert_eq!(codes(right), Vec::<&str>::new());
        }
    }
}
