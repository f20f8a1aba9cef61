//! What people typed who had found the search wanting: each is answered right, refused or asked
//! back, and each page that they meant comes among the first three.

use serde_json::Value;

use crate::shown::{call, plain, shown};

/// The first answer's results as printed, none where there is a question back or nothing.
fn results(query: &str) -> Vec<String> {
    let shown = shown(query);
    let reading = shown.iter().find(|one| one["outputs"].is_array());
    let outputs = reading.and_then(|reading| reading["outputs"].as_array());
    let text = |output: &Value| plain(output["text"].as_str().unwrap_or_default());
    outputs.into_iter().flatten().map(text).collect()
}

#[test]
fn what_was_answered_wrong_is_answered_right_refused_or_asked_back() {
    for (query, right) in [
        ("guide tube length 8 5/8", "21 3/8 in"),
        ("guide tube channel 1 foot 3", "27 3/4 in"),
        ("guide tube 12 3 / 8 channel", "25 1/8 in"),
        ("step 6 guide tube length", ""),
        ("guide tube pitch 15/16 across rows", "1 5/8 in"),
        ("tube count 24 bundle 3/4 od 1 pitch square", "398"),
        ("tube count 24 bundle 3/4 od 1 pitch no lane", "499"),
        ("time to clean 500 tubes", ""),
        ("16 gauge 5/8 tube bore", "0.495 in"),
        ("nozzle flow 0.9 mm 4 holes 15.000 psi", ""),
        ("guide tube 14", "26 3/4 in"),
        ("300 tubes 20 ft", ""),
        ("nozzle thrust 12 gpm rear holes plugged 15000 psi", ""),
    ] {
        let results = results(query);
        let first = results.first();
        assert!(
            first.is_none_or(|first| first == right || results.iter().any(|one| one == right)),
            "{query}: {results:?}"
        );
    }
}

#[test]
fn a_fraction_beside_a_hose_is_its_bore() {
    for query in ["3/8 hose loss", "3/8 hose pressure loss 12 gpm 50 ft"] {
        let shown = shown(query);
        let readings = shown.iter().flat_map(|one| {
            let which = one["which"].as_array().cloned().unwrap_or_default();
            which.into_iter().chain([one.clone()])
        });
        for reading in readings.filter(|one| one["given"].is_object()) {
            for (input, given) in reading["given"].as_object().into_iter().flatten() {
                let bore = given["text"]
                    .as_str()
                    .is_some_and(|text| text.starts_with("3/8"));
                assert!(!bore || input.contains("bore"), "{query}: {reading}");
            }
        }
    }
}

#[test]
fn no_go_stands_where_the_exchanger_does_not_fit() {
    for query in [
        "will the clamp fit a 5 1/2 thick flange",
        "is the frame big enough for 60in bundle",
        "hose 10.9 mm anti-withdrawal stop",
    ] {
        for answer in shown(query) {
            assert_ne!(answer["verdict"]["is"], "go", "{query}: {answer}");
        }
    }
}

#[test]
fn a_result_asked_for_by_unit_word_or_title_comes_from_its_calculator() {
    for (query, calculator) in [
        ("15000psi 30 gpm hp", "pump-power"),
        ("15k psi 30 gpm hp", "pump-power"),
        ("pump power 20ksi 12 gpm", "pump-power"),
        ("how hot does water get 20000 psi", "water-heating"),
        ("jet speed at 15000", "nozzle-flow"),
        ("compressor 100 cfm enough", "air-demand"),
        ("what pressure will 10 gpm make", "pump-operating-point"),
    ] {
        let shown = shown(query);
        let first = shown.first().expect("something is shown");
        let which = first["which"].as_array().into_iter().flatten();
        let told = std::iter::once(first).chain(which);
        let names: Vec<&str> = told.filter_map(|one| one["calculator"].as_str()).collect();
        let page = format!("calculators/{calculator}.html");
        let hit = first["url"]
            .as_str()
            .is_some_and(|url| url.starts_with(&page));
        assert!(
            names.contains(&calculator) || hit,
            "{query}: {names:?} {first}"
        );
    }
}

