//! Each finding's range holds the words that it speaks of: over some hundreds of random edits of the
//! demonstration handbook, the same at every run.

use std::collections::BTreeSet;
use std::path::Path;

use gaugeleaf::handbook::files::{HandbookFiles, read};
use gaugeleaf::render::theme::Theme;
use gaugeleaf::report::Sources;
use gaugeleaf::values::graph::Graph;
use gaugeleaf_calc::{Catalog, SourceFile};
use gaugeleaf_finding::{Code, Finding};
use rayon::prelude::*;

use crate::support::edits::{Edit, Seed, edited};
use crate::support::ranges::{fault, quoted, speaks_of_elsewhere};
use crate::support::stages::pages;

fn faults(findings: &[Finding], sources: &Sources) -> Vec<String> {
    let fault = |finding: &Finding| {
        let text = sources.get(&finding.file).map_or("", String::as_str);
        let fault = fault(finding, text)?;
        Some(format!("{}: {finding:?}", fault))
    };
    findings.iter().filter_map(fault).collect()
}

/// What an edit made wrong: ranges, and findings that speak of the new word and stand elsewhere.
fn astray(edit: &Edit, before: &[Finding], after: &[Finding], sources: &Sources) -> Vec<String> {
    let known: BTreeSet<(Code, &str)> = before
        .iter()
        .map(|one| (one.code, one.message.as_str()))
        .collect();
    let new: Vec<Finding> = after
        .iter()
        .filter(|one| !known.contains(&(one.code, one.message.as_str())))
        .cloned()
        .collect();
    let mut wrong = faults(&new, sources);
    let beside = new.iter().filter(|one| {
        let speaks = !edit.word.is_empty() && quoted(&one.message).any(|quote| quote == edit.word);
        let touches = one.span.start <= edit.at.end && edit.at.start <= one.span.end;
        speaks && !speaks_of_elsewhere(one) && one.file == edit.file && !touches
    });
    wrong.extend(beside.map(|one| format!("it stands beside the edit {:?}: {one:?}", edit.at)));
    wrong
        .into_iter()
        .map(|what| format!("{}, {}: {what}", edit.file, edit.done))
        .collect()
}

fn demonstration() -> HandbookFiles {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let (files, _) = read(&root);
    assert!(files.texts.len() > 50);
    files
}

fn is_page(path: &str) -> bool {
    path.ends_with(".md")
}

/// A page alone with what every page needs: so many edits cost little.
fn alone(files: &HandbookFiles, page: &str) -> HandbookFiles {
    let keeps = |path: &str| path == page || path == "content/index.md" || !is_page(path);
    let mut texts = files.texts.clone();
    texts.retain(|path, _| keeps(path) && !path.starts_with("themes/"));
    HandbookFiles {
        texts,
        bytes: files.bytes.clone(),
    }
}

/// Edits of each page. Many fall among the phrases of its head, where little can be wrong.
const EACH: usize = 8;

#[test]
fn an_edit_of_a_page_is_found_where_it_was_made() {
    let files = demonstration();
    let (graph, _) = Graph::load(&files);
    let theme = Theme::default();
    let paths: Vec<&String> = files
        .texts
        .keys()
        .filter(|path| is_page(path) || path.starts_with("content/") || *path == "handbook.toml")
        .collect();
    let (done, wrong): (Vec<usize>, Vec<Vec<String>>) = paths
        .par_iter()
        .enumerate()
        .map(|(number, path)| {
            let mut own = alone(&files, path);
            let before = pages(&own, &graph, &theme);
            let mut seed = Seed(number as u64);
            let mut said = Vec::new();
            let mut found = 0;
            for _ in 0..EACH {
                let edit = edited(path, &files.texts[path.as_str()], &mut seed);
                own.texts.insert(path.to_string(), edit.text.clone());
                let after = pages(&own, &graph, &theme);
                found += usize::from(after.len() > before.len());
                said.extend(astray(&edit, &before, &after, &own.texts));
            }
            (found, said)
        })
        .unzip();
    let wrong: Vec<String> = wrong.concat();
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    // edits that nobody finds would prove nothing
    assert!(done.iter().sum::<usize>() > 80, "{done:?}");
}

#[test]
fn an_edit_of_the_catalog_is_found_where_it_was_made() {
    let mut files = gaugeleaf_calc::builtin();
    for name in ["slope.toml", "pins.toml", "sketch.svg"] {
        files.push(SourceFile {
            path: format!("calculators/{name}"),
            text: crate::support::cases::sound(name),
        });
    }
    let (_, before) = Catalog::load(&files);
    assert_eq!(before, []);
    let (done, wrong): (Vec<usize>, Vec<Vec<String>>) = (0..files.len())
        .into_par_iter()
        .map(|at| {
            let mut files = files.clone();
            let SourceFile { path, text } = files[at].clone();
            let mut seed = Seed(at as u64);
            let mut said = Vec::new();
            let mut found = 0;
            for _ in 0..2 {
                let edit = edited(&path, &text, &mut seed);
                files[at].text.clone_from(&edit.text);
                let (_, after) = Catalog::load(&files);
                found += usize::from(!after.is_empty());
                let sources = files
                    .iter()
                    .map(|file| (file.path.clone(), file.text.clone()))
                    .collect();
                said.extend(astray(&edit, &before, &after, &sources));
            }
            (found, said)
        })
        .unzip();
    let wrong: Vec<String> = wrong.concat();
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(done.iter().sum::<usize>() > 50, "{done:?}");
}
