//! The catalogue as it was promised: every name, every output, every warning.

use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::finding::nearest;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::{Catalog, Names};
use gaugeleaf_engine::Engine;
use serde_json::{Value, json};

/// Every calculator, with the results that it must give.
const CATALOGUE: &[(&str, &str)] = &[
    ("pitch-from-span", "tube_pitch ligament pitch_ratio"),
    ("bolt-clamp-position", "offset drop clamp_spacing chord"),
    ("clamp-jaw", "margin_open margin_closed"),
    ("rail-level", "drift slope angle"),
    ("frame-reach", "travel needed margin"),
    ("guide-tube-length", "length extra"),
    ("guide-tube-sag", "sag tip_slope"),
    (
        "pitch-span",
        "min_pitch max_pitch spacing skip set_pitch margin_low margin_high",
    ),
    (
        "hose-stop-range",
        "catch_least running_clearance catch margin_low margin_high",
    ),
    ("roller-choice", "roller"),
    ("hose-length", "needed spare"),
    (
        "stroke-stops",
        "stroke forward_stop return_stop pressure_mark release_mark near_end far_most far_least park_most park_least",
    ),
    ("nozzle-flow", "flow jet_speed power"),
    ("orifice-size", "orifice_diameter"),
    ("nozzle-thrust", "rear_thrust front_thrust net_pull"),
    (
        "hose-pressure-loss",
        "loss velocity reynolds friction_factor loss_per_length",
    ),
    (
        "pump-operating-point",
        "pump_pressure lance_flow nozzle_pressure hose_loss headroom pressure_one_plugged pressure_each_plugged pressure_one_shut",
    ),
    (
        "flow-at-pressure",
        "pump_flow nozzle_pressure hose_loss pressure_one_plugged pressure_each_plugged pressure_one_shut",
    ),
    ("same-nozzles", "flow pull_share"),
    ("pace", "tubes_left time_left time_each tubes_an_hour"),
    ("pump-power", "hydraulic_power shaft_power"),
    (
        "pressure-rating",
        "relief_most lowest_rating weakest headroom relief_full relief_margin",
    ),
    ("water-heating", "rise outlet_temperature rise_from_suction"),
    ("hose-volume", "volume water_mass"),
    ("air-demand", "average peak margin"),
    (
        "air-line-drop",
        "tool_pressure drop drop_share greatest_flow",
    ),
    ("cylinder-force", "push pull"),
    ("tube-bore", "wall bore"),
    ("tube-count", "tube_count rows longest_row"),
    ("index-plan", "strokes setups short_strokes odd_tubes moves"),
    ("cleaning-time", "stroke_time running_time elapsed shifts"),
    ("water-use", "volume tankers"),
    ("fuel-use", "mass volume"),
    (
        "noise-exposure",
        "protected_dose_osha protected_level protected_level_niosh protected_dose_niosh attenuation_osha attenuation_niosh permitted_osha dose_osha permitted_niosh dose_niosh",
    ),
    (
        "nozzle-wear",
        "area_growth wear diameter_now flow_at_working_pressure",
    ),
    (
        "stored-energy",
        "energy released_volume water_energy hose_energy",
    ),
    ("tank-endurance", "time_left usable shortfall"),
    (
        "waste-catch",
        "time_to_full peak_time inflow rise_rate peak_rise shutdown_room",
    ),
    (
        "trial-rate",
        "share_low share_clean share_high passes_to_plan effective_speed",
    ),
    ("gauge-window", "high low plug_margin plugged_reading"),
    (
        "frame-hold",
        "slip_factor tilt_factor side clamp_force slip_load hang_load tilt_force",
    ),
    (
        "ejection-load",
        "least_pull_test worst_load drive_pull front_thrust_plugged slip_pressure trapped_push end_load held_pressure",
    ),
    (
        "lance-fit",
        "clearance open_bore guide_clearance flush_area flush_ratio turn_length",
    ),
    ("alignment-budget", "left offset drift drift_allowed"),
];

