//! Scripts show what the language words, and their types know every text.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;

use super::{LanguageTexts, TextUse, faults, files, has_letters, has_words, places, texts, uses};
use crate::root;

/// Strings of scripts that nobody reads, though they look so; each file with why.
const OTHERWISE: [(&str, &str, &str); 29] = [
    ("job-head.js", "prepared ", "an option's value"),
    (
        "load.js",
        " did not load",
        "an error's, which nobody is shown",
    ),
    ("start.js", "no memory", "the same"),
    ("look.js", "DOMContentLoaded", "an event"),
    ("names.js", "NFD", "a form of letters"),
    ("questions.js", ".choices label", "a selector"),
    ("look.js", "another edition", "an error that ends a script"),
    ("start.js", "half updated", "the same"),
    ("dialog.js", "Escape", "a key"),
    ("dialog.js", "Tab", "a key"),
    ("run.js", "Escape", "a key"),
    ("search.js", "Enter", "a key"),
    ("search.js", "ArrowDown", "a key"),
    ("search.js", "ArrowUp", "a key"),
    ("search.js", "Escape", "a key"),
    ("terms.js", "Escape", "a key"),
    ("show.js", "verdict standing", "classes"),
    ("typing.js", "Enter", "a key"),
    (
        "typing.js",
        "(pointer: coarse)",
        "a question to the browser",
    ),
    ("pad.js", "Escape", "a key"),
    (
        "job-list.js",
        "(pointer: coarse) and (max-width: 42rem)",
        "a question to the browser",
    ),
    (
        "pad.js",
        "(max-height: 30rem) and (min-width: 34rem)",
        "a question to the browser",
    ),
    ("pinned.js", "0px 0px -56%", "an edge"),
    ("pinned.js", "0px 0px -64px", "an edge"),
    ("formulas.js", ".working-formula, .method dd", "a selector"),
    ("installed.js", "SecurityError", "an error's name"),
    ("worker.js", "QuotaExceededError", "an error's name"),
    ("worker.js", "gaugeleaf ", "how a cache's name begins"),
    ("worker.js", "GET", "a request's method"),
];

/// What a text is given to where it is shown or read out.
const SHOWN: [&str; 8] = [
    "textContent = ",
    "ariaLabel = ",
    "placeholder = ",
    ".title = ",
    ".alt = ",
    "\"aria-label\", ",
    "replaceChildren(",
    "button(",
];

/// What takes a selector.
const SELECTING: [&str; 5] = [
    "querySelector(",
    "querySelectorAll(",
    "closest(",
    "matches(",
    "matches?.(",
];

/// The type declarations of the texts, beside the scripts.
const TYPES: &str = "themes/scripts/texts.d.ts";

/// A string of a script: where it begins, and its text; of a template each part between expressions.
type ScriptString = (usize, String);

struct StringReader<'s> {
    script: &'s [u8],
    at: usize,
    strings: Vec<ScriptString>,
}

