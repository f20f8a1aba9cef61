//! The energies that hurt: the acts that bring them on, and the words by which a hazard
//! statement names them.

use crate::prose::sentences::Word;

/// An energy, by the keys under which the rules' words list it.
#[derive(Debug)]
pub struct EnergyKind {
    /// The acts that bring it on.
    pub acts: &'static str,
    /// What a hazard calls it.
    pub names: &'static str,
    /// What such an act does, in a finding.
    pub does: &'static str,
    /// What its hazard has to speak of, in a finding.
    pub speaks_of: &'static str,
}

pub const KINDS: [EnergyKind; 5] = [
    EnergyKind {
        acts: "pressure",
        names: "pressure_names",
        does: "puts pressure on",
        speaks_of: "the jet, the pressure or a hose end that flies",
    },
    EnergyKind {
        acts: "air",
        names: "air_names",
        does: "lets air in",
        speaks_of: "the air, or what it moves",
    },
    EnergyKind {
        acts: "lifting",
        names: "lifting_names",
        does: "moves a load",
        speaks_of: "the weight, the lift or the fall",
    },
    EnergyKind {
        acts: "entering",
        names: "entering_names",
        does: "puts somebody in reach",
        speaks_of: "what can start, move or let go in there",
    },
    EnergyKind {
        acts: "release",
        names: "release_names",
        does: "lets out what is trapped",
        speaks_of: "what is still trapped or stored",
    },
];

/// How many words may stand between a verb and what it is done to.
const BETWEEN: usize = 3;

/// Words after which a clause speaks of something else than what its verb is done to.
const TURNS: [&str; 38] = [
    "about", "after", "against", "and", "as", "at", "back", "before", "behind", "beside",
    "between", "but", "by", "for", "from", "if", "inside", "into", "like", "near", "of", "off",
    "on", "once", "or", "outside", "over", "past", "so", "that", "through", "to", "under",
    "unless", "until", "when", "where", "with",
];

/// One energy's words.
#[derive(Debug, Clone, Default)]
pub struct EnergyWords {
    pub acts: Vec<Phrase>,
    pub names: Vec<Phrase>,
}

/// Words in order, such as `open fill|water valve`: a stroke parts words that serve alike.
#[derive(Debug, Clone)]
pub struct Phrase(Vec<Vec<String>>);

impl Phrase {
    pub fn read(text: &str) -> Option<Phrase> {
        let alike = |word: &str| word.split('|').map(str::to_lowercase).collect();
        let words: Vec<Vec<String>> = text.split_whitespace().map(alike).collect();
        (!words.is_empty()).then_some(Phrase(words))
    }

    /// The words that it may begin with.
    pub fn openers(&self) -> &[String] {
        self.0.first().map_or(&[], Vec::as_slice)
    }

    /// How many words from the start say it, a few others among them; none where they don't.
    pub fn length(&self, words: &[Word]) -> Option<usize> {
        let mut at = 0;
        for (nth, alike) in self.0.iter().enumerate() {
            let most = if nth == 0 { 0 } else { BETWEEN };
            let ahead = words.get(at..)?;
            let clause = ahead.iter().take(most + 1);
            let mut clause = clause.take_while(|word| nth == 0 || !word.after_comma);
            let between = clause.position(|word| says(word, alike))?;
            let turns = |word: &Word| TURNS.contains(&word.text.as_ref());
            if ahead[..between].iter().any(turns) {
                return None;
            }
            at += between + 1;
        }
        Some(at)
    }
}

impl EnergyWords {
    /// Whether these words begin with a name of the energy.
    pub fn named_at_the_start_of(&self, words: &[Word]) -> bool {
        let mut names = self.names.iter();
        names.any(|name| name.length(words).is_some())
    }
}

fn says(word: &Word, alike: &[String]) -> bool {
    let forms = forms(word);
    alike.iter().any(|wanted| forms.contains(&wanted.as_str()))
}

/// A word as written, without the `s` of a plural or of a verb, and without that of an owner.
pub fn forms<'w>(word: &'w Word) -> [&'w str; 2] {
    let text: &str = &word.text;
    let bare = text.strip_suffix("'s").or_else(|| text.strip_suffix('s'));
    [text, bare.unwrap_or(text)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prose::sentences::read;

    fn length(phrase: &str, text: &str) -> Option<usize> {
        Phrase::read(phrase)?.length(&read(text).1)
    }

    #[test]
    fn a_phrase_is_said_around_words_that_only_tell_more() {
        let phrase = "open fill|water valve";
        assert_eq!(length(phrase, "Open the fill valve slowly."), Some(4));
        assert_eq!(
            length(phrase, "Open slowly the manifold's water valve."),
            Some(6)
        );
        assert_eq!(length(phrase, "Opens both fill valves"), Some(4));
    }

    #[test]
    fn a_phrase_is_not_said_by_what_its_verb_is_not_done_to() {
        for text in [
            "Open the fill book.",
            "Open the cover of the fill valve.",
            "Open the guard, fill valve shut.",
            "Open one two three four fill valve.",
            "Fill valve: open it.",
        ] {
            assert_eq!(length("open fill|water valve", text), None, "{text}");
        }
    }
}
