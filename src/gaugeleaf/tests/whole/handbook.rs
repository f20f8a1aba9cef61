//! Whole handbooks in temporary folders: what is published, and what stops it.

use std::fs;
use std::process::Command;

use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::edition::preview::PreviewEdition;
use gaugeleaf::handbook::files::read;
use gaugeleaf::session::{BuiltSite, asked as asked_of, build};
use gaugeleaf::values::scope::JobScope;

use crate::support::*;

#[test]
fn of_many_phases_a_page_shows_those_about_its_own_and_the_way_to_all() {
    let shown = |phases: usize, of: &str| -> Vec<String> {
        let folder = Folder::new();
        for at in 2..=phases {
            let phase = format!(
                "title = \"P{at}\"\norder = {}\npurpose = \"Go on.\"\n",
                at * 10
            );
            folder.put(&format!("content/p{at}/phase.toml"), phase);
            folder.put(
                &format!("content/p{at}/a.md"),
                format!("# Page {at}\n\nText.\n"),
            );
        }
        let built = folder.build();
        assert_eq!(errors(&built), []);
        let page = String::from_utf8_lossy(&built.site[of]).into_owned();
        let (_, list) = page.split_once("aria-label=\"Phases\"").expect("the list");
        let (list, _) = list.split_once("</ol>").expect("its end");
        let numbers = list.split("<b>").skip(1);
        numbers
            .filter_map(|at| Some(at.split_once('<')?.0.to_string()))
            .collect()
    };
    let numbers = |all: std::ops::RangeInclusive<usize>| all.map(|at| at.to_string());
    assert_eq!(shown(20, "p9/a.html"), numbers(1..=20).collect::<Vec<_>>());
    let about = |some| numbers(some).chain(["21".to_string()]).collect::<Vec<_>>();
    assert_eq!(shown(21, "p9/a.html"), about(4..=14));
    assert_eq!(shown(21, "p21/index.html"), about(16..=21));
    assert_eq!(shown(21, "index.html"), about(1..=6));
}

#[test]
fn a_sound_handbook_is_published_with_its_ledger_and_search() {
    let built = Folder::new().build();
    assert_eq!(errors(&built), []);
    for path in [
        "index.html",
        "fit/index.html",
        "fit/page.html",
        "calculators/guide-tube-length.html",
        "tables/index.html",
        "search.html",
        "ledger.html",
        "ledger.json",
        "scripts/engine.js",
        "scripts/catalog.js",
        "scripts/search-index.js",
        "scripts/search-texts.js",
        "styles/handbook.css",
    ] {
        assert!(built.site.contains_key(path), "{path}");
    }
    let page = String::from_utf8_lossy(&built.site["fit/page.html"]).into_owned();
    for part in [
        "<h1>Fit</h1>",
        "id=\"do-it\"",
        "id=\"step-1\"",
        "21\u{A0}in</a>",
        "hazard caution",
        "Local rules come first.",
    ] {
        assert!(page.contains(part), "{part}");
    }
    let ledger: serde_json::Value =
        serde_json::from_slice(&built.site["ledger.json"]).expect("JSON");
    let value = &ledger["values"][0];
    assert_eq!(
        (
            value["text"].as_str(),
            value["line"].as_u64(),
            value["column"].as_u64()
        ),
        (Some("21 in"), Some(7), Some(8))
    );
    assert_eq!(value["inputs"]["channel_depth"], "9 in");
}

/// What inspecting a folder gives, and the codes of its findings.
fn inspected(folder: &Folder) -> (BuiltSite, Vec<&'static str>) {
    let inspected = gaugeleaf::session::inspect(folder.path(), &FolderEdition);
    let codes = inspected.findings.iter().map(|one| one.code.name());
    let codes = codes.collect();
    (inspected, codes)
}

#[test]
fn every_file_is_known_before_it_is_made_and_inspecting_makes_none() {
    let folder = Folder::with("[](value:guide-tube-length.length?channel_depth=9in)\n");
    let built = folder.build();
    let mut known = built.paths.clone();
    known.sort();
    let made: Vec<&String> = built.site.keys().collect();
    assert_eq!(known.iter().collect::<Vec<_>>(), made);
    let (inspected, _) = inspected(&folder);
    assert_eq!(inspected.site.len(), 0);
    assert_eq!(
        (inspected.paths, inspected.findings),
        (built.paths, built.findings)
    );
}

/// Printing a calculator's page is what comes upon it first.
#[test]
fn inspecting_finds_a_calculator_that_its_own_values_break() {
    let folder = Folder::with("Text.\n");
    let slope = cases::sound("slope.toml").replace("default = \"1000 mm\"", "default = \"0 mm\"");
    folder.put("calculators/slope.toml", slope);
    let (inspected, codes) = inspected(&folder);
    assert!(codes.contains(&"no-result"), "{codes:?}");
    assert_eq!(inspected.findings, folder.build().findings);
}

#[test]
fn inspecting_finds_what_is_wrong_with_templates_of_its_own() {
    let folder = Folder::with("Text.\n");
    folder.put(
        "themes/templates/blocks/onward.html",
        "{{ page.nothing.at.all }}\n",
    );
    let (_, codes) = inspected(&folder);
    assert!(codes.contains(&"template"), "{codes:?}");
}

