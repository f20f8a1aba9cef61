//! A session makes what a fresh publish makes, whatever was edited before, and composes no page that
//! an edit can't touch.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::session::{Refreshed, Session, build};

use crate::support::edits::{Seed, edited};

/// The demonstration handbook in a folder of its own, with a calculator and a style besides.
struct Yard {
    folder: tempfile::TempDir,
    /// Every file as it was at first, by path.
    first: Vec<(String, Vec<u8>)>,
    /// Every file as it was at the last look.
    seen: RefCell<BTreeMap<String, Vec<u8>>>,
}

const OWN: &str = include_str!("../../../../calculators/catalog/tube-bore.toml");

impl Yard {
    fn new() -> Yard {
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let mut first = vec![
            ("calculators/tube-bore.toml".to_string(), OWN.into()),
            (
                "themes/styles/zzz.css".to_string(),
                b"b { color: red; }".into(),
            ),
        ];
        let head = fs::read(from.join("handbook.toml")).expect("the demonstration's head");
        first.push(("handbook.toml".to_string(), head));
        first.extend(files_below(&from, Path::new("content")));
        first.sort();
        let yard = Yard {
            folder: tempfile::tempdir().expect("a folder"),
            first,
            seen: RefCell::default(),
        };
        for (path, bytes) in &yard.first {
            yard.put(path, bytes);
        }
        yard
    }

    /// The files that changed since the last look, as a watcher tells them.
    fn changed(&self) -> BTreeSet<String> {
        let now = files_below(self.folder.path(), Path::new(""));
        let seen = self.seen.replace(now.clone());
        let paths = now.keys().chain(seen.keys());
        let changed = paths.filter(|path| now.get(*path) != seen.get(*path));
        changed.cloned().collect()
    }

    fn at(&self, path: &str) -> PathBuf {
        self.folder.path().join(path)
    }

    fn put(&self, path: &str, bytes: impl AsRef<[u8]>) {
        let at = self.at(path);
        fs::create_dir_all(at.parent().expect("a folder")).expect("made");
        fs::write(at, bytes).expect("written");
    }

    fn text(&self, path: &str) -> String {
        fs::read_to_string(self.at(path)).expect("a text")
    }

    /// One text of a file for another.
    fn replace(&self, path: &str, old: &str, new: &str) {
        let text = self.text(path);
        assert!(text.contains(old), "{path} holds no {old}");
        self.put(path, text.replacen(old, new, 1));
    }

    /// A hand's next move, and what it was in words.
    fn edit(&self, seed: &mut Seed) -> String {
        let (path, bytes) = &self.first[seed.below(self.first.len())];
        let present = self.at(path).exists();
        let text = fs::read_to_string(self.at(path)).ok();
        match (seed.below(10), text) {
            (0, _) if present => {
                fs::remove_file(self.at(path)).expect("removed");
                format!("{path} is gone")
            }
            (1, _) if present => {
                let (folder, name) = path.rsplit_once('/').unwrap_or(("content", path));
                let to = format!("{folder}/b-{name}");
                fs::rename(self.at(path), self.at(&to)).expect("renamed");
                format!("{path} is {to} now")
            }
            (2, _) => {
                self.put(
                    "themes/templates/blocks/hazard.html",
                    ["{{ h }}", "{{ h. }}"][seed.below(2)],
                );
                "a template of its own".to_string()
            }
            (3, _) if seed.below(2) == 0 => {
                let settings = [
                    "leave_out = [\"flow-at-pressure\"]\n",
                    "leave_out = [\"pump-power\", \"tube-bore\"]\n",
                    "answered = [{ check = \"frame-reach.reach\", because = \"B\", by = \"A\" }]\n",
                    "given = { channel_depth = \"9 in\" }\n",
                ];
                let own = self.first.iter().find(|(path, _)| path == "handbook.toml");
                let own = String::from_utf8_lossy(&own.expect("its settings").1).into_owned();
                let more = settings[seed.below(settings.len())];
                self.put("handbook.toml", format!("{own}{more}"));
                format!("handbook.toml has {more}")
            }
            (3, _) => {
                for (path, bytes) in &self.first {
                    self.put(path, bytes);
                }
                let _ = fs::remove_dir_all(self.at("themes/templates"));
                "all mended".to_string()
            }
            (4 | 5, _) | (_, None) => {
                self.put(path, bytes);
                format!("{path} is mended")
            }
            (_, Some(text)) if text.chars().any(char::is_alphanumeric) => {
                let edit = edited(path, &text, seed);
                self.put(path, &edit.text);
                format!("{path}, {}", edit.done)
            }
            _ => format!("{path} stays"),
        }
    }
}

/// Every file below a folder, by its path there.
fn files_below(root: &Path, folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(root.join(folder)).expect("a folder") {
        let path = folder.join(entry.expect("an entry").file_name());
        let at = root.join(&path);
        if at.is_dir() {
            files.extend(files_below(root, &path));
        } else {
            let bytes = fs::read(at).unwrap_or_default();
            files.insert(path.to_string_lossy().into_owned(), bytes);
        }
    }
    files
}

