//! Handbooks of any size, made up of what the demonstration's pages hold: heads, steps, hazards,
//! tables, tick lists, value links, calculators and charts.

use std::fmt::Write;
use std::path::Path;
use std::{fs, io};

/// Pages in a phase, unless all go into one.
pub const A_PHASE: usize = 40;

const PARTS: [&str; 24] = [
    "rail",
    "upright",
    "clamp",
    "jaw",
    "guide block",
    "roller",
    "hose tail",
    "ferrule",
    "swivel",
    "manifold",
    "valve",
    "gauge",
    "receiver",
    "coupling",
    "screw",
    "lever",
    "pin",
    "carriage",
    "bracket",
    "spacer",
    "gasket",
    "flange",
    "sheet",
    "lamp",
];
const PLACES: [&str; 12] = [
    "north side",
    "south side",
    "upper row",
    "lower row",
    "far end",
    "near end",
    "left bank",
    "right bank",
    "first pass",
    "second pass",
    "top clamp",
    "bottom clamp",
];
const STATES: [&str; 10] = [
    "dry", "clean", "level", "tight", "free", "straight", "marked", "shut", "open", "whole",
];

/// A random walk that is the same everywhere.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(2).wrapping_add(0x9e37_79b9_7f4a_7c15))
    }

    pub fn below(&mut self, most: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % most
    }

    fn of<'w>(&mut self, words: &[&'w str]) -> &'w str {
        words[self.below(words.len())]
    }
}

/// Writes a handbook of so many pages; its kit is the demonstration's.
///
/// # Errors
/// What the disk says.
pub fn write(at: &Path, pages: usize, phases: usize, equipment: &Path) -> io::Result<()> {
    let content = at.join("content");
    fs::create_dir_all(content.join("equipment"))?;
    for entry in fs::read_dir(equipment)? {
        let entry = entry?;
        fs::copy(
            entry.path(),
            content.join("equipment").join(entry.file_name()),
        )?;
    }
    fs::write(at.join("handbook.toml"), HANDBOOK)?;
    fs::write(
        content.join("index.md"),
        "# A large yard\n\nEvery exchanger of the yard has a page.\n",
    )?;
    for phase in 0..phases {
        let folder = content.join(folder(phase));
        fs::create_dir_all(&folder)?;
        let head = format!(
            "title = \"Bay {}\"\norder = {}\npurpose = \"The exchangers of bay {}.\"\n",
            phase + 1,
            phase + 1,
            phase + 1
        );
        fs::write(folder.join("phase.toml"), head)?;
    }
    let each = pages.div_ceil(phases);
    for page in 0..pages {
        let path = content
            .join(folder(page / each))
            .join(format!("{}.md", name(page)));
        fs::write(path, text(page))?;
    }
    Ok(())
}

pub fn folder(phase: usize) -> String {
    format!("bay-{:04}", phase + 1)
}

pub fn name(page: usize) -> String {
    format!("exchanger-{:05}", page + 1)
}

const HANDBOOK: &str = r#"title = "A large yard"
subtitle = "Generated, to be measured"
job = "T1"
kit = "yard-drive"
demonstration = true
revision = "1"
caution = "This handbook is generated to be measured. Nobody works by it."
emergency = [{ label = "Rescue", number = "112" }]

[given]
channel_depth = "5 in"
flange_thickness = "2 in"
bolt_count = "24"
bolt_circle = "27 in"
holes_out = "4"
top_of_flange = "hole"
bundle_diameter = "22 in"
bundle_centre = "on-tube"
lane_width = "1 in"
tubes_counted = "390"
tube_od = "3/4 in"
tube_bore = "0.62 in"
tube_gauge = "16"
tube_length = "12 ft"
outside_span = "8 3/4 in"
tubes_spanned = "9"
tube_pitch = "1 in"
layout = "30"
pitch_direction = "along-row"
height_difference = "1/32 in"
stop_opening = "10.4 mm"
overhead_clear = "27 in"
tail_length = "19 ft"
water_temperature = "14 degC"
air_temperature = "20 degC"
noise_level = "91 dB"
gauge_at_start = "10900 psi"
gauge_now = "10840 psi"
lance_flow_now = "4.05 gal/min"
tank_level = "85 %"
supply_flow = "4.8 gal/min"
delivery_time = "75 min"
catch_free = "280 gal"
emptying_time = "140 min"
tubes_tried = "24"
trial_tubes_clean = "21"
clamp_torque = "22 ft·lbf"
hose_pull = "48 lbf"
clamp_span = "17 in"
"#;