fn catalog() -> Catalog {
    crate::demonstration::catalog()
}

#[test]
fn every_calculator_of_the_catalogue_answers_with_its_defaults() {
    let catalog = catalog();
    let mut engine = Engine::default();
    engine.take_catalog(&catalog.pack());
    engine.call(crate::demonstration::PAGE);
    for (name, outputs) in CATALOGUE {
        let request = json!({ "do": "calculate", "name": name });
        let answer: Value = serde_json::from_str(&engine.call(&request.to_string())).unwrap();
        assert_eq!(answer["problems"], json!([]), "{name}");
        for output in outputs.split(' ') {
            let text = answer["outputs"][output]["text"].as_str().unwrap_or("");
            assert!(!text.is_empty() && text != "none", "{name}.{output}");
        }
    }
    let listed = |name: &&String| CATALOGUE.iter().any(|(known, _)| known == name);
    let missing: Vec<_> = catalog
        .calculators
        .keys()
        .filter(|name| !listed(name))
        .collect();
    assert!(missing.is_empty(), "not in CATALOGUE: {missing:?}");
    assert_eq!(catalog.calculators.len(), CATALOGUE.len(), "one is twice");
}

#[test]
fn a_name_with_a_letter_too_few_suggests_the_right_one() {
    let catalog = catalog();
    let mut engine = Engine::default();
    engine.take_catalog(&catalog.pack());
    for &(name, _) in CATALOGUE {
        let short = &name[..name.len() - 1];
        let request = json!({ "do": "calculate", "name": short });
        let answer = engine.call(&request.to_string());
        assert!(
            answer.contains(&format!("did you mean {name}?")),
            "{answer}"
        );
        let names = catalog.calculators.keys().map(String::as_str);
        assert_eq!(nearest(short, names), Some(name));
    }
}

#[test]
fn every_calculator_says_what_it_is_for_what_it_leaves_out_and_what_is_dangerous() {
    for calculator in catalog().calculators.values() {
        let name = &calculator.name;
        assert!(!calculator.purpose.is_empty(), "{name}");
        assert!(!calculator.purpose.contains('\n'), "{name}");
        assert!(!calculator.not_counted.is_empty(), "{name}");
        assert!(calculator.hazard.is_some(), "{name}");
        assert!(calculator.area.is_some(), "{name}");
    }
}

#[test]
fn pressure_thrust_and_noise_put_codes_ratings_and_a_competent_person_first() {
    let catalog = catalog();
    for name in [
        "nozzle-flow",
        "orifice-size",
        "nozzle-thrust",
        "hose-pressure-loss",
        "pump-operating-point",
        "flow-at-pressure",
        "pump-power",
        "pressure-rating",
        "ejection-load",
        "air-demand",
        "air-line-drop",
        "cylinder-force",
        "noise-exposure",
    ] {
        let hazard = catalog.calculators[name].hazard.as_ref().unwrap();
        let text = hazard.text.to_lowercase();
        let ratings = text.contains("rating") || name == "noise-exposure";
        assert!(text.contains("local codes") && ratings, "{name}: {text}");
        assert!(text.contains("competent person"), "{name}: {text}");
    }
}

#[test]
fn the_nozzle_flow_says_what_compressibility_costs_and_offers_the_correction() {
    let catalog = catalog();
    let given = [gaugeleaf_calc::Argument::new("pressure", "1000 bar")];
    let page = Whose::Page {
        given: Names::new(),
    };
    let answer = catalog
        .calculate("nozzle-flow", &given, &catalog.job_of(&page))
        .unwrap();
    for output in ["overstated", "flow_corrected", "jet_speed_corrected"] {
        assert!(
            answer
                .output(output)
                .is_some_and(|one| one.reading.is_some()),
            "{output}"
        );
    }
    let said = in_english(&answer.checks[0].because);
    assert!(
        said.contains(&in_english(&answer.output("overstated").unwrap().told())),
        "{said}"
    );
}
