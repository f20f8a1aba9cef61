//! A small sound handbook in a temporary folder, to break in one place.

#[cfg(unix)]
pub mod cases;
pub mod edits;
pub mod preview;
#[cfg(unix)]
pub mod ranges;
pub mod spec;
pub mod stages;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::report::offending;
use gaugeleaf::session::{BuiltSite, build};
use gaugeleaf_calc::finding::{Level, line_column};

pub const HEAD: &str = "title = \"Test yard\"\nrevision = \"A\"\ncaution = \"Local rules come first.\"\nemergency = [{ label = \"Rescue\", number = \"112\" }]\n";
pub const FRONT: &str = "# Start\n\nRead [the page](fit/page.md#do-it) first.\n";
pub const PHASE: &str = "title = \"Fit\"\norder = 10\npurpose = \"Fit it.\"\n";
pub const PAGE: &str = "```page\norder = 10\n```\n\n# Fit\n\nCut to [21 in](value:guide-tube-length.length?stock_length=12in&channel_depth=9in).\n\n\
    ## Do it\n\n> **CAUTION** Sharp edge. It cuts. Wear gloves.\n\n1. Cut.\n";

/// A handbook's folder that is gone with the value.
pub struct Folder(pub tempfile::TempDir);

impl Folder {
    pub fn new() -> Folder {
        let folder = Folder(tempfile::tempdir().expect("a temporary folder"));
        folder.put("handbook.toml", HEAD);
        folder.put("content/index.md", FRONT);
        folder.put("content/fit/phase.toml", PHASE);
        folder.put("content/fit/page.md", PAGE);
        folder
    }

    /// The same with the demonstration's equipment, and its first job as the handbook's own.
    pub fn equipped() -> Folder {
        let folder = Folder::new();
        let content = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../content");
        for path in ["equipment/yard-drive.toml", "equipment/hose-sizes.toml"] {
            let text = fs::read(content.join(path)).expect("the demonstration's equipment");
            folder.put(&format!("content/{path}"), text);
        }
        let job = fs::read_to_string(content.join("jobs/t1.md")).expect("its first job");
        let given = job.lines().find(|line| line.starts_with("given = "));
        let given = given.expect("the job gives its values");
        folder.put("handbook.toml", format!("{HEAD}job = \"T1\"\n{given}\n"));
        folder
    }

    /// An equipped handbook whose one inner page goes on with this text.
    pub fn with(text: &str) -> Folder {
        let folder = Folder::equipped();
        folder.put("content/fit/page.md", format!("{PAGE}\n{text}"));
        folder
    }

    /// Gives the handbook the demonstration's kit, and its first job's measurements.
    pub fn equip(&self) {
        for path in [
            "content/equipment/yard-drive.toml",
            "content/equipment/hose-sizes.toml",
            "handbook.toml",
        ] {
            let text = fs::read(Folder::equipped().path().join(path)).expect("equipment");
            self.put(path, text);
        }
    }

    /// The same where nothing is set and nothing is measured.
    pub fn bare_with(text: &str) -> Folder {
        let folder = Folder::new();
        folder.put("content/fit/page.md", format!("{PAGE}\n{text}"));
        folder
    }

    pub fn path(&self) -> &Path {
        self.0.path()
    }

    pub fn put(&self, path: &str, text: impl AsRef<[u8]>) {
        let at = self.path().join(path);
        fs::create_dir_all(at.parent().expect("a folder")).expect("a folder made");
        fs::write(at, text).expect("a file written");
    }

    pub fn build(&self) -> BuiltSite {
        build(self.path(), &FolderEdition)
    }

    pub fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
            .args(arguments)
            .current_dir(self.path())
            .output()
            .expect("the program runs")
    }

    pub fn public(&self, path: &str) -> PathBuf {
        self.path().join("public").join(path)
    }
}

/// Code, file, line, column and offending text of every error.
pub fn errors(built: &BuiltSite) -> Vec<(&'static str, String, usize, usize, String)> {
    let errors = built
        .findings
        .iter()
        .filter(|finding| finding.level == Level::Error);
    errors
        .map(|finding| {
            let text = built.sources.get(&finding.file).map_or("", String::as_str);
            let (line, column) = line_column(text, finding.span.start);
            (
                finding.code.name(),
                finding.file.clone(),
                line,
                column,
                offending(finding, &built.sources).to_string(),
            )
        })
        .collect()
}

pub fn one_error(text: &str) -> (&'static str, usize, usize, String) {
    one_error_of(&Folder::with(text), text)
}

/// The same of a handbook whose page goes on with this text.
pub fn one_error_of(folder: &Folder, text: &str) -> (&'static str, usize, usize, String) {
    let found = errors(&folder.build());
    assert_eq!(found.len(), 1, "{text:?}: {found:?}");
    let (code, file, line, column, offending) = found.into_iter().next().expect("one");
    assert_eq!(file, "content/fit/page.md");
    // the lines of the page that every handbook here begins with
    (code, line - PAGE.lines().count() - 1, column, offending)
}

/// Compares with a file of `tests/snapshots`; with `SNAPSHOTS=write` it is written first.
pub fn compare(name: &str, said: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/snapshots")
        .join(name);
    if std::env::var_os("SNAPSHOTS").is_some_and(|what| what == "write") {
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder made");
        fs::write(&path, said).expect("written");
    }
    let expected = fs::read_to_string(&path).expect("a snapshot");
    assert!(said == expected, "{name} differs:\n{said}");
}
