//! What every file of the repository keeps to.

use std::fs;
use std::path::Path;

use crate::root;

/// Folders that hold nothing of ours, or nothing that is kept.
const SKIPPED: [&str; 6] = [
    ".git",
    ".venv",
    "__pycache__",
    "node_modules",
    "public",
    "target",
];

/// Paths of the repository's files, from its root, with forward slashes.
fn files() -> Vec<String> {
    fn gather(folder: &Path, prefix: &str, files: &mut Vec<String>) {
        for entry in fs::read_dir(folder).expect("a readable folder") {
            let entry = entry.expect("a readable entry");
            let name = entry.file_name().into_string().expect("a name in Unicode");
            if SKIPPED.contains(&name.as_str()) || name.starts_with("public.") {
                continue;
            }
            let path = format!("{prefix}{name}");
            if entry.path().is_dir() {
                gather(&entry.path(), &format!("{path}/"), files);
            } else {
                files.push(path);
            }
        }
    }
    let mut files = Vec::new();
    gather(root(), "", &mut files);
    files.sort();
    files
}

/// The text of a file; `None` for a picture, the engine and the like.
fn text(path: &str) -> Option<String> {
    String::from_utf8(fs::read(root().join(path)).expect("a readable file")).ok()
}

fn has_extension(path: &str, extensions: &[&str]) -> bool {
    Path::new(path)
        .extension()
        .is_some_and(|found| extensions.iter().any(|wanted| found == *wanted))
}

/// Asks something of every file; the test fails with all that was found.
fn check(what: &str, fault: impl Fn(&str) -> Vec<String>) {
    let found: Vec<String> = files().iter().flat_map(|path| fault(path)).collect();
    assert!(found.is_empty(), "{what}:\n{}", found.join("\n"));
}

#[test]
fn every_rust_file_opens_with_a_module_doc() {
    check("begin with //! and what the file is for", |path| {
        let bare =
            has_extension(path, &["rs"]) && text(path).is_some_and(|text| !text.starts_with("//!"));
        bare.then(|| path.to_owned()).into_iter().collect()
    });
}

#[test]
fn no_source_file_is_over_400_lines() {
    check("split these by what makes them change", |path| {
        let script = path == "tests/run" || path == "src/engine/build-browser";
        if !script && !has_extension(path, &["rs", "js", "css", "html", "py"]) {
            return Vec::new();
        }
        let lines = text(path).map_or(0, |text| text.lines().count());
        (lines > 400)
            .then(|| format!("{path}: {lines} lines"))
            .into_iter()
            .collect()
    });
}

#[test]
fn every_path_named_in_the_guides_exists() {
    let tops: Vec<String> = files()
        .iter()
        .filter_map(|path| path.split_once('/').map(|(top, _)| format!("{top}/")))
        .collect();
    let mut missing = Vec::new();
    let guides = [
        "DEVELOPERS.md",
        "README.md",
        "CONTRIBUTING.md",
        "calculators/README.md",
        "src/gaugeleaf/README.md",
        "tests/README.md",
        "tests/fuzz/README.md",
    ];
    for guide in guides {
        let text = fs::read_to_string(root().join(guide))
            .unwrap_or_else(|fault| panic!("{guide}: {fault}"));
        for named in text.split('`').skip(1).step_by(2) {
            let is_path = tops.iter().any(|top| named.starts_with(top.as_str()));
            let is_plain =
                !named.contains([' ', '*', '<', '{', '$', '…', '\n']) && !named.contains("NAME");
            let path = named
                .trim_end_matches('/')
                .split([':', '#'])
                .next()
                .unwrap_or_default();
            if is_path && is_plain && !root().join(path).exists() {
                missing.push(format!("{guide}: {named}"));
            }
        }
    }
    assert!(
        missing.is_empty(),
        "these are named and not there:\n{}",
        missing.join("\n")
    );
}

