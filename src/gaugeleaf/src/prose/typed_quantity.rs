//! A procedure types no quantity by hand: the engine prints it, or it goes stale.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::{PageText, ReadPart};
use crate::prose::parts::PartKind;

/// Small numbers in words, before a unit in words.
const IN_WORDS: [&str; 18] = [
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve", "fifteen",
    "twenty", "thirty", "forty", "fifty", "sixty", "ninety", "hundred",
];
const UNITS_IN_WORDS: [&str; 6] = [
    "seconds",
    "minutes",
    "hours",
    "inches",
    "millimetres",
    "litres",
];

const HELP: &str = "write a value link, such as [](value:NAME), and keep the value with the ratings, the measurements or a calculator";

/// Finds every typed quantity of a procedure.
pub fn typed_quantity(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    for part in &page_text.parts {
        findings.extend(of_part(part).into_iter().map(|at| {
            let text = &part.passage.text[at.clone()];
            let message = format!("the quantity `{text}` is typed by hand, so it can go stale");
            let help = if matches!(part.kind, PartKind::Heading(_)) {
                "leave the number out of the heading, and print it below as a value link"
            } else {
                HELP
            };
            page_text
                .error(Code::TypedQuantity, &part.passage, at, message)
                .help(help)
        }));
    }
}

/// Where a part types quantities.
pub fn of_part(part: &ReadPart) -> Vec<std::ops::Range<usize>> {
    let text = &part.passage.text;
    let typed = part
        .numbers
        .iter()
        // "100 %" is all of it, and no measure
        .filter(|found| {
            found.unit.is_some() && !text[found.whole()].replace(['\u{A0}', ' '], "").eq("100%")
        })
        .map(|found| found.whole());
    let in_words = part.words.windows(2).filter(|pair| {
        UNITS_IN_WORDS.contains(&pair[1].text.as_ref()) && IN_WORDS.contains(&pair[0].text.as_ref())
    });
    let mut all: Vec<_> = typed
        .chain(in_words.map(|pair| pair[0].range.start..pair[1].range.end))
        .collect();
    all.sort_by_key(|at| at.start);
    all
}

#[cfg(test)]
mod tests {
    use crate::prose::testing::found;
    use crate::prose::typed_quantity::typed_quantity;

    fn typed(text: &str) -> Vec<&str> {
        let found = found(typed_quantity, text);
        assert!(found.iter().all(|(code, _)| *code == "typed-quantity"));
        found.into_iter().map(|(_, at)| at).collect()
    }

    #[test]
    fn a_quantity_is_found_in_steps_hazards_cells_and_headings_where_it_stands() {
        assert_eq!(
            typed(
                "## At 70 psi\n\n> **WARNING** Water at *1,500 psi*.\n\n1. Wait five minutes,\n   then 3 min.\n\n| a |\n|---|\n| 9/16 in wrench |\n"
            ),
            ["70 psi", "1,500 psi", "five minutes", "3 min", "9/16 in"]
        );
    }

    #[test]
    fn value_links_code_and_listings_are_no_typed_quantities() {
        assert_eq!(
            typed(
                "Cut [12 mm](value:hose_od) of `3 mm`, [a](x.md#9-in), two wrenches.\n\n```text\n5 mm\n```\n"
            ),
            Vec::<&str>::new()
        );
    }
}
