//! Questions and what they come to, over the built-in catalog.

use proptest::prelude::*;

use super::*;
use crate::testing::{CATALOG, demonstration};

fn asked(text: &str) -> Asked {
    let question = Question {
        text: text.to_string(),
        ..Question::default()
    };
    ask(&CATALOG, &demonstration(), &question)
}

/// What is asked where the search has found a calculator first.
fn found(text: &str, calculator: &str) -> Asked {
    let question = Question {
        text: text.to_string(),
        candidates: vec![calculator.to_string()],
        ..Question::default()
    };
    ask(&CATALOG, &demonstration(), &question)
}

/// `calculator input=text … → first output`, of every reading.
fn told(text: &str) -> Vec<String> {
    let reading = |reading: &Reading| {
        let given = reading
            .given
            .iter()
            .map(|given| format!(" {}={}", given.name, given.text));
        let first = reading
            .answer
            .outputs
            .iter()
            .find(|output| output.reading.is_some());
        let result = first.map_or("nothing".into(), |output| {
            CATALOG.language.say(&output.told())
        });
        format!(
            "{}{} → {result}",
            reading.answer.calculator,
            given.collect::<String>()
        )
    };
    asked(text).readings.iter().map(reading).collect()
}

#[test]
fn words_beside_a_quantity_say_which_input_it_is() {
    for text in [
        "guide tube 14 in channel",
        "channel head 14 in guide tube length",
        "how long a guide tube for a 14\" channel",
    ] {
        assert_eq!(
            told(text),
            ["guide-tube-length channel_depth=14 in → 26 3/4 in"
                .replace("14 in", if text.contains('"') { "14\"" } else { "14 in" })],
            "{text}"
        );
    }
}

#[test]
fn units_and_limits_tell_inputs_of_one_dimension_apart() {
    let found = told("loss 12 gpm 5 mm 50 ft");
    assert!(
        found[0].starts_with("hose-pressure-loss flow=12 gpm bore=5 mm length=50 ft → "),
        "{found:?}"
    );
    assert_eq!(found.len(), 1, "{found:?}");
}

#[test]
fn the_output_that_is_asked_for_comes_first() {
    assert_eq!(
        told("osha 100 db"),
        ["noise-exposure level=100 db → 2.00 h"]
    );
    assert_eq!(
        told("niosh 100 db"),
        ["noise-exposure level=100 db → 0.25 h"]
    );
    let loss = &asked("loss 12 gpm 5 mm 50 ft").readings[0].answer.outputs[0];
    assert_eq!(loss.name, "loss");
}

#[test]
fn a_quantity_that_may_be_two_inputs_is_asked_back() {
    let found = told("rollers 7 mm hose");
    for input in ["hose_bore", "hose_od"] {
        let expected = format!("roller-choice {input}=7 mm");
        let told = found.iter().any(|one| one.starts_with(&expected));
        assert!(told, "{found:?}");
    }
}

#[test]
fn what_the_crew_measures_is_meant_before_what_the_yard_has_and_bears_no_verdict_unsaid() {
    for text in ["guide tube length 8 5/8 in", "guide tube length 8 5/8"] {
        let asked = found(text, "guide-tube-length");
        assert_eq!(asked.readings.len(), 1, "{text}: {asked:?}");
        assert_eq!(asked.readings[0].given[0].name, "channel_depth", "{text}");
        assert!(asked.readings[0].unsure, "{text}");
    }
    let asked = asked("guide tube length stock guide tube length 12 in");
    assert_eq!(asked.readings[0].given[0].name, "stock_length", "{asked:?}");
    assert!(asked.readings[0].is_plain(), "{asked:?}");
}

#[test]
fn an_ambiguous_number_is_told_and_nothing_is_made_of_the_rest() {
    for text in [
        "channel 1,250 in guide tube",
        "guide tube 10 k",
        "pump 12 tons",
    ] {
        let asked = asked(text);
        assert!(asked.readings.is_empty(), "{text}: {asked:?}");
        assert_eq!(asked.told.len(), 1, "{text}: {asked:?}");
        assert!(asked.told[0].help.is_some(), "{text}: {asked:?}");
    }
}

