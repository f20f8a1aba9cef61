//! What is asked for, what is taken of a bare number, and what is asked back for it, over the
//! built-in catalog.

use super::*;
use crate::testing::{CATALOG, demonstration};

/// The only answer, with its inputs and its first result; nothing where there is a question back.
fn answer(text: &str) -> Option<(String, String)> {
    let asked = asked(text);
    let [only] = asked.readings.as_slice() else {
        return None;
    };
    if only.unsure {
        return None;
    }
    let given = only.given.iter();
    let given = given.map(|given| format!("{}={}", given.name, given.text));
    let mut outputs = only.answer.outputs.iter();
    let first = outputs.find(|output| output.reading.is_some())?;
    let given: Vec<String> = given.collect();
    Some((
        format!("{} {}", only.answer.calculator, given.join(" ")),
        first.name.clone(),
    ))
}

fn asked(text: &str) -> Asked {
    let question = Question {
        text: text.to_string(),
        ..Question::default()
    };
    ask(&CATALOG, &demonstration(), &question)
}

#[test]
fn a_result_is_asked_for_by_what_people_call_it_and_by_its_unit() {
    for (text, output) in [
        ("hydraulic power pump 20 gpm 20000 psi", "hydraulic_power"),
        ("pump power 20 gpm 20000 psi", "shaft_power"),
        ("wall of 14 bwg tube 1 in od", "wall"),
        ("how long allowed at 97 db", "permitted_osha"),
        (
            "seconds for a 20 ft tube at 30 ft/min feed and 60 ft/min return cleaning time",
            "stroke_time",
        ),
        ("weakest part hose 15000 psi valve 20000 psi", "weakest"),
    ] {
        let (_, first) = answer(text).unwrap_or_else(|| panic!("{text}"));
        assert_eq!(first, output, "{text}");
    }
}

#[test]
fn a_bare_number_takes_a_share_or_the_unit_that_is_said_beside_it() {
    for (text, given) in [
        (
            "pump power 20 gpm 15000 psi eff 0.85",
            "pump-power flow=20 gpm pressure=15000 psi efficiency=85 %",
        ),
        (
            "pump power 20 gpm 15000 psi eff .9",
            "pump-power flow=20 gpm pressure=15000 psi efficiency=90 %",
        ),
        (
            "hose 9.2 mm tube id 15.7 gap lance",
            "lance-fit largest_diameter=9.2 mm tube_bore=15.7 mm",
        ),
        (
            "104 dba 6 hrs muffs 25",
            "noise-exposure level=104 dba duration=6 hrs protector_rating=25 dB",
        ),
    ] {
        let (understood, _) = answer(text).unwrap_or_else(|| panic!("{text}"));
        assert_eq!(understood, given, "{text}");
    }
    // nobody wrote the unit, so no verdict stands on it
    let asked = asked("hose 9.2 mm tube id 15.7 gap lance");
    assert!(!asked.readings[0].is_plain(), "{asked:?}");
}

#[test]
fn each_of_several_words_names_the_number_on_its_own_side() {
    let (given, _) = answer("air cylinder 63 mm bore 20 mm rod 6 bar push").expect("an answer");
    assert_eq!(given, "cylinder-force bore=63 mm rod=20 mm pressure=6 bar");
    let (given, _) = answer("pressure loss 15 gpm 5mm bore hose 80 ft").expect("an answer");
    assert_eq!(
        given,
        "hose-pressure-loss flow=15 gpm bore=5mm length=80 ft"
    );
}

#[test]
fn what_a_calculator_gives_is_not_taken_for_what_it_takes() {
    for text in [
        "od of tube with 0.62 in bore and 16 bwg",
        "inner diameter 0.75 in gauge 16",
        "8 tubes 10 in center to center pitch",
        "thrust rear holes plugged 12 gpm 15000 psi",
        "operating point 6 gpm a lance 2 lances 4 holes 0.03 in",
        "nozzle wear was 15000 psi and flow now 11 gpm",
        "no pressure limit pump 20000 psi hose 15000 psi",
        "hose for 5 mm tube",
    ] {
        assert_eq!(answer(text), None, "{text}");
    }
}

#[test]
fn what_leaves_something_over_is_asked_back_where_its_result_is_asked_for() {
    let of = |text: &str| -> Vec<String> {
        let readings = asked(text).readings;
        assert!(readings.iter().all(|one| one.unsure), "{text}");
        let names = readings.into_iter().map(|one| one.answer.calculator);
        names.collect()
    };
    // tubes are no strokes
    let hours = of("842 tubes 20 ft 2 lances 1.5 ft/s how many hours");
    assert_eq!(hours, ["cleaning-time"]);
    // two of a kind are compared, and nothing here compares them
    let compared = of("30 l/min at 700 bar, 40 l/min at 1000 bar");
    assert_eq!(compared, Vec::<String>::new());
}

