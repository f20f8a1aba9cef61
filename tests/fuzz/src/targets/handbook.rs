//! A page, settings and words of a small handbook, and the ledger of what it prints.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use gaugeleaf::blocks::registry::{KINDS, shapes};
use gaugeleaf::compare::compare;
use gaugeleaf::compare::read::EditionLedger;
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::handbook::files::HandbookFiles;
use gaugeleaf::handbook::whole::assemble;
use gaugeleaf::page::compose::compose;
use gaugeleaf::page::context::Composer;
use gaugeleaf::prose;
use gaugeleaf::render::print::Printer;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::report::Sources;
use gaugeleaf::values::act::{Act, ActKind, fingerprint};
use gaugeleaf::values::judge::judge;
use gaugeleaf::values::ledger::{PageUses, Use, UsedValue, json, once};
use gaugeleaf::values::ledger_head::LedgerHead;
use gaugeleaf::values::scope::JobScope;
use serde_json::Value;

use super::{placed, text};
use crate::demonstration::{self, FILES, GRAPH, root};
use crate::html::foreign;

static THEME: LazyLock<Theme> = LazyLock::new(Theme::default);

const HANDBOOK: &str = "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\ndemonstration = true\n";
const PHASE: &str = "title = \"Fit\"\norder = 10\npurpose = \"Fit it.\"\n";
const PAGE: &str = "```page\norder = 20\n```\n\n# Set the stop\n\n## Before you start\n\nThe *hose stop* is {span}.\n";
const PICTURE: &str = "content/fit/rollers.svg";

/// A small handbook with these files over its own.
fn files(own: &[(&str, &str)]) -> HandbookFiles {
    let mut files = HandbookFiles::default();
    let small = [
        ("handbook.toml", HANDBOOK),
        ("content/index.md", "# Start\n\nText.\n"),
        ("content/fit/phase.toml", PHASE),
        ("content/fit/stop.md", PAGE),
    ];
    for (path, text) in small.iter().chain(own) {
        files.texts.insert((*path).into(), (*text).into());
    }
    let picture = FILES.bytes.get(PICTURE).cloned();
    files
        .bytes
        .extend(picture.map(|picture| (PICTURE.to_string(), picture)));
    files
}

/// Does with a handbook what a publish does up to its pages' HTML. Findings lie within their texts, no
/// page brings in what it may not, and its ledger is sound.
fn published(files: &HandbookFiles) {
    let (handbook, mut findings) = assemble(files, &shapes());
    if !handbook.answered.is_empty() || !handbook.given.is_empty() {
        findings.extend(judge(&handbook, &GRAPH));
    }
    prose::inspect(&handbook, files, &shapes(), &mut findings);
    let own = JobScope::of_handbook(&GRAPH);
    let composer = Composer {
        handbook: &handbook,
        files,
        graph: &GRAPH,
        own: &own,
        kinds: &KINDS,
        drawings: &*THEME,
    };
    let mut ledgers = Vec::new();
    for page in handbook.pages.iter() {
        let composed = compose(page, &composer);
        findings.extend(composed.findings.clone());
        let printer = Printer {
            theme: &THEME,
            edition: &FolderEdition,
            from: &page.url,
        };
        match printer.html(&composed.value.nodes, &page.outline.title) {
            Ok(html) => assert_eq!(foreign(&html), None, "{html}"),
            Err(finding) => findings.push(finding),
        }
        ledgers.push((page, composed));
    }
    let uses = ledgers.iter().map(|(page, composed)| PageUses {
        file: &page.path,
        url: &page.url,
        title: &page.outline.title,
        fingerprint: &composed.value.fingerprint,
        uses: &composed.uses,
        acts: &composed.value.acts,
    });
    let head = LedgerHead {
        revision: &handbook.revision,
        ..LedgerHead::default()
    };
    sound(&json(&head, uses, |file| &files.texts[file]));
    let sources: Sources = files.texts.clone();
    placed(&findings, &sources);
}

/// A ledger is JSON, and each of its values is told from every other by page, name, inputs and nth;
/// it is read again, and nothing changed since.
fn sound(ledger: &[u8]) {
    let read = EditionLedger::read(ledger).expect("a ledger of ours");
    assert_eq!(compare(&read, &read).cards, []);
    let ledger: Value = serde_json::from_slice(ledger).expect("JSON");
    let mut known = BTreeSet::new();
    for value in ledger["values"].as_array().expect("values") {
        let told = ["page", "name", "inputs", "nth"].map(|key| value[key].to_string());
        assert!(known.insert(told), "twice: {value}");
        let (line, column) = (value["line"].as_u64(), value["column"].as_u64());
        assert!(line >= Some(1) && column >= Some(1), "{value}");
    }
}

