//! What tells whether a copy of a site is of one edition: each script and stylesheet says a mark,
//! and pages do nothing with one of another.

use std::collections::BTreeMap;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::render::files::SiteFiles;
use crate::render::published::WORKER;
use crate::values::hash::{hash, short_hash};

/// What changes with every text, and so has a mark of its own: pages don't hold it.
pub const DATA: [&str; 8] = [
    "cards",
    "catalog",
    "drawings",
    "grounds",
    "meanings",
    "search-index",
    "search-texts",
    "sheets",
];

/// Where the marks of the data stand.
pub const MARKS: &str = "scripts/edition.js";

/// The mark of a theme's scripts, styles and engine.
pub fn mark_of(files: &SiteFiles) -> String {
    let counts = |path: &str| {
        ["scripts/", "styles/", "engine/"]
            .iter()
            .any(|one| path.starts_with(one))
    };
    // pages never meet the worker, so that a newer one makes no newer pages
    let files = files
        .iter()
        .filter(|(path, _)| counts(path) && *path != WORKER);
    let all: String = files
        .map(|(path, bytes)| format!("{path} {}\n", hash(bytes)))
        .collect();
    short_hash(format!("{}\n{all}", env!("CARGO_PKG_VERSION")).as_bytes())
}

/// A script or stylesheet that says its mark; a script says it before it does anything.
pub fn marked(path: &str, mark: &str, bytes: Vec<u8>) -> Vec<u8> {
    let name = path.rsplit('/').next().unwrap_or(path);
    if let Some(name) = name.strip_suffix(".css") {
        let says = format!("\n:root{{--of-{name}:\"{mark}\"}}\n");
        return [bytes, says.into_bytes()].concat();
    }
    let says = format!("gaugeleafCopy(\"{mark}\");");
    // by look.js the page knows what is asked for
    if name == "look.js" {
        return [bytes, b"\n".to_vec(), says.into_bytes()].concat();
    }
    said_first(&says, bytes)
}

/// The same for a script of the handbook's data, and its mark.
pub fn marked_data(name: &str, bytes: Vec<u8>) -> (String, Vec<u8>) {
    let mark = short_hash(&bytes);
    let says = format!("gaugeleafCopy(\"{mark}\",\"{name}\");\n");
    (mark, said_first(&says, bytes))
}

/// The mark that a script of the data says.
pub fn data_mark(bytes: &[u8]) -> Option<String> {
    let text = std::str::from_utf8(bytes).ok()?;
    let said = text.strip_prefix("gaugeleafCopy(\"")?;
    Some(said.split('"').next()?.to_string())
}

/// A frame of the handbook's own whose pages couldn't tell that their scripts are of their edition,
/// and so would work nothing out.
pub fn frame_fault(texts: &BTreeMap<String, String>) -> Option<Finding> {
    let (path, frame) = texts.get_key_value("themes/templates/base.html")?;
    let says = frame.split_once("data-edition=\"").map(|(_, rest)| rest);
    let says = says.and_then(|rest| rest.split('"').next());
    if says.is_some_and(|says| says.contains("edition")) {
        return None;
    }
    let start = frame.find("<html").unwrap_or_default();
    let end = frame[start..]
        .find(['>', '\n'])
        .map_or(frame.len(), |end| start + end);
    let message = "its pages can't tell of which edition they are, and would work nothing out";
    let finding = Finding::error(Code::Template, path, start..end, message);
    Some(finding.help(
        "write data-edition=\"{% if not preview %}{{ edition }}{% endif %}\" in the html tag",
    ))
}

fn said_first(says: &str, bytes: Vec<u8>) -> Vec<u8> {
    const STRICT: &[u8] = b"\"use strict\";";
    match bytes.strip_prefix(STRICT) {
        Some(rest) => [STRICT, says.as_bytes(), rest].concat(),
        None => [says.as_bytes(), &bytes].concat(),
    }
}

/// The script with the marks of the data, and of the pages by what they print.
pub fn edition(theme: &str, data: &BTreeMap<String, String>, pages: &[String]) -> Vec<u8> {
    let held = serde_json::json!({ "data": data, "pages": pages.join(" ") });
    let script = format!("globalThis.gaugeleafEdition={held};\n");
    marked(MARKS, theme, script.into_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::files::HandbookFiles;
    use crate::render::theme::Theme;

    #[test]
    fn a_script_says_its_mark_before_it_does_anything_and_stays_strict() {
        let said = |path| String::from_utf8(marked(path, "0a", b"\"use strict\";f();".to_vec()));
        assert_eq!(
            said("scripts/a.js").as_deref(),
            Ok("\"use strict\";gaugeleafCopy(\"0a\");f();")
        );
        assert_eq!(
            said("scripts/look.js").as_deref(),
            Ok("\"use strict\";f();\ngaugeleafCopy(\"0a\");")
        );
    }

    #[test]
    fn data_says_the_mark_that_is_read_from_it() {
        let (mark, script) = marked_data("catalog", b"f();".to_vec());
        assert_eq!(data_mark(&script), Some(mark.clone()));
        let (other, _) = marked_data("catalog", b"g();".to_vec());
        assert_ne!(mark, other);
    }

    fn with(path: &str, text: &str) -> Theme {
        let mut files = HandbookFiles::default();
        files.texts.insert(path.to_string(), text.to_string());
        Theme::load(&files).0
    }

    #[test]
    fn styles_that_few_pages_need_are_files_of_their_own() {
        let theme = with("themes/styles/apart/board.css", "b { color: red; }");
        let assets = theme.assets();
        let text = |path: &str| String::from_utf8_lossy(&assets[path]).into_owned();
        assert!(text("styles/board.css").starts_with("b{color:red;}\n"));
        assert!(!text("styles/handbook.css").contains("b{color:red;}"));
    }

    #[test]
    fn scripts_styles_and_engine_of_another_edition_have_another_mark_and_all_say_theirs() {
        let built_in = Theme::default();
        for path in [
            "scripts/walk.js",
            "styles/apart/walk.css",
            "engine/share.wasm.gz",
        ] {
            assert_ne!(
                with(&format!("themes/{path}"), "/* */").mark(),
                built_in.mark()
            );
        }
        let text = with("themes/templates/table.html", "other");
        assert_eq!(text.mark(), built_in.mark(), "pages say their own");
        let worker = with("themes/scripts/worker.js", "other");
        assert_eq!(worker.mark(), built_in.mark(), "no page meets it");
        let assets = built_in.assets().into_iter();
        for (path, bytes) in assets.filter(|(path, _)| !path.starts_with("icons/")) {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            assert!(text.contains(built_in.mark()), "{path}");
        }
    }
}
