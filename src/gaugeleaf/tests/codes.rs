//! The codes of findings: each is explained, and its examples do what they say.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use gaugeleaf::blocks::registry::{KINDS, shapes};
use gaugeleaf::handbook::book::book;
use gaugeleaf::handbook::files::Handbook;
use gaugeleaf::page::compose::{With, compose};
use gaugeleaf::prose;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::report::why::codes;
use gaugeleaf::values::graph::Graph;
use gaugeleaf::values::scope::JobScope;

mod support;

use support::{FRONT, HEAD, PAGE, PHASE};

/// The codes found in a handbook whose one file holds an example.
fn found(place: &str, example: &str, graph: &Graph, theme: &Theme) -> BTreeSet<&'static str> {
    let mut handbook = Handbook::default();
    for (path, text) in [
        ("handbook.toml", HEAD),
        ("content/index.md", FRONT),
        ("content/fit/phase.toml", PHASE),
        ("content/fit/page.md", PAGE),
    ] {
        handbook.texts.insert(path.to_string(), text.to_string());
    }
    let (path, text) = match place {
        "page" => (
            "content/fit/page.md",
            format!("# Fit\n\n{example}\n## Do it\n"),
        ),
        place => (place, example.to_string()),
    };
    handbook.texts.insert(path.to_string(), text);
    let (book, mut findings) = book(&handbook, &shapes());
    prose::inspect(&book, &handbook, &shapes(), &mut findings);
    let own = JobScope::default();
    let with = With {
        kinds: &KINDS,
        views: theme,
    };
    for page in &book.pages {
        findings.extend(compose(page, &book, &handbook, graph, &own, &with).1);
    }
    findings.into_iter().map(|finding| finding.code).collect()
}

#[test]
fn each_bad_example_has_its_fault_and_each_good_one_has_not() {
    let (graph, theme) = (Graph::built_in(), Theme::default());
    for code in codes().iter().filter(|code| !code.place.is_empty()) {
        let bad = found(&code.place, &code.bad.repeat(code.times), &graph, &theme);
        assert!(bad.contains(code.name.as_str()), "{}: {bad:?}", code.name);
        let good = found(&code.place, &code.good.repeat(code.times), &graph, &theme);
        assert!(
            !good.contains(code.name.as_str()),
            "{}: {good:?}",
            code.name
        );
    }
}

/// The texts of the program's own sources, without their tests.
fn sources(folder: &Path, texts: &mut Vec<String>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_name()
            .map(|name| name.to_string_lossy().into_owned())
            .unwrap_or_default();
        if path.is_dir() {
            sources(&path, texts);
        } else if name.ends_with(".rs") && name != "tests.rs" && name != "testing.rs" {
            let text = fs::read_to_string(&path).expect("text");
            texts.push(
                text.split("#[cfg(test)]\nmod tests")
                    .next()
                    .unwrap_or("")
                    .to_string(),
            );
        }
    }
}

/// The text that a piece of source opens with, if it is written like a code.
fn code_at(source: &str) -> Option<&str> {
    let (code, _) = source.trim_start().strip_prefix('"')?.split_once('"')?;
    let letters = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    (!code.is_empty() && code.chars().all(letters)).then_some(code)
}

/// The codes that a source gives to findings.
fn given(source: &str) -> Vec<&str> {
    let mut codes = Vec::new();
    for call in ["error(", "warning(", "fault(", "finding("] {
        codes.extend(source.split(call).skip(1).filter_map(code_at));
    }
    // where the code is chosen before the finding is made, it has a hyphen
    for choice in source
        .split("let (code")
        .chain(source.split("let code"))
        .skip(1)
    {
        let choice = choice.split(';').next().unwrap_or("");
        let texts = choice
            .match_indices('"')
            .filter_map(|(at, _)| code_at(&choice[at..]));
        codes.extend(texts.filter(|code| code.contains('-')));
    }
    let options = source.split("Some((").skip(1).filter_map(code_at);
    codes.extend(options.filter(|code| code.contains('-')));
    codes
}

#[test]
fn every_code_that_the_program_gives_is_explained_and_no_other() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut texts = Vec::new();
    for folder in ["src/gaugeleaf/src", "calculators/src"] {
        sources(&root.join(folder), &mut texts);
    }
    let explained: BTreeSet<&str> = codes().iter().map(|code| code.name.as_str()).collect();
    let given: BTreeSet<&str> = texts.iter().flat_map(|text| given(text)).collect();
    assert!(given.len() > 80, "{given:?}");
    let missing: Vec<_> = given.difference(&explained).collect();
    assert!(
        missing.is_empty(),
        "explain these in src/gaugeleaf/src/report/codes.toml: {missing:?}"
    );
    let unused: Vec<_> = explained
        .into_iter()
        .filter(|code| {
            !texts
                .iter()
                .any(|text| text.contains(&format!("\"{code}\"")))
        })
        .collect();
    assert!(unused.is_empty(), "nothing is called so: {unused:?}");
}
