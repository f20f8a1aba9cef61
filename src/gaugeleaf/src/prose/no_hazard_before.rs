//! An act that puts pressure on, lets air in, moves a load, lets out what is trapped or brings
//! somebody in reach has a hazard statement before it in its section that names that energy.

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::HeadingLevel;

use crate::prose::energies::KINDS;
use crate::prose::page_text::{PageText, ReadPart};
use crate::prose::parts::PartKind;
use crate::prose::step_verb::commands;
use crate::prose::vocabulary::GraveAct;

/// A hazard statement that still holds: the level of its section, and the energies that it names.
struct HazardInForce {
    level: HeadingLevel,
    names: [bool; KINDS.len()],
}

/// Finds grave acts that no hazard statement of their energy stands before.
pub fn no_hazard_before(page_text: &PageText, findings: &mut Vec<Finding>) {
    if !page_text.procedure && page_text.steps().next().is_none() {
        return;
    }
    // a hazard holds for its section and for the smaller ones inside it
    let mut level = HeadingLevel::H1;
    let mut holds: Vec<HazardInForce> = Vec::new();
    for part in &page_text.parts {
        match &part.kind {
            PartKind::Heading(next) => {
                holds.retain(|held| held.level < *next);
                level = *next;
            }
            PartKind::Hazard(word) if *word != "NOTICE" => {
                let names = named(page_text, part);
                holds.push(HazardInForce { level, names });
            }
            PartKind::Step | PartKind::Item { .. } | PartKind::Paragraph if !part.in_note => {
                for act in acts(page_text, part) {
                    if !holds.iter().any(|held| held.names[act.energy]) {
                        findings.push(told(page_text, part, &act, holds.is_empty()));
                        break;
                    }
                }
            }
            _ => {}
        }
    }
}

/// The energies that a hazard names in what it says can happen: what it commands may speak of
/// anything.
fn named(page_text: &PageText, hazard: &ReadPart) -> [bool; KINDS.len()] {
    let mut names = [false; KINDS.len()];
    for (nth, sentence) in hazard.sentences.iter().enumerate() {
        let words = hazard.words_of(sentence);
        // the first says what it is, and a noun may look like a verb: "Hose under pressure"
        if nth == 0 || !commands(words, page_text.vocabulary) {
            let more = page_text.vocabulary.named(words);
            names
                .iter_mut()
                .zip(more)
                .for_each(|(name, more)| *name |= more);
        }
    }
    names
}

/// The grave acts of a part.
fn acts<'p>(page_text: &PageText, part: &'p ReadPart) -> Vec<GraveAct<'p>> {
    let commanded = part
        .sentences
        .iter()
        .map(|sentence| part.words_of(sentence));
    let commanded = commanded.filter(|words| {
        // what to do if something fails is no part of the plan
        let fails = |word: &str| ["if", "otherwise"].contains(&word);
        !words.first().is_some_and(|word| fails(&word.text))
            && (part.kind == PartKind::Step || commands(words, page_text.vocabulary))
    });
    commanded
        .flat_map(|words| page_text.vocabulary.grave(words))
        .collect()
}

fn told(page_text: &PageText, part: &ReadPart, act: &GraveAct, none: bool) -> Finding {
    let first = act.words.first().map_or(0, |word| word.range.start);
    let at = first..act.words.last().map_or(first, |word| word.range.end);
    let said = &part.passage.text[at.clone()];
    let kind = &KINDS[act.energy];
    let lacks = if none {
        "no hazard statement stands before this in its section".to_string()
    } else {
        format!(
            "none of the hazard statements before this in its section names {}",
            kind.speaks_of
        )
    };
    let message = format!("`{said}` {}, and {lacks}", kind.does);
    page_text
        .error(Code::NoHazardBefore, &part.passage, at, message)
        .help(format!(
            "write a block quote before it: > **WARNING** what can happen ({}), what it does, how to stay clear",
            kind.speaks_of
        ))
}

#[cfg(test)]
mod tests {
    use crate::prose::no_hazard_before::no_hazard_before;
    use crate::prose::testing::{findings, found};

    #[test]
    fn a_grave_step_without_a_hazard_in_its_section_is_found_at_the_act() {
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **WARNING** Water jet.\n\n1. Open the fill valve.\n\n## B\n\n1. Hold.\n2. Raise the pressure.\n"
            ),
            [("no-hazard-before", "Raise the pressure")]
        );
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **NOTICE** Dirt.\n\n1. Open the fill valve.\n"
            ),
            [("no-hazard-before", "Open the fill valve")]
        );
    }

    #[test]
    fn what_a_check_asks_for_if_it_fails_is_no_grave_step() {
        assert_eq!(
            found(
                no_hazard_before,
                "1. Check the gauge. If it is low, start the pump.\n"
            ),
            []
        );
    }

    #[test]
    fn a_hazard_of_the_section_around_serves_the_sections_inside() {
        assert_eq!(
            found(
                no_hazard_before,
                "## A\n\n> **DANGER** Hose under pressure.\n\n### B\n\n1. Start the pump.\n"
            ),
            []
        );
    }

    #[test]
    fn a_hazard_counts_for_the_energy_that_it_names_and_for_no_other() {
        let told = |text: &str| {
            let found = findings(no_hazard_before, text).into_iter();
            found.map(|finding| finding.message).collect::<Vec<_>>()
        };
        assert_eq!(
            told(
                "> **WARNING** Rollers. They crush a finger. Keep away.\n\n1. Open the fill valve.\n"
            ),
            [
                "`Open the fill valve` puts pressure on, and none of the hazard statements before this in its section names the jet, the pressure or a hose end that flies"
            ]
        );
        // what the hazard commands names nothing
        assert_eq!(
            told("> **WARNING** Sharp edge. It cuts. Wear gloves before water comes.\n\n1. Open the fill valve.\n").len(),
            1
        );
        assert_eq!(
            told("> **WARNING** A jet. It cuts. Keep away.\n\n1. Hoist the drive.\n2. Go in.\n")
                .len(),
            1
        );
        for (hazard, act) in [
            ("Drive that sinks", "Draw the lock bolt"),
            ("Rollers that close", "Turn on the air"),
            ("Trapped water", "Uncouple the lance hose"),
            ("Pump that can start", "Reach into the frame"),
        ] {
            assert_eq!(
                told(&format!(
                    "> **WARNING** {hazard}. It kills. Keep away.\n\n1. {act}.\n"
                )),
                Vec::<String>::new()
            );
        }
    }

    #[test]
    fn an_act_is_found_as_a_bullet_a_sentence_and_by_other_words() {
        for (text, act) in [
            (
                "- Open slowly the manifold's water valve.\n",
                "Open slowly the manifold's water valve",
            ),
            ("Then squeeze the trigger.\n", "squeeze the trigger"),
            ("1. Ramp the pump up to speed.\n", "Ramp the pump"),
            ("1. Go on:\n   - Lower the upright.\n", "Lower the upright"),
            ("Reach into the channel.\n", "Reach into"),
            ("1. Crack the bleed.\n", "Crack the bleed"),
        ] {
            assert_eq!(
                found(no_hazard_before, text),
                [("no-hazard-before", act)],
                "{text}"
            );
        }
        for text in [
            "The pump runs, and open valves leak.\n",
            "Whoever opens the fill valve stands outside.\n",
            "> Open the fill valve.\n",
            "| Open the fill valve |\n|---|\n",
        ] {
            assert_eq!(found(no_hazard_before, text), [], "{text}");
        }
    }
}
