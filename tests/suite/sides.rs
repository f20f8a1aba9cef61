//! The side to which every result is rounded.

use std::collections::BTreeSet;

use gaugeleaf_calc::calculator::OutputKind;
use gaugeleaf_calc::quantity::Rounding;
use gaugeleaf_calc::{Catalog, builtin};

/// A crew sets it with a tape, and a place too far to one side is as wrong as one to the other.
const SET: &str = "a place that is set: either side is equally wrong";
/// Whole before it is printed: rounding has nothing left to do.
const WHOLE: &str = "counted, or brought up to a whole number by the formula";

/// What is rounded to the nearest step, and why neither side is safe or none is needed.
const NEAREST: &[(&str, &str, &str)] = &[
    ("bolt-clamp-position", "offset", SET),
    ("bolt-clamp-position", "drop", SET),
    ("bolt-clamp-position", "clamp_spacing", SET),
    ("bolt-clamp-position", "chord", SET),
    ("pitch-from-span", "tube_pitch", SET),
    ("pitch-span", "set_pitch", SET),
    ("pitch-span", "spacing", SET),
    (
        "hose-pressure-loss",
        "reynolds",
        "tells laminar from turbulent, and a wrong side of either is wrong",
    ),
    (
        "tube-bore",
        "wall",
        "the table's own figure, which is a whole number of steps",
    ),
    ("cleaning-time", "shifts", WHOLE),
    ("index-plan", "strokes", WHOLE),
    ("index-plan", "setups", WHOLE),
    ("index-plan", "short_strokes", WHOLE),
    ("index-plan", "odd_tubes", WHOLE),
    ("index-plan", "moves", WHOLE),
    ("pace", "tubes_left", WHOLE),
    ("pace", "tubes_an_hour", WHOLE),
    ("pitch-span", "skip", WHOLE),
    ("tube-count", "tube_count", WHOLE),
    ("tube-count", "rows", WHOLE),
    ("tube-count", "longest_row", WHOLE),
    ("water-use", "tankers", WHOLE),
];

#[test]
fn every_result_is_rounded_to_the_safe_side_or_says_why_there_is_none() {
    let (catalog, _) = Catalog::load(&builtin());
    let mut without = BTreeSet::new();
    for calculator in catalog.calculators.values() {
        for output in calculator.outputs.iter().filter(|one| !one.is_term) {
            if let OutputKind::Number(format) = &output.kind
                && format.main.rounding == Rounding::Nearest
            {
                without.insert((calculator.name.as_str(), output.name.as_str()));
            }
        }
    }
    let told: BTreeSet<(&str, &str)> = NEAREST.iter().map(|(of, name, _)| (*of, *name)).collect();
    let untold: Vec<_> = without.difference(&told).collect();
    assert!(
        untold.is_empty(),
        "{untold:?}: give each the side that is safe for whoever reads it, or say here why none is"
    );
    let sided: Vec<_> = told.difference(&without).collect();
    assert!(sided.is_empty(), "{sided:?} have a side by now");
    assert!(NEAREST.iter().all(|(_, _, why)| !why.is_empty()));
}
