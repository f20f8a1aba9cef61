//! The reader, on small invented sources.

use super::code::To;
use super::manifest::Manifest;
use super::rings::rings;
use super::survey::Surveyed;
use super::tree::{Crate, read_with};

/// An invented crate, from its files in `src`, and what its code refers to.
pub fn invented(files: &[(&str, &str)]) -> Surveyed {
    Surveyed::new(parsed("in", files))
}

/// An invented crate in a folder, from its files in `src`.
pub fn parsed(folder: &str, files: &[(&str, &str)]) -> Crate {
    let root = |name: &&str| files.iter().any(|(file, _)| file == name);
    let manifest = Manifest {
        name: "in-vented".to_owned(),
        folder: folder.to_owned(),
        roots: ["lib.rs", "main.rs"]
            .iter()
            .filter(|name| root(name))
            .map(|name| format!("src/{name}"))
            .collect(),
        dependencies: vec!["other-crate".to_owned()],
    };
    let load = |path: &str| {
        let file = files
            .iter()
            .find(|(file, _)| path.strip_prefix("src/") == Some(file))?;
        Some(file.1.to_owned())
    };
    read_with(manifest, &load)
}

/// Who knows whom, as `file:line -> file`, each once.
fn known(files: &[(&str, &str)]) -> Vec<String> {
    let surveyed = invented(files);
    let path = |file: usize| surveyed.files[file].path.trim_start_matches("in/src/");
    let mut known: Vec<String> = surveyed
        .references
        .iter()
        .map(|reference| {
            let to = match &reference.to {
                To::File(to) => path(*to),
                To::Crate(name) => name,
            };
            format!("{}:{} -> {to}", path(reference.from), reference.line)
        })
        .collect();
    known.dedup();
    known
}

const ROOT: (&str, &str) = ("lib.rs", "mod a;\nmod b;");

/// What a file `a.rs` knows, beside a `b.rs` and a folder `deep` with a file in it.
fn knows(a: &str) -> Vec<String> {
    known(&[
        ("lib.rs", "mod a;\nmod b;\nmod deep;"),
        ("a.rs", a),
        (
            "b.rs",
            "pub struct Thing;\npub const SIZE: u8 = 1;\npub fn find() {}",
        ),
        (
            "deep/mod.rs",
            "mod inner;\npub use inner::Found;\npub use inner::search as look;\npub fn here() {}",
        ),
        (
            "deep/inner.rs",
            "pub enum Found { Yes }\npub fn search() {}",
        ),
    ])
}

#[test]
fn a_use_line_leads_to_the_file_that_defines_the_name() {
    assert_eq!(knows("use crate::b::Thing;"), ["a.rs:1 -> b.rs"]);
    assert_eq!(knows("use super::b::Thing as Other;"), ["a.rs:1 -> b.rs"]);
    assert_eq!(
        knows("use crate::{\n    b::Thing,\n    deep::{here, Found},\n};"),
        [
            "a.rs:2 -> b.rs",
            "a.rs:3 -> deep/mod.rs",
            "a.rs:3 -> deep/inner.rs"
        ]
    );
}

#[test]
fn a_bare_path_leads_to_its_file() {
    assert_eq!(
        knows("fn f() {\n    crate::b::find();\n}"),
        ["a.rs:2 -> b.rs"]
    );
    assert_eq!(knows("fn f(_: super::b::Thing) {}"), ["a.rs:1 -> b.rs"]);
    assert_eq!(
        knows(
            "fn f(of: u8) -> bool {\n    match of {\n        crate::b::SIZE => true,\n        _ => false,\n    }\n}"
        ),
        ["a.rs:3 -> b.rs"]
    );
}

#[test]
fn an_imported_module_stands_for_what_is_reached_through_it() {
    assert_eq!(
        knows("use crate::deep;\nfn f() {\n    deep::look();\n}"),
        ["a.rs:3 -> deep/inner.rs"]
    );
    assert_eq!(
        knows("use crate::deep::{self};\nfn f() {\n    deep::here();\n}"),
        ["a.rs:3 -> deep/mod.rs"]
    );
}