/// A page of a phase.
pub fn page(bytes: &[u8]) {
    if let Some(text) = text(bytes) {
        published(&files(&[("content/fit/page.md", text)]));
    }
}

pub fn pages() -> Vec<Vec<u8>> {
    let mut pages = demonstration::texts("content", ".md");
    pages.retain(|page| page.len() < 12 << 10);
    pages
}

/// Settings: of the handbook, a phase, or a page, as the first letter says.
pub fn settings(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    let at = |first: &str| text.strip_prefix(first);
    if let Some(text) = at("h") {
        published(&files(&[("handbook.toml", text)]));
    } else if let Some(text) = at("p") {
        published(&files(&[("content/fit/phase.toml", text)]));
    } else {
        let page = format!("```page\n{text}\n```\n\n# Fit\n\n## Before you start\n\nText.\n");
        published(&files(&[("content/fit/page.md", &page)]));
    }
}

pub fn settings_seeds() -> Vec<Vec<u8>> {
    let whole = |first: &str, text: &[u8]| [first.as_bytes(), text].concat();
    let handbook = std::fs::read(root().join("handbook.toml")).expect("settings");
    let mut seeds = vec![whole("h", &handbook), whole("h", HANDBOOK.as_bytes())];
    seeds.extend(
        demonstration::texts("content", "phase.toml")
            .iter()
            .map(|phase| whole("p", phase)),
    );
    for page in demonstration::texts("content", ".md") {
        let page = String::from_utf8_lossy(&page).into_owned();
        let settings = page
            .strip_prefix("```page\n")
            .and_then(|page| page.split_once("\n```"));
        seeds.extend(settings.map(|(settings, _)| settings.as_bytes().to_vec()));
    }
    seeds
}

/// The words of the trade, with a page that prints them.
pub fn words(bytes: &[u8]) {
    if let Some(text) = text(bytes) {
        published(&files(&[
            ("content/words.toml", text),
            ("content/glossary.md", "# Words\n\n```glossary\n```\n"),
        ]));
    }
}

pub fn words_seeds() -> Vec<Vec<u8>> {
    let words = std::fs::read_to_string(root().join("content/words.toml")).expect("words");
    let terms: Vec<&str> = words.split_inclusive("\n[[").collect();
    let few = |from: usize| {
        let few: String = terms.iter().skip(from).take(4).copied().collect();
        format!("[[{}", few.trim_end_matches("[[").trim_start_matches("[["))
    };
    (0..terms.len())
        .step_by(4)
        .take(60)
        .map(|from| few(from).into_bytes())
        .collect()
}

/// Values of a ledger, one a line, their fields apart by tabs: where, then what is told of it.
pub fn ledger(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    let used = |line: &str| {
        let mut fields = line.split('\t').map(str::to_string);
        let start = fields
            .next()
            .and_then(|start| start.parse().ok())
            .unwrap_or(0);
        let mut field = || fields.next().unwrap_or_default();
        let value = UsedValue {
            name: field(),
            text: field(),
            also: field(),
            given: field(),
            si: field().parse().ok(),
            label: field(),
            // a calculator has each of its inputs once
            inputs: vec![("a".into(), field()), ("b".into(), field())],
            ..UsedValue::default()
        };
        Use::at(start, value)
    };
    let uses: Vec<Use> = text.lines().map(used).collect();
    let page = PageUses {
        file: "content/a.md",
        url: "a.html",
        title: text,
        fingerprint: "0000-0000",
        uses: &uses,
        acts: &[Act::new(ActKind::Row, text)],
    };
    let head = LedgerHead {
        revision: text,
        ..LedgerHead::default()
    };
    sound(&json(&head, [page].into_iter(), |_| text));
    assert!(once(&uses).len() <= uses.len());
    let mut other = uses.clone();
    other.reverse();
    let print = |uses: &[Use]| fingerprint("a.html", uses, &[]);
    assert_eq!(print(&uses), print(&other), "the order counts");
}

pub fn ledgers() -> Vec<Vec<u8>> {
    [
        "4\ta.b\t1 in\t25.4 mm\tdepth 9 in\t0.0254\tA\t9 in\t2 in",
        "0\ta.b\t1 in\n9\ta.b\t1 in\n9\tc.d\t½ in\t\t\tNaN",
        "12345678901234567890\t\"\t\\\t\u{1}\u{2028}\t\t1e308\nx\ty",
    ]
    .map(|text| text.as_bytes().to_vec())
    .into()
}
