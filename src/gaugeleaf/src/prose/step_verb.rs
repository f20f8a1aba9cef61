//! A step begins with what to do, or with the condition for it.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::places::RULES_FILE;
use crate::prose::page_text::PageText;
use crate::prose::sentences::Word;
use crate::prose::vocabulary::Vocabulary;

/// Words that open a clause before the command: "If it drips, shut it".
const OPENERS: [&str; 28] = [
    "if",
    "when",
    "whenever",
    "where",
    "wherever",
    "before",
    "after",
    "once",
    "until",
    "unless",
    "while",
    "with",
    "without",
    "for",
    "from",
    "at",
    "on",
    "in",
    "to",
    "as",
    "by",
    "during",
    "outside",
    "behind",
    "between",
    "under",
    "over",
    "otherwise",
];

/// Whether a sentence commands something.
pub fn commands(words: &[Word], vocabulary: &Vocabulary) -> bool {
    let Some(first) = words.first() else {
        return false;
    };
    let verb_at = |at: usize| {
        words
            .get(at)
            .is_some_and(|word| vocabulary.is_verb(&word.text))
    };
    if verb_at(0) {
        return true;
    }
    // "Slowly open", "Then open"
    let adverb = first.text.ends_with("ly")
        || ["then", "now", "together", "again"].contains(&first.text.as_ref());
    if adverb && verb_at(1) {
        return true;
    }
    OPENERS.contains(&first.text.as_ref())
        && (1..words.len()).any(|at| {
            words[at].after_comma
                && (verb_at(at)
                    || (words[at].text == "then" || words[at].text.ends_with("ly"))
                        && verb_at(at + 1))
        })
}

/// Finds steps that begin with neither.
pub fn step_verb(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure {
        return;
    }
    for (_, step) in page_text.steps() {
        let text = &step.passage.text;
        let Some(sentence) = step.sentences.first() else {
            continue;
        };
        let words = step.words_of(sentence);
        if commands(words, page_text.vocabulary) {
            continue;
        }
        let Some(first) = words.first() else { continue };
        let said = &text[first.range.clone()];
        let (message, help) = if OPENERS.contains(&first.text.as_ref()) {
            (
                format!("no command follows the clause that begins with `{said}`"),
                "put a comma after the clause, then what to do: If the gauge moves, let the grip go".to_string(),
            )
        } else {
            (
                format!("this step begins with `{said}`, which is no verb that the rules know"),
                format!(
                    "begin with what to do, such as Open; if it is a verb, add it to verbs in {RULES_FILE}"
                ),
            )
        };
        findings.push(
            page_text
                .warning(Code::StepVerb, &step.passage, first.range.clone(), message)
                .help(help),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::prose::step_verb::step_verb;
    use crate::prose::testing::found;

    #[test]
    fn a_step_that_commands_nothing_is_found_at_its_first_word() {
        assert_eq!(
            found(
                step_verb,
                "1. The valve is opened.\n2. If it drips shut it.\n"
            ),
            [("step-verb", "The"), ("step-verb", "If")]
        );
    }

    #[test]
    fn commands_may_follow_a_condition_or_an_adverb() {
        assert_eq!(
            found(
                step_verb,
                "1. Open it.\n2. If it drips, or hisses, shut it.\n3. Slowly **open** it.\n4. Do not go in.\n5. With one hand, hold it.\n"
            ),
            []
        );
    }
}