fn look(session: &mut Session, yard: &Yard) -> Refreshed {
    let changed = yard.changed();
    session.refresh(
        yard.folder.path(),
        Some(&changed),
        &BTreeSet::new(),
        &mut |_| {},
    )
}

/// What a session has that a fresh publish hasn't, or has otherwise.
fn differs(session: &Session, looked: &Refreshed, yard: &Yard) -> Vec<String> {
    let fresh = build(yard.folder.path(), &FolderEdition);
    let mut differs = Vec::new();
    let kept = session.site();
    for path in kept.keys().chain(fresh.site.keys()) {
        if kept.get(path).map(|bytes| bytes.as_slice()) != fresh.site.get(path).map(Vec::as_slice) {
            differs.push(path.clone());
        }
    }
    if looked.built.findings != fresh.findings {
        differs.push(format!(
            "{:#?}\nfor\n{:#?}",
            looked.built.findings, fresh.findings
        ));
    }
    let (kept, fresh) = (
        (
            &looked.built.sources,
            &looked.built.paths,
            looked.built.values,
        ),
        (&fresh.sources, &fresh.paths, fresh.values),
    );
    if kept != fresh {
        differs.push("texts, paths or values".to_string());
    }
    differs
}

fn walk(edits: usize, seed: u64) {
    let yard = Yard::new();
    let mut session = Session::new(&FolderEdition);
    let looked = look(&mut session, &yard);
    assert_eq!(differs(&session, &looked, &yard), Vec::<String>::new());
    assert!(looked.composed.len() > 50);
    let mut seed = Seed(seed);
    let (mut done, mut composed) = (Vec::new(), 0);
    for at in 0..edits {
        done.push(yard.edit(&mut seed));
        let looked = look(&mut session, &yard);
        composed += looked.composed.len();
        let differs = differs(&session, &looked, &yard);
        assert!(
            differs.is_empty(),
            "after {at} edits, the last of {:#?}: {differs:#?}",
            &done[done.len().saturating_sub(12)..]
        );
    }
    println!("{edits} edits composed {composed} pages");
}

#[test]
fn after_each_of_some_random_edits_it_makes_what_a_fresh_publish_makes() {
    walk(12, 1);
}

/// `cargo test --release -p gaugeleaf --test whole -- session:: --ignored --nocapture` takes some minutes.
#[test]
#[ignore = "takes minutes"]
fn after_each_of_500_random_edits_it_makes_what_a_fresh_publish_makes() {
    walk(500, 2);
}

#[test]
fn an_edit_composes_what_it_can_touch_and_no_other_page() {
    let yard = Yard::new();
    let mut session = Session::new(&FolderEdition);
    let all = look(&mut session, &yard).composed.len();
    assert!(all > 50);
    let mut composed = |path: &str, old: &str, new: &str| {
        yard.replace(path, old, new);
        look(&mut session, &yard).composed
    };
    let air = "content/connect/air-lines.md";
    let test = "content/training/connect.md";
    // a sentence, and a question that the phase's test asks too
    assert_eq!(composed(air, ".\n", " now.\n"), [air]);
    assert_eq!(
        composed(air, "```question\n", "```question\n\n"),
        [air, test]
    );
    // a heading whose address a term leads to
    assert_eq!(
        composed(air, "\n## ", "\n## Then "),
        [
            air,
            "content/tasks/couple-the-lines.md",
            "content/glossary.md"
        ]
    );
    // a rating: those that read it, and the jobs that stand on it
    let kit = "content/equipment/yard-drive.toml";
    let jobs = [
        "content/jobs/t1.md",
        "content/jobs/t2.md",
        "content/jobs/t3.md",
    ];
    let read_mass = [
        "content/survey/setup-sheet.md",
        "content/mount/clamp-the-frame.md",
        "content/mount/hang-the-drive.md",
        "content/stow/take-down.md",
    ];
    assert_eq!(
        composed(kit, "84 lb", "85 lb"),
        [&read_mass[..], &jobs[..]].concat()
    );
    // a job's value
    let t3 = jobs[2];
    assert_eq!(composed(t3, "14 1/4 in", "14 1/2 in"), [t3]);
    // what a term means: every page may speak of it
    let words = composed("content/words.toml", "means = \"", "means = \"Yes, ");
    assert_eq!(words.len(), all);
    // nothing
    assert!(look(&mut session, &yard).composed.is_empty());
}

#[test]
fn what_the_handbook_leaves_out_stays_out_at_every_look() {
    let yard = Yard::new();
    let mut session = Session::new(&FolderEdition);
    let head = yard.text("handbook.toml");
    for edit in [
        "leave_out = [\"flow-at-pressure\"]\n",
        "leave_out = [\"flow-at-pressure\"]\nsubtitle = \"S\"\n",
        "",
    ] {
        let head = head.replace("subtitle", "# subtitle");
        yard.put("handbook.toml", format!("{head}\n{edit}"));
        let looked = look(&mut session, &yard);
        assert_eq!(differs(&session, &looked, &yard), Vec::<String>::new());
        let page = "calculators/flow-at-pressure.html";
        assert_eq!(session.site().contains_key(page), edit.is_empty());
    }
}
