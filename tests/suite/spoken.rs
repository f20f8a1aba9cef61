//! What a person reads leaves the calculation crate as messages: its words stand in the language
//! file. So the crate's own code holds no text of two words, but for those listed here.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::Visit;

use crate::layers::without_tests;
use crate::root;

/// Files whose texts are findings and tables of settings, told in English to whoever writes the
/// handbook: each file with what it reads or checks.
const FINDINGS: [&str; 25] = [
    "calculator/example.rs",
    "calculator/fields.rs",
    "calculator/load.rs",
    "calculator/order.rs",
    "calculator/plot.rs",
    "catalog/check.rs",
    "catalog/columns.rs",
    "catalog/link.rs",
    "catalog/load.rs",
    "field/fields.rs",
    "field/format.rs",
    "field/load.rs",
    "figure/check.rs",
    "figure/parse.rs",
    "formula/check/call.rs",
    "formula/check/mod.rs",
    "formula/lex.rs",
    "formula/parse.rs",
    "formula/signature.rs",
    "kit/fields.rs",
    "kit/reader.rs",
    "kit/row.rs",
    "named.rs",
    "table.rs",
    "table/sayings.rs",
];

/// Texts of two words elsewhere, and why each is nothing that a language words.
const OTHERWISE: [(&str, &str, &str); 17] = [
    ("unit/spelling.rs", "foot pounds", "a spelling of a unit"),
    ("unit/spelling.rs", "ft lb", "a spelling of a unit"),
    ("unit/spelling.rs", "ft lbs", "a spelling of a unit"),
    ("unit/spelling.rs", "lb ft", "a spelling of a unit"),
    (
        "ask/scan.rs",
        "{minutes} min",
        "a quantity as the calculators take it",
    ),
    (
        "catalog/unpack.rs",
        "a sealed catalog can't be read",
        "a panic's",
    ),
    (
        "catalog/unpack.rs",
        "no catalog has such a thing",
        "a panic's",
    ),
    (
        "formula/functions.rs",
        "there is no such function",
        "the packing's",
    ),
    (
        "formula/plain.rs",
        "{name} between {} and {} at which {} = 0",
        "a formula's notation, as the language of formulas has it",
    ),
    (
        "formula/plain.rs",
        "{word} of {body} for {name} = {} to {}",
        "the same",
    ),
    ("names.rs", "no entry {name}", "a panic's"),
    ("unit/expression.rs", "it is no unit", "the packing's"),
    ("unit/spelling.rs", "liters min", "what people type"),
    ("unit/spelling.rs", "litres min", "the same"),
    ("unit/spelling.rs", "degrees fahrenheit", "the same"),
    ("unit/spelling.rs", "degrees celsius", "the same"),
    ("unit/spelling.rs", "degrees centigrade", "the same"),
];

/// Every text in an expression or a macro; documentation and attributes are none.
#[derive(Default)]
struct SpokenTexts(Vec<String>);

impl Visit<'_> for SpokenTexts {
    fn visit_attribute(&mut self, _: &syn::Attribute) {}

    fn visit_lit_str(&mut self, text: &syn::LitStr) {
        self.0.push(text.value());
    }

    fn visit_macro(&mut self, called: &syn::Macro) {
        self.tokens(called.tokens.clone());
    }
}

impl SpokenTexts {
    fn tokens(&mut self, tokens: TokenStream) {
        for token in tokens {
            match token {
                TokenTree::Group(group) => self.tokens(group.stream()),
                TokenTree::Literal(literal) => {
                    if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                        self.0.push(text.value());
                    }
                }
                _ => {}
            }
        }
    }
}

/// Two words side by side; an element of HTML or SVG is no sentence.
fn speaks(text: &str) -> bool {
    let word = |word: &&str| {
        let letters = word.trim_matches(|c: char| !c.is_alphabetic());
        letters.len() > 1 && letters.chars().all(|c| c.is_alphabetic() || c == '\'')
    };
    let words: Vec<&str> = text.split(' ').collect();
    !text.contains(['<', '>']) && words.windows(2).any(|two| two.iter().all(word))
}

fn texts(source: &str) -> Vec<String> {
    let file = syn::parse_file(source).expect("it compiles");
    let mut found = SpokenTexts::default();
    found.visit_file(&without_tests(file));
    found.0.retain(|text| speaks(text));
    found.0
}

/// The crate's files by their paths in `src`, those of tests apart.
fn sources(folder: &Path, prefix: &str, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("a readable folder") {
        let entry = entry.expect("a readable entry");
        let name = entry.file_name().into_string().expect("a name in Unicode");
        let path = format!("{prefix}{name}");
        if entry.path().is_dir() {
            sources(&entry.path(), &format!("{path}/"), found);
        } else {
            let text = fs::read_to_string(entry.path()).expect("a readable file");
            found.push((path, text));
        }
    }
}

/// Modules that are compiled for tests alone.
const TESTING: [&str; 8] = [
    "testing.rs",
    "tests.rs",
    "_tests.rs",
    "catalog/bands.rs",
    "catalog/stands.rs",
    "soundness.rs",
    "catalog/soundness/",
    "catalog/cross_checks/",
];

#[test]
fn what_a_person_reads_is_worded_by_the_language_alone() {
    let mut files = Vec::new();
    sources(&root().join("calculators/src"), "", &mut files);
    let tests = |path: &str| {
        let mut of_tests = TESTING.iter();
        of_tests.any(|part| path.starts_with(part) || path.ends_with(part))
    };
    let mut spoken = BTreeSet::new();
    for (path, source) in files.iter().filter(|(path, _)| !tests(path)) {
        let own = texts(source).into_iter();
        spoken.extend(own.map(|text| (path.as_str(), text)));
    }
    let listed = |path: &str, text: &str| {
        let mut others = OTHERWISE.iter();
        FINDINGS.contains(&path) || others.any(|(file, known, _)| *file == path && *known == text)
    };
    let left: Vec<_> = spoken
        .iter()
        .filter(|(path, text)| !listed(path, text))
        .collect();
    assert!(
        left.is_empty(),
        "word these in themes/languages/en/engine.toml: {left:#?}"
    );
    let mut unused: Vec<&str> = FINDINGS.to_vec();
    unused.retain(|file| spoken.iter().all(|(path, _)| path != file));
    assert!(unused.is_empty(), "no findings in these: {unused:?}");
    for (file, text, why) in OTHERWISE {
        assert!(
            spoken.contains(&(file, text.to_owned())),
            "{file} has no `{text}` ({why})"
        );
    }
}

#[test]
fn a_text_of_two_words_is_found_wherever_code_holds_one() {
    let source = r#"
        /// Some words of documentation.
        #[expect(lint, reason = "some words of a reason")]
        fn told(name: &str) -> String {
            let plain = "no such thing";
            let single = "none";
            format!("`{name}` is gone") + plain + single + "<svg role=\"img\" class=\"a b\">"
        }
        #[cfg(test)]
        mod tests {
            const WORDS: &str = "words of a test";
        }
    "#;
    assert_eq!(texts(source), ["no such thing", "`{name}` is gone"]);
}
