//! What limits the pressure, in a handbook with a whole kit: the demonstration's, changed in one
//! place at a time.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::support::*;

const KIT: &str = "content/equipment/yard-drive.toml";
const HOSES: &str = "content/equipment/hose-sizes.toml";

/// The kit's line of a rating, and what stands for it instead.
type Change<'c> = (&'c str, &'c str);

/// The setup sheet of the kit with these ratings changed; an empty value takes the line out.
fn sheet(changes: &[Change]) -> Value {
    let own = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    let read = |path: &str| fs::read_to_string(own.join(path)).expect("the demonstration's");
    let line = |line: &str| {
        let name = line.split(" = ").next().unwrap_or_default();
        let mut changes = changes.iter().filter(|(changed, _)| *changed == name);
        match changes.next() {
            None => line.to_string(),
            Some((_, "")) => String::new(),
            Some((name, value)) => format!("{name} = {{ value = \"{value}\", source = \"tag\" }}"),
        }
    };
    let kit: Vec<String> = read(KIT).lines().map(line).collect();
    let folder = Folder::new();
    folder.put(KIT, kit.join("\n"));
    folder.put(HOSES, read(HOSES));
    folder.put("handbook.toml", format!("{HEAD}kit = \"yard-drive\"\n"));
    let output = folder.run(&["sheet", "water_temperature=12 degC", "--json"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// The verdict of one check, and its reason.
fn told(sheet: &Value, calculator: &str, check: &str) -> (String, String) {
    let list = sheet["calculators"].as_array().expect("a list");
    let one = list.iter().find(|one| one["calculator"] == calculator);
    let checks = one.expect("it is on the sheet")["verdicts"].as_array();
    let mut checks = checks.expect("a list").iter();
    let found = checks.find(|one| one["check"] == check).expect("a check");
    let text = |key: &str| found[key].as_str().unwrap_or_default().to_string();
    (text("is"), text("because"))
}

/// The three calculators that judge the relief device.
const JUDGES: [&str; 3] = [
    "pressure-rating",
    "pump-operating-point",
    "flow-at-pressure",
];

fn relief(changes: &[Change]) -> [(String, String); 3] {
    let sheet = sheet(changes);
    JUDGES.map(|calculator| told(&sheet, calculator, "relief device"))
}

#[test]
fn a_device_that_protects_every_part_is_go_and_tells_which_fault_opens_it() {
    let [limit, point, flow] = relief(&[]);
    assert_eq!(limit.0, "go", "{limit:?}");
    for (is, because) in [point, flow] {
        assert_eq!(is, "go", "{because}");
        assert!(
            because.starts_with("One plugged hole opens the relief device"),
            "{because}"
        );
    }
    // the same area in more holes: one of them makes less of the pressure
    let ten = [("orifice_count", "10"), ("orifice_diameter", "0.3536 mm")];
    let twenty = [("orifice_count", "20"), ("orifice_diameter", "0.25 mm")];
    let alone = [("lances", "1"), ("pump_flow", "4.05 gal/min")];
    for (changes, said) in [
        (
            ten.to_vec(),
            "One plugged hole doesn't open the relief device",
        ),
        (
            twenty.to_vec(),
            "Plugged holes don't open the relief device until many are",
        ),
        (
            [twenty, alone].concat(),
            "Only a line that is wholly blocked opens",
        ),
    ] {
        let [_, (is, because), _] = relief(&changes);
        assert_eq!(is, "go", "{changes:?}: {because}");
        assert!(because.starts_with(said), "{changes:?}: {because}");
    }
}

#[test]
fn without_a_device_or_with_one_set_too_high_nothing_is_go() {
    for changes in [
        // no device; what its tag once said changes nothing
        &[("relief", "none")][..],
        &[
            ("relief", "none"),
            ("relief_setting", ""),
            ("relief_rise", ""),
        ],
        // above the weakest part
        &[("relief_setting", "14500 psi")],
        // below it, and fully open above it
        &[("relief_setting", "13500 psi")],
        // the same by a weaker part: a jumper hose, an adapter
        &[("jumper_rating", "13000 psi")],
        &[("adapter_rating", "13000 psi")],
    ] {
        for (is, because) in relief(changes) {
            assert_eq!(is, "stop", "{changes:?}: {because}");
        }
    }
    // one that can't pass all that the pump delivers
    let [limit, ..] = relief(&[("relief_flow", "9 gal/min")]);
    assert_eq!(limit.0, "stop", "{}", limit.1);
}

#[test]
fn a_device_of_which_nothing_is_told_is_open() {
    for lacking in ["relief", "relief_setting", "relief_rise"] {
        for (is, because) in relief(&[(lacking, "")]) {
            assert_eq!(is, "open", "{lacking}: {because}");
            assert!(because.contains("Not set"), "{because}");
        }
    }
    for part in [
        "jumper_rating",
        "adapter_rating",
        "relief_flow",
        "pump_flow_most",
    ] {
        let [limit, ..] = relief(&[(part, "")]);
        assert_eq!(limit.0, "open", "{part}: {}", limit.1);
    }
}

#[test]
fn the_work_stays_below_what_the_device_is_set_to() {
    let is = |setting: &str| {
        let sheet = sheet(&[("relief_setting", setting)]);
        let checks = [
            ("pressure-rating", "working pressure"),
            ("pump-operating-point", "lowest rating"),
            ("flow-at-pressure", "lowest rating"),
        ];
        checks.map(|(calculator, check)| told(&sheet, calculator, check).0)
    };
    assert_eq!(is("12500 psi"), ["go"; 3]);
    assert_eq!(is("11500 psi"), ["caution"; 3]);
    assert_eq!(is("10500 psi"), ["stop"; 3]);
}