#[test]
fn a_value_outside_the_hard_limits_is_told_and_not_repaired() {
    let asked = asked("guide tube 900 in channel");
    assert_eq!(asked.readings.len(), 1, "{asked:?}");
    let answer = &asked.readings[0].answer;
    assert!(answer.outputs.is_empty());
    assert!(
        CATALOG
            .language
            .say(&answer.problems[0].message)
            .contains("above the most that is taken"),
        "{answer:?}"
    );
}

#[test]
fn a_value_outside_the_usual_band_is_asked_back_with_its_doubt() {
    let asked = asked("guide tube 50 in channel");
    assert_eq!(asked.readings[0].answer.doubts.len(), 1, "{asked:?}");
    assert!(asked.readings[0].unsure, "{asked:?}");
    // without a unit it may be anything
    assert_eq!(told("rollers 9.6"), [""; 0]);
}

/// What is given, where a question is answered and not asked back.
fn answered(text: &str) -> Vec<String> {
    let asked = asked(text);
    match asked.readings.as_slice() {
        [only] if !only.unsure => told(text),
        _ => Vec::new(),
    }
}

#[test]
fn a_calculator_that_nobody_asks_for_is_asked_back() {
    for text in [
        "14 mm hose in 10 mm tube",
        "hose for 5 mm tube",
        "air pressure 60 psi",
        "unsafe 3000 psi",
        // into the tank, or out of it
        "how long does the tank last 12 gpm",
    ] {
        assert_eq!(answered(text), [""; 0], "{text}");
    }
}

#[test]
fn what_nobody_asks_with_is_said_by_its_name() {
    for text in [
        "nozzle wear 12 %",
        "drift 1/4 in",
        "clearance 0.2 mm",
        "two lances each 12 gpm 10000 psi pump power",
    ] {
        assert_eq!(answered(text), [""; 0], "{text}");
    }
    let named = &asked("nozzle wear that ends its use 12 %").readings[0];
    assert_eq!(named.given[0].name, "wear_stop");
}

#[test]
fn quantities_that_each_have_their_word_before_them_or_behind_are_not_swapped() {
    for text in [
        "cylinder rod 0.75 in bore 2 in",
        "cylinder bore 2 in rod 0.75 in",
        "0.75 in rod 2 in bore cylinder force",
    ] {
        let found = answered(text);
        assert!(
            found.len() == 1 && found[0].contains("rod=0.75 in") && found[0].contains("bore=2 in"),
            "{text}: {found:?}"
        );
    }
    assert!(answered("tank level 85")[0].contains("level_now=85"));
}

#[test]
fn a_kind_of_quantity_or_a_unit_is_asked_for() {
    for (text, given, unit) in [
        ("how long at 105 dB", "noise-exposure level=105 dB", "h"),
        ("how hot water 15000 psi start 70 F", "water-heating", "°C"),
        ("osha 100 db", "noise-exposure level=100 db", "h"),
        ("hp needed 25 gpm 15k psi", "pump-power flow=25 gpm", "hp"),
        (
            "air cylinder 2 in bore 90 psi how many pounds",
            "cylinder-force bore=2 in",
            "lbf",
        ),
        ("litres in 40 m of 8mm hose", "hose-volume", "gal"),
    ] {
        let found = answered(text);
        let right = |told: &String| told.starts_with(given) && told.ends_with(unit);
        assert!(found.len() == 1 && right(&found[0]), "{text}: {found:?}");
    }
    let torque = asked("70 nm ft lb").conversion.expect("a conversion");
    assert!(torque.to.starts_with("51.6"), "{torque:?}");
}

#[test]
fn plain_words_and_plain_sizes_are_no_questions() {
    for text in [
        "",
        "guide tube length",
        "9/16",
        "wrench 9/16",
        "what wrench for a 3/4 bolt",
        "5",
        "m16",
        "b18.2.1",
    ] {
        assert_eq!(told(text), [""; 0], "{text}");
    }
}

