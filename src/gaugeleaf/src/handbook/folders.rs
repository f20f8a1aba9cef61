//! Folders that nearly have a name that the handbook is read from.

use std::path::Path;

use gaugeleaf_calc::finding::{Code, Finding, nearest};

/// The folders that a handbook is read from.
const WHOLE: [&str; 3] = ["calculators", "content", "themes"];

const EQUIPMENT: &str = "equipment";

/// The folders in `content` that need no phase.
const INSIDE: [&str; 3] = [EQUIPMENT, "jobs", "trainer"];

/// One warning for each folder whose name is a slip away from one that would be read.
pub fn near_misses(root: &Path) -> Vec<Finding> {
    let outer = folders(root).into_iter().map(|name| (String::new(), name));
    let inner = folders(&root.join("content")).into_iter();
    let phases = inner.filter(|name| !root.join("content").join(name).join("phase.toml").exists());
    let inner = phases.map(|name| ("content/".to_string(), name));
    outer
        .chain(inner)
        .filter_map(|(within, name)| {
            let known = if within.is_empty() { WHOLE } else { INSIDE };
            let near = nearest(&name, known).filter(|meant| *meant != name);
            let meant = match near {
                Some(meant) => format!("{within}{meant}"),
                // equipment beside the content is read by nobody
                None => {
                    let inside = nearest(&name, [EQUIPMENT]).filter(|_| within.is_empty())?;
                    format!("content/{inside}")
                }
            };
            let path = format!("{within}{name}");
            let message = format!("nothing is read from the folder {path}");
            Some(
                Finding::warning(Code::WrongFolder, &path, 0..0, message)
                    .breaks([path.clone()])
                    .help(format!("call it {meant}, if that is meant")),
            )
        })
        .collect()
}

/// The names of a folder's folders, in order; what can't be read is told where it is needed.
fn folders(at: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(at).into_iter().flatten().flatten();
    let folders = entries.filter(|entry| entry.path().is_dir());
    let mut names: Vec<String> = folders
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_that_is_nearly_one_of_the_handbooks_is_told_with_the_right_name() {
        let root = tempfile::tempdir().expect("a folder");
        for folder in [
            "calculator",
            "contents",
            "theme",
            "equipment",
            "public",
            "content/equipments",
            "content/fit",
            "content/job",
        ] {
            std::fs::create_dir_all(root.path().join(folder)).expect("a folder made");
        }
        let phase = root.path().join("content/job/phase.toml");
        std::fs::write(phase, "title = \"Job\"\n").expect("written");
        let found: Vec<(String, String)> = near_misses(root.path())
            .into_iter()
            .map(|one| (one.file, one.help.unwrap_or_default()))
            .collect();
        let expected = [
            ("calculator", "calculators"),
            ("contents", "content"),
            ("equipment", "content/equipment"),
            ("theme", "themes"),
            ("content/equipments", "content/equipment"),
        ];
        let expected = expected.map(|(wrong, right)| {
            (
                wrong.to_string(),
                format!("call it {right}, if that is meant"),
            )
        });
        assert_eq!(found, expected);
    }
}
