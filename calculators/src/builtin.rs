//! The built-in catalog: one line a file.

use crate::source::SourceFile;

macro_rules! catalog {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_str!(concat!("../catalog/", $path)))),*]
    };
}

static FILES: &[(&str, &str)] = catalog![
    "air-demand.toml",
    "air-line-drop.toml",
    "alignment-budget.toml",
    "bolt-clamp-position.svg",
    "bolt-clamp-position.toml",
    "clamp-jaw.toml",
    "clamping-measurements.toml",
    "clamping-ratings.toml",
    "cleaning-time.toml",
    "cylinder-force.svg",
    "cylinder-force.toml",
    "ejection-load.toml",
    "fitting-measurements.toml",
    "fitting-ratings.toml",
    "flow-at-pressure.toml",
    "frame-hold.svg",
    "frame-hold.toml",
    "frame-reach.svg",
    "frame-reach.toml",
    "fuel-use.toml",
    "gauge-window.toml",
    "guide-tube-length.svg",
    "guide-tube-length.toml",
    "guide-tube-sag.svg",
    "guide-tube-sag.toml",
    "hose-length.toml",
    "hose-pressure-loss.toml",
    "hose-stop-range.svg",
    "hose-stop-range.toml",
    "hose-volume.toml",
    "index-plan.svg",
    "index-plan.toml",
    "lance-fit.toml",
    "measurements.toml",
    "noise-exposure.svg",
    "noise-exposure.toml",
    "nozzle-flow.toml",
    "nozzle-thrust.svg",
    "nozzle-thrust.toml",
    "nozzle-wear.toml",
    "orifice-size.toml",
    "pace.toml",
    "pitch-from-span.toml",
    "pitch-span.svg",
    "pitch-span.toml",
    "planning-measurements.toml",
    "planning-ratings.toml",
    "pressure-rating.toml",
    "procedure-ratings.toml",
    "pump-operating-point.svg",
    "pump-operating-point.toml",
    "pump-power.toml",
    "rail-level.svg",
    "rail-level.toml",
    "ratings.toml",
    "relief-ratings.toml",
    "roller-choice.toml",
    "running-measurements.toml",
    "running-ratings.toml",
    "stop-ratings.toml",
    "same-nozzles.toml",
    "sheet/frame.svg",
    "sheet/guide.svg",
    "sheet/hose.svg",
    "sheet/pressure.svg",
    "stored-energy.toml",
    "stroke-measurements.toml",
    "stroke-stops.svg",
    "stroke-stops.toml",
    "tables/flange-bolting.toml",
    "tables/hex-across-flats-metric.toml",
    "tables/hex-across-flats.toml",
    "tables/hose-sizes.toml",
    "tables/noise-limits.toml",
    "tables/pipe-sizes.toml",
    "tables/tube-gauges.toml",
    "tables/unit-factors.toml",
    "tables/water-properties.toml",
    "tank-endurance.svg",
    "tank-endurance.toml",
    "trial-rate.toml",
    "tube-bore.toml",
    "tube-count.svg",
    "tube-count.toml",
    "tube-map.svg",
    "waste-catch.toml",
    "water-heating.toml",
    "water-measurements.toml",
    "water-ratings.toml",
    "water-use.toml",
];

/// Where they stand inside a handbook.
const FOLDER: &str = "calculators/catalog/";

/// Whether a path inside a handbook is that of a built-in file.
pub fn is_built_in(path: &str) -> bool {
    path.strip_prefix(FOLDER)
        .is_some_and(|path| FILES.iter().any(|(built_in, _)| *built_in == path))
}

/// The files of the built-in catalog, with their paths inside a handbook.
pub fn builtin() -> Vec<SourceFile> {
    FILES
        .iter()
        .map(|(path, text)| SourceFile {
            path: format!("{FOLDER}{path}"),
            text: (*text).to_string(),
        })
        .collect()
}
