//! A new hire can't look up what nobody wrote down: an abbreviation is a term of the
//! handbook, or is spelt out.

use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::unit::Unit;

use crate::prose::page_text::PageText;

/// Longer words in capitals are shouted, not shortened.
const LONGEST: usize = 5;

/// Finds abbreviations that the handbook explains nowhere, each once a page.
pub fn abbreviation(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    let mut told: Vec<&str> = Vec::new();
    for part in &page_text.parts {
        let text = &part.passage.text;
        for word in &part.words {
            let short = &text[word.range.clone()];
            let short = short.strip_suffix('s').unwrap_or(short);
            let unknown = (2..=LONGEST).contains(&short.len())
                && short.bytes().all(|letter| letter.is_ascii_uppercase())
                && !page_text.vocabulary.is_abbreviation(short)
                && Unit::parse(short).is_err();
            if !unknown || told.contains(&short) {
                continue;
            }
            told.push(short);
            let message = format!("`{short}` is explained nowhere in this handbook");
            findings.push(
                page_text
                    .warning(Code::UnknownAbbreviation, &part.passage, word.range.clone(), message)
                    .help("spell it out, or make it a term or another name for one in content/words.toml"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::abbreviation::abbreviation;
    use crate::prose::testing::found;

    #[test]
    fn an_abbreviation_that_no_term_explains_is_found_once() {
        assert_eq!(
            found(
                abbreviation,
                "## The PTW\n\n> **DANGER** High pressure. It kills. Stop.\n\n1. Ask for the PTW at 3 PSI.\n2. Read both SDSs: STOP!\n"
            ),
            [
                ("unknown-abbreviation", "PTW"),
                ("unknown-abbreviation", "SDSs")
            ]
        );
    }
}
