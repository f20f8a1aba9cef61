//! Names that some system can't hold: a site is copied to others, and opened there from a folder.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::site::paths::SitePath;

/// Devices of Windows, with or without an ending; COM and LPT go with a digit.
const DEVICES: [&str; 6] = ["aux", "con", "nul", "prn", "conin$", "conout$"];
const NUMBERED: [&str; 2] = ["com", "lpt"];

/// One for each file or folder of the site with such a name.
pub fn unportable(paths: &[SitePath]) -> Vec<Finding> {
    let mut told = BTreeSet::new();
    let mut findings = Vec::new();
    for SitePath { path, from } in paths {
        let ends = path.match_indices('/').map(|(at, _)| at);
        for end in ends.chain([path.len()]) {
            let name = path[..end].rsplit('/').next().unwrap_or(path);
            let Some(why) = why_not(name) else {
                continue;
            };
            if told.insert(&path[..end]) {
                let message = format!("`{name}` {why}");
                let theme = format!("themes/{path}");
                // what the generator makes by itself has no such name
                let at = if from.contains('/') { from } else { &theme };
                let finding = Finding::error(Code::UnportableName, at, 0..0, message);
                let what = if end < path.len() { "folder" } else { "file" };
                findings.push(finding.help(format!("give the {what} another name")));
            }
        }
    }
    findings
}

/// Why some system can't hold a name.
fn why_not(name: &str) -> Option<String> {
    let stem = name.split('.').next().unwrap_or(name).trim_end();
    let stem = stem.to_ascii_lowercase();
    let numbers = NUMBERED
        .iter()
        .filter_map(|device| stem.strip_prefix(device));
    let numbered = |number: &str| number.chars().count() == 1 && number.contains(DIGITS);
    if DEVICES.contains(&stem.as_str()) || numbers.into_iter().any(numbered) {
        return Some("is the name of a device on Windows, whatever its ending".to_string());
    }
    if name.ends_with(['.', ' ']) {
        return Some("ends in a dot or a space, which Windows leaves out".to_string());
    }
    let letter = name
        .chars()
        .find(|c| c.is_control() || FORBIDDEN.contains(c));
    letter.map(|letter| format!("holds {letter:?}, which no name on Windows may hold"))
}

const FORBIDDEN: [char; 8] = ['<', '>', ':', '"', '|', '?', '*', '\\'];

/// The raised ones are digits there, too.
const DIGITS: [char; 13] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '\u{b9}', '\u{b2}', '\u{b3}',
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_windows_cannot_hold_is_told_with_the_reason() {
        for name in [
            "aux.html",
            "CON",
            "nul.tar.gz",
            "prn .svg",
            "com1.html",
            "LPT9",
            "com\u{b2}.md",
            "a. ",
            "a.",
            "a:b.png",
            "a?.png",
            "a*",
            "<a>",
            "a|b",
            "\"a\"",
            "a\\b",
            "a\tb",
        ] {
            assert!(why_not(name).is_some(), "{name:?}");
        }
        for name in [
            "auxiliary.html",
            "console",
            "com.html",
            "com10.html",
            "complete",
            "a.b.c",
            "null",
            ".a",
            "\u{e9} #1.png",
        ] {
            assert_eq!(why_not(name), None, "{name:?}");
        }
    }

    #[test]
    fn a_folder_is_told_once_with_the_first_file_in_it() {
        let of = |path: &str, from: &str| SitePath {
            path: path.into(),
            from: from.into(),
        };
        let told = unportable(&[
            of("con/index.html", "content/con/phase.toml"),
            of("con/a.html", "content/con/a.md"),
            of("fit/aux.html", "content/fit/aux.md"),
        ]);
        let told: Vec<_> = told
            .iter()
            .map(|one| (one.file.as_str(), one.help.as_deref().unwrap_or_default()))
            .collect();
        let expected = [
            ("content/con/phase.toml", "give the folder another name"),
            ("content/fit/aux.md", "give the file another name"),
        ];
        assert_eq!(told, expected);
    }
}