#[test]
fn quantities_are_converted_in_any_order() {
    for (query, to) in [
        ("convert 1000 bar psi", "14 503.8 psi"),
        ("psi in 1000 bar", "14 503.8 psi"),
        ("100 f in c", "37.7778 °C"),
        ("212 deg f to c", "100 °C"),
        ("20 litres per minute gpm", "5.28344 gal/min"),
    ] {
        let shown = shown(query);
        let told = shown[0]["to"].as_str().map(plain);
        assert_eq!(told.as_deref(), Some(to), "{query}");
    }
}

#[test]
fn the_result_that_a_title_means_stands_first() {
    for (query, output) in [
        ("thrust 12 gpm 15000 psi", "Net pull into the tube"),
        ("hose loss 12 gpm 5 mm 50 ft", "Pressure loss"),
        ("cleaning time 400 strokes 20 ft tubes", "Elapsed time"),
    ] {
        let shown = shown(query);
        assert_eq!(
            shown[0]["outputs"][0]["label"], output,
            "{query}: {}",
            shown[0]
        );
    }
}

#[test]
fn words_that_found_nothing_find_their_page_among_the_first_three() {
    for (query, pages) in [
        ("ppe", "rules"),
        ("first aid", "emergency"),
        ("911", "emergency"),
        ("ambulance", "emergency"),
        ("blood", "emergency"),
        ("accident", "emergency other-emergencies after-an-emergency"),
        ("cut by water", "emergency"),
        ("injected", "emergency"),
        (
            "effluent",
            "survey/access-and-area run/water-and-fuel calculators/waste-catch",
        ),
        (
            "spotter",
            "training/spotter tasks/spotter check/barrier-and-signals",
        ),
        (
            "whip check",
            "connect/air-lines pressure/high-pressure-line",
        ),
        ("loto", "isolation"),
        ("smoko", "run/breaks-and-handovers"),
        ("chain block", "mount/hang-the-drive"),
        ("hi vis and goggles", "rules"),
        (
            "waste water",
            "survey/access-and-area run/water-and-fuel calculators/waste-catch",
        ),
        ("no pressure", "faults/water-faults"),
        ("pressure drops", "faults/water-faults"),
        (
            "pump trips",
            "faults/water-faults pressure/fill-and-pressurise",
        ),
        ("stuck hose", "faults/hose-and-stop-faults run/row-by-row"),
        (
            "what if hose sticks in tube",
            "faults/hose-and-stop-faults run/row-by-row",
        ),
        ("hose slips", "faults/hose-and-stop-faults"),
        ("shutdown", "stow/shut-down"),
        ("pull test", "fit/hoses-and-stop fit/pull-load"),
        (
            "vac truck",
            "calculators/water-use run/water-and-fuel survey/access-and-area",
        ),
        (
            "how far back should people stand",
            "check/barrier-and-signals survey/access-and-area",
        ),
        (
            "how far back must I stand",
            "check/barrier-and-signals survey/access-and-area",
        ),
        (
            "how do i stop the lines freezing overnight",
            "stow/shut-down",
        ),
        (
            "up goes down",
            "connect/wrong-motion check/motion-with-air connect/air-lines",
        ),
        ("hoses swapped", "connect/wrong-motion connect/air-lines"),
        (
            "wrench for the clamp bolts",
            "mount/clamp-the-frame tables/hex-across-flats",
        ),
    ] {
        let found = call(&serde_json::json!({ "do": "search", "query": query, "limit": 3 }));
        let urls = found["hits"].as_array().into_iter().flatten();
        let urls: Vec<&str> = urls.filter_map(|hit| hit["url"].as_str()).collect();
        let is_there = |page: &str| {
            urls.iter()
                .any(|url| url.starts_with(&format!("{page}.html")))
        };
        assert!(pages.split(' ').any(is_there), "{query}: {urls:?}");
    }
}