#[test]
fn every_catalog_file_is_built_in() {
    let listed: Vec<String> = gaugeleaf_calc::builtin()
        .into_iter()
        .map(|file| file.path)
        .collect();
    check("add these to calculators/src/builtin.rs", |path| {
        let counts =
            path.starts_with("calculators/catalog/") && has_extension(path, &["toml", "svg"]);
        let missing = counts && !listed.iter().any(|listed| listed == path);
        missing.then(|| path.to_owned()).into_iter().collect()
    });
}

#[test]
fn no_field_of_the_theme_is_of_type_number() {
    // such a field reads 1 1/4 as 114 without a word
    check("use type=\"text\" with inputmode", |path| {
        let text = if path.starts_with("themes/") {
            text(path).unwrap_or_default()
        } else {
            String::new()
        };
        let squeezed: String = text
            .chars()
            .filter(|character| !matches!(character, '"' | '\'' | ' '))
            .collect();
        squeezed
            .contains("type=number")
            .then(|| path.to_owned())
            .into_iter()
            .collect()
    });
}

#[test]
fn no_file_names_a_machine_or_a_registry() {
    // written in two parts, so that this file doesn't name them either
    let words = [
        concat!("/ro", "ot/"),
        concat!("/wo", "rk/"),
        concat!("/ho", "me/"),
        concat!("crates", ".io"),
        concat!("npmjs", ".org"),
        concat!("py", "pi.org"),
        concat!("pythonhosted", ".org"),
        concat!("debian", ".org"),
    ];
    check("name no machine's folder and no registry", |path| {
        if path == "Cargo.lock" {
            return Vec::new();
        }
        let text = text(path).unwrap_or_default();
        let lines = text.lines().enumerate();
        lines
            .filter(|(_, line)| words.iter().any(|word| line.contains(word)))
            .map(|(at, line)| format!("{path}:{}: {}", at + 1, line.trim()))
            .collect()
    });
}

/// Where code of a crate knows of the clock, of chance or of what surrounds the program, and why no
/// published byte does.
const AMBIENT: [(&str, &str); 6] = [
    (
        "src/gaugeleaf/src/edition/preview/",
        "the preview: when to look again, whom to answer",
    ),
    (
        "src/gaugeleaf/src/handbook/walk.rs",
        "the preview: whether a file was written anew",
    ),
    (
        "src/gaugeleaf/src/report/terminal.rs",
        "whether a terminal's findings have colours",
    ),
    ("src/gaugeleaf/src/main.rs", "the command's words"),
    (
        "src/lookup/src/build.rs",
        "by how many threads; a test holds the bytes to be the same",
    ),
    (
        "calculators/src/catalog/soundness/widths.rs",
        "a test that says how long it took",
    ),
];

#[test]
fn nothing_that_is_published_knows_the_clock_chance_or_the_environment() {
    let words = [
        "SystemTime",
        "Instant",
        "env::var",
        "env::args",
        "env::current_dir",
        "env::temp_dir",
        "RandomState",
        "available_parallelism",
        "getrandom",
    ];
    check(
        "pages would be others elsewhere or at another time",
        |path| {
            let of_a_crate = path.starts_with("src/") || path.starts_with("calculators/src/");
            let code = of_a_crate && path.contains("/src/") && has_extension(path, &["rs"]);
            let text = text(path).filter(|_| code).unwrap_or_default();
            let found = words.iter().filter(|word| text.contains(**word));
            let found: Vec<String> = found.map(|word| format!("{path}: {word}")).collect();
            found
                .into_iter()
                .filter(|_| !AMBIENT.iter().any(|(place, _)| path.starts_with(place)))
                .collect()
        },
    );
    let holds = |path: &String, place: &str| {
        path.starts_with(place)
            && text(path).is_some_and(|text| words.iter().any(|word| text.contains(word)))
    };
    for (place, why) in AMBIENT {
        let used = files().iter().any(|path| holds(path, place));
        assert!(used, "{place} needs no permission any more ({why})");
    }
}
