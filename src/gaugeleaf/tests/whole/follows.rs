//! What follows from a fault is told under it, once; what doesn't is told by itself.

use gaugeleaf::report::format::Format;
use gaugeleaf_finding::{Finding, Level};

use crate::support::{Folder, compare};

/// A calculator that takes its one input from somewhere, in words that the others share.
fn calculator(name: &str, from: &str) -> String {
    format!(
        "[calculator]\nname = \"{name}\"\ntitle = \"{name}\"\narea = \"survey\"\npurpose = \"p\"\n\
         not_counted = \"n\"\nsources = [\"s\"]\n\n[[input]]\nname = \"rise\"\nlabel = \"Rise\"\n\
         unit = \"mm\"\nprint = \"1\"\n{from}\n\n[[output]]\nname = \"fall\"\nlabel = \"Fall\"\n\
         unit = \"mm\"\nprint = \"1\"\nround = \"up\"\nformula = \"rise\"\n"
    ) + &"\n[[example]]\nsource = \"s\"\ngiven = { rise = \"1 mm\" }\nexpect = { fall = \"1 mm\" }\n"
        .repeat(2)
}

/// A finding's code and file.
type At = (&'static str, String);

/// Each finding's code and file, what follows from one behind it.
fn told(folder: &Folder) -> Vec<(&'static str, String, Vec<At>)> {
    let at = |one: &Finding| (one.code.name(), one.file.clone());
    let errors = folder.build().findings.into_iter();
    errors
        .filter(|one| one.level == Level::Error)
        .map(|one| {
            let (code, file) = at(&one);
            (code, file, one.ties.followed_by.iter().map(at).collect())
        })
        .collect()
}

/// The errors as a format tells them, beside what is expected.
fn snapshot(folder: &Folder, name: &str, format: Format) {
    let built = folder.build();
    let mut errors = built.findings;
    errors.retain(|one| one.level == Level::Error);
    let said = format.emitter(false).emit(&errors, &built.sources);
    compare(&format!("follows/{name}"), &said);
}

fn circle(folder: &Folder) {
    let from = |name: &str| format!("from = \"{name}.fall\"");
    folder.put("calculators/one.toml", calculator("one", &from("two")));
    folder.put("calculators/two.toml", calculator("two", &from("one")));
    folder.put("calculators/three.toml", calculator("three", &from("two")));
}

/// Sound by itself, but its own value can't be worked out.
fn hopeless(folder: &Folder) {
    let own = calculator("own", "default = \"4 mm\"");
    let own = own.replace(
        "formula = \"rise\"",
        "formula = \"rise / (rise / 1 mm - 4)\"",
    );
    folder.put("calculators/own.toml", own);
}

#[test]
fn what_has_no_result_for_a_reason_of_its_own_is_told_beside_a_circle() {
    let folder = Folder::new();
    circle(&folder);
    hopeless(&folder);
    let alone: Vec<String> = told(&folder)
        .into_iter()
        .filter(|one| one.0 == "no-result")
        .map(|one| one.1)
        .collect();
    assert_eq!(alone, ["calculators/own.toml"]);
    snapshot(&folder, "circle.txt", Format::Terminal);
}

#[test]
fn what_hangs_on_a_circle_stands_under_the_circle() {
    let folder = Folder::with("Fall by [](value:three.fall).\n");
    circle(&folder);
    let told = told(&folder);
    let causes: Vec<(&str, &str)> = told.iter().map(|one| (one.0, one.1.as_str())).collect();
    let [one, two] = ["calculators/one.toml", "calculators/two.toml"];
    assert_eq!(causes, [("circle", one), ("circle", two)]);
    let mut under: Vec<(&str, &str)> = told
        .iter()
        .flat_map(|cause| cause.2.iter().map(|one| (one.0, one.1.as_str())))
        .collect();
    under.sort_unstable();
    assert_eq!(
        under,
        [
            ("bad-input", "content/fit/page.md"),
            ("no-result", one),
            ("no-result", "calculators/three.toml"),
            ("no-result", two),
        ]
    );
}

#[test]
fn a_page_that_names_a_calculator_whose_file_is_broken_stands_under_that_file() {
    let folder = Folder::with("```calculator slope\n```\n\nFall by [](value:slope.fall).\n");
    folder.put(
        "calculators/next.toml",
        calculator("next", "from = \"slope.fall\""),
    );
    let broken = calculator("slope", "default = \"4 mm\"");
    folder.put(
        "calculators/slope.toml",
        broken.replace("unit = \"mm\"", "unit = mm"),
    );
    let told = told(&folder);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().all(|one| one.0 == "bad-settings"), "{told:?}");
    let under: Vec<&str> = told
        .iter()
        .flat_map(|one| &one.2)
        .map(|one| one.0)
        .collect();
    for code in ["unknown-calculator", "unknown-value", "from"] {
        assert!(under.contains(&code), "{code} in {told:?}");
    }
    snapshot(&folder, "calculator.txt", Format::Terminal);
    snapshot(&folder, "calculator.jsonl", Format::Lines);
    snapshot(&folder, "calculator.sarif", Format::Sarif);
}

