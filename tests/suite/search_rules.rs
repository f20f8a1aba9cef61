//! Queries by rule, of what the demonstration handbook is called and says.

use crate::root;
use crate::search::Query;

/// Queries by rule: every page and calculator by its title, and by what people say for it; every
/// term by its name and by what people say. Of each kind one in a few.
pub fn by_rule() -> Vec<Query> {
    let query = |ask: &str, want: &[&str]| Query {
        ask: ask.to_string(),
        want: want.iter().map(|url| url.to_string()).collect(),
        calculator: None,
        says: None,
        roughly: false,
    };
    let files = gaugeleaf::handbook::files::read(root()).0;
    let (mut titles, mut sayings, mut terms) = (Vec::new(), Vec::new(), Vec::new());
    for (path, text) in files.texts_under("content/") {
        let Some(page) = path
            .strip_suffix(".md")
            .filter(|path| !path.contains("trainer/"))
        else {
            continue;
        };
        let url = format!("{}.html", page.trim_start_matches("content/"));
        let title = text.lines().find_map(|line| line.strip_prefix("# "));
        titles.extend(
            title
                .filter(|title| !title.contains('`'))
                .map(|title| query(title, &[&url])),
        );
        let head = text
            .strip_prefix("```page\n")
            .and_then(|text| text.split_once("\n```"));
        let head: toml::Table = head.map_or("", |(head, _)| head).parse().expect("settings");
        let said = head.get("also").and_then(|also| also.as_array());
        for said in said.into_iter().flatten().filter_map(|said| said.as_str()) {
            sayings.push(query(said, &[&url]));
        }
    }
    for calculator in crate::demonstration::catalog().calculators.values() {
        let url = format!("calculators/{}.html", calculator.name);
        titles.push(query(&calculator.title, &[&url]));
    }
    let words = std::fs::read_to_string(root().join("content/words.toml")).expect("the words");
    let words: toml::Table = words.parse().expect("TOML");
    for term in words["term"].as_array().into_iter().flatten() {
        let name = term["name"].as_str().expect("a name");
        let letters = name
            .to_lowercase()
            .replace(|c: char| !c.is_alphanumeric(), "-");
        let own = format!("glossary.html#term-{letters}");
        let see = term.get("see").and_then(|see| see.as_str());
        let see = see.map_or_else(|| own.clone(), |see| see.replace(".md", ".html"));
        let also = term.get("also").and_then(|also| also.as_array());
        let also = also.into_iter().flatten().filter_map(|also| also.as_str());
        terms.extend(
            std::iter::once(name)
                .chain(also)
                .map(|said| query(said, &[&own, &see])),
        );
    }
    let mut all = titles;
    all.extend(sayings.into_iter().step_by(4));
    all.extend(terms.into_iter().step_by(16));
    all
}