impl StringReader<'_> {
    fn here(&self, text: &str) -> bool {
        self.script[self.at..].starts_with(text.as_bytes())
    }

    fn skip_to(&mut self, end: &str) {
        while self.at < self.script.len() && !self.here(end) {
            self.at += 1;
        }
        self.at += end.len();
    }

    /// Reads code to the end, or behind the brace that closes an expression of a template.
    fn code(&mut self) {
        let mut depth = 0;
        let mut last = b';';
        while let Some(&c) = self.script.get(self.at) {
            match c {
                b'/' if self.here("//") => self.skip_to("\n"),
                b'/' if self.here("/*") => self.skip_to("*/"),
                b'/' if b"(,=:[!&|?{};>".contains(&last) => self.pattern(),
                b'"' | b'\'' => self.quoted(c),
                b'`' => self.template(),
                b'}' if depth == 0 => {
                    self.at += 1;
                    return;
                }
                c => {
                    depth += i32::from(c == b'{') - i32::from(c == b'}');
                    self.at += 1;
                }
            }
            if !c.is_ascii_whitespace() {
                last = c;
            }
        }
    }

    fn quoted(&mut self, quote: u8) {
        let start = self.at;
        self.at += 1;
        while self.at < self.script.len() && self.script[self.at] != quote {
            self.at += 1 + usize::from(self.script[self.at] == b'\\');
        }
        self.push(start, start + 1, self.at);
        self.at += 1;
    }

    fn template(&mut self) {
        let start = self.at;
        self.at += 1;
        let mut part = self.at;
        while self.at < self.script.len() && self.script[self.at] != b'`' {
            if self.here("${") {
                self.push(start, part, self.at);
                self.at += 2;
                self.code();
                part = self.at;
            } else {
                self.at += 1 + usize::from(self.script[self.at] == b'\\');
            }
        }
        self.push(start, part, self.at);
        self.at += 1;
    }

    /// A regular expression.
    fn pattern(&mut self) {
        let mut class = false;
        self.at += 1;
        while self.at < self.script.len() && (class || self.script[self.at] != b'/') {
            match self.script[self.at] {
                b'\\' => self.at += 1,
                b'[' => class = true,
                b']' => class = false,
                _ => {}
            }
            self.at += 1;
        }
        self.at += 1;
    }

    fn push(&mut self, start: usize, from: usize, to: usize) {
        let text = String::from_utf8_lossy(&self.script[from..to.min(self.script.len())]);
        self.strings.push((start, text.replace("\\\"", "\"")));
    }
}

fn strings(script: &str) -> Vec<ScriptString> {
    let (script, at, strings) = (script.as_bytes(), 0, Vec::new());
    let mut reader = StringReader {
        script,
        at,
        strings,
    };
    reader.code();
    assert!(reader.at >= script.len(), "read to byte {}", reader.at);
    reader.strings
}

/// Whether this stands where `element(tag, class, …)` takes what it shows.
fn is_part_of_element(before: &str) -> bool {
    let call = before.rsplit_once("element(").map_or("", |(_, call)| call);
    call.matches('"').count() == 4 && call.ends_with("\", ")
}

/// The strings of a script that a person would read.
fn own_texts(script: &str) -> Vec<String> {
    let mut own = Vec::new();
    for (start, text) in strings(script) {
        let before = &script[..start];
        if text == "use strict" || SELECTING.iter().any(|call| before.ends_with(call)) {
            continue;
        }
        let capital = text.starts_with(|c: char| c.is_uppercase())
            && has_letters(text.get(..2).unwrap_or(""));
        let apart = text.starts_with(' ') || text.ends_with(' ');
        let shown = SHOWN.iter().any(|given| before.ends_with(given)) || is_part_of_element(before);
        if has_words(&text) || capital || (apart || shown) && has_letters(&text) {
            own.push(text);
        }
    }
    own
}

/// The calls of `worded` in a script.
fn said(script: &str) -> Vec<TextUse> {
    let calls = script.split("worded(\"").skip(1);
    calls.map(call).collect()
}

/// A call, read from behind `worded("`.
fn call(rest: &str) -> TextUse {
    let (id, rest) = rest.split_once('"').expect("an id in quotes");
    let mut used = TextUse {
        id: id.to_string(),
        begins: false,
        places: Default::default(),
    };
    let Some(given) = rest.strip_prefix(", {") else {
        return used;
    };
    let skipped: Vec<usize> = strings_in(given);
    let (mut depth, mut name) = (0, Some(String::new()));
    for (at, c) in given.char_indices() {
        if skipped.contains(&at) {
            continue;
        }
        match c {
            ',' | ':' | '}' if depth == 0 => {
                used.places
                    .extend(name.take().filter(|name| !name.is_empty()));
                if c == '}' {
                    break;
                }
                name = (c == ',').then(String::new);
            }
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            c if depth == 0 && !c.is_whitespace() => {
                if let Some(name) = &mut name {
                    name.push(c);
                }
            }
            _ => {}
        }
    }
    used
}

