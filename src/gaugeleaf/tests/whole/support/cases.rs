//! Every code's faults, each in a small handbook of its own: the examples of the table of codes,
//! and `tests/faults/cases.toml` for those that stand in no file that can be tried as it is.

use std::fs;
use std::path::Path;

use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::report::Sources;
use gaugeleaf::session::build;
use gaugeleaf_finding::{Code, Finding, entries};
use toml::de::{DeTable, DeValue};

use super::Folder;
use super::stages::found;

/// A fault, and how it comes in.
pub struct Case {
    pub code: Code,
    pub folder: Folder,
    door: Door,
}

enum Door {
    /// The handbook is read and its pages composed.
    Pages,
    /// Its whole site is made.
    Site,
    /// A command is typed in its folder.
    Command(Vec<String>),
}

/// What a case comes to.
pub enum Told {
    Findings(Vec<Finding>, Sources),
    /// What the program says to a person.
    Words(String),
}

impl Case {
    pub fn told(&self) -> Told {
        match &self.door {
            Door::Pages => {
                let (findings, sources) = found(self.folder.path());
                Told::Findings(findings, sources)
            }
            Door::Site => {
                let built = build(self.folder.path(), &FolderEdition);
                Told::Findings(built.findings, built.sources)
            }
            Door::Command(words) => {
                let words: Vec<&str> = words.iter().map(String::as_str).collect();
                Told::Words(String::from_utf8(self.folder.run(&words).stderr).expect("UTF-8"))
            }
        }
    }
}

/// All of them, in the order of the table of codes.
pub fn cases() -> Vec<Case> {
    let mut cases: Vec<Case> = examples().chain(own()).collect();
    cases.sort_by_key(|case| case.code);
    cases
}

/// The table's examples that say where they stand.
fn examples() -> impl Iterator<Item = Case> {
    let pairs = entries().iter().flat_map(|entry| {
        let placed = entry.examples.iter().filter(|one| !one.place.is_empty());
        placed.map(move |example| (entry.code, example))
    });
    pairs.map(|(code, example)| {
        let folder = match example.place {
            "page" => Folder::equipped(),
            _ => Folder::new(),
        };
        let text = example.bad.repeat(example.times);
        match example.place {
            "page" => on_a_page(&folder, &text),
            place => folder.put(place, text),
        }
        Case {
            code,
            folder,
            door: Door::Pages,
        }
    })
}

fn on_a_page(folder: &Folder, text: &str) {
    folder.put(
        "content/fit/page.md",
        format!("# Fit\n\n{text}\n## Do it\n"),
    );
}

fn own() -> impl Iterator<Item = Case> {
    let at = faults().join("cases.toml");
    let text = fs::read_to_string(at).expect("the cases");
    let parsed = DeTable::parse(&text).expect("TOML");
    let cases = parsed.get_ref()["case"].get_ref().as_array();
    let made = cases.expect("cases").iter().map(|case| {
        let case = case.get_ref().as_table().expect("a table");
        let code = entries()
            .iter()
            .find(|entry| Some(entry.code.name()) == said(case, "code"))
            .unwrap_or_else(|| panic!("no such code: {case:?}"))
            .code;
        // a page's own faults show where its values are known
        let of_page = said(case, "file").is_none_or(|file| file.starts_with("content/fit/"));
        let bare = [Code::NotKnown, Code::NothingSet].contains(&code);
        let folder = if of_page && !bare {
            Folder::equipped()
        } else {
            Folder::new()
        };
        prepare(&folder, case);
        let words = texts(case, "command");
        let door = match words {
            Some(words) => Door::Command(words),
            None if case.contains_key("whole") => Door::Site,
            None => Door::Pages,
        };
        Case { code, folder, door }
    });
    made.collect::<Vec<Case>>().into_iter()
}

fn faults() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults")
}

fn said<'c>(case: &'c DeTable, key: &str) -> Option<&'c str> {
    case.get(key)?.get_ref().as_str()
}

fn texts(case: &DeTable, key: &str) -> Option<Vec<String>> {
    let texts = case.get(key)?.get_ref().as_array()?.iter();
    let text = |one: &toml::Spanned<DeValue>| one.get_ref().as_str().map(str::to_string);
    texts.map(text).collect()
}

fn prepare(folder: &Folder, case: &DeTable) {
    if let Some(text) = said(case, "page") {
        on_a_page(folder, text);
    }
    let also = case.get("also").and_then(|also| also.get_ref().as_table());
    for (path, text) in also.into_iter().flatten() {
        folder.put(path.get_ref(), text.get_ref().as_str().expect("a text"));
    }
    if let Some(path) = said(case, "file") {
        folder.put(path, file(case));
    }
    if let Some(special) = said(case, "special") {
        no_text(folder, special);
    }
}

/// The text of a case's file.
fn file(case: &DeTable) -> String {
    let Some(base) = said(case, "base") else {
        return said(case, "text").expect("a text").to_string();
    };
    let text = sound(base);
    let Some(change) = texts(case, "change") else {
        return text;
    };
    let [from, to] = change.try_into().expect("what stands there, what to write");
    assert_eq!(text.matches(&from).count(), 1, "{from:?} in {base}");
    text.replace(&from, &to)
}

/// A sound file of the catalog, from beside the cases or built in.
pub fn sound(name: &str) -> String {
    fs::read_to_string(faults().join(name)).unwrap_or_else(|_| {
        let path = format!("calculators/catalog/{name}");
        let mut built_in = gaugeleaf_calc::builtin().into_iter();
        let found = built_in.find(|file| file.path == path);
        found.unwrap_or_else(|| panic!("no file {name}")).text
    })
}

/// Faults of files that are no text, or not where they should be.
fn no_text(folder: &Folder, special: &str) {
    use std::os::unix::fs::symlink;
    let at = |path: &str| folder.path().join(path);
    match special {
        "latin" => folder.put("content/fit/old.md", b"# Caf\xE9\n"),
        "large" => folder.put("content/fit/huge.md", vec![b'a'; 4 * 1024 * 1024 + 1]),
        "lost link" => symlink("gone.md", at("content/fit/lost.md")).expect("linked"),
        "link out" => symlink("/", at("content/fit/out.md")).expect("linked"),
        "linked folder" => symlink("fit", at("content/mount")).expect("linked"),
        "no front page" => fs::remove_file(at("content/index.md")).expect("removed"),
        "no handbook" => fs::remove_file(at("handbook.toml")).expect("removed"),
        _ => panic!("{special}"),
    }
}
