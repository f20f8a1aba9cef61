//! What a page shows is worded by the language: templates and scripts hold ids, and each id has its
//! words, each text its use, each place something that fills it.

mod scripts;
mod templates;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::root;

/// A language file's texts by their ids, `table.key`.
type LanguageTexts = BTreeMap<String, String>;

/// Where a text is used: its id, or how it begins where the rest is worked out; and the places that
/// are filled.
#[derive(Debug, PartialEq, Eq)]
struct TextUse {
    id: String,
    begins: bool,
    places: BTreeSet<String>,
}

fn texts(name: &str) -> LanguageTexts {
    let path = format!("themes/languages/en/{name}.toml");
    let text = fs::read_to_string(root().join(path)).expect("a readable file");
    let tables: BTreeMap<String, BTreeMap<String, String>> =
        toml::from_str(&text).expect("tables of texts");
    let all = tables.into_iter().flat_map(|(table, texts)| {
        let texts = texts.into_iter();
        texts.map(move |(key, text)| (format!("{table}.{key}"), text))
    });
    all.collect()
}

/// The places of a text.
fn places(text: &str) -> BTreeSet<String> {
    let parts = text.split('{').skip(1);
    let places = parts.filter_map(|part| part.split_once('}'));
    places.map(|(place, _)| place.to_string()).collect()
}

/// What is wrong between texts and their uses.
fn faults<'t>(texts: &'t LanguageTexts, used: &'t [(String, TextUse)]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut known = BTreeSet::new();
    for (file, used) in used {
        let meant = texts.iter().filter(|(id, _)| match used.begins {
            true => id.starts_with(&used.id),
            false => **id == used.id,
        });
        let mut meant = meant.peekable();
        if meant.peek().is_none() {
            faults.push(format!("{file}: `{}` has no words", used.id));
        }
        for (id, text) in meant {
            known.insert(id);
            if !used.begins && places(text) != used.places {
                faults.push(format!(
                    "{file}: `{id}` has places {:?}, and is given {:?}",
                    places(text),
                    used.places
                ));
            }
        }
    }
    let idle = texts.keys().filter(|id| !known.contains(id));
    faults.extend(idle.map(|id| format!("nothing says `{id}`")));
    faults
}

/// Each use in these files, with the file's name.
fn uses(files: &[(String, String)], said: fn(&str) -> Vec<TextUse>) -> Vec<(String, TextUse)> {
    let used = files.iter().flat_map(|(name, text)| {
        let said = said(text).into_iter();
        said.map(move |used| (name.clone(), used))
    });
    used.collect()
}

/// The files below a folder that end so, by their names there.
fn files(folder: &Path, ending: &str) -> Vec<(String, String)> {
    let entries = walkdir::WalkDir::new(folder).sort_by_file_name();
    let files = entries.into_iter().map(|entry| entry.expect("an entry"));
    let files = files.filter(|entry| entry.path().to_string_lossy().ends_with(ending));
    let read = |entry: walkdir::DirEntry| {
        let name = entry.path().strip_prefix(folder).expect("below it");
        let text = fs::read_to_string(entry.path()).expect("a readable file");
        (name.to_string_lossy().replace('\\', "/"), text)
    };
    files.map(read).collect()
}

/// Two letters in a row, as no sign and no unit of layout has them.
fn has_letters(text: &str) -> bool {
    let letters: Vec<char> = text.chars().collect();
    let two = |two: &[char]| two.iter().all(|c| c.is_alphabetic());
    letters.windows(2).any(two)
}

/// Two words side by side.
fn has_words(text: &str) -> bool {
    let word = |word: &&str| {
        let letters = word.trim_matches(|c: char| !c.is_alphabetic());
        letters.len() > 1 && letters.chars().all(|c| c.is_alphabetic() || c == '\'')
    };
    let words: Vec<&str> = text.split(' ').collect();
    words.windows(2).any(|two| two.iter().all(word))
}

#[test]
fn a_text_that_nothing_says_and_a_use_without_words_are_faults() {
    let texts = LanguageTexts::from([
        ("a.one".to_string(), "{x} of {y}".to_string()),
        ("a.two".to_string(), "two".to_string()),
        ("b.of_go".to_string(), "go".to_string()),
    ]);
    let used = |id: &str, begins: bool, places: &[&str]| {
        let places = places.iter().map(|place| (*place).to_string()).collect();
        let id = id.to_string();
        ("f".to_string(), TextUse { id, begins, places })
    };
    let whole = [used("a.one", false, &["x", "y"]), used("b.of_", true, &[])];
    assert_eq!(faults(&texts, &whole), ["nothing says `a.two`"]);
    let other = [
        used("a.one", false, &["x"]),
        used("a.three", false, &[]),
        used("a.two", false, &[]),
        used("b.", true, &[]),
        used("c.", true, &[]),
    ];
    let found = faults(&texts, &other);
    assert!(found[0].contains("`a.one` has places"), "{found:?}");
    assert_eq!(
        found[1..],
        ["f: `a.three` has no words", "f: `c.` has no words"]
    );
}