#[test]
fn paths_in_macros_count() {
    for call in [
        "format!(\"{}\", crate::b::SIZE)",
        "matches!(x, Some(y) if y == super::b::SIZE)",
        "vec![super::b::Thing; 2]",
        "assert!(outer(inner[crate::b::find()]))",
        "own! { what => $crate::b::Thing }",
    ] {
        assert_eq!(
            knows(&format!("fn f() {{\n    {call};\n}}")),
            ["a.rs:2 -> b.rs"],
            "{call}"
        );
    }
    assert_eq!(
        knows("use crate::b;\nfn f() {\n    write!(o, \"{}\", b::SIZE);\n}"),
        ["a.rs:3 -> b.rs"]
    );
}

#[test]
fn a_glob_leads_to_what_is_used_through_it() {
    assert_eq!(
        knows("use crate::deep::*;\nfn f() -> Option<Found> {\n    None\n}"),
        ["a.rs:2 -> deep/inner.rs"]
    );
    // a trait's methods are used without its name
    assert_eq!(knows("use crate::b::*;"), ["a.rs:1 -> b.rs"]);
}

#[test]
fn a_name_handed_on_is_charged_to_the_file_that_defines_it() {
    assert_eq!(
        knows("use crate::deep::Found;"),
        ["a.rs:1 -> deep/inner.rs"]
    );
    assert_eq!(
        known(&[
            ("lib.rs", "mod a;\nmod b;\nmod c;\npub use b::*;"),
            ("a.rs", "fn f(_: crate::Thing) {}"),
            ("b.rs", "pub use crate::c::*;"),
            ("c.rs", "pub struct Thing;"),
        ]),
        // `b` hands on what isn't its own
        ["a.rs:1 -> c.rs", "b.rs:1 -> c.rs"]
    );
}

#[test]
fn a_table_of_contents_is_no_knowledge() {
    let files = |root| [("lib.rs", root), ("b.rs", "pub struct Thing;")];
    assert!(known(&files("mod b;\npub use b::Thing;")).is_empty());
    assert!(known(&files("mod b;\npub(crate) use b::*;")).is_empty());
    // but calling what is listed is
    assert_eq!(
        known(&files(
            "mod b;\npub use b::Thing;\nfn f() -> Thing {\n    Thing\n}"
        )),
        ["lib.rs:3 -> b.rs", "lib.rs:4 -> b.rs"]
    );
    assert_eq!(known(&files("mod b;\nuse b::Thing;")), ["lib.rs:2 -> b.rs"]);
}

#[test]
fn a_name_that_is_a_module_and_a_function_is_told_apart_by_what_follows() {
    let files = |a| {
        [
            ("lib.rs", "mod a;\nmod b;"),
            ("a.rs", a),
            (
                "b/mod.rs",
                "mod load;\npub use load::load;\npub fn other() {}",
            ),
            ("b/load.rs", "pub fn load() {}"),
        ]
    };
    assert_eq!(
        known(&files("fn f() { crate::b::load(); }")),
        ["a.rs:1 -> b/load.rs"]
    );
    assert_eq!(
        known(&files("use crate::b::load::load;")),
        ["a.rs:1 -> b/load.rs"]
    );
}

#[test]
fn a_variable_and_a_method_are_not_the_function_of_their_name() {
    let known = |code: &str| {
        let root = format!("mod b;\npub use b::words;\n{code}");
        known(&[("lib.rs", &root), ("b.rs", "pub fn words() {}")])
    };
    assert!(known("fn f(words: u8) -> u8 { words }").is_empty());
    assert!(known("fn f() { for words in 0..1 { drop(words) } }").is_empty());
    assert!(known("fn f() { println!(\"{}\", it.words()) }").is_empty());
    assert_eq!(
        known("fn f() { println!(\"{}\", words()) }"),
        ["lib.rs:3 -> b.rs"]
    );
    assert_eq!(
        known("fn f() { let words = words(); drop(words) }"),
        ["lib.rs:3 -> b.rs"]
    );
    assert_eq!(
        known("fn f() { { let words = 1; } words() }"),
        ["lib.rs:3 -> b.rs"]
    );
}