#[test]
fn a_part_that_a_broken_formula_takes_away_is_told_under_it_and_a_misspelt_one_is_not() {
    let folder = Folder::with("Fall by [](value:slope.fall) or [](value:slope.fal).\n");
    let broken = calculator("slope", "default = \"4 mm\"");
    let broken = broken.replace("formula = \"rise\"", "formula = \"rise + (\"");
    folder.put("calculators/slope.toml", broken);
    let told = told(&folder);
    let codes: Vec<&str> = told.iter().map(|one| one.0).collect();
    assert_eq!(codes, ["formula", "unknown-output"], "{told:?}");
    let under: Vec<&str> = told[0].2.iter().map(|one| one.0).collect();
    assert!(under.contains(&"unknown-output"), "{told:?}");
    snapshot(&folder, "part.txt", Format::Terminal);
}

#[test]
fn a_quantity_whose_file_cannot_be_read_is_told_under_that_file() {
    let folder = Folder::with("Leave [](value:spare) and [](value:gap), not [](value:other).\n");
    let quantity = |name: &str| format!("[[rating]]\nname = \"{name}\"\nlabel = \"Spare\"\n");
    folder.put("calculators/spares.toml", quantity("spare") + "unit =\n");
    let latin = [quantity("gap").as_bytes(), b"# Gr\xf6\xdfe\n"].concat();
    folder.put("calculators/gaps.toml", latin);
    let told = told(&folder);
    let under = |name: &str| -> Vec<&str> {
        let cause = told.iter().find(|one| one.1 == name);
        cause
            .into_iter()
            .flat_map(|one| &one.2)
            .map(|one| one.0)
            .collect()
    };
    assert_eq!(under("calculators/spares.toml"), ["unknown-value"]);
    assert_eq!(under("calculators/gaps.toml"), ["unknown-value"]);
    assert_eq!(under("content/fit/page.md"), Vec::<&str>::new());
    assert_eq!(told.len(), 3, "{told:?}");
    snapshot(&folder, "quantity.txt", Format::Terminal);
}

#[test]
fn one_slip_in_a_measurement_is_one_finding_and_all_that_hangs_on_it_follows() {
    let question = "```question\nask = \"How long with {stock_length}?\"\ncalculator = \"guide-tube-length\"\n\
        output = \"length\"\ndraw = { stock_length = [\"10 in\", \"30 in\", \"1 in\"] }\ntolerance = \"1 in\"\n```\n";
    let folder = Folder::with(&format!("Behind [](value:channel_depth).\n\n{question}"));
    let given = folder.path().join("handbook.toml");
    let text = std::fs::read_to_string(&given).expect("the head");
    folder.put(
        "handbook.toml",
        text.replace("channel_depth = \"8 5/8 in\"", "channel_depth = \"8 inn\""),
    );
    let told = told(&folder);
    let causes: Vec<_> = told.iter().map(|one| (one.0, one.1.as_str())).collect();
    assert_eq!(causes, [("bad-input", "handbook.toml")], "{told:?}");
    assert!(told[0].2.len() > 1, "{told:?}");
}

#[test]
fn links_to_pages_that_cannot_be_read_are_told_under_what_keeps_them_from_it() {
    let folder = Folder::with("[a](old.md#set) [b](../mount/rail.md) [c](Rail.md) [d](gone.md)\n");
    folder.put("content/fit/old.md", b"# Caf\xe9\n\n## Set\n");
    folder.put("content/fit/Rail.md", "# Rail\n\nText.\n");
    folder.put("content/mount/phase.toml", "title = Mount\n");
    folder.put("content/mount/rail.md", "# Rail\n\nText.\n");
    let told = told(&folder);
    let causes: Vec<(&str, &str, usize)> = told
        .iter()
        .map(|one| (one.0, one.1.as_str(), one.2.len()))
        .collect();
    assert_eq!(
        causes,
        [
            ("bad-file-name", "content/fit/Rail.md", 1),
            ("not-utf-8", "content/fit/old.md", 1),
            ("missing-page", "content/fit/page.md", 0),
            ("bad-settings", "content/mount/phase.toml", 2),
        ]
    );
    snapshot(&folder, "link.txt", Format::Terminal);
}

#[test]
fn a_broken_template_is_told_once_however_many_pages_it_fails() {
    let folder = Folder::new();
    folder.put("content/loose.md", "# Loose\n\nText.\n");
    // a page of no phase has no such place at all, and the message says so
    let text = "{{ page.phase.titel }}\n";
    folder.put("themes/templates/page.html", text);
    let told = told(&folder);
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(told[0].0, "template");
    assert_eq!(told[0].2.len(), 1, "{told:?}");
    snapshot(&folder, "template.txt", Format::Terminal);
}