/// The bytes of this code that lie in quotes.
fn strings_in(code: &str) -> Vec<usize> {
    let mut quote = None;
    let mut inside = Vec::new();
    for (at, c) in code.char_indices() {
        match quote {
            Some(open) => {
                inside.push(at);
                if c == open {
                    quote = None;
                }
            }
            None if matches!(c, '"' | '`') => {
                inside.push(at);
                quote = Some(c);
            }
            None => {}
        }
    }
    inside
}

fn scripts() -> Vec<(String, String)> {
    files(&root().join("themes/scripts"), ".js")
}

/// `worded` as the type checker knows it: the ids, by the places that each fills.
fn types(texts: &LanguageTexts) -> String {
    let mut by: BTreeMap<Vec<String>, Vec<&str>> = BTreeMap::new();
    for (id, text) in texts {
        let places = places(text).into_iter().collect();
        by.entry(places).or_default().push(id);
    }
    let mut types = String::from(
        "// The texts of themes/languages/en/scripts.toml, as scripts ask for them: publishing writes each into its script.\n\
         // Made by a test: SNAPSHOTS=write cargo test -p gaugeleaf-tests --lib texts\n",
    );
    for (places, ids) in by {
        let ids: Vec<String> = ids.iter().map(|id| format!("\"{id}\"")).collect();
        let places: Vec<String> = places
            .iter()
            .map(|one| format!("{one}: string | number"))
            .collect();
        let places = match places.as_slice() {
            [] => String::new(),
            places => format!(", places: {{ {} }}", places.join("; ")),
        };
        // writing to a string can't fail
        let _ = writeln!(
            types,
            "declare function worded(id: {}{places}): string;",
            ids.join(" | ")
        );
    }
    types
}

#[test]
fn scripts_show_what_the_language_words() {
    let scripts = scripts();
    let mut own = Vec::new();
    for (name, script) in &scripts {
        let texts = own_texts(script).into_iter();
        own.extend(texts.map(|text| (name.clone(), text)));
    }
    for (file, text, why) in OTHERWISE {
        let before = own.len();
        own.retain(|(name, own)| (name.as_str(), own.as_str()) != (file, text));
        assert!(own.len() < before, "{file} has no `{text}` ({why})");
    }
    assert!(
        own.is_empty(),
        "word these in themes/languages/en/scripts.toml: {own:#?}"
    );
}

#[test]
fn every_text_of_scripts_is_shown_and_its_places_are_filled() {
    let texts = texts("scripts");
    let used = uses(&scripts(), said);
    assert!(used.len() > 200, "{}", used.len());
    let faults = faults(&texts, &used);
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn the_types_of_scripts_know_every_text() {
    let wanted = types(&texts("scripts"));
    let path = root().join(TYPES);
    if std::env::var_os("SNAPSHOTS").is_some() {
        fs::write(&path, &wanted).expect("a folder to write in");
    }
    let held = fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(held, wanted, "SNAPSHOTS=write makes {TYPES} anew");
}

#[test]
fn a_scripts_own_text_is_found_wherever_it_stands() {
    let script = "// no text of code\nconst a = /[\"'/]/.test(\"use it\") ? `Row ${b ? \"Is it\" : `of ${c}`}` : \"\";\n\
                  /* nor \"this one\" */ d.textContent = \"none\"; e.append(\" steps\");\n\
                  f(\"button\", a.closest(\"thead th\"), worded(\"a.b\"), element(\"b\", \"class\", \"so\"), \"aria-label\");";
    assert_eq!(
        own_texts(script),
        ["use it", "Row ", "Is it", "of ", "none", " steps", "so"]
    );
}

#[test]
fn a_call_in_a_script_is_read_with_its_places() {
    let script = "worded(\"a.b\"); worded(\"c.d\", { e, f: g(\"}\", { h: 1 }), i: j ?? worded(\"k.l\", { m: n }) })";
    let used = |id: &str, places: &[&str]| TextUse {
        id: id.to_string(),
        begins: false,
        places: places.iter().map(|place| (*place).to_string()).collect(),
    };
    assert_eq!(
        said(script),
        [
            used("a.b", &[]),
            used("c.d", &["e", "f", "i"]),
            used("k.l", &["m"])
        ]
    );
}