/// One page, with the values of its own exchanger.
pub fn text(page: usize) -> String {
    let mut dice = Dice::new(page as u64);
    let mut out = String::new();
    let depth = 3 + dice.below(9);
    let (part, place) = (dice.of(&PARTS), dice.of(&PLACES));
    let _ = write!(
        out,
        "```page\norder = {}\ntime = \"{} min\"\npeople = [\"lead\", \"helper\"]\nreview = 2030-01-01\ntools = [\"tape\", \"lamp\", \"wrench for the {part}\"]\n```\n\n# Exchanger {}: the {part} on the {place}\n\n",
        page + 1,
        10 + dice.below(50),
        page + 1,
    );
    for _ in 0..3 {
        let _ = writeln!(
            out,
            "The {} on the {} stays {} while the crew looks at the {}.",
            dice.of(&PARTS),
            dice.of(&PLACES),
            dice.of(&STATES),
            dice.of(&PARTS)
        );
    }
    let length = format!("[](value:guide-tube-length.length?channel_depth={depth}in)");
    let _ = write!(
        out,
        "\n## Measure\n\nThe guide tube is {length} long, {} more than stock.\n\n",
        length.replace(".length?", ".extra?")
    );
    out.push_str("| part | place | state |\n|---|---|---|\n");
    for _ in 0..5 {
        let _ = writeln!(
            out,
            "| {} | {} | {} |",
            dice.of(&PARTS),
            dice.of(&PLACES),
            dice.of(&STATES)
        );
    }
    if page.is_multiple_of(10) {
        let _ = write!(
            out,
            "\n```calculator guide-tube-length\nchannel_depth = \"{depth} in\"\n```\n"
        );
    }
    if page % 10 == 5 {
        let _ = write!(
            out,
            "\n```chart guide-tube-length\noutput = \"length\"\nover = \"channel_depth\"\nfrom = \"3 in\"\nto = \"{} in\"\nstep = \"1 in\"\n```\n",
            depth + 4
        );
    }
    for (at, title) in ["Fit", "Prove"].into_iter().enumerate() {
        let _ = write!(out, "\n## {title}\n\n");
        steps(&mut out, &mut dice, &length, at == 0);
    }
    let _ = write!(
        out,
        "\n```checks\ntitle = \"Exchanger {} is ready\"\nitems = [\n",
        page + 1
    );
    for _ in 0..4 {
        let _ = writeln!(
            out,
            "  {{ do = \"The {} on the {}\", want = \"{}\", else = \"clean it again\" }},",
            dice.of(&PARTS),
            dice.of(&PLACES),
            dice.of(&STATES)
        );
    }
    let _ = write!(
        out,
        "  {{ do = \"Length of both tubes\", want = \"{length} or a little less\", else = \"take another pair\" }},\n]\ndone = \"Go on.\"\n```\n"
    );
    out
}

fn steps(out: &mut String, dice: &mut Dice, length: &str, hazard: bool) {
    let mut number = 1;
    let mut step = |out: &mut String, words: String| {
        let _ = writeln!(out, "{number}. {words}");
        number += 1;
    };
    for _ in 0..3 {
        step(
            out,
            format!("Wipe the {} on the {}.", dice.of(&PARTS), dice.of(&PLACES)),
        );
        step(
            out,
            format!(
                "Check that the {} is {}. If not, clean it.",
                dice.of(&PARTS),
                dice.of(&STATES)
            ),
        );
    }
    if hazard {
        let _ = write!(
            out,
            "\n> **CAUTION** Pinch point. The {} closes on fingers. Hold the {} in front of the sheet.\n\n",
            dice.of(&PARTS),
            dice.of(&PARTS)
        );
    }
    step(
        out,
        format!("Measure the {} from shoulder to end.", dice.of(&PARTS)),
    );
    step(
        out,
        format!("Check that each is no longer than {length}. If one is longer, put it back."),
    );
}