#[test]
fn of_two_pressures_the_one_beside_the_flow_is_the_known_one() {
    for text in [
        "same nozzles 20 gpm at 10000 psi, how much at 15000",
        "same tips flow at 15000 psi if 20 gpm at 10000 psi",
        "same nozzle 15000 psi 20 gpm at 10000 psi",
        "same tips 20 gpm at 10000 psi pump pressure what flow at 15000 psi",
        "20 gpm at 10000 psi, how much at 15000 psi",
        "20 gpm at 10k what gpm at 15k same tips",
        "20 gpm at 10000 what at 15000 same tips",
    ] {
        let asked = asked(text);
        let [only] = asked.readings.as_slice() else {
            panic!("{text}: {} readings", asked.readings.len());
        };
        let mut given: Vec<(&str, &str)> = only
            .given
            .iter()
            .map(|one| (one.name.as_str(), &one.text[..2]))
            .collect();
        given.sort_unstable();
        let expected = [
            ("flow_then", "20"),
            ("pressure_new", "15"),
            ("pressure_then", "10"),
        ];
        assert_eq!(given, expected, "{text}");
    }
    for text in [
        "same nozzles instead of 8000 psi 10000 psi 8 gpm",
        "same nozzles 8 gpm to 15000 psi from 10000 psi",
        "same nozzles flow after raising the pressure by 2000 psi 8 gpm at 10000 psi",
        "8000 psi at the pump and 8 gpm same nozzles 12000 psi",
    ] {
        assert_eq!(answer(text), None, "{text}");
    }
}

#[test]
fn what_stands_on_an_example_alone_is_asked_back() {
    for text in ["time to clean 500 tubes", "pace 60 tubes done of 400"] {
        let sure = asked(text).readings.into_iter().filter(|one| !one.unsure);
        assert_eq!(sure.count(), 0, "{text}");
    }
    assert!(answer("pace 60 tubes done 2 h 400 total").is_some());
}

#[test]
fn a_bare_number_that_only_the_other_system_takes_is_read_so_and_guessed() {
    let asked = asked("cylinder force bore 63 rod 20 6 bar");
    let [only] = asked.readings.as_slice() else {
        panic!("{asked:?}");
    };
    let given: Vec<&str> = only.given.iter().map(|given| given.text.as_str()).collect();
    assert_eq!(given, ["63 mm", "20 mm", "6 bar"]);
    assert!(only.guessed);
}

#[test]
fn bare_numbers_of_one_question_are_of_one_system() {
    for text in [
        "cylinder force bore 12 rod 6 6 bar",
        "cylinder force 63/20 6 bar",
    ] {
        assert_eq!(answer(text), None, "{text}");
    }
}

#[test]
fn what_is_left_is_no_total() {
    for text in [
        "pace 60 tubes done in 90 min, 200 tubes left",
        "pace 60 out of 260 tubes done in 1.5 hours",
    ] {
        assert_eq!(answer(text), None, "{text}");
    }
}

#[test]
fn what_changes_nothing_is_told_and_holds_no_answer() {
    let question = "temp rise 1400 bar 60 lpm water in 18 c";
    let (given, _) = answer(question).expect("an answer");
    assert_eq!(
        given,
        "water-heating pressure=1400 bar water_temperature=18 c"
    );
    assert_eq!(asked(question).readings[0].left, ["60 lpm"]);
    // a length is no flow, and is asked back
    assert_eq!(answer("temp rise 1400 bar 60 m water in 18 c"), None);
}

#[test]
fn the_second_of_two_counts_is_all_there_are() {
    let (given, first) = answer("done 310 of 1240 tubes in 3.5 h when finish").expect("an answer");
    let all = "pace tubes_done=310 tubes_in_all=1240 time_so_far=3.5 h";
    assert_eq!((given.as_str(), first.as_str()), (all, "time_left"));
}

#[test]
fn hours_and_two_digits_are_hours_and_minutes() {
    let asked = asked("done 310 of 890 tubes in 4 h 20 when finish");
    let [only] = asked.readings.as_slice() else {
        panic!("{asked:?}");
    };
    let time = only.given.iter().find(|given| given.name == "time_so_far");
    assert_eq!(time.map(|given| given.text.as_str()), Some("4 h 20 min"));
    assert!(only.guessed);
}

#[test]
fn half_of_one_more_belongs_to_its_number() {
    for text in ["6 and a half hours", "6 and half hours"] {
        let (given, _) = answer(&format!("125 lpm {text} how much water")).expect(text);
        assert_eq!(
            given, "water-use flow=125 lpm running_time=6.5 hours",
            "{text}"
        );
    }
    assert_eq!(answer("125 lpm 6.5 and a half hours how much water"), None);
}

#[test]
fn words_on_both_sides_of_a_number_say_one_thing() {
    let asked = asked("lance 9.5 od tube bore 15.4 clearance");
    let given = asked.readings.iter().flat_map(|reading| &reading.given);
    let given: Vec<&str> = given.map(|given| given.name.as_str()).collect();
    assert_eq!(given, ["largest_diameter", "tube_bore"]);
}

#[test]
fn a_calculator_whose_title_is_said_is_meant_before_another_that_takes_the_same() {
    let (given, _) = answer("pressure loss 100 ft hose 1/2 in bore 24 gpm").expect("an answer");
    assert!(given.starts_with("hose-pressure-loss "), "{given}");
}

#[test]
fn what_was_and_what_is_now_are_told_apart() {
    let (given, _) =
        answer("flow was 40 lpm at 1000 bar now 700 bar same tips").expect("an answer");
    assert_eq!(
        given,
        "same-nozzles flow_then=40 lpm pressure_then=1000 bar pressure_new=700 bar"
    );
    // a worn nozzle is none of the same
    let worn = "was 22 gpm at 15000 psi now makes 13200 same flow worn?";
    assert_eq!(answer(worn), None);
}
