//! The examples of the CommonMark specification: Markdown, and the HTML that it stands for.
//!
//! The parser's package carries all of 0.31.2, and its checksum stands in Cargo.lock. They are
//! read from where cargo keeps it: their licence isn't ours, and no copy of them grows old here.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use serde_json::Value;

/// An example of the specification.
pub struct Example {
    /// Its number in the specification.
    pub number: usize,
    pub markdown: String,
    pub html: String,
}

/// All of them, in order.
pub fn examples() -> Vec<Example> {
    let path = parser().join("tests/suite/spec.rs");
    let file = fs::read_to_string(&path).expect("the parser's package has its examples");
    let texts = file.split("r##\"").skip(1).map(|rest| {
        let end = rest.find("\"##;").expect("the text ends");
        rest[..end].to_string()
    });
    let texts: Vec<String> = texts.collect();
    let pairs = (1..).zip(texts.chunks(2));
    pairs
        .map(|(number, pair)| Example {
            number,
            markdown: pair[0].clone(),
            html: pair[1].clone(),
        })
        .collect()
}

/// The folder in which cargo keeps the sources of the Markdown parser.
fn parser() -> PathBuf {
    let version = cargo(&["-vV"]);
    let mut lines = version.lines();
    let host = lines.find_map(|line| line.strip_prefix("host: "));
    // of other systems' packages cargo may have fetched none
    let platform = format!("--filter-platform={}", host.expect("a host"));
    let said = cargo(&[
        "metadata",
        "--format-version=1",
        "--offline",
        "--locked",
        &platform,
    ]);
    let said: Value = serde_json::from_str(&said).expect("JSON");
    let mut packages = said["packages"].as_array().expect("packages").iter();
    let found = packages.find(|package| package["name"] == "pulldown-cmark");
    let manifest = found.and_then(|package| package["manifest_path"].as_str());
    let manifest = PathBuf::from(manifest.expect("the parser"));
    manifest.parent().expect("a folder").to_path_buf()
}

fn cargo(arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}: {said}");
    String::from_utf8(output.stdout).expect("UTF-8")
}
