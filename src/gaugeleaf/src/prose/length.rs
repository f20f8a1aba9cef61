//! Sentences short enough to be read once: 20 words in a step, 25 elsewhere.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;
use crate::prose::sentences::count;

const IN_STEP: usize = 20;
const IN_PROSE: usize = 25;

/// Finds sentences that are too long.
pub fn length(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        if matches!(part.kind, PartKind::Heading(_) | PartKind::Block(_)) {
            continue;
        }
        let (code, most, what) = match part.kind {
            PartKind::Step => (Code::LongStepSentence, IN_STEP, "a step"),
            _ => (Code::LongSentence, IN_PROSE, "prose"),
        };
        for sentence in &part.sentences {
            let number = count(part.words_of(sentence));
            if number > most {
                let message =
                    format!("this sentence has {number} words, and {what} has at most {most}");
                findings.push(
                    page_text
                        .warning(code, &part.passage, sentence.range.clone(), message)
                        .help("cut it in two, or leave out what the reader knows"),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::length::length;
    use crate::prose::testing::found;

    #[test]
    fn a_step_may_have_twenty_words_and_prose_twenty_five() {
        let words = |number: usize| format!("Go {}[x](value:a).", "on ".repeat(number - 2));
        let codes = |text: String| {
            let found = found(length, &text);
            found
                .into_iter()
                .map(|(code, _)| code.to_string())
                .collect::<Vec<_>>()
        };
        assert_eq!(codes(format!("1. {}\n", words(20))), Vec::<String>::new());
        assert_eq!(codes(format!("1. {}\n", words(21))), ["long-step-sentence"]);
        assert_eq!(codes(format!("{} Go.\n", words(25))), Vec::<String>::new());
        assert_eq!(codes(format!("{}\n", words(26))), ["long-sentence"]);
    }
}