#[test]
fn tests_are_left_out() {
    for code in [
        "#[cfg(test)]\nmod tests { use crate::b::Thing; }",
        "#[cfg(test)]\nmod tests;",
        "#[cfg(all(test, unix))]\nuse crate::b::Thing;",
        "#[test]\nfn f() { crate::b::find() }",
        "impl A {\n    #[cfg(test)]\n    fn f() { crate::b::find() }\n}",
        "struct A {\n    #[cfg(test)]\n    thing: crate::b::Thing,\n}",
        "fn f() {\n    #[cfg(test)]\n    crate::b::find();\n}",
        "fn f() -> A {\n    A {\n        #[cfg(test)]\n        size: crate::b::SIZE,\n    }\n}",
        "#![cfg(test)]\nuse crate::b::Thing;",
    ] {
        assert!(knows(code).is_empty(), "{code}");
    }
    for code in [
        "#[cfg(not(test))]\nuse crate::b::Thing;",
        "#[cfg(any(test, unix))]\nuse crate::b::Thing;",
    ] {
        assert_eq!(knows(code), ["a.rs:2 -> b.rs"], "{code}");
    }
}

#[test]
fn an_inline_module_counts_to_its_file() {
    assert_eq!(
        knows(
            "mod within {\n    fn f() { super::super::b::find() }\n    pub fn g() {}\n}\nfn h() { within::g() }"
        ),
        ["a.rs:2 -> b.rs"]
    );
}

#[test]
fn another_crate_is_named_as_the_manifest_spells_it() {
    assert_eq!(knows("use other_crate::thing;"), ["a.rs:1 -> other-crate"]);
    assert_eq!(
        knows("fn f() { ::other_crate::f() }"),
        ["a.rs:1 -> other-crate"]
    );
    // two colons before it pass over a module of its name
    assert_eq!(
        knows("mod other_crate {}\nuse ::other_crate::f;"),
        ["a.rs:2 -> other-crate"]
    );
    assert!(knows("use std::fmt;").is_empty());
}

#[test]
fn a_program_knows_its_library_by_the_crates_name() {
    let files = [
        ("lib.rs", "pub mod b;"),
        ("main.rs", "fn main() { in_vented::b::find() }"),
        ("b.rs", "pub fn find() {}"),
    ];
    assert_eq!(known(&files), ["main.rs:1 -> b.rs"]);
}

#[test]
fn a_ring_is_found_with_the_edges_that_make_it() {
    let files = [
        ("lib.rs", "mod a;\nmod b;\nmod c;\nmod d;"),
        ("a.rs", "pub fn f() { crate::b::f() }"),
        ("b.rs", "pub fn f() { crate::c::f() }"),
        ("c.rs", "pub fn f() { crate::a::f(); crate::d::f() }"),
        ("d.rs", "pub fn f() {}"),
    ];
    let surveyed = invented(&files);
    let rings = rings(&surveyed.references);
    assert_eq!(rings.len(), 1);
    let paths: Vec<&str> = rings[0]
        .files
        .iter()
        .map(|file| surveyed.files[*file].path.as_str())
        .collect();
    assert_eq!(paths, ["in/src/a.rs", "in/src/b.rs", "in/src/c.rs"]);
    assert_eq!((rings[0].edges.len(), rings[0].back.len()), (3, 1));
}

#[test]
fn files_that_know_each_other_one_way_are_no_ring() {
    let a = ("a.rs", "use crate::b::f;");
    let surveyed = invented(&[ROOT, a, ("b.rs", "pub fn f() {}")]);
    assert!(rings(&surveyed.references).is_empty());
}