#[test]
fn what_the_search_made_of_a_word_counts_as_the_word() {
    let question = Question {
        text: "14 in chanel gide tube".to_string(),
        meanings: vec![
            ("chanel".into(), vec!["channel".into()]),
            ("gide".into(), vec!["guide".into()]),
        ],
        candidates: vec!["guide-tube-length".into()],
    };
    let asked = ask(&CATALOG, &demonstration(), &question);
    assert_eq!(asked.readings[0].given[0].name, "channel_depth");
}

#[test]
fn one_size_has_all_its_spellings() {
    let spelled = |text: &str| asked(text).spellings.into_iter().next().map(|(_, all)| all);
    let expected: Vec<String> = ["9/16", "0.5625", "14.2875"].map(String::from).to_vec();
    assert_eq!(spelled("9/16 in wrench"), Some(expected.clone()));
    assert_eq!(spelled("0.5625 in"), Some(expected.clone()));
    let mut turned = expected;
    turned.rotate_right(1);
    assert_eq!(spelled("14.2875mm"), Some(turned));
    assert_eq!(spelled("9/16"), None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_answered(
        text in "\\PC{0,80}|([0-9]{1,4}([./, -][0-9]{1,3})?( ?(in|mm|psi|'|\"|ft|k|½))? ?(guide|tube|db|pitch|in|to)? ?){0,8}"
    ) {
            let question = Question { text: text.clone(), ..Question::default() };
            let asked = ask(&CATALOG, &demonstration(), &question);
            let smooth = smooth::smooth(&text, &SmallWords::of(&CATALOG.language));
            for reading in &asked.readings {
                // every number comes from the question as it stands there
                for given in &reading.given {
                    let written = given.text.trim_end_matches(|c: char| !c.is_ascii_digit());
                    let counted = given.text.ends_with(" min") || given.text == "0";
                    assert!(smooth.contains(written) || counted, "{text:?}: {given:?}");
                }
            }
    }
}

#[test]
fn what_makes_another_thing_of_a_number_is_not_passed_over() {
    // a sign beside a number, and a choice that is denied
    for text in [
        "clamp jaw flange >3 in",
        "clamp jaw flange ≥ 3 in",
        "rail level ± 1/64 in",
        "pressure limit no relief valve 15000 psi working pressure",
        // what is each one's, half or plugged
        "pump operating point 12 gpm per lance 2 lances",
        "nozzle thrust rear holes plugged 12 gpm 15000 psi",
        "tank half full 1000 gal 12 gpm out how long does it last",
        "pump power for 80 % of 12 gpm at 15000 psi",
    ] {
        assert_eq!(answered(text), [""; 0], "{text}");
    }
    assert_eq!(answered("clamp jaw flange 3 in").len(), 1);
    // what may be a unit that nobody knows makes no number of another
    assert_eq!(told("guide tube length 9 furlong channel"), [""; 0]);
    // the calculator that is asked for is named, with what it takes of the question
    let asked = asked("cylinder force 2 in bore 90 psi worn out");
    assert!(
        asked.readings.len() == 1 && asked.readings[0].unsure,
        "{asked:?}"
    );
}

#[test]
fn half_an_inch_after_feet_is_a_size_of_its_own() {
    for text in ["water in 100 ft 1/2 in hose", "hose volume 100 ft ½ in"] {
        let found = told(text);
        let bore = found
            .iter()
            .any(|one| one.contains("length=100 ft") && one.contains("bore="));
        assert!(bore, "{text}: {found:?}");
    }
}

#[test]
fn a_unit_that_begins_with_k_is_no_thousand_pounds() {
    for text in [
        "convert 5 kg/cm2 to psi",
        "700kg/cm2 to bar",
        "1 k bar in psi",
    ] {
        let asked = asked(text);
        assert_eq!(asked.conversion, None, "{text}: {asked:?}");
        assert_eq!(asked.told.len(), 1, "{text}: {asked:?}");
    }
}