/// Through a root, a sum and water's properties too.
#[test]
fn a_calculators_page_states_the_limits_that_the_command_line_gives() {
    let asked = [
        ("flow-at-pressure", "hose_bore"),
        ("index-plan", "bundle_diameter"),
        ("nozzle-flow", "pressure"),
    ];
    let blocks = asked.map(|(name, _)| format!("```calculator {name}\n```\n\n"));
    let folder = Folder::with(&blocks.concat());
    let built = folder.build();
    let (graph, _, _) = asked_of(&read(folder.path()).0);
    let scope = JobScope::of_handbook(&graph);
    let catalog = &graph.catalog;
    for (name, input) in asked {
        let page = String::from_utf8_lossy(&built.site[&format!("calculators/{name}.html")])
            .replace('\u{A0}', " ");
        let limits = catalog.limits(name, input, &[], scope.job());
        let words: Vec<String> = limits
            .expect("limits")
            .iter()
            .map(|limit| catalog.language.say(&limit.words()))
            .collect();
        let stated = words.iter().filter(|words| page.contains(words.as_str()));
        assert!(stated.count() > 0, "{name}: {words:?}");
    }
}

#[test]
fn two_publishes_of_the_same_input_are_the_same_bytes() {
    let folder = Folder::new();
    assert_eq!(folder.build().site, folder.build().site);
}

#[test]
fn a_text_changed_by_one_digit_stops_the_publish_and_leaves_the_old_site() {
    let folder = Folder::new();
    assert_eq!(folder.run(&[]).status.code(), Some(0));
    let before = fs::read(folder.public("fit/page.html")).expect("published");
    folder.put("content/fit/page.md", PAGE.replace("[21 in]", "[22 in]"));
    folder.put("content/index.md", FRONT.replace("first", "now"));
    let output = folder.run(&[]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1));
    for part in [
        "content/fit/page.md:7:9",
        "`22 in`",
        "`21 in`",
        "Nothing was published.",
    ] {
        assert!(said.contains(part), "{part} in {said}");
    }
    assert_eq!(
        fs::read(folder.public("fit/page.html")).expect("kept"),
        before
    );
    assert!(
        !fs::read_to_string(folder.public("index.html"))
            .expect("kept")
            .contains("now")
    );
}

#[test]
fn a_worked_example_that_fails_stops_the_publish_in_its_own_file() {
    let folder = Folder::new();
    let own = gaugeleaf_calc::builtin()
        .into_iter()
        .find(|file| file.path.ends_with("guide-tube-length.toml"))
        .expect("built in");
    let figure = gaugeleaf_calc::builtin()
        .into_iter()
        .find(|file| file.path.ends_with("guide-tube-length.svg"))
        .expect("built in");
    let wrong = own.text.replacen("length = \"", "length = \"9", 1);
    assert_ne!(wrong, own.text);
    folder.put(&own.path, &wrong);
    folder.put(&figure.path, &figure.text);
    let found = errors(&folder.build());
    assert!(
        found
            .iter()
            .any(|(_, file, line, ..)| *file == own.path && *line > 1),
        "{found:?}"
    );
    assert_eq!(folder.run(&["publish"]).status.code(), Some(1));
    assert!(!folder.public("index.html").exists());
}

#[test]
fn a_folder_without_a_handbook_says_what_to_do() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
        .arg("publish")
        .current_dir(folder.path())
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no handbook.toml"));
    assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 0);
}

#[test]
fn a_folder_that_is_not_there_and_a_file_are_told_apart_in_one_finding() {
    let folder = Folder::new();
    for (named, said) in [
        ("gone", "there is no folder gone"),
        ("handbook.toml", "handbook.toml is a file"),
    ] {
        let output = folder.run(&["inspect", named]);
        let words = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{words}");
        assert!(
            words.contains(said) && words.contains("1 error\n"),
            "{words}"
        );
    }
}

#[test]
fn a_target_with_files_of_others_is_left_alone() {
    let folder = Folder::new();
    folder.put("site/notes.txt", "mine");
    let output = folder.run(&["publish", "--to", "site"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        fs::read_dir(folder.path().join("site"))
            .expect("read")
            .count(),
        1
    );
    // the handbook's own folder is never a target
    assert_eq!(folder.run(&["publish", "--to", "."]).status.code(), Some(2));
    assert!(folder.path().join("handbook.toml").exists());
}

#[test]
fn a_handbooks_own_template_is_used_and_a_broken_one_is_found() {
    let folder = Folder::new();
    folder.put("themes/templates/search.html", "own {{ site.title }}");
    assert_eq!(
        folder.build().site.get("search.html").map(Vec::as_slice),
        Some(&b"own Test yard"[..])
    );
    folder.put("themes/templates/search.html", "own\n{{ site.title");
    let found = errors(&folder.build());
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].0, found[0].1.as_str(), found[0].2),
        ("template", "themes/templates/search.html", 2)
    );
}

#[test]
fn inspect_lists_findings_for_machines_and_writes_nothing() {
    let folder = Folder::with("[a](gone.md)\n");
    let output = folder.run(&["inspect", "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let lines = String::from_utf8(output.stdout).expect("text");
    let errors: Vec<serde_json::Value> = lines
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert!(
        errors
            .iter()
            .any(|one| one["code"] == "missing-page" && one["text"] == "gone.md"),
        "{lines}"
    );
    assert!(!folder.public("").exists());
}

#[test]
fn no_page_asks_another_host_for_anything() {
    for (path, bytes) in Folder::new().build().site {
        let Ok(text) = String::from_utf8(bytes) else {
            continue;
        };
        for wrong in ["src=\"http", "src=\"//", "url(http", "@import", "style=\""] {
            assert!(
                !path.ends_with(".html") || !text.contains(wrong),
                "{wrong} in {path}"
            );
        }
    }
}

#[test]
fn the_reload_script_is_in_the_preview_alone() {
    let folder = Folder::new();
    let holds = |built: &BuiltSite| {
        built
            .site
            .values()
            .any(|bytes| String::from_utf8_lossy(bytes).contains(".preview/"))
    };
    assert!(!holds(&folder.build()));
    assert!(holds(&build(folder.path(), &PreviewEdition)));
}
